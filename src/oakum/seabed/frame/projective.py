"""Affine and projective fits in the plane, as matrices for homogeneous coordinates.

The projective one is the direct linear transformation on normalised coordinates (Hartley 1997, IEEE Trans. PAMI 19,
580-593; memory, verify). It holds for a plane only: what stands up from it is displaced towards the edge.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.frame.errors import FrameError

Array = NDArray[np.float64]
ON_LINE = 0.01
"""Points count as lying on one line where they leave it by less than this part of their spread (own choice)."""


def apply(matrix: Array, points: Array) -> Array:
    """Carry points (n, 2) over by a (3, 3) matrix."""
    held = np.asarray(points, dtype=float)
    carried = held @ matrix[:2, :2].T + matrix[:2, 2]
    depth = held @ matrix[2, :2] + matrix[2, 2]
    made: Array = carried / depth[:, None]
    return made


def fit_affine(source: Array, target: Array) -> Array:
    """Fit the six numbers of an affinity by least squares; three points or more, not on one line."""
    x, y = np.asarray(source, dtype=float), np.asarray(target, dtype=float)
    middle = x.mean(axis=0)
    design = np.column_stack((x - middle, np.ones(len(x))))
    found, _, rank, _ = np.linalg.lstsq(design, y - y.mean(axis=0), rcond=None)
    if rank < 3:
        raise FrameError("The control points lie on one line; give one away from it.")
    made = np.eye(3)
    made[:2, :2] = found[:2].T
    made[:2, 2] = y.mean(axis=0) + found[2] - found[:2].T @ middle
    return made


def fit_projective(source: Array, target: Array) -> Array:
    """Fit the eight numbers of a projectivity: exact for four points, least squares of the algebraic error for more."""
    x, y = np.asarray(source, dtype=float), np.asarray(target, dtype=float)
    to_x, to_y = _normal(x), _normal(y)
    u, v = apply(to_x, x), apply(to_y, y)
    rows = []
    for (a, b), (p, q) in zip(u, v, strict=True):
        rows.append((-a, -b, -1, 0, 0, 0, a * p, b * p, p))
        rows.append((0, 0, 0, -a, -b, -1, a * q, b * q, q))
    _, values, vt = np.linalg.svd(np.array(rows))
    if values[7] < 1e-9 * values[0]:
        raise FrameError(
            "These control points settle no projective fit: give four marks or more, no three of them on one line."
        )
    inner = vt[-1].reshape(3, 3)
    made = np.linalg.inv(to_y) @ inner @ to_x
    if abs(made[2, 2]) < 1e-12 * np.abs(made).max():
        raise FrameError("The control points put the corner of the picture at infinity; two of them may be swapped.")
    found: Array = made / made[2, 2]
    return found


def _normal(points: Array) -> Array:
    """Return what moves the points to a middle of nought and a mean distance of the square root of two."""
    middle = points.mean(axis=0)
    far = float(np.mean(np.hypot(*(points - middle).T)))
    if far <= 0:
        raise FrameError("The control points all lie in one place.")
    s = np.sqrt(2.0) / far
    return np.array([[s, 0, -s * middle[0]], [0, s, -s * middle[1]], [0, 0, 1.0]])


def off_line(points: Array) -> float:
    """Return how far points leave their best line, as a part of their spread along it: 0 on a line, to 1."""
    values = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    return float(values[-1] / values[0]) if values[0] > 0 else 0.0


def on_one_line(points: Array, need: int) -> tuple[int, ...]:
    """Return the first `need` or more points that lie on one line, as indices; empty where there are none."""
    for i, j in combinations(range(len(points)), 2):
        along = points[j] - points[i]
        long = float(np.hypot(*along))
        if long == 0:
            continue
        away = np.abs((points - points[i]) @ np.array([-along[1], along[0]])) / long
        spread = float(np.hypot(*np.ptp(points, axis=0)))
        held = tuple(int(k) for k in np.flatnonzero(away < ON_LINE * spread))
        if len(held) >= need:
            return held
    return ()
