"""A surface through levels: triangles between them, linear inside each, carried level to an outline beyond them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, isfinite

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.outline import Array, Outline, Point, cut, piece
from oakum.seabed.dig.triangles import fan, triangles_between

SAME_PLACE_M = 1e-3
NEAR = 1e-7


@dataclass(frozen=True, slots=True)
class Level:
    """A level: its name, where it was read, and its height (z up) in metres."""

    name: str
    x_m: float
    y_m: float
    z_m: float


Mix = tuple[tuple[int, float], ...]
"""Which levels make a height: index and share of each."""


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """Triangles through levels. Make one with `surface`.

    `nodes` (m, 2) are the places of the triangles' corners, `z_m` (m,) their heights. `mix` says of each node which
    levels make its height: a level's own place takes it whole, several levels at one place their mean, a carried
    place those next to it; the middle of a cell of places on one circle (a square) the mean of its corners.
    `triangles` (k, 3) run anticlockwise. The first `read` nodes are places where somebody read.
    """

    levels: tuple[Level, ...]
    nodes: Array
    z_m: Array
    mix: tuple[Mix, ...]
    triangles: NDArray[np.intp]
    hull: tuple[Point, ...]
    read: int

    def height_m(self, x: float, y: float) -> float | None:
        """Return the height at a place, None beyond the triangles."""
        return self.heights_m([(x, y)])[0]

    def heights_m(self, places: Sequence[Point]) -> list[float | None]:
        """Return the height at each place, None beyond the triangles."""
        corners = self.nodes[self.triangles]
        boxes = np.hstack([corners.min(axis=1), corners.max(axis=1)]).T
        return [self._height(corners, boxes, place) for place in places]

    def _height(self, corners: Array, boxes: Array, at: Point) -> float | None:
        west, south, east, north = boxes
        x, y = at
        for index in np.flatnonzero(
            (west <= x + NEAR) & (east >= x - NEAR) & (south <= y + NEAR) & (north >= y - NEAR)
        ):
            weights = _barycentric([(float(a), float(b)) for a, b in corners[index]], at)
            if min(weights) >= -NEAR:
                return float(np.sum(weights * self.z_m[self.triangles[index]]))
        return None

    def weights_over(self, where: Outline) -> Array:
        """Return how much each level (n,) counts in the integral of the height over an outline, in m2.

        Exact for the surface of plane triangles: each triangle is cut by the outline, and a plane's integral is
        area times its height at the centroid. The weights sum to the area that triangles cover.
        """
        at_nodes = np.zeros(len(self.nodes))
        convex = where.is_convex
        inside = [where.holds(float(x), float(y)) for x, y in self.nodes]
        for corners in self.triangles:
            points = [(float(x), float(y)) for x, y in self.nodes[corners]]
            if convex and all(inside[c] for c in corners):
                at_nodes[corners] += piece(points)[0] / 3.0
                continue
            part = cut(where.corners, points)
            if len(part) >= 3:
                area, centre = piece(part)
                at_nodes[corners] += area * _barycentric(points, centre)
        weights = np.zeros(len(self.levels))
        for weight, mix in zip(at_nodes, self.mix, strict=True):
            for level, share in mix:
                weights[level] += share * float(weight)
        return weights

    def covered_m2(self, where: Outline) -> float:
        """Return how much of an outline lies between the levels read."""
        part = cut(where.corners, self.hull)
        return piece(part)[0] if len(part) >= 3 else 0.0


def surface(levels: Sequence[Level], where: Outline | None = None, *, what: str = "levels") -> Surface:
    """Lay triangles through levels (Delaunay); with an outline, carry the nearest levels out to its corners.

    A corner beyond the levels read takes the height of the nearest point of their hull. Raises `DigError` for
    fewer than three places, or places on one line; `what` names the levels in the message.
    """
    if not all(isfinite(v) for one in levels for v in (one.x_m, one.y_m, one.z_m)):
        raise DigError(f"{what}: every level needs finite numbers in metres")
    of_place: dict[tuple[int, int], int] = {}
    places: list[Point] = []
    read_at: list[list[int]] = []
    for index, one in enumerate(levels):
        square = (round(one.x_m / SAME_PLACE_M), round(one.y_m / SAME_PLACE_M))
        if square not in of_place:
            of_place[square] = len(places)
            places.append((one.x_m, one.y_m))
            read_at.append([])
        read_at[of_place[square]].append(index)
    if len(places) < 3:
        raise DigError(
            f"{what}: {len(places)} {'place' if len(places) == 1 else 'places'} cannot carry a surface; read levels "
            "at three places or more, best at every corner and in the middle"
        )
    mix: list[Mix] = [tuple((k, 1.0 / len(here)) for k in here) for here in read_at]
    hull = _hull(places, what)
    read = len(places)
    for corner in () if where is None else where.corners:
        if min(hypot(p[0] - corner[0], p[1] - corner[1]) for p in places) >= SAME_PLACE_M:
            carried = _carried(corner, hull)
            if carried is not None:
                mix.append(_mixed([(share, mix[places.index(point)]) for share, point in carried]))
                places.append(corner)
    nodes = np.array(places)
    triangles, cells = triangles_between(nodes)
    listed: list[tuple[int, ...]] = [tuple(int(i) for i in row) for row in triangles]
    for cell in cells:
        listed += fan(cell, len(nodes))
        nodes = np.vstack([nodes, nodes[list(cell)].mean(axis=0)])
        mix.append(_mixed([(1.0 / len(cell), mix[i]) for i in cell]))
    z = np.array([sum(share * levels[k].z_m for k, share in one) for one in mix])
    return Surface(tuple(levels), nodes, z, tuple(mix), np.array(listed, dtype=np.intp), tuple(hull), read)


def _mixed(parts: Sequence[tuple[float, Mix]]) -> Mix:
    """Add mixes up, each by its share."""
    found: dict[int, float] = {}
    for share, mix in parts:
        for level, of in mix:
            found[level] = found.get(level, 0.0) + share * of
    return tuple(found.items())


def _hull(places: Sequence[Point], what: str) -> list[Point]:
    points = np.array(places)
    centred = points - points.mean(axis=0)
    xx, yy, xy = (float(np.sum(centred[:, i] * centred[:, k])) for i, k in ((0, 0), (1, 1), (0, 1)))
    narrow = 0.5 * (xx + yy - hypot(xx - yy, 2.0 * xy))  # square sum across the line that fits best
    if narrow < SAME_PLACE_M**2:
        raise DigError(
            f"{what}: all places lie on one line, so nothing is known to its sides; read a level off the line"
        )
    try:
        order = ConvexHull(centred).vertices
    except QhullError as error:  # guarded above; kept so that no foreign words reach a page
        raise DigError(f"{what}: the places cannot carry a surface; read levels further apart") from error
    return [places[i] for i in order]


def _carried(corner: Point, hull: Sequence[Point]) -> list[tuple[float, Point]] | None:
    """Return shares of read places for a corner beyond their hull; None where it lies inside."""
    best: tuple[float, Point, Point, float] | None = None
    outside = False
    for a, b in zip(hull, [*hull[1:], hull[0]], strict=True):
        dx, dy = b[0] - a[0], b[1] - a[1]
        length = hypot(dx, dy)
        outside |= dx * (corner[1] - a[1]) - dy * (corner[0] - a[0]) < -SAME_PLACE_M * length
        t = min(1.0, max(0.0, ((corner[0] - a[0]) * dx + (corner[1] - a[1]) * dy) / length**2))
        away = hypot(a[0] + t * dx - corner[0], a[1] + t * dy - corner[1])
        if best is None or away < best[0]:
            best = (away, a, b, t)
    if not outside or best is None:
        return None
    _, a, b, t = best
    return [(1.0 - t, a), (t, b)]


def _barycentric(points: Sequence[Point], at: Point) -> Array:
    (ax, ay), (bx, by), (cx, cy) = points
    whole = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    first = ((bx - at[0]) * (cy - at[1]) - (cx - at[0]) * (by - at[1])) / whole
    second = ((cx - at[0]) * (ay - at[1]) - (ax - at[0]) * (cy - at[1])) / whole
    return np.array([first, second, 1.0 - first - second])
