"""What is entered of the dig: squares, levels in the order of the slate's sheet, hours; and the size of a tool."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.seabed.dig import dig_of
from oakum.desk.seabed.dig_entering import (
    HOURS_FIELDS,
    LEVEL_FIELDS,
    SQUARE_FIELDS,
    enter_hours,
    enter_levels,
    enter_square,
    strike,
    struck_one,
)
from oakum.desk.seabed.dig_facts import STAGES, dig_facts
from oakum.desk.seabed.dig_tools import AIRLIFT_FIELDS, DREDGE_FIELDS, airlift_typed, dredge_typed
from oakum.desk.seabed.dig_typed import corners_text, levels_text
from oakum.ground.errors import OakumError
from oakum.record import Entry, UnknownSubjectError
from oakum.web.ask import TheHouse, author_in, done, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()
Text = Annotated[str, Query(max_length=100)]
SAYS_IT = "This is what the logbook says already; nothing was entered."
STAGE_WORDS = (("top", "before the spit"), ("bottom", "after the spit"))


@router.get("/seabed/dig/enter/square")
def square_form(request: Request, house: TheHouse, square: Text = "") -> Response:
    """Ask for a square; with `square` the one that is there stands in the form, to be changed."""
    typed = {"author": writer_of(request)}
    kept = dig_facts(house.logbook).square(square) if square else None
    if kept is not None:
        typed |= {"name": kept.word("name"), "corners": corners_text(kept.fields["corners"])}
        typed |= {name: kept.word(name) for name in ("planned_depth", "note")}
    return _square_page(request, Form.of(typed))


@router.post("/seabed/dig/enter/square")
def keep_square(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Set out a square."""
    author = author_in(form)
    typed = {name: form.text(name) for name in SQUARE_FIELDS}
    reason = form.text("reason")
    entry = _entered(form, lambda: enter_square(house.logbook, typed, author=author, reason=reason))
    if entry is None:
        return _square_page(request, form, status=422)
    return done(f"/seabed/dig/square/{entry.subject}", "linked", author=author)


@router.get("/seabed/dig/enter/levels")
def levels_form(
    request: Request, house: TheHouse, square: Text = "", spit: Text = "", stage: Text = ""
) -> Response:
    """Ask for levels; what is kept of this spit and stage stands in the form."""
    typed = {"author": writer_of(request), "square": square, "spit": spit, "stage": stage}
    facts = dig_facts(house.logbook)
    kept_square = facts.square(square) if square else None
    kept = facts.spit(kept_square, spit) if kept_square is not None and spit else None
    if kept_square is not None:
        typed["square"] = kept_square.word("name")
    if kept is not None and stage in STAGES:
        typed |= {name: kept.word(f"{stage}_{name}") for name in ("from", "zero", "on", "by")}
        typed |= {name: kept.word(name) for name in ("sd", "bias", "context", "note")}
        typed["levels"] = levels_text(kept.fields.get(stage))
    return _levels_page(request, house, Form.of(typed))


