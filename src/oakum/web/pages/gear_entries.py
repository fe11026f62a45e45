"""What is said anew of a piece of gear: a field, a scan, a withdrawal, a return; and entries struck out."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.gear.entering import GEAR_INTAKE, attach_certificate, bring_back, change_piece, withdraw
from oakum.ground.errors import OakumError
from oakum.record import GearPiece
from oakum.web.ask import TheHouse, author_in, done, person_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.gear import HINTS, piece_or_404, piece_page
from oakum.web.render import page
from oakum.web.words import field_name, value_in_words

router = APIRouter()
CHANGEABLE = frozenset(GEAR_INTAKE) - {"identity", "kind"}


@router.get("/gear/{piece_id}/change/{field}")
def change_form(request: Request, house: TheHouse, piece_id: str, field: str) -> Response:
    """Show the form that says something new about one field."""
    piece = piece_or_404(house, piece_id)
    now = piece.fields.get(field)
    text = "" if now is None else value_in_words(now)
    return _change_page(request, house, piece, field, Form.of({"value": text, "author": writer_of(request)}))


@router.post("/gear/{piece_id}/change/{field}")
def change(request: Request, house: TheHouse, piece_id: str, field: str, form: SentForm) -> Response:
    """Enter the new value over the old one."""
    piece = piece_or_404(house, piece_id)
    author = author_in(form)
    if field not in CHANGEABLE:
        form.wrong("", f"There is no {field_name(field)} that can be changed here.")
    if form.good:
        try:
            entry = change_piece(
                house.logbook, piece.id, field, form.text("value"), author=author, reason=form.text("reason")
            )
        except FieldErrors as error:
            for name, said in error.wrong.items():
                form.wrong("value" if name == field else name, said)
        except OakumError as error:
            form.wrong("value", str(error))
        else:
            if entry is None:
                form.wrong("value", "This is what the register says already; nothing was entered.")
    if not form.good:
        return _change_page(request, house, piece, field, form, status=422)
    return done(f"/gear/{piece.id}", "changed", author=author, anchor="known")


@router.post("/gear/{piece_id}/certificate")
def keep_certificate(request: Request, house: TheHouse, piece_id: str, form: SentForm) -> Response:
    """Keep the scan of a certificate."""
    piece = piece_or_404(house, piece_id)
    author, scans = author_in(form), form.uploads("scan")
    if not scans:
        form.wrong("scan", "Choose the scan or photograph of the paper.")
    if form.good:
        try:
            attach_certificate(
                house.logbook,
                piece.id,
                scans[0].name,
                scans[0].data,
                author=author,
                reason=form.text("reason"),
            )
        except OakumError as error:
            form.wrong("scan", str(error))
    if not form.good:
        return piece_page(request, house, piece, form, status=422, at="certificate")
    return done(f"/gear/{piece.id}", "file", author=author, anchor="papers")


@router.post("/gear/{piece_id}/withdraw")
def take_out(request: Request, house: TheHouse, piece_id: str, form: SentForm) -> Response:
    """Take a piece out of use."""
    piece = piece_or_404(house, piece_id)
    author = author_in(form)
    why = form.need("why", "Say what is wrong with it.")
    if form.good:
        try:
            if withdraw(house.logbook, piece.id, why, author=author) is None:
                form.wrong("why", "It is withdrawn for this reason already; nothing was entered.")
        except OakumError as error:
            form.wrong("why", str(error))
    if not form.good:
        return piece_page(request, house, piece, form, status=422, at="withdrawn")
    return done(f"/gear/{piece.id}", "withdrawn", author=author)


@router.post("/gear/{piece_id}/bring-back")
def put_back(request: Request, house: TheHouse, piece_id: str, form: SentForm) -> Response:
    """Bring a withdrawn piece back, passed by a named person."""
    piece = piece_or_404(house, piece_id)
    author = author_in(form)
    by = person_in(form, house, "passed_by", "Choose who looked at it and passed it.")
    reason = form.need("reason", "Say what was done, and why it may be used again.")
    if form.good:
        try:
            bring_back(house.logbook, piece.id, passed_by=by, reason=reason, author=author)
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return piece_page(request, house, piece, form, status=422, at="back")
    return done(f"/gear/{piece.id}", "back", author=author)


@router.get("/gear/{piece_id}/strike/{entry_id}")
def strike_form(request: Request, house: TheHouse, piece_id: str, entry_id: str) -> Response:
    """Ask why an entry is struck out."""
    return _strike_page(request, house, piece_id, entry_id, Form.of({"author": writer_of(request)}))


@router.post("/gear/{piece_id}/strike/{entry_id}")
def strike(request: Request, house: TheHouse, piece_id: str, entry_id: str, form: SentForm) -> Response:
    """Strike an entry out; it stays in the logbook."""
    piece = piece_or_404(house, piece_id)
    author = author_in(form)
    reason = form.need("reason", "Say why it is struck out; the reason stays in the logbook with it.")
    if form.good:
        try:
            house.logbook.append("struck", piece.id, {"reason": reason}, author=author, over=(entry_id,))
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _strike_page(request, house, piece_id, entry_id, form, status=422)
    return done(f"/gear/{piece.id}", "struck", author=author, anchor="history")


def _change_page(
    request: Request, house: House, piece: GearPiece, field: str, form: Form, status: int = 200
) -> Response:
    if field not in CHANGEABLE:
        form.wrong("", f"There is no {field_name(field)} of a piece of gear that can be changed here.")
        status = 422
    return page(
        request,
        "gear_change.html",
        room="Gear",
        status=status,
        piece=piece,
        field=field,
        hint=HINTS.get(field, ""),
        form=form,
        heads=[head for head in piece.heads.get(field, ()) if head.value is not None],
        names=house.names(),
    )


def _strike_page(
    request: Request, house: House, piece_id: str, entry_id: str, form: Form, status: int = 200
) -> Response:
    piece = piece_or_404(house, piece_id)
    return page(
        request,
        "strike.html",
        room="Gear",
        status=status,
        back=(f"/gear/{piece.id}", piece.name),
        entry=house.logbook.entry(entry_id),
        form=form,
        names=house.names(),
        numbers={},
    )
