"""One bag fails below the surface: what happens to the load and to the rest, each bag in turn."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.gravity import G_M_S2
from oakum.lift.bags.ascent import BagLoad, weight_n
from oakum.lift.bags.gas import Column, absolute_pa, lift_kg_per_m3
from oakum.lift.bags.kinds import Bag, BagSet
from oakum.lift.bags.motion import terminal_m_s, travel
from oakum.lift.bags.rules import SUDDEN
from oakum.lift.bags.wording import in_ten
from oakum.lift.draw_bands import share_of

Array = NDArray[np.float64]

_TURNS_FROM_M = 0.05
_FREE_BAG_DRAG = 1.0  # drag coefficient of a bag on its own, taken as a ball (memory, verify)


@dataclass(frozen=True, slots=True)
class FailedBag:
    """One bag is empty or gone at `depth_m`, the others as they are.

    `sinks`, `hangs`, `rises` are shares of the draws that had lifted; `rest_kg` the force on the load right
    after (minus: down); `bed_speed_m_s` and `fall_s` how it comes to the bed with the other bags shrinking;
    `hook_kg` what a hook's slack line takes at first (twice the force down); `offset_m` how far the rest
    pulls from over the hanging point. The failed bag, if its strop parts while full, pulls `freed_kg` up and
    goes at about `freed_m_s`; `held_by_crown`: a crown line to an anchor turns it over.
    """

    name: str
    depth_m: float
    sinks: float
    hangs: float
    rises: float
    rest_kg: Spread
    bed_speed_m_s: Spread | None
    fall_s: Spread | None
    hook_kg: Spread | None
    offset_m: Spread | None
    freed_kg: float
    freed_m_s: float
    held_by_crown: bool
    words: str


def each_held_m3(start_m3: Array, capacity_m3: Array, growth: float) -> Array:
    """Return what each bag (n, bags) holds after the air has grown by `growth` >= 1; filled in their order."""
    before = np.concatenate([[0.0], np.cumsum(capacity_m3)[:-1]])
    start = np.clip(start_m3[:, None] - before[None, :], 0.0, capacity_m3[None, :])
    return np.asarray(np.minimum(start * growth, capacity_m3[None, :]))


def failed_bags(
    load: BagLoad, bags: BagSet, column: Column, air_m3: Array, drag_area_m2: float | None
) -> tuple[FailedBag, ...]:
    """Return the case of every bag, at the pause below the surface, or at the surface where none is known.

    `air_m3` (n,) is the air at the start; draws it does not lift are left out. Without a drag area no speed
    is given. Empty where no draw lifts.
    """
    lifts = lift_kg_per_m3(bags.depth_m, column) * np.minimum(air_m3, bags.full_m3(column).sum())
    up = lifts > load.submerged_kg + bags.submerged_kg
    if share_of(up, load.weights) <= 0.0:
        return ()
    load, air = load.kept(up), air_m3[up]
    at = bags.pause_depth_m or 0.0
    growth = float(absolute_pa(bags.depth_m, column) / absolute_pa(at, column))
    held = each_held_m3(air, bags.full_m3(column), growth)
    return tuple(_one(k, bag, load, bags, column, held, at, drag_area_m2) for k, bag in enumerate(bags.bags))


def _one(
    k: int,
    bag: Bag,
    load: BagLoad,
    bags: BagSet,
    column: Column,
    held_m3: Array,
    at_m: float,
    drag_area_m2: float | None,
) -> FailedBag:
    per_m3 = float(lift_kg_per_m3(at_m, column))
    rest_m3 = held_m3.sum(axis=1) - held_m3[:, k]
    net_kg = per_m3 * rest_m3 - load.submerged_kg - bags.submerged_kg
    down = net_kg < 0.0
    falls = share_of(down, load.weights)
    hook = speed = fall = None
    if bags.hook_wll_kg is not None:
        hook = spread_of(SUDDEN * np.maximum(-net_kg, 0.0), "kg", load.weights)
    elif drag_area_m2 is not None and falls > 0.0:
        speed, fall = _fall(load.kept(down), bags, column, rest_m3[down], at_m, drag_area_m2)
    freed_m3 = bag.kind.full_m3(column)
    freed = per_m3 * freed_m3 - bag.kind.submerged_kg
    area = pi * (3.0 * freed_m3 / (4.0 * pi)) ** (2.0 / 3.0)
    crown = bag.crown
    held = crown is not None and not crown.to_the_load and crown.length_m is not None
    case = FailedBag(
        name=bag.name,
        depth_m=at_m,
        sinks=0.0 if bags.hook_wll_kg is not None else falls,
        hangs=falls if bags.hook_wll_kg is not None else 0.0,
        rises=1.0 - falls,
        rest_kg=spread_of(net_kg, "kg", load.weights),
        bed_speed_m_s=speed,
        fall_s=fall,
        hook_kg=hook,
        offset_m=_offset(k, load, bags, held_m3),
        freed_kg=freed,
        freed_m_s=float(terminal_m_s(freed * G_M_S2, _FREE_BAG_DRAG * area, column.density_kg_m3)),
        held_by_crown=held,
        words="",
    )
    return _worded(case)


def _fall(
    load: BagLoad, bags: BagSet, column: Column, rest_m3: Array, at_m: float, drag_area_m2: float
) -> tuple[Spread, Spread]:
    room = np.array([max(float(bags.full_m3(column).sum()), 1e-9)])
    path = travel(
        weight_n(load, bags), rest_m3, room, load.moving_kg, column, at_m, bags.bed_depth_m, drag_area_m2
    )
    speed = spread_of(path.speed_m_s[:, -1], "m/s", load.weights)
    return speed, spread_of(path.time_s[:, -1], "s", load.weights)


def _offset(k: int, load: BagLoad, bags: BagSet, held_m3: Array) -> Spread | None:
    """Return how far from over the hanging point the other bags pull, None where a place is not known."""
    others = [(j, b.at_m) for j, b in enumerate(bags.bags) if j != k]
    if load.hanging_m is None or not others or any(at is None for _, at in others):
        return None
    places = np.array([at for _, at in others], dtype=np.float64)
    held = held_m3[:, [j for j, _ in others]]
    total = held.sum(axis=1)
    if np.any(total <= 0.0):
        return None
    pulls = held @ places / total[:, None]
    return spread_of(np.hypot(*(pulls - load.hanging_m).T), "m", load.weights)


def _worded(case: FailedBag) -> FailedBag:
    said = [f'"{case.name}" fails at {case.depth_m:g} m:']
    if case.sinks > 0.0:
        how = ""
        if case.bed_speed_m_s is not None:
            how = f", reaching the bed at {case.bed_speed_m_s.best:.1f} m/s"
        said.append(f"the load sinks {in_ten(case.sinks)}{how}, and the other bags shrink on the way;")
    if case.hangs > 0.0 and case.hook_kg is not None:
        said.append(
            f"the load hangs on the hook's line {in_ten(case.hangs)}, at first with up to {case.hook_kg.p95:,.0f} kg;"
        )
    if case.rises > 0.0:
        said.append(f"the rest still carries it, and it goes on rising {in_ten(case.rises)};")
    if case.offset_m is not None and case.offset_m.best >= _TURNS_FROM_M:
        said.append(
            f"the rest pulls {case.offset_m.best:.2f} m from over the hanging point, so the load turns;"
        )
    stop = "its crown line turns it over" if case.held_by_crown else "nothing stops it before the surface"
    said.append(
        f"if its strop parts it goes up alone with {case.freed_kg:,.0f} kg at about {case.freed_m_s:.1f} m/s, "
        f"{stop}"
    )
    return replace(case, words=" ".join(said))
