"""How a find comes up: its weight in every state, where it hangs, how the load grows as it leaves the water.

`parse_body` reads a body from a TOML text, `weigh` gives its `WeightReport`. `weighing_of` keeps the draws,
so that `load_at` can answer for any water level.
"""

from oakum.lift.body.errors import BodyFileError, Problem
from oakum.lift.body.file import mesh_names, parse_body
from oakum.lift.body.likely import PlacedPart, placed_parts
from oakum.lift.body.likely_solid import likely_solid
from oakum.lift.body.model import (
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
from oakum.lift.starts import StartingBody, starting_bodies
from oakum.lift.weights.report import CellReading, WeightReport
from oakum.lift.weights.report_json import report_dict
from oakum.lift.weights.weigh import report_of, weigh, weighing_of
from oakum.lift.weights.weighing import LevelLoad, Weighing, load_at

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
