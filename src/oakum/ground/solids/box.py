"""Box and plank: three square lengths, centred in x and y, base at z = 0."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids.dims import Dim, FloatArray, Point, not_negative, positive, scalar
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.solid import Solid, check_points

_CORNERS = np.array([[x, y, z] for z in (0, 1) for y in (-0.5, 0.5) for x in (-0.5, 0.5)])
_FACES = np.array(
    [
        *([0, 2, 3], [0, 3, 1], [4, 5, 7], [4, 7, 6], [0, 1, 5], [0, 5, 4]),
        *([1, 3, 7], [1, 7, 5], [3, 2, 6], [3, 6, 7], [2, 0, 4], [2, 4, 6]),
    ]
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Box(Solid):
    """A box `length_m` along x, `width_m` along y, `height_m` along z."""

    kind: ClassVar[str] = "box"
    length_m: Dim
    width_m: Dim
    height_m: Dim

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m", "height_m"):
            object.__setattr__(self, name, positive(self.kind, name, getattr(self, name)))

    def volume_m3(self) -> Dim:
        """Return length x width x height, m3."""
        return self.length_m * self.width_m * self.height_m

    def centroid_m(self) -> Point:
        """Return (0, 0, height/2), m."""
        return 0.0, 0.0, self.height_m / 2

    def grown(self, thickness_m: Dim, *, ends: bool = True) -> Box:
        """Return the box with a coat on its sides and, unless `ends=False`, on base and top."""
        t = not_negative(self.kind, "thickness_m", thickness_m)
        return Box(self.length_m + 2 * t, self.width_m + 2 * t, self.height_m + (2 * t if ends else 0.0))

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return the box as 12 triangles (exact; `facets` changes nothing)."""
        return Mesh(_CORNERS * self._sides(), _FACES)

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the box, faces included."""
        low, high = self.bounds_m()
        p = check_points(points)
        return np.asarray(((p >= low) & (p <= high)).all(axis=1))

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the two opposite corners, m."""
        sides = self._sides()
        return sides * (-0.5, -0.5, 0.0), sides * (0.5, 0.5, 1.0)

    def _sides(self) -> FloatArray:
        return np.array([scalar(self.kind, name, value) for name, value in self.dimensions().items()])


@dataclass(frozen=True, slots=True)
class Plank(Solid):
    """A plank lying flat: `length_m` along x, `width_m` along y, `thickness_m` along z."""

    kind: ClassVar[str] = "plank"
    length_m: Dim
    width_m: Dim
    thickness_m: Dim

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m", "thickness_m"):
            object.__setattr__(self, name, positive(self.kind, name, getattr(self, name)))

    def volume_m3(self) -> Dim:
        """Return length x width x thickness, m3."""
        return self._box().volume_m3()

    def centroid_m(self) -> Point:
        """Return (0, 0, thickness/2), m."""
        return self._box().centroid_m()

    def grown(self, thickness_m: Dim, *, ends: bool = True) -> Plank:
        """Return the plank with a coat on its edges and, unless `ends=False`, on both flat faces."""
        box = self._box().grown(thickness_m, ends=ends)
        return Plank(box.length_m, box.width_m, box.height_m)

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return the plank as 12 triangles (exact; `facets` changes nothing)."""
        return self._box().to_mesh()

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the plank, faces included."""
        return self._box().contains(points)

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the two opposite corners, m."""
        return self._box().bounds_m()

    def _box(self) -> Box:
        return Box(self.length_m, self.width_m, self.thickness_m)
