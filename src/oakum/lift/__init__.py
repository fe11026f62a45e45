"""How a find comes up: its weight in every state, where it hangs, how the load grows as it leaves the water.

`parse_body` reads a body from a TOML text, `weigh` gives its `WeightReport`. `weighing_of` keeps the draws,
so that `load_at` can answer for any water level.
"""

from oakum.lift.body import (
    ROLES,
    Bed,
    Body,
    BodyWater,
    Coat,
    Outlet,
    Part,
    Place,
    Repeat,
    SedimentFill,
    Shape,
    Stuff,
    WaterFill,
    joined,
)
from oakum.lift.body_errors import BodyFileError, Problem
from oakum.lift.body_file import mesh_names, parse_body
from oakum.lift.likely import PlacedPart, placed_parts
from oakum.lift.likely_solid import likely_solid
from oakum.lift.report_json import report_dict
from oakum.lift.starts import StartingBody, starting_bodies
from oakum.lift.weigh import report_of, weigh, weighing_of
from oakum.lift.weighing import LevelLoad, Weighing, load_at
from oakum.lift.weight_report import CellReading, WeightReport

__all__ = [
    "ROLES",
    "Bed",
    "Body",
    "BodyFileError",
    "BodyWater",
    "CellReading",
    "Coat",
    "LevelLoad",
    "Outlet",
    "Part",
    "Place",
    "PlacedPart",
    "Problem",
    "Repeat",
    "SedimentFill",
    "Shape",
    "StartingBody",
    "Stuff",
    "WaterFill",
    "Weighing",
    "WeightReport",
    "joined",
    "likely_solid",
    "load_at",
    "mesh_names",
    "parse_body",
    "placed_parts",
    "report_dict",
    "report_of",
    "starting_bodies",
    "weigh",
    "weighing_of",
]
