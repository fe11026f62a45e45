"""What would help most: the plan solved again with one thing changed, its gain, and its cost to the object."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from oakum.ground.errors import OakumError
from oakum.ground.estimate import weighted_quantile
from oakum.ground.gravity import G_M_S2
from oakum.lift.raising.bagged import lift_on_bags
from oakum.lift.raising.beamed import hang_on_spreader
from oakum.lift.raising.changes import hook_over_hanging_point, with_bags, with_longer_legs
from oakum.lift.raising.errors import RaisingError
from oakum.lift.raising.hung import hang_on_legs, hook_check
from oakum.lift.raising.lighter import thinner_crust, without_sediment
from oakum.lift.raising.loads import Draw, drawn_loads
from oakum.lift.raising.plan import Help
from oakum.lift.raising.rig_plan import Piece, RigPlan, RigSpreader
from oakum.lift.raising.solved import Asked, Solved, solve
from oakum.lift.slings import Spreader
from oakum.lift.weights.breakout import overburden_kg
from oakum.lift.weights.sums import Sums
from oakum.lift.weights.weighing import Weighing

HELP_DRAWS = 1000
"""Draws a help is solved with, before and after alike."""

_LEGS = ("sling:", "shackle:", "eye:")


@dataclass(frozen=True, slots=True)
class _Asking:
    rig: RigPlan
    asked: Asked
    base: Solved
    weighing: Weighing


def helps(rig: RigPlan, asked: Asked, weighing: Weighing) -> tuple[Help, ...]:
    """Return what would help, what removes most objections first, then by gain; what cannot be solved last.

    Before and after are solved with the first 1,000 draws, so that they can be compared with each other.
    """
    few, quick = asked.first(HELP_DRAWS), _without_motion(rig)
    base = solve(quick, few, elastic_draws=0)
    asking = _Asking(quick, few, base, weighing)
    ways: Iterable[Callable[[_Asking], Help]] = (
        _another_bag,
        lambda a: _longer(a, 1.25),
        lambda a: _longer(a, 1.5),
        _spreader,
        _hook_over,
        _dig_out,
        _sediment,
        _crust,
    )
    return ranked_helps(way(asking) for way in ways)


def ranked_helps(found: Iterable[Help]) -> tuple[Help, ...]:
    """Return helps sorted: what removes most objections first, then by gain; what cannot be solved last."""
    return tuple(sorted(found, key=_rank))


def _without_motion(rig: RigPlan) -> RigPlan:
    """Return the rig without the rise of its bags, which no check asks for and which takes longest."""
    return rig if rig.bags is None else replace(rig, bags=replace(rig.bags, drag_area_m2=None))


def _rank(found: Help) -> tuple[bool, int, float]:
    return found.refused is not None, -len(found.removes), -(found.gain or 0.0)


def _hardest(solved: Solved, keys: tuple[str, ...], unit: str) -> float | None:
    """Return the greatest utilisation among the checks whose keys begin so, or the greatest demand in a unit."""
    found = [c for c in solved.checks if c.key.startswith(keys)]
    if unit == "1":
        return max((c.utilisation for c in found if c.utilisation is not None), default=None)
    return max((c.demand for c in found if c.unit == unit), default=None)


def _gone(before: Solved, after: Solved) -> tuple[str, ...]:
    """Return the objections that go; one that only changes its number has not gone."""
    left = {_bones(o) for o in after.objections}
    return tuple(o for o in before.objections if _bones(o) not in left)


def _bones(words: str) -> str:
    return "".join(c for c in words if not c.isdigit())


def _refused(title: str, measure: str, before: float | None, unit: str, cost: str, why: str) -> Help:
    return Help(title, measure, before, None, unit, cost, refused=why)


def _resolved(
    asking: _Asking, title: str, measure: str, keys: tuple[str, ...], cost: str, change: Callable[[], RigPlan]
) -> Help:
    """Return the help of a changed rig: the greatest utilisation under `keys`, or demand where nothing is rated."""
    unit = "1"
    before = _hardest(asking.base, keys, unit)
    if before is None:
        unit = next((c.unit for c in asking.base.checks if c.key.startswith(keys)), "1")
        before = _hardest(asking.base, keys, unit)
    try:
        after = _solved_again(asking, change())
    except OakumError as error:
        return _refused(title, measure, before, unit, cost, str(error))
    found = _hardest(after, keys, unit)
    if found is None:
        refused = [*after.hung.refused, *after.beamed.refused]
        return _refused(
            title, measure, before, unit, cost, refused[0] if refused else "there is nothing it could change"
        )
    return Help(title, measure, before, found, unit, cost, _gone(asking.base, after))


def _solved_again(asking: _Asking, changed: RigPlan) -> Solved:
    """Return a changed rig solved; what the change does not touch is taken as it was."""
    a = asking.asked
    if changed.bags != asking.rig.bags:
        return replace(asking.base, bagged=lift_on_bags(changed, a.draw, a.light, a.water_kg_m3, a.gear))
    return replace(
        asking.base,
        hung=hang_on_legs(changed, a.draw, a.gear, elastic_draws=0),
        beamed=hang_on_spreader(changed, a.draw, a.gear),
        hook=hook_check(changed, a.draw, a.gear),
    )


def _another_bag(asking: _Asking) -> Help:
    bags = asking.rig.bags

    def change() -> RigPlan:
        return with_bags(asking.rig, len(bags.bags) + 1 if bags is not None else 1)

    relieves = bags is not None and bags.used_for == "relieve"
    title = "One more bag" if bags is None else f'One more bag "{bags.bags[-1].kind.title}"'
    return _resolved(
        asking,
        title,
        "share the bags take off the hook" if relieves else "lift needed over the lift counted on",
        ("bag-relief",) if relieves else ("bag-lift",),
        "none to the object; more excess lift if all are full, more air, one more bag to mind",
        change,
    )


def _longer(asking: _Asking, factor: float) -> Help:
    x, y = (float(np.median(asking.asked.draw.air_m[:, axis])) for axis in (0, 1))
    return _resolved(
        asking,
        f"Legs {100 * (factor - 1):.0f} % longer",
        "hardest used leg, shackle or eye",
        _LEGS,
        "none to the object: steeper legs squeeze it less; needs headroom under the hook",
        lambda: with_longer_legs(asking.rig, factor, (x, y)),
    )


def _hook_over(asking: _Asking) -> Help:
    return _resolved(
        asking,
        "Hook moved over the hanging point",
        "tilt of the load",
        ("tilt",),
        "none to the object; legs are cut or shortened anew",
        lambda: hook_over_hanging_point(asking.rig),
    )


def _spreader(asking: _Asking) -> Help:
    title, measure = "A spreader beam between the legs", "push of the legs on the object, 95th percentile"
    cost = "none to the object: nothing squeezes it; a beam to hire, its weight on the hook, more headroom"
    before = _squeeze_kg(asking.base)
    try:
        changed = _with_spreader(asking.rig)
        after = _solved_again(asking, changed)
    except OakumError as error:
        return _refused(title, measure, before, "kg", cost, str(error))
    if not after.beamed.answers:
        why = after.beamed.objections[0] if after.beamed.objections else "no forces were found under it"
        return _refused(title, measure, before, "kg", cost, why)
    press = max(answer.compression_n.p95 for _, answer in after.beamed.answers) / G_M_S2
    length = changed.spreader.beam.length_m if changed.spreader is not None else 0.0
    cost = f"{cost}; the beam of {length:.2f} m is pressed with {press:,.0f} kg and must not buckle"
    removes = tuple(o for o in _gone(asking.base, after) if "out of level" in o or "from the horizontal" in o)
    return Help(title, measure, before, 0.0, "kg", cost, removes)


def _squeeze_kg(solved: Solved) -> float | None:
    found = [max(a.squeeze_x_n.p95, a.squeeze_y_n.p95) for a in solved.hung.answers.values()]
    return max(found) / G_M_S2 if found else None


def _with_spreader(rig: RigPlan) -> RigPlan:
    """Return the rig with its legs hung under a beam along the longer way between them."""
    if rig.spreader is not None:
        raise RaisingError("the rig has a spreader already")
    if rig.hook is None or len(rig.legs) not in (2, 4):
        raise RaisingError("a spreader takes two legs, or four in two pairs")
    points = np.array([leg.at_m for leg in rig.legs])
    axis = int(np.argmax(np.ptp(points[:, :2], axis=0)))
    order = np.argsort(points[:, axis])
    half = len(points) // 2
    low, high = points[order[:half]].mean(axis=0), points[order[half:]].mean(axis=0)
    height = rig.hook.height_m or (
        rig.hook.at_m[2] - points[:, 2].max() if rig.hook.at_m is not None else None
    )
    if height is None or height <= 0.0:
        raise RaisingError("how high the hook would be over the beam is not known")
    beam = Spreader("beam", float(np.hypot(*(high - low)[:2])), float(height), None, None, None)
    ends = ((float(low[0]), float(low[1]), float(low[2])), (float(high[0]), float(high[1]), float(high[2])))
    return replace(rig, legs=(), spreader=RigSpreader(beam, ends, Piece(), Piece()))


def _load_help(
    asking: _Asking, title: str, cost: str, change: Callable[[Weighing], Sums | None], why_not: str
) -> Help:
    """Return the help of a lighter load: the number that moves is the hook load in air."""
    measure = "hook load just clear of the surface, 95th percentile"
    before = _p95(asking.asked.draw.hook_air_kg, asking.asked.draw)
    try:
        sums = change(asking.weighing)
    except OakumError as error:
        return _refused(title, measure, before, "kg", cost, str(error))
    if sums is None:
        return _refused(title, measure, before, "kg", cost, why_not)
    rigging = None if asking.rig.hook is None else asking.rig.hook.rigging_kg
    draw = drawn_loads(sums, asking.weighing.use, rigging).first(HELP_DRAWS)
    use = asking.asked.light_use
    light = None if use is None else drawn_loads(sums, use, rigging).first(HELP_DRAWS)
    after = solve(asking.rig, replace(asking.asked, draw=draw, light=light), elastic_draws=0)
    return Help(title, measure, before, _p95(draw.hook_air_kg, draw), "kg", cost, _gone(asking.base, after))


def _p95(values: np.ndarray, draw: Draw) -> float:
    return float(weighted_quantile(values, 0.95, draw.weights))


def _dig_out(asking: _Asking) -> Help:
    title = "Overburden dug off and base undercut"
    cost = "time under water; bare wood and crust are rubbed and sucked at by water and hands: cover them at once"
    measure = "load to break it out of the bed, 95th percentile, never to be pulled"
    weighing = asking.weighing
    before = weighing.report.state("seabed").load_kg.p95
    after = weighing.report.state("submerged").load_kg.p95
    bed = weighing.report.body.bed
    if bed is None:
        why = "the bed is not described: how much it holds is not known"
        return _refused(title, measure, None, "kg", cost, why)
    drawn = weighing.sums.drawn
    layer = np.median(drawn.full(overburden_kg(bed, drawn.draws, drawn.water_kg_m3)))
    return Help(title, measure, before, after, "kg", f"{cost}; about {layer:,.0f} kg of overburden to move")


def _sediment(asking: _Asking) -> Help:
    return _load_help(
        asking,
        "Sediment cleared out of it under water",
        "sediment holds small finds and samples: sieve it and keep samples; loose parts lose their support",
        without_sediment,
        "no sediment in or on it is described",
    )


def _crust(asking: _Asking) -> Help:
    return _load_help(
        asking,
        "Concretion as thin as its 5th percentile",
        "chipping destroys what the crust carries: surface, marks, finds and what holds a corroded thing together",
        thinner_crust,
        "no concretion with a spread of thickness is described",
    )
