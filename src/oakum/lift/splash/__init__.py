"""Through the surface: what the waves do to a load on its line, and in which sea an objection appears.

`simplified` asks the rule's load cases about a height, `limit_curve` the height at which the first objection
appears, by period. `in_time` puts the one-degree model with a slack line through many seas; `ensemble` does
so for one operation. A `Question` holds body, water, tip motion, line, hoist speed and what the hook bears.
"""

from oakum.lift.splash.added_mass import (
    AddedMass,
    cylinder_across,
    disc,
    ellipse,
    perforated,
    perforation_factor,
    plate,
    prism,
    with_height,
)
from oakum.lift.splash.body import Part, SplashBody
from oakum.lift.splash.cases import LoadCase, load_cases
from oakum.lift.splash.drive import RandomSea, RegularSea, SeaState
from oakum.lift.splash.ensemble import Counted, Ensemble, Run, ensemble, traced
from oakum.lift.splash.errors import SplashError
from oakum.lift.splash.first_root import first_crossing
from oakum.lift.splash.forces import CaseForces, Water, case_forces, wave_motion
from oakum.lift.splash.immersion import Hollow, Immersion
from oakum.lift.splash.in_time import TimeAnswer, in_time
from oakum.lift.splash.limits import LimitCurve, LimitPoint, limit_curve, skipper_value_m
from oakum.lift.splash.line import Line, in_series_n_m, transmission
from oakum.lift.splash.march import Trace
from oakum.lift.splash.model import SplashModel
from oakum.lift.splash.odds import Odds, clopper_pearson
from oakum.lift.splash.operations import Hoist, Hold, Operation, through_the_surface
from oakum.lift.splash.simplified import CaseLine, PeriodLine, Question, SimplifiedAnswer, simplified
from oakum.lift.splash.snap import fall_speed_m_s, snap_force_n, snap_peak_n, snap_speed_m_s
from oakum.lift.splash.step_check import StepCheck, step_check
from oakum.lift.splash.tip import (
    TipMeasured,
    TipMotion,
    TipPerHeight,
    TipResponse,
    TipSeen,
    TipStill,
    heave_and_roll,
    heave_and_roll_seen,
)
from oakum.lift.splash.validity import periods_s, why_not
from oakum.lift.splash.worst_level import WorstLevel, worst_level

__all__ = [
    "AddedMass",
    "CaseForces",
    "CaseLine",
    "Counted",
    "Ensemble",
    "Hoist",
    "Hold",
    "Hollow",
    "Immersion",
    "LimitCurve",
    "LimitPoint",
    "Line",
    "LoadCase",
    "Odds",
    "Operation",
    "Part",
    "PeriodLine",
    "Question",
    "RandomSea",
    "RegularSea",
    "Run",
    "SeaState",
    "SimplifiedAnswer",
    "SplashBody",
    "SplashError",
    "SplashModel",
    "StepCheck",
    "TimeAnswer",
    "TipMeasured",
    "TipMotion",
    "TipPerHeight",
    "TipResponse",
    "TipSeen",
    "TipStill",
    "Trace",
    "Water",
    "WorstLevel",
    "case_forces",
    "clopper_pearson",
    "cylinder_across",
    "disc",
    "ellipse",
    "ensemble",
    "fall_speed_m_s",
    "first_crossing",
    "heave_and_roll",
    "heave_and_roll_seen",
    "in_series_n_m",
    "in_time",
    "limit_curve",
    "load_cases",
    "perforated",
    "perforation_factor",
    "periods_s",
    "plate",
    "prism",
    "simplified",
    "skipper_value_m",
    "snap_force_n",
    "snap_peak_n",
    "snap_speed_m_s",
    "step_check",
    "through_the_surface",
    "traced",
    "transmission",
    "wave_motion",
    "why_not",
    "with_height",
    "worst_level",
]
