"""The bags of a rig file: kinds, eyes, bags with strops and crown lines, the air."""

from __future__ import annotations

from math import pi
from typing import get_args

from oakum.lift.bags import TAKEN_AT, AirSupply, BagError, BagKind
from oakum.lift.bags.air import SupplyFor
from oakum.lift.body.cursor import Cursor
from oakum.lift.raising.rig_cursor import (
    named_twice,
    one,
    pick,
    piece,
    piece_of,
    point3,
    rows,
    tag_kg,
    yes,
)
from oakum.lift.raising.rig_plan import BagsFor, Piece, RigBag, RigBags, RigCrownLine

_USES: tuple[BagsFor, ...] = get_args(BagsFor)
_SERVES: tuple[SupplyFor, ...] = get_args(SupplyFor)


def read_bags(top: Cursor) -> RigBags | None:
    """Return the bags, None where there are none."""
    cursor = top.table_of("bags", "bags")
    if cursor is None:
        return None
    depth = one(cursor, "depth", "length", needed="how deep the bags' air is at the start")
    bed = one(cursor, "bed_depth", "length")
    kinds = _kinds(cursor)
    eyes = _eyes(cursor)
    bags = _bags(cursor, kinds, eyes)
    use = pick(cursor, "used_for", _USES)
    line = piece(cursor, "hook_line") if "hook_line" in cursor.table else None
    relieve = one(cursor, "relieve_at_most", "fraction")
    if relieve is not None and relieve >= 1.0:
        cursor.problem("relieve_at_most", 'must be less than 100 %: the hook keeps the rest, such as "50 %"')
    found = RigBags(
        used_for=use,
        bags=bags,
        eyes=tuple(eyes.items()),
        depth_m=depth or 1.0,
        bed_depth_m=bed or depth or 1.0,
        hook_line=line,
        rise_m_s=one(cursor, "rise", "speed"),
        taken_at=pick(cursor, "taken_at", TAKEN_AT),
        drag_area_m2=one(cursor, "drag_area", "area"),
        added_mass_kg=one(cursor, "added_mass", "mass"),
        relieve_most=relieve,
        air_pressure_pa=one(cursor, "air_pressure", "pressure"),
        temperature_c=one(cursor, "temperature", "temperature", sign=True),
        supply=_supply(cursor),
    )
    if bed is not None and depth is not None and bed < depth:
        cursor.problem("bed_depth", "must not be less than the depth the bags start at")
    cursor.finish()
    return found


def _kinds(cursor: Cursor) -> dict[str, BagKind]:
    found: dict[str, BagKind] = {}
    for row in rows(cursor, "kind", "kind of bag", "[[bags.kind]]"):
        kind = _kind(row)
        if kind is None:
            continue
        if kind.key in found:
            row.problem("key", f'there are two kinds "{kind.key}"; give each its own key')
        found[kind.key] = kind
    if not found and "kind" not in cursor.table:
        cursor.problem("kind", "there is no kind of bag: write [[bags.kind]] with key and volume or tag_lift")
    return found


def _kind(row: Cursor) -> BagKind | None:
    key = row.text("key", needed='a short name, such as key = "500"')
    volume = one(row, "volume", "volume")
    tag = tag_kg(row, "tag_lift")
    weight = one(row, "weight", "mass", sign=True)
    if weight is None and "weight" not in row.table:
        row.problem("weight", 'is missing: write what the empty bag weighs under water, such as "6 kg"')
    opened = pick(row, "open", ("yes", "no"), needed=True)
    height = one(row, "air_height", "length")
    valve = _valve_m2(row)
    relief, shared = yes(row, "relief_valve"), yes(row, "shared_crown")
    title = row.text("title") or key
    row.finish()
    if not key or weight is None or opened is None:
        return None
    try:
        return BagKind(key, title, volume, tag, weight, opened == "yes", height, valve, relief, shared)
    except BagError as error:
        row.problem("", str(error))
        return None


