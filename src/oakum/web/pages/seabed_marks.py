"""Marks, instruments and what holds for the whole site: one name for two spellings, places, water, north."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.seabed.held import (
    add_levels,
    describe_instrument,
    levels_in,
    set_bench,
    set_north,
    set_way_round,
)
from oakum.desk.seabed.marks import hold_mark, mark_lines, name_mark, two_names
from oakum.desk.seabed.survey import survey_of
from oakum.ground.errors import OakumError
from oakum.record import Logbook
from oakum.record.log.kinds_seabed import SITE
from oakum.record.log.seabed_checks import INSTRUMENT_KINDS, MARK_KINDS
from oakum.web.ask import TheHouse, author_in, done, own_offset, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()


@router.get("/seabed/marks")
def marks(request: Request, house: TheHouse) -> Response:
    """List the marks, ask about spellings, and show what is held."""
    return _marks_page(request, house, Form.of({"author": writer_of(request)}))


@router.post("/seabed/marks/{act}")
def say(request: Request, house: TheHouse, act: str, form: SentForm) -> Response:
    """Say one thing about a mark, an instrument or the site."""
    if act not in _ACTS:
        raise HTTPException(404, "There is no such form.")
    author = author_in(form)
    if form.good:
        try:
            _ACTS[act](house.logbook, form, author)
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _marks_page(request, house, form, at=act, status=422)
    return done("/seabed/marks", "mark", author=author)


def _one(logbook: Logbook, form: Form, author: str) -> None:
    names = form.every("name")
    chosen = form.need("chosen", "Choose the name that stands for the others.")
    if chosen:
        name_mark(logbook, chosen, also=names, author=author)


def _name(logbook: Logbook, form: Form, author: str) -> None:
    name_mark(
        logbook,
        form.text("name"),
        also=[one for one in form.text("also").split(",") if one.strip()],
        what=form.text("what"),
        find=form.value("find") or "",
        reason=form.text("reason"),
        author=author,
    )


def _hold(logbook: Logbook, form: Form, author: str) -> None:
    typed = {key: form.text(key) for key in ("x", "y", "z", "sd", "sd_z", "source")}
    hold_mark(logbook, form.text("name"), typed, reason=form.text("reason"), author=author)


def _instrument(logbook: Logbook, form: Form, author: str) -> None:
    kind = form.need("kind", "Choose what it is.")
    name = form.need("name", "Give its name, as on its label.")
    if form.good:
        keys = ("longest", "sd", "sd_per_m", "scale", "zero", "solve", "offset_sd", "note")
        typed = {key: form.text(key) for key in keys}
        describe_instrument(logbook, name, kind, typed, reason=form.text("reason"), author=author)


def _bench(logbook: Logbook, form: Form, author: str) -> None:
    name = form.need("name", "Name the mark the gauge is read on at the beginning and the end.")
    if form.good:
        set_bench(logbook, name, author=author)


def _levels(logbook: Logbook, form: Form, author: str) -> None:
    pairs = levels_in(form.text("levels"))
    add_levels(logbook, pairs, zone=own_offset(), source=form.text("source"), author=author)


def _north(logbook: Logbook, form: Form, author: str) -> None:
    set_north(
        logbook,
        form.text("declination"),
        turn_deg=form.text("turn"),
        source=form.text("source"),
        reason=form.text("reason"),
        author=author,
    )


def _way_round(logbook: Logbook, form: Form, author: str) -> None:
    set_way_round(logbook, form.text("three").replace(",", " ").split(), author=author)


_ACTS: dict[str, Callable[[Logbook, Form, str], None]] = {
    "one": _one,
    "name": _name,
    "hold": _hold,
    "instrument": _instrument,
    "bench": _bench,
    "levels": _levels,
    "north": _north,
    "way-round": _way_round,
}


def _marks_page(request: Request, house: House, form: Form, *, at: str = "", status: int = 200) -> Response:
    answer = survey_of(house.logbook)
    blank = Form.of({"author": writer_of(request)})
    site = {name: heads[-1].value for name, heads in house.logbook.heads(SITE).items()}
    water: list[Any] = house.logbook.entries(SITE, kind="site.water")
    return page(
        request,
        "seabed_marks.html",
        room="Seabed",
        status=status,
        lines=mark_lines(house.logbook),
        places={mark.name: mark for mark in answer.solution.marks},
        groups=two_names(house.logbook),
        instruments=answer.instruments,
        further=answer.solution.further,
        site=site,
        benches=[entry.body["bench"] for entry in water if "bench" in entry.body],
        levels=sum(len(entry.body.get("levels", ())) for entry in water),
        kinds=[(kind, kind) for kind in MARK_KINDS],
        tools=[(kind, kind) for kind in INSTRUMENT_KINDS],
        forms={act: form if act == at else blank for act in _ACTS},
        at=at,
        wrong=form,
    )
