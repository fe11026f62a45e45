"""Solids: primitives and closed meshes, with volume, centroid, coat, and submerged part.

Every solid has its own frame in metres: z up its axis, base at z = 0 (a mesh keeps its file's frame). A
dimension may be a float or an array (n,) of draws. `read_mesh` stands in `oakum.ground.solids.mesh_file`.
"""

from oakum.ground.solids.barrel import Barrel
from oakum.ground.solids.box import Box, Plank
from oakum.ground.solids.cylinder import Cylinder
from oakum.ground.solids.dims import Dim, Point
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.frustum import Frustum
from oakum.ground.solids.holed_disc import HoledDisc
from oakum.ground.solids.mesh import Mesh
from oakum.ground.solids.mesh_coat import coat_moments
from oakum.ground.solids.overlap import overlap_fraction, quadrature_points
from oakum.ground.solids.placement import Placement, grown_in_place, place
from oakum.ground.solids.ring import Ring
from oakum.ground.solids.solid import Solid
from oakum.ground.solids.stave import Stave
from oakum.ground.solids.submerged import Submerged, submerged

__all__ = [
    "Barrel",
    "Box",
    "Cylinder",
    "Dim",
    "Frustum",
    "HoledDisc",
    "Mesh",
    "Placement",
    "Plank",
    "Point",
    "Ring",
    "Solid",
    "SolidError",
    "Stave",
    "Submerged",
    "coat_moments",
    "grown_in_place",
    "overlap_fraction",
    "place",
    "quadrature_points",
    "submerged",
]
