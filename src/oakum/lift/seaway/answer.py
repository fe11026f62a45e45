"""The answer to "in which sea, from which vessel": one frozen object for page, sheet and JSON alike."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.lift.checks import Check, hardest, verdict_words
from oakum.lift.seaway.model import SeaAsked
from oakum.lift.splash import LimitCurve, SimplifiedAnswer, SplashBody
from oakum.lift.vessel import VesselAnswer
from oakum.lift.vessel.papers import VesselPapers


@dataclass(frozen=True, slots=True)
class Limit:
    """How far one thing may go until an objection appears.

    `value` in `unit` is the smallest at which `objection` appears, None where none does within what can be looked
    at or where nothing could be solved; `why_not` then says which. `asked` is what the plan has. `to`: how far was
    looked.
    """

    what: str
    unit: str
    value: float | None
    objection: str | None
    asked: float | None
    why_not: str = ""
    to: float | None = None

    @property
    def is_over(self) -> bool:
        """Whether the plan is at or beyond the point where the objection appears."""
        return self.value is not None and self.asked is not None and self.asked >= self.value

    @property
    def words(self) -> str:
        """The limit in a sentence."""
        plan = "" if self.asked is None else f"; the plan has {self.asked:.3g} {self.unit}"
        if self.value is not None:
            return (
                f"{self.what}: an objection appears at {self.value:.2f} {self.unit} ({self.objection}){plan}"
            )
        return f"{self.what}: {self.why_not}{plan}"


@dataclass(frozen=True, slots=True)
class SeawayAnswer:
    """Everything about a lift in its sea.

    `splash`: the plan's sea by the simplified method, None where Hs, Tz or the tip motion is not known. `curve`:
    Hs at which the first objection appears, by period. `vessel`: under water and in air, empty where the vessel is
    not known. `first`: which of sea, vessel and hook fails first, in a sentence. `refused`: what could not be
    computed at all, among the objections too. `line_n_m`: hoist line and slings in series. `papers` and `body` are what
    was read and what hangs in the splash zone, for the drawings, with a few of its draws; None: not known.
    """

    asked: SeaAsked
    vessel_title: str
    splash: SimplifiedAnswer | None
    curve: LimitCurve | None
    vessel: tuple[VesselAnswer, ...]
    radius: Limit | None
    wind: Limit | None
    first: str
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    advice: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    refused: tuple[str, ...] = ()
    line_n_m: float | None = None
    papers: VesselPapers | None = None
    body: SplashBody | None = None

    @property
    def governing(self) -> Check | None:
        """The check with the highest utilisation, None where nothing could be checked."""
        return hardest(self.checks)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)
