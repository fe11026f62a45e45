"""What every page needs from its request, and how a page answers a form that was taken."""

from __future__ import annotations

import time
from datetime import datetime
from typing import Annotated
from urllib.parse import quote, unquote

from fastapi import Depends, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.record import Find, UnknownSubjectError
from oakum.web.forms import Form
from oakum.web.house import House

WRITER_COOKIE = "oakum-writer"


def house_of(request: Request) -> House:
    """Return what all pages share."""
    house: House = request.app.state.house
    return house


TheHouse = Annotated[House, Depends(house_of)]


def find_or_404(house: House, find_id: str) -> Find:
    """Return a find, or end the request with a page that says there is none."""
    try:
        return house.logbook.find(find_id)
    except UnknownSubjectError as error:
        raise HTTPException(404, str(error)) from error


def writer_of(request: Request) -> str:
    """Return who wrote last in this browser, to stand in the form; the person still sees and sends it."""
    return unquote(request.cookies.get(WRITER_COOKIE, ""))


def author_in(form: Form) -> str:
    """Return who writes; notes it as wrong where nobody was chosen."""
    return form.need("author", "Choose who writes this entry; add a new person under Logbook, People.")


def person_in(form: Form, house: House, field: str, sentence: str) -> str:
    """Return the id of a named person; notes it as wrong where nobody, or only a role, was chosen."""
    person = form.need(field, sentence)
    if person and person not in house.names():
        form.wrong(field, "Choose a named person of the list; a role is not enough.")
    return person


def seen_in(form: Form) -> dict[str, str] | None:
    """Return when and how something was seen, from the fields seen_at, seen_by, seen_from; None where empty."""
    at, by, source = form.value("seen_at"), form.value("seen_by"), form.value("seen_from")
    if at is None and by is None and source is None:
        return None
    at = at.replace(" ", "T") if at is not None else None
    precision = _precision(at or "")
    if at is None or precision is None:
        form.wrong("seen_at", "Write the day it was seen as 2026-06-12, or with the time as 2026-06-12T10:20.")
    if by is None:
        form.wrong("seen_by", "Choose who saw it, or leave all three fields empty.")
    if source is None:
        form.wrong("seen_from", "Choose what it was written down from.")
    return {
        "at": at or "",
        "zone": form.value("seen_zone") or own_offset(),
        "precision": precision or "",
        "by": by or "",
        "from": source or "",
    }


def _precision(at: str) -> str | None:
    """Return how exactly a time is given, or None where it is no time; the year may stand alone."""
    found = {4: "year", 7: "month", 10: "day", 13: "hour", 16: "minute", 19: "second"}.get(len(at))
    try:
        datetime.fromisoformat(at + "0000-01-01T00:00:00"[len(at) :])
    except ValueError:
        return None
    return found


def own_offset() -> str:
    """Return the offset of this machine's clock, such as +02:00."""
    text = time.strftime("%z")
    return f"{text[:3]}:{text[3:5]}" if len(text) >= 5 else "Z"


def done(address: str, said: str, *, author: str = "", anchor: str = "") -> Response:
    """Answer a form that was taken: go and see it, and remember who wrote."""
    answer = RedirectResponse(f"{address}?said={said}{'#' + anchor if anchor else ''}", status_code=303)
    if author:
        answer.set_cookie(WRITER_COOKIE, quote(author), httponly=True, samesite="strict", max_age=12 * 3600)
    return answer
