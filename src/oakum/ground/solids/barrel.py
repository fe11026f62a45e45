"""Barrel: a cask by its bulge, its ends and the curve of its staves.

Sources: parabolic pi h (8 D^2 + 4 D d + 3 d^2)/60 and elliptic pi h (2 D^2 + d^2)/12 are the handbook forms
(memory, verify); both re-derived by integrating the stave (own calculation), the arc by quadrature.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import stave as curve
from oakum.ground.solids.dims import Dim, FloatArray, Point, not_negative, positive, require, scalar
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.lathe import turned_solid
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.solid import Solid, check_points
from oakum.ground.solids.stave import STAVES, Stave


@dataclass(frozen=True, slots=True)
class Barrel(Solid):
    """The outside (or the inside) of a barrel standing on z = 0.

    `bulge_diameter_m` >= `end_diameter_m`; `stave` is "parabolic", "arc" or "elliptic". An arc may bulge at
    most to a semicircle: bulge - end <= height. The three forms differ by under 1 % for a usual cask.
    """

    kind: ClassVar[str] = "barrel"
    bulge_diameter_m: Dim
    end_diameter_m: Dim
    height_m: Dim
    stave: Stave = "parabolic"

    def __post_init__(self) -> None:
        if self.stave not in STAVES:
            raise SolidError(f"barrel: stave must be one of {', '.join(STAVES)}; got {self.stave!r}.")
        for name in ("bulge_diameter_m", "end_diameter_m", "height_m"):
            object.__setattr__(self, name, positive(self.kind, name, getattr(self, name)))
        bulge = np.asarray(self.bulge_diameter_m)
        require(
            bulge >= self.end_diameter_m,
            "barrel: bulge_diameter_m must not be less than end_diameter_m",
        )
        if self.stave == "arc":
            require(
                bulge - self.end_diameter_m <= self.height_m * (1 + 1e-9),
                "barrel: an arc stave cannot bulge further than a semicircle, "
                "so bulge_diameter_m - end_diameter_m must not exceed height_m",
            )

    def volume_m3(self) -> Dim:
        """Return pi/4 x h x mean squared diameter, m3."""
        return math.pi / 4 * self.height_m * curve.mean_square_m2(self.stave, *self._three())

    def centroid_m(self) -> Point:
        """Return (0, 0, h/2), m."""
        return 0.0, 0.0, self.height_m / 2

    def grown(self, thickness_m: Dim, *, ends: bool = True) -> Barrel:
        """Return the barrel with a coat square to its staves at bulge and ends; edges mitred."""
        t = not_negative(self.kind, "thickness_m", thickness_m)
        end = t if ends else 0.0
        across = curve.coated_end_m(*self._three(), t, end)
        return Barrel(self.bulge_diameter_m + 2 * t, across, self.height_m + 2 * end, self.stave)

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return a faceted barrel of equal volume: slices along the stave as fine as round it."""
        bulge, end, h = self._size()
        s = np.linspace(-1.0, 1.0, 2 * max(4, facets // 4) + 1)
        r = np.asarray(curve.radius_m(self.stave, bulge, end, h, s))
        # Chords cut the stave's curve short: the radii are widened to give back that volume.
        chords = h / (len(s) - 1) * math.pi / 3 * float(np.sum(r[1:] ** 2 + r[1:] * r[:-1] + r[:-1] ** 2))
        widened = math.sqrt(float(np.asarray(self.volume_m3())) / chords)
        return turned_solid(r * widened, (s + 1) * (h / 2), facets)

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the barrel, surface included."""
        bulge, end, h = self._size()
        p = check_points(points)
        s = np.clip(2 * p[:, 2] / h - 1, -1.0, 1.0)
        radius = curve.radius_m(self.stave, bulge, end, h, s)
        return np.asarray((np.hypot(p[:, 0], p[:, 1]) <= radius) & (p[:, 2] >= 0) & (p[:, 2] <= h))

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the two opposite corners of the box around it, m."""
        bulge, _, h = self._size()
        return np.array([-bulge / 2, -bulge / 2, 0.0]), np.array([bulge / 2, bulge / 2, h])

    def words(self) -> str:
        """Return e.g. 'barrel, bulge diameter 0.6 m, end diameter 0.48 m, height 0.9 m, parabolic staves'."""
        return f"{Solid.words(self)}, {self.stave} staves"

    def _three(self) -> tuple[Dim, Dim, Dim]:
        return self.bulge_diameter_m, self.end_diameter_m, self.height_m

    def _size(self) -> tuple[float, float, float]:
        bulge, end, height = (scalar(self.kind, name, value) for name, value in self.dimensions().items())
        return bulge, end, height
