"""What the plan is told besides weights and rig: gear register, people in their roles, hazards, decisions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from oakum.ground.estimate import Spread
from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.raising.plan import GearItem, Hazard, RoleHeld, Stage
from oakum.lift.vessel.papers import VesselPapers
from oakum.lift.weights.report import CellReading


@dataclass(frozen=True, slots=True)
class PlanContext:
    """The day's knowledge from the logbook.

    `on` is the day of the lift, ISO 8601: papers that end before it have lapsed. `in_situ` is why the find is
    not left where it is, None where no decision is recorded. `readings` are the load-cell readings the
    weighing rests on: where they disagree, the bags take the lesser of them against running away. `minutes`
    are learnt from earlier lifts, by step key, in minutes. `blocked_by` are open questions on mass or gear,
    each with who must settle it. `vessel`: papers of the vessel that the rig file names; `cradle` of the find; None:
    not known.
    """

    on: str
    gear: Mapping[str, GearItem] = field(default_factory=dict)
    roles: tuple[RoleHeld, ...] = ()
    hazards: tuple[Hazard, ...] = ()
    in_situ: str | None = None
    stage: Stage = "draft"
    number: str = ""
    readings: tuple[CellReading, ...] = ()
    minutes: Mapping[str, Spread] = field(default_factory=dict)
    blocked_by: tuple[str, ...] = ()
    open_questions: tuple[str, ...] = ()
    withdrawn: str | None = None
    vessel: VesselPapers | None = None
    cradle: CradlePlan | None = None
