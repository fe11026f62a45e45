"""The answer to "what do the slings carry?": one frozen object for page, sheet and JSON alike.

Forces are spreads in newtons; checks are in kg, force / g, as tags and load cells say it. Angles of legs are
from the horizontal. Points are in the load's own frame, metres.
"""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.estimate import Spread
from oakum.lift.checks import Check, Rule, hardest, verdict_words
from oakum.lift.slings.legs import Point


@dataclass(frozen=True, slots=True)
class LegForces:
    """One leg.

    `greatest_n` and `least_n`: the extremes statics allows; `elastic_n`: by the springs of the legs as cut,
    None where they are not known. `horizontal_n`: horizontal part of the greatest force. `governing_kg`: what
    the checks take, force / g. `capacity_words`: how the rating came about.
    """

    name: str
    gear: str
    attachment_m: Point
    length_m: Spread
    greatest_n: Spread
    least_n: Spread
    elastic_n: Spread | None
    from_horizontal_deg: Spread
    horizontal_n: Spread
    governing_kg: float
    capacity_words: str


@dataclass(frozen=True, slots=True)
class SlingAnswer:
    """Everything about the slings under one load.

    `squeeze_x_n`, `squeeze_y_n`: how hard inclined legs press the load together along and across, at their
    worst. `roll_deg`: two legs only, about the line of the attachments. `infeasible`: share of the draws in
    which a leg would push or the load turn over; they are left out of the spreads. `checks` are sorted, the
    hardest used first, those without capacity before all.
    """

    load: str
    hook_m: Point
    hook_load_n: Spread
    tilt_deg: Spread
    roll_deg: Spread | None
    legs: tuple[LegForces, ...]
    squeeze_x_n: Spread
    squeeze_y_n: Spread
    ruling: Rule
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    advice: tuple[str, ...]
    assumptions: tuple[str, ...]
    open_questions: tuple[str, ...]
    rules: tuple[Rule, ...]
    infeasible: float
    draws: int

    @property
    def governing(self) -> Check | None:
        """The check with the highest utilisation, None where nothing could be checked."""
        return hardest(self.checks)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)
