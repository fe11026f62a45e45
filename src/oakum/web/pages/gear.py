"""The gear register: every piece with its papers, and one piece with its history."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.gear.entering import GEAR_INTAKE, list_piece
from oakum.desk.gear.standing import GearStanding, gear_standing, standing_of
from oakum.ground.errors import OakumError
from oakum.record import GEAR_KINDS, GearPiece, UnknownSubjectError
from oakum.record.log.heads import struck_ids, values
from oakum.web.ask import TheHouse, author_in, done, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import fragment, page, wants_fragment

router = APIRouter()
ALSO_SHOWN = ("imported_from", "extra")
HINTS = {
    "identity": "What stands on the tag; without a tag it cannot be told from another.",
    "wll": "As on the tag, with its unit: 2 t, 1500 kg, 20 kN. No tag, no rating.",
    "leg_of": "The set it belongs to, where it is one leg of several.",
    "certificate": "Its number, as on the paper.",
    "certificate_until": "The last day it holds, as 2027-05-31.",
    "inspect_by": "The last day before it must be looked at again.",
    "where": "Where it lies now.",
}


@router.get("/gear")
def gear(
    request: Request,
    house: TheHouse,
    q: Annotated[str, Query(max_length=200)] = "",
    objected: Annotated[bool, Query()] = False,
) -> Response:
    """List the register, all of it or the pieces that hold every word and, if asked, may not be used."""
    every = gear_standing(house.logbook, date.today())
    lines = [one for one in every if _fits(one, q) and (one.objections or not objected)]
    values: dict[str, Any] = {"lines": lines, "q": q, "objected": objected, "total": len(every)}
    if wants_fragment(request):
        return fragment("gear_lines.html", **values)
    count = sum(bool(one.objections) for one in every)
    return page(request, "gear.html", room="Gear", with_objection=count, **values)


def _fits(one: GearStanding, query: str) -> bool:
    said = one.piece.fields
    parts = (one.piece.name, *(str(said.get(name) or "") for name in ("description", "where", "owner", "maker")))
    text = " ".join(parts).casefold()
    return all(word in text for word in query.casefold().split())


@router.get("/gear/new")
def new_piece(request: Request) -> Response:
    """Ask for a piece, in the order one reads tag and papers."""
    return _new_page(request, Form.of({"author": writer_of(request)}))


@router.post("/gear/new")
def enter_piece(request: Request, house: TheHouse, form: SentForm) -> Response:
    """List a piece."""
    author, scans = author_in(form), form.uploads("certificate_file")
    for field, sentence in (
        ("identity", "Write what stands on the tag; a piece without a tag cannot be told from another."),
        ("kind", "Choose what it is."),
    ):
        form.need(field, sentence)
    piece: GearPiece | None = None
    if form.good:
        typed = {name: form.text(name) for name in GEAR_INTAKE}
        scan = (scans[0].name, scans[0].data) if scans else None
        try:
            piece = list_piece(house.logbook, typed, author=author, certificate=scan)
        except FieldErrors as error:
            for name, said in error.wrong.items():
                form.wrong(name, said)
        except OakumError as error:
            form.wrong("identity" if "identity" in str(error) else "", str(error))
    if piece is None:
        return _new_page(request, form, status=422)
    return done(f"/gear/{piece.id}", "listed", author=author)


def _new_page(request: Request, form: Form, status: int = 200) -> Response:
    return page(
        request,
        "gear_new.html",
        room="Gear",
        status=status,
        form=form,
        fields=GEAR_INTAKE,
        hints=HINTS,
        kinds=[(kind, kind) for kind in GEAR_KINDS],
    )


@router.get("/gear/{piece_id}")
def show_piece(request: Request, house: TheHouse, piece_id: str) -> Response:
    """Show a piece."""
    return piece_page(request, house, piece_or_404(house, piece_id), Form.of({"author": writer_of(request)}))


def piece_or_404(house: House, piece_id: str) -> GearPiece:
    """Return a piece of gear, or end the request with a page that says there is none."""
    try:
        return house.logbook.piece(piece_id)
    except UnknownSubjectError as error:
        raise HTTPException(404, str(error)) from error


def piece_page(
    request: Request, house: House, piece: GearPiece, form: Form, *, status: int = 200, at: str = ""
) -> Response:
    """Fill in the page of a piece; `at` names the form on it that `form` belongs to."""
    blank = Form.of({"author": writer_of(request)})
    shown = [*GEAR_INTAKE, *(name for name in ALSO_SHOWN if name in piece.heads)]
    return page(
        request,
        "gear_piece.html",
        room="Gear",
        status=status,
        piece=piece,
        standing=standing_of(piece, date.today()),
        facts=[
            (name, values(piece.heads.get(name, ())), name in GEAR_INTAKE and name not in ("identity", "kind"))
            for name in shown
        ],
        twins=[house.logbook.piece(twin) for twin in piece.twins],
        struck=struck_ids(piece.history),
        questions=house.logbook.open_questions(piece.id),
        names=house.names(),
        named=list(house.names().items()),
        forms={place: form if place == at else blank for place in ("certificate", "withdrawn", "back")},
        at=at,
    )
