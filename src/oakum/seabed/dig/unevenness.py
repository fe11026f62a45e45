"""How uneven a bed is between its levels, told by leaving each level out in turn."""

from __future__ import annotations

from math import fsum, sqrt

import numpy as np
from scipy.spatial import Delaunay

from oakum.seabed.dig.outline import Array
from oakum.seabed.dig.surface import Surface
from oakum.seabed.dig.triangles import Indices

LEAST_INSIDE = 3
MOST_TRIED = 60
NEAREST = 40


def unevenness_m(held: Surface, sd_m: float) -> float | None:
    """Return the sd by which a level departs from the plane between its neighbours, beyond its own noise.

    Each place inside the hull is predicted from the others; the mean square of what is missed, less what levels
    of `sd_m` would miss on a plane bed, is the square of the answer. Neighbours are then further apart than they
    are in the surface itself, so it errs to the wide side. None with fewer than three places inside the hull.
    """
    order = np.lexsort(held.nodes[: held.read].T)  # so that the order of the list plays no part
    nodes, heights = held.nodes[order], held.z_m[order]
    if held.read < LEAST_INSIDE + 3:
        return None
    hull = set(np.unique(Delaunay(nodes - nodes.mean(axis=0)).convex_hull).tolist())
    inside = [i for i in range(held.read) if i not in hull]
    if len(inside) < LEAST_INSIDE:
        return None
    step = max(1, len(inside) // MOST_TRIED)
    missed, noise = [], []
    for index in inside[::step]:
        away = np.sum((nodes - nodes[index]) ** 2, axis=1)
        others = np.argsort(away, kind="stable")[
            1 : NEAREST + 1
        ]  # the plane between neighbours needs no more
        found = _plane_at(nodes[others], nodes[index])
        if found is None:
            continue
        corners, weights = found
        missed.append(float(heights[index] - np.sum(weights * heights[others[corners]])) ** 2)
        noise.append(1.0 + float(np.sum(weights**2)))
    if len(missed) < LEAST_INSIDE:
        return None
    return sqrt(max(0.0, fsum(missed) - sd_m**2 * fsum(noise)) / len(missed))


def _plane_at(nodes: Array, at: Array) -> tuple[Indices, Array] | None:
    """Return the corners of the triangle round a place and their weights there, None beyond all."""
    corners = np.array(Delaunay(nodes - at).simplices, dtype=np.intp)
    a, b, c = (nodes[corners[:, k]] - at for k in range(3))
    first, second, third = (p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1] for p, q in ((b, c), (c, a), (a, b)))
    whole = first + second + third
    with np.errstate(divide="ignore", invalid="ignore"):
        weights = np.nan_to_num(np.stack([first, second, third], axis=1) / whole[:, None], nan=-1.0)
    best = int(np.argmax(weights.min(axis=1)))
    return (corners[best], weights[best]) if weights[best].min() >= -1e-9 else None
