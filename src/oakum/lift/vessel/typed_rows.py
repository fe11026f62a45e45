"""Rows of a table as somebody typed it: the separator is found, headings give units, every row keeps its number."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass

from oakum.ground.quantities import QuantityError, find_unit
from oakum.lift.vessel.errors import VesselError

_SEPARATORS = (";", "\t", "|", ",")
_MOST_ROWS = 2_000
_UNIT_IN_HEADING = (
    re.compile(r"^(?P<name>.*?)\s*[(\[](?P<unit>[^)\]]*)[)\]]\s*$"),
    re.compile(r"^(?P<name>.+?)\s*,\s*(?P<unit>[^,]+)$"),
    re.compile(r"^(?P<name>.+?)\s+in\s+(?P<unit>.+)$", re.IGNORECASE),
    re.compile(r"^(?P<name>.+?)\s+(?P<unit>\S+)$"),
)
NOTHING = frozenset({"", "-", "–", "—", "n/a", "na", "nil", "none", "?", "..", "tbc", "tba"})
"""What people write into a cell they have no value for."""


@dataclass(frozen=True, slots=True)
class TypedRow:
    """One row with its number as the sheet counts it, from 1."""

    number: int
    cells: tuple[str, ...]

    def cell(self, column: int) -> str:
        """Return the text in a column, empty where the row is shorter."""
        return self.cells[column] if column < len(self.cells) else ""

    @property
    def is_blank(self) -> bool:
        """Whether nothing is written in it."""
        return not any(self.cells)

    @property
    def words(self) -> str:
        """All that is written in it, shortened."""
        text = " | ".join(c for c in self.cells if c)
        return text if len(text) <= 90 else text[:87] + "..."


@dataclass(frozen=True, slots=True)
class RowNote:
    """A row that was not used, and why; nothing in it was guessed."""

    row: int
    why: str

    @property
    def words(self) -> str:
        """Say it."""
        return f"row {self.row}: {self.why}"


def typed_rows(text: str) -> tuple[TypedRow, ...]:
    """Return the rows of a CSV text. `VesselError` for an empty or far too long one."""
    text = text.removeprefix("\ufeff")
    written = [line for line in text.splitlines() if line.strip()]
    if not written:
        raise VesselError("the table is empty: paste it with its heading row")
    separator = next((s for s in _SEPARATORS if 2 * sum(s in w for w in written) >= len(written)), ",")
    rows = []
    try:
        for number, cells in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=separator), 1):
            if number > _MOST_ROWS:
                raise VesselError(f"the table has more than {_MOST_ROWS:,} rows; give the part that is meant")
            rows.append(TypedRow(number, tuple(" ".join(c.split()) for c in cells)))
    except csv.Error as error:
        raise VesselError(f"the table cannot be read: {error}") from None
    return tuple(rows)


def heading(cell: str) -> tuple[str, str | None]:
    """Return what a heading names and its unit: "Radius (m)" -> ("radius", "m"); None where it gives no unit."""
    for pattern in _UNIT_IN_HEADING:
        if found := pattern.match(cell):
            unit = found["unit"].strip()
            if _is_unit(unit):
                return found["name"].strip().lower(), unit
    return cell.strip().lower(), None


def _is_unit(text: str) -> bool:
    """Whether it is a unit, or a word for several units that somebody must choose between."""
    if "/" in text and text.split("/")[0] in ("m", "deg", "°", "rad"):
        return True
    try:
        find_unit(text)
    except QuantityError as error:
        return "more than one meaning" in str(error)
    return True
