"""One adjustment: from a start to the least sum of squares, with what nothing holds taken care of."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.motions import Motions, pins, unnoticed
from oakum.seabed.network.rows import FreeProblem, Network
from oakum.seabed.solver.damped import Stop, damped
from oakum.seabed.solver.normal import Factor, NormalSteps, Scheme
from oakum.seabed.solver.robust import Huber

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

FREE_TO_MOVE = 1e11
"""A scaled variance above this is a mark that can move: rounding alone kept the equations from being singular."""

CAP = 4.0
"""Misses beyond so many sd count alike where two starts are compared."""


def capped(gaps: Array) -> float:
    """Sum of squares, each at most the cap's."""
    return float(np.minimum(gaps * gaps, CAP * CAP).sum())


@dataclass(frozen=True, slots=True, eq=False)
class Adjusted:
    """Where an adjustment ended. `free` are the places in the state that were solved (held and pinned ones not).

    `robust` is the sum of squares, each capped at four sd, and `far` the share of readings beyond, both where Huber's
    loss is least (where no such run was made, at the start). `bold` are the residuals over sd there: a misreading
    stands out in them more than in those of least squares. `standing` is the state there.
    """

    network: Network
    state: Array
    free: Ints
    phi: float
    iterations: int
    converged: bool
    why: str
    robust: float = 0.0
    far: float = 0.0
    bold: Array | None = None
    standing: Array | None = None


def groups_of(network: Network, state: Array, free: Ints) -> tuple[Ints, Array]:
    """For the sparse factor: the mark (or further unknown) of each free place, and where marks lie."""
    n = len(network.names)
    group = np.where(free < 3 * n, free // 3, n + free - 3 * n).astype(np.int64)
    places = np.full((n + len(network.further), 2), np.nan)
    places[:n] = state[: 3 * n].reshape(n, 3)[:, :2]
    return group, places


def adjust(network: Network, start: Array, core: Bools | None = None, robust: bool = True) -> Adjusted:
    """Minimise the sum of squares from this start.

    With `robust` a run with Huber's loss comes first, so that a few misreadings do not lead it astray. As many
    coordinates as there are unnoticed motions are pinned where they are; that changes no residual.
    """
    core = np.ones(len(network.names), dtype=bool) if core is None else core
    pinned = pins(unnoticed(network, start), network, core)
    free = np.setdiff1d(network.free, pinned)
    problem = FreeProblem(network, start, free)
    steps = NormalSteps(*groups_of(network, start, free))
    x, tried = start[free], 0
    if robust:
        first = damped(problem, x, steps, Stop(step=1e-3, fall=1e-4, most=60), Huber())
        x, tried = first.x, first.iterations
    gaps, standing = problem.residual(x), problem.state(x)
    far = float(np.mean(np.abs(gaps) > CAP)) if len(gaps) else 0.0
    found = damped(problem, x, steps, Stop(most=120, shake=1e-6 if robust else 1e-3))
    tried += found.iterations
    state = problem.state(found.x)
    return Adjusted(
        network, state, free, found.cost, tried, found.converged, found.why, capped(gaps), far, gaps, standing
    )


@dataclass(frozen=True, slots=True, eq=False)
class Equations:
    """The normal equations at a solution: their scheme, entries and factor (None where something can move)."""

    scheme: Scheme
    normal: Array
    factor: Factor | None
    inverse: Array


def equations(adjusted: Adjusted) -> Equations:
    """Form and factor them, undamped."""
    problem = FreeProblem(adjusted.network, adjusted.state, adjusted.free)
    jacobian = problem.jacobian(adjusted.state[adjusted.free])
    scheme = Scheme(jacobian, *groups_of(adjusted.network, adjusted.state, adjusted.free))
    normal = scheme.pattern.normal(jacobian)
    try:
        factor = scheme.factor(normal)
        inverse = factor.inverse()
    except np.linalg.LinAlgError:
        return Equations(scheme, normal, None, np.zeros(0))
    diagonal = scheme.pattern.diagonal
    weakest = float((inverse[diagonal] * normal[diagonal]).max(initial=0.0))
    if not weakest < FREE_TO_MOVE:
        return Equations(scheme, normal, None, np.zeros(0))
    return Equations(scheme, normal, factor, inverse)


def movable(adjusted: Adjusted, equations: Equations) -> Bools:
    """Marks that can still move against the rest without any reading noticing (n,), by inverse iteration."""
    pattern = equations.scheme.pattern
    diagonal = equations.normal[pattern.diagonal]
    scale = np.where(diagonal > 0.0, diagonal, 1.0)
    shifted = equations.normal.copy()
    shifted[pattern.diagonal] += 1e-9 * scale
    factor = equations.scheme.factor(shifted)
    rng = np.random.default_rng(0)
    vectors = rng.normal(size=(pattern.n, min(12, pattern.n)))
    root = np.sqrt(scale)
    for _ in range(6):
        vectors, _ = np.linalg.qr(root[:, None] * factor.solve(root[:, None] * vectors))
    steps = vectors / root[:, None]
    stiff = np.zeros_like(steps)
    np.add.at(stiff, pattern.rows, equations.normal[:, None] * steps[pattern.columns])
    values, mix = np.linalg.eigh(steps.T @ stiff)
    loose = steps @ mix[:, values < 1e-8]
    moving = np.zeros(len(adjusted.network.names), dtype=bool)
    size = np.abs(loose).max(axis=1, initial=0.0)
    marks = adjusted.free // 3
    strong = (size > 1e-3 * max(float(size.max(initial=0.0)), 1e-30)) & (marks < len(moving))
    moving[marks[strong]] = True
    return moving


def motions_at(adjusted: Adjusted) -> Motions:
    """What nothing holds, at the solution."""
    return unnoticed(adjusted.network, adjusted.state)
