"""Frustum of a cone: a gun's barrel, a bucket, a tapered mast."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids.dims import Dim, FloatArray, Point, not_negative, positive, scalar
from oakum.ground.solids.lathe import turned_solid
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.solid import Solid, check_points


@dataclass(frozen=True, slots=True)
class Frustum(Solid):
    """A cone frustum with `radius_bottom_m` at z = 0 and `radius_top_m` at z = `height_m`.

    For a pointed cone give the small radius of its tip, for example 0.001 m.
    """

    kind: ClassVar[str] = "frustum"
    radius_bottom_m: Dim
    radius_top_m: Dim
    height_m: Dim

    def __post_init__(self) -> None:
        for name in ("radius_bottom_m", "radius_top_m", "height_m"):
            object.__setattr__(self, name, positive(self.kind, name, getattr(self, name)))

    def volume_m3(self) -> Dim:
        """Return pi h (R^2 + R r + r^2) / 3, m3."""
        return math.pi * self.height_m * self._mean_square()

    def centroid_m(self) -> Point:
        """Return (0, 0, h (R^2 + 2 R r + 3 r^2) / 4 (R^2 + R r + r^2)), m."""
        R, r = self.radius_bottom_m, self.radius_top_m
        return 0.0, 0.0, self.height_m * (R * R + 2 * R * r + 3 * r * r) / (12 * self._mean_square())

    def grown(self, thickness_m: Dim, *, ends: bool = True) -> Frustum:
        """Return the frustum with a coat measured square to its sloping side; the edges are mitred."""
        t = not_negative(self.kind, "thickness_m", thickness_m)
        slope = (self.radius_top_m - self.radius_bottom_m) / self.height_m
        sideways = t * np.sqrt(1 + slope * slope)
        end = t if ends else 0.0
        return Frustum(
            self.radius_bottom_m + sideways - slope * end,
            self.radius_top_m + sideways + slope * end,
            self.height_m + 2 * end,
        )

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return a pyramid frustum of equal volume and equal slices."""
        bottom, top, h = self._size()
        return turned_solid(np.array([bottom, top]), np.array([0.0, h]), facets)

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the frustum, surface included."""
        bottom, top, h = self._size()
        p = check_points(points)
        radius = bottom + (top - bottom) * p[:, 2] / h
        return np.asarray((np.hypot(p[:, 0], p[:, 1]) <= radius) & (p[:, 2] >= 0) & (p[:, 2] <= h))

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the two opposite corners of the box around it, m."""
        bottom, top, h = self._size()
        r = max(bottom, top)
        return np.array([-r, -r, 0.0]), np.array([r, r, h])

    def _mean_square(self) -> Dim:
        R, r = self.radius_bottom_m, self.radius_top_m
        return (R * R + R * r + r * r) / 3

    def _size(self) -> tuple[float, float, float]:
        bottom, top, height = (scalar(self.kind, name, value) for name, value in self.dimensions().items())
        return bottom, top, height
