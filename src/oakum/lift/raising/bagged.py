"""The load on its bags: carrying it, or taking a part of it off the hook."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from oakum.ground.estimate import weighted_quantile
from oakum.lift.bags import (
    ATMOSPHERE_PA,
    Bag,
    BagAnswer,
    BagError,
    BagSet,
    Column,
    CrownLine,
    Eye,
    answer,
    asked,
)
from oakum.lift.checks import Check, Rule
from oakum.lift.raising.gear_use import wll_kg
from oakum.lift.raising.loads import Draw, bag_load
from oakum.lift.raising.plan import GearItem
from oakum.lift.raising.rig_plan import RigBag, RigBags, RigPlan

RELIEF = Rule(
    "bag-relief",
    "bags that relieve a hook, all full, take at most the share of the weight that was said",
    "the plan's own limit; full volume against the 5th percentile of the weight under water",
    mark="practice, no source",
)
LOST = Rule(
    "bag-relief-lost",
    "when a relieving bag fails, the hook takes its lift at once: twice that, and what it held before",
    "load put suddenly on an elastic line without falling",
    mark="own calculation",
)
_FOR_CARRYING = ("bag-lift", "bag-excess")


@dataclass(frozen=True, slots=True)
class Bagged:
    """What the bags say: the answer, or why there is none."""

    answer: BagAnswer | None
    checks: tuple[Check, ...] = ()
    objections: tuple[str, ...] = ()
    open_questions: tuple[str, ...] = ()


def lift_on_bags(
    rig: RigPlan, draw: Draw, light: Draw | None, water_kg_m3: float, gear: Mapping[str, GearItem]
) -> Bagged:
    """Return the load on the bags of a rig.

    `light` are the draws under the lesser of readings that disagree: excess lift is then checked on it.
    """
    bags = rig.bags
    if bags is None:
        return Bagged(None)
    try:
        return _answered(rig, bags, draw, light, water_kg_m3, gear)
    except BagError as error:
        return Bagged(None, objections=(f"bags: {error}",))


def _answered(
    rig: RigPlan,
    bags: RigBags,
    draw: Draw,
    light: Draw | None,
    water_kg_m3: float,
    gear: Mapping[str, GearItem],
) -> Bagged:
    column = Column(
        water_kg_m3,
        10.0 if bags.temperature_c is None else bags.temperature_c,
        bags.air_pressure_pa or ATMOSPHERE_PA,
    )
    made = bag_set(rig, bags, gear)
    found = answer(bag_load(draw, bags.added_mass_kg), made, column, bags.supply)
    objections = (
        [] if bags.used_for else ["not known whether the bags carry the load or relieve a hook of a part"]
    )
    if bags.temperature_c is None:
        objections.append("the temperature of the water at the bags is not known; 10 °C is taken")
    if bags.used_for != "relieve" and light is not None:
        found = _on_the_light_side(
            found, answer(bag_load(light, bags.added_mass_kg), made, column, bags.supply)
        )
    if bags.used_for != "carry":
        found = _relieving(rig, bags, found, draw, light or draw, gear)
    return Bagged(found, found.checks, (*found.objections, *objections), found.open_questions)


def bag_set(rig: RigPlan, bags: RigBags, gear: Mapping[str, GearItem]) -> BagSet:
    """Return the set of bags with the WLL of every strop, eye and line looked up. Raises `BagError`."""
    return BagSet(
        bags=tuple(_bag(b, gear) for b in bags.bags),
        eyes=tuple(Eye(name, wll_kg(piece, gear)) for name, piece in bags.eyes),
        depth_m=bags.depth_m,
        bed_depth_m=bags.bed_depth_m,
        pause_depth_m=rig.work.pause_depth_m,
        rise_m_s=bags.rise_m_s,
        taken_at=bags.taken_at,
        drag_area_m2=bags.drag_area_m2,
        hook_wll_kg=None if bags.hook_line is None else wll_kg(bags.hook_line, gear),
    )


def _bag(bag: RigBag, gear: Mapping[str, GearItem]) -> Bag:
    crown = None
    if bag.crown is not None:
        crown = CrownLine(
            bag.crown.length_m,
            bag.crown.anchor_depth_m,
            bag.crown.to_the_load is not False,  # not said counts as the worse: it comes up with the load
            wll_kg(bag.crown.piece, gear),
            bag.crown.holding_kg,
        )
    return Bag(
        bag.name,
        bag.kind,
        wll_kg(bag.strop, gear),
        bag.eye,
        crown,
        None if bag.at_m is None else bag.at_m[:2],
    )


def _on_the_light_side(heavy: BagAnswer, light: BagAnswer) -> BagAnswer:
    """Return the answer with excess lift taken from the lesser of two readings, the rest from the greater."""
    excess = next(c for c in light.checks if c.key == "bag-excess")
    basis = f"{excess.basis}; the lesser of readings that disagree"
    swapped = tuple(replace(excess, basis=basis) if c.key == "bag-excess" else c for c in heavy.checks)
    before = next(c for c in heavy.checks if c.key == "bag-excess").objection
    said = [o for o in heavy.objections if o != before]
    return replace(
        heavy, checks=swapped, objections=(*said, *([excess.objection] if excess.objection else []))
    )


def _relieving(
    rig: RigPlan, bags: RigBags, found: BagAnswer, draw: Draw, light: Draw, gear: Mapping[str, GearItem]
) -> BagAnswer:
    """Return the answer with the checks of carrying bags put out and those of relieving ones put in.

    Where it is not known which they are, both stay in.
    """
    own = (_share(bags, found, light), *_lost(rig, found, draw, gear))
    if bags.used_for is None:
        said = (*(c.objection for c in own if c.objection), *found.objections)
        return replace(found, checks=(*own, *found.checks), objections=said)
    dropped = {c.objection for c in found.checks if c.key in _FOR_CARRYING}
    kept = tuple(c for c in found.checks if c.key not in _FOR_CARRYING)
    return replace(
        found,
        checks=(*own, *kept),
        objections=(
            *(c.objection for c in own if c.objection),
            *(o for o in found.objections if o not in dropped),
        ),
        instead=(),
        open_questions=asked.questions(found.bags, found.column),
    )


def _share(bags: RigBags, found: BagAnswer, light: Draw) -> Check:
    least = float(weighted_quantile(light.hook_water_kg, 0.05, light.weights))
    share = found.lift_full_kg / max(least, 1e-9)
    objection = None
    if bags.relieve_most is None:
        most = f"full they may take {100 * share:.0f} %"
        objection = f"how much of the weight the bags may take off the hook is not said; {most}"
    elif share > bags.relieve_most:
        objection = (
            f"with all bags full they may take {100 * share:.0f} % of the weight off the hook, more than the "
            f"{100 * bags.relieve_most:.0f} % that was said"
        )
    basis = "all bags full, the greater of tag and volume, over the 5th percentile of the weight under water"
    return Check(
        "bag-relief",
        "share the bags take off the hook",
        share,
        bags.relieve_most,
        "1",
        basis,
        RELIEF,
        objection,
    )


def _lost(rig: RigPlan, found: BagAnswer, draw: Draw, gear: Mapping[str, GearItem]) -> tuple[Check, ...]:
    """Return the check of the hook when the largest bag goes."""
    capacity = None if rig.hook is None else wll_kg(rig.hook.piece, gear)
    per_m3 = found.lift_full_kg + found.bags.submerged_kg
    volumes = found.bags.full_m3(found.column)
    largest = int(np.argmax(volumes))
    gone = per_m3 * float(volumes[largest] / volumes.sum())
    counted = found.lift_counted_kg * (1.0 - float(volumes[largest] / volumes.sum()))
    heavy = float(weighted_quantile(draw.hook_water_kg, 0.95, draw.weights))
    demand = max(heavy - counted, 0.0) + gone
    name = found.bags.bags[largest].name
    objection = None
    if capacity is None:
        objection = "hook if a bag fails: what the hook bears is not known"
    elif demand > capacity:
        objection = (
            f'if bag "{name}" fails the hook takes {demand:,.0f} kg at first, it bears {capacity:,.0f} kg'
        )
    basis = "95th percentile of the weight under water, the other bags as counted on, and once more the lift that goes"
    return (
        Check(
            "bag-relief-lost", f'hook if bag "{name}" fails', demand, capacity, "kg", basis, LOST, objection
        ),
    )
