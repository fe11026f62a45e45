"""Is a triangle surface closed and consistently turned? Counted on its directed edges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.ground.solids.dims import IntArray


@dataclass(frozen=True, slots=True)
class EdgeFaults:
    """Edges that keep a surface from enclosing a volume; each a row of two vertex numbers (k, 2)."""

    open: IntArray  # belong to an odd number of triangles: the surface ends there
    clashing: (
        IntArray  # belong to an even number, but run the same way in too many: a triangle is turned over
    )


def edge_faults(faces: IntArray) -> EdgeFaults:
    """Return the open and the clashing edges of triangles `faces` (m, 3).

    Signed-tetrahedron sums are exact when every edge is walked as often one way as the other. Bodies that
    touch along an edge (four triangles on it) pass; a hole or a turned triangle does not.
    """
    start = faces.ravel()
    end = np.roll(faces, -1, axis=1).ravel()
    low, high = np.minimum(start, end), np.maximum(start, end)
    span = int(faces.max()) + 1
    key, position, uses = np.unique(low * span + high, return_inverse=True, return_counts=True)
    balance = np.bincount(position, weights=np.where(start < end, 1.0, -1.0), minlength=len(key))
    faulty = balance != 0
    odd = uses % 2 == 1
    edges = np.column_stack((key // span, key % span))
    return EdgeFaults(open=edges[faulty & odd], clashing=edges[faulty & ~odd])
