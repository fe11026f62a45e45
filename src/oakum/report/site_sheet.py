"""The plan on paper at a round scale, A4 or A3, with what must be known of it; and a diver's sheet of one square."""

from __future__ import annotations

import math
from base64 import b64encode
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from oakum.desk.seabed.exports import about_of
from oakum.desk.seabed.plan_items import PlanItems, PlanOutline, PlanPicture, plan_items
from oakum.desk.seabed.registering import drawing_of
from oakum.desk.seabed.survey import SurveyAnswer
from oakum.desk.seabed.warping import laid_picture
from oakum.draw.rows import Rows
from oakum.draw.scale import PRINT_SCALES, decimals
from oakum.draw.site_key import site_key
from oakum.draw.site_plan import LAYERS, site_plan, site_plan_rows
from oakum.draw.site_view import places_of, sheet_view
from oakum.draw.theme import PRINT
from oakum.record import Logbook
from oakum.report import phrases
from oakum.report.pdf import SheetError, compile_pdf
from oakum.seabed.network import SiteSolution
from oakum.seabed.network.names import natural

_MM = 72.0 / 25.4
_ROOM: dict[str, tuple[float, float]] = {"a4": (273.0, 138.0), "a3": (396.0, 226.0)}
"""Paper lying: room of the drawing in mm, between margins, head, key and what is said below."""
SCALES = (*(n for n in PRINT_SCALES if n >= 5), 1000, 2000, 5000)
SQUARE_SCALES = (2, 5, 10, 20, 50, 100, 200)
WET = replace(PRINT, text_size=16.6, soft="#000000", rule="#000000")
"""Black on film; the smallest words, the figures of the grid, are 0.85 of this: 14 points."""
_SMALL = replace(PRINT, text_size=7.5)
_SQUARE_MM = (186.0, 150.0)
_NEW_LINES = 4


@dataclass(frozen=True, slots=True)
class SheetAsked:
    """What a sheet shows: paper, scale (None: the largest round one that holds it), middle (None: of all there is)."""

    paper: str = "a4"
    denominator: int | None = None
    middle_m: tuple[float, float] | None = None
    layers: tuple[str, ...] = tuple(LAYERS)
    mark: str = ""


def site_sheet_pdf(
    logbook: Logbook,
    survey: SurveyAnswer,
    solution: SiteSolution,
    asked: SheetAsked,
    *,
    on: date,
    demo: bool = False,
) -> bytes:
    """Return the sheet as an archival PDF. `SheetError` for a paper or scale there is none of, or an empty plan."""
    if asked.paper not in _ROOM:
        raise SheetError(f'there is no paper "{asked.paper}"; the plan is set on {" or ".join(_ROOM)}')
    if not solution.marks:
        raise SheetError("no mark has a place yet, so there is no plan to print")
    items = plan_items(logbook, survey, solution)
    inside = survey.site.levels.inside
    wide, high = _ROOM[asked.paper]
    x, y, scale = _placed(places_of(solution, items), asked, wide, high)
    view = sheet_view(x, y, scale, wide * _MM, high * _MM)
    plan = site_plan(
        solution,
        items,
        view,
        layers=asked.layers,
        mark=asked.mark,
        inside=inside,
        picture=_embedded(logbook),
        said=(f"1:{scale} on {asked.paper.upper()} printed at full size",),
        theme=PRINT,
        title=f"Plan of {logbook.name}, 1:{scale}",
    )
    rows = site_plan_rows(solution, items, inside)
    about = about_of(logbook, survey, solution, on)
    data = {
        "paper": asked.paper,
        "title": logbook.name,
        "scale": f"1:{scale}",
        "plan": {"svg": plan.svg, "width": view.width, "alt": f"Plan of {logbook.name} at 1:{scale}"},
        "key": {
            "svg": site_key(inside=inside, factor=plan.factor, theme=_SMALL, width=wide * _MM),
            "width": wide * _MM,
            "alt": "What the signs mean",
        },
        "about": [{"name": name, "words": words} for name, words in about if name != "objection"],
        "objections": [words for name, words in about if name == "objection"],
        "suspects": [one.words for one in survey.solution.suspects],
        "rows": _rows(rows),
        "demo": phrases.DEMO if demo else "",
        "governs": phrases.PLANNING_SUPPORT,
    }
    return compile_pdf("site_sheet", data, date=on)


