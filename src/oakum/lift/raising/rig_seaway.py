"""The sea of a rig file: vessel, waves, depth, radius, wind, hoist line, boom head, and parts in the splash zone."""

from __future__ import annotations

import re
from typing import get_args

from oakum.ground.waves import WaveError, check_sea
from oakum.lift.body.cursor import Cursor
from oakum.lift.raising.rig_cursor import degrees, named_twice, one, pick, rows, texts
from oakum.lift.seaway import HeaveAndRollSeen, SeaAsked, SeaPart, TipAsked
from oakum.lift.splash import Line, SplashError, TipPerHeight, TipStill, perforation_factor
from oakum.lift.vessel import Waters

_WATERS: tuple[Waters, ...] = get_args(Waters)
_LONGEST_S = 30.0
_HOWS = ("still", "per height", "seen")


def read_seaway(top: Cursor) -> SeaAsked | None:
    """Return what the file says of the sea, None where it has no `[seaway]`."""
    cursor = top.table_of("seaway", "seaway")
    if cursor is None:
        return None
    line, damping = _line(cursor)
    found = SeaAsked(
        vessel=_said(cursor, "vessel"),
        heading=_said(cursor, "heading"),
        waters=pick(cursor, "waters", _WATERS),
        hs_m=one(cursor, "hs", "length"),
        tz_s=one(cursor, "tz", "time"),
        periods_s=_periods(cursor),
        depth_m=one(cursor, "depth", "length"),
        radius_m=one(cursor, "radius", "length"),
        wind_m_s=one(cursor, "wind", "speed"),
        hoist_m_s=one(cursor, "hoist_speed", "speed"),
        line_n_m=line,
        line_damping=damping,
        tip=_tip(cursor),
        parts=_parts(cursor),
    )
    if found.hs_m is not None and found.tz_s is not None:
        try:
            check_sea(found.hs_m, found.tz_s, found.depth_m)
        except WaveError as error:
            cursor.problem("tz", str(error))
    cursor.finish()
    return found


def _said(cursor: Cursor, key: str) -> str:
    value = cursor.text(key)
    return "" if value.lower() == "not known" else value


def _periods(cursor: Cursor) -> tuple[float, ...]:
    """Return the mean periods of the limit curve, rising, each once."""
    found: list[float] = []
    for text in texts(cursor, "periods"):
        inner = Cursor({"periods": text}, cursor.path, cursor.notes, cursor.what)
        period = one(inner, "periods", "time")
        if period is None:
            continue
        if period > _LONGEST_S:
            cursor.problem("periods", f'"{text}" is no mean period of a sea: write seconds, such as "5 s"')
        found.append(period)
    return tuple(sorted(set(found)))


def _line(cursor: Cursor) -> tuple[float | None, float | None]:
    """Return stiffness, N/m, and damping of the hoist line: a pull test, or EA and the length paid out."""
    inner = cursor.table_of("line", "line of seaway")
    if inner is None:
        return None, None
    ea = one(inner, "axial_stiffness", "force")
    length = one(
        inner, "length", "length", needed="" if ea is None else "the length from boom head to slings"
    )
    pull = inner.table_of("stiffness", "stiffness of the line")
    stiffness = ea / length if ea is not None and length is not None else None
    if pull is not None:
        force = one(pull, "force", "force", needed="the force of the pull test")
        stretch = one(pull, "stretch", "length", needed="how far that stretched the line")
        pull.finish()
        if ea is not None:
            inner.problem(
                "stiffness", "stiffness and axial_stiffness say the same thing twice: keep the pull test"
            )
        stiffness = force / stretch if force is not None and stretch is not None else None
    damping = one(inner, "damping", "fraction", sign=True)
    if damping is not None:
        try:
            Line(stiffness or 1.0, damping)
        except SplashError as error:
            inner.problem("damping", str(error))
    inner.finish()
    return stiffness, damping


def _tip(cursor: Cursor) -> TipAsked | None:
    """Return how the boom head moves; None leaves it to the vessel's motions."""
    inner = cursor.table_of("tip", "tip of seaway")
    if inner is None:
        return None
    how = pick(inner, "how", _HOWS, needed=True)
    found: TipAsked | None = None
    if how == "still":
        found = TipStill()
    elif how == "per height":
        found = _per_height(inner)
    elif how == "seen":
        found = _seen(inner)
    inner.finish()
    return found


def _per_height(inner: Cursor) -> TipPerHeight | None:
    hs = one(inner, "hs", "length", needed="the Hs that the three numbers belong to")
    motion = one(inner, "motion", "length", needed="the greatest motion of the boom head, up or down from rest")
    speed = one(inner, "speed", "speed", needed="the greatest speed of the boom head")
    acceleration = _acceleration(inner)
    if hs is None or motion is None or speed is None or acceleration is None:
        return None
    return TipPerHeight(motion / hs, speed / hs, acceleration / hs)


def _acceleration(inner: Cursor) -> float | None:
    value = inner.raw("acceleration")
    wanted = 'a text in m/s2, such as acceleration = "0.4 m/s2"'
    if value is None:
        inner.problem("acceleration", f"is missing: write the greatest one of the boom head, {wanted}")
        return None
    found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*m/s(?:2|\^2|²)\s*", value) if isinstance(value, str) else None
    if found is None:
        inner.problem("acceleration", f"must be {wanted}")
        return None
    return float(found.group(1))


def _seen(inner: Cursor) -> HeaveAndRollSeen | None:
    hs = one(inner, "hs", "length", needed="the Hs it was seen in")
    tz = one(inner, "tz", "time", needed="the Tz it was seen in")
    heave = one(inner, "heave", "length", needed="how far she rose and fell from the middle")
    heave_s = one(inner, "heave_period", "time", needed="the time from one rise to the next")
    roll = degrees(inner, "roll")
    roll_s = one(inner, "roll_period", "time", needed="the time from one roll to the next on the same side")
    lever = one(inner, "lever", "length")
    if roll is None and "roll" not in inner.table:
        inner.problem("roll", 'is missing: write how far she rolled to one side, such as roll = "4 deg"')
    if roll is not None and roll < 0.0:
        inner.problem("roll", "must not be below zero: write how far she rolled to one side")
    if hs is None or tz is None or heave is None or heave_s is None or roll is None or roll_s is None:
        return None
    return HeaveAndRollSeen(hs, tz, heave, heave_s, roll, roll_s, lever)


def _parts(cursor: Cursor) -> tuple[SeaPart, ...]:
    cursors = rows(cursor, "part", "part of seaway", "[[seaway.part]]")
    found = [(row, _part(row)) for row in cursors]
    named_twice([(row, part.name) for row, part in found], "part")
    return tuple(part for _, part in found if part.name)


def _part(row: Cursor) -> SeaPart:
    name = row.text("name", needed='the part of the body file meant, or "object" for all of the object')
    open_share = one(row, "open", "fraction", sign=True)
    percent = None if open_share is None else round(100.0 * open_share, 9)
    if percent is not None:
        try:
            perforation_factor(percent)
        except SplashError as error:
            row.problem("open", str(error))
    part = SeaPart(
        name=name,
        plan_m2=one(row, "plan_area", "area"),
        waterplane_m2=one(row, "waterplane", "area"),
        added_kg=one(row, "added_mass", "mass"),
        open_percent=percent,
        drag=one(row, "drag", "fraction", unit="1"),
        slam=one(row, "slam", "fraction", unit="1"),
        slam_m2=one(row, "slam_area", "area"),
    )
    row.finish()
    return part
