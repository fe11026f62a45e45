"""What is added to a find: readings, parts, joins, samples; and entries struck out."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.desk.finds.measures import reading_of
from oakum.ground.errors import OakumError
from oakum.record import Entry
from oakum.web.ask import TheHouse, author_in, done, find_or_404, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.find import find_page
from oakum.web.pages.logbook import numbers_of
from oakum.web.render import page

router = APIRouter()

QUANTITIES = {
    "mass": "mass",
    "length": "length",
    "width": "length",
    "height": "length",
    "diameter": "length",
    "thickness": "length",
    "depth": "length",
    "volume": "volume",
    "temperature": "temperature",
}
"""What can be read, and the kind of quantity it is."""


@router.post("/finds/{find_id}/readings")
def enter_reading(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter a reading beside the others."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    quantity = form.need("quantity", "Choose what was measured.")
    state = form.need("state", "Say in what state it was: readings are only compared in the same state.")
    text = form.need("text", "Write what the instrument said, such as 12.4 ± 0.3 kg.")
    if form.good and quantity not in QUANTITIES:
        form.wrong("quantity", "Choose one of the list.")
    if form.good:
        try:
            body = reading_of(
                text,
                QUANTITIES[quantity],
                quantity=quantity,
                state=state,
                instrument=form.text("instrument"),
                note=form.text("note"),
            )
            house.logbook.append("reading", find.id, body, author=author)
        except (OakumError, ValueError) as error:
            form.wrong("text", str(error))
    if not form.good:
        return find_page(request, house, find, form, status=422, at="reading")
    return done(f"/finds/{find.id}", "reading", author=author, anchor="readings")


@router.post("/finds/{find_id}/samples")
def take_sample(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter a sample under its find; it gets the find's number with its own behind it."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    body: dict[str, Any] = {
        "of": find.id,
        "title": form.need("title", "Say what was taken, such as core of wood."),
    }
    body |= {name: value for name in ("material", "purpose") if (value := form.value(name))}
    if form.good:
        _try(form, "", lambda: house.logbook.append("find.sample", None, body, author=author))
    if not form.good:
        return find_page(request, house, find, form, status=422, at="sample")
    return done(f"/finds/{find.id}", "linked", author=author, anchor="family")


@router.post("/finds/{find_id}/joins")
def join(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter that two finds are one object; both keep their numbers."""
    find = find_or_404(house, find_id)
    author, other = author_in(form), _other(house, form, "other", "Give the number of the find it joins.")
    if form.good:
        body: dict[str, Any] = {"other": other}
        if note := form.value("note"):
            body["note"] = note
        _try(form, "other", lambda: house.logbook.append("find.joined", find.id, body, author=author))
    if not form.good:
        return find_page(request, house, find, form, status=422, at="joined")
    return done(f"/finds/{find.id}", "linked", author=author, anchor="family")


@router.post("/finds/{find_id}/parent")
def part_of(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter what the find is part of, over what was said before."""
    find = find_or_404(house, find_id)
    author, parent = (
        author_in(form),
        _other(house, form, "parent", "Give the number of the find it is part of."),
    )
    heads = find.heads.get("parent", ())
    body: dict[str, Any] = {"parent": parent}
    if heads:
        body["reason"] = form.need("reason", "Say why this replaces what the logbook says now.")
    if form.good:
        over = tuple(dict.fromkeys(head.entry.id for head in heads))
        _try(
            form,
            "parent",
            lambda: house.logbook.append("find.part_of", find.id, body, author=author, over=over),
        )
    if not form.good:
        return find_page(request, house, find, form, status=422, at="part_of")
    return done(f"/finds/{find.id}", "linked", author=author, anchor="family")


@router.get("/finds/{find_id}/strike/{entry_id}")
def strike_form(request: Request, house: TheHouse, find_id: str, entry_id: str) -> Response:
    """Ask why an entry is struck out."""
    return _strike_page(request, house, find_id, entry_id, Form.of({"author": writer_of(request)}))


@router.post("/finds/{find_id}/strike/{entry_id}")
def strike(request: Request, house: TheHouse, find_id: str, entry_id: str, form: SentForm) -> Response:
    """Strike an entry out; it stays in the logbook."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    reason = form.need("reason", "Say why it is struck out; the reason stays in the logbook with it.")
    if form.good:
        body = {"reason": reason}
        _try(form, "", lambda: house.logbook.append("struck", find.id, body, author=author, over=(entry_id,)))
    if not form.good:
        return _strike_page(request, house, find_id, entry_id, form, status=422)
    return done(f"/finds/{find.id}", "struck", author=author, anchor="history")


def _strike_page(
    request: Request, house: House, find_id: str, entry_id: str, form: Form, status: int = 200
) -> Response:
    find = find_or_404(house, find_id)
    entry = house.logbook.entry(entry_id)
    numbers = numbers_of(house.logbook, [entry])
    return page(
        request,
        "strike.html",
        room="Finds",
        status=status,
        back=(f"/finds/{find.id}", f"{find.number} {find.title}"),
        entry=entry,
        form=form,
        names=house.names(),
        numbers=numbers,
    )


def _other(house: House, form: Form, field: str, sentence: str) -> str:
    number = form.need(field, sentence)
    if number:
        try:
            return house.logbook.find(number).id
        except OakumError as error:
            form.wrong(field, str(error))
    return ""


def _try(form: Form, field: str, act: Any) -> Entry | None:
    try:
        entry: Entry = act()
    except OakumError as error:
        form.wrong(field, str(error))
        return None
    return entry
