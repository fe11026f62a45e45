"""The site in the world: tied to a map grid, and positions given away only by a named release."""

from __future__ import annotations

from datetime import UTC, date, datetime

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.seabed.exports import NothingToGiveError, site_export
from oakum.desk.seabed.geo import (
    WHAT,
    SiteFrame,
    WorldError,
    enter_frame,
    frame_of,
    release,
    released,
    releases,
)
from oakum.draw.rows import Rows
from oakum.draw.scale import decimals
from oakum.ground.errors import OakumError
from oakum.record.log.heads import current, heads
from oakum.record.log.kinds_seabed import SITE
from oakum.report.site_files.geojson import site_geojson
from oakum.web.ask import TheHouse, author_in, done, person_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.seabed_files import file_stem
from oakum.web.render import page

router = APIRouter()
TIE_FIELDS = ("epsg", "control", "fit", "vertical")
RELEASE_FIELDS = ("to", "because", "until")
NAMED = "Choose a named person of the list; a role cannot release positions."


@router.get("/seabed/release")
def show(request: Request, house: TheHouse) -> Response:
    """Show the tie, the releases, and the two forms."""
    return _page(request, house, _tie_form(request, house), Form.of({"author": writer_of(request)}))


@router.post("/seabed/release/tie")
def tie_site(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Tie the site to a map grid; nothing is given by that."""
    author = author_in(form)
    if form.good:
        try:
            typed = {name: form.text(name) for name in TIE_FIELDS}
            enter_frame(house.logbook, typed, author=author, reason=form.text("reason"))
            return done("/seabed/release", "tied", author=author)
        except FieldErrors as error:
            for name, said in error.wrong.items():
                form.wrong(name, said)
        except OakumError as error:
            form.wrong("", str(error))
    return _page(request, house, form, Form.of({"author": writer_of(request)}), status=422)


@router.post("/seabed/release")
def give(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Enter a release, by a named person with a reason."""
    author = person_in(form, house, "author", NAMED)
    if form.good:
        try:
            typed = {name: form.text(name) for name in RELEASE_FIELDS}
            release(house.logbook, typed, form.every("what"), author=author)
            return done("/seabed/release", "given", author=author, anchor="releases")
        except FieldErrors as error:
            for name, said in error.wrong.items():
                form.wrong(name, said)
        except OakumError as error:
            form.wrong("", str(error))
    return _page(request, house, _tie_form(request, house), form, status=422)


@router.get("/seabed/release/{id}/positions.geojson")
def fetch(house: TheHouse, id: str) -> Response:
    """Give what a release permits, as GeoJSON."""
    today = _today()
    try:
        one, frame = released(house.logbook, id, today)
        data = site_geojson(site_export(house.logbook, on=today), frame, one)
    except (WorldError, NothingToGiveError) as error:
        raise HTTPException(404, str(error)) from error
    headers = {"Content-Disposition": f'attachment; filename="{file_stem(house.title)}_released.geojson"'}
    return Response(data, media_type="application/geo+json", headers=headers)


def _today() -> date:
    return datetime.now(UTC).astimezone().date()


def _tie_form(request: Request, house: House) -> Form:
    """The tie as it stands, to be changed; its fields carry an id of their own on the page."""
    fields = current(heads(house.logbook.entries(SITE)))
    control = "\n".join(f"{c['mark']} {c['e']} {c['n']}" for c in fields.get("control", ()))
    return Form.of(
        {
            "author": writer_of(request),
            "epsg": str(fields["epsg"]) if "epsg" in fields else "",
            "control": control,
            "fit": str(fields.get("fit") or "held"),
            "vertical": str(fields.get("vertical") or ""),
        }
    )


def _page(request: Request, house: House, tie: Form, give: Form, *, status: int = 200) -> Response:
    frame: SiteFrame | None = None
    why_not = ""
    try:
        frame = frame_of(house.logbook)
    except OakumError as error:
        why_not = str(error)
    today = _today()
    return page(
        request,
        "seabed_release.html",
        room="Seabed",
        status=status,
        tie=tie,
        give=give,
        frame=frame,
        why_not=why_not,
        rows=None if frame is None else tie_rows(frame),
        releases=[(one, one.is_over(today)) for one in releases(house.logbook)],
        what=WHAT,
        names=house.names(),
        named=list(house.names().items()),
    )


def tie_rows(frame: SiteFrame) -> Rows:
    """Return what the tie leaves at every control mark."""
    lines = tuple(
        (
            one.mark,
            decimals(one.de_m, 3),
            decimals(one.dn_m, 3),
            "\u2013" if one.left_out_m is None else decimals(one.left_out_m, 3),
        )
        for one in frame.fit.residuals
    )
    rms = "unchecked" if frame.fit.rms_m is None else f"rms {frame.fit.rms_m:.3f} m"
    return Rows(f"What the tie leaves at its marks, {rms}", ("mark", "east, m", "north, m", "left out, m"), lines)
