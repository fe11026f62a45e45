"""After the lift: what the cell showed, what happened, how long it took, against the plan's bands."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.happened import carried_over, happened
from oakum.desk.lifts.happening import enter_event, enter_lift_reading, enter_minutes, keep_cell_log
from oakum.desk.lifts.plan import PlanAnswer
from oakum.ground.errors import OakumError
from oakum.lift.raising import CELL_UNITS, CarriedOver
from oakum.web.after_view import load_figure, read_words
from oakum.web.ask import TheHouse, author_in, done, own_offset, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.plan import planned_or_404
from oakum.web.render import page
from oakum.web.words import figures_of

router = APIRouter()
FLAG = {"yes": True, "no": False}
PLACES = ("reading", "event", "minutes", "log")


@router.get("/lifts/{find_id}/after")
def after(
    request: Request, house: TheHouse, find_id: str, to: Annotated[str, Query(max_length=100)] = ""
) -> Response:
    """Show what happened beside the plan, and if asked, carried over to another find."""
    return _after_page(request, house, planned_or_404(house, find_id, None), Form(), to=to)


@router.post("/lifts/{find_id}/after/reading")
def enter_reading(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter what the cell showed at a height and a time."""
    answer = planned_or_404(house, find_id, None)
    author = author_in(form)
    form.need("load", "Write what the cell showed, with its unit and spread, such as 452 ± 5 kg.")
    at = form.need("at", "Write when it was read, such as 2026-07-14T10:20.").replace(" ", "T")
    by = form.need("by", "Choose who read it.")
    if form.good:
        try:
            enter_lift_reading(
                house.logbook,
                answer.find.id,
                form.text("load"),
                at=at,
                zone=own_offset(),
                by=by,
                author=author,
                height=form.text("height"),
                clear_for=form.text("clear_for"),
                bags_empty=FLAG.get(form.text("bags_empty")),
                step=form.text("step"),
                instrument=form.text("instrument"),
                note=form.text("note"),
            )
        except FieldErrors as error:
            _note(form, error)
        except OakumError as error:
            form.wrong("at" if "seen" in str(error) else "", str(error))
    if not form.good:
        return _after_page(request, house, answer, form, status=422, at="reading")
    return done(f"/lifts/{find_id}/after", "reading", author=author, anchor="readings")


@router.post("/lifts/{find_id}/after/event")
def event(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter what broke or went otherwise."""
    answer = planned_or_404(house, find_id, None)
    author = author_in(form)
    words = form.need("text", "Say what happened.")
    if form.good:
        try:
            enter_event(
                house.logbook,
                answer.find.id,
                words,
                author=author,
                step=form.text("step"),
                gear=form.text("gear"),
            )
        except OakumError as error:
            form.wrong("text", str(error))
    if not form.good:
        return _after_page(request, house, answer, form, status=422, at="event")
    return done(f"/lifts/{find_id}/after", "event", author=author, anchor="events")


@router.post("/lifts/{find_id}/after/minutes")
def minutes(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter how long a step took."""
    answer = planned_or_404(house, find_id, None)
    author = author_in(form)
    step = form.need("step", "Choose the step.")
    taken = form.need("taken", "Write how long it took, in minutes or with its unit.")
    if form.good:
        try:
            enter_minutes(
                house.logbook, answer.find.id, step, taken, author=author, note=form.text("note")
            )
        except FieldErrors as error:
            _note(form, error)
        except OakumError as error:
            form.wrong("taken", str(error))
    if not form.good:
        return _after_page(request, house, answer, form, status=422, at="minutes")
    return done(f"/lifts/{find_id}/after", "event", author=author, anchor="times")


@router.post("/lifts/{find_id}/after/log")
def log(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Keep the cell's own log."""
    answer = planned_or_404(house, find_id, None)
    author, uploads = author_in(form), form.uploads("log")
    if not uploads:
        form.wrong("log", "Choose the log of the cell, a CSV file.")
    unit = form.need("unit", "Choose the unit the cell wrote in.")
    stretches = {which: _stretch(form, which) for which in ("before", "after")}
    if form.good:
        try:
            keep_cell_log(
                house.logbook,
                answer.find.id,
                uploads[0].name,
                uploads[0].data,
                unit=unit,
                author=author,
                unloaded_before_s=stretches["before"],
                unloaded_after_s=stretches["after"],
                instrument=form.text("instrument"),
            )
        except (OakumError, ValueError) as error:
            form.wrong("log", str(error))
    if not form.good:
        return _after_page(request, house, answer, form, status=422, at="log")
    return done(f"/lifts/{find_id}/after", "log", author=author, anchor="log")


def _note(form: Form, error: FieldErrors) -> None:
    for name, words in error.wrong.items():
        form.wrong(name, f"{words[:1].upper()}{words[1:]}")


def _stretch(form: Form, which: str) -> tuple[float, float] | None:
    """Return a stretch of the log typed as "0 to 60", None where it is empty."""
    text = form.value(which)
    if text is None:
        return None
    parts = text.replace("..", " to ").replace("s", " ").split("to")
    try:
        low, high = (float(part) for part in parts)
    except ValueError:
        form.wrong(which, "Write from and to in seconds from the first line of the log, such as 0 to 60.")
        return None
    if not 0.0 <= low < high:
        form.wrong(which, f"The stretch must begin before it ends, got {text}.")
        return None
    return low, high


def _after_page(
    request: Request,
    house: House,
    answer: PlanAnswer,
    form: Form,
    *,
    status: int = 200,
    at: str = "",
    to: str = "",
) -> Response:
    names = house.names()
    told = happened(house.logbook, answer)
    carried, refused = _carried(house, answer, to)
    blank = Form.of({"author": writer_of(request), "unit": answer.plan.cell_unit})
    return page(
        request,
        "plan_after.html",
        room="Lifts",
        status=status,
        find=answer.find,
        plan=answer.plan,
        told=told,
        compared=told.compared,
        read_words=lambda read: read_words(read, names),
        figure_words=figures_of,
        load=load_figure(answer.plan, told.compared, names),
        steps=[(step.key, f"{step.number} {step.title}") for step in answer.plan.steps],
        titles={step.key: step.title for step in answer.plan.steps},
        units=[(unit, unit) for unit in CELL_UNITS],
        forms={place: form if place == at else blank for place in PLACES},
        at=at,
        to=to,
        carried=carried,
        refused=refused,
        names=names,
    )


def _carried(house: House, answer: PlanAnswer, to: str) -> tuple[CarriedOver | None, str]:
    if not to.strip():
        return None, ""
    try:
        return carried_over(house.logbook, answer.find.id, to.strip(), on=date.today()), ""
    except OakumError as error:
        return None, str(error)
