"""The part of a mesh below each of many water levels: volume and its centre, exact for the polyhedron.

Every triangle is cut at z = level and summed as a tetrahedron whose apex lies on that plane; the flat lid of
the cut then has no volume of its own and need not be built (own derivation by the divergence theorem).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.ground.solids.dims import FloatArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.mesh import Mesh, face_vectors

_PAIRS = 2_000_000  # triangle-level pairs looked at together: some tens of megabytes


@dataclass(frozen=True, slots=True, eq=False)
class Submerged:
    """What lies below each of k levels: volume (k,) m3, centre (k, 3) m (nan where nothing is under)."""

    volume_m3: FloatArray
    centroid_m: FloatArray


def submerged(mesh: Mesh, levels: FloatArray | float) -> Submerged:
    """Return the volume and centroid of the mesh below each water level z, m (one level or a row of them)."""
    z = np.atleast_1d(np.asarray(levels, dtype=np.float64))
    if z.ndim != 1 or not np.isfinite(z).all():
        raise SolidError("water levels must be one row of finite heights z in metres.")
    low, high = mesh.bounds_m()
    origin = (low + high) / 2
    cut = _Cut(mesh.vertices[mesh.faces] - origin, face_vectors(mesh.vertices, mesh.faces))
    sums = np.zeros((len(z), 4))
    step = max(1, _PAIRS // len(mesh.faces))
    for start in range(0, len(z), step):
        part = slice(start, start + step)
        sums[part] = cut.whole(z[part] - origin[2]) + cut.crossing(z[part] - origin[2])
    total = mesh.volume_m3()
    volume = np.clip(sums[:, 0], 0.0, total)
    volume[z <= low[2]], volume[z >= high[2]] = 0.0, total
    centroid = np.full((len(z), 3), np.nan)
    under = volume > 0
    centroid[under] = sums[under, 1:] / volume[under, None] + origin
    # A sliver's centre is lost in rounding; the body's own box and the water level still bound it.
    ceiling = np.tile(high, (len(z), 1))
    ceiling[:, 2] = np.minimum(high[2], z)
    centroid[under] = np.clip(centroid[under], low, ceiling[under])
    return Submerged(volume, centroid)


class _Cut:
    """The triangles of one mesh, corners (m, 3, 3) about its middle, ready to be cut at many levels."""

    def __init__(self, corners: FloatArray, normals: FloatArray) -> None:
        self.corners, self.normals = corners, normals
        self.lowest, self.highest = corners[:, :, 2].min(axis=1), corners[:, :, 2].max(axis=1)
        order = np.argsort(self.highest, kind="stable")
        self.tops = self.highest[order]
        # With apex (0, 0, z): 6 V = D - z N and 24 moment = (D - z N)(S + apex), so sums of these are enough.
        d = np.einsum("ij,ij->i", corners[:, 0], normals)
        n = normals[:, 2]
        s = corners.sum(axis=1)
        terms = np.column_stack((d, n, d[:, None] * s, n[:, None] * s))[order]
        self.sums = np.vstack((np.zeros(8), np.cumsum(terms, axis=0)))

    def whole(self, z: FloatArray) -> FloatArray:
        """Return 'volume, moments' (k, 4) of the triangles wholly at or below each level (k,)."""
        below = self.sums[np.searchsorted(self.tops, z, side="right")]
        d, n, ds, ns = below[:, 0], below[:, 1], below[:, 2:5], below[:, 5:8]
        six = d - z * n
        moment = ds - z[:, None] * ns
        moment[:, 2] += z * six
        return np.column_stack((six / 6, moment / 24))

    def crossing(self, z: FloatArray) -> FloatArray:
        """Return 'volume, moments' (k, 4) of the parts below each level of the triangles that cross it."""
        level, triangle = np.nonzero((self.lowest < z[:, None]) & (self.highest > z[:, None]))
        height = z[level]
        corners = self.corners[triangle]
        above = corners[:, :, 2] > height[:, None]
        two_above = above.sum(axis=1) == 2
        # The corner alone on its side, then the other two in turn.
        first = np.argmax(np.where(two_above[:, None], ~above, above), axis=1)
        rows = np.arange(len(first))
        lone, a, b = corners[rows, first], corners[rows, (first + 1) % 3], corners[rows, (first + 2) % 3]
        drop = height - lone[:, 2]
        share_a, share_b = drop / (a[:, 2] - lone[:, 2]), drop / (b[:, 2] - lone[:, 2])
        apex_z = np.column_stack((np.zeros((len(rows), 2)), height))
        six = np.einsum("ij,ij->i", lone - apex_z, self.normals[triangle])
        tip = share_a * share_b * six
        tip_sum = 3 * lone + share_a[:, None] * (a - lone) + share_b[:, None] * (b - lone) + apex_z
        full_sum = lone + a + b + apex_z
        volume = np.where(two_above, tip, six - tip)
        tip_moment = tip[:, None] * tip_sum
        moment = np.where(two_above[:, None], tip_moment, six[:, None] * full_sum - tip_moment)
        terms = np.column_stack((volume / 6, moment / 24))
        columns = [np.bincount(level, weights=terms[:, c], minlength=len(z)) for c in range(4)]
        return np.column_stack(columns)
