"""Turnings on the seabed of a rig file: side view, edge, pull and what holds."""

from __future__ import annotations

from typing import Literal

from oakum.lift.body.cursor import Cursor
from oakum.lift.raising.rig_cursor import (
    degrees,
    one,
    pick,
    piece_of,
    point2,
    rows,
    tag_kg,
    yes,
)
from oakum.lift.raising.rig_plan import (
    RigBearing,
    RigFramePart,
    RigFrameStep,
    RigPull,
    RigRolling,
    RigTurning,
)

_AXES: tuple[Literal["x", "y"], ...] = ("x", "y")
_WAYS: tuple[Literal["bag", "line", "hands"], ...] = ("bag", "line", "hands")
_SIDE = ("across", "up")
_SENSES: tuple[Literal["clockwise", "anticlockwise"], ...] = ("clockwise", "anticlockwise")
_OUTLINE = 'outline = [{ across = "0 m", up = "0 m" }, { across = "2 m", up = "0 m" }, ...]'


def read_turnings(top: Cursor) -> tuple[RigTurning, ...]:
    """Return the turnings, none where the file has none."""
    found = [_turning(cursor) for cursor in rows(top, "turning", "turning", "[[turning]]")]
    return tuple(turning for turning in found if turning is not None)


def _turning(cursor: Cursor) -> RigTurning | None:
    name = cursor.text("name", needed='what is done, such as name = "upright into the frame"')
    across = pick(cursor, "across", _AXES, needed=True)
    sense = pick(cursor, "sense", _SENSES, needed=True)
    outline = _outline(cursor)
    edge = cursor.number("edge", low=1, default=0)
    if not edge and "edge" not in cursor.table:
        cursor.problem(
            "edge", "is missing: write which point of the outline it turns on, counted from 1, edge = 1"
        )
    if outline and edge > len(outline):
        cursor.problem(
            "edge", f"the outline has {len(outline)} points; write a number from 1 to {len(outline)}"
        )
        edge = 0
    pull, hold = _pull(cursor, "pull"), _pull(cursor, "hold")
    to, friction = degrees(cursor, "to"), one(cursor, "bed_friction", "fraction", unit="1")
    frame = tuple(_frame_step(c) for c in rows(cursor, "frame", "frame step", "[[turning.frame]]"))
    cursor.finish()
    if not name or across is None or sense is None or len(outline) < 3 or not edge:
        return None
    steps = tuple(step for step in frame if step is not None)
    return RigTurning(name, across, outline, edge - 1, sense == "clockwise", pull, hold, to, friction, steps)


def read_rollings(top: Cursor) -> tuple[RigRolling, ...]:
    """Return the rollings, none where the file has none."""
    found = [_rolling(cursor) for cursor in rows(top, "rolling", "rolling", "[[rolling]]")]
    return tuple(rolling for rolling in found if rolling is not None)


def _rolling(cursor: Cursor) -> RigRolling | None:
    name = cursor.text("name", needed='what is done, such as name = "up the planks to the chocks"')
    across = pick(cursor, "across", _AXES, needed=True)
    axis = point2(cursor, "axis", _SIDE, needed=True)
    radius = one(cursor, "radius", "length", needed="the radius it rolls on")
    height = one(cursor, "pull_height", "length", needed="how high over the planks the line pulls")
    slope = degrees(cursor, "slope")
    if slope is None and "slope" not in cursor.table:
        cursor.problem(
            "slope", 'is missing: write the slope of the planks, slope = "0 deg" where they lie level'
        )
    gear = piece_of(cursor)
    start, friction = degrees(cursor, "start"), one(cursor, "bed_friction", "fraction", unit="1")
    chock, push = one(cursor, "chock", "length"), tag_kg(cursor, "push")
    cursor.finish()
    if not name or across is None or axis is None or radius is None or height is None or slope is None:
        return None
    return RigRolling(name, across, axis, radius, slope, height, gear, start, friction, chock, push)


def _frame_step(cursor: Cursor) -> RigFrameStep | None:
    name = cursor.text("name", needed='what is done, such as name = "port side frame on"')
    start, end = degrees(cursor, "from"), degrees(cursor, "to")
    for key, value in (("from", start), ("to", end)):
        if value is None and key not in cursor.table:
            cursor.problem(key, f'is missing: write the angle turned so far, {key} = "0 deg"')
    bearings = [_bearing(c) for c in rows(cursor, "bearing", "bearing", "[[turning.frame.bearing]]")]
    parts = [_part(c) for c in rows(cursor, "part", "part of the frame", "[[turning.frame.part]]")]
    pull = _pull(cursor, "pull")
    if "bearing" not in cursor.table:
        cursor.problem(
            "bearing", "is missing: write one or two [[turning.frame.bearing]] with name, member, at"
        )
    cursor.finish()
    if not name or start is None or end is None:
        return None
    held = tuple(b for b in bearings if b is not None)
    return RigFrameStep(name, start, end, held, tuple(p for p in parts if p is not None), pull)


def _bearing(cursor: Cursor) -> RigBearing | None:
    name = cursor.text("name", needed='where it stands, such as name = "port trestle"')
    member = cursor.text("member", needed='what bears there, such as member = "port sill"')
    at, bears = point2(cursor, "at", _SIDE, needed=True), tag_kg(cursor, "bears")
    cursor.finish()
    return RigBearing(name, member, at, bears) if name and member and at is not None else None


def _part(cursor: Cursor) -> RigFramePart | None:
    name = cursor.text("name", needed='what it is, such as name = "port side"')
    weight = one(cursor, "weight", "mass", needed="what it weighs under water")
    at = point2(cursor, "at", _SIDE, needed=True)
    cursor.finish()
    return RigFramePart(name, weight, at) if name and weight is not None and at is not None else None


def _outline(cursor: Cursor) -> tuple[tuple[float, float], ...]:
    value = cursor.raw("outline")
    if not isinstance(value, list) or len(value) < 3 or not all(isinstance(corner, dict) for corner in value):
        cursor.problem("outline", f"must list at least three points of the side view in order: {_OUTLINE}")
        return ()
    found = []
    for i, corner in enumerate(value):
        inner = Cursor(corner, (*cursor.path, "outline"), cursor.notes, f"point {i + 1} of the outline")
        for axis in ("across", "up"):
            if axis not in corner:
                inner.problem(axis, f"is missing: write both, as in {_OUTLINE}")
        across, up = (one(inner, axis, "length", sign=True) for axis in ("across", "up"))
        inner.finish()
        found.append((across or 0.0, up or 0.0))
    return tuple(found)


def _pull(cursor: Cursor, key: str) -> RigPull | None:
    inner = cursor.table_of(key, f"{key} of {cursor.what}")
    if inner is None:
        return None
    way = pick(inner, "way", _WAYS, needed=True)
    at = point2(inner, "at", _SIDE, needed=True)
    anchor = point2(inner, "anchor", _SIDE, needed=way == "line")
    people = inner.number("people", low=1, default=0) or None
    gear, block = piece_of(inner), yes(inner, "through_block")
    lift, holding, each = (tag_kg(inner, k) for k in ("lift", "holding", "each"))
    inner.finish()
    if way is None or at is None or (way == "line" and anchor is None):
        return None
    return RigPull(way, at, gear, lift, anchor, block, holding, people, each)
