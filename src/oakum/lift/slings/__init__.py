"""Slings: what two, three or four legs to one hook carry, and what they are good for.

`sling_answer(load, rig)` is the whole question. The kernels beneath it are pure and work on arrays of draws:
`geometry` and `bounds` give the least and greatest force of every leg, `elastic` and `shared` how springy legs
share, `spreader_answer` a spreader beam, `factors` and `ratings` what a tag is worth in a given use.
"""

from oakum.lift.slings.answer import LegForces, SlingAnswer
from oakum.lift.slings.bounds import Bounds, bounds, null_vector
from oakum.lift.slings.elastic import Elastic, elastic, quick_misfit_n, shared, shared_worst
from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.factors import Factor
from oakum.lift.slings.geometry import Geometry, geometry, hook_over
from oakum.lift.slings.legs import (
    Fitting,
    FittingKind,
    Hitch,
    Hook,
    HookAt,
    HookByLengths,
    HookOver,
    HookTrimmed,
    Leg,
    LegKind,
    Load,
    Matched,
    Point,
    Rig,
)
from oakum.lift.slings.meeting import meeting_point
from oakum.lift.slings.ratings import Rating, fitting_rating, leg_rating
from oakum.lift.slings.ruling import SHARING, Hitches, Ruling, Sharing
from oakum.lift.slings.sets import SetFactor, set_factor
from oakum.lift.slings.solve import sling_answer
from oakum.lift.slings.spreader import (
    Spreader,
    SpreaderAnswer,
    SpreaderForces,
    euler_n,
    spreader_answer,
    spreader_forces,
)
from oakum.lift.slings.squeeze import squeeze_n
from oakum.lift.slings.stiffness import stiffness, wire_rope_ea_n
from oakum.lift.slings.tables import Listed, nearest, table

__all__ = [
    "SHARING",
    "Bounds",
    "Elastic",
    "Factor",
    "Fitting",
    "FittingKind",
    "Geometry",
    "Hitch",
    "Hitches",
    "Hook",
    "HookAt",
    "HookByLengths",
    "HookOver",
    "HookTrimmed",
    "Leg",
    "LegForces",
    "LegKind",
    "Listed",
    "Load",
    "Matched",
    "Point",
    "Rating",
    "Rig",
    "Ruling",
    "SetFactor",
    "Sharing",
    "SlingAnswer",
    "SlingError",
    "Spreader",
    "SpreaderAnswer",
    "SpreaderForces",
    "bounds",
    "elastic",
    "euler_n",
    "fitting_rating",
    "geometry",
    "hook_over",
    "leg_rating",
    "meeting_point",
    "nearest",
    "null_vector",
    "quick_misfit_n",
    "set_factor",
    "shared",
    "shared_worst",
    "sling_answer",
    "spreader_answer",
    "spreader_forces",
    "squeeze_n",
    "stiffness",
    "table",
    "wire_rope_ea_n",
]
