"""Entering a vessel: its text and its tables in one form, which is the state until the papers are kept."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.vessels import KeptVessel, enter_vessel, tables_of
from oakum.ground.errors import OakumError
from oakum.lift import Problem
from oakum.lift.vessel import VesselError, VesselFileError, example_vessel, parse_vessel, vessel_files
from oakum.lift.vessel.file_problems import table_text
from oakum.web.ask import TheHouse, author_in, done, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.vessels import papers_shown, vessel_or_404
from oakum.web.render import page

router = APIRouter()
EMPTY = """title = ""

# Take the # away from what you know; what is left out is not known.
# class = "small commercial vessel"
# displacement = "42..46 t"
# km = "3.1 m"
# kg = "1.9 ± 0.1 m"

# [book]
# title = ""
# page = ""
# condition = ""

# [[chart]]
# file = "chart.csv"
# waters = "open"
# page = ""
"""


@router.get("/lifts/vessels/new")
def new(
    request: Request, house: TheHouse, start: Annotated[str, Query(max_length=20)] = "example"
) -> Response:
    """Show an invented vessel to edit, or next to nothing."""
    toml, tables = example_vessel() if start == "example" else (EMPTY, {})
    form = Form.of({"author": writer_of(request), "toml": toml})
    put_tables(form, {name: table_text(data, name) for name, data in tables.items()})
    return _editor(request, form, None, look=start == "example")


@router.post("/lifts/vessels/new")
def enter(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Look at the papers, or keep them."""
    return _sent(request, house, form, None)


@router.get("/lifts/vessels/{vessel_id}/change")
def change_form(request: Request, house: TheHouse, vessel_id: str) -> Response:
    """Show the papers that stand, to be corrected."""
    kept = vessel_or_404(house, vessel_id)
    form = Form.of({"author": writer_of(request), "toml": kept.toml})
    try:
        put_tables(
            form, {name: table_text(data, name) for name, data in tables_of(house.logbook, kept).items()}
        )
    except OakumError as error:
        form.wrong("", str(error))
    return _editor(request, form, kept)


@router.post("/lifts/vessels/{vessel_id}/change")
def change(request: Request, house: TheHouse, vessel_id: str, form: SentForm) -> Response:
    """Look at the corrected papers, or keep them over the old."""
    return _sent(request, house, form, vessel_or_404(house, vessel_id))


def tables_in(form: Form) -> dict[str, bytes]:
    """Return the tables of a form by name: text areas, and over them the files that were chosen."""
    names = form.every("table_name")
    typed = {name: form.text(f"table-{i}") for i, name in enumerate(names)}
    found = {name: text.encode() for name, text in typed.items() if text.strip()}
    return found | {upload.name: upload.data for upload in form.uploads("files")}


def put_tables(form: Form, tables: dict[str, str]) -> None:
    """Put tables into the text areas of a form: one for each name the text asks for, empty where it did not come."""
    names = list(dict.fromkeys([*vessel_files(form.text("toml")), *tables]))
    form.typed["table_name"] = names
    form.typed |= {f"table-{i}": [tables.get(name, "")] for i, name in enumerate(names)}


def _sent(request: Request, house: House, form: Form, kept: KeptVessel | None) -> Response:
    sent = tables_in(form)
    shown: dict[str, str] = {}
    for name, data in sent.items():
        try:
            shown[name] = table_text(data, name)
        except VesselError as error:
            form.wrong("files", str(error))
    put_tables(form, shown)
    if form.text("do") != "keep":
        return _editor(request, form, kept, look=True, status=200 if form.good else 422)
    if many := len(_problems(form)):
        form.wrong("toml", f"{many} to put right; each is listed under To put right with its line and key.")
    author = author_in(form)
    if form.good:
        try:
            entry = enter_vessel(
                house.logbook,
                form.text("toml"),
                sent,
                author=author,
                reason=form.text("reason"),
                over=None if kept is None else kept.id,
            )
        except FieldErrors as error:
            for field, said in error.wrong.items():
                form.wrong(field, said)
        except OakumError as error:
            form.wrong("", str(error))
        else:
            return done(f"/lifts/vessels/{entry.subject}", "vessel", author=author)
    return _editor(request, form, kept, look=True, status=422)


def _problems(form: Form) -> tuple[Problem, ...]:
    """Return what is wrong with text and tables as they stand in the form."""
    try:
        parse_vessel(form.text("toml"), tables_in(form), "vessel")
    except VesselFileError as error:
        return error.problems
    return ()


def _editor(
    request: Request, form: Form, kept: KeptVessel | None, *, look: bool = False, status: int = 200
) -> Response:
    problems = _problems(form) if look else ()
    papers = parse_vessel(form.text("toml"), tables_in(form), "vessel") if look and not problems else None
    return page(
        request,
        "vessel_edit.html",
        room="Lifts",
        status=status,
        form=form,
        kept=kept,
        problems=problems,
        tables=list(enumerate(form.every("table_name"))),
        here="/lifts/vessels/new" if kept is None else f"/lifts/vessels/{kept.id}/change",
        **papers_shown(papers),
    )
