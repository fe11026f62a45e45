"""A coat on a mesh: every vertex moved out along its area-weighted normal."""

from __future__ import annotations

import numpy as np

from oakum.ground.solids.dims import Dim, FloatArray, Point, not_negative, scalar
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.mesh import Mesh, face_vectors

_LONGEST = 3.0  # a mitre at a sharp edge reaches out at most this many coats
_MOST_TURNED = 0.2  # more of the surface than this turned over: the coat has closed hollows on itself


def coated(mesh: Mesh, thickness_m: Dim, *, ends: bool = True) -> Mesh:
    """Return the outside of a coat of `thickness_m` >= 0 (one number) all round the mesh, m.

    A vertex moves by thickness x (area of its triangles) / |their vector area|, which makes the added volume
    area x thickness to first order, also at edges (mitred). Second-order error: about thickness / smallest
    radius of curvature. An enclosed hollow is coated inside as well. Raises `SolidError` where more than a fifth
    of the surface would turn over, because the coat is thicker than a bore or a hollow is wide.
    """
    if not ends:
        raise SolidError("closed mesh: a mesh has no base and top to leave bare; coat it all round.")
    t = scalar("closed mesh", "thickness_m", not_negative("closed mesh", "thickness_m", thickness_m))
    grown = mesh.with_vertices(mesh.vertices + t * _directions(mesh))
    _check(mesh, grown, t)
    return grown


def coat_moments(mesh: Mesh, thickness_m: Dim) -> tuple[Dim, Point]:
    """Return volume, m3, and centroid, m, of `coated` for draws of the thickness (n,), without a mesh a draw.

    Exact: volume is a cubic and its first moment a quartic in the thickness, fixed by five meshes.
    """
    t = np.asarray(not_negative("closed mesh", "thickness_m", thickness_m))
    thickest = float(t.max())
    if thickest == 0:
        x, y, z = mesh.centroid_m()
        same = np.ones_like(t)
        return mesh.volume_m3() * same, (x * same, y * same, z * same)
    outward = _directions(mesh)
    shares = np.linspace(0.0, 1.0, 5)
    stages = [mesh.with_vertices(mesh.vertices + share * thickest * outward) for share in shares]
    volumes = np.array([stage.volume_m3() for stage in stages])
    _check(mesh, stages[-1], thickest)
    moments = np.column_stack(
        (volumes, volumes[:, None] * np.array([stage.centroid_m() for stage in stages]))
    )
    coefficients = np.linalg.solve(np.vander(shares, increasing=True), moments)
    volume, *firsts = (np.polynomial.polynomial.polyval(t / thickest, column) for column in coefficients.T)
    x, y, z = (first / volume for first in firsts)
    return volume, (x, y, z)


def _directions(mesh: Mesh) -> FloatArray:
    """Return how far and which way each vertex moves per metre of coat (n, 3)."""
    vectors = face_vectors(mesh.vertices, mesh.faces)
    areas = np.linalg.norm(vectors, axis=1)
    corner = mesh.faces.ravel()
    count = len(mesh.vertices)
    total = np.column_stack([np.bincount(corner, np.repeat(vectors[:, k], 3), count) for k in range(3)])
    area = np.bincount(corner, np.repeat(areas, 3), count)
    length = np.linalg.norm(total, axis=1)
    flat = np.where(length > 0, length, 1.0)
    reach = np.minimum(area / flat, _LONGEST)
    return np.asarray(total / flat[:, None] * reach[:, None])


def _check(mesh: Mesh, grown: Mesh, thickness_m: float) -> None:
    before, after = face_vectors(mesh.vertices, mesh.faces), face_vectors(grown.vertices, mesh.faces)
    area = np.linalg.norm(before, axis=1)
    turned = np.einsum("ij,ij->i", before, after) < 0
    if area[turned].sum() > _MOST_TURNED * area.sum():
        raise SolidError(
            f"closed mesh: a coat of {thickness_m:.3g} m is too thick for the hollows or the roughness of this "
            "mesh. Give a thinner coat, smooth the mesh, or model the crust as its own part."
        )