@router.post("/seabed/dig/enter/levels")
def keep_levels(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Enter levels before or after a spit."""
    author = author_in(form)
    typed = {name: form.text(name) for name in LEVEL_FIELDS}
    reason = form.text("reason")
    entry = _entered(form, lambda: enter_levels(house.logbook, typed, author=author, reason=reason))
    if entry is None:
        return _levels_page(request, house, form, status=422)
    square = dig_facts(house.logbook).square(form.text("square"))
    return done(f"/seabed/dig/square/{square.id if square else ''}", "linked", author=author)


@router.get("/seabed/dig/enter/hours")
def hours_form(request: Request, house: TheHouse, square: Text = "", spit: Text = "") -> Response:
    """Ask for the hours of a dive."""
    return _hours_page(
        request, house, Form.of({"author": writer_of(request), "square": square, "spit": spit})
    )


@router.post("/seabed/dig/enter/hours")
def keep_hours(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Enter the hours of a dive."""
    author = author_in(form)
    typed = {name: form.text(name) for name in HOURS_FIELDS}
    entry = _entered(form, lambda: enter_hours(house.logbook, typed, author=author))
    if entry is None:
        return _hours_page(request, house, form, status=422)
    return done("/seabed/dig", "linked", author=author, anchor="hours")


@router.get("/seabed/dig/strike/{entry_id}")
def strike_form(request: Request, house: TheHouse, entry_id: str) -> Response:
    """Ask why an entry of the dig is struck out."""
    return _strike_page(request, house, entry_id, Form.of({"author": writer_of(request)}))


@router.post("/seabed/dig/strike/{entry_id}")
def strike_out(request: Request, house: TheHouse, entry_id: str, form: SentForm) -> Response:
    """Strike an entry of the dig out."""
    author = author_in(form)
    if _entered(form, lambda: strike(house.logbook, entry_id, form.text("reason"), author=author)) is None:
        return _strike_page(request, house, entry_id, form, status=422)
    return done("/seabed/dig", "struck", author=author)


@router.get("/seabed/dig/tools")
def tools(request: Request) -> Response:
    """Size an airlift or a dredge from what stands in the address."""
    asked = dict(request.query_params)
    what = asked.get("what", "")
    fields = {name: asked.get(name, "")[:60] for name in (*AIRLIFT_FIELDS, *DREDGE_FIELDS)}
    blank = Form.of({})
    forms = {"airlift": blank, "dredge": blank}
    sizing = None
    if what in forms:
        forms[what] = form = Form.of(fields)
        try:
            sizing = (airlift_typed if what == "airlift" else dredge_typed)(fields)
        except FieldErrors as error:
            for name, said in error.wrong.items():
                form.wrong(name, f"{said[:1].upper()}{said[1:]}.")
    return page(
        request,
        "dig_tools.html",
        room="Seabed",
        status=422 if what in forms and sizing is None else 200,
        forms=forms,
        fields={"airlift": AIRLIFT_FIELDS, "dredge": DREDGE_FIELDS},
        sizing=sizing,
        what=what,
    )


def _entered(form: Form, enter: Callable[[], Entry | None]) -> Entry | None:
    """Enter what was typed; note what was wrong beside its field."""
    if not form.good:
        return None
    try:
        entry = enter()
    except FieldErrors as error:
        for name, said in error.wrong.items():
            form.wrong(name, f"{said[:1].upper()}{said[1:]}.")
    except OakumError as error:
        form.wrong("", str(error))
    else:
        if entry is None:
            form.wrong("", SAYS_IT)
        return entry
    return None


def _strike_page(request: Request, house: House, entry_id: str, form: Form, status: int = 200) -> Response:
    try:
        entry = struck_one(house.logbook, entry_id)
    except UnknownSubjectError as error:
        raise HTTPException(404, str(error)) from error
    return page(
        request,
        "strike.html",
        room="Seabed",
        status=status,
        form=form,
        entry=entry,
        back=("/seabed/dig", "The dig"),
        names=house.names(),
        numbers={},
    )


def _square_page(request: Request, form: Form, status: int = 200) -> Response:
    return page(request, "dig_enter_square.html", room="Seabed", status=status, form=form)


def _levels_page(request: Request, house: TheHouse, form: Form, status: int = 200) -> Response:
    answer = dig_of(house.logbook)
    return page(
        request,
        "dig_enter_levels.html",
        room="Seabed",
        status=status,
        form=form,
        squares=[(one.name, one.name) for one in answer.squares],
        stages=STAGE_WORDS,
        corners={one.name: ", ".join(one.where.names) for one in answer.squares if one.where},
    )


def _hours_page(request: Request, house: TheHouse, form: Form, status: int = 200) -> Response:
    names = [(one.word("name"), one.word("name")) for one in dig_facts(house.logbook).squares]
    return page(request, "dig_enter_hours.html", room="Seabed", status=status, form=form, squares=names)
