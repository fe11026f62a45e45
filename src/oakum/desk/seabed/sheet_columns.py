"""The columns of a club's spreadsheet of readings: what each goes by, and names that stand in two rows."""

from __future__ import annotations

from oakum.ground.quantities import QuantityError, find_unit
from oakum.record.sheets.columns import HEADER_SEARCH_ROWS, Header, Vocabulary
from oakum.record.sheets.rows import Row, Sheet

FIELDS: dict[str, str] = {
    "from": "from, from mark, from point, from datum, start, point 1, mark 1, pt 1, station, station 1, tape from, "
    "mark from, point from, p1, zero end",
    "to": "to, to mark, to point, end, point 2, mark 2, pt 2, station 2, tape to, mark to, point to, p2, reading end",
    "mark": "mark, point, pt, label, point no, mark no, detail, point name, mark name",
    "length": "length, distance, dist, tape, reading, tape reading, measurement, measured, tape length, "
    "slope distance, direct, direct measurement, tape distance",
    "depth": "depth, water depth, gauge depth, depth reading, computer depth, depth gauge",
    "level": "level, rise, level difference, height difference, dz",
    "bearing": "bearing, compass, compass bearing, magnetic bearing",
    "unit": "unit, units, m ft",
    "sd": "sd, accuracy, error, plus minus, precision, tolerance",
    "with": "gauge, tape no, tape number, tape id, which tape, instrument, gauge no, gauge id, tape used",
    "date": "date, day, dive date, date dive",
    "time": "time, time read, at, clock",
    "dive": "dive, dive no, dive number, dive nr",
    "diver": "diver, divers, read by, measured by, by, who, recorder, initials, reader",
    "note": "comment, comments, remark, remarks, note, notes, observations",
}
LENGTHS = ("length", "depth", "level")

WORDS = Vocabulary(
    names=FIELDS,
    dimensions={**dict.fromkeys((*LENGTHS, "sd"), "length"), "bearing": "angle"},
    several=frozenset({"length", "depth", "note"}),
    roles={"diver": {"diver": "diver", "divers": "diver"}},
)


def header_in(sheet: Sheet) -> Header | None:
    """The one or two rows of column names that make the most of the columns known; None where no row does."""
    best: tuple[int, Header] | None = None
    rows = sheet.rows[:HEADER_SEARCH_ROWS]
    for at, row in enumerate(rows):
        candidates = [Header((row.number,), tuple(cell.text for cell in row.cells))]
        if at + 1 < len(rows) and rows[at + 1].number == row.number + 1 and _only_words(rows[at + 1]):
            candidates.append(_joined(row, rows[at + 1]))
        for header in candidates:
            score = _score(header)
            if score >= 20 and (best is None or score > best[0]):
                best = (score, header)
    return None if best is None else best[1]


def _score(header: Header) -> int:
    """Ten for each field that is recognised, one more for each unit."""
    known = {WORDS.guess(name) for name in header.names if name} - {None}
    units = sum(WORDS.unit(name, WORDS.guess(name))[0] is not None for name in header.names if name)
    return 10 * len(known) + units


def _only_words(row: Row) -> bool:
    return not any(cell.kind in ("number", "date", "formula") for cell in row.cells)


def _joined(top: Row, below: Row) -> Header:
    """Names of two rows: a unit goes behind what stands above it, an empty cell above takes what stands to its left."""
    names = []
    above = ""
    for upper, lower in zip(top.cells, below.cells, strict=True):
        above = upper.text or (above if lower.text else "")
        names.append(_name(above, lower.text))
    return Header((top.number, below.number), tuple(names))


def _name(above: str, below: str) -> str:
    if not above or not below:
        return above or below
    if is_length_unit(below.strip("()[] .")):
        return f"{above} ({below.strip('()[] .')})"
    for name in (f"{above} {below}", below, above):
        if WORDS.guess(name) is not None:
            return name
    return f"{above} {below}"


def is_length_unit(text: str) -> bool:
    """Whether a text is a unit of length: m, ft, feet."""
    try:
        return find_unit(text.strip().rstrip("."), "length").dimension == "length"
    except QuantityError:
        return False
