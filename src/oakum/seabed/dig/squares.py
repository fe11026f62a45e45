"""Volume from depths on a regular grid: each cell stands on the mean of its four corners."""

from __future__ import annotations

from math import sqrt

import numpy as np
from numpy.typing import ArrayLike

from oakum.ground.estimate import Spread
from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.outline import Array
from oakum.seabed.dig.width import Part, spread_from


def grid_weights(shape: tuple[int, int], cell_m2: float) -> Array:
    """Return what each depth counts, in m2: a quarter cell for every cell it is a corner of."""
    rows, columns = shape
    if rows < 2 or columns < 2 or not cell_m2 > 0.0:
        raise DigError("a grid needs at least two rows and two columns of depths, and cells with an area")
    across = np.full(columns, 2.0)
    along = np.full(rows, 2.0)
    across[[0, -1]] = along[[0, -1]] = 1.0
    return np.asarray(np.outer(along, across) * (0.25 * cell_m2))


def grid_spread(depths_m: ArrayLike, cell_m2: float, *, sd_m: float, bias_sd_m: float = 0.0) -> Spread:
    """Return the volume under dug depths (rows, columns) with its width.

    `sd_m` is the random sd of one dug depth (root 2 times that of a level read before and after alike),
    `bias_sd_m` that of what all depths share. A cell with a depth that is not known is refused, never filled.
    """
    depths = np.asarray(depths_m, dtype=np.float64)
    if depths.ndim != 2 or not np.all(np.isfinite(depths)):
        raise DigError("every crossing of the grid needs its depth; use the triangles where some are missing")
    weights = grid_weights((depths.shape[0], depths.shape[1]), cell_m2)
    parts = [
        Part("levels, each by itself", sd_m * sqrt(float(np.sum(weights**2)))),
        Part("what all levels share", bias_sd_m * float(np.sum(weights))),
    ]
    return spread_from(float(np.sum(weights * depths)), [p for p in parts if p.sd > 0.0], "m3")
