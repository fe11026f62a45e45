"""Sentences and tables of a lift in its sea: what was asked, the limits, what deck and skipper are told."""

from __future__ import annotations

from math import ceil, floor

from oakum.draw.forces import reading, unit_words
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import decimals
from oakum.draw.sea_limit import skipper_words
from oakum.ground.gravity import G_M_S2
from oakum.lift.raising.plan import RaisingPlan
from oakum.lift.seaway import Limit, SeaAsked, SeawayAnswer
from oakum.lift.splash import LimitPoint, SimplifiedAnswer
from oakum.lift.vessel import VesselAnswer

NOT_KNOWN = "not known"
NO_LEAVE = "the point where an objection appears, not leave to go: lift leader and skipper decide on the day"


def sea_facts(asked: SeaAsked, vessel_title: str = "", line_n_m: float | None = None) -> tuple[tuple[str, str], ...]:
    """Return what the plan asks of the sea, name and value; what nobody said is not known."""
    hs = "Hs " + (NOT_KNOWN if asked.hs_m is None else f"{asked.hs_m:.2f} m")
    tz = "Tz " + (NOT_KNOWN if asked.tz_s is None else f"{asked.tz_s:g} s")
    heading = asked.heading or NOT_KNOWN
    return (
        ("Sea of this plan", f"{hs}, {tz}"),
        ("Vessel", vessel_title or asked.vessel or NOT_KNOWN),
        ("Heading to the waves", heading),
        ("Waters", asked.waters or NOT_KNOWN),
        ("Depth of water at the lift", _with(asked.depth_m, "m")),
        ("Radius", _with(asked.radius_m, "m")),
        ("Wind", _with(asked.wind_m_s, "m/s")),
        ("Hoist speed", _with(asked.hoist_m_s, "m/s")),
        ("Stiffness of line and slings", NOT_KNOWN if line_n_m is None else f"{figure(line_n_m / 1000)} kN/m"),
    )


def limit_words(sea: SeawayAnswer) -> tuple[str, ...]:
    """Say radius and wind at which an objection appears, and what stands against giving a limit of the sea."""
    said = [_sentence(limit.words) for limit in (sea.radius, sea.wind) if limit is not None]
    if sea.curve is None:
        said.append("No limit of the sea by period: see the objections.")
    elif not sea.curve.points:
        said += [_sentence(o) for o in sea.curve.objections]
    return tuple(said)


def nearest_limit(sea: SeawayAnswer) -> LimitPoint | None:
    """Return the limit that counts for the plan's own period: the lower of its neighbours; None without one.

    A neighbour at which the method does not hold counts before any other.
    """
    tz = sea.asked.tz_s
    if tz is None or sea.curve is None or not sea.curve.points:
        return None
    points = sorted(sea.curve.points, key=lambda p: p.tz_s)
    if tz < points[0].tz_s - 1e-9 or tz > points[-1].tz_s + 1e-9:
        return None
    below = max((p for p in points if p.tz_s <= tz + 1e-9), key=lambda p: p.tz_s)
    above = min((p for p in points if p.tz_s >= tz - 1e-9), key=lambda p: p.tz_s)
    return min((below, above), key=lambda p: (not p.why_not, _height(p)))


def skipper_lead(sea: SeawayAnswer) -> str:
    """Say in one sentence what the skipper is told for the plan's own period."""
    point = nearest_limit(sea)
    if point is None:
        return "No height is given to the skipper: the plan's period, or a limit near it, is not known."
    at = f"At Tz {point.tz_s:g} s"
    if sea.asked.tz_s is not None and abs(point.tz_s - sea.asked.tz_s) > 1e-9:
        at = f"At Tz {sea.asked.tz_s:g} s, by its lower neighbour Tz {point.tz_s:g} s,"
    if point.why_not:
        return f"{at} no height is given: the method does not hold."
    if point.hs_m is None or point.skipper_m is None:
        return f"{at} no objection found up to Hs {decimals(point.steepest_m, 2)} m, the steepest sea of that period."
    begin = "no sea is low enough to begin in"
    if point.skipper_m >= 0.05:
        begin = f"begin in Hs {decimals(point.skipper_m, 2)} m at most"
    return f"{at} {begin}: an objection appears at {decimals(point.hs_m, 2)} m ({point.objection})."


