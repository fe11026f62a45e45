"""Is a point inside a mesh? Counted by the surfaces a slanting ray leaves and enters on its way up."""

from __future__ import annotations

import numpy as np

from oakum.ground.solids.dims import FloatArray, IntArray
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.solid import check_points

_PAIRS = 2_000_000
# The ray leans by no simple fraction, so upright faces and straight rows of vertices are not met edge on.
_LEAN = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [-0.0717390, -0.0523178, 1.0]])


def winding_number(mesh: Mesh, points: FloatArray) -> IntArray:
    """Return how often the mesh encloses each of points (k, 3): 0 outside, 1 inside, 2 where bodies overlap.

    A point on the surface itself may come out either way.
    """
    return windings(mesh.vertices[mesh.faces], check_points(points))


def windings(corners: FloatArray, points: FloatArray) -> IntArray:
    """Return the same for bare triangles (m, 3, 3) of a closed surface; below 0 where it is turned inward."""
    return np.rint(_summed(corners @ _LEAN, points @ _LEAN)).astype(np.int64)


def _summed(corners: FloatArray, points: FloatArray) -> FloatArray:
    """Return the passes of the upward ray from each point, summed over triangles (k,), in chunks."""
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    order = np.argsort(points[:, 1], kind="stable")
    p = points[order]
    # Only points between a triangle's lowest and highest y can lie under it.
    low, high = corners.min(axis=1), corners.max(axis=1)
    first = np.searchsorted(p[:, 1], low[:, 1], side="left")
    counts = np.searchsorted(p[:, 1], high[:, 1], side="left") - first
    ends = np.cumsum(counts)
    total = np.zeros(len(p))
    start = 0
    while start < len(counts):
        done = int(ends[start - 1]) if start else 0
        stop = max(start + 1, int(np.searchsorted(ends, done + _PAIRS, side="right")))
        part = counts[start:stop]
        triangle = np.repeat(np.arange(start, stop), part)
        step = np.arange(len(triangle)) - np.repeat(ends[start:stop] - part - done, part)
        point = first[triangle] + step
        x, z = p[point, 0], p[point, 2]
        near = (x >= low[triangle, 0]) & (x <= high[triangle, 0]) & (z <= high[triangle, 2])
        triangle, point = triangle[near], point[near]
        passes = _passes(corners[triangle], normals[triangle], p[point])
        total += np.bincount(point, passes, minlength=len(p))
        start = stop
    result = np.empty(len(p))
    result[order] = total
    return result


def _passes(corners: FloatArray, normals: FloatArray, points: FloatArray) -> FloatArray:
    """Return per pair (q,) +1 where the upward ray leaves by the triangle, -1 where it enters, or 0."""
    turns = np.zeros(len(points))
    for a, b in ((0, 1), (1, 2), (2, 0)):
        start, end = corners[:, a], corners[:, b]
        up = (start[:, 1] <= points[:, 1]) & (end[:, 1] > points[:, 1])
        down = (end[:, 1] <= points[:, 1]) & (start[:, 1] > points[:, 1])
        # Always from the lower to the higher end: neighbours then agree to the last bit on their edge.
        low, high = np.where(up[:, None], start, end), np.where(up[:, None], end, start)
        left = (high[:, 0] - low[:, 0]) * (points[:, 1] - low[:, 1]) > (
            (high[:, 1] - low[:, 1]) * (points[:, 0] - low[:, 0])
        )
        turns += np.where(left, up.astype(float) - down, 0.0)
    under = turns * np.einsum("ij,ij->i", corners[:, 0] - points, normals) > 0
    return np.where(under, turns, 0.0)
