"""Open questions: what the logbook says twice, and the form in which a named person settles it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors, settle
from oakum.ground.errors import OakumError
from oakum.record import OpenQuestion
from oakum.record.finds.questions import value_words
from oakum.web.ask import TheHouse, author_in, done, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()
Key = Annotated[str, Query(max_length=300)]


@router.get("/logbook/questions")
def open_questions(request: Request, house: TheHouse) -> Response:
    """List every open question."""
    return page(request, "questions.html", room="Logbook", questions=house.logbook.open_questions())


@router.get("/logbook/questions/{subject}")
def question_form(request: Request, house: TheHouse, subject: str, key: Key) -> Response:
    """Show one question with what each entry says."""
    question = _question(house, subject, key)
    return _question_page(request, house, question, Form.of({"author": writer_of(request)}))


@router.post("/logbook/questions/{subject}")
def settle_question(request: Request, house: TheHouse, subject: str, key: Key, form: SentForm) -> Response:
    """Settle it."""
    question = _question(house, subject, key)
    author = author_in(form)
    if author and author not in house.names():
        form.wrong(
            "author", "An open question is settled by a named person: choose one, or add one under People."
        )
    reason = form.need("reason", "Say what decides it; the other values stay in the logbook.")
    chosen = form.value("chosen")
    text = form.text("other") if chosen == "other" else _text_of(question, chosen)
    if text is None or (chosen == "other" and not form.value("other")):
        form.wrong("chosen", "Choose the value that shall hold, or write another one.")
    if form.good:
        try:
            settle(house.logbook, question, text or "", author=author, reason=reason)
        except FieldErrors as error:
            for name, sentence in error.wrong.items():
                form.wrong("reason" if name == "reason" else "other", sentence)
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _question_page(request, house, question, form, status=422)
    return done(_about(house, question), "settled", author=author)


def _question(house: House, subject: str, key: str) -> OpenQuestion:
    for question in house.logbook.open_questions(subject):
        if question.key == key:
            return question
    raise HTTPException(404, "This question is not open: it was settled, or an entry was struck out since.")


def _about(house: House, question: OpenQuestion) -> str:
    """Return the page of what the question is about: a piece of gear, a vessel or a find."""
    kinds = {house.logbook.entry(id).kind for id in question.entries}
    if "vessel.described" in kinds:
        return f"/lifts/vessels/{question.subject}"
    return f"/{'gear' if any(kind.startswith('gear.') for kind in kinds) else 'finds'}/{question.subject}"


def _text_of(question: OpenQuestion, chosen: str | None) -> str | None:
    """Return the text of the value chosen by its place in the list."""
    if chosen is None or not chosen.isdecimal() or int(chosen) >= len(question.values):
        return None
    value = question.values[int(chosen)]
    return "" if value is None else value_words(value)


def _question_page(
    request: Request, house: House, question: OpenQuestion, form: Form, status: int = 200
) -> Response:
    entries = [house.logbook.entry(id) for id in question.entries]
    return page(
        request,
        "question.html",
        room="Logbook",
        status=status,
        question=question,
        about=_about(house, question),
        entries=entries,
        form=form,
        named=list(house.names().items()),
        names=house.names(),
    )