def _valve_m2(row: Cursor) -> float | None:
    """Return the opening of the dump valve; `"none"` says that there is no valve."""
    if isinstance(row.table.get("valve"), str) and str(row.raw("valve")).strip().lower() == "none":
        return 0.0
    diameter = one(row, "valve", "length")
    return None if diameter is None else pi * diameter**2 / 4.0


def _eyes(cursor: Cursor) -> dict[str, Piece]:
    found: dict[str, Piece] = {}
    for row in rows(cursor, "eye", "eye", "[[bags.eye]]"):
        name = row.text("name", needed='what the eye is called, such as name = "frame, bow end"')
        if name in found:
            row.problem("name", f'there are two eyes "{name}"; give each its own name')
        gear = piece_of(row)
        row.finish()
        if name:
            found[name] = gear
    return found


def _bags(cursor: Cursor, kinds: dict[str, BagKind], eyes: dict[str, Piece]) -> tuple[RigBag, ...]:
    cursors = rows(cursor, "bag", "bag", "[[bags.bag]]")
    if not cursors and "bag" not in cursor.table:
        cursor.problem(
            "bag", "there is no bag: write [[bags.bag]] with name, kind and eye, in the order of filling"
        )
    found = [(row, _bag(row, kinds, eyes)) for row in cursors]
    named_twice([(row, bag.name) for row, bag in found if bag is not None], "bag")
    return tuple(bag for _, bag in found if bag is not None)


def _bag(row: Cursor, kinds: dict[str, BagKind], eyes: dict[str, Piece]) -> RigBag | None:
    name = row.text("name", needed='what the bag is called, such as name = "red"')
    kind = row.text("kind", needed="the key of a [[bags.kind]]")
    eye = row.text("eye", needed="the name of a [[bags.eye]] it pulls at")
    if kind and kind not in kinds:
        row.problem("kind", f'there is no kind of bag "{kind}"; there are {_listed(kinds)}')
    if eye and eye not in eyes:
        row.problem("eye", f'there is no eye "{eye}"; there are {_listed(eyes)}')
    gear, strop = piece_of(row), piece(row, "strop")
    crown, at = _crown(row), point3(row, "at")
    strop_length = one(row, "strop_length", "length")
    row.finish()
    if not name or kind not in kinds or eye not in eyes:
        return None
    return RigBag(name, kinds[kind], gear, strop, eye, crown, at, strop_length)


def _crown(row: Cursor) -> RigCrownLine | None:
    inner = row.table_of("crown_line", f"crown line of {row.what}")
    if inner is None:
        return None
    to = pick(inner, "to", ("anchor", "load"))
    found = RigCrownLine(
        piece=piece_of(inner),
        length_m=one(inner, "length", "length"),
        anchor_depth_m=one(inner, "anchor_depth", "length"),
        to_the_load=None if to is None else to == "load",
        holding_kg=tag_kg(inner, "holding"),
    )
    inner.finish()
    return found


def _supply(cursor: Cursor) -> AirSupply | None:
    inner = cursor.table_of("air", "air")
    if inner is None:
        return None
    cylinder = one(inner, "cylinder", "volume", needed="the water volume of one cylinder")
    fill = one(inner, "fill", "pressure", needed="the filling pressure")
    count = inner.number("count", low=1, default=0)
    if not count and "count" not in inner.table:
        inner.problem("count", "is missing: write how many cylinders there are, such as count = 4")
    reserve, loss = one(inner, "reserve", "pressure", sign=True), one(inner, "loss", "fraction", sign=True)
    serves = pick(inner, "serves", _SERVES)
    fills = inner.number("fills", low=1, default=0) or None
    inner.finish()
    if cylinder is None or fill is None or not count:
        return None
    try:
        return AirSupply(cylinder, fill, count, reserve, serves, loss, fills)
    except BagError as error:
        inner.problem("", str(error))
        return None


def _listed(found: dict[str, BagKind] | dict[str, Piece]) -> str:
    return ", ".join(f'"{key}"' for key in found) or "none"
