"""The checks of a set of bags: lift, excess, strops, eyes, crown lines, air, valves, the hook behind."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import weighted_quantile
from oakum.lift.bags import rules
from oakum.lift.bags.air import AirNeed
from oakum.lift.bags.ascent import BagLoad
from oakum.lift.bags.failed import FailedBag, each_held_m3
from oakum.lift.bags.gas import Column
from oakum.lift.bags.kinds import Bag, BagSet
from oakum.lift.bags.vent import expansion_m3_s, valve_m3_s
from oakum.lift.checks import Check, Rule

Array = NDArray[np.float64]

_TRIMS_FROM = 0.05  # share of the draws in which a bag is partly filled that makes it a trimming bag


def checked(
    key: str, title: str, demand: float, capacity: float | None, unit: str, basis: str, rule: Rule, words: str
) -> Check:
    """Return a check with its objection: over the capacity, or the capacity not known.

    `words` is what is wrong where the demand is greater.
    """
    objection = None
    if capacity is None:
        objection = f"{title}: capacity not known"
    elif demand > capacity * (1.0 + 1e-9):
        objection = words
    return Check(key, title, demand, capacity, unit, basis, rule, objection)


def checks(
    load: BagLoad,
    bags: BagSet,
    column: Column,
    balance_m3: Array,
    need: AirNeed,
    failed: Sequence[FailedBag],
) -> tuple[Check, ...]:
    """Return all checks of the set, in the order of the sheet."""
    return (
        *_lift(load, bags, column),
        *_strops(bags, column),
        *_eyes(bags, column),
        *_crown_lines(bags, column),
        _air(need),
        *_valves(load, bags, column, balance_m3),
        *_hook(bags, failed),
    )


def bursting_kg(bag: Bag, column: Column) -> float:
    """Return what strop and eye must bear of one bag: the lift of 1.25 times its full volume, kg."""
    return rules.VOLUME_FACTOR * bag.kind.full_m3(column) * column.density_kg_m3


def _lift(load: BagLoad, bags: BagSet, column: Column) -> list[Check]:
    likely = float(weighted_quantile(load.submerged_kg, 0.5, load.weights))
    wanted = (1.0 + rules.VENT_MARGIN) * likely
    counted = bags.counted_lift_kg(bags.depth_m, column)
    greatest = bags.full_lift_kg(bags.depth_m, column)
    excess = greatest / likely - 1.0
    return [
        checked(
            "bag-lift",
            "lift of all bags",
            wanted,
            counted,
            "kg",
            "median of the submerged weight and 5 % to vent; the lesser of tag and volume of each bag",
            rules.LIFT,
            f"the bags are counted on for {counted:,.0f} kg; {wanted:,.0f} kg are needed to lift and vent",
        ),
        checked(
            "bag-excess",
            "excess lift with all bags full",
            max(excess, 0.0),
            rules.MOST_EXCESS,
            "1",
            "share of the median submerged weight; the greater of tag and volume of each bag",
            rules.EXCESS,
            f"with all bags full the excess lift is {100 * excess:.0f} % of the likely weight, more than 10 %: "
            "it runs away; take smaller bags",
        ),
    ]


def _strops(bags: BagSet, column: Column) -> list[Check]:
    return [
        checked(
            f"strop-{bag.name}",
            f'strop of bag "{bag.name}"',
            bursting_kg(bag, column),
            bag.strop_wll_kg,
            "kg",
            "lift of 1.25 times the full volume",
            rules.STROPS,
            f'the strop of bag "{bag.name}" may have to bear {bursting_kg(bag, column):,.0f} kg, '
            f"its tag says {bag.strop_wll_kg or 0.0:,.0f} kg",
        )
        for bag in bags.bags
    ]


def _eyes(bags: BagSet, column: Column) -> list[Check]:
    found = []
    for eye in bags.eyes:
        pull = sum(bursting_kg(b, column) for b in bags.bags if b.eye == eye.name)
        if pull > 0.0:
            found.append(
                checked(
                    f"eye-{eye.name}",
                    f'eye "{eye.name}"',
                    pull,
                    eye.wll_kg,
                    "kg",
                    "lift of 1.25 times the full volume of every bag at this eye",
                    rules.STROPS,
                    f'the eye "{eye.name}" may have to bear {pull:,.0f} kg, its tag says {eye.wll_kg or 0.0:,.0f} kg',
                )
            )
    return found


def _crown_lines(bags: BagSet, column: Column) -> list[Check]:
    found = []
    for bag in bags.bags:
        line = bag.crown
        if line is None:
            continue
        pull = bursting_kg(bag, column)
        for part, bears in (("line", line.wll_kg), ("anchor", line.holding_kg)):
            found.append(
                checked(
                    f"crown-{part}-{bag.name}",
                    f'crown {part} of bag "{bag.name}"',
                    pull,
                    bears,
                    "kg",
                    "lift of 1.25 times the full volume, the bag come free",
                    rules.CROWN_LINE,
                    f'the crown {part} of bag "{bag.name}" may have to bear {pull:,.0f} kg, '
                    f"it bears {bears or 0.0:,.0f} kg",
                )
            )
    return found


def _air(need: AirNeed) -> Check:
    hand = need.at_hand_bar_m3
    return checked(
        "bag-air",
        "free air for the bags",
        need.needed_bar_m3,
        hand,
        "m3",
        "at 1 bar; all bags full at their depth, every fill and its losses; cylinders down to their reserve or "
        "to the pressure of the water",
        rules.AIR,
        f"{need.needed_bar_m3:,.1f} m³ of free air are needed, {hand or 0.0:,.1f} m³ are at hand",
    )


def _valves(load: BagLoad, bags: BagSet, column: Column, balance_m3: Array) -> list[Check]:
    """Check the valve of every bag that trims in some of the draws, full: its worst (flow goes with sqrt)."""
    if bags.rise_m_s is None:
        return []
    capacity = bags.full_m3(column)
    at = bags.pause_depth_m or 0.0
    held = each_held_m3(balance_m3, capacity, 1.0)
    partly = (held > 0.0) & (held < capacity * (1.0 - 1e-9))
    share = np.average(partly, axis=0, weights=load.weights)
    found = []
    for k, bag in enumerate(bags.bags):
        if share[k] < _TRIMS_FROM:
            continue
        kind = bag.kind
        need = float(expansion_m3_s(capacity[k], at, bags.rise_m_s, column))
        flow = None
        if kind.valve_area_m2 is not None and kind.air_height_m is not None:
            flow = float(valve_m3_s(kind.valve_area_m2, kind.air_height_m, at, column))
        found.append(
            checked(
                f"valve-{bag.name}",
                f'dump valve of bag "{bag.name}"',
                need,
                flow,
                "m3/s",
                f"nearly full, at {at:g} m, rising {bags.rise_m_s:g} m/s",
                rules.VENT,
                f'the valve of bag "{bag.name}" lets out {1000 * (flow or 0.0):.1f} l/s, it gains '
                f"{1000 * need:.1f} l/s at {bags.rise_m_s:g} m/s: rise more slowly or take a bag with a larger valve",
            )
        )
    return found


def _hook(bags: BagSet, failed: Sequence[FailedBag]) -> list[Check]:
    pulls = [case for case in failed if case.hook_kg is not None]
    if bags.hook_wll_kg is None or not pulls:
        return []
    worst = max(pulls, key=lambda c: c.hook_kg.p95 if c.hook_kg is not None else 0.0)
    assert worst.hook_kg is not None
    pull = worst.hook_kg.p95
    return [
        checked(
            "hook-behind",
            f'hook\'s line if bag "{worst.name}" fails',
            pull,
            bags.hook_wll_kg,
            "kg",
            "95th percentile of twice the force down, the line just slack",
            rules.SLACK_LINE,
            f'if bag "{worst.name}" fails the hook\'s line takes {pull:,.0f} kg at first, its tag says '
            f"{bags.hook_wll_kg:,.0f} kg",
        )
    ]
