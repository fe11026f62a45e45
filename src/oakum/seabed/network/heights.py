"""Heights known before any tape is used: from depths, levels and held heights alone."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

from oakum.seabed.network.rows import FreeProblem, Network
from oakum.seabed.solver.damped import Stop, damped
from oakum.seabed.solver.normal import NormalSteps
from oakum.seabed.solver.robust import Huber

Array = NDArray[np.float64]


def first_heights(network: Network) -> tuple[Array, Array]:
    """Heights (n,) in the local frame, nan where depths and levels do not tell, and the further unknowns found.

    Where several groups of heights are tied by nothing the greatest alone is kept: their differences are unknown.
    """
    n = len(network.names)
    upright = np.zeros(len(network.given), dtype=bool)
    upright[2 : 3 * n : 3] = True
    for k, unknown in enumerate(network.further):
        upright[3 * n + k] = unknown.what in ("water level", "offset")
    state = network.given.copy()
    heights = np.where(network.held[2 : 3 * n : 3], state[2 : 3 * n : 3], np.nan)
    allowed = upright.copy()
    allowed[-1] = True
    part = network.pick(network.touches(allowed))
    touched = np.zeros(len(state), dtype=bool)
    pairs: list[tuple[int, int]] = []
    ground = len(state) - 1
    for group in part.groups:
        touched[group.columns.ravel()] = True
        pairs.extend((int(row[0]), int(c)) for row in group.columns for c in row[1:] if c != ground)
        if group.equation in ("coordinate", "depth"):
            pairs.extend((int(row[0]), ground) for row in group.columns if (row[1:2] == ground).all())
    pairs.extend((int(c), ground) for c in np.flatnonzero(network.held & upright))
    free = np.flatnonzero(touched & upright & ~network.held)
    if len(free) == 0:
        return heights, state
    problem = FreeProblem(part, state, free)
    found = damped(problem, state[free], NormalSteps(), Stop(most=30, shake=1e-6), Huber())
    state = problem.state(found.x)
    links = np.array(pairs, dtype=np.int64).reshape(-1, 2)
    size = len(state)
    graph = csr_array((np.ones(len(links)), (links[:, 0], links[:, 1])), shape=(size, size))
    _, label = connected_components(graph, directed=False)
    marks = np.flatnonzero((touched | network.held)[2 : 3 * n : 3])
    labels = label[3 * marks + 2]
    if len(marks):
        kept = marks[labels == np.bincount(labels).argmax()]
        heights = np.full(n, np.nan)
        heights[kept] = state[3 * kept + 2]
    return heights, state
