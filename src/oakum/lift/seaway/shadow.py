"""What a body shows from below: its plan area, how open the plan is, how long and how broad.

A grid of points is looked at from below, each with the triangles over it; a shape with sides along the grid is exact,
a round one good to about 0.2 %, a thin ring to 1 % (own calculation).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import Mesh

Array = NDArray[np.float64]

_GRID = 200
_AT_ONCE = 4_000_000


@dataclass(frozen=True, slots=True)
class Shadow:
    """The plan of a body. `area_m2` covered, `hull_m2` within the outline drawn tight round it.

    `long_m`, `broad_m`: sides of the smallest rectangle round it, the longer first.
    """

    area_m2: float
    hull_m2: float
    long_m: float
    broad_m: float

    @property
    def open_percent(self) -> float:
        """How much of the outline is open."""
        return 100.0 * max(1.0 - self.area_m2 / self.hull_m2, 0.0)

    @property
    def fills(self) -> float:
        """Share of the smallest rectangle that the outline fills: 1 a rectangle, pi/4 an ellipse."""
        return min(self.hull_m2 / (self.long_m * self.broad_m), 1.0)


def shadow(meshes: Sequence[Mesh]) -> Shadow:
    """Return the plan of meshes together; they must cover some area."""
    points = np.concatenate([m.vertices[:, :2] for m in meshes])
    ring = _outline(points)
    hull = 0.5 * abs(float(np.sum(ring[:, 0] * np.roll(ring[:, 1], -1) - ring[:, 1] * np.roll(ring[:, 0], -1))))
    long, broad = _rectangle(ring)
    return Shadow(min(covered_m2(meshes), hull), hull, long, broad)


def reach_m(meshes: Sequence[Mesh]) -> float:
    """Return the greatest level distance between two points of meshes."""
    ring = _outline(np.concatenate([m.vertices[:, :2] for m in meshes]))
    return float(np.max(np.linalg.norm(ring[:, None] - ring[None], axis=2)))


def covered_m2(meshes: Sequence[Mesh], grid: int = _GRID) -> float:
    """Return the plan area that meshes cover, what lies over each other once."""
    points = np.concatenate([m.vertices[:, :2] for m in meshes])
    low = points.min(axis=0)
    cell = np.ptp(points, axis=0) / grid
    hit = np.zeros((grid, grid), dtype=bool)
    for mesh in meshes:
        corners = (mesh.vertices[mesh.faces][:, :, :2] - low) / cell - 0.5
        a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
        turn = _cross(b - a, c - a)
        below = turn < -1e-12  # a triangle seen from below; a closed mesh has one under every one above
        _fill(hit, corners[below])
    return float(hit.mean() * np.prod(cell) * grid**2)


def _fill(hit: NDArray[np.bool_], corners: Array) -> None:
    """Mark the grid points, at whole numbers, that lie in triangles (m, 3, 2)."""
    top = len(hit) - 1
    first = np.clip(np.ceil(corners.min(axis=1) - 1e-9), 0, top + 1).astype(np.int64)
    last = np.clip(np.floor(corners.max(axis=1) + 1e-9), -1, top).astype(np.int64)
    size = np.maximum(last - first + 1, 0)
    number = size[:, 0] * size[:, 1]
    keep = number > 0
    corners, first, size, number = corners[keep], first[keep], size[keep], number[keep]
    ends = np.cumsum(number)
    begin = 0
    while begin < len(number):
        so_far = ends[begin - 1] if begin else 0
        end = max(int(np.searchsorted(ends, so_far + _AT_ONCE)), begin + 1)
        which = np.repeat(np.arange(begin, end), number[begin:end])
        within = np.arange(len(which)) - np.repeat(ends[begin:end] - number[begin:end] - so_far, number[begin:end])
        i = first[which, 0] + within // size[which, 1]
        j = first[which, 1] + within % size[which, 1]
        at = np.column_stack([i, j]).astype(np.float64)
        a, b, c = (corners[which, k] for k in range(3))
        inside = np.ones(len(which), dtype=bool)
        for p, q in ((a, b), (b, c), (c, a)):
            inside &= _cross(q - p, at - p) <= 1e-9
        hit[i[inside], j[inside]] = True
        begin = end


def _cross(a: Array, b: Array) -> Array:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _outline(points: Array) -> Array:
    """Return the corners of the outline drawn tight round points, in order."""
    from scipy.spatial import ConvexHull, QhullError  # slow to load, and not every plan asks

    try:
        return np.asarray(points[ConvexHull(points).vertices])
    except QhullError as error:
        raise ValueError("a body without plan area has no shadow") from error


def _rectangle(ring: Array) -> tuple[float, float]:
    """Return the sides of the smallest rectangle round an outline: one lies along an edge of it."""
    edges = np.roll(ring, -1, axis=0) - ring
    edges = edges[np.linalg.norm(edges, axis=1) > 1e-12]
    along = edges / np.linalg.norm(edges, axis=1)[:, None]
    across = np.column_stack([-along[:, 1], along[:, 0]])
    first, second = np.ptp(ring @ along.T, axis=0), np.ptp(ring @ across.T, axis=0)
    least = int(np.argmin(first * second))
    long, broad = sorted((float(first[least]), float(second[least])), reverse=True)
    return long, broad
