"""Laying one set of points on another: a turn and a shift, no change of size, no mirror unless asked for."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def rigid(
    source: Array, target: Array, weight: Array | None = None, mirror: bool = False
) -> tuple[Array, Array]:
    """Turn R and shift t with R s + t nearest to the target, points in rows, any dimension.

    With `mirror` the answer has determinant -1. By singular values (Umeyama 1991; memory, verify).
    """
    w = np.ones(len(source)) if weight is None else weight
    total = max(float(w.sum()), 1e-300)
    mean_s, mean_t = (w @ source) / total, (w @ target) / total
    cross = (target - mean_t).T @ ((source - mean_s) * w[:, None])
    u, _, v = np.linalg.svd(cross)
    sign = np.eye(len(cross))
    sign[-1, -1] = np.sign(np.linalg.det(u) * np.linalg.det(v)) * (-1.0 if mirror else 1.0)
    turn = u @ sign @ v
    return turn, mean_t - turn @ mean_s


def scaling(distances: Array, dimensions: int) -> Array:
    """Places whose distances are nearest to these (n, n), by classical scaling (Torgerson 1952; memory, verify)."""
    n = len(distances)
    square = distances**2
    centred = square - square.mean(axis=0) - square.mean(axis=1)[:, None] + square.mean()
    values, vectors = np.linalg.eigh(-0.5 * centred)
    order = np.argsort(values)[::-1][:dimensions]
    places = vectors[:, order] * np.sqrt(np.maximum(values[order], 0.0))
    if places.shape[1] < dimensions:
        places = np.hstack([places, np.zeros((n, dimensions - places.shape[1]))])
    return np.asarray(places)
