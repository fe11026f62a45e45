"""How springy legs share a load: by their stiffness and by how far each is out of its length.

The hook is fixed; the load is rigid and may move and turn in every way. Turning about the hook changes no
length, so what counts is where the hook comes to lie in the load's frame: three unknowns. At rest the energy
sum of k/2 (l - l0)^2, taut legs only, less the weight times the depth of the hanging point below the hook is least.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.slings.bounds import Bounds
from oakum.lift.slings.geometry import Geometry

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

_STEPS = 200
_RESIDUAL = 1e-8  # of the weight: what may be left out of balance, besides
_LAST_FIGURE = 1e-15  # of stiffness times length: very stiff legs round more than that
_ROUNDING = 1e-14  # of the energy: a step that rises by less has not risen
_HALVINGS = 30
_SHORTEST = 1e-12


@dataclass(frozen=True, slots=True, eq=False)
class Elastic:
    """Forces (n, k) N, the hook in the load's frame (n, 3) m, and where a place of rest was found (n,)."""

    force_n: Array
    hook_m: Array
    found: Flags


def elastic(
    shape: Geometry, weight_n: Array, hanging_m: Array, stiffness_n_m: Array, misfit_m: Array | float = 0.0
) -> Elastic:
    """Return the forces in springy legs with all displacements counted, however large.

    `weight_n` (n,), `hanging_m` (n, 3); `stiffness_n_m` (k,) of each whole leg; `misfit_m` (k,) is how much
    longer each leg is than from its attachment to the hook (negative: shorter). A leg that would push goes
    slack. Newton's method on the energy, for all draws at once, with steps that always go downhill.
    """
    weight = np.asarray(weight_n, dtype=np.float64)
    hanging = np.asarray(hanging_m, dtype=np.float64)
    n = len(weight)
    natural = np.broadcast_to(shape.length_m + np.asarray(misfit_m), (n, shape.unit.shape[1]))
    k = np.asarray(stiffness_n_m, dtype=np.float64)
    hook = np.array(np.broadcast_to(shape.hook_m, (n, 3)))
    longest = 0.1 * natural.mean(axis=1)
    left = _RESIDUAL * weight + _LAST_FIGURE * np.sum(k * natural, axis=1)
    open_ = np.ones(n, dtype=np.bool_)
    for _ in range(_STEPS):
        some = np.flatnonzero(open_)
        state = _State.at(shape.attachments_m, hook[some], natural[some], k, weight[some], hanging[some])
        still = np.linalg.norm(state.slope, axis=1) > left[some]
        open_[some[~still]] = False
        if not still.any():
            break
        some = some[still]
        step = _downhill(state.slope[still], state.curve[still], longest[some])
        fall = np.sum(state.slope[still] * step, axis=1)
        goal = state.energy[still] + _ROUNDING * np.abs(state.energy[still])
        share = np.ones(len(some))
        for _ in range(_HALVINGS):
            tried = hook[some] + share[:, None] * step
            now = _energy(shape.attachments_m, tried, natural[some], k, weight[some], hanging[some])
            short = now > goal + 1e-4 * share * fall
            if not short.any():
                break
            share[short] *= 0.5
        hook[some] += share[:, None] * step
    end = _State.at(shape.attachments_m, hook, natural, k, weight, hanging)
    return Elastic(end.force, hook, ~open_)


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """Energy (n,), its slope (n, 3) and curvature (n, 3, 3) at a place of the hook, and the forces (n, k)."""

    energy: Array
    slope: Array
    curve: Array
    force: Array

    @classmethod
    def at(
        cls, points: Array, hook: Array, natural: Array, k: Array, weight: Array, hanging: Array
    ) -> _State:
        reach = hook[:, None, :] - points
        length = np.maximum(np.linalg.norm(reach, axis=2), _SHORTEST)
        unit = reach / length[:, :, None]
        stretch = np.maximum(length - natural, 0.0)
        force = k * stretch
        drop = hook - hanging
        depth = np.maximum(np.linalg.norm(drop, axis=1), _SHORTEST)
        up = drop / depth[:, None]
        energy = np.sum(0.5 * k * stretch**2, axis=1) - weight * depth
        slope = np.einsum("nk,nki->ni", force, unit) - weight[:, None] * up
        sideways = force / length
        along = np.where(stretch > 0.0, k, 0.0) - sideways
        curve = np.einsum("nk,nki,nkj->nij", along, unit, unit)
        swing = weight / depth
        curve += np.einsum("n,ni,nj->nij", swing, up, up)
        curve += (sideways.sum(axis=1) - swing)[:, None, None] * np.eye(3)
        return cls(energy, slope, curve, force)


def _energy(points: Array, hook: Array, natural: Array, k: Array, weight: Array, hanging: Array) -> Array:
    length = np.linalg.norm(hook[:, None, :] - points, axis=2)
    stretch = np.maximum(length - natural, 0.0)
    depth = np.linalg.norm(hook - hanging, axis=1)
    return np.asarray(np.sum(0.5 * k * stretch**2, axis=1) - weight * depth)


def _downhill(slope: Array, curve: Array, longest: Array) -> Array:
    """Return Newton's step with every curvature taken as positive, no longer than `longest` (n,)."""
    value, direction = np.linalg.eigh(curve)
    floor = 1e-6 * np.abs(value).max(axis=1)[:, None]
    part = np.einsum("nij,ni->nj", direction, slope) / np.maximum(np.abs(value), floor)
    step = -np.einsum("nij,nj->ni", direction, part)
    size = np.linalg.norm(step, axis=1)
    return np.asarray(step * np.minimum(1.0, longest / np.maximum(size, _SHORTEST))[:, None])


def shared(known: Bounds, stiffness_n_m: Array, misfit_m: Array | float = 0.0) -> Array:
    """Return the forces (n, k) for small displacements, in closed form; NaN where not feasible.

    Of all forces that balance the load, springs choose those of least sum of T^2 / 2k + T misfit. For four
    legs that is a parabola over the one degree of freedom, cut off where a leg goes slack: the answer lies
    within the bounds by construction. Two and three legs are determined; misfit only tilts their load.
    """
    if known.null is None or known.base is None:
        return known.low_end
    give = 1.0 / np.asarray(stiffness_n_m, dtype=np.float64)
    loose = known.base * give + np.asarray(misfit_m)
    s = -np.sum(known.null * loose, axis=1) / np.sum(known.null**2 * give, axis=1)
    free = known.base + s[:, None] * known.null
    return np.asarray(np.clip(free, known.least_n, known.greatest_n))


def shared_worst(
    known: Bounds, stiffness_n_m: Array, tolerance_m: float, misfit_m: Array | float = 0.0
) -> Array:
    """Return the greatest force of each leg (n, k) when every leg may be `tolerance_m` out, either way.

    `misfit_m` (k,) is what they are known to be out. The worst combination pulls all legs of one diagonal
    short and lets the other long.
    """
    if known.null is None:
        return known.low_end
    out = tolerance_m * np.sign(known.null)
    first = shared(known, stiffness_n_m, misfit_m + out)
    return np.asarray(np.maximum(first, shared(known, stiffness_n_m, misfit_m - out)))


def quick_misfit_n(stiffness_n_m: float, sine: float, misfit_m: float) -> float:
    """Return how far the vertical parts of the forces move in four equal legs when one is out of its length, newtons.

    dV = k sin^2(theta) w / 4 with w = misfit / sin(theta): the hand formula for a load over the middle, good
    until a leg goes slack. `sine` is that of the angle from the horizontal.
    """
    return stiffness_n_m * sine**2 * (misfit_m / sine) / 4.0