def _placed(
    places: list[tuple[float, float]], asked: SheetAsked, wide_mm: float, high_mm: float
) -> tuple[float, float, int]:
    """Return middle and scale: as asked, else the middle of all, at the largest round scale that holds it."""
    west, east = min(p[0] for p in places), max(p[0] for p in places)
    south, north = min(p[1] for p in places), max(p[1] for p in places)
    x, y = asked.middle_m or ((west + east) / 2, (south + north) / 2)
    if asked.denominator is not None:
        if asked.denominator not in SCALES:
            said = ", ".join(f"1:{n}" for n in SCALES)
            raise SheetError(f"1:{asked.denominator} is no scale of a sheet; choose one of {said}")
        return x, y, asked.denominator
    reach_x = 2 * max(x - west, east - x) * 1.08 + 0.2
    reach_y = 2 * max(y - south, north - y) * 1.08 + 0.2
    for n in SCALES:
        if 1000 * reach_x / n <= wide_mm and 1000 * reach_y / n <= high_mm:
            return x, y, n
    return x, y, 1000 * math.ceil(max(reach_x / wide_mm, reach_y / high_mm))


def _embedded(logbook: Logbook) -> Callable[[PlanPicture], str]:
    """Return what puts the picture of a drawing into the sheet itself."""

    def picture(one: PlanPicture) -> str:
        png = laid_picture(logbook, drawing_of(logbook, one.subject), 1000)
        return f"data:image/png;base64,{b64encode(png).decode()}"

    return picture


def square_sheet_pdf(
    logbook: Logbook,
    survey: SurveyAnswer,
    name: str,
    *,
    on: date,
    demo: bool = False,
) -> bytes:
    """Return the sheet a diver takes down for one square, A4 film. `SheetError` where there is no such square."""
    solution = survey.solution
    items = plan_items(logbook, survey, solution)
    square = next((one for one in items.squares if one.name.casefold() == name.strip().casefold()), None)
    if square is None:
        there = ", ".join(one.name for one in items.squares) or "none is set out yet"
        raise SheetError(f'there is no square "{name}"; squares: {there}')
    xs, ys = [p[0] for p in square.points], [p[1] for p in square.points]
    scale = _square_scale(max(xs) - min(xs), max(ys) - min(ys))
    wide, high = _SQUARE_MM
    view = sheet_view((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, scale, wide * _MM, high * _MM)
    plan = site_plan(
        solution,
        items,
        view,
        layers=("grid", "squares", "timbers", "datums", "details", "finds", "names"),
        inside=survey.site.levels.inside,
        said=(f"1:{scale} printed at full size",),
        theme=WET,
        title=f"Square {square.name}, 1:{scale}",
        key="square",
    )
    data = {
        "square": square.name,
        "project": logbook.name,
        "scale": f"1:{scale}",
        "plan": {"svg": plan.svg, "width": view.width, "alt": f"Square {square.name} at 1:{scale} with its marks"},
        "marks": _marks_in(solution, items, square, view.bounds_m),
        "new": _NEW_LINES,
        "demo": "Invented: practice only." if demo else "",
    }
    return compile_pdf("square_sheet", data, date=on)


def _square_scale(wide_m: float, high_m: float) -> int:
    wide, high = _SQUARE_MM
    for n in SQUARE_SCALES:
        if 1000 * 1.15 * wide_m / n <= wide and 1000 * 1.15 * high_m / n <= high:
            return n
    return SQUARE_SCALES[-1]


def _marks_in(
    solution: SiteSolution, items: PlanItems, square: PlanOutline, bounds: tuple[float, float, float, float]
) -> list[dict[str, str]]:
    """Return the marks that the drawing shows, with their depth below the datum of heights and their sd."""
    west, south, east, north = bounds
    seen = [m for m in solution.marks if west <= m.x_m <= east and south <= m.y_m <= north]
    return [
        {
            "name": mark.name,
            "find": items.of(mark.name).number,
            "down": decimals(-mark.z_m, 2),
            "sd": decimals(1000 * mark.sd_m[2], 0),
        }
        for mark in sorted(seen, key=lambda m: natural(m.name))
    ]


def _rows(rows: Rows) -> dict[str, Any]:
    return {"caption": rows.caption, "head": list(rows.head), "lines": [list(line) for line in rows.lines]}
