"""The frame fitted one side at a time: which points bear in each step, and how much each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.draw_bands import band_curve, share_of
from oakum.lift.turning import rules
from oakum.lift.turning.errors import TurningError
from oakum.lift.turning.limits import limit, pull_checks
from oakum.lift.turning.moments import turn
from oakum.lift.turning.pulls import BagPull, LinePull, Pull, fast_on_body
from oakum.lift.turning.section import OUTSIDE, Section
from oakum.lift.weights.report import Curve

Array = NDArray[np.float64]

_ANGLES = 31
_LIFTS_OFF = 0.05  # share of the draws in which a bearing point would have to pull down


@dataclass(frozen=True, slots=True)
class Bearing:
    """A point of body or frame that stands on the bed or a trestle: `at_m` in the side view as it lies.

    `member` is what bears there; `bears_kg` what that may be asked for, None not known. `part` names the
    frame part that the point belongs to; empty: it is a point of the body itself.
    """

    name: str
    member: str
    at_m: tuple[float, float]
    bears_kg: float | None = None
    part: str = ""


@dataclass(frozen=True, slots=True)
class FramePart:
    """A part of the frame that is already fast to the body: its weight under water and centre, as it lies."""

    name: str
    submerged_kg: float
    at_m: tuple[float, float]


@dataclass(frozen=True, slots=True)
class FrameStep:
    """One step: the body turned from one angle to another, or held at one, on one or two bearing points.

    On one bearing point it turns on that, with `pull` as strong as balance needs. On two it rests; a bag
    with a known lift may help. `parts` are all parts of the frame that are fast to it by then.
    """

    name: str
    from_deg: float
    to_deg: float
    bearings: tuple[Bearing, ...]
    parts: tuple[FramePart, ...] = ()
    pull: Pull | None = None


@dataclass(frozen=True, slots=True)
class BearingLoad:
    """What one point bears in one step, against the angle, load-cell readings, kg."""

    bearing: Bearing
    upright: Curve
    sideways: Curve | None
    largest_kg: Spread
    check: Check


@dataclass(frozen=True, slots=True)
class StepAnswer:
    """One step of the frame: every bearing point's load and the pull, None where there is none."""

    step: FrameStep
    loads: tuple[BearingLoad, ...]
    pull_kg: Spread | None
    pull_checks: tuple[Check, ...]
    objections: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FrameAnswer:
    """The whole sequence."""

    steps: tuple[StepAnswer, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]

    def members(self) -> tuple[tuple[str, str, float], ...]:
        """Return which member carries when: (step, member, 95th percentile of its largest load in kg)."""
        return tuple(
            (s.step.name, load.bearing.member, load.largest_kg.p95) for s in self.steps for load in s.loads
        )


def frame_steps(section: Section, steps: Sequence[FrameStep]) -> FrameAnswer:
    """Return what each bearing point carries in each step of fitting a frame.

    Angles are from the pose in which `section` lies. In a step on one bearing point the body turns on that
    point, which stays where it is drawn. Raises `TurningError` where forces cannot be found from balance
    alone.
    """
    if not steps:
        raise TurningError("a sequence needs at least one step")
    section = section.few()
    answers = tuple(_step(section, step) for step in steps)
    said = [f'step "{a.step.name}": {text}' for a in answers for text in a.objections]
    for before, after in pairwise(answers):
        if abs(before.step.to_deg - after.step.from_deg) > 1e-6:
            said.append(
                f'step "{after.step.name}" begins at {after.step.from_deg:g}°, but "{before.step.name}" ends at '
                f"{before.step.to_deg:g}°: a step between them is missing"
            )
    assumptions = (
        *rules.ASSUMPTIONS,
        "Resting on two points, both bear straight up; a frame that is twisted or wedged bears otherwise.",
    )
    return FrameAnswer(answers, tuple(said), assumptions, rules.CAUTIONS)


def two_bearings_n(
    weight_n: Array, weight_x_m: Array, left_x_m: Array, right_x_m: Array, lift_n: float, lift_x_m: Array
) -> tuple[Array, Array]:
    """Return what two points bear upright (n, k), N; negative: it would have to be pulled down there.

    `weight_n` (n,), `weight_x_m` (n, k) where it acts; the places of the points and of a lift (k,).
    """
    span = right_x_m - left_x_m
    weight = weight_n[:, None]
    left = (weight * (right_x_m - weight_x_m) - lift_n * (right_x_m - lift_x_m)[None, :]) / span[None, :]
    return left, weight - lift_n - left


def _step(section: Section, step: FrameStep) -> StepAnswer:
    number = len(step.bearings)
    if number == 0:
        raise TurningError(f'step "{step.name}" bears on nothing: name one or two bearing points')
    if number > 2:
        raise TurningError(
            f'step "{step.name}" bears on {number} points: how they share the weight depends on how stiff and how '
            "level they are and cannot be found from balance; leave two, or plan for any two of them bearing all"
        )
    _on_something(section, step)
    angles = np.linspace(step.from_deg, step.to_deg, _ANGLES)
    weight, centre = _with_parts(section, step.parts)
    if number == 1:
        return _turning(section, step, angles, weight, centre)
    return _resting(section, step, angles, weight, centre)


def _on_something(section: Section, step: FrameStep) -> None:
    """Refuse feet that are neither on the body nor on a part that is fast to it by then."""
    fast = {part.name for part in step.parts}
    for bearing in step.bearings:
        if bearing.part and bearing.part not in fast:
            raise TurningError(
                f'step "{step.name}": the foot "{bearing.name}" belongs to "{bearing.part}", which is not fast to the '
                "body in this step"
            )
        off = section.outside_m(bearing.at_m)
        if not bearing.part and off > OUTSIDE * section.size_m:
            raise TurningError(
                f'step "{step.name}": the foot "{bearing.name}" lies {off:.2f} m outside the body; move it, '
                "or name the frame part it belongs to"
            )
    if step.pull is not None and not step.parts:
        fast_on_body(section, step.pull, step.pull.words)


