"""One cell of a register read as one field of a find, or the reason why it cannot be."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from oakum.ground.quantities import Quantity, QuantityError, read
from oakum.record.fact_checks import ROLES, decimal_text
from oakum.record.register_columns import DIMENSION, Column
from oakum.record.register_dates import DateError, Order, read_date
from oakum.record.sheet_rows import Cell

TEXT_LIMIT = 4000

_SI = {"length": "m", "mass": "kg"}
_COUNT = re.compile(r"(\d{1,6})(?:\s*(?:x|pcs?|pieces?|nos?|off|items?|frags?|fragments?|sherds?)\.?)?", re.I)
_NOT_KNOWN = frozenset(
    {"-", "--", "\u2013", "\u2014", "?", "??", "n/a", "n.a.", "unknown", "not known", "not recorded"}
)
_ALL_FOR_ONE = frozenset({"count", *DIMENSION})


class CellError(ValueError):
    """What is wrong with a cell, as the end of a sentence that begins with its address."""


@dataclass(frozen=True, slots=True)
class CellRead:
    """The value for the logbook, and what else must be said about the cell (None: nothing)."""

    value: Any
    remark: str | None = None
    short_year: bool = False


def is_not_known(text: str) -> bool:
    """Whether a cell says in one of the usual ways that nothing is known: ``-``, ``?``, ``n/a``."""
    return text.strip().casefold() in _NOT_KNOWN


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


def measure(text: str, dimension: str, unit: str | None) -> dict[str, str]:
    """A measured value for the logbook: the text as written with its unit, and the value in SI as decimal text.

    `unit` is what the column gives to a bare number; a unit in the cell itself goes before it. Raises `CellError`.
    """
    written = text
    try:
        try:
            quantity = read(text, dimension)
        except QuantityError:
            if unit is None:
                raise
            quantity, written = read(text, dimension, unit=unit), f"{text} {unit}"
    except QuantityError as error:
        raise CellError(str(error)) from error
    least = quantity.value if quantity.low is None else quantity.low
    if least <= 0:
        raise CellError(
            f"gives {written}; expected more than zero. Leave the cell empty where it is not known"
        )
    return _body(quantity, written, dimension)


def _body(quantity: Quantity, written: str, dimension: str) -> dict[str, str]:
    body = {"text": written, "value": decimal_text(quantity.value), "unit": _SI[dimension]}
    if quantity.sd:
        body["sd"] = decimal_text(quantity.sd)
    for name, value in (("low", quantity.low), ("mode", quantity.mode), ("high", quantity.high)):
        if value is not None:
            body[name] = decimal_text(value)
    return body


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


def spans_rows(cell: Cell) -> bool:
    """Whether the cell belongs to a merge over more than one row."""
    rows = {int(row) for row in re.findall(r"\d+", cell.merged or "")}
    return len(rows) > 1
