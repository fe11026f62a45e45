"""The dig: all squares with the season, one square with its plan, section and spits, and the same as plain data."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response

from oakum.desk.seabed.dig import DigAnswer, SquareAnswer, dig_of
from oakum.desk.seabed.dig_drawn import Bed, beds_of, contours_of, section_of, zero_of
from oakum.desk.seabed.dig_facts import marks_of
from oakum.desk.seabed.dig_json import dig_dict
from oakum.desk.seabed.dig_typed import metres
from oakum.draw.dig_progress import season_drawing, season_rows
from oakum.draw.dig_section import section_drawing, section_rows
from oakum.draw.dig_square import Depths, square_plan, square_rows
from oakum.record import Entry
from oakum.record.log.heads import struck_ids
from oakum.seabed.dig import DigError
from oakum.web.ask import TheHouse
from oakum.web.forms import Form
from oakum.web.house import House
from oakum.web.render import page
from oakum.web.words import kind_name

router = APIRouter()
DRAWN = 400.0
Text = Annotated[str, Query(max_length=60)]


@router.get("/seabed/dig")
def show(request: Request, house: TheHouse) -> Response:
    """Show every square with what was taken out, and the season."""
    answer = dig_of(house.logbook)
    return page(
        request,
        "dig.html",
        room="Seabed",
        answer=answer,
        season=answer.season,
        drawing_of_season=season_drawing(answer.season, width=DRAWN) if answer.season.milestones else "",
        rows=season_rows(answer.season) if answer.season.milestones else None,
        hours=list(reversed(answer.facts.hours)),
        dives=list(reversed(answer.facts.dives())),
        names=house.names(),
    )


@router.get("/seabed/dig.json")
def data(house: TheHouse) -> Response:
    """Give the dig as plain data, SI units in its keys."""
    return JSONResponse(dig_dict(dig_of(house.logbook)))


@router.get("/seabed/dig/square/{square_id}")
def show_square(
    request: Request,
    house: TheHouse,
    square_id: str,
    every: Text = "",
    start: Text = "",
    end: Text = "",
    near: Text = "",
) -> Response:
    """Show one square: `every` is the distance of contours, `start`, `end` and `near` lay the section."""
    answer = dig_of(house.logbook)
    square = square_or_404(answer, square_id)
    form = Form.of({"every": every, "start": start, "end": end, "near": near})
    history = [entry for thing in (square.kept, *(s.kept for s in square.spits)) for entry in thing.history]
    return page(
        request,
        "dig_square.html",
        room="Seabed",
        square=square,
        form=form,
        questions=[
            q for q in answer.questions if q.subject in {square.kept.id, *(s.kept.id for s in square.spits)}
        ],
        history=[(entry, entry_words(entry)) for entry in sorted(history, key=lambda e: e.at, reverse=True)],
        struck=struck_ids(history),
        names=house.names(),
        **_drawn(house, square, form),
    )


def entry_words(entry: Entry) -> str:
    """Say what an entry about a square or a spit says, its levels as a count."""
    body = entry.body
    if entry.kind == "dig.square":
        depth = f", {body['planned_depth']} m deep as planned" if body.get("planned_depth") else ""
        return f"Set out by {len(body.get('corners') or ())} corners{depth}"
    if entry.kind != "dig.spit":
        return kind_name(entry.kind)
    said = [
        f"{len(body[stage])} levels {words}{', from ' + body[f'{stage}_from'] if body.get(f'{stage}_from') else ''}"
        for stage, words in (("top", "before"), ("bottom", "after"))
        if body.get(stage)
    ]
    return f"Spit {body.get('spit', '')}: {', '.join(said) or 'said anew'}"


def square_or_404(answer: DigAnswer, square_id: str) -> SquareAnswer:
    """Return a square by its id, or end the request with a page that says there is none."""
    found = answer.square(square_id)
    if found is None:
        raise HTTPException(404, "There is no square with this address; it may have been struck out.")
    return found


def _drawn(house: House, square: SquareAnswer, form: Form) -> dict[str, Any]:
    """Draw plan and section of a square; what cannot be drawn is said in words."""
    if square.where is None:
        return {
            "plan": "",
            "plan_rows": None,
            "contour_words": "",
            "cut": "",
            "cut_rows": None,
            "ends": ("", ""),
        }
    marks, zero = marks_of(house.logbook), zero_of(square)
    beds = beds_of(square, marks)
    every = _length(form, "every", "with its unit, such as 5 cm")
    near = _length(form, "near", "with its unit, such as 20 cm")
    depths, first, last = _depths(beds, zero)
    lines, words = contours_of(last, square, every) if last is not None else ((), "")
    if every is not None and words.startswith("No contours"):
        form.wrong("every", words.removeprefix("No contours: "))
    shown: dict[str, Any] = {
        "plan": square_plan(square.name, square.where, depths, lines, said=words, width=DRAWN),
        "plan_rows": square_rows(
            square.name, depths, first.held if first else None, last.held if last else None
        ),
        "contour_words": words,
        "zero": zero,
    }
    title = f"Section through square {square.name}"
    try:
        cut, a, b = section_of(square, beds, marks, form.text("start"), form.text("end"), near)
        if not beds:
            raise DigError("no levels yet")
        title = f"{title} from {a} to {b}"
        return shown | {
            "cut": section_drawing(cut, title=title, zero=zero, width=DRAWN),
            "cut_rows": section_rows(cut, title),
            "ends": (a, b),
            "tolerance": cut.tolerance_m,
        }
    except DigError as error:
        if beds:
            form.wrong("start", str(error))
        return shown | {"cut": "", "cut_rows": None, "ends": ("", "")}


def _depths(beds: tuple[Bed, ...], zero: str) -> tuple[Depths, Bed | None, Bed | None]:
    """The highest and the newest surface; with one alone it is that before."""
    if not beds:
        return Depths(zero=zero), None, None
    if len(beds) == 1:
        return Depths(beds[0].levels, (), zero), beds[0], beds[0]
    return Depths(beds[0].levels, beds[-1].levels, zero), beds[0], beds[-1]


def _length(form: Form, field: str, what: str) -> float | None:
    text = form.value(field)
    if text is None:
        return None
    try:
        value = float(metres(text))
    except DigError as error:
        form.wrong(field, str(error))
        return None
    if value <= 0.0:
        form.wrong(field, f"Write a length, {what}.")
        return None
    return value
