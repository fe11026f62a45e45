"""A hire firm's list: a message a row, and nothing is listed until it is accepted."""

from __future__ import annotations

from datetime import date

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.gear.list_import import accept_gear, propose_gear
from oakum.ground.errors import OakumError
from oakum.record.gear.proposal import GearProposal
from oakum.record.sheets.sheet import SheetChoice
from oakum.web.ask import TheHouse, author_in, done, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page
from oakum.web.trays import Tray

router = APIRouter()
SHOWN_ROWS = 1_000


@router.get("/gear/list")
def bring_form(request: Request) -> Response:
    """Ask for the list."""
    return page(request, "gear_list.html", room="Gear", form=Form())


@router.post("/gear/list")
def bring(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Read the list and go to what it proposes."""
    uploads = form.uploads("list")
    if not uploads:
        form.wrong("list", "Choose the file of the list: XLSX or CSV.")
        return page(request, "gear_list.html", room="Gear", status=422, form=form)
    name, data = uploads[0].name, uploads[0].data
    try:
        tray = house.gear_trays.put(name, data, propose_gear(house.logbook, data, name, on=date.today()))
    except SheetChoice as choice:
        tray = house.gear_trays.put(name, data, None, choice.names)
    except OakumError as error:
        form.wrong("list", str(error))
        return page(request, "gear_list.html", room="Gear", status=422, form=form)
    return RedirectResponse(f"/gear/list/{tray.key}", status_code=303)


@router.get("/gear/list/{key}")
def look(request: Request, house: TheHouse, key: str) -> Response:
    """Show what the list proposes, or ask which of its sheets it is."""
    return _tray_page(request, _tray(house, key), Form.of({"author": writer_of(request)}))


@router.post("/gear/list/{key}/sheet")
def choose_sheet(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """Read the sheet that was chosen."""
    tray = _tray(house, key)
    sheet = form.need("sheet", "Choose the sheet that is the list.")
    if form.good:
        try:
            proposal = propose_gear(house.logbook, tray.data, tray.name, on=date.today(), sheet=sheet)
        except OakumError as error:
            form.wrong("sheet", str(error))
        else:
            chosen = house.gear_trays.put(tray.name, tray.data, proposal)
            return RedirectResponse(f"/gear/list/{chosen.key}", status_code=303)
    return _tray_page(request, tray, form, status=422)


@router.post("/gear/list/{key}")
def accept(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """List the accepted rows, all or none."""
    tray = _tray(house, key)
    author = author_in(form)
    rows = [] if tray.proposal is None else _accepted(tray.proposal, form)
    if form.good and tray.proposal is not None:
        try:
            accept_gear(house.logbook, tray.proposal, tray.data, tray.name, author=author, rows=rows)
        except OakumError as error:
            form.wrong("which", str(error))
        else:
            house.gear_trays.drop(key)
            return done("/gear", "imported", author=author)
    return _tray_page(request, tray, form, status=422)


def _accepted(proposal: GearProposal, form: Form) -> list[int]:
    which = form.need("which", "Say which rows to list.")
    if which == "ready":
        rows = [row.row for row in proposal.of_status("ready")]
    elif which == "both":
        rows = [row.row for row in proposal.of_status("ready", "look")]
    else:
        rows = [int(text) for text in form.every("row") if text.isdecimal()]
    if which and not rows:
        form.wrong("which", "No row is among those; tick at least one row below.")
    return rows


def _tray(house: House, key: str) -> Tray[GearProposal]:
    tray = house.gear_trays.get(key)
    if tray is None:
        raise HTTPException(
            404, "This list is not at hand: it was taken in, or the server was started anew. Bring it again."
        )
    return tray


def _tray_page(request: Request, tray: Tray[GearProposal], form: Form, status: int = 200) -> Response:
    rows = tray.proposal.rows if tray.proposal is not None else ()
    return page(
        request,
        "gear_list_rows.html",
        room="Gear",
        status=status,
        tray=tray,
        form=form,
        rows=rows[:SHOWN_ROWS],
        more=max(0, len(rows) - SHOWN_ROWS),
        ticked=set(form.every("row")),
    )
