"""Triangles between places in plan, the same whichever way the places are listed or turned."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Delaunay

from oakum.seabed.dig.outline import Array

Indices = NDArray[np.intp]
_ON_CIRCLE = 1e-6


def triangles_between(nodes: Array) -> tuple[Indices, tuple[tuple[int, ...], ...]]:
    """Return Delaunay triangles (k, 3), anticlockwise, and the cells that they leave undecided.

    Four or more places on one circle (the corners of a square, a grid) have no one set of triangles: which
    diagonal is drawn would hang on the order of the list. Such places are given back as cells, each the corners
    of a convex polygon in order round it, to be filled by a fan from their mean, and none of the triangles lies
    in them.
    """
    net = Delaunay(nodes - nodes.mean(axis=0))
    found = np.array(net.simplices, dtype=np.intp)
    a, b, c = (nodes[found[:, k]] for k in range(3))
    twice = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    real = np.abs(twice) > 1e-9
    group = _groups(nodes, found, np.array(net.neighbors, dtype=np.intp), real)
    found[twice < 0] = found[twice < 0][:, ::-1]
    labels, counts = np.unique(group[real], return_counts=True)
    cells = []
    for label in labels[counts > 1]:
        corners = np.unique(found[real & (group == label)])
        away = nodes[corners] - nodes[corners].mean(axis=0)
        cells.append(tuple(int(i) for i in corners[np.argsort(np.arctan2(away[:, 1], away[:, 0]))]))
    alone = real & np.isin(group, labels[counts == 1])
    return found[alone], tuple(cells)


def fan(cell: tuple[int, ...], centre: int) -> list[tuple[int, int, int]]:
    """Return the triangles from a cell's centre to its sides, anticlockwise."""
    return [(a, b, centre) for a, b in pairwise((*cell, cell[0]))]


def _groups(nodes: Array, found: Indices, neighbours: Indices, real: NDArray[np.bool_]) -> Indices:
    """Give triangles that share one circle the same label."""
    centre, radius = _circles(nodes[found])
    group = np.arange(len(found), dtype=np.intp)

    def root(i: int) -> int:
        while group[i] != i:
            group[i] = group[group[i]]
            i = int(group[i])
        return i

    for side in range(3):
        other = neighbours[:, side]
        held = np.flatnonzero((other >= 0) & real)
        held = held[real[other[held]] & (other[held] > held)]
        for i in held:
            j = int(other[i])
            far = next(int(k) for k in found[j] if k not in found[i])
            away = float(np.hypot(*(nodes[far] - centre[i])))
            if abs(away - radius[i]) <= _ON_CIRCLE * radius[i]:
                group[root(j)] = root(int(i))
    return np.array([root(i) for i in range(len(found))], dtype=np.intp)


def _circles(corners: Array) -> tuple[Array, Array]:
    """Centres (k, 2) and radii (k,) of the circles through triangles (k, 3, 2); infinite for flat ones."""
    start = corners[:, 0]
    u, v = corners[:, 1] - start, corners[:, 2] - start
    d = 2.0 * (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])
    uu, vv = np.sum(u * u, axis=1), np.sum(v * v, axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        x = (v[:, 1] * uu - u[:, 1] * vv) / d
        y = (u[:, 0] * vv - v[:, 0] * uu) / d
    away = np.stack([x, y], axis=1)
    return start + away, np.asarray(np.hypot(x, y))
