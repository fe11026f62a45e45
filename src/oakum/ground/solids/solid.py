"""What every solid answers: volume, centroid, coat, mesh, inside or outside, and itself in words."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, ClassVar, Self

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids.dims import Dim, FloatArray, Point, length_words
from oakum.ground.solids.errors import SolidError

if TYPE_CHECKING:
    from oakum.ground.solids.mesh import Mesh


class Solid(ABC):
    """A closed body in its own frame: metres, z up the axis, base at z = 0 (a mesh keeps its file's frame).

    Every dimension is a float or an array (n,) of draws; results broadcast to the same shape.
    """

    __slots__ = ()
    kind: ClassVar[str]

    @abstractmethod
    def volume_m3(self) -> Dim:
        """Return the enclosed volume, m3: a float, or (n,) when a dimension holds draws."""

    @abstractmethod
    def centroid_m(self) -> Point:
        """Return the centre of volume (x, y, z) in the own frame, m: each a float or (n,)."""

    @abstractmethod
    def grown(self, thickness_m: Dim, *, ends: bool = True) -> Solid:
        """Return the outside of a coat `thickness_m` >= 0 thick, measured square to the surface.

        Edges are mitred, not rounded. With `ends=False` the base and the top stay bare. The result has its
        own base at z = 0, so it must be placed `thickness_m` lower when the ends are coated: `grown_in_place`
        does that.
        """

    @abstractmethod
    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return a closed triangle mesh of the same volume (to rounding); scalar dimensions only.

        A circle becomes a polygon of `facets` sides and the *same area*, so its corners stand out by the
        share (2 pi/facets)^2/12 of the radius (0.14 % at 48) and every upright slice keeps its area.
        """

    @abstractmethod
    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return whether each of points (k, 3), own frame, m, lies inside (k,); scalar dimensions only."""

    @abstractmethod
    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the lowest and highest corner (3,) along the own axes, m; scalar dimensions only."""

    def dimensions(self) -> dict[str, Dim]:
        """Return the dimensions by name, m."""
        return {f.name: getattr(self, f.name) for f in fields(self) if f.name.endswith("_m")}  # type: ignore[arg-type]

    def with_dimensions(self, **changed: Dim) -> Self:
        """Return the same kind of solid with some dimensions changed; an unknown name raises `SolidError`."""
        known = self.dimensions()
        for name in changed:
            if name not in known:
                raise SolidError(f"{self.kind}: no dimension {name!r}; it has {', '.join(known)}.")
        return self._replaced(changed)

    def nominal(self) -> Self:
        """Return the solid with every array of draws replaced by its median, for a mesh or a drawing."""
        medians = {k: float(np.median(v)) for k, v in self.dimensions().items() if isinstance(v, np.ndarray)}
        return self._replaced(medians) if medians else self

    def words(self) -> str:
        """Return the solid in plain words, e.g. 'cylinder, radius 0.2 m, height 1.5 m'."""
        sizes = (f"{name[:-2].replace('_', ' ')} {length_words(v)}" for name, v in self.dimensions().items())
        return ", ".join((self.kind, *sizes))

    def _replaced(self, changed: dict[str, Any]) -> Self:
        return replace(self, **changed)  # type: ignore[type-var]


def check_points(points: FloatArray) -> FloatArray:
    """Return points as a (k, 3) float array or raise `SolidError`."""
    array = np.asarray(points, dtype=np.float64)
    if array.ndim != 2 or array.shape[1] != 3:
        raise SolidError(f"points must be an array of rows x, y, z; got shape {array.shape}.")
    return array
