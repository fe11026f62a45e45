"""Turning a body on the seabed: upright, flat, into its frame; rolling it to its chocks.

`turn_over` gives the whole `TurnAnswer` of one turning of a `Section` on its edge, `frame_steps` what each
point bears while a frame is fitted one side at a time, `roll` the rolling of a round body. Underneath,
`turn` gives force and edge forces over draws and angles.
"""

from oakum.lift.turning.answer import TurnAnswer, turn_over
from oakum.lift.turning.errors import TurningError
from oakum.lift.turning.frame import (
    Bearing,
    BearingLoad,
    FrameAnswer,
    FramePart,
    FrameStep,
    StepAnswer,
    frame_steps,
    two_bearings_n,
)
from oakum.lift.turning.hold import holding_n, thrown_j
from oakum.lift.turning.moments import Turn, friction_needed, raised_m, turn, weight_moment_nm
from oakum.lift.turning.pulls import BagPull, HandPull, LinePull, Pull
from oakum.lift.turning.roll import RollAnswer, Roller, chock_holds_n, roll, rolling_n
from oakum.lift.turning.section import Section

__all__ = [
    "BagPull",
    "Bearing",
    "BearingLoad",
    "FrameAnswer",
    "FramePart",
    "FrameStep",
    "HandPull",
    "LinePull",
    "Pull",
    "RollAnswer",
    "Roller",
    "Section",
    "StepAnswer",
    "Turn",
    "TurnAnswer",
    "TurningError",
    "chock_holds_n",
    "frame_steps",
    "friction_needed",
    "holding_n",
    "raised_m",
    "roll",
    "rolling_n",
    "thrown_j",
    "turn",
    "turn_over",
    "two_bearings_n",
    "weight_moment_nm",
]
