"""The vessel: what its crane or derrick bears there, how it heels, what is left of freeboard and stability.

`parse_vessel` reads what is known about one; `vessel_answer(lift)` is the whole question. Beneath them:
`read_load_chart` and `read_motions` take the tables people send, `stability`, `lost_load`, `derrick` and `limits`
hold the kernels, `criteria` the published criteria as data.
"""

from oakum.lift.vessel.afloat import Afloat, afloat
from oakum.lift.vessel.answer import VesselAnswer
from oakum.lift.vessel.chart_file import read_load_chart
from oakum.lift.vessel.criteria import (
    Criterion,
    criteria,
    criteria_for,
    least_gm_fishing_m,
    vessel_classes,
)
from oakum.lift.vessel.derrick import Derrick, DerrickForces, derrick_forces, tip_height_m
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.examples import example_vessel
from oakum.lift.vessel.limits import (
    Boom,
    chart_load_kg,
    greatest_radius_m,
    greatest_wind_m_s,
    wind_moment_nm,
)
from oakum.lift.vessel.load_chart import Derating, LoadChart, Waters
from oakum.lift.vessel.lost_load import energy_m, first_roll_rad
from oakum.lift.vessel.motions import ResponseTable
from oakum.lift.vessel.motions_file import Per, read_motions
from oakum.lift.vessel.motions_seen import SeenMotion, SeenMotions
from oakum.lift.vessel.papers import Motions, Pivot, Side, VesselPapers, VesselSpread, WindArea, heading_key
from oakum.lift.vessel.particulars import (
    Aboard,
    FreeSurface,
    Head,
    HungLoad,
    StabilityBook,
    Vessel,
    VesselLift,
)
from oakum.lift.vessel.righting import RightingCurve
from oakum.lift.vessel.roll_test import (
    ROLL_FACTORS,
    RollTest,
    best_roll_gm_m,
    gm_by_heel_m,
    gm_by_roll_m,
    roll_test_gm_m,
)
from oakum.lift.vessel.solve import vessel_answer
from oakum.lift.vessel.stability import (
    SMALL_ANGLE_DEG,
    edge_drop_m,
    free_surface_m,
    greatest_load_kg,
    heel_rad,
    heeled_radius_m,
    kg_with_load_m,
    lifting_threshold_kg_m,
    righting_arm_m,
    sinkage_m,
    trim_rad,
    wall_sided_heel_rad,
    wall_sided_to_rad,
)
from oakum.lift.vessel.typed_rows import RowNote
from oakum.lift.vessel.vessel_file import VesselFileError, parse_vessel, vessel_files

__all__ = [
    "ROLL_FACTORS",
    "SMALL_ANGLE_DEG",
    "Aboard",
    "Afloat",
    "Boom",
    "Criterion",
    "Derating",
    "Derrick",
    "DerrickForces",
    "FreeSurface",
    "Head",
    "HungLoad",
    "LoadChart",
    "Motions",
    "Per",
    "Pivot",
    "ResponseTable",
    "RightingCurve",
    "RollTest",
    "RowNote",
    "SeenMotion",
    "SeenMotions",
    "Side",
    "StabilityBook",
    "Vessel",
    "VesselAnswer",
    "VesselError",
    "VesselFileError",
    "VesselLift",
    "VesselPapers",
    "VesselSpread",
    "Waters",
    "WindArea",
    "afloat",
    "best_roll_gm_m",
    "chart_load_kg",
    "criteria",
    "criteria_for",
    "derrick_forces",
    "edge_drop_m",
    "energy_m",
    "example_vessel",
    "first_roll_rad",
    "free_surface_m",
    "gm_by_heel_m",
    "gm_by_roll_m",
    "greatest_load_kg",
    "greatest_radius_m",
    "greatest_wind_m_s",
    "heading_key",
    "heel_rad",
    "heeled_radius_m",
    "kg_with_load_m",
    "least_gm_fishing_m",
    "lifting_threshold_kg_m",
    "parse_vessel",
    "read_load_chart",
    "read_motions",
    "righting_arm_m",
    "roll_test_gm_m",
    "sinkage_m",
    "tip_height_m",
    "trim_rad",
    "vessel_answer",
    "vessel_classes",
    "vessel_files",
    "wall_sided_heel_rad",
    "wall_sided_to_rad",
    "wind_moment_nm",
]
