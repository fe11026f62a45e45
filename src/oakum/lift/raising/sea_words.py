"""What the deck is told of the sea: the limit by period, the one at the crossing, and how the sea answer stands."""

from __future__ import annotations

from oakum.lift.seaway import SeawayAnswer
from oakum.lift.splash import LimitPoint

HOOK, SLACK = ("splash-hook", "splash-snap"), ("splash-slack",)
CHART = ("chart", "derrick")
"""How the keys of checks begin that belong to one line of the go/no-go list."""


def limit_at(sea: SeawayAnswer | None) -> LimitPoint | None:
    """Return the point of the limit curve nearest the planned period; None without a curve or a period."""
    if sea is None or sea.curve is None or not sea.curve.points or sea.asked.tz_s is None:
        return None
    tz = sea.asked.tz_s
    return min(sea.curve.points, key=lambda p: abs(p.tz_s - tz))


def is_begun_in(point: LimitPoint) -> bool:
    """Whether a limit can be printed for this period: the method holds, and an objection appears in some sea."""
    return not point.why_not and point.skipper_m is not None


def limits_in_words(sea: SeawayAnswer | None) -> str:
    """Return the limits at all periods for the deck, "" where none can be printed."""
    if sea is None or sea.curve is None:
        return ""
    told = []
    for point in sea.curve.points:
        if is_begun_in(point):
            told.append(
                f"Tz {point.tz_s:g} s: Hs {point.skipper_m:.2f} m at most (an objection appears at {point.hs_m:.2f} m)"
            )
        elif point.why_not:
            told.append(f"Tz {point.tz_s:g} s: none, the method does not hold")
        elif point.hs_m is None:
            told.append(
                f"Tz {point.tz_s:g} s: no objection found up to Hs {point.steepest_m:.2f} m, the steepest there is"
            )
    return "; ".join(told) if any(not p.why_not for p in sea.curve.points) else ""


def crossing_words(sea: SeawayAnswer | None) -> str:
    """Return what the step through the surface says of the sea."""
    if sea is None:
        return "the sea is not in this plan: no limit of wave height is known"
    said = limits_in_words(sea)
    if not said:
        return "no limit of wave height could be given: see the objections"
    return f"sea seen on deck against what was computed: {said}; a period in between: the lower of its neighbours"
