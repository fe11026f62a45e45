"""The back of the deck sheet: in which sea to begin, by period, and what else ends the lift at sea."""

from __future__ import annotations

import textwrap
from math import ceil
from typing import Any

from oakum.draw.scale import decimals
from oakum.lift.raising.plan import RaisingPlan
from oakum.lift.seaway import Limit, SeawayAnswer
from oakum.lift.splash import LimitPoint
from oakum.report import plan_sea as say

_MOST = 8  # periods that find room in large type
NOBODY = "Nobody between load, rail and boom; nothing loose on deck."
"""What is asked of everybody against a load that is lost (practice, no source)."""


def back_data(plan: RaisingPlan) -> dict[str, Any] | None:
    """Return what the back says, None where the sea of the lift is not described."""
    sea = plan.seaway
    if sea is None:
        return None
    crossing = say.crossing_range(plan)
    points = () if sea.curve is None else sorted(sea.curve.points, key=lambda p: p.tz_s)
    shown = points if len(points) <= _MOST else _spread(points)
    return {
        "vessel": sea.vessel_title or say.NOT_KNOWN,
        "periods": [{"tz": f"{p.tz_s:g} s", "hs": begin_words(p)} for p in shown],
        "told": _told(points),
        "facts": [list(line) for line in _facts(sea)],
        "crossing": list(crossing) if crossing else ["", say.NOT_KNOWN],
        "first": _short(sea.first),
        "loss": f"{say.loss_words(say.worst_vessel(sea))}. {NOBODY}",
        "book": _short(say.book_words(sea)),
    }


def begin_words(point: LimitPoint) -> str:
    """Write a skipper's value for large type: a height, none, or that no objection was found."""
    if point.why_not:
        return "none"
    if point.skipper_m is None:
        return "no objection"
    return f"{decimals(point.skipper_m, 2)} m" if point.skipper_m >= 0.05 else "none"


def _told(points: list[LimitPoint] | tuple[LimitPoint, ...]) -> list[str]:
    """Return what must be read beside the values."""
    if not points:
        return ["No height can be given: see the objections in the file. Do not begin by this sheet."]
    said = [
        "0.7 of where an objection appears, rounded down. A period in between: the lower of its neighbours. A shorter "
        "or longer one: none."
    ]
    if any(begin_words(p) == "none" for p in points):
        said.append("none: an objection appears in any sea, or the method does not hold.")
    return said


def _facts(sea: SeawayAnswer) -> list[tuple[str, str, str]]:
    """Return (what, in this plan, objection from) of sea, radius, wind and heel."""
    asked = sea.asked
    hs, point = asked.hs_m, say.nearest_limit(sea)
    planned = "not known" if hs is None else f"{decimals(hs, 2)} m"
    tz = "Tz not known" if asked.tz_s is None else f"Tz {asked.tz_s:g} s"
    found = [(f"Hs at {tz}", planned, _solved(point))]
    for name, limit in (("radius", sea.radius), ("wind abeam", sea.wind)):
        found.append((name, *_limit(limit)))
    worst = say.worst_vessel(sea)
    if worst is not None:
        heel = "not known" if worst.heel_deg is None else f"up to {ceil(10 * worst.heel_deg.p95 - 1e-9) / 10:.1f}\u00b0"
        over = "not known" if worst.heel_limit_deg is None else f"{worst.heel_limit_deg:g}\u00b0"
        found.append((f"heel, load {worst.state}", heel, over))
    return found


def _solved(point: LimitPoint | None) -> str:
    if point is None:
        return "not known"
    if point.why_not:
        return "method does not hold"
    return "none found" if point.hs_m is None else f"{decimals(point.hs_m, 2)} m"


def _limit(limit: Limit | None) -> tuple[str, str]:
    asked, over = say.limit_pair(limit)
    if limit is not None and limit.value is None and limit.to is not None:
        return asked, "none found"
    return asked, _short(over, 60)


def _short(words: str, most: int = 150) -> str:
    return textwrap.shorten(words, most, placeholder=" \u2026")


def _spread(points: list[LimitPoint] | tuple[LimitPoint, ...]) -> list[LimitPoint]:
    """Return as many periods as have room, the first and the last among them."""
    step = (len(points) - 1) / (_MOST - 1)
    return [points[round(i * step)] for i in range(_MOST)]
