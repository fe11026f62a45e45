"""A lift in its sea: splash zone, vessel and hook put together from a weighing, a rig file and the vessel's papers.

`seaway_answer` is the whole question. `seaway_question` is what the splash zone's time domain is asked.
"""

from oakum.lift.seaway.answer import Limit, SeawayAnswer
from oakum.lift.seaway.body import SplashShape, splash_body, splash_shape
from oakum.lift.seaway.inputs import SeawayInputs, seaway_question, slings_n_m
from oakum.lift.seaway.model import HeaveAndRollSeen, SeaAsked, SeaPart, TipAsked
from oakum.lift.seaway.solve import seaway_answer

__all__ = [
    "HeaveAndRollSeen",
    "Limit",
    "SeaAsked",
    "SeaPart",
    "SeawayAnswer",
    "SeawayInputs",
    "SplashShape",
    "TipAsked",
    "seaway_answer",
    "seaway_question",
    "slings_n_m",
    "splash_body",
    "splash_shape",
]
