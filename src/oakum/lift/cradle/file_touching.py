"""What touches the find, in a cradle file: straps, surfaces that bear, pads, a tray; and the stock it is built from."""

from __future__ import annotations

from typing import Any, Literal, get_args

from oakum.ground.quantities import QuantityError, read
from oakum.lift.body.cursor import Cursor
from oakum.lift.body.single import degrees, one, pick, rows, texts, yes
from oakum.lift.cradle.beds import Foam
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.file_members import Stick
from oakum.lift.cradle.limp import ComesOut, LimpFind
from oakum.lift.cradle.plan import Bearing, Pad, SectionStock, Tray
from oakum.lift.cradle.straps import Straps

_STRAPPED: tuple[Literal["round", "boxy"], ...] = ("round", "boxy")
_OUT: tuple[ComesOut, ...] = get_args(ComesOut)


def read_straps(top: Cursor) -> Straps | None:
    """Return the straps, None where there are none or what they need is missing, which has been said."""
    cursor = top.table_of("straps", "straps")
    if cursor is None:
        return None
    count = cursor.number("count", low=2, default=0)
    if "count" not in cursor.table:
        cursor.problem("count", "is missing: how many straps, two or more, such as count = 4")
    width = one(cursor, "width", "length", needed="the width of a strap")
    length = one(cursor, "length", "length", needed="the length of the find that they lie under")
    shape = pick(cursor, "shape", _STRAPPED, needed=True)
    angle = degrees(cursor, "angle")
    if "angle" not in cursor.table:
        cursor.problem("angle", 'is missing: how its legs stand from the horizontal, "90 deg" under a wide spreader')
    elif angle is not None and not 0.0 < angle <= 90.0:
        cursor.problem("angle", 'is counted from the horizontal: above 0 and up to 90 deg, such as "60 deg"')
        angle = None
    radius = one(cursor, "radius", "length")
    allowable = one(cursor, "allowable", "pressure")
    cursor.finish()
    if not count or width is None or length is None or shape is None or angle is None:
        return None
    return Straps(count, width, length, shape, radius, angle, allowable)


def read_bearings(top: Cursor) -> tuple[Bearing, ...]:
    """Return the surfaces of the find that bear."""
    found = []
    for cursor in rows(top, "bearing", "bearing", "[[bearing]]"):
        name = cursor.text("name", needed='which surface bears, such as name = "underside of the ring"')
        area = one(cursor, "area", "area", needed="the area in contact")
        allowable = one(cursor, "allowable", "pressure")
        share = share_of(cursor)
        cursor.finish()
        if name and area is not None:
            found.append(Bearing(name, area, allowable, share))
    return tuple(found)


def share_of(cursor: Cursor) -> float | None:
    """Return a share of the find's weight, None: not known."""
    found = one(cursor, "share", "fraction", sign=True)
    if found is not None and not 0.0 < found <= 1.0:
        cursor.problem("share", 'a share of the weight lies between 0 and 100 %, such as share = "20 %"')
        return None
    return found


def read_pads(top: Cursor) -> tuple[Pad, ...]:
    """Return the foam pads."""
    found: list[Pad] = []
    for cursor in rows(top, "pad", "pad", "[[pad]]"):
        name = cursor.text("name", needed='what the foam is called, such as name = "sole"')
        thickness = one(cursor, "thickness", "length", needed="how thick it is cut")
        area = one(cursor, "area", "area", needed="the area of one pad")
        closed = yes(cursor, "closed_cells")
        curve = _curve(cursor)
        count = cursor.number("count")
        share = share_of(cursor)
        density = cursor.estimate("density", "density")
        cursor.finish()
        if not name or thickness is None or area is None:
            continue
        if any(p.foam.name == name for p in found):
            cursor.problem("name", f'two pads are called "{name}"; give each its own name')
        if share is not None and share * count > 1.0 + 1e-6:
            cursor.problem("share", f"{count} pads with {100 * share:g} % each carry more than the find weighs")
        try:
            weight = None if density is None else density.best
            found.append(Pad(Foam(name, thickness, closed, curve), area, count, share, weight))
        except CradleError as error:
            cursor.problem("curve", str(error))
    return tuple(found)


