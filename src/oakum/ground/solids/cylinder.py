"""Cylinder: a round bar, a log, a drum."""

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
class Cylinder(Solid):
    """A cylinder of `radius_m` standing on z = 0, `height_m` high."""

    kind: ClassVar[str] = "cylinder"
    radius_m: Dim
    height_m: Dim

    def __post_init__(self) -> None:
        for name in ("radius_m", "height_m"):
            object.__setattr__(self, name, positive(self.kind, name, getattr(self, name)))

    def volume_m3(self) -> Dim:
        """Return pi r^2 h, m3."""
        return math.pi * self.radius_m * self.radius_m * self.height_m

    def centroid_m(self) -> Point:
        """Return (0, 0, h/2), m."""
        return 0.0, 0.0, self.height_m / 2

    def grown(self, thickness_m: Dim, *, ends: bool = True) -> Cylinder:
        """Return the cylinder with a coat on its side and, unless `ends=False`, on base and top."""
        t = not_negative(self.kind, "thickness_m", thickness_m)
        return Cylinder(self.radius_m + t, self.height_m + (2 * t if ends else 0.0))

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return a prism of equal volume."""
        r, h = self._size()
        return turned_solid(np.array([r, r]), np.array([0.0, h]), facets)

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the cylinder, surface included."""
        r, h = self._size()
        p = check_points(points)
        return np.asarray((np.hypot(p[:, 0], p[:, 1]) <= r) & (p[:, 2] >= 0) & (p[:, 2] <= h))

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the two opposite corners of the box around it, m."""
        r, h = self._size()
        return np.array([-r, -r, 0.0]), np.array([r, r, h])

    def _size(self) -> tuple[float, float]:
        return scalar(self.kind, "radius_m", self.radius_m), scalar(self.kind, "height_m", self.height_m)
