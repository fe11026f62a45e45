"""Drawings and mosaics: brought, laid on the marks, looked at with what the fit leaves, changed, taken off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.seabed.registering import (
    KeptDrawing,
    change_drawing,
    control_typed,
    drawing_of,
    drawings_of,
    keep_drawing,
    laid,
    strike_drawing,
)
from oakum.desk.seabed.survey import survey_of
from oakum.desk.seabed.warping import SOURCE_PX, laid_picture
from oakum.draw.registered import control_picture, residual_rows
from oakum.draw.rows import Rows
from oakum.ground.errors import OakumError
from oakum.record import UnknownSubjectError
from oakum.record.files.pictures import NotAPicture, read_picture, thumbnail
from oakum.seabed.frame import FrameError, Registration
from oakum.web.ask import TheHouse, author_in, done, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()
KEEP = {"Cache-Control": "private, max-age=31536000, immutable"}
FIELDS = ("name", "control", "fit", "what", "square", "note")
FIT_WORDS = (
    ("similarity", "similarity: turned, moved, one scale (2 marks, 3 to check)"),
    ("affine", "affine: also stretched and skewed (3 marks, 4 to check)"),
    ("projective", "projective: a slanting photograph of a plane (4 marks, 5 to check)"),
)
WHAT_WORDS = (("drawing", "planning-frame drawing"), ("mosaic", "photo mosaic"))


@dataclass(frozen=True, slots=True)
class Tried:
    """Control marks as typed, the fit they give, or why there is none."""

    control: tuple[tuple[str, float, float], ...] = ()
    registration: Registration | None = None
    why_not: str = ""

    @property
    def rows(self) -> Rows | None:
        """What the fit leaves."""
        return None if self.registration is None else residual_rows(self.registration)


@router.get("/seabed/drawings")
def every(request: Request, house: TheHouse) -> Response:
    """List the drawings, with a form to bring another."""
    return _list_page(request, house, Form())


@router.post("/seabed/drawings")
def bring(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Take a picture in, to be looked at; nothing enters the logbook yet."""
    uploads = form.uploads("file")
    if not uploads:
        form.wrong("file", "Choose the picture of a drawing or a mosaic.")
    else:
        try:
            read_picture(uploads[0].data)
        except NotAPicture as error:
            form.wrong("file", f"{uploads[0].name}: {error}")
    if not form.good:
        return _list_page(request, house, form, status=422)
    tray = house.drawing_trays.put(uploads[0].name, uploads[0].data, None)
    return RedirectResponse(f"/seabed/drawings/new/{tray.key}", status_code=303)


@router.get("/seabed/drawings/new/{key}")
def begin(request: Request, house: TheHouse, key: str) -> Response:
    """Show a picture that was brought, with a form for its control marks."""
    name, _ = _brought(house, key)
    form = Form.of({"author": writer_of(request), "name": name.rpartition(".")[0] or name, "fit": "similarity"})
    return _editor(request, house, form, key=key)


@router.post("/seabed/drawings/new/{key}")
def lay(request: Request, house: TheHouse, key: str, form: SentForm) -> Response:
    """Try the control marks, or keep the drawing; only "keep" enters anything."""
    _, content = _brought(house, key)
    if form.text("do") != "keep":
        return _editor(request, house, form, key=key)
    author = author_in(form)
    if form.good:
        try:
            typed = {name: form.text(name) for name in FIELDS}
            entry = keep_drawing(house.logbook, content, typed, author=author)
            house.drawing_trays.drop(key)
            return done(f"/seabed/drawings/{entry.subject}", "laid", author=author)
        except FieldErrors as error:
            _note(form, error)
        except OakumError as error:
            form.wrong("", str(error))
    return _editor(request, house, form, key=key, status=422)