def _curve(cursor: Cursor) -> tuple[tuple[float, float], ...] | None:
    """Return strain and stress of a foam, typed as pairs: `curve = [["10 %", "20 kPa"], ["25 %", "35 kPa"]]`."""
    value = cursor.raw("curve")
    if value is None or value == "not known":
        return None
    example = 'curve = [["10 %", "20 kPa"], ["25 %", "35 kPa"]]'
    if not isinstance(value, list) or not all(_is_pair(row) for row in value):
        cursor.problem("curve", f"must be pairs of strain and stress from the maker, such as {example}")
        return None
    found = [(0.0, 0.0)]
    for strain, stress in value:
        try:
            pair = (read(strain, "fraction", signed=True).value, read(stress, "pressure", signed=True).value)
        except QuantityError as error:
            cursor.problem("curve", f"{error}, such as {example}")
            return None
        if pair != (0.0, 0.0):
            found.append(pair)
    return tuple(found)


def _is_pair(row: Any) -> bool:
    return isinstance(row, list) and len(row) == 2 and all(isinstance(v, str) for v in row)


def read_tray(top: Cursor) -> Tray | None:
    """Return the tray of a thin, limp find."""
    cursor = top.table_of("tray", "tray")
    if cursor is None:
        return None
    name = cursor.text("name", needed='what lies on it, such as name = "platter"')
    thickness = one(cursor, "thickness", "length", needed="the thickness of the find")
    bends = yes(cursor, "bends")
    if bends is None:
        cursor.problem(
            "bends",
            'is missing: "yes" for what has stiffness of its own (a platter), "no" for what drapes (leather, basketry)',
        )
    modulus = one(cursor, "modulus", "pressure")
    bears = one(cursor, "bears", "pressure")
    sag = one(cursor, "sag", "length")
    density = cursor.estimate("density", "density")
    spacing = one(cursor, "spacing", "length")
    out = pick(cursor, "comes_out", _OUT)
    cursor.finish()
    if not name or thickness is None or bends is None:
        return None
    return Tray(LimpFind(name, thickness, bends, modulus, bears, sag), density, spacing, out)


def read_stock(
    top: Cursor, sticks: dict[str, Stick | None]
) -> tuple[tuple[float, ...], tuple[SectionStock, ...], float | None]:
    """Return the lengths on sale, those of single sections, and the width of the saw cut."""
    cursor = top.table_of("stock", "stock")
    if cursor is None:
        return (), (), None
    lengths = _lengths(cursor)
    kerf = one(cursor, "saw_cut", "length")
    own = []
    for inner in rows(cursor, "of", "stock of a section", "[[stock.of]]"):
        name = inner.text("section", needed='the name of a section of this file, such as section = "beam"')
        stick = sticks.get(name)
        if name and name not in sticks:
            known = ", ".join(f'"{n}"' for n in sticks) or "none yet"
            inner.problem("section", f'there is no [section."{name}"]; there are: {known}')
        found = _lengths(inner)
        inner.finish()
        if stick is not None and found:
            own.append(SectionStock(stick.section.words, found))
    cursor.finish()
    return lengths, tuple(own), kerf


def _lengths(cursor: Cursor) -> tuple[float, ...]:
    found = []
    for text in texts(cursor, "lengths"):
        try:
            length = read(text, "length")
        except QuantityError as error:
            cursor.problem("lengths", f'{error}, such as lengths = ["3 m", "3.6 m"]')
            continue
        if length.sd is not None or length.low is not None or length.value <= 0.0:
            cursor.problem("lengths", f'"{text}": each length is one number above zero, such as "3.6 m"')
            continue
        found.append(length.value)
    return tuple(sorted(found))
