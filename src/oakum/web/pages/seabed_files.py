"""Files and sheets of the survey in the local grid, for anybody on the project."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.demo.project import is_demo
from oakum.desk.seabed.exports import NothingToGiveError, site_export
from oakum.desk.seabed.survey import survey_of
from oakum.report.pdf import SheetError
from oakum.report.site_files import FILE_KINDS
from oakum.report.site_sheet import SheetAsked, site_sheet_pdf, square_sheet_pdf
from oakum.web.ask import TheHouse
from oakum.web.pages.seabed_plan import drawn_solution
from oakum.web.plan_asked import Asked

router = APIRouter()


@router.get("/seabed/files/{key}")
def give(house: TheHouse, key: str, asked: Asked) -> Response:
    """Give one file; `drawn=without` leaves the readings in doubt out."""
    kind = FILE_KINDS.get(key)
    if kind is None:
        raise HTTPException(404, f'There is no file "{key}"; there are {", ".join(FILE_KINDS)}.')
    try:
        export = site_export(house.logbook, on=_today(), without_suspects=asked.without_suspects)
    except NothingToGiveError as error:
        raise HTTPException(404, str(error)) from error
    headers = {"Content-Disposition": f'attachment; filename="{file_stem(house.title)}_{kind.ending}"'}
    return Response(kind.write(export), media_type=kind.media_type, headers=headers)


def file_stem(title: str) -> str:
    """Make a file name of a title: letters, digits and dashes of the plain alphabet."""
    return "".join(c if c.isascii() and (c.isalnum() or c == "-") else "_" for c in title) or "site"


@router.get("/seabed/sheet/square.pdf")
def square_sheet(house: TheHouse, name: Annotated[str, Query(max_length=100)] = "") -> Response:
    """Give the sheet a diver takes down for one square."""
    try:
        pdf = square_sheet_pdf(
            house.logbook, survey_of(house.logbook), name, on=_today(), demo=is_demo(house.logbook)
        )
    except SheetError as error:
        raise HTTPException(404, str(error)) from error
    return _pdf(pdf, f"{file_stem(house.title)}_square_{file_stem(name)}.pdf")


@router.get("/seabed/sheet/plan-{paper}.pdf")
def plan_sheet(
    house: TheHouse,
    paper: str,
    asked: Asked,
    scale: Annotated[int | None, Query(ge=1, le=100_000)] = None,
) -> Response:
    """Give the plan on paper; with a window in the address round its middle, with `scale` at 1:scale."""
    survey = survey_of(house.logbook)
    middle = None if asked.x_m is None or asked.y_m is None else (asked.x_m, asked.y_m)
    try:
        pdf = site_sheet_pdf(
            house.logbook,
            survey,
            drawn_solution(survey, asked),
            SheetAsked(paper.lower(), scale, middle, asked.layers, asked.mark),
            on=_today(),
            demo=is_demo(house.logbook),
        )
    except SheetError as error:
        raise HTTPException(404, str(error)) from error
    return _pdf(pdf, f"{file_stem(house.title)}_plan_{file_stem(paper)}.pdf")


def _today() -> date:
    return datetime.now(UTC).astimezone().date()


def _pdf(pdf: bytes, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(pdf, media_type="application/pdf", headers=headers)
