"""A check of the lift: what is asked of a piece of gear or a limit, what it bears, and by which rule."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

WHO_GOVERNS = (
    "Planning support only: local codes, the stability book of the vessel, the papers of the gear and a competent "
    "person in charge govern the lift."
)
"""The caution that stands first beside every number of a lift."""


@dataclass(frozen=True, slots=True)
class Rule:
    """Where a limit or a factor comes from.

    `mark` is "read" (seen in the source), "memory, verify", "practice, no source" or "own calculation". A rule
    from memory may make a limit stricter, never looser.
    """

    key: str
    words: str
    source: str
    country: str = ""
    mark: str = "memory, verify"


@dataclass(frozen=True, slots=True)
class Check:
    """One line of the utilisation list.

    `demand` and `capacity` are in `unit`; `capacity` None is not known, which is an objection. `basis` says
    which value of the spread was taken, such as "95th percentile of the greatest force in this leg".
    """

    key: str
    title: str
    demand: float
    capacity: float | None
    unit: str
    basis: str
    rule: Rule
    objection: str | None = None

    @property
    def utilisation(self) -> float | None:
        """Demand over capacity; None where the capacity is not known or nothing."""
        if self.capacity is None or self.capacity <= 0.0:
            return None
        return self.demand / self.capacity


def hardest(checks: Iterable[Check]) -> Check | None:
    """Return the check with the highest utilisation, None where nothing could be checked."""
    rated = [c for c in checks if c.utilisation is not None]
    return max(rated, key=lambda c: c.utilisation or 0.0, default=None)


def verdict_words(objections: Sequence[str]) -> str:
    """Return one of the only two verdicts there are."""
    if objections:
        return "objection: " + "; ".join(objections)
    return "no objection found under these assumptions"
