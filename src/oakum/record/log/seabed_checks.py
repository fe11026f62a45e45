"""Checks of single values in entries about the seabed. Each returns None, or what was expected."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from oakum.record.log import fact_checks as must
from oakum.record.log.kinds import Check

READING_KINDS: dict[str, int] = {
    "tape": 2,
    "depth": 1,
    "level": 2,
    "bearing": 2,
    "fix": 1,
    "offset": 3,
    "tie": 3,
}
"""What a reading may be, and how many marks it names: a tape two, an offset its mark and both ends of the line."""

MARK_KINDS = ("datum", "detail", "find")
INSTRUMENT_KINDS = ("tape", "gauge", "compass")
SIDES = ("left", "right")
_EXTRA = {
    "tape": {"sd_per_m"},
    "depth": {"above"},
    "level": set[str](),
    "bearing": set[str](),
    "fix": {"x", "y", "z", "sd_z", "line", "lean"},
    "offset": {"along", "left", "sd_left"},
    "tie": {"at", "side", "sd_per_m"},
}
_OF_SOME = frozenset().union(*_EXTRA.values())


def one_of(words: tuple[str, ...]) -> Check:
    """Return a check for one of these words."""

    def check(value: Any) -> str | None:
        return None if type(value) is str and value in words else f"expected one of {', '.join(words)}"

    return check


def be_marks(value: Any) -> str | None:
    """One to three names of marks, as they were written."""
    if type(value) in (list, tuple) and 1 <= len(value) <= 3:
        for name in value:
            if type(name) is not str or not 0 < len(name) <= 100 or name.isspace():
                return "expected names of marks, each of 1 to 100 characters"
        return None
    return "expected a list of one to three names of marks"


def be_three_marks(value: Any) -> str | None:
    """Three names of marks."""
    return be_marks(value) or (None if len(value) == 3 else "expected three names of marks")


def be_amount(value: Any) -> str | None:
    """Decimal text, not below nothing."""
    said = must.be_decimal(value)
    return said or (None if Decimal(value) >= 0 else "expected a number that is not negative")


def be_levels(value: Any) -> str | None:
    """Water levels: a list of [local time, height in metres as decimal text]."""
    if type(value) not in (list, tuple) or not 0 < len(value) <= 20_000:
        return 'expected a list of [time, height], such as ["2026-06-12T10:20", "0.42"]'
    for pair in value:
        if type(pair) not in (list, tuple) or len(pair) != 2 or must.be_decimal(pair[1]):
            return 'expected a list of [time, height], such as ["2026-06-12T10:20", "0.42"]'
        if not must.is_local_time(pair[0]):
            return f"{pair[0]!r}: expected local time such as 2026-06-12T10:20"
    return None


def be_zone(value: Any) -> str | None:
    """A zone: Z, an offset, or a name."""
    return None if must.is_zone(value) else "expected Z, an offset such as +02:00, or a zone such as Europe/London"


def be_control(value: Any) -> str | None:
    """Control points: a list of objects, each with decimal text or text by name ({u, v, mark} or {mark, e, n})."""
    if type(value) not in (list, tuple) or not 0 < len(value) <= 2_000:
        return "expected a list of control points"
    for one in value:
        if not isinstance(one, dict) or not one:
            return "expected each control point as an object such as {u, v, mark}"
        for key, item in one.items():
            said = must.be_text(item) if key in ("mark", "note") else must.be_decimal(item)
            if said:
                return f"{key}: {said}"
    return None


def be_solved(value: Any) -> str | None:
    """What of a tape is solved: "scale", "zero" or both; an empty list for neither."""
    good = type(value) in (list, tuple) and len(set(value)) == len(value) and set(value) <= {"scale", "zero"}
    return None if good else 'expected a list of "scale" and "zero"'


def reading_in_order(body: Mapping[str, Any]) -> str | None:
    """Say what does not fit between the parts of one reading, or return None."""
    what, marks = body["what"], body["marks"]
    wanted = READING_KINDS[what]
    if len(marks) != wanted:
        return f"marks: a reading of the kind {what} names {wanted}, not {len(marks)}"
    strange = [n for n in body if n in _OF_SOME and body[n] is not None and n not in _EXTRA[what]]
    if strange:
        return f"{strange[0]}: does not belong to a reading of the kind {what}"
    if what == "fix":
        missing = [name for name in ("x", "y") if body.get(name) is None]
        return f"{missing[0]}: missing" if missing else _no_value(body, what)
    if what == "offset":
        if body.get("along") is None and body.get("left") is None:
            return "along, left: an offset needs at least one of them"
        return _no_value(body, what)
    unit = "deg" if what == "bearing" else "m"
    if body.get("value") is None or body.get("unit") != unit:
        return f"value, unit: a reading of the kind {what} needs its value in {unit}"
    if what == "tie" and body.get("at") is None:
        return "at: missing; say how far along the baseline the tape starts"
    return None


def _no_value(body: Mapping[str, Any], what: str) -> str | None:
    """A fix and an offset carry their numbers by name."""
    return None if body.get("value") is None else f"value: a reading of the kind {what} gives its numbers by name"
