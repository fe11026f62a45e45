"""The lines of the go/no-go list for sea, vessel and cradle."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from oakum.lift.checks import Check
from oakum.lift.cradle.report import CradleReport
from oakum.lift.raising.plan import Answer, GoLine
from oakum.lift.raising.roles import CONSERVATOR, HOIST, LEADER
from oakum.lift.raising.sea_words import CHART, HOOK, SLACK, limits_in_words
from oakum.lift.seaway import SeawayAnswer
from oakum.lift.vessel import VesselAnswer

_NO_SEA = "the rig file has no [seaway]"


def lines_at_sea(sea: SeawayAnswer | None, cradle: CradleReport | None) -> tuple[GoLine, ...]:
    """Return the lines, in the order they are read out."""
    return (*_sea(sea), *_vessel(sea), _cradle(cradle))


def _sea(sea: SeawayAnswer | None) -> tuple[GoLine, ...]:
    hook, slack = (
        _stands(sea, [] if sea is None or sea.splash is None else sea.splash.checks, keys)
        for keys in (HOOK, SLACK)
    )
    planned = ""
    if sea is not None and sea.asked.hs_m is not None and sea.asked.tz_s is not None:
        planned = f" at Hs {sea.asked.hs_m:g} m, Tz {sea.asked.tz_s:g} s"
    limits = limits_in_words(sea)
    told = f": {limits}" if limits else ""
    return (
        GoLine("sea", f"hook load through the surface within what the hook bears{planned}", hook[0], HOIST, hook[1]),
        GoLine("slack line", f"no slack line through the surface{planned}", slack[0], LEADER, slack[1]),
        GoLine(
            "sea on deck",
            f"Hs and Tz, forecast and as seen on deck, within the limit{told}",
            "on the day" if limits else "not known",
            LEADER,
            "" if limits else _no_limit(sea),
        ),
    )


def _stands(sea: SeawayAnswer | None, checks: Sequence[Check], keys: tuple[str, ...]) -> tuple[Answer, str]:
    if sea is None:
        return "not known", _NO_SEA
    found = [c for c in checks if c.key.startswith(keys)]
    broken = [c for c in found if c.objection]
    over = next((c for c in broken if c.utilisation is not None), None)
    if over is not None:
        return "not met", over.objection or ""
    if sea.splash is None or not found:
        return "not known", _first(_said_of_splash(sea), "nothing could be checked")
    by_check = {c.objection for c in checks}
    left = [c.objection or "" for c in broken] + [o for o in sea.splash.objections if o not in by_check]
    return ("not known", left[0]) if left else ("met", "")


def _said_of_splash(sea: SeawayAnswer) -> Iterable[str]:
    of_vessel = {o for v in sea.vessel for o in v.objections}
    return (o for o in (*sea.refused, *sea.objections) if o not in of_vessel)


def _no_limit(sea: SeawayAnswer | None) -> str:
    if sea is None:
        return _NO_SEA
    return _first(sea.curve.objections if sea.curve is not None else _said_of_splash(sea), "no limit could be given")


def _vessel(sea: SeawayAnswer | None) -> tuple[GoLine, ...]:
    answers = () if sea is None else sea.vessel
    (afloat, why_afloat), (chart, why_chart) = (_vessel_stands(sea, answers, chart) for chart in (False, True))
    page = next((v.book_page for v in answers if v.book_page), None)
    told = f": {page}" if page else ""
    return (
        GoLine(
            "vessel", "heel, freeboard and sudden loss of the load within their limits", afloat, HOIST, why_afloat
        ),
        GoLine("chart", "hook load within the load chart, at the radius with its heel", chart, HOIST, why_chart),
        GoLine(
            "book",
            f"the stability book covers this lift{told}",
            "on the day" if page else "not known",
            HOIST,
            "" if page else "no page of the vessel's stability book is quoted",
        ),
    )


def _vessel_stands(
    sea: SeawayAnswer | None, answers: Sequence[VesselAnswer], of_chart: bool
) -> tuple[Answer, str]:
    """Return how the vessel stands: by its load chart and derrick, or by all else."""
    if sea is None:
        return "not known", _NO_SEA
    if not answers:
        said = (o for o in (*sea.refused, *sea.objections) if "vessel" in o)
        return "not known", _first(said, "the vessel is not known")
    found = [c for v in answers for c in v.checks if c.key.startswith(CHART) is of_chart]
    over = next((c for c in found if c.objection and c.utilisation is not None), None)
    if over is not None:
        return "not met", over.objection or ""
    left = [c.objection for c in found if c.objection]
    left += [o for v in answers for o in v.objections if o.startswith(_OF_CHART) is of_chart]
    if left or not found:
        return "not known", _first(left, "nothing could be checked")
    return "met", ""


_OF_CHART = ("chart", "no load chart", "derrick")


def _cradle(cradle: CradleReport | None) -> GoLine:
    words = "cradle and frame carry the object in water, clear, on deck and on the road"
    if cradle is None:
        return GoLine("cradle", words, "not known", CONSERVATOR, "no cradle is described")
    over = next((c for c in cradle.checks if c.objection and c.utilisation is not None), None)
    if over is not None:
        return GoLine("cradle", words, "not met", CONSERVATOR, over.objection or "")
    why = _first((*(f"{part}: {w}" for part, w in cradle.refused), *cradle.objections), "")
    if why or not cradle.checks:
        return GoLine("cradle", words, "not known", CONSERVATOR, why or "nothing could be checked")
    return GoLine("cradle", words, "met", CONSERVATOR)


def _first(said: Iterable[str], otherwise: str) -> str:
    return next(iter(said), otherwise)
