"""The plan of a lift: one frozen object that deck sheet, role cards, file, page, terminal and JSON all show.

Forces are shown as the reading of the load cell, in its unit. A verdict is an objection, or that none was
found under the stated assumptions; an empty field is not known, and where a check needs it, an objection.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from oakum.ground.estimate import Spread
from oakum.lift.bags import BagAnswer
from oakum.lift.checks import Check, verdict_words
from oakum.lift.cradle.report import CradleReport
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.seaway import SeawayAnswer
from oakum.lift.slings import SlingAnswer, SpreaderAnswer
from oakum.lift.turning import FrameAnswer, RollAnswer, TurnAnswer
from oakum.lift.weights.report import WeightReport

Answer = Literal["met", "not met", "not known", "on the day"]
"""How a go/no-go line stands. "on the day" is read and ticked on deck; it never counts as met in the plan."""

Stage = Literal["draft", "briefed", "released", "done", "abandoned"]


@dataclass(frozen=True, slots=True)
class GearItem:
    """A piece of gear as the register knows it on the day of the plan.

    Dates are ISO 8601 texts; None is not known. `objection` says why it may not be used, or is None.
    """

    key: str  # identity on the tag
    kind: str
    wll_kg: float | None
    wll_text: str
    certificate_until: str | None
    inspection_until: str | None
    where: str | None
    objection: str | None
    used_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RoleHeld:
    """A role of the lift and who holds it. `person` is the project's id; names are looked up by the face."""

    role: str
    duty: str  # what they do, in a sentence for their card
    person: str | None
    needs: tuple[str, ...] = ()  # competences the role asks for
    holds_until: str | None = None  # earliest expiry among them; None = not known
    confirmed: bool | None = None
    in_water: bool | None = None  # whether the role is in the water before the crossing of the surface
    objection: str | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the lift, in order."""

    number: int
    title: str
    action: str
    role: str
    minutes: Spread | None  # None = not known
    watch: str = ""  # what to look at, and the limit
    abort: str = ""  # what stops it here and what is done then
    divers: Literal["in", "out", "either"] = "either"
    key: str = ""  # by which the rig file and the minutes of other lifts name it


@dataclass(frozen=True, slots=True)
class GoLine:
    """One line of the go/no-go list: what must hold, and how it stands now."""

    key: str
    words: str
    answer: Answer
    by: str  # role that answers it
    why: str = ""


@dataclass(frozen=True, slots=True)
class TrialLift:
    """Expect `low` to `high` on the load cell, in its unit; outside it, stop."""

    unit: str
    low: float
    high: float
    height_m: tuple[float, float]
    hold_min: float
    above: str
    below: str


@dataclass(frozen=True, slots=True)
class Help:
    """What would help: the plan solved again with one thing changed, and what it costs the object."""

    title: str
    measure: str  # which number moves
    before: float | None
    after: float | None
    unit: str
    cost: str
    removes: tuple[str, ...] = ()  # objections that would go
    refused: str | None = None  # why it could not be solved; `after` is then None

    @property
    def gain(self) -> float | None:
        """Share by which the number falls; None where one of the two is not known."""
        if self.before is None or self.after is None or self.before <= 0.0:
            return None
        return 1.0 - self.after / self.before


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard of the object: charge, pressure, gas, remains, veneration, and what a named person says of it."""

    key: str
    words: str
    answer: Literal["excluded", "present", "authorised", "not known", "does not apply"]
    person: str | None
    on: str | None
    objection: str | None


@dataclass(frozen=True, slots=True)
class RigView:
    """The rig as drawn in one state (under water, in air): body frame, metres."""

    state: str  # "under water" | "in air"
    hook_m: tuple[float, float, float]
    attachments: tuple[tuple[str, tuple[float, float, float]], ...]
    leg_force_kg: tuple[Spread, ...]  # greatest force of each leg, as a load-cell reading
    from_horizontal_deg: tuple[float, ...]
    hanging_m: tuple[float, float, float]
    tilt_deg: float | None
    bags: tuple[
        tuple[str, tuple[float, float, float], float], ...
    ] = ()  # name, place of the mouth, volume in m3


@dataclass(frozen=True, slots=True)
class TurningAnswer:
    """A turning or rolling on the seabed by the name the rig file gives it, or why it could not be computed."""

    name: str
    turn: TurnAnswer | None = None
    frame: FrameAnswer | None = None
    roll: RollAnswer | None = None
    refused: str | None = None


@dataclass(frozen=True, slots=True)
class RaisingPlan:
    """Everything the plan says."""

    title: str
    number: str
    weight: WeightReport
    cell_unit: str
    under_water: SlingAnswer | None
    in_air: SlingAnswer | None
    bags: BagAnswer | None
    turning: tuple[TurningAnswer, ...]
    views: tuple[RigView, ...]
    checks: tuple[Check, ...]  # greatest utilisation first; not known before all others
    gear: tuple[GearItem, ...]
    roles: tuple[RoleHeld, ...]
    hazards: tuple[Hazard, ...]
    in_situ: str | None  # why it is not left where it is; None = no decision recorded
    steps: tuple[Step, ...]
    go_no_go: tuple[GoLine, ...]
    trial: TrialLift | None
    helps: tuple[Help, ...]
    stage: Stage
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    not_covered: tuple[str, ...]
    fingerprint: str  # of mass, rig and gear: a released plan is released for this one only
    version: str
    withdrawn: str | None = None  # why an earlier release no longer holds
    blocked_by: tuple[str, ...] = field(
        default=()
    )  # open questions on mass or gear, and who must settle each
    spreaders: tuple[tuple[str, SpreaderAnswer], ...] = ()  # state, answer
    rig: RigPlan | None = None  # as the rig file describes it
    advice: tuple[str, ...] = ()  # no objection, but better otherwise
    seaway: SeawayAnswer | None = None  # None: the rig file has no [seaway]
    cradle: CradleReport | None = None  # None: the find has no cradle

    @property
    def governing(self) -> Check | None:
        """The check with the greatest utilisation, or the first whose capacity is not known."""
        return self.checks[0] if self.checks else None

    @property
    def minutes(self) -> Spread | None:
        """Planned time of all steps; None while one of them is not known."""
        from oakum.lift.raising.minutes import total_minutes

        return total_minutes(self.steps)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)
