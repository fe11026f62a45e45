"""A fine mesh made coarse enough to be turned in a page; nothing is ever computed from the coarse one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Faces = NDArray[np.int64]


def coarser(vertices: Array, faces: Faces, most: int) -> tuple[Array, Faces]:
    """Return a mesh of at most `most` triangles: vertices (n, 3) in one cell of a grid become their mean.

    A mesh that is small enough comes back as it is. The grid is 128 cells along the longest side, or as many
    fewer as it takes; triangles that fall together are dropped, so a thin wall may lose its inside.
    """
    cells = 128.0
    found = vertices, faces
    while len(found[1]) > most:
        found = _clustered(vertices, faces, cells)
        cells *= 0.8
    return found


def _clustered(vertices: Array, faces: Faces, cells: float) -> tuple[Array, Faces]:
    low = vertices.min(axis=0)
    side = float(np.ptp(vertices, axis=0).max()) / cells or 1.0
    keys = np.floor((vertices - low) / side).astype(np.int64)
    _, cell = np.unique(keys, axis=0, return_inverse=True)
    cell = cell.reshape(-1)
    counts = np.bincount(cell).astype(np.float64)
    middle = np.column_stack([np.bincount(cell, vertices[:, axis]) / counts for axis in range(3)])
    corners = cell[faces]
    kept = corners[
        (corners[:, 0] != corners[:, 1]) & (corners[:, 1] != corners[:, 2]) & (corners[:, 2] != corners[:, 0])
    ]
    _, first = np.unique(np.sort(kept, axis=1), axis=0, return_index=True)
    return middle, kept[np.sort(first)]
