"""Taking over the club's spreadsheet of readings, or a typed page: a message a row, nothing enters until accepted."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.seabed.bringing import Brought, accept, bring_sheet, join
from oakum.desk.seabed.typed import Slate
from oakum.ground.errors import OakumError
from oakum.record.sheets.sheet import SheetChoice
from oakum.web.ask import TheHouse, author_in, done, own_offset, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page
from oakum.web.trays import Tray

router = APIRouter()
SHOWN_ROWS = 1_000
UNITS = (("m", "metres"), ("ft", "feet"))


@router.get("/seabed/import")
def bring_form(request: Request) -> Response:
    """Ask for the spreadsheet."""
    return page(request, "seabed_import.html", room="Seabed", form=Form(), units=UNITS)


@router.post("/seabed/import")
def bring(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Read the spreadsheet and go to what it proposes."""
    uploads = form.uploads("sheet")
    unit = form.value("unit") or ""
    if not uploads:
        form.wrong("sheet", "Choose the file of the readings: XLSX or CSV.")
    else:
        name, data = uploads[0].name, uploads[0].data
        try:
            tray = house.survey_trays.put(name, data, bring_sheet(house.logbook, data, name, _slate(), unit=unit))
        except SheetChoice as choice:
            tray = house.survey_trays.put(name, data, None, choice.names)
        except OakumError as error:
            form.wrong("sheet", str(error))
    if not form.good:
        return page(request, "seabed_import.html", room="Seabed", status=422, form=form, units=UNITS)
    rest = f"?unit={unit}" if tray.proposal is None and unit else ""
    return RedirectResponse(f"/seabed/import/{tray.key}{rest}", status_code=303)


@router.get("/seabed/import/{key}")
def look(request: Request, house: TheHouse, key: str) -> Response:
    """Show what was read, or ask which of the sheets it is."""
    return _tray_page(request, _tray(house, key), Form.of({"author": writer_of(request)}))


@router.post("/seabed/import/{key}/sheet")
def choose_sheet(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """Read the sheet that was chosen."""
    tray = _tray(house, key)
    sheet = form.need("sheet", "Choose the sheet that holds the readings.")
    if form.good:
        unit = form.value("unit") or ""
        try:
            brought = bring_sheet(house.logbook, tray.data, tray.name, _slate(), unit=unit, sheet=sheet)
        except OakumError as error:
            form.wrong("sheet", str(error))
        else:
            chosen = house.survey_trays.put(tray.name, tray.data, brought)
            return RedirectResponse(f"/seabed/import/{chosen.key}", status_code=303)
    return _tray_page(request, tray, form, status=422)


@router.post("/seabed/import/{key}/names")
def join_names(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """Read it again, knowing which spellings are one mark."""
    tray = _tray(house, key)
    if tray.proposal is None:
        return _tray_page(request, tray, form, status=422)
    joined: dict[str, str] = {}
    for at, group in enumerate(tray.proposal.proposal.two_names):
        name = form.value(f"one-{at}")
        if name in group:
            joined |= {spelt: name for spelt in group if spelt != name}
    if not joined:
        form.wrong("one-0", "Choose the name that stands for the others, or go on without.")
        return _tray_page(request, tray, form, status=422)
    try:
        brought = join(house.logbook, tray.proposal, joined)
    except OakumError as error:
        form.wrong("one-0", str(error))
        return _tray_page(request, tray, form, status=422)
    new = house.survey_trays.put(tray.name, tray.data, brought)
    return RedirectResponse(f"/seabed/import/{new.key}", status_code=303)


@router.post("/seabed/import/{key}")
def take(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """Enter the accepted rows, all or none."""
    tray = _tray(house, key)
    author = author_in(form)
    if tray.proposal is None:
        return _tray_page(request, tray, form, status=422)
    which = form.need("which", "Say which readings to enter.")
    chosen = form.every("row") if which == "ticked" else None
    if form.good:
        try:
            accept(house.logbook, tray.proposal, author=author, sure=which == "both", chosen=chosen)
        except OakumError as error:
            form.wrong("which", str(error))
        else:
            house.survey_trays.drop(key)
            return done("/seabed/readings", "readings", author=author)
    return _tray_page(request, tray, form, status=422)


def _slate() -> Slate:
    return Slate(zone=own_offset(), seen_from="sheet")


def _tray(house: House, key: str) -> Tray[Brought]:
    tray = house.survey_trays.get(key)
    if tray is None:
        raise HTTPException(
            404, "These readings are not at hand: they were entered, or the server was started anew. Bring them again."
        )
    return tray


def _tray_page(request: Request, tray: Tray[Brought], form: Form, status: int = 200) -> Response:
    proposal = tray.proposal.proposal if tray.proposal is not None else None
    rows = proposal.rows if proposal is not None else ()
    if "unit" in request.query_params:
        form.typed.setdefault("unit", [request.query_params["unit"][:10]])
    return page(
        request,
        "seabed_import_rows.html",
        room="Seabed",
        status=status,
        tray=tray,
        brought=tray.proposal,
        proposal=proposal,
        form=form,
        rows=rows[:SHOWN_ROWS],
        more=max(0, len(rows) - SHOWN_ROWS),
        ticked=set(form.every("row")),
    )
