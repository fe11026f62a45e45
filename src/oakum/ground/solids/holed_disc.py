"""Disc with holes through it: a capstan's drumhead, a millstone, a sheave."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import Any, ClassVar, Self

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids.cylinder import Cylinder
from oakum.ground.solids.dims import Dim, FloatArray, Point, as_dim, not_negative, positive, require, scalar
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.holed_cap import extruded
from oakum.ground.solids.lathe import equal_area_factor, polygon
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.ring import CLOSED_HOLE_M
from oakum.ground.solids.solid import Solid, check_points

Hole = tuple[Dim, Dim, Dim]


@dataclass(frozen=True, slots=True)
class HoledDisc(Solid):
    """A disc standing on z = 0 with round holes (x, y, radius) right through, m, clear of rim and each other.

    `dimensions()` also names the holes: `hole_1_x_m`, `hole_1_y_m`, `hole_1_radius_m`, ...
    """

    kind: ClassVar[str] = "disc with holes"
    radius_m: Dim
    height_m: Dim
    holes: tuple[Hole, ...] = ()

    def __post_init__(self) -> None:
        for name in ("radius_m", "height_m"):
            object.__setattr__(self, name, positive(self.kind, name, getattr(self, name)))
        object.__setattr__(self, "holes", tuple(self._hole(i, h) for i, h in enumerate(self.holes, 1)))
        for i, (x, y, r) in enumerate(self.holes, 1):
            require(np.hypot(x, y) + r < self.radius_m, f"disc with holes: hole {i} reaches the rim")
        for (i, a), (j, b) in combinations(enumerate(self.holes, 1), 2):
            apart = np.hypot(a[0] - b[0], a[1] - b[1])
            require(apart > a[2] + b[2], f"disc with holes: holes {i} and {j} run into each other")

    def volume_m3(self) -> Dim:
        """Return the disc less its holes, pi (R^2 - sum r^2) h, m3."""
        return math.pi * self._square_m2() * self.height_m

    def centroid_m(self) -> Point:
        """Return the centre, m: the holes take away their volume *and* their moment."""
        x = -sum((x * r * r for x, _, r in self.holes), start=0.0) / self._square_m2()
        y = -sum((y * r * r for _, y, r in self.holes), start=0.0) / self._square_m2()
        return x, y, self.height_m / 2

    def grown(self, thickness_m: Dim, *, ends: bool = True, filled: bool = False) -> HoledDisc | Cylinder:
        """Return the disc with a coat outside and in its holes; a hole no wider than two coats closes.

        With `filled=True`, or when every hole closes, the result is a `Cylinder`.
        """
        t = not_negative(self.kind, "thickness_m", thickness_m)
        outer, height = self.radius_m + t, self.height_m + (2 * t if ends else 0.0)
        left = [(x, y, r - t) for x, y, r in self.holes]
        still = [
            (x, y, np.maximum(r, CLOSED_HOLE_M)) for x, y, r in left if np.any(np.asarray(r) > CLOSED_HOLE_M)
        ]
        return Cylinder(outer, height) if filled or not still else HoledDisc(outer, height, tuple(still))

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return a polygonal disc with polygonal holes of equal volume; more facets where a wall is thin."""
        radius, height, holes = self._size()
        while not _polygons_clear(radius, holes, facets):
            facets *= 2
            if facets > 2000:
                raise SolidError(
                    "disc with holes: a hole nearly touches the rim or another hole; leave a wall to draw."
                )
        rim = polygon(radius, facets)
        return extruded(rim, [polygon(r, facets, x, y) for x, y, r in holes], height)

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the disc and in no hole."""
        radius, height, holes = self._size()
        p = check_points(points)
        inside = (np.hypot(p[:, 0], p[:, 1]) <= radius) & (p[:, 2] >= 0) & (p[:, 2] <= height)
        for x, y, r in holes:
            inside &= np.hypot(p[:, 0] - x, p[:, 1] - y) >= r
        return np.asarray(inside)

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the two opposite corners of the box around it, m."""
        radius, height, _ = self._size()
        return np.array([-radius, -radius, 0.0]), np.array([radius, radius, height])

    def dimensions(self) -> dict[str, Dim]:
        """Return radius, height and every hole's place and radius by name, m."""
        named: dict[str, Dim] = {"radius_m": self.radius_m, "height_m": self.height_m}
        for i, hole in enumerate(self.holes, 1):
            named |= {
                f"hole_{i}_{part}_m": value for part, value in zip(("x", "y", "radius"), hole, strict=True)
            }
        return named

    def words(self) -> str:
        """Return e.g. 'disc with holes, radius 0.65 m, height 0.3 m, 1 hole'."""
        plain = Cylinder(self.radius_m, self.height_m).words().removeprefix(Cylinder.kind)
        count = len(self.holes)
        return f"{self.kind}{plain}, {count} hole{'' if count == 1 else 's'}"

    def _replaced(self, changed: dict[str, Any]) -> Self:
        named = self.dimensions() | changed
        triples = (
            tuple(named[f"hole_{i}_{part}_m"] for part in ("x", "y", "radius")) for i in self._numbers()
        )
        return type(self)(named["radius_m"], named["height_m"], tuple(triples))

    def _numbers(self) -> range:
        return range(1, len(self.holes) + 1)

    def _square_m2(self) -> Dim:
        return self.radius_m * self.radius_m - sum((r * r for _, _, r in self.holes), start=0.0)

    def _size(self) -> tuple[float, float, list[tuple[float, float, float]]]:
        flat = {name: scalar(self.kind, name, value) for name, value in self.dimensions().items()}
        holes = [
            (flat[f"hole_{i}_x_m"], flat[f"hole_{i}_y_m"], flat[f"hole_{i}_radius_m"])
            for i in self._numbers()
        ]
        return flat["radius_m"], flat["height_m"], holes

    def _hole(self, number: int, hole: object) -> Hole:
        if not isinstance(hole, tuple | list) or len(hole) != 3:
            raise SolidError(f"{self.kind}: hole {number} must be three lengths x, y, radius; got {hole!r}.")
        x, y = (as_dim(self.kind, f"hole {number} {axis}", v) for axis, v in zip("xy", hole, strict=False))
        return x, y, positive(self.kind, f"hole {number} radius", hole[2])


def _polygons_clear(radius: float, holes: list[tuple[float, float, float]], facets: int) -> bool:
    """Do the polygons, whose corners stand out of their circles, stay clear of each other?"""
    corner = equal_area_factor(facets)
    inner_rim = radius * corner * math.cos(math.pi / facets)
    clear = all(math.hypot(x, y) + r * corner < inner_rim for x, y, r in holes)
    pairs = combinations(holes, 2)
    return clear and all(math.hypot(a[0] - b[0], a[1] - b[1]) > (a[2] + b[2]) * corner for a, b in pairs)
