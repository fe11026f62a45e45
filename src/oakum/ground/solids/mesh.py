"""A closed triangle mesh: volume and centroid by signed tetrahedra.

Sources: divergence theorem on a polyhedron, volume = sum of v1 . (v2 x v3) / 6 (own derivation; checked in
the tests against closed forms and against a general mesh library).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids.closed import edge_faults
from oakum.ground.solids.dims import Dim, FloatArray, IntArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.solid import Solid


@dataclass(frozen=True, slots=True, eq=False)
class Mesh(Solid):
    """Closed triangles `faces` (m, 3) over `vertices` (n, 3), m, counter-clockwise seen from outside.

    Raises `SolidError` for an open, inconsistent, inverted, empty or non-finite mesh. Several closed bodies
    may share one mesh; self-intersection is not looked for, and a volume covered twice counts twice.
    """

    kind: ClassVar[str] = "closed mesh"
    vertices: FloatArray
    faces: IntArray

    def __post_init__(self) -> None:
        _settle(self, self.vertices, self.faces)
        faults = edge_faults(self.faces)
        if len(faults.open):
            raise SolidError(
                f"the mesh is open: {len(faults.open):,} edges belong to one triangle only, "
                f"{near(self.vertices, faults.open)}. Close the holes in the program it came from."
            )
        if len(faults.clashing):
            raise SolidError(
                f"the mesh has triangles turned against their neighbours along {len(faults.clashing):,} "
                f"edges, {near(self.vertices, faults.clashing)}. "
                "Make the winding consistent in the program it came from."
            )
        volume = signed_volume_m3(self.vertices, self.faces)
        extent = float(np.ptp(self.vertices, axis=0).max())
        if abs(volume) <= 1e-12 * extent**3:
            raise SolidError("the mesh encloses no volume: it is flat. A solid needs thickness.")
        if volume < 0:
            raise SolidError(
                f"the mesh is turned inside out (its volume comes to {volume:.4g} m3). "
                "Read it with turned=True, or reverse the order of the vertices in every triangle."
            )

    def volume_m3(self) -> float:
        """Return the enclosed volume, m3."""
        return signed_volume_m3(self.vertices, self.faces)

    def area_m2(self) -> float:
        """Return the area of the surface, m2."""
        return float(np.linalg.norm(face_vectors(self.vertices, self.faces), axis=1).sum() / 2)

    def centroid_m(self) -> tuple[float, float, float]:
        """Return the centre of volume, m."""
        origin = _middle(self.vertices)
        a, b, c = _corners(self.vertices - origin, self.faces)
        six_volumes = np.einsum("ij,ij->i", a, np.cross(b, c))
        x, y, z = origin + six_volumes @ (a + b + c) / (4 * six_volumes.sum())
        return float(x), float(y), float(z)

    def grown(self, thickness_m: Dim, *, ends: bool = True) -> Mesh:
        """Return the mesh with a coat all round: see `mesh_coat.coated` (`ends` must stay True)."""
        from oakum.ground.solids.mesh_coat import coated

        return coated(self, thickness_m, ends=ends)

    def to_mesh(self, facets: int = 48) -> Mesh:
        """Return the mesh itself."""
        return self

    def contains(self, points: FloatArray) -> NDArray[np.bool_]:
        """Return for points (k, 3) whether each lies inside: see `oakum.ground.solids.inside`."""
        from oakum.ground.solids.inside import winding_number

        return winding_number(self, points) > 0

    def bounds_m(self) -> tuple[FloatArray, FloatArray]:
        """Return the lowest and the highest corner of the box along the axes, m."""
        return self.vertices.min(axis=0), self.vertices.max(axis=0)

    def words(self) -> str:
        """Return e.g. 'closed mesh of 12,000 triangles, 1.2 by 0.8 by 0.5 m'."""
        x, y, z = np.ptp(self.vertices, axis=0)
        return f"closed mesh of {len(self.faces):,} triangles, {x:.3g} by {y:.3g} by {z:.3g} m"

    def with_vertices(self, vertices: FloatArray) -> Mesh:
        """Return the same triangles over moved vertices (n, 3); still closed, so not checked again."""
        moved = object.__new__(Mesh)
        _settle(moved, vertices, self.faces)
        return moved

    def scaled(self, factor: float) -> Mesh:
        """Return the mesh scaled about its own origin by `factor` > 0: volume by its cube."""
        if not (np.isfinite(factor) and factor > 0):
            raise SolidError(f"a mesh is scaled by a factor greater than zero, got {factor:g}.")
        return self.with_vertices(self.vertices * factor)

    def scaled_to(self, volume_m3: float) -> Mesh:
        """Return the mesh scaled about its centroid to enclose `volume_m3` > 0."""
        if not (np.isfinite(volume_m3) and volume_m3 > 0):
            raise SolidError(f"a mesh is scaled to a volume greater than zero, got {volume_m3:g} m3.")
        centre = np.array(self.centroid_m())
        factor = (volume_m3 / self.volume_m3()) ** (1 / 3)
        return self.with_vertices(centre + (self.vertices - centre) * factor)


def signed_volume_m3(vertices: FloatArray, faces: IntArray) -> float:
    """Return sum v1 . (v2 x v3) / 6 over the triangles, m3: positive when wound outward."""
    # Taken from the middle of the box, so that a mesh far from its origin loses no digits.
    a, b, c = _corners(vertices - _middle(vertices), faces)
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)


def face_vectors(vertices: FloatArray, faces: IntArray) -> FloatArray:
    """Return (v2 - v1) x (v3 - v1) per triangle (m, 3): outward normal times twice the area, m2."""
    a, b, c = _corners(vertices, faces)
    return np.asarray(np.cross(b - a, c - a))


def near(vertices: FloatArray, edges: IntArray) -> str:
    """Return where edges (k, 2) are, in words: 'around x 0.1, y 0.2, z 0.3 m'."""
    x, y, z = vertices[edges].mean(axis=1)[0]
    more = " and elsewhere" if len(edges) > 1 else ""
    return f"around x {x:.3g}, y {y:.3g}, z {z:.3g} m{more}"


def _corners(vertices: FloatArray, faces: IntArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    return vertices[faces[:, 0]], vertices[faces[:, 1]], vertices[faces[:, 2]]


def _middle(vertices: FloatArray) -> FloatArray:
    return np.asarray((vertices.min(axis=0) + vertices.max(axis=0)) / 2)


def _settle(mesh: Mesh, vertices: FloatArray, faces: IntArray) -> None:
    """Store checked, read-only copies."""
    v = np.array(vertices, dtype=np.float64)
    f = np.array(faces, dtype=np.int64)
    if v.ndim != 2 or v.shape[1] != 3 or f.ndim != 2 or f.shape[1] != 3 or len(f) < 4:
        raise SolidError(
            "a mesh needs vertices as rows x, y, z and at least four triangles as rows of three "
            f"vertex numbers; got shapes {v.shape} and {f.shape}."
        )
    if not np.isfinite(v).all():
        raise SolidError(
            f"the mesh has {int((~np.isfinite(v)).any(axis=1).sum()):,} vertices that are not finite numbers."
        )
    if f.min() < 0 or f.max() >= len(v):
        raise SolidError(f"the mesh names a vertex that is not there: it has {len(v):,}, numbered from 0.")
    v.flags.writeable = False
    f.flags.writeable = False
    object.__setattr__(mesh, "vertices", v)
    object.__setattr__(mesh, "faces", f)
