"""A lift in its sea: splash zone, vessel and hook put together from a weighing, a rig file and the vessel's papers."""

from oakum.lift.seaway.answer import Limit, SeawayAnswer
from oakum.lift.seaway.model import HeaveAndRollSeen, SeaAsked, SeaPart, TipAsked

__all__ = ["HeaveAndRollSeen", "Limit", "SeaAsked", "SeaPart", "SeawayAnswer", "TipAsked"]
