"""Hook, legs, fittings and spreader of a rig file."""

from __future__ import annotations

from typing import get_args

from oakum.lift.body.cursor import Cursor
from oakum.lift.raising.rig_cursor import (
    degrees,
    named_twice,
    one,
    pick,
    piece,
    piece_of,
    point3,
    rows,
    tag_kg,
)
from oakum.lift.raising.rig_plan import HookPlace, RigFitting, RigHook, RigLeg, RigSpreader
from oakum.lift.slings import FittingKind, Hitch, LegKind, Spreader

_PLACES: tuple[HookPlace, ...] = get_args(HookPlace)
_LEG_KINDS: tuple[LegKind, ...] = get_args(LegKind)
_HITCHES: tuple[Hitch, ...] = get_args(Hitch)
_FITTINGS: tuple[FittingKind, ...] = get_args(FittingKind)


def read_hook(hook: Cursor) -> RigHook:
    """Return the hook: where it is, what it bears, what may hang how far out of level."""
    place = pick(hook, "place", _PLACES, needed=True)
    by_height = place in ("over the hanging point", "trimmed")
    height = one(
        hook,
        "height",
        "length",
        needed="how high the hook is over the topmost attachment" if by_height else "",
    )
    at = point3(hook, "at", needed=place == "at a point")
    found = RigHook(
        place=place,
        level=pick(hook, "level", ("under water", "in air")),
        piece=piece_of(hook),
        height_m=height,
        at_m=at,
        top=fitting(hook, "top", "ring"),
        tilt_limit_deg=degrees(hook, "tilt_limit"),
        length_tolerance_m=one(hook, "length_tolerance", "length"),
        rigging_kg=one(hook, "rigging", "mass"),
    )
    hook.finish()
    return found


def read_legs(top: Cursor) -> tuple[RigLeg, ...]:
    """Return the legs: none, or two to four."""
    cursors = rows(top, "leg", "leg", "[[leg]]")
    found = [(cursor, _leg(cursor)) for cursor in cursors]
    named_twice([(cursor, leg.name) for cursor, leg in found if leg is not None], "leg")
    if cursors and not 2 <= len(cursors) <= 4:
        top.problem("leg", f"a hook takes two, three or four legs here, got {len(cursors)}; use a [spreader]")
    return tuple(leg for _, leg in found if leg is not None)


def _leg(cursor: Cursor) -> RigLeg | None:
    name = cursor.text("name", needed='what the leg is called on deck, such as name = "bow port"')
    at = point3(cursor, "at", needed=True)
    leg = RigLeg(
        name=name,
        at_m=at or (0.0, 0.0, 0.0),
        piece=piece_of(cursor),
        kind=pick(cursor, "kind", _LEG_KINDS),
        hitch=pick(cursor, "hitch", _HITCHES),
        wll_for=pick(cursor, "wll_for", _HITCHES),
        length_m=one(cursor, "length", "length"),
        choke_angle_deg=degrees(cursor, "choke_angle"),
        basket_deg=degrees(cursor, "basket_angle"),
        diameter_m=one(cursor, "diameter", "length"),
        bend_diameter_m=one(cursor, "bend_diameter", "length"),
        ea_n=one(cursor, "axial_stiffness", "force"),
        stiffness_n_m=_spring(cursor),
        shackle=fitting(cursor, "shackle", "shackle"),
        eye=fitting(cursor, "eye", None),
    )
    cursor.finish()
    return leg if name and at is not None else None


def _spring(cursor: Cursor) -> float | None:
    """Return the spring of a leg, written as its force and how far that stretches it."""
    inner = cursor.table_of("stiffness", f"stiffness of {cursor.what}")
    if inner is None:
        return None
    force = one(inner, "force", "force", needed="the force of the pull test")
    stretch = one(inner, "stretch", "length", needed="how far that stretched the leg")
    inner.finish()
    return force / stretch if force is not None and stretch is not None else None


def fitting(cursor: Cursor, key: str, kind: FittingKind | None) -> RigFitting | None:
    """Return a fitting; `kind` is what it is unless it says otherwise, None where it has to say."""
    inner = cursor.table_of(key, f"{key} of {cursor.what}")
    if inner is None:
        return None
    found = RigFitting(
        kind=pick(inner, "kind", _FITTINGS, needed=kind is None) or kind or "ring",
        piece=piece_of(inner),
        axis=point3(inner, "axis"),
        off_line_deg=degrees(inner, "off_line"),
    )
    inner.finish()
    return found


def read_spreader(top: Cursor) -> RigSpreader | None:
    """Return the spreader, None where there is none."""
    cursor = top.table_of("spreader", "spreader")
    if cursor is None:
        return None
    first = point3(cursor, "first_eye", needed=True)
    second = point3(cursor, "second_eye", needed=True)
    length = one(cursor, "length", "length", needed="the length between its end pins")
    height = one(cursor, "hook_height", "length", needed="the height of the hook over the beam")
    beam_name = cursor.text("name") or "beam"
    inertia, modulus = _inertia_m4(cursor), one(cursor, "modulus", "pressure")
    area, limit = one(cursor, "area", "area"), one(cursor, "yield", "pressure")
    mass = tag_kg(cursor, "mass")
    top_piece, drop_piece = piece(cursor, "top_legs"), piece(cursor, "drops")
    cursor.finish()
    if first is None or second is None or length is None or height is None:
        return None
    beam = Spreader(beam_name, length, height, inertia, modulus, mass, area, limit)
    return RigSpreader(beam, (first, second), top_piece, drop_piece)


def _inertia_m4(cursor: Cursor) -> float | None:
    """Return the least second moment of area, typed in cm4 as section tables give it."""
    value = cursor.raw("inertia_cm4")
    if value is None or (isinstance(value, str) and value.strip().lower() == "not known"):
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not value > 0:
        cursor.problem(
            "inertia_cm4", "must be a number of cm4 without quotes, from the maker's table: inertia_cm4 = 231"
        )
        return None
    return float(value) * 1e-8
