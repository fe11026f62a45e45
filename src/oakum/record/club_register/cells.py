"""One cell of a register read as one field of a find, or the reason why it cannot be."""

from __future__ import annotations

import re

from oakum.record.club_register.columns import DIMENSION
from oakum.record.club_register.dates import DateError, Order, read_date
from oakum.record.log.fact_checks import ROLES
from oakum.record.sheets.cells import TEXT_LIMIT, CellError, CellRead, measure, spans_rows
from oakum.record.sheets.columns import Column
from oakum.record.sheets.rows import Cell

_COUNT = re.compile(r"(\d{1,6})(?:\s*(?:x|pcs?|pieces?|nos?|off|items?|frags?|fragments?|sherds?)\.?)?", re.I)
_ALL_FOR_ONE = frozenset({"count", *DIMENSION})


def read_cell(cell: Cell, column: Column, order: Order | None) -> CellRead:
    """Read `cell` as the field of its column. Raises `CellError`; the text of the cell is then still there."""
    field = column.field or ""
    if field in _ALL_FOR_ONE and spans_rows(cell):
        raise CellError(
            f"is merged over several rows ({cell.merged}): one value for all of these finds, or the same for each? "
            "Give each row its own"
        )
    if field in DIMENSION:
        return CellRead(measure(cell.text, DIMENSION[field], column.unit))
    if field == "count":
        return _count(cell.text)
    if field == "found_on":
        try:
            read_on = read_date(cell.text[:10] if cell.kind == "date" else cell.text, order)
        except DateError as error:
            raise CellError(str(error)) from error
        return CellRead(read_on.iso, short_year=read_on.short_year)
    if len(cell.text) > TEXT_LIMIT:
        raise CellError(f"holds {len(cell.text):,} characters; up to {TEXT_LIMIT:,} are taken")
    return CellRead(cell.text)


def _count(text: str) -> CellRead:
    found = _COUNT.fullmatch(text.strip())
    if not found or int(found[1]) < 1:
        raise CellError(
            f"says {text!r}; expected a whole number, 1 or more. An estimate goes into the remarks"
        )
    return CellRead(int(found[1]), None if text.strip() == found[1] else f"count as written: {text}")


def role_of(text: str) -> str | None:
    """The role a finder cell names, if it names a role and no person: ``diver``, ``Recorder``."""
    word = text.strip().casefold().replace(" ", "-")
    return next((role for role in (word, word.removesuffix("s")) if role in ROLES), None)
