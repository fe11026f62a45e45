"""Files of the survey in the local grid, for anybody on the project."""

from __future__ import annotations

from datetime import UTC, datetime

from fastapi import APIRouter
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.seabed.exports import NothingToGiveError, site_export
from oakum.report.site_files import FILE_KINDS
from oakum.web.ask import TheHouse
from oakum.web.plan_asked import Asked

router = APIRouter()


@router.get("/seabed/files/{key}")
def give(house: TheHouse, key: str, asked: Asked) -> Response:
    """Give one file; `drawn=without` leaves the readings in doubt out."""
    kind = FILE_KINDS.get(key)
    if kind is None:
        raise HTTPException(404, f'There is no file "{key}"; there are {", ".join(FILE_KINDS)}.')
    today = datetime.now(UTC).astimezone().date()
    try:
        export = site_export(house.logbook, on=today, without_suspects=asked.without_suspects)
    except NothingToGiveError as error:
        raise HTTPException(404, str(error)) from error
    headers = {"Content-Disposition": f'attachment; filename="{file_stem(house.title)}_{kind.ending}"'}
    return Response(kind.write(export), media_type=kind.media_type, headers=headers)


def file_stem(title: str) -> str:
    """Make a file name of a title: letters, digits and dashes of the plain alphabet."""
    return "".join(c if c.isascii() and (c.isalnum() or c == "-") else "_" for c in title) or "site"
