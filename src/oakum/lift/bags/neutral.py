"""A partly filled bag is in balance at one depth only, and leaves it faster the further it is."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.lift.bags.gas import Column, absolute_pa
from oakum.lift.bags.wording import band_curve
from oakum.lift.gravity import G_M_S2
from oakum.lift.weight_report import Curve

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


def full_at_pa(start_pa: ArrayLike, share_filled: ArrayLike) -> Array:
    """Return the pressure at which a bag that was partly filled at `start_pa` is full and begins to spill."""
    return np.asarray(np.asarray(start_pa, dtype=np.float64) * np.asarray(share_filled))


def neutral_curve(
    weight_n: Array,
    neutral_depth_m: float,
    bed_depth_m: float,
    column: Column,
    weights: Array | None,
    spills_at_m: float | None,
) -> Curve:
    """Return the band of the net force (n,) draws against depth, from the surface to the bed.

    `spills_at_m` is where the trimming bag of the likely load is full: above it the force stays as it is
    there.
    """
    depths = np.unique(np.append(np.linspace(0.0, bed_depth_m, _POINTS), neutral_depth_m))
    bound = depths if spills_at_m is None else np.maximum(depths, spills_at_m)
    force = net_force_n(weight_n[:, None], neutral_depth_m, bound[None, :], column) / G_M_S2
    marks = [(neutral_depth_m, "in balance here only")]
    if spills_at_m is not None and spills_at_m > 0.0:
        marks.append((spills_at_m, "last bag full, spills"))
    return band_curve(
        "excess lift away from the balance",
        ("depth of the bags", "m"),
        ("force up (minus: down)", "kg"),
        depths,
        force,
        weights,
        tuple(sorted(marks)),
    )
