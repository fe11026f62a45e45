"""The site's own grid tied to a map grid by a plane similarity: scale held to the projection's, or freed and shown.

A metre of tape is `k` metres of a projected grid, k being the point scale of the projection.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.frame.errors import FrameError
from oakum.seabed.frame.similarity import Similarity, fit_similarity

Array = NDArray[np.float64]
SIGMAS = 3.0


@dataclass(frozen=True, slots=True)
class GridControl:
    """A mark with its place on the site and in the map grid, in metres."""

    mark: str
    x_m: float
    y_m: float
    east_m: float
    north_m: float


@dataclass(frozen=True, slots=True)
class GridResidual:
    """What the fit leaves at a control mark (fit less given), and what it would miss it by without it."""

    mark: str
    de_m: float
    dn_m: float
    left_out_m: float | None


@dataclass(frozen=True, slots=True, eq=False)
class GridFit:
    """Site to map grid. `scale` is used; `free_scale` what the marks alone would say, with its sd (None: unknown).

    `turn_deg` is the bearing of site north from grid north. `rms_m` None: unchecked, there is no residual.
    """

    scale: float
    held: bool
    free_scale: float | None
    free_scale_sd: float | None
    turn_deg: float
    residuals: tuple[GridResidual, ...]
    rms_m: float | None
    cautions: tuple[str, ...]
    _fit: Similarity
    _site: Array
    _grid: Array

    def to_grid(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Return the east and north in the map grid of a place on the site."""
        found = self._fit.apply(np.array([[x_m, y_m]]) - self._site)[0] + self._grid
        return (float(found[0]), float(found[1]))


def fit_grid(control: Sequence[GridControl], *, scale: float | None) -> GridFit:
    """Fit the site to a map grid; `scale` holds the scale (the projection's k), None frees it.

    `FrameError` with fewer than two marks (three to free the scale and check it), a mark named twice, or marks that
    fit only as a mirror image.
    """
    names = [c.mark for c in control]
    if len(set(names)) < len(names):
        raise FrameError("A control mark is named twice; keep one of them.")
    if len(control) < 2:
        raise FrameError(
            "Two marks with known map coordinates are needed at least, and three before anything checks them."
        )
    site = np.array([(c.x_m, c.y_m) for c in control], dtype=float)
    grid = np.array([(c.east_m, c.north_m) for c in control], dtype=float)
    # Map coordinates are millions of metres: count both from the middle, or digits are lost.
    middle, away = site.mean(axis=0), grid.mean(axis=0)
    x, y = site - middle, grid - away
    if float(np.hypot(*np.ptp(x, axis=0))) <= 0 or float(np.hypot(*np.ptp(y, axis=0))) <= 0:
        raise FrameError("The control marks lie in one place; give marks that are apart.")
    fit = fit_similarity(x, y, scale=scale)
    if len(control) >= 3 and fit.is_mirrored:
        raise FrameError(
            f"The map coordinates fit the mirror image of the site (rms {fit.mirror_rms:.3f} m against "
            f"{fit.rms:.3f} m): east and north may be swapped, or two marks are."
        )
    left = fit.apply(x) - y
    spare = 2 * len(control) - (3 if scale is not None else 4)
    free, sd = _free_scale(x, y)
    residuals = tuple(
        GridResidual(c.mark, float(e), float(n), _without(x, y, i, scale))
        for i, (c, (e, n)) in enumerate(zip(control, left, strict=True))
    )
    turn = (-fit.turn_deg) % 360.0
    return GridFit(
        fit.scale,
        scale is not None,
        free,
        sd,
        turn,
        residuals,
        math.sqrt(float(np.mean(np.sum(left**2, axis=1)))) if spare > 0 else None,
        _cautions(len(control), scale, free, sd),
        fit,
        middle,
        away,
    )


def _free_scale(x: Array, y: Array) -> tuple[float, float | None]:
    """The scale the marks alone say, and its sd from their residuals (None with two marks)."""
    fit = fit_similarity(x, y)
    freedom = 2 * len(x) - 4
    if freedom <= 0:
        return fit.scale, None
    variance = len(x) * fit.rms**2 / freedom
    return fit.scale, math.sqrt(variance / float(np.sum((x - x.mean(axis=0)) ** 2)))


def _without(x: Array, y: Array, index: int, scale: float | None) -> float | None:
    if len(x) < 3:
        return None
    keep = np.arange(len(x)) != index
    try:
        fit = fit_similarity(x[keep], y[keep], scale=scale)
    except FrameError:
        return None
    return float(np.hypot(*(fit.apply(x[~keep]) - y[~keep])[0]))


def _cautions(count: int, held: float | None, free: float, sd: float | None) -> tuple[str, ...]:
    said = []
    if count == 2:
        said.append(
            "two control marks: direction and place are unchecked"
            + (", only their distance is" if held is not None else " and so is the scale")
        )
    wanted = 1.0 if held is None else held
    if held is not None and sd is not None and abs(free - wanted) > max(SIGMAS * sd, 1e-6):
        said.append(
            f"the marks alone give a scale of {free:.6f} (sd {sd:.6f}), {1e6 * (free / wanted - 1):+.0f} millionths "
            "from the projection's: a tape of wrong length, or a wrong map coordinate"
        )
    if held is not None and sd is None and abs(free / wanted - 1) > 0.002:
        said.append(
            f"the distance of the two marks differs by {1000 * (free / wanted - 1):+.1f} parts in a thousand between "
            "site and map"
        )
    return tuple(said)
