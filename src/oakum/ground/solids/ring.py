"""Ring: a flat tyre, a band, a pipe."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids.cylinder import Cylinder
from oakum.ground.solids.dims import Dim, FloatArray, Point, not_negative, positive, require, scalar
from oakum.ground.solids.lathe import turned_loop
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.solid import Solid, check_points

CLOSED_HOLE_M = 1e-9  # a hole that closes in some draws only is kept this wide: less than 1e-17 m2 of area


@dataclass(frozen=True, slots=True)
class Ring(Solid):
    """A ring between two radii, standing on z = 0, `height_m` high along the axis."""

    kind: ClassVar[str] = "ring"
    outer_radius_m: Dim
    inner_radius_m: Dim
    height_m: Dim

    def __post_init__(self) -> None:
        for name in ("outer_radius_m", "inner_radius_m", "height_m"):
            object.__setattr__(self, name, positive(self.kind, name, getattr(self, name)))
        require(
            np.asarray(self.outer_radius_m) > self.inner_radius_m,
            "ring: outer_radius_m must be greater than inner_radius_m",
        )

    def volume_m3(self) -> Dim:
        """Return pi (Ro^2 - Ri^2) h, m3."""
        # The product of sum and difference keeps the digits of a thin ring.
        wall = (self.outer_radius_m - self.inner_radius_m) * (self.outer_radius_m + self.inner_radius_m)
        return math.pi * wall * self.height_m

    def centroid_m(self) -> Point:
        """Return (0, 0, h/2), m."""
        return 0.0, 0.0, self.height_m / 2

    def grown(self, thickness_m: Dim, *, ends: bool = True, filled: bool = False) -> Ring | Cylinder:
        """Return the ring with a coat outside *and* in its hole; a hole no wider than two coats closes.

        A closed hole, or `filled=True` (crust or sediment across the whole hole), gives a `Cylinder`. Where
        the hole closes in some draws only, those keep a hole of `CLOSED_HOLE_M`, which holds no volume to
        speak of.
        """
        t = not_negative(self.kind, "thickness_m", thickness_m)
        outer, height = self.outer_radius_m + t, self.height_m + (2 * t if ends else 0.0)
        inner = self.inner_radius_m - t
        if filled or np.all(np.asarray(inner) <= CLOSED_HOLE_M):
            return Cylinder(outer, height)
        return Ring(outer, np.maximum(inner, CLOSED_HOLE_M), height)

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return a polygonal ring of equal volume."""
        outer, inner, h = self._size()
        return turned_loop(np.array([outer, outer, inner, inner]), np.array([0.0, h, h, 0.0]), facets)

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the ring itself (not in its hole), surface included."""
        outer, inner, h = self._size()
        p = check_points(points)
        r = np.hypot(p[:, 0], p[:, 1])
        return np.asarray((r <= outer) & (r >= inner) & (p[:, 2] >= 0) & (p[:, 2] <= h))

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the two opposite corners of the box around it, m."""
        outer, _, h = self._size()
        return np.array([-outer, -outer, 0.0]), np.array([outer, outer, h])

    def _size(self) -> tuple[float, float, float]:
        outer, inner, height = (scalar(self.kind, name, value) for name, value in self.dimensions().items())
        return outer, inner, height