def _with_parts(section: Section, parts: Sequence[FramePart]) -> tuple[Array, Array]:
    """Return weight (n,) and its point (n, 2) in the side view of body and frame parts together."""
    weight = section.weight_n.copy()
    moment = weight[:, None] * (section.arms_m + section.edge_m)
    for part in parts:
        force = part.submerged_kg * G_M_S2
        weight = weight + force
        moment = moment + force * np.asarray(part.at_m)
    return weight, moment / weight[:, None]


def _turning(
    section: Section, step: FrameStep, angles: Array, weight_n: Array, centre_m: Array
) -> StepAnswer:
    bearing = step.bearings[0]
    if step.pull is None:
        raise TurningError(
            f'step "{step.name}" bears on one point and has no pull: nothing keeps it from falling'
        )
    own = _about(section, bearing, weight_n, centre_m)
    turned = turn(own, step.pull, angles)
    small = 1e-3 * section.size_m
    if np.any(turned.arm_m[(turned.moment_nm > 0.0).any(axis=0)] <= small):
        raise TurningError(f'step "{step.name}": the pull does not turn it on "{bearing.name}" that way')
    said = []
    if share_of((turned.moment_nm < 0.0).any(axis=1)) > _LIFTS_OFF:
        first = angles[int(np.argmax((turned.moment_nm < 0.0).any(axis=0)))]
        said.append(f"from about {first:.0f}° it goes by itself and must be held")
    if share_of((turned.edge_y_n <= 0.0).any(axis=1)) > _LIFTS_OFF:
        said.append(f'the pull lifts it off "{bearing.name}"')
    force = np.where(np.isfinite(turned.force_n), turned.force_n, 0.0)
    pulled = spread_of(np.abs(force).max(axis=1) / G_M_S2, "kg")
    load = _load(step, bearing, angles, turned.edge_y_n, turned.edge_x_n)
    said += [load.check.objection] if load.check.objection else []
    checks = pull_checks(f"pull-{step.name}", "pulling", step.pull, pulled)
    said += [c.objection for c in checks if c.objection is not None]
    return StepAnswer(step, (load,), pulled, checks, tuple(said))


def _about(section: Section, bearing: Bearing, weight_n: Array, centre_m: Array) -> Section:
    """Return the section of body and frame parts with the bearing point as its edge."""
    wide = section.size_m
    at = np.asarray(bearing.at_m, dtype=np.float64)
    side = -wide if section.clockwise else wide
    outline = (tuple(at), (at[0] + side, at[1]), (at[0] + side, at[1] + wide))
    return Section(outline, 0, weight_n, centre_m, section.clockwise)


def _resting(
    section: Section, step: FrameStep, angles: Array, weight_n: Array, centre_m: Array
) -> StepAnswer:
    lift, lift_at = 0.0, step.bearings[0].at_m
    if isinstance(step.pull, BagPull):
        if step.pull.lift_kg is None:
            raise TurningError(f'step "{step.name}": the lift of the bag that helps must be known')
        lift, lift_at = step.pull.lift_kg * G_M_S2, step.pull.at_m
    elif step.pull is not None:
        what = "a line" if isinstance(step.pull, LinePull) else "hands"
        raise TurningError(
            f'step "{step.name}" rests on two points and is pulled sideways by {what}: how the points share that '
            "cannot be found from balance; let it rest, or turn it on one point"
        )
    places = [section.turned(section.from_edge(b.at_m), angles)[:, 0] for b in step.bearings]
    span = np.abs(places[1] - places[0])
    if np.any(span < 1e-3 * section.size_m):
        raise TurningError(
            f'step "{step.name}": "{step.bearings[0].name}" and "{step.bearings[1].name}" come to lie one over the '
            "other; they must stand apart"
        )
    centre = section.turned(centre_m - section.edge_m, angles)[..., 0]
    helped = section.turned(section.from_edge(lift_at), angles)[:, 0]
    shares = two_bearings_n(weight_n, centre, places[0], places[1], lift, helped)
    said, loads = [], []
    for bearing, force in zip(step.bearings, shares, strict=True):
        if share_of((force < 0.0).any(axis=1)) > _LIFTS_OFF:
            said.append(
                f'it lifts off "{bearing.name}" and tips over the other point: hold it down or move the point'
            )
        load = _load(step, bearing, angles, force, None)
        loads.append(load)
        said += [load.check.objection] if load.check.objection else []
    return StepAnswer(step, tuple(loads), None, (), tuple(said))


def _load(
    step: FrameStep,
    bearing: Bearing,
    angles: Array,
    upright_n: Array,
    sideways_n: Array | None,
) -> BearingLoad:
    upright = upright_n / G_M_S2
    total = upright if sideways_n is None else np.hypot(upright, sideways_n / G_M_S2)
    largest = spread_of(np.abs(total).max(axis=1), "kg")

    def curve(what: str, values: Array) -> Curve:
        name = f'{what} force on "{bearing.name}"'
        return band_curve(name, ("angle turned", "deg"), (name, "kg"), angles, values)

    return BearingLoad(
        bearing,
        curve("upright", upright),
        None if sideways_n is None else curve("sideways", sideways_n / G_M_S2),
        largest,
        limit(
            f"bearing-{step.name}-{bearing.name}",
            f'{bearing.member} at "{bearing.name}"',
            largest.p95,
            bearing.bears_kg,
            "kg",
            "95th percentile of the largest force in this step",
            rules.BEARING,
        ),
    )
