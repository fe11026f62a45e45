"""From a closed triangle mesh to the few lines a draughtsman would draw of it.

A small mesh gives its silhouette and the creases that face the viewer. A fine one (a scan) gives only the
edge of its shadow, found on a grid, because thousands of near-silhouette edges say nothing and cost much.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Chain = tuple[tuple[float, float], ...]

FINE_MESH_FACES = 4_000
_CREASE_COS = float(np.cos(np.radians(30.0)))
_GRID = 320


@dataclass(frozen=True, slots=True)
class View:
    """Where one looks from: the axes that run right and up on paper, the unit vector toward the viewer."""

    name: str
    right: int
    up: int
    toward: tuple[float, float, float]

    def flat(self, points: Array) -> Array:
        """Project points (k, 3) to paper (k, 2)."""
        return np.asarray(points, dtype=np.float64)[:, (self.right, self.up)]


ELEVATION = View("elevation", 0, 2, (0.0, -1.0, 0.0))
PLAN = View("plan", 0, 1, (0.0, 0.0, 1.0))


@dataclass(frozen=True, slots=True)
class Outline:
    """Lines of one part on paper, metres: `edges` to stroke, `area` closed chains to fill (nonzero rule)."""

    edges: tuple[Chain, ...]
    area: tuple[Chain, ...]
    low: tuple[float, float]
    high: tuple[float, float]


def outline(vertices: Array, faces: NDArray[np.int64], view: View) -> Outline:
    """Return the drawn lines of a mesh: vertices (n, 3) in metres, faces (m, 3) turned outward."""
    flat = view.flat(vertices)
    low, high = flat.min(axis=0), flat.max(axis=0)
    if len(faces) > FINE_MESH_FACES:
        rim = _shadow_rim(flat, faces, low, high)
        return Outline(rim, rim, _pair(low), _pair(high))
    corners = vertices[faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = normals / np.where(lengths > 0, lengths, 1.0)
    front = normals @ np.asarray(view.toward) > 1e-6
    edges = _chains(_drawn_edges(faces, normals, front), flat)
    area = tuple(tuple(_pair(flat[i]) for i in face) for face in faces[front])
    return Outline(edges, _hull(flat) if _convex(vertices, faces, normals) else area, _pair(low), _pair(high))


def _pair(point: Array) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _drawn_edges(faces: NDArray[np.int64], normals: Array, front: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Pick the silhouette edges and the creases seen from the front."""
    ends = np.sort(np.concatenate([faces[:, (0, 1)], faces[:, (1, 2)], faces[:, (2, 0)]]), axis=1)
    owner = np.tile(np.arange(len(faces)), 3)
    order = np.lexsort((ends[:, 1], ends[:, 0]))
    ends, owner = ends[order], owner[order]
    same = np.flatnonzero((ends[:-1] == ends[1:]).all(axis=1))
    first, second = owner[same], owner[same + 1]
    silhouette = front[first] != front[second]
    crease = (normals[first] * normals[second]).sum(axis=1) < _CREASE_COS
    drawn = ends[same[silhouette | (crease & (front[first] | front[second]))]]
    return [(int(a), int(b)) for a, b in drawn]


def _convex(vertices: Array, faces: NDArray[np.int64], normals: Array) -> bool:
    """Tell whether no vertex lies in front of any face (small meshes only)."""
    offsets = (normals * vertices[faces[:, 0]]).sum(axis=1)
    size = float(np.ptp(vertices, axis=0).max()) or 1.0
    return bool(((vertices @ normals.T) - offsets <= 1e-6 * size).all())


def _hull(flat: Array) -> tuple[Chain, ...]:
    """Return the convex hull on paper as one chain (Andrew's monotone chain)."""
    points = sorted({(round(float(x), 9), round(float(y), 9)) for x, y in flat})
    if len(points) < 3:
        return ()

    def half(run: list[tuple[float, float]]) -> list[tuple[float, float]]:
        kept: list[tuple[float, float]] = []
        for x, y in run:
            while len(kept) > 1:
                (ax, ay), (bx, by) = kept[-2], kept[-1]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                    break
                kept.pop()
            kept.append((x, y))
        return kept[:-1]

    return (tuple(half(points) + half(points[::-1])),)


