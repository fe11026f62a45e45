"""The readings: the list, one reading with what the plan makes of it, rejecting, taking back in, correcting."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.seabed.entering import correct
from oakum.desk.seabed.facts import KeptReading
from oakum.desk.seabed.proposals import value_words
from oakum.desk.seabed.rejecting import reject, restore
from oakum.desk.seabed.survey import SurveyAnswer, survey_lately, survey_of
from oakum.desk.seabed.typed import TYPED_FIELDS, WHAT_WORDS, typed_of
from oakum.ground.errors import OakumError
from oakum.web.ask import TheHouse, author_in, done, person_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import fragment, page, wants_fragment

router = APIRouter()
PAGE_LENGTH = 100


@router.get("/seabed/readings")
def readings(
    request: Request,
    house: TheHouse,
    what: Annotated[str, Query(max_length=10)] = "",
    q: Annotated[str, Query(max_length=100)] = "",
    start: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
) -> Response:
    """List the readings, the newest first, all or those of one kind or that hold every word."""
    answer = survey_lately(house.logbook)
    doubted = {one.id: one for one in answer.solution.suspects}
    words = q.casefold().split()
    found = [
        one
        for one in reversed(tuple(answer.entries.values()))
        if what in ("", one.what) and all(word in _words(one) for word in words)
    ]
    values: dict[str, Any] = {
        "lines": found[start : start + PAGE_LENGTH],
        "numbers": {one.id: value_words(one.what, one.body) for one in found[start : start + PAGE_LENGTH]},
        "doubted": doubted,
        "names": house.names(),
        "more": start + PAGE_LENGTH if len(found) > start + PAGE_LENGTH else None,
        "what_now": what,
        "q": q,
        "start": start,
    }
    if wants_fragment(request):
        return fragment("seabed_readings_lines.html", **values)
    rejected = sum(one.rejected is not None for one in answer.entries.values())
    return page(
        request,
        "seabed_readings.html",
        room="Seabed",
        kinds=WHAT_WORDS,
        total=len(answer.entries),
        rejected=rejected,
        found=len(found),
        **values,
    )


def _words(one: KeptReading) -> str:
    return " ".join((one.id, *one.marks, *one.written, one.text, one.word("note"), one.word("dive"))).casefold()


@router.get("/seabed/readings/{subject}")
def reading(request: Request, house: TheHouse, subject: str) -> Response:
    """Show one reading."""
    return _reading_page(request, house, subject, Form.of({"author": writer_of(request)}))


@router.post("/seabed/readings/{subject}/reject")
def set_aside(request: Request, house: TheHouse, subject: str, form: SentForm) -> Response:
    """Reject one reading, as a named person, with a reason."""
    return _decide(request, house, subject, form, "reject")


@router.post("/seabed/readings/{subject}/restore")
def take_back(request: Request, house: TheHouse, subject: str, form: SentForm) -> Response:
    """Take one reading back in, as a named person, with a reason."""
    return _decide(request, house, subject, form, "restore")


def _decide(request: Request, house: House, subject: str, form: Form, act: str) -> Response:
    author = person_in(form, house, "author", "Choose who decides; add a new person under Logbook, People.")
    because = form.need("because", "Say why; the reason stays in the logbook with the reading.")
    if form.good:
        try:
            (reject if act == "reject" else restore)(house.logbook, subject, because, author=author)
        except OakumError as error:
            form.wrong("because", str(error))
    if not form.good:
        return _reading_page(request, house, subject, form, at=act, status=422)
    back = "/seabed/suspects" if form.text("back") == "suspects" else f"/seabed/readings/{subject}"
    return done(back, "rejected" if act == "reject" else "restored", author=author)


@router.post("/seabed/readings/{subject}/correct")
def put_right(request: Request, house: TheHouse, subject: str, form: SentForm) -> Response:
    """Enter what the slate really says, over what was typed wrongly."""
    one = _one(survey_of(house.logbook), subject)
    author = author_in(form)
    reason = form.need("reason", "Say why it is corrected; the reason stays in the logbook with it.")
    if form.good:
        typed = {field.key: form.text(field.key) for field in TYPED_FIELDS[one.what]}
        try:
            correct(house.logbook, subject, typed, reason=reason, author=author)
        except OakumError as error:
            form.wrong(TYPED_FIELDS[one.what][0].key, str(error))
    if not form.good:
        return _reading_page(request, house, subject, form, at="correct", status=422)
    return done(f"/seabed/readings/{subject}", "changed", author=author)


def _one(answer: SurveyAnswer, subject: str) -> KeptReading:
    for one in answer.entries.values():
        if one.subject == subject:
            return one
    raise HTTPException(404, "There is no such reading; the list of readings shows those there are.")


def _reading_page(
    request: Request, house: House, subject: str, form: Form, *, at: str = "", status: int = 200
) -> Response:
    answer = survey_of(house.logbook)
    one = _one(answer, subject)
    blank = Form.of({"author": writer_of(request)})
    again = Form.of({"author": writer_of(request), **typed_of(one.what, one.written, one.body)})
    return page(
        request,
        "seabed_reading.html",
        room="Seabed",
        status=status,
        one=one,
        value=value_words(one.what, one.body),
        results=[row for row in answer.solution.readings if row.id == one.id],
        suspect=next((s for s in answer.solution.suspects if s.id == one.id), None),
        kinds=WHAT_WORDS,
        fields=TYPED_FIELDS[one.what],
        names=house.names(),
        named=list(house.names().items()),
        decide=form if at in ("reject", "restore") else blank,
        again=form if at == "correct" else again,
        at=at,
    )