def bears_kg(splash: SimplifiedAnswer | None) -> float | None:
    """Return what hook and all under it bear at the radius used, None where it is not known."""
    if splash is None:
        return None
    return next((c.capacity for c in splash.checks if c.key == "splash-hook"), None)


def crossing_range(plan: RaisingPlan) -> tuple[str, str] | None:
    """Return (sea, range) of the line force through the surface as the cell reads it; None where not computed."""
    sea = plan.seaway
    if sea is None or sea.splash is None or not sea.splash.cases:
        return None
    splash, unit = sea.splash, plan.cell_unit
    low = max(0.0, min(c.static_least_n - c.hydro_n for c in splash.cases)) / G_M_S2
    tz = "" if sea.asked.tz_s is None else f", Tz {sea.asked.tz_s:g} s"
    at = f"Hs {decimals(splash.hs_m, 2)} m{tz}"
    if splash.hook_kg is None:
        return at, "not known: the line may go slack"
    return at, f"{reading(low, unit)} to {reading(splash.hook_kg, unit)} {unit_words(unit)}"


def skipper_rows(sea: SeawayAnswer) -> Rows:
    """Return, period by period, what the skipper is told and why."""
    points = () if sea.curve is None else sea.curve.points
    return Rows(
        "Begin in Hs at most, by mean period",
        ("Tz", "begin in Hs at most, m", "an objection appears at, m", "objection"),
        tuple(
            (
                f"{p.tz_s:g} s",
                skipper_words(p),
                "none found" if p.hs_m is None or p.why_not else decimals(p.hs_m, 2),
                "method does not hold: " + "; ".join(p.why_not) if p.why_not else p.objection or "none found",
            )
            for p in sorted(points, key=lambda p: p.tz_s)
        ),
    )


def limit_pair(limit: Limit | None) -> tuple[str, str]:
    """Return (what the plan has, where an objection appears) of a limit, for a sheet."""
    if limit is None:
        return NOT_KNOWN, NOT_KNOWN
    asked = _with(limit.asked, limit.unit)
    if limit.value is None:
        return asked, limit.why_not or NOT_KNOWN
    return asked, f"{decimals(floor(100 * limit.value + 1e-9) / 100, 2)} {limit.unit}"  # rounded down: never looser


def loss_words(answer: VesselAnswer | None) -> str:
    """Say what the vessel may do when the load is lost at once."""
    if answer is None or answer.first_roll_deg is None:
        return "Sudden loss of the load: how far she rolls to the other side is not known"
    return (
        f"Sudden loss of the load {answer.state}: she may roll up to {ceil(answer.first_roll_deg.p95)}\u00b0 to the "
        "other side, at once"
    )


def worst_vessel(sea: SeawayAnswer | None) -> VesselAnswer | None:
    """Return the state that heels the vessel most, None where she is not known."""
    if sea is None or not sea.vessel:
        return None
    return max(sea.vessel, key=lambda v: (v.heel_deg.p95 if v.heel_deg is not None else -1.0, v.load_kg.p95))


def vessel_said(sea: SeawayAnswer, what: str) -> tuple[str, ...]:
    """Return the objections, or cautions, that are the vessel's, each once."""
    return tuple(dict.fromkeys(words for v in sea.vessel for words in getattr(v, what)))


def sea_said(sea: SeawayAnswer, what: str) -> tuple[str, ...]:
    """Return the objections, or cautions, that are not the vessel's."""
    of_vessel = set(vessel_said(sea, what))
    return tuple(words for words in getattr(sea, what) if words not in of_vessel)


def book_words(sea: SeawayAnswer) -> str:
    """Quote the vessel's own stability book, which governs."""
    page = next((v.book_page for v in sea.vessel if v.book_page), None)
    if page is None:
        return "The vessel's own stability book governs; no page of it is quoted, and that is an objection."
    condition = ""
    book = None if sea.papers is None else sea.papers.vessel.book
    if book is not None and book.condition:
        condition = f", condition \u201c{book.condition}\u201d"
    return f"The vessel's own stability book governs: {page}{condition}."


def _with(value: float | None, unit: str) -> str:
    return NOT_KNOWN if value is None else f"{value:.3g} {unit}"


def _height(point: LimitPoint) -> float:
    return point.steepest_m if point.skipper_m is None else point.skipper_m


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:].rstrip(".") + "."
