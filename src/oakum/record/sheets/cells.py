"""One cell of a list read as a measured value, or the reason why it cannot be."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from oakum.ground.quantities import Quantity, QuantityError, read
from oakum.record.log.fact_checks import decimal_text
from oakum.record.sheets.rows import Cell

TEXT_LIMIT = 4000

_SI = {"length": "m", "mass": "kg", "volume": "m3"}
_NOT_KNOWN = frozenset(
    {"-", "--", "\u2013", "\u2014", "?", "??", "n/a", "n.a.", "unknown", "not known", "not recorded"}
)

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


def spans_rows(cell: Cell) -> bool:
    """Whether the cell belongs to a merge over more than one row."""
    rows = {int(row) for row in re.findall(r"\d+", cell.merged or "")}
    return len(rows) > 1
