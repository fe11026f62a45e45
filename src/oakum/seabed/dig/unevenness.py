"""How uneven a bed is between its levels, told by leaving each level out in turn."""

from __future__ import annotations

from math import fsum, sqrt

import numpy as np
from scipy.spatial import Delaunay

from oakum.seabed.dig.surface import Surface

LEAST_INSIDE = 3
MOST_TRIED = 60


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
        others = np.delete(np.arange(held.read), index)
        triangles = Delaunay(nodes[others])
        found = int(triangles.find_simplex(nodes[index]))
        if found < 0:
            continue
        transform = triangles.transform[found]
        share = transform[:2] @ (nodes[index] - transform[2])
        weights = np.append(share, 1.0 - share.sum())
        corners = others[triangles.simplices[found]]
        missed.append(float(heights[index] - weights @ heights[corners]) ** 2)
        noise.append(1.0 + float(weights @ weights))
    if len(missed) < LEAST_INSIDE:
        return None
    return sqrt(max(0.0, fsum(missed) - sd_m**2 * fsum(noise)) / len(missed))
