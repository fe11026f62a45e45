"""A cradle from a TOML text. The format is described, with examples that the tests run, in docs/cradle-file.md.

Reading goes on after an error, so that one run lists everything that is to be put right.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

from oakum.lift.body.cursor import Cursor, Notes
from oakum.lift.body.errors import BodyFileError, Problem
from oakum.lift.body.lines import key_lines
from oakum.lift.body.single import one, point
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.file_members import read_members, read_sticks
from oakum.lift.cradle.file_states import read_rests, read_stands, read_states
from oakum.lift.cradle.file_touching import (
    read_bearings,
    read_pads,
    read_stock,
    read_straps,
    read_tray,
)
from oakum.lift.cradle.frame import Frame, Member, Point
from oakum.lift.cradle.plan import CradlePlan

WET_CLASS = 3
"""The service class of timber that goes in and out of the sea, EN 1995-1-1, 2.3.1.3."""

_TOLERANCE_M = 0.005


class CradleFileError(BodyFileError):
    """A cradle file that cannot be taken; `problems` lists all that is wrong, in the order of the file."""


def parse_cradle(toml_text: str, name: str = "cradle") -> CradlePlan:
    """Return the cradle that a TOML text describes.

    `name` is what messages call the text (a file name). Raises `CradleFileError` with every problem, its line and
    key. What is left out is not known; the report says what that costs.
    """
    table = _toml(toml_text, name)
    notes = Notes(key_lines(toml_text))
    top = Cursor(table, (), notes)
    title = top.text("title", needed='what the cradle is called, such as title = "Cradle for the capstan"')
    before = len(notes.problems)
    sticks = read_sticks(top)
    tolerance = one(top, "tolerance", "length")
    members = read_members(top, sticks)
    frame = _frame(top, title, members, tolerance) if len(notes.problems) == before else None
    pads = read_pads(top)
    stands = read_stands(top, frame)
    rests = read_rests(top, frame, {p.foam.name: p for p in pads})
    stock_m, own_stock, kerf_m = read_stock(top, sticks)
    plan = CradlePlan(
        title=title,
        frame=frame,
        at_m=_at(top, "member" in table),
        rests=rests,
        states=read_states(top, frame, stands),
        sag_m=one(top, "sag", "length"),
        service_class_known=_wet(top),
        straps=read_straps(top),
        bearings=read_bearings(top),
        pads=pads,
        tray=read_tray(top),
        stock_m=stock_m,
        own_stock=own_stock,
        kerf_m=kerf_m,
        notes=top.text("notes"),
        source=top.text("source"),
        mark=top.text("mark"),
    )
    _check_whole(top, plan)
    top.finish()
    if notes.problems:
        raise CradleFileError(name, notes.problems)
    return plan


def _toml(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
        line = int(found.group(1)) if found else len(text.splitlines()) or 1
        what = re.sub(r"\s*\(at .*\)$", "", str(error))
        message = f"this is not TOML: {what}. Texts and quantities stand in quotes, one key = value a line"
        raise CradleFileError(name, [Problem(line, "", message)]) from None


def _frame(
    top: Cursor, title: str, members: tuple[Member, ...], tolerance: float | None
) -> Frame | None:
    if not members:
        return None
    try:
        return Frame(title or "frame", members, _TOLERANCE_M if tolerance is None else tolerance)
    except CradleError as error:
        top.problem("member", str(error))
        return None


def _at(top: Cursor, has_frame: bool) -> Point:
    """Return where the frame's origin lies in the body's frame; needed where there is a frame."""
    found = point(top, "at", needed=has_frame)
    return (0.0, 0.0, 0.0) if found is None else (found[0], found[1], found[2])


def _wet(top: Cursor) -> bool:
    """Return whether the service class was said; one that is not for the sea is refused."""
    value = top.raw("service_class")
    if value is None or (isinstance(value, str) and value.strip().lower() == "not known"):
        return False
    if value == WET_CLASS and not isinstance(value, bool):
        return True
    top.problem(
        "service_class", "timber in and out of the sea is service class 3: write service_class = 3 without quotes"
    )
    return False


def _check_whole(top: Cursor, plan: CradlePlan) -> None:
    """Note what does not go together."""
    if not any(key in top.table for key in ("member", "straps", "tray", "bearing", "pad")):
        top.problem("", "carries nothing: write at least one [[member]], [straps], [tray], [[bearing]] or [[pad]]")
    if plan.frame is not None and not any(m.bends for m in plan.frame.members):
        top.problem("member", 'nothing bends: a frame has at least one member of kind "runner" or "bearer"')
    for key, what in (("rest", "rests"), ("stand", "stands")):
        if key in top.table and "member" not in top.table:
            top.problem(key, f"there are {what} but no [[member]]: a frame comes first")
