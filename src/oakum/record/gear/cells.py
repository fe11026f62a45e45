"""One cell of a list of gear read as one field of a piece, or the reason why it cannot be."""

from __future__ import annotations

from typing import Any

from oakum.ground.gravity import G_M_S2
from oakum.ground.quantities import Quantity, QuantityError, read
from oakum.record.club_register.dates import DateError, Order, read_date
from oakum.record.gear.columns import DIMENSION
from oakum.record.log.fact_checks import decimal_text
from oakum.record.sheets.cells import TEXT_LIMIT, CellError, CellRead, measure, spans_rows
from oakum.record.sheets.columns import Column
from oakum.record.sheets.rows import Cell

DAYS = ("certificate_from", "certificate_until", "inspected_on", "inspect_by")

_OWN = frozenset({"identity", "wll", "certificate", *DAYS, *DIMENSION})


def read_gear_cell(cell: Cell, column: Column, order: Order | None) -> CellRead:
    """Read `cell` as the field of its column. Raises `CellError`; the text of the cell is then still there."""
    field = column.field or ""
    if field in _OWN and spans_rows(cell):
        raise CellError(
            f"is merged over several rows ({cell.merged}); each piece has papers of its own. Give each row its own"
        )
    if field == "wll":
        return CellRead(wll_measure(cell.text, column.unit))
    if field in DIMENSION:
        return CellRead(measure(cell.text, DIMENSION[field], column.unit))
    if field in DAYS:
        return _day(cell, order)
    if len(cell.text) > TEXT_LIMIT:
        raise CellError(f"holds {len(cell.text):,} characters; up to {TEXT_LIMIT:,} are taken")
    return CellRead(cell.text)


def wll_measure(text: str, unit: str | None) -> dict[str, Any]:
    """A WLL for the logbook in kilograms, the text kept as it stands on the tag.

    Understood are masses (t, kg, lb, long ton, short ton) and forces (kN, as the mass that weighs as much). A
    bare "ton" has two meanings and is refused. `unit` is that of the column for a bare number. Raises
    `CellError`.
    """
    quantity, written = _mass_or_force(text.strip(), unit)
    if quantity.sd is not None or quantity.low is not None:
        raise CellError(f"gives {written}; a WLL is the one number on the tag, without a spread or a range")
    value = quantity.value / (G_M_S2 if quantity.dimension == "force" else 1.0)
    if value <= 0.0:
        raise CellError(
            f"gives {written}; expected a WLL of more than zero. Leave it empty where there is no tag"
        )
    return {"text": written, "value": decimal_text(value), "unit": "kg"}


def _mass_or_force(text: str, unit: str | None) -> tuple[Quantity, str]:
    said: list[QuantityError] = []
    for dimension in ("mass", "force"):
        try:
            return read(text, dimension), text
        except QuantityError as error:
            said.append(error)
    if unit is not None:
        for dimension in ("mass", "force"):
            try:
                return read(text, dimension, unit=unit), f"{text} {unit}"
            except QuantityError:
                continue
    raise CellError(str(said[0])) from said[0]


def _day(cell: Cell, order: Order | None) -> CellRead:
    try:
        found = read_date(cell.text[:10] if cell.kind == "date" else cell.text, order)
    except DateError as error:
        raise CellError(str(error)) from error
    if len(found.iso) < 10:
        raise CellError(
            f"says {cell.text!r}; a paper ends on a day: write it as year-month-day, such as 2027-06-30"
        )
    return CellRead(found.iso, short_year=found.short_year)
