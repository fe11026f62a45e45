"""Damped Gauss-Newton (Levenberg-Marquardt) on any residual and Jacobian."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from oakum.seabed.solver.problem import Problem, Steps
from oakum.seabed.solver.robust import Loss, Plain

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Stop:
    """When to stop: step below `step` (and `relative_step` of x) and the cost's relative fall below `fall`.

    `step` is in the units of x. `most` is the cap on steps tried. `shake` is the damping at the start, relative to
    the squared column norms of the Jacobian. After a fall below `near` the next step may use the factor of the last.
    """

    step: float = 1e-5
    relative_step: float = 0.0
    fall: float = 1e-10
    most: int = 50
    shake: float = 1e-3
    near: float = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """Where it ended. `cost` is the loss (the sum of squares for the plain one); `why` says why it stopped."""

    x: Array
    cost: float
    iterations: int
    converged: bool
    why: str


def squared_norms(jacobian: Array | csr_array) -> Array:
    """Sum of squares of each column."""
    if isinstance(jacobian, np.ndarray):
        return np.asarray(np.einsum("ij,ij->j", jacobian, jacobian))
    sums = np.bincount(jacobian.indices, jacobian.data**2, minlength=jacobian.shape[1])
    return sums.astype(np.float64)


def scaled_rows(jacobian: Array | csr_array, weight: Array) -> Array | csr_array:
    """Each row times a weight, structure kept."""
    if isinstance(jacobian, np.ndarray):
        return np.asarray(jacobian * weight[:, None])
    data = jacobian.data * np.repeat(weight, np.diff(jacobian.indptr))
    return csr_array((data, jacobian.indices, jacobian.indptr), shape=jacobian.shape)


def damped(
    problem: Problem, start: Array, steps: Steps, stop: Stop | None = None, loss: Loss | None = None
) -> Found:
    """Minimise the loss from `start`.

    The damping is Marquardt's (squared column norms, the greatest seen so far), its factor follows the ratio of won
    to promised fall (Nielsen 1999; memory, verify). A step that does not lower the loss is never taken. With a loss
    other than the plain one each step is a weighted one, so the answer is a minimum of that loss.
    """
    stop, loss = stop or Stop(), loss or Plain()
    x = np.array(start, dtype=np.float64)
    r = problem.residual(x)
    cost = loss.cost(r)
    if not math.isfinite(cost):
        return Found(x, cost, 0, False, "the start gives no finite residuals")
    scale: Array = np.zeros_like(x)
    factor, grow, tried, fresh, near = stop.shake, 2.0, 0, True, False
    gradient: Array = np.zeros_like(x)
    while tried < stop.most:
        if fresh:
            root = np.sqrt(loss.weight(r))
            weighted = scaled_rows(problem.jacobian(x), root)
            scale = np.maximum(scale, squared_norms(weighted))
            scale[scale <= 0.0] = 1.0
            gradient = np.asarray(weighted.T @ (root * r))
            steps.set(weighted, root * r, keep=near)
            fresh = False
        tried += 1
        try:
            step = steps.step(factor * scale)
        except np.linalg.LinAlgError:
            factor, grow = max(factor, 1e-12) * grow, 2.0 * grow
            continue
        promised = float(step @ (factor * scale * step - gradient))
        new_r = problem.residual(x + step)
        new_cost = loss.cost(new_r)
        size = float(np.abs(step).max(initial=0.0))
        small = bool(np.all(np.abs(step) <= stop.step + stop.relative_step * np.abs(x)))
        if math.isfinite(new_cost) and new_cost <= cost:
            fall = (cost - new_cost) / max(cost, 1e-300)
            gain = (cost - new_cost) / promised if promised > 0.0 else 0.0
            x, r, fresh, near = x + step, new_r, True, fall < stop.near
            done = small and (fall < stop.fall or new_cost < 1e-20)
            cost = new_cost
            factor, grow = max(factor * max(1.0 / 9.0, 1.0 - (2.0 * gain - 1.0) ** 3), 1e-15), 2.0
            if done:
                return Found(x, cost, tried, True, "steps and falls are below the limits")
        elif near:
            fresh, near = True, False
        elif small or promised <= 1e-15 * cost:
            return Found(x, cost, tried, True, f"no step of {size:.1e} lowers the sum further")
        else:
            factor, grow = factor * grow, 2.0 * grow
            if factor > 1e30:
                return Found(x, cost, tried, False, "no step lowers the sum, however short")
    return Found(x, cost, tried, False, f"stopped at the cap of {stop.most} steps")
