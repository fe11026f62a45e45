"""Where one mark can lie, from tapes to marks that have a place: all candidates, best first."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

CAP_M = 1.0
"""A tape that misses by more counts as this much: one misread tape must not choose the place."""

APART_M = 0.3
"""Candidates nearer than this are one place; the adjustment settles the rest."""


def _crossings(centres: Array, radii: Array) -> Array:
    """Crossings in the plane of every two circles (k, 2), both of each; where they miss, the point between."""
    i, j = np.array(list(combinations(range(len(radii)), 2))).T
    line = centres[j] - centres[i]
    distance = np.maximum(np.hypot(line[:, 0], line[:, 1]), 1e-6)
    u = line / distance[:, None]
    x = (radii[i] ** 2 - radii[j] ** 2 + distance**2) / (2.0 * distance)
    y = np.sqrt(np.maximum(radii[i] ** 2 - x**2, 0.0))
    foot = centres[i] + u * x[:, None]
    n = np.column_stack([-u[:, 1], u[:, 0]]) * y[:, None]
    return np.vstack([foot + n, foot - n])


def _spheres(centres: Array, radii: Array) -> Array:
    """Crossings of every three spheres (k, 3), both of each; where they miss, the foot in the plane."""
    i, j, k = np.array(list(combinations(range(len(radii)), 3))).T
    first = centres[j] - centres[i]
    d = np.maximum(np.linalg.norm(first, axis=1), 1e-6)
    ex = first / d[:, None]
    second = centres[k] - centres[i]
    along = np.einsum("ij,ij->i", ex, second)
    rest = second - along[:, None] * ex
    across = np.linalg.norm(rest, axis=1)
    good = across > 0.05 * d
    i, j, k, ex, d, along, across = (v[good] for v in (i, j, k, ex, d, along, across))
    ey = rest[good] / across[:, None]
    ez = np.cross(ex, ey)
    x = (radii[i] ** 2 - radii[j] ** 2 + d**2) / (2.0 * d)
    y = (radii[i] ** 2 - radii[k] ** 2 + along**2 + across**2 - 2.0 * along * x) / (2.0 * across)
    z = np.sqrt(np.maximum(radii[i] ** 2 - x**2 - y**2, 0.0))
    foot = centres[i] + ex * x[:, None] + ey * y[:, None]
    return np.vstack([foot + ez * z[:, None], foot - ez * z[:, None]])


def _spread_out(anchors: Array, most: int) -> Ints:
    """Indices of up to `most` anchors far from each other."""
    if len(anchors) <= most:
        return np.arange(len(anchors))
    chosen = [int(np.argmax(np.linalg.norm(anchors - anchors.mean(axis=0), axis=1)))]
    nearest = np.linalg.norm(anchors - anchors[chosen[0]], axis=1)
    while len(chosen) < most:
        chosen.append(int(np.argmax(nearest)))
        nearest = np.minimum(nearest, np.linalg.norm(anchors - anchors[chosen[-1]], axis=1))
    return np.array(chosen, dtype=np.int64)


def ranked(places: Array, anchors: Array, distances: Array) -> list[tuple[float, Array]]:
    """Candidates with the sum of their misses (each capped), the best first, those nearly alike dropped."""
    lengths = np.linalg.norm(places[:, None, :] - anchors[None, :, :], axis=2)
    misses = np.minimum(np.abs(lengths - distances), CAP_M).sum(axis=1)
    kept: list[tuple[float, Array]] = []
    for index in np.argsort(misses, kind="stable"):
        if all(np.linalg.norm(places[index] - other) > APART_M for _, other in kept):
            kept.append((float(misses[index]), places[index]))
            if len(kept) == 2:
                break
    return kept


def candidates(anchors: Array, distances: Array, z_m: float | None) -> list[tuple[float, Array]]:
    """Where a mark may lie: with its height known from two tapes on, without from three on; best first."""
    if z_m is not None and len(distances) >= 2:
        rise = z_m - anchors[:, 2]
        flat = np.sqrt(np.maximum(distances**2 - rise**2, 0.0))
        use = _spread_out(anchors[:, :2], 6)
        level = _crossings(anchors[use, :2], flat[use])
        return ranked(np.column_stack([level, np.full(len(level), z_m)]), anchors, distances)
    if len(distances) >= 3:
        use = _spread_out(anchors, 5)
        places = _spheres(anchors[use], distances[use])
        if len(places):
            return ranked(places, anchors, distances)
    return []
