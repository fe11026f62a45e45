"""The outline of a square or a trench in plan: area, centre, what lies inside, and cutting by a convex piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, isfinite

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.dig.errors import DigError

Array = NDArray[np.float64]
Point = tuple[float, float]
FLAT_M = 1e-3
"""A corner nearer than this to the line between its neighbours adds nothing that a tape could tell."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A simple polygon, its corners (x, y) in metres, anticlockwise. Make one with `outline`."""

    corners: tuple[Point, ...]
    names: tuple[str, ...]

    @property
    def area_m2(self) -> float:
        """Area in plan."""
        return signed_area(self.corners)

    @property
    def centre(self) -> Point:
        """Centroid."""
        return piece(self.corners)[1]

    @property
    def is_convex(self) -> bool:
        """Whether no corner points inward."""
        count = len(self.corners)
        turns = [_turn(*(self.corners[(i + k) % count] for k in range(3))) for i in range(count)]
        return min(turns) >= -1e-12

    @property
    def sides(self) -> tuple[tuple[Point, Point], ...]:
        """Its sides, each from corner to corner."""
        return tuple(pairwise((*self.corners, self.corners[0])))

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies inside; one on a side counts as inside (to a millionth of a millimetre)."""
        inside = False
        for (x0, y0), (x1, y1) in self.sides:
            if abs(_turn((x0, y0), (x1, y1), (x, y))) <= 1e-9 * max(hypot(x1 - x0, y1 - y0), 1e-9) and (
                min(x0, x1) - 1e-9 <= x <= max(x0, x1) + 1e-9
                and min(y0, y1) - 1e-9 <= y <= max(y0, y1) + 1e-9
            ):
                return True
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
                inside = not inside
        return inside


def outline(corners: Sequence[Point], names: Sequence[str] = ()) -> Outline:
    """Make an outline from corners in order round it, either way; `names` are for messages ("1", "2" where left out).

    Raises `DigError` for fewer than three corners, two in one place, corners on one line, or sides that cross.
    """
    called = tuple(names) or tuple(str(i + 1) for i in range(len(corners)))
    points = [(float(x), float(y)) for x, y in corners]
    if len(points) < 3:
        raise DigError(
            f"a square needs at least three corners, not {len(points)}; give them in order round it"
        )
    if not all(isfinite(v) for point in points for v in point):
        raise DigError("every corner needs a finite x and y in metres of the site")
    count = len(points)
    for i, (a, b) in enumerate(pairwise((*points, points[0]))):
        if hypot(b[0] - a[0], b[1] - a[1]) < FLAT_M:
            raise DigError(
                f"corners {called[i]} and {called[(i + 1) % count]} lie in one place; one of them is misread"
            )
    for i in range(count):
        a, b, c = (points[(i + k) % count] for k in range(3))
        length = hypot(c[0] - a[0], c[1] - a[1])
        if length < FLAT_M or abs(_turn(a, b, c)) / length < FLAT_M:
            first, middle, last = (called[(i + k) % count] for k in range(3))
            raise DigError(
                f"corners {first}, {middle} and {last} lie on one line; leave {middle} out, or read it again"
            )
    _refuse_crossing(points, called)
    if signed_area(points) < 0:
        points, called = points[::-1], called[::-1]
    return Outline(tuple(points), called)


def signed_area(corners: Sequence[Point]) -> float:
    """Return the area of a polygon by the shoelace formula, positive where its corners run anticlockwise."""
    x0, y0 = corners[0]  # from a corner: far from the origin the products would lose the difference
    near = [(x - x0, y - y0) for x, y in corners]
    return 0.5 * sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise((*near, near[0])))


def piece(corners: Sequence[Point]) -> tuple[float, Point]:
    """Return signed area and centroid of a polygon; the centroid of one without area is its first corner."""
    x0, y0 = corners[0]
    near = [(x - x0, y - y0) for x, y in corners]
    area = sx = sy = 0.0
    for (ax, ay), (bx, by) in pairwise((*near, near[0])):
        cross = ax * by - bx * ay
        area += cross
        sx += (ax + bx) * cross
        sy += (ay + by) * cross
    if abs(area) < 1e-300:
        return 0.0, (x0, y0)
    return 0.5 * area, (x0 + sx / (3.0 * area), y0 + sy / (3.0 * area))


def cut(subject: Sequence[Point], convex: Sequence[Point]) -> list[Point]:
    """Return the part of a polygon inside a convex one that runs anticlockwise (Sutherland and Hodgman 1974).

    Where the subject is not convex, pieces may hang together by sides that run there and back: area and centroid
    by `piece` are right all the same.
    """
    found = list(subject)
    for a, b in pairwise((*convex, convex[0])):
        if not found:
            return []
        held: list[Point] = []
        side = [_turn(a, b, p) for p in found]
        for i, point in enumerate(found):
            before, was = found[i - 1], side[i - 1]
            if (side[i] >= 0) != (was >= 0):
                t = was / (was - side[i])
                held.append((before[0] + t * (point[0] - before[0]), before[1] + t * (point[1] - before[1])))
            if side[i] >= 0:
                held.append(point)
        found = held
    return found


def _turn(a: Point, b: Point, c: Point) -> float:
    """Twice the signed area of the triangle a, b, c."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _refuse_crossing(points: Sequence[Point], names: Sequence[str]) -> None:
    count = len(points)
    for i in range(count):
        for k in range(i + 2, count):
            if i == 0 and k == count - 1:
                continue
            a, b, c, d = points[i], points[i + 1], points[k], points[(k + 1) % count]
            if _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0:
                raise DigError(
                    f"the side from {names[i]} to {names[i + 1]} meets the side from {names[k]} to "
                    f"{names[(k + 1) % count]}; give the corners in order round the square"
                )
