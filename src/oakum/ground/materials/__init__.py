"""What things are made of: a table of densities with spread and source, and the helpers for waterlogged wood.

`materials()` is the table that comes with the program; `with_own(rows)` lays the user's own rows on top. The
label of each density is its material, so all parts of one material share one draw.
"""

from oakum.ground.materials.table import MARKS, Material, MaterialError, materials, with_own
from oakum.ground.materials.wood import (
    OAK_CLASSES,
    WoodClass,
    basic_from_umax,
    cell_wall,
    oak_class,
    saturated_density,
    submerged_density,
    times_air_dry,
    umax_from_basic,
)

__all__ = [
    "MARKS",
    "OAK_CLASSES",
    "Material",
    "MaterialError",
    "WoodClass",
    "basic_from_umax",
    "cell_wall",
    "materials",
    "oak_class",
    "saturated_density",
    "submerged_density",
    "times_air_dry",
    "umax_from_basic",
    "with_own",
]
