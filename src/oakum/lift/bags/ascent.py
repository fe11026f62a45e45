"""The rise of the load on its bags, as bands over the draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.gravity import G_M_S2
from oakum.lift.bags.gas import Column, absolute_pa, lift_kg_per_m3
from oakum.lift.bags.kinds import BagSet
from oakum.lift.bags.motion import Path, terminal_m_s, travel
from oakum.lift.draw_bands import band_curve, picked, share_of
from oakum.lift.weights.report import Curve

Array = NDArray[np.float64]

JUST_LIFTS = 0.01
"""The diver stops filling when it lifts: 1 % more air than balance (practice, no source)."""

MOST_DRAWS = 1_000
"""Draws that the rise uses: its percentiles are good to about 5 % of the width."""


@dataclass(frozen=True, slots=True, eq=False)
class BagLoad:
    """The load as draws (n,): weight under water with slings and frame, and what has to be moved.

    `moving_kg` is its mass with the water in and around it: mass in air with trapped water, and added mass
    where known. `weights` (n,) as a reading makes them, None: all alike. `hanging_m` (n, 2) is the point in
    the body's plan it hangs from under water, None where not known.
    """

    submerged_kg: Array
    moving_kg: Array
    added_known: bool
    weights: Array | None = None
    hanging_m: Array | None = None

    def few(self, most: int = MOST_DRAWS) -> BagLoad:
        """Return at most so many draws that count alike and stand for all."""
        some = picked(len(self.submerged_kg), self.weights, most)
        hanging = None if self.hanging_m is None else self.hanging_m[some]
        return BagLoad(self.submerged_kg[some], self.moving_kg[some], self.added_known, None, hanging)

    def kept(self, which: NDArray[np.bool_]) -> BagLoad:
        """Return the load with the draws for which `which` (n,) is true."""
        return BagLoad(
            self.submerged_kg[which],
            self.moving_kg[which],
            self.added_known,
            None if self.weights is None else self.weights[which],
            None if self.hanging_m is None else self.hanging_m[which],
        )


@dataclass(frozen=True, slots=True)
class Ascent:
    """How it goes up if nobody vents, from the start to the pause, or to the surface where no pause is known.

    `rises` is the share of the draws that leave the start at all; the rest is about those alone. `speed` is
    the band against depth; `greatest_m_s` the greatest speed on the way; `time_s` how long it takes;
    `terminal_m_s` the speed at which drag holds the excess of all bags full; `full_at_m` the depth above
    which the last bag is full and spills, 0 where it never is.
    """

    name: str
    from_m: float
    to_m: float
    rises: float
    speed: Curve | None
    greatest_m_s: Spread | None
    time_s: Spread | None
    terminal_m_s: Spread
    full_at_m: Spread


def weight_n(load: BagLoad, bags: BagSet) -> Array:
    """Return the weight (n,) that the air has to carry: load and empty bags, N."""
    return np.asarray((load.submerged_kg + bags.submerged_kg) * G_M_S2)


def balance_m3(load: BagLoad, bags: BagSet, column: Column) -> Array:
    """Return the air (n,) that balances the load at the start, m3 at that depth, whatever the bags hold."""
    return np.asarray(
        np.maximum(load.submerged_kg + bags.submerged_kg, 0.0) / lift_kg_per_m3(bags.depth_m, column)
    )


def ascent(
    name: str, load: BagLoad, bags: BagSet, column: Column, air_m3: Array, drag_area_m2: float
) -> Ascent:
    """Return the rise with `air_m3` (n,) in the bags at the start (what is more than full is spilled).

    The draws of the load must count alike, as those of `BagLoad.few` do.
    """
    to = bags.pause_depth_m or 0.0
    capacity = bags.full_m3(column)
    path = travel(
        weight_n(load, bags), air_m3, capacity, load.moving_kg, column, bags.depth_m, to, drag_area_m2
    )
    full_net = lift_kg_per_m3(to, column) * capacity.sum() * G_M_S2 - weight_n(load, bags)
    rises = share_of(path.moves, load.weights)
    speed = greatest = time = None
    if rises > 0.0:
        speed, greatest, time = _bands(name, path)
    return Ascent(
        name,
        bags.depth_m,
        to,
        rises,
        speed,
        greatest,
        time,
        spread_of(terminal_m_s(full_net, drag_area_m2, column.density_kg_m3), "m/s", load.weights),
        spread_of(full_at_m(air_m3, bags, column), "m", load.weights),
    )


def full_at_m(air_m3: Array, bags: BagSet, column: Column) -> Array:
    """Return the depth (n,) above which the bag that was partly filled at the start is full.

    The start itself where none is partly filled; 0 where it is not full even at the surface.
    """
    filled = np.cumsum(bags.full_m3(column))
    held = np.minimum(air_m3, filled[-1])
    at = np.minimum(np.searchsorted(filled, held * (1.0 + 1e-12), side="right"), len(filled) - 1)
    below = np.where(at > 0, filled[at - 1], 0.0)
    share = np.clip((held - below) / (filled[at] - below), 0.0, 1.0)
    share = np.where(share <= 0.0, 1.0, share)
    spills = (absolute_pa(bags.depth_m, column) * share - column.air_pressure_pa) / column.pa_per_m
    return np.asarray(np.clip(spills, 0.0, bags.depth_m))


def _bands(name: str, path: Path) -> tuple[Curve, Spread, Spread]:
    who = path.moves
    picks = np.unique(np.linspace(0, len(path.depth_m) - 1, 61).round().astype(int))[::-1]
    curve = band_curve(
        f"speed of the rise, {name}",
        ("depth of the bags", "m"),
        ("speed", "m/s"),
        path.depth_m[picks],
        path.speed_m_s[who][:, picks],
    )
    greatest = spread_of(path.speed_m_s[who].max(axis=1), "m/s")
    return curve, greatest, spread_of(path.time_s[who][:, -1], "s")
