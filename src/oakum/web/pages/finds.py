"""Finds: the register with its search, and the entry of a new find in the order of the intake slip."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from oakum.desk.finds.entering import INTAKE_FIELDS, FieldErrors, add_find
from oakum.ground.errors import OakumError
from oakum.web.ask import TheHouse, author_in, done, own_offset, seen_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import fragment, page, wants_fragment

router = APIRouter()
PAGE_LENGTH = 50


@router.get("/finds")
def finds(
    request: Request,
    house: TheHouse,
    q: Annotated[str, Query(max_length=200)] = "",
    after: Annotated[str | None, Query(max_length=400)] = None,
) -> Response:
    """Show a page of the register, or with htmx only the lines that are wanted."""
    found = house.logbook.finds(q, after, PAGE_LENGTH)
    if wants_fragment(request):
        return fragment("finds_lines.html", found=found, q=q, whole=after is None)
    return page(request, "finds.html", room="Finds", found=found, q=q, after=after)


@router.get("/finds/new")
def new_find(request: Request) -> Response:
    """Show the entry form."""
    form = Form.of({"author": writer_of(request), "seen_zone": own_offset()})
    return _entry_form(request, form)


@router.post("/finds")
def enter_find(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Enter a find, or show the form again with what was wrong."""
    find_id = _entered(house, form)
    if find_id is None:
        return _entry_form(request, form, status=422)
    return done(f"/finds/{find_id}", "entered", author=form.text("author"))


def _entered(house: House, form: Form) -> str | None:
    author, seen = author_in(form), seen_in(form)
    typed = {name: form.text(name) for name in (*INTAKE_FIELDS, "earlier_numbers")}
    if not form.value("title"):
        form.wrong("title", "Say what it is, such as jar, plank or concretion.")
    if not form.good:
        return None
    try:
        return add_find(house.logbook, typed, author=author, number=form.value("number"), seen=seen).id
    except FieldErrors as error:
        for name, sentence in error.wrong.items():
            form.wrong(name, sentence)
    except OakumError as error:
        form.wrong("number" if "number" in str(error).lower() and form.value("number") else "", str(error))
    return None


def _entry_form(request: Request, form: Form, status: int = 200) -> Response:
    return page(request, "find_new.html", room="Finds", status=status, form=form)
