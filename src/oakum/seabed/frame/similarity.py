"""The similarity that lays one set of points on another in two or three dimensions, never a mirror image.

Umeyama (1991, IEEE Trans. PAMI 13, 376-380; memory, verify): the rotation is U S V' of the cross-covariance, where S
keeps its determinant at +1.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.frame.errors import FrameError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Similarity:
    """y = scale * rotation @ x + shift. `mirror_rms` is what the mirror image would leave, `rms` what this leaves."""

    scale: float
    rotation: Array
    shift: Array
    rms: float
    mirror_rms: float

    def apply(self, points: Array) -> Array:
        """Carry points (n, d) over."""
        carried: Array = self.scale * np.asarray(points, dtype=float) @ self.rotation.T + self.shift
        return carried

    @property
    def turn_deg(self) -> float:
        """The turn in two dimensions, anticlockwise, 0 to 360."""
        return math.degrees(math.atan2(float(self.rotation[1, 0]), float(self.rotation[0, 0]))) % 360.0

    @property
    def is_mirrored(self) -> bool:
        """Whether the mirror image would fit much better: less than half the residual."""
        return self.mirror_rms < 0.5 * self.rms

    def matrix(self) -> Array:
        """The same as a matrix for homogeneous coordinates, (d+1, d+1)."""
        d = len(self.shift)
        made = np.eye(d + 1)
        made[:d, :d] = self.scale * self.rotation
        made[:d, d] = self.shift
        return made


def fit_similarity(
    source: Array, target: Array, *, weights: Array | None = None, scale: float | None = None
) -> Similarity:
    """Fit target = scale * R @ source + shift by least squares, proper rotations only.

    `source`, `target` (n, d), d 2 or 3, n >= d; `weights` (n,) positive; `scale` holds the scale, None frees it.
    `FrameError` where the points settle no turn.
    """
    x, y = np.asarray(source, dtype=float), np.asarray(target, dtype=float)
    w = np.ones(len(x)) if weights is None else np.asarray(weights, dtype=float)
    w = w / w.sum()
    middle_x, middle_y = w @ x, w @ y
    dx, dy = x - middle_x, y - middle_y
    spread = float(w @ np.einsum("ij,ij->i", dx, dx))
    u, values, vt = np.linalg.svd((dy * w[:, None]).T @ dx)
    d = x.shape[1]
    if spread <= 0 or values[0] <= 0 or (d == 3 and values[1] <= 1e-9 * values[0]):
        raise FrameError(
            "The control points lie in one place or on one line, so no turn can be fitted; give points apart."
        )
    sign = float(np.sign(np.linalg.det(u) * np.linalg.det(vt))) or 1.0
    keep = np.ones(d)
    keep[-1] = sign
    turned = u @ np.diag(keep) @ vt
    size = float(values @ keep) / spread if scale is None else scale
    shift = middle_y - size * turned @ middle_x
    spread_y = float(w @ np.einsum("ij,ij->i", dy, dy))
    other = keep.copy()
    other[-1] = -sign
    return Similarity(
        size,
        turned,
        shift,
        _left(spread, spread_y, float(values @ keep), scale),
        _left(spread, spread_y, float(values @ other), scale),
    )


def _left(spread_x: float, spread_y: float, trace: float, scale: float | None) -> float:
    """The root mean square residual, from the spreads and the trace of the fit."""
    size = trace / spread_x if scale is None else scale
    return math.sqrt(max(spread_y - 2 * size * trace + size * size * spread_x, 0.0))
