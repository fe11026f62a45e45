"""What a spreadsheet gives: rows of cells that know their address and what is wrong with them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from oakum.record.errors import RecordError

CellKind = Literal["text", "number", "date", "formula", "error", "blank"]

BYTE_LIMIT = 20 * 1024**2
ROW_LIMIT = 50_000
COLUMN_LIMIT = 256


class SheetError(RecordError):
    """The file cannot be read as a sheet; the text says where and what to do."""


class SheetChoice(SheetError):
    """Several sheets hold something; `names` are the ones to choose from."""

    def __init__(self, names: tuple[str, ...]) -> None:
        super().__init__(
            f"The workbook holds {len(names)} sheets with something in them: {', '.join(names)}. "
            "Say which of them is the register."
        )
        self.names = names


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell. `text` is what a reader of the sheet sees; dates as ISO 8601.

    `problem` is a sentence if the cell cannot be used (a formula, an error). `merged` is the range the cell
    belongs to, such as ``A3:A5``; each cell of a merge carries its value.
    """

    address: str
    text: str
    kind: CellKind
    problem: str | None = None
    merged: str | None = None

    @property
    def is_blank(self) -> bool:
        """True if there is nothing in the cell."""
        return self.kind == "blank"


@dataclass(frozen=True, slots=True)
class Row:
    """One row that holds something: its number in the sheet (from 1) and a cell for each column."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet as read: rows that hold something, each `width` cells wide.

    `blank_rows` counts the empty rows between first and last. `read_as` says in words how the file was
    understood (encoding and separator of a CSV).
    """

    name: str
    rows: tuple[Row, ...]
    width: int
    blank_rows: int
    read_as: str


def column_letters(index: int) -> str:
    """Letters of the column with this index from 0: A, B, ..., Z, AA."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def make_sheet(name: str, cells: list[list[Cell]], read_as: str) -> Sheet:
    """A sheet of `cells` row by row, row 1 first; empty rows are dropped and counted."""
    used = [any(not cell.is_blank for cell in row) for row in cells]
    if not any(used):
        raise SheetError(
            f"{name}: there is nothing in it. Expected a row of column names and finds below it."
        )
    last = max(at for at, holds in enumerate(used) if holds)
    width = max(at + 1 for row in cells[: last + 1] for at, cell in enumerate(row) if not cell.is_blank)
    if width > COLUMN_LIMIT or last + 1 > ROW_LIMIT:
        raise SheetError(too_big(name, last + 1, width))
    rows = tuple(
        Row(number, tuple(row[:width]) + _blanks(number, len(row), width))
        for number, (row, holds) in enumerate(zip(cells, used, strict=True), start=1)
        if holds
    )
    first = rows[0].number
    return Sheet(name, rows, width, last + 1 - (first - 1) - len(rows), read_as)


def too_big(name: str, rows: int, width: int) -> str:
    """Sentence for a sheet beyond the limits."""
    return (
        f"{name} reaches to row {rows} and column {column_letters(width - 1)}; the limits are "
        f"{ROW_LIMIT:,} rows and {COLUMN_LIMIT} columns. Delete the empty rows and columns beyond the "
        "register, save, and try again."
    )


def _blanks(number: int, start: int, width: int) -> tuple[Cell, ...]:
    return tuple(Cell(f"{column_letters(at)}{number}", "", "blank") for at in range(start, width))


def formula_problem(address: str) -> str:
    """Sentence for a cell that holds a formula."""
    return f"cell {address} holds a formula; paste values and try again"