def _chains(edges: list[tuple[int, int]], flat: Array) -> tuple[Chain, ...]:
    """Join edges end to end into long chains, drop what is seen end-on, and thin points on straight runs."""
    neighbours: dict[int, list[int]] = {}
    for a, b in edges:
        neighbours.setdefault(a, []).append(b)
        neighbours.setdefault(b, []).append(a)
    left = {tuple(sorted(edge)) for edge in edges}
    starts = [v for v, near in neighbours.items() if len(near) != 2] + list(neighbours)
    found: list[Chain] = []
    for start in starts:
        while (
            step := next((n for n in neighbours[start] if tuple(sorted((start, n))) in left), None)
        ) is not None:
            walk = [start]
            at: int | None = step
            while at is not None:
                left.discard(tuple(sorted((walk[-1], at))))
                walk.append(at)
                at = next((n for n in neighbours[walk[-1]] if tuple(sorted((walk[-1], n))) in left), None)
            thin = thinned(flat[walk], 1e-4 * float(np.ptp(flat, axis=0).max()))
            if len(thin) > 1:
                found.append(thin)
    return tuple(dict.fromkeys(found))


def thinned(points: Array, tolerance: float) -> Chain:
    """Drop points within `tolerance` of the line through their kept neighbours (Douglas and Peucker).

    A run that never leaves its first point by more than the tolerance becomes empty.
    """
    if float(np.abs(points - points[0]).max()) <= tolerance:
        return ()
    keep = np.zeros(len(points), dtype=bool)
    keep[[0, -1]] = True
    spans = [(0, len(points) - 1)]
    while spans:
        i, j = spans.pop()
        if j - i < 2:
            continue
        chord = points[j] - points[i]
        run = points[i + 1 : j] - points[i]
        length = float(np.hypot(*chord))
        away = (
            np.hypot(*run.T)
            if length <= tolerance
            else np.abs(run[:, 0] * chord[1] - run[:, 1] * chord[0]) / length
        )
        along = run @ chord / length if length > tolerance else np.zeros(len(run))
        away = np.maximum(away, np.maximum(along - length, -along) if length > tolerance else 0.0)
        worst = int(np.argmax(away))
        if away[worst] > tolerance:
            keep[i + 1 + worst] = True
            spans += [(i, i + 1 + worst), (i + 1 + worst, j)]
    return tuple(_pair(p) for p in points[keep])


def _shadow_rim(flat: Array, faces: NDArray[np.int64], low: Array, high: Array) -> tuple[Chain, ...]:
    """Trace the rim of the mesh's shadow on a grid of about 320 cells along its longer side."""
    from PIL import Image, ImageDraw

    cell = float((high - low).max()) / _GRID or 1.0
    wide, tall = (int(n) for n in np.ceil((high - low) / cell).astype(int) + 4)
    picture = Image.new("1", (wide, tall))
    pen = ImageDraw.Draw(picture)
    for triangle in ((flat - low) / cell + 1.5)[faces].reshape(-1, 6).tolist():
        pen.polygon(triangle, fill=1)
    return _grid_rim(np.array(picture).T, low - 1.5 * cell, cell)


def _grid_rim(shadow: NDArray[np.bool_], origin: Array, cell: float) -> tuple[Chain, ...]:
    """Chain the cell sides between shadow and light, smoothed through the middles of the sides."""
    rows = shadow.shape[1] + 1
    edges: list[tuple[int, int]] = []
    i, j = np.nonzero(shadow[1:, :] != shadow[:-1, :])
    edges += [(int(a), int(a) + 1) for a in (i + 1) * rows + j]
    i, j = np.nonzero(shadow[:, 1:] != shadow[:, :-1])
    edges += [(int(a), int(a) + rows) for a in i * rows + j + 1]
    grid = np.stack(np.meshgrid(np.arange(shadow.shape[0] + 1), np.arange(rows), indexing="ij"), axis=-1)
    places = grid.reshape(-1, 2).astype(np.float64)
    rims = []
    for chain in _chains_full(edges):
        corners = places[chain]
        middles = (corners[:-1] + corners[1:]) / 2
        thin = thinned(np.vstack([middles, middles[:1]]) * cell + origin, 0.7 * cell)
        if len(thin) > 3:
            rims.append(thin)
    return tuple(rims)


def _chains_full(edges: list[tuple[int, int]]) -> list[list[int]]:
    """Walk every edge of an even graph once and return the closed walks."""
    neighbours: dict[int, set[int]] = {}
    for a, b in edges:
        neighbours.setdefault(a, set()).add(b)
        neighbours.setdefault(b, set()).add(a)
    walks = []
    for start in list(neighbours):
        while neighbours[start]:
            walk = [start]
            while neighbours[walk[-1]]:
                following = min(neighbours[walk[-1]])
                neighbours[walk[-1]].discard(following)
                neighbours[following].discard(walk[-1])
                walk.append(following)
            walks.append(walk)
    return walks
