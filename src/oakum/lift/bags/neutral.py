"""A partly filled bag is in balance at one depth only, and leaves it faster the further it is."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.bags.gas import Column, absolute_pa, lift_kg_per_m3
from oakum.lift.bags.motion import held_m3
from oakum.lift.draw_bands import band_curve
from oakum.lift.weights.report import Curve

Array = NDArray[np.float64]

_POINTS = 61


def net_force_n(weight_n: ArrayLike, neutral_depth_m: ArrayLike, depth_m: ArrayLike, column: Column) -> Array:
    """Return the force up on a load whose partly filled bags balance it at `neutral_depth_m`.

    N(z) = W (p(z0) / p(z) - 1): nothing at z0, up above it, down below it, so that it is unstable both ways.
    `weight_n` is the submerged weight with the bags' own; arrays broadcast. Holds until a bag is full above
    z0; leaves out the weight of the air, 0.4 % at 20 m.
    """
    at = absolute_pa(neutral_depth_m, column) / absolute_pa(depth_m, column)
    return np.asarray(np.asarray(weight_n, dtype=np.float64) * (at - 1.0))


def one_bag_curve(weight_n: Array, neutral_depth_m: float, bed_depth_m: float, column: Column) -> Curve:
    """Return the band over the draws (n,) if one great bag, far from full, carried it all."""
    depths = _depths(neutral_depth_m, bed_depth_m)
    force = net_force_n(weight_n[:, None], neutral_depth_m, depths[None, :], column)
    marks = ((neutral_depth_m, "in balance here only"),)
    return _curve("excess lift, one great bag partly filled", depths, force, marks)


def neutral_curve(
    weight_n: Array,
    balance_m3: Array,
    capacity_m3: Array,
    neutral_depth_m: float,
    bed_depth_m: float,
    column: Column,
) -> Curve:
    """Return the band of the net force for this set, in balance at `neutral_depth_m`.

    Going up, full bags spill and only the trimming one grows until it is full; going down, all shrink.
    Draws that all bags together do not lift are down at every depth.
    """
    depths = _depths(neutral_depth_m, bed_depth_m)
    pressure = absolute_pa(depths, column)
    growth = absolute_pa(neutral_depth_m, column) / pressure
    volume = held_m3(balance_m3, capacity_m3, growth)
    force = lift_kg_per_m3(depths, column) * volume * G_M_S2 - weight_n[:, None]
    marks = ((neutral_depth_m, "in balance here only"),)
    return _curve("excess lift, these bags", depths, force, marks)


def _depths(neutral_m: float, bed_m: float) -> Array:
    return np.unique(np.append(np.linspace(0.0, bed_m, _POINTS), neutral_m))


def _curve(name: str, depths: Array, force_n: Array, marks: tuple[tuple[float, str], ...]) -> Curve:
    axis = ("depth of the bags", "m")
    return band_curve(name, axis, ("force up (minus: down)", "kg"), depths, force_n / G_M_S2, marks)
