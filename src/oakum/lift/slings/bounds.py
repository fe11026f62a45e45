"""The forces that statics allows in the legs of a load on one hook.

All legs run through the hook, so the moments balance by themselves once the hook is over the hanging point;
what is left are three equations, sum of T_i u_i = W up. Two legs are determined in their plane, three in space.
Four leave one degree of freedom: T = p + s n with n the null vector of the 3 x 4 matrix of directions, and the
legs that must not push, T >= 0, leave s an interval. Its ends hold the least and the greatest force of every leg.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.geometry import Geometry

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

_ZERO = 1e-9  # of the weight: a force below is none; of the null vector: a leg that has no say in it


@dataclass(frozen=True, slots=True, eq=False)
class Bounds:
    """All forces that balance the load, newtons.

    `low_end`, `high_end` (n, k): the two extreme solutions, equal for two and three legs. `feasible` (n,):
    draws in which no leg would have to push; the others hold NaN. `pushing` (k,): share of all draws in which
    this leg is the one that would have to push most. `null` (1 or n, 4): null vector for four legs, `base`
    (n, 4): the solution of least norm.
    """

    low_end: Array
    high_end: Array
    feasible: Flags
    pushing: Array
    null: Array | None = None
    base: Array | None = None

    @property
    def greatest_n(self) -> Array:
        """Greatest force of each leg (n, k)."""
        return np.asarray(np.maximum(self.low_end, self.high_end))

    @property
    def least_n(self) -> Array:
        """Least force of each leg (n, k)."""
        return np.asarray(np.minimum(self.low_end, self.high_end))


def bounds(shape: Geometry, weight_n: Array) -> Bounds:
    """Return the least and greatest force of every leg for draws of the weight (n,), newtons.

    A draw in which a leg would have to push, or two legs would let the load turn over, is not feasible. The
    weight must be greater than zero in every draw.
    """
    weight = np.broadcast_to(np.asarray(weight_n, dtype=np.float64), (len(shape.up),))
    if not np.all(weight > 0.0):
        raise SlingError("the load weighs nothing or floats in some draws: slings hold only what sinks")
    force = weight[:, None] * shape.up
    legs = shape.unit.shape[1]
    if legs == 4:
        return _four(shape.unit, force, weight)
    forces = _two(shape.unit, force) if legs == 2 else _three(shape.unit, force)
    feasible = np.all(forces >= -_ZERO * weight[:, None], axis=1)
    pushing = _pushing(forces, feasible)
    if shape.overturns is not None:
        feasible = feasible & ~shape.overturns
    held = np.where(forces <= _ZERO * weight[:, None], 0.0, forces)
    held[~feasible] = np.nan
    return Bounds(held, held, feasible, pushing)


def _two(unit: Array, force: Array) -> Array:
    a, b = unit[:, 0], unit[:, 1]
    fa, fb = np.sum(a * force, axis=1), np.sum(b * force, axis=1)
    c = np.sum(a * b, axis=1)
    return np.asarray(np.column_stack((fa - c * fb, fb - c * fa)) / (1.0 - c * c)[:, None])


def _three(unit: Array, force: Array) -> Array:
    if len(unit) == 1:
        return np.asarray(force @ np.linalg.inv(unit[0]))
    return np.asarray(np.linalg.solve(np.swapaxes(unit, 1, 2), force[:, :, None])[:, :, 0])


def null_vector(unit: Array) -> Array:
    """Return the null vector (m, 4) of four directions (m, 4, 3), by cofactors, its largest entry 1 in size."""
    a, b, c, d = (unit[:, i] for i in range(4))
    ab, cd = np.cross(a, b), np.cross(c, d)
    null = np.stack((np.sum(b * cd, 1), -np.sum(a * cd, 1), np.sum(d * ab, 1), -np.sum(c * ab, 1)), axis=1)
    null /= np.abs(null).max(axis=1)[:, None]
    return np.asarray(np.where(np.abs(null) <= _ZERO, 0.0, null))


def _four(unit: Array, force: Array, weight: Array) -> Bounds:
    null = null_vector(unit)
    if len(unit) == 1:
        base = force @ np.linalg.pinv(unit[0].T).T
    else:
        gram = np.einsum("nki,nkj->nij", unit, unit)
        base = np.einsum("nki,ni->nk", unit, np.linalg.solve(gram, force[:, :, None])[:, :, 0])
    slack = _ZERO * weight
    low, high = np.full(len(force), -np.inf), np.full(len(force), np.inf)
    feasible = np.ones(len(force), dtype=np.bool_)
    for leg in range(4):
        n, p = null[:, leg], base[:, leg]
        turn = -p / np.where(n == 0.0, 1.0, n)
        if np.any(n > 0.0):
            np.maximum(low, turn if np.all(n > 0.0) else np.where(n > 0.0, turn, -np.inf), out=low)
        if np.any(n < 0.0):
            np.minimum(high, turn if np.all(n < 0.0) else np.where(n < 0.0, turn, np.inf), out=high)
        if np.any(n == 0.0):
            feasible &= (n != 0.0) | (p >= -slack)
    feasible &= low <= high + slack
    first, last = (base + s[:, None] * null for s in (low, np.maximum(low, high)))
    for end in (first, last):
        end[end <= slack[:, None]] = 0.0
        end[~feasible] = np.nan
    return Bounds(first, last, feasible, _pushing(base, feasible), null, base)


def _pushing(forces: Array, feasible: Flags) -> Array:
    worst = np.argmin(forces[~feasible], axis=1)
    return np.bincount(worst, minlength=forces.shape[1]) / len(forces)
