"""Where a solid stands in the body: three turns, then a shift."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.ground.solids.dims import Dim, FloatArray, Point, as_dim, scalar
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.solid import Solid, check_points


@dataclass(frozen=True, slots=True)
class Placement:
    """Turn about the body's x axis, then its y axis, then its z axis, then shift by (x, y, z) in metres.

    Axes are fixed (they do not turn with the part); degrees count counter-clockwise seen from the axis' tip.
    Any value may be an array (n,) of draws for `move`; `matrix` and `apply` need single numbers. Example:
    `turn_y_deg=90` lays a standing cylinder down along +x.
    """

    x_m: Dim = 0.0
    y_m: Dim = 0.0
    z_m: Dim = 0.0
    turn_x_deg: Dim = 0.0
    turn_y_deg: Dim = 0.0
    turn_z_deg: Dim = 0.0

    def __post_init__(self) -> None:
        for name in self.__slots__:
            object.__setattr__(self, name, as_dim("placement", name, getattr(self, name)))

    def matrix(self) -> FloatArray:
        """Return the 4 by 4 matrix that takes (x, y, z, 1) from the solid's frame to the body's."""
        for name in self.__slots__:
            scalar("placement", name, getattr(self, name))
        columns = [self.turned((1.0, 0.0, 0.0)), self.turned((0.0, 1.0, 0.0)), self.turned((0.0, 0.0, 1.0))]
        out = np.eye(4)
        out[:3, :3] = np.array(columns, dtype=np.float64).T
        out[:3, 3] = self.x_m, self.y_m, self.z_m
        return out

    def apply(self, points: FloatArray) -> FloatArray:
        """Return points (k, 3) of the solid's frame in the body's frame, m."""
        matrix = self.matrix()
        return np.asarray(check_points(points) @ matrix[:3, :3].T + matrix[:3, 3])

    def undo(self, points: FloatArray) -> FloatArray:
        """Return points (k, 3) of the body's frame in the solid's frame, m."""
        matrix = self.matrix()
        return np.asarray((check_points(points) - matrix[:3, 3]) @ matrix[:3, :3])

    def move(self, point: Point) -> Point:
        """Return one point, for example a centroid; every coordinate may be a float or draws (n,)."""
        x, y, z = self.turned(point)
        return x + self.x_m, y + self.y_m, z + self.z_m

    def turned(self, vector: Point) -> Point:
        """Return a vector turned but not shifted; every component may be a float or draws (n,)."""
        x, y, z = vector
        y, z = _turned(y, z, self.turn_x_deg)
        z, x = _turned(z, x, self.turn_y_deg)
        x, y = _turned(x, y, self.turn_z_deg)
        return x, y, z


def place(mesh: Mesh, placement: Placement) -> Mesh:
    """Return the mesh in the body's frame."""
    return mesh.with_vertices(placement.apply(mesh.vertices))


def grown_in_place(
    solid: Solid, thickness_m: Dim, placement: Placement, *, ends: bool = True
) -> tuple[Solid, Placement]:
    """Return a coat's outside with the placement that leaves the solid in the middle of it.

    A grown solid has its base at z = 0 again, so with coated ends it is shifted down its own axis by the
    coat; a mesh keeps its frame and is not shifted.
    """
    coat = solid.grown(thickness_m, ends=ends)
    if isinstance(solid, Mesh) or not ends:
        return coat, placement
    down_x, down_y, down_z = placement.turned((0.0, 0.0, -1.0))
    return coat, Placement(
        placement.x_m + thickness_m * down_x,
        placement.y_m + thickness_m * down_y,
        placement.z_m + thickness_m * down_z,
        placement.turn_x_deg,
        placement.turn_y_deg,
        placement.turn_z_deg,
    )


def _turned(u: Dim, v: Dim, degrees: Dim) -> tuple[Dim, Dim]:
    """Return (u, v) turned in its own plane from u towards v; quarter turns are exact."""
    quarters = np.round(np.asarray(degrees) / 90.0)
    rest = np.radians(degrees - 90.0 * quarters)
    c, s = np.cos(rest), np.sin(rest)
    q = quarters % 4
    cos = np.select([q == 0, q == 1, q == 2], [c, -s, -c], s)
    sin = np.select([q == 0, q == 1, q == 2], [s, c, -s], -c)
    first, second = cos * u - sin * v, sin * u + cos * v
    return (float(first), float(second)) if np.ndim(first) == 0 else (first, second)
