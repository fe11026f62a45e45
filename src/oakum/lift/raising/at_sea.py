"""Sea, vessel and cradle under the load of this lift: what the plan asks them, and what they answer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from oakum.ground.errors import OakumError
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.cradle import CradleLoads, CradleReport, cradle_report
from oakum.lift.raising.context import PlanContext
from oakum.lift.raising.gear_use import wll_kg
from oakum.lift.raising.hung import Hung
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.seaway import (
    SeaAsked,
    SeawayAnswer,
    SeawayInputs,
    SplashShape,
    seaway_answer,
    slings_n_m,
    splash_shape,
)
from oakum.lift.weights.hanging import points
from oakum.lift.weights.sums import without_frame
from oakum.lift.weights.weighing import Weighing

NO_SEA = (
    "the sea of the lift is not described: no force of waves on the load, no limit of wave height and no vessel; write "
    "[seaway] in the rig file"
)
NO_CRADLE = "no cradle is described: not known what carries it in air, on deck and on the road"
ONE_PERIOD = "While this is tried, the limit of the sea is found for the plan's period only."
_CRADLE = "cradle: "


@dataclass(frozen=True, slots=True)
class AtSea:
    """What sea and cradle answer; None where nothing describes them.

    `inputs` and `depth_m` are what they were asked with, so that a change can be asked sooner.
    """

    seaway: SeawayAnswer | None
    cradle: CradleReport | None
    inputs: SeawayInputs | None = None
    depth_m: float | None = None

    @property
    def checks(self) -> tuple[Check, ...]:
        """All checks of sea and vessel; of the cradle, which says so in key and title, those that the plan names."""
        sea = () if self.seaway is None else self.seaway.checks
        return (*sea, *(() if self.cradle is None else _named(self.cradle.checks)))

    @property
    def objections(self) -> tuple[str, ...]:
        """All objections, with what is not described at all."""
        sea = (NO_SEA,) if self.seaway is None else self.seaway.objections
        cradle = (NO_CRADLE,) if self.cradle is None else self._cradle("objections")
        return (*sea, *cradle)

    def said(self, what: str) -> tuple[str, ...]:
        """Return the open questions, assumptions, cautions or advice of both."""
        sea: Iterable[str] = () if self.seaway is None else getattr(self.seaway, what)
        return (*sea, *self._cradle(what))

    def _cradle(self, what: str) -> tuple[str, ...]:
        return () if self.cradle is None else tuple(_CRADLE + w for w in getattr(self.cradle, what))


def _named(checks: tuple[Check, ...]) -> list[Check]:
    """Return every check that objects, and the hardest used of each kind; the report of the cradle has the rest."""
    hardest: dict[str, Check] = {}
    for check in checks:
        kind = check.key.rpartition(":")[2]
        if check.objection is None and (check.utilisation or 0.0) >= (
            hardest[kind].utilisation or 0.0 if kind in hardest else 0.0
        ):
            hardest[kind] = check
    kept = [c for c in checks if c.objection is not None or hardest.get(c.key.rpartition(":")[2]) is c]
    return [
        replace(
            c,
            key=f"cradle:{c.key}",
            title=_CRADLE + c.title,
            objection=None if c.objection is None else _CRADLE + c.objection,
        )
        for c in kept
    ]


def cradle_under(weighing: Weighing, rig: RigPlan, context: PlanContext) -> CradleReport | None:
    """Return what the cradle bears under the find, without its own frame and the rigging; None without a cradle."""
    if context.cradle is None:
        return None
    return cradle_report(context.cradle, cradle_loads(weighing, rig))


def cradle_loads(weighing: Weighing, rig: RigPlan) -> CradleLoads:
    """Return the find as the cradle feels it, raised from the depth the rig says."""
    return loads_from(weighing, bed_depth_m(rig))


def loads_from(weighing: Weighing, depth_m: float | None) -> CradleLoads:
    """Return the find as the cradle feels it, by the heavier use of the draws; `depth_m` None: not known."""
    find = without_frame(weighing.sums)
    found = points(find)
    extra = 0.0 if weighing.use.extra_kg is None else weighing.use.extra_kg
    water = find.submerged_kg - find.rigging_submerged_kg + extra
    air = find.mass_kg + find.water_clear_kg - find.rigging_kg + extra
    return CradleLoads(
        water_n=water * G_M_S2,
        air_n=air * G_M_S2,
        centre_water_m=found.hanging[:, :2],
        centre_air_m=found.gravity_in_air[:, :2],
        weights=weighing.use.weights,
        water_kg_m3=weighing.report.water_density_kg_m3.best,
        depth_m=depth_m,
    )


def bed_depth_m(rig: RigPlan) -> float | None:
    """Return the depth the find is raised from: as the bags say, else that of the water at the lift."""
    if rig.bags is not None:
        return rig.bags.bed_depth_m
    return None if rig.sea is None else rig.sea.depth_m


def at_sea(
    weighing: Weighing, rig: RigPlan, context: PlanContext, hung: Hung, kept: AtSea | None = None
) -> AtSea:
    """Return what sea, vessel and cradle answer; `hung`: the legs as solved, for how they stretch.

    `kept`: of the same weighing and context; what a change does not touch is taken from it. Where the change moves the
    whole limit curve, the limit is then found for the plan's period only.
    """
    depth = bed_depth_m(rig)
    same_depth = kept is not None and kept.depth_m == depth
    cradle = kept.cradle if kept is not None and same_depth else cradle_under(weighing, rig, context)
    inputs = sea_inputs(weighing, rig, context, hung)
    if inputs is None:
        return AtSea(None, cradle, None, depth)
    before = None if kept is None else kept.inputs
    if kept is not None and before is not None and _fixed(before) == _fixed(inputs) and before.sea == inputs.sea:
        return AtSea(kept.seaway, cradle, before, depth)
    inputs = replace(inputs, shape=_shape(inputs, before))
    if kept is None or before is None or kept.seaway is None:
        return AtSea(seaway_answer(inputs), cradle, inputs, depth)
    return AtSea(_again(inputs, before, kept.seaway), cradle, inputs, depth)


def _again(inputs: SeawayInputs, before: SeawayInputs, kept: SeawayAnswer) -> SeawayAnswer:
    """Return the answer to a changed question: only Hs, Tz or wind moved, or the curve moves with it."""
    same_curve = _fixed(before) == _fixed(inputs) and _of_curve(before.sea) == _of_curve(inputs.sea)
    if same_curve and kept.curve is not None:
        return seaway_answer(replace(inputs, points=kept.curve.points))
    if inputs.sea.tz_s is None:
        return seaway_answer(inputs)
    found = seaway_answer(replace(inputs, sea=replace(inputs.sea, periods_s=(inputs.sea.tz_s,))))
    return replace(found, asked=inputs.sea, assumptions=(*found.assumptions, ONE_PERIOD))


def _fixed(inputs: SeawayInputs) -> tuple[object, ...]:
    """Return what else the sea is asked with, besides weighing and context."""
    return inputs.hook_kg, inputs.rigging_kg, inputs.slings_n_m


def _of_curve(sea: SeaAsked) -> SeaAsked:
    return replace(sea, hs_m=None, tz_s=None, wind_m_s=None)


def _shape(inputs: SeawayInputs, before: SeawayInputs | None) -> SplashShape | None:
    """Return the shape in the splash zone; None where there is none, which the answer says."""
    if before is not None and before.sea.parts == inputs.sea.parts:
        return before.shape
    try:
        return splash_shape(inputs.sums, inputs.cradle, inputs.sea.parts)
    except OakumError:
        return None


def sea_inputs(
    weighing: Weighing, rig: RigPlan, context: PlanContext, hung: Hung
) -> SeawayInputs | None:
    """Return what the sea is asked with; None where the rig file has no `[seaway]`."""
    if rig.sea is None:
        return None
    return SeawayInputs(
        sums=weighing.sums,
        hook_use=weighing.use,
        slack_use=weighing.slack,
        sea=rig.sea,
        papers=context.vessel,
        cradle=context.cradle,
        hook_kg=None if rig.hook is None else wll_kg(rig.hook.piece, context.gear),
        rigging_kg=None if rig.hook is None else rig.hook.rigging_kg,
        slings_n_m=legs_n_m(rig, hung),
        seed=weighing.report.seed,
    )


def legs_n_m(rig: RigPlan, hung: Hung) -> float | None:
    """Return the legs as one spring up and down, N/m; None where the stretch of one is not known."""
    answer = hung.answers.get("in air") or hung.answers.get("under water")
    if answer is None:
        return None
    by_name = {leg.name: leg for leg in answer.legs}
    springs, angles = [], []
    for leg in rig.legs:
        solved = by_name[leg.name]
        spring = leg.stiffness_n_m
        if spring is None and leg.ea_n is not None:
            spring = leg.ea_n / solved.length_m.best
        if spring is None:
            return None
        springs.append(spring)
        angles.append(solved.from_horizontal_deg.best)
    return slings_n_m(tuple(springs), tuple(angles))
