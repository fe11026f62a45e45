"""Taking over the club's register: a message a row, and nothing enters until it is accepted."""

from __future__ import annotations

from collections.abc import Callable

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.finds.register_import import accept_rows, propose
from oakum.ground.errors import OakumError
from oakum.record.club_register.proposal import RegisterProposal
from oakum.record.sheets.sheet import SheetChoice
from oakum.web.ask import TheHouse, author_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.jobs import Outcome, Progress
from oakum.web.render import page
from oakum.web.trays import Tray

router = APIRouter()
SHOWN_ROWS = 1_000


@router.get("/finds/take-over")
def bring_form(request: Request) -> Response:
    """Ask for the register."""
    return page(request, "take_over.html", room="Finds", form=Form())


@router.post("/finds/take-over")
def bring(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Read the register and go to what it proposes."""
    uploads = form.uploads("register")
    if not uploads:
        form.wrong("register", "Choose the file of the register: XLSX or CSV.")
    else:
        try:
            proposal = propose(house.logbook, uploads[0].data, uploads[0].name)
            tray = house.trays.put(uploads[0].name, uploads[0].data, proposal)
        except SheetChoice as choice:
            tray = house.trays.put(uploads[0].name, uploads[0].data, None, choice.names)
        except OakumError as error:
            form.wrong("register", str(error))
    if not form.good:
        return page(request, "take_over.html", room="Finds", status=422, form=form)
    return RedirectResponse(f"/finds/take-over/{tray.key}", status_code=303)


@router.get("/finds/take-over/{key}")
def look(request: Request, house: TheHouse, key: str) -> Response:
    """Show what the register proposes, or ask which of its sheets it is."""
    return _tray_page(request, _tray(house, key), Form.of({"author": writer_of(request)}))


@router.post("/finds/take-over/{key}/sheet")
def choose_sheet(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """Read the sheet that was chosen."""
    tray = _tray(house, key)
    sheet = form.need("sheet", "Choose the sheet that is the register.")
    if form.good:
        try:
            proposal = propose(house.logbook, tray.data, tray.name, sheet=sheet)
        except OakumError as error:
            form.wrong("sheet", str(error))
        else:
            chosen = house.trays.put(tray.name, tray.data, proposal)
            return RedirectResponse(f"/finds/take-over/{chosen.key}", status_code=303)
    return _tray_page(request, tray, form, status=422)


@router.post("/finds/take-over/{key}")
def accept(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """Enter the accepted rows, all or none, as a piece of long work."""
    tray = _tray(house, key)
    if tray.proposal is None:
        return _tray_page(request, tray, form, status=422)
    author = author_in(form)
    rows = _accepted(tray.proposal, form)
    if form.good:
        house.trays.drop(key)
        job = house.jobs.start(f"Take over {tray.name}", _work(house, tray, tray.proposal, rows, author))
        return RedirectResponse(f"/jobs/{job.id}", status_code=303)
    return _tray_page(request, tray, form, status=422)


def _accepted(proposal: RegisterProposal, form: Form) -> list[int]:
    which = form.need("which", "Say which rows to enter.")
    if which == "ready":
        rows = [row.row for row in proposal.of_status("ready")]
    elif which == "both":
        rows = [row.row for row in proposal.of_status("ready", "look")]
    else:
        rows = [int(text) for text in form.every("row") if text.isdecimal()]
    if which and not rows:
        form.wrong("which", "No row is among those; tick at least one row below.")
    return rows


def _work(
    house: House, tray: Tray[RegisterProposal], proposal: RegisterProposal, rows: list[int], author: str
) -> Callable[[Progress], Outcome]:
    def work(progress: Progress) -> Outcome:
        def report(done: int, total: int) -> None:
            progress(0.05 + 0.9 * done / max(total, 1), f"{done:,} of {total:,} rows")

        accept_rows(house.logbook, proposal, tray.data, tray.name, author=author, rows=rows, report=report)
        words = f"{len(rows):,} {'find' if len(rows) == 1 else 'finds'} entered from {tray.name}."
        return Outcome(words, link="/finds", link_text="To the register")

    return work


def _tray(house: House, key: str) -> Tray[RegisterProposal]:
    tray = house.trays.get(key)
    if tray is None:
        raise HTTPException(
            404, "This register is not at hand: it was taken over, or the server was started anew. Bring it again."
        )
    return tray


def _tray_page(request: Request, tray: Tray[RegisterProposal], form: Form, status: int = 200) -> Response:
    rows = tray.proposal.rows if tray.proposal is not None else ()
    ticked = set(form.every("row"))
    return page(
        request,
        "take_over_rows.html",
        room="Finds",
        status=status,
        tray=tray,
        form=form,
        rows=rows[:SHOWN_ROWS],
        more=max(0, len(rows) - SHOWN_ROWS),
        ticked=ticked,
    )