@router.get("/seabed/drawings/new/{key}/picture.jpg")
def brought_picture(house: TheHouse, key: str) -> Response:
    """Give a small upright copy of a picture that was brought."""
    _, content = _brought(house, key)
    return Response(thumbnail(content, longest_px=SOURCE_PX // 2), media_type="image/jpeg", headers=KEEP)


@router.get("/seabed/drawings/{subject}")
def show(request: Request, house: TheHouse, subject: str) -> Response:
    """Show a drawing that is kept, and what its fit leaves."""
    one = _kept(house, subject)
    form = Form.of(
        {
            "author": writer_of(request),
            "name": one.name,
            "fit": one.fit,
            "what": one.what,
            "square": one.square,
            "note": one.note,
            "control": "\n".join(f"{mark} {u:g} {v:g}" for mark, u, v in one.control),
        }
    )
    return _editor(request, house, form, one=one)


@router.post("/seabed/drawings/{subject}")
def change(request: Request, house: TheHouse, subject: str, form: SentForm) -> Response:
    """Try other control marks, keep them with a reason, or take the drawing off the plan."""
    one = _kept(house, subject)
    if form.text("do") not in ("keep", "off"):
        return _editor(request, house, form, one=one)
    author = author_in(form)
    if form.good:
        try:
            if form.text("do") == "off":
                strike_drawing(house.logbook, subject, form.text("reason"), author=author)
                return done("/seabed/drawings", "off", author=author)
            typed = {name: form.text(name) for name in FIELDS}
            change_drawing(house.logbook, subject, typed, author=author, reason=form.text("reason"))
            return done(f"/seabed/drawings/{subject}", "laid", author=author)
        except FieldErrors as error:
            _note(form, error)
        except OakumError as error:
            form.wrong("", str(error))
    return _editor(request, house, form, one=one, status=422)


@router.get("/seabed/drawings/{subject}/picture.jpg")
def kept_picture(house: TheHouse, subject: str) -> Response:
    """Give a small upright copy of a drawing."""
    one = _kept(house, subject)
    if one.size is None:
        raise HTTPException(404, "The picture of this drawing is not here. It may lie in a backup.")
    small = thumbnail(house.files.get(one.sha256), longest_px=SOURCE_PX // 2)
    return Response(small, media_type="image/jpeg", headers=KEEP)


@router.get("/seabed/drawings/{subject}/laid.png")
def laid_on_site(house: TheHouse, subject: str) -> Response:
    """Give the picture as it lies on the site."""
    one = _kept(house, subject)
    if not one.has_picture:
        raise HTTPException(404, "This drawing does not lie on the plan.")
    return Response(laid_picture(house.logbook, one), media_type="image/png")


def _note(form: Form, error: FieldErrors) -> None:
    for name, said in error.wrong.items():
        form.wrong(name, said)


def _brought(house: House, key: str) -> tuple[str, bytes]:
    tray = house.drawing_trays.get(key)
    if tray is None:
        raise HTTPException(404, "This picture is gone; bring it again. Nothing of it was kept.")
    return tray.name, tray.data


def _kept(house: House, subject: str) -> KeptDrawing:
    try:
        return drawing_of(house.logbook, subject)
    except UnknownSubjectError as error:
        raise HTTPException(404, str(error)) from error


def _list_page(request: Request, house: House, form: Form, *, status: int = 200) -> Response:
    drawings = drawings_of(house.logbook, survey_of(house.logbook).solution)
    return page(request, "seabed_drawings.html", room="Seabed", status=status, form=form, drawings=drawings)


def _tried(house: House, form: Form) -> Tried:
    """Lay the marks as typed; noted in words where it does not go, never as an error of the page."""
    if not form.value("control"):
        return Tried(why_not="No control mark is given yet.")
    survey = survey_of(house.logbook)
    control: tuple[tuple[str, float, float], ...] = ()
    try:
        control = control_typed(form.text("control"), survey)
        return Tried(control, laid(control, form.text("fit") or "similarity", survey.solution))
    except FieldErrors as error:
        return Tried(control, why_not=error.wrong["control"])
    except FrameError as error:
        return Tried(control, why_not=str(error))


def _editor(
    request: Request,
    house: House,
    form: Form,
    *,
    key: str = "",
    one: KeptDrawing | None = None,
    status: int = 200,
) -> Response:
    here = f"/seabed/drawings/{one.subject}" if one else f"/seabed/drawings/new/{key}"
    size = one.size if one else None
    if one is None:
        picture = read_picture(_brought(house, key)[1])
        size = (picture.width_px, picture.height_px)
    tried = _tried(house, form)
    values: dict[str, Any] = {
        "picture": None if size is None else control_picture(f"{here}/picture.jpg", size, tried.control),
        "size": size,
        "tried": tried,
        "fits": FIT_WORDS,
        "kinds": WHAT_WORDS,
        "here": here,
        "one": one,
    }
    return page(request, "seabed_drawing.html", room="Seabed", status=status, form=form, **values)
