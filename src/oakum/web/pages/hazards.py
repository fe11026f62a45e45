"""Hazards of a find and the decision to raise it: what named people say."""

from __future__ import annotations

from datetime import date

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.hazards import (
    ASKS_FOR,
    WORDS,
    answer_hazard,
    decide_to_raise,
    hazards_of,
    in_situ_of,
    link_authorisation,
)
from oakum.ground.errors import OakumError
from oakum.record import Find
from oakum.record.log.heads import standing
from oakum.record.log.lift_checks import ANSWERS, MAY_BE_AUTHORISED
from oakum.web.ask import TheHouse, author_in, done, find_or_404, person_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()


@router.get("/finds/{find_id}/hazards")
def hazards(request: Request, house: TheHouse, find_id: str) -> Response:
    """Show what is said of every hazard, and why the find is raised."""
    find = find_or_404(house, find_id)
    people = {person.id: person for person in house.logbook.people()}
    return page(
        request,
        "hazards.html",
        room="Finds",
        find=find,
        hazards=hazards_of(find, people, date.today()),
        in_situ=in_situ_of(find),
        names=house.names(),
    )


@router.get("/finds/{find_id}/hazards/{key}")
def hazard_form(request: Request, house: TheHouse, find_id: str, key: str) -> Response:
    """Ask what a named person says of one hazard."""
    find = find_or_404(house, find_id)
    form = Form.of({"author": writer_of(request), "on": date.today().isoformat()})
    return _hazard_page(request, house, find, key, form)


@router.post("/finds/{find_id}/hazards/{key}")
def answer(request: Request, house: TheHouse, find_id: str, key: str, form: SentForm) -> Response:
    """Keep what a named person says of one hazard."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    said = form.need("answer", "Choose what is said of it.")
    if said in ("excluded", "does not apply", "authorised"):
        person_in(form, house, "by", "Choose the named competent person who says so; a role is not enough.")
        form.need("on", "Write the day it was said, as 2026-06-12.")
    papers = form.uploads("paper")
    if form.good:
        try:
            entry = answer_hazard(
                house.logbook,
                find.id,
                key,
                said,
                author=author,
                by=form.value("by"),
                on=form.value("on"),
                note=form.text("note"),
                paper=(papers[0].name, papers[0].data) if papers else None,
                reason=form.text("reason"),
            )
        except FieldErrors as error:
            for name, words in error.wrong.items():
                form.wrong(name, words)
        except OakumError as error:
            form.wrong("on" if ".on" in str(error) or "on:" in str(error) else "answer", str(error))
        else:
            if entry is None:
                form.wrong("answer", "This is what the logbook says already; nothing was entered.")
    if not form.good:
        return _hazard_page(request, house, find, key, form, status=422)
    return done(_back(find), "hazard", author=author, anchor="hazards")


@router.post("/finds/{find_id}/authorisations/{key}")
def authorise(request: Request, house: TheHouse, find_id: str, key: str, form: SentForm) -> Response:
    """Link the authorisation for human remains or a venerated thing."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    authority = form.need("authority", "Say which authority gave it.")
    on = form.need("auth_on", "Write from which day it holds, as 2026-06-12.")
    papers = form.uploads("auth_paper")
    if form.good:
        try:
            link_authorisation(
                house.logbook,
                find.id,
                key,
                authority,
                on=on,
                author=author,
                number=form.text("number"),
                until=form.text("until"),
                paper=(papers[0].name, papers[0].data) if papers else None,
            )
        except OakumError as error:
            form.wrong("until" if "until" in str(error) else "auth_on" if "on:" in str(error) else "", str(error))
    if not form.good:
        return _hazard_page(request, house, find, key, form, status=422, at="authorisation")
    return done(f"/finds/{find.id}/hazards/{key}", "linked", author=author)


@router.get("/finds/{find_id}/decision")
def decision_form(request: Request, house: TheHouse, find_id: str) -> Response:
    """Ask why the find is not left where it is."""
    find = find_or_404(house, find_id)
    said = find.fields
    form = Form.of(
        {
            "author": writer_of(request),
            "because": said.get("raise_because"),
            "alternatives": said.get("raise_alternatives"),
            "by": said.get("raise_decided_by"),
            "on": date.today().isoformat(),
        }
    )
    return _decision_page(request, house, find, form)


@router.post("/finds/{find_id}/decision")
def decide(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Record the decision."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    because = form.need("because", "Say why it is not left where it is.")
    by = person_in(form, house, "by", "Choose the named person who decided it.")
    on = form.need("on", "Write the day it was decided, as 2026-06-12.")
    if form.good:
        try:
            entry = decide_to_raise(
                house.logbook,
                find.id,
                because,
                by=by,
                on=on,
                author=author,
                alternatives=form.text("alternatives"),
                reason=form.text("reason"),
            )
        except FieldErrors as error:
            for name, words in error.wrong.items():
                form.wrong(name, words)
        except OakumError as error:
            form.wrong("on" if "raise_decided_on" in str(error) else "", str(error))
        else:
            if entry is None:
                form.wrong("because", "This is what the logbook says already; nothing was entered.")
    if not form.good:
        return _decision_page(request, house, find, form, status=422)
    return done(_back(find), "decision", author=author, anchor="situ")


def _back(find: Find) -> str:
    has_plan = find.fields.get("rig") is not None and find.fields.get("toml") is not None
    return f"/lifts/{find.id}/plan" if has_plan else f"/finds/{find.id}/hazards"


def _hazard_page(
    request: Request, house: House, find: Find, key: str, form: Form, *, status: int = 200, at: str = ""
) -> Response:
    if key not in WORDS:
        raise HTTPException(404, f"There is no hazard {key!r}; there are: {', '.join(WORDS)}.")
    people = {person.id: person for person in house.logbook.people()}
    now = next(one for one in hazards_of(find, people, date.today()) if one.key == key)
    may = key in MAY_BE_AUTHORISED
    return page(
        request,
        "hazard.html",
        room="Finds",
        status=status,
        find=find,
        now=now,
        form=form,
        at=at,
        answers=[(one, one) for one in ANSWERS if may or one != "authorised"],
        asks_for=ASKS_FOR.get(key),
        may_be_authorised=may,
        papers=[
            entry.body
            for entry in standing(find.history)
            if entry.kind == "authorisation.linked" and entry.body["hazard"] == key
        ],
        was_answered=now.answer != "not known" or bool(find.fields.get(f"hazard_{key}")),
        back=_back(find),
        named=list(house.names().items()),
        names=house.names(),
    )


def _decision_page(request: Request, house: House, find: Find, form: Form, status: int = 200) -> Response:
    return page(
        request,
        "decision.html",
        room="Finds",
        status=status,
        find=find,
        form=form,
        was_decided=find.fields.get("raise_because") is not None,
        back=_back(find),
        named=list(house.names().items()),
    )
