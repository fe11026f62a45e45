"""What a drawing shows of a mesh seen along an axis: its edges, its contour, and not what lies behind.

Plan ("z"): from above, x to the right, y up. Elevation ("y"): from the front, looking along +y, x to the
right, z up. End view ("x"): looking along -x, y to the right, z up. Lengths in metres, to scale.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from oakum.ground.solids.dims import FloatArray, IntArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.inside import crossings_above
from oakum.ground.solids.mesh import Mesh, face_vectors

Axis = Literal["x", "y", "z"]

# Rows: right, up and towards the eye of each view, as body axes.
_VIEWS: dict[str, FloatArray] = {
    "x": np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]]),
    "y": np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]]),
    "z": np.eye(3),
}
_PIECES = 48  # edges are judged in pieces of 1/48 of the view: part of one may be hidden
_LIFT = 2e-3  # an edge is tested this share of the view in front of its own surface


def hull(mesh: Mesh, axis: Axis) -> FloatArray:
    """Return the convex polygon (k, 2) round the projected mesh, m, counter-clockwise; exact if convex."""
    flat = _seen(mesh, axis)[:, :2]
    return np.asarray(flat[ConvexHull(flat).vertices])


def outline(mesh: Mesh, axis: Axis, sharp_deg: float = 30.0) -> list[FloatArray]:
    """Return the visible edges as polylines (k, 2), m; a closed one repeats its first point at its end.

    Drawn are edges sharper than `sharp_deg` and the contour where the surface turns away from the eye; hidden
    pieces are left out (judged at the middle of each piece of 1/48 of the view).
    """
    points = _seen(mesh, axis)
    segments = _pieces(points, _drawn_edges(points, mesh.faces, sharp_deg))
    size = float(np.ptp(points, axis=0).max())
    middle = segments.mean(axis=1) + np.array([0.0, 0.0, _LIFT * size])
    visible = segments[~_hidden(mesh, points, middle, size)]
    flat = visible[:, :, :2]
    lengths = np.linalg.norm(flat[:, 1] - flat[:, 0], axis=1)
    return _chained(flat[lengths > 1e-9 * size], 1e-7 * size)


def _seen(mesh: Mesh, axis: Axis) -> FloatArray:
    if axis not in _VIEWS:
        raise SolidError(f"a view is along x, y or z; got {axis!r}.")
    return np.asarray(mesh.vertices @ _VIEWS[axis].T)


def _drawn_edges(points: FloatArray, faces: IntArray, sharp_deg: float) -> IntArray:
    """Return the edges (k, 2) that are sharp or lie between a face towards the eye and one that is not."""
    normals = face_vectors(points, faces)
    lengths = np.linalg.norm(normals, axis=1)
    unit = normals / np.where(lengths > 0, lengths, 1.0)[:, None]
    start, end = faces.ravel(), np.roll(faces, -1, axis=1).ravel()
    key = np.minimum(start, end) * len(points) + np.maximum(start, end)
    order = np.argsort(key, kind="stable")
    first, second = order[0::2], order[1::2]  # a closed surface has an even number of triangles on every edge
    one, other = unit[first // 3], unit[second // 3]
    sharp = np.einsum("ij,ij->i", one, other) < np.cos(np.radians(sharp_deg))
    turning = (one[:, 2] > 1e-9) != (other[:, 2] > 1e-9)
    # Two faces both turned away meet behind the solid: nothing to see, whatever the angle.
    real = (lengths > 1e-12 * float(np.ptp(points, axis=0).max()) ** 2)[[first // 3, second // 3]].all(axis=0)
    facing = (one[:, 2] > -1e-9) | (other[:, 2] > -1e-9)
    chosen = first[(sharp | turning) & facing & real]
    return np.column_stack((start[chosen], end[chosen]))


def _pieces(points: FloatArray, edges: IntArray) -> FloatArray:
    """Return edges cut into short pieces (k, 2, 3)."""
    size = float(np.ptp(points, axis=0).max())
    a, b = points[edges[:, 0]], points[edges[:, 1]]
    count = np.maximum(1, np.ceil(np.linalg.norm(b - a, axis=1) * _PIECES / size)).astype(np.int64)
    row = np.repeat(np.arange(len(edges)), count)
    step = np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)
    along = (b - a)[row] / count[row][:, None]
    return np.stack((a[row] + along * step[:, None], a[row] + along * (step + 1)[:, None]), axis=1)


def _hidden(mesh: Mesh, points: FloatArray, middle: FloatArray, size: float) -> NDArray[np.bool_]:
    """Does the surface lie between each point and the eye, on both sides of the edge the point is on?

    An edge lies on the surface, so it counts as visible when the view past it is clear on either side.
    """
    covered = np.ones(len(middle), dtype=bool)
    for angle in np.arange(8) * (np.pi / 4) + 0.1234:
        aside = middle + np.array([np.cos(angle), np.sin(angle), 0.0]) * (0.5 * _LIFT * size)
        covered &= crossings_above(points[mesh.faces], aside) > 0
    return covered


def _chained(segments: FloatArray, near: float) -> list[FloatArray]:
    """Return segments (k, 2, 2) joined end to end, each used once."""
    ends = np.rint(segments / near).astype(np.int64)
    at: dict[tuple[int, int], list[int]] = {}
    seen: set[tuple[tuple[int, int], ...]] = set()
    names: list[tuple[tuple[int, int], tuple[int, int]]] = []
    for a, b in ends.tolist():
        pair = (tuple(a), tuple(b))
        double = tuple(sorted(pair)) in seen or pair[0] == pair[1]
        seen.add(tuple(sorted(pair)))
        names.append(pair)
        if not double:
            at.setdefault(pair[0], []).append(len(names) - 1)
            at.setdefault(pair[1], []).append(len(names) - 1)
    place = {name: segments[i, k] for i, pair in enumerate(names) for k, name in enumerate(pair)}
    used: set[int] = set()
    lines: list[FloatArray] = []
    # Loose ends first, so that an open line is walked whole; what is left are loops.
    for start in sorted(at, key=lambda name: len(at[name]) == 2):
        while any(i not in used for i in at[start]):
            line = [start]
            while (following := next((i for i in at[line[-1]] if i not in used), None)) is not None:
                used.add(following)
                a, b = names[following]
                line.append(b if a == line[-1] else a)
            lines.append(np.array([place[name] for name in line]))
    return lines
