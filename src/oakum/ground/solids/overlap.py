"""Do two parts stand in each other? Counted on evenly spread points, without chance."""

from __future__ import annotations

import numpy as np

from oakum.ground.solids.dims import FloatArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.placement import Placement
from oakum.ground.solids.solid import Solid

_ROOT = 1.2207440846057596  # real root of x^4 = x + 1: the three-dimensional golden ratio
_STEPS = np.array([1 / _ROOT, 1 / _ROOT**2, 1 / _ROOT**3])
_MOST = 4_000_000


def quadrature_points(solid: Solid, k: int = 512) -> FloatArray:
    """Return `k` points (k, 3) spread evenly through the volume, own frame, m; the same points every time.

    An additive recurrence over the bounding box (steps from the root of x^4 = x + 1), keeping what lies
    inside; a share counted on k points is good to about 1/k^(2/3), at worst 1/sqrt(k). Scalar dimensions
    only.
    """
    if k < 1:
        raise SolidError(f"at least one point is needed, got {k}.")
    low, high = solid.bounds_m()
    kept: list[FloatArray] = []
    found = tried = 0
    batch = 2 * k
    while found < k:
        if tried >= _MOST:
            raise SolidError(f"{solid.words()}: too thin within its own box to be filled with points.")
        index = np.arange(tried + 1, tried + batch + 1)
        points = low + (high - low) * ((0.5 + index[:, None] * _STEPS) % 1.0)
        inside = points[solid.contains(points)]
        kept.append(inside)
        found, tried = found + len(inside), tried + batch
        batch = min(2 * batch, 200_000)
    return np.vstack(kept)[:k]


def overlap_fraction(
    solid_a: Solid, placement_a: Placement, solid_b: Solid, placement_b: Placement, k: int = 512
) -> float:
    """Return the share of the smaller solid's volume that lies inside the other, 0 to 1.

    Counted on `k` points, so parts that only touch come out as 0 or a few thousandths. Scalar dimensions
    only: use `.nominal()` where a dimension holds draws.
    """
    low_a, high_a = placed_bounds_m(solid_a, placement_a)
    low_b, high_b = placed_bounds_m(solid_b, placement_b)
    if (low_a >= high_b).any() or (low_b >= high_a).any():
        return 0.0
    small, where, other, other_where = solid_a, placement_a, solid_b, placement_b
    if np.asarray(solid_a.volume_m3()) > np.asarray(solid_b.volume_m3()):
        small, where, other, other_where = solid_b, placement_b, solid_a, placement_a
    points = other_where.undo(where.apply(quadrature_points(small, k)))
    return float(other.contains(points).mean())


def placed_bounds_m(solid: Solid, placement: Placement) -> tuple[FloatArray, FloatArray]:
    """Return the corners of a box along the body's axes round the placed solid, m (its own box, turned)."""
    ends = np.array(solid.bounds_m())
    corners = np.array([[ends[i, 0], ends[j, 1], ends[k, 2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)])
    placed = placement.apply(corners)
    return placed.min(axis=0), placed.max(axis=0)
