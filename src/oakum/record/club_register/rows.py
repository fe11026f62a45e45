"""One row of a register read as a proposed find, against all the numbers of the sheet and the project."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from oakum.record.club_register.cells import read_cell, role_of
from oakum.record.club_register.columns import SEVERAL_COLUMNS
from oakum.record.club_register.numbers import Several, key, loose_key, several, year_like
from oakum.record.club_register.proposal import ProposedFind
from oakum.record.sheets.cells import CellError, is_not_known, spans_rows
from oakum.record.sheets.columns import Column, guess_words
from oakum.record.sheets.row_draft import RowDraft
from oakum.record.sheets.rows import Cell, Row

_SHOWN_ROWS = 3
_PLAIN_WEIGHTS = ("weight", "wt", "mass", "wgt")


class NumberBook:
    """Which row holds which number, and which numbers the project has already."""

    def __init__(self, numbers: Mapping[int, tuple[str, ...]], known: Collection[str]) -> None:
        self._known = {key(number) for number in known}
        self._not_ranges = year_like(number for held in numbers.values() for number in held)
        self._rows: dict[str, list[tuple[int, str]]] = {}
        self._loose: dict[str, list[tuple[int, str]]] = {}
        for row, held in numbers.items():
            for number in held:
                for member in (number, *self._members(number)):
                    self._rows.setdefault(key(member), []).append((row, number))
                self._loose.setdefault(loose_key(number), []).append((row, number))

    def _members(self, number: str) -> tuple[str, ...]:
        named = self.several(number)
        return named.members if named else ()

    def several(self, number: str) -> Several | None:
        """The numbers a text such as ``101-104`` names, or None."""
        return several(number, self._not_ranges)

    def is_known(self, number: str) -> bool:
        """Whether the project has this number already, by itself or among those the text names."""
        return any(key(member) in self._known for member in (number, *self._members(number)))

    def clashes(self, row: int, number: str) -> list[str]:
        """What is odd about `number` of `row` beside the other rows, as sentences."""
        found = []
        same = {
            (other, text)
            for member in (number, *self._members(number))
            for other, text in self._rows.get(key(member), [])
            if other != row
        }
        if same:
            found.append(
                f"number {number} also stands in {_rows(same, number)}: two finds, or one entered twice? "
                "Accept both only if they are two"
            )
        alike = {(other, text) for other, text in self._loose[loose_key(number)] if key(text) != key(number)}
        if alike:
            found.append(
                f"number {number} differs from {_rows(alike, number)} only by zeros in front: the same find?"
            )
        return found


def _rows(places: set[tuple[int, str]], number: str) -> str:
    shown = [
        f"row {row}" + (f" ({text})" if text != number else "") for row, text in sorted(places)[:_SHOWN_ROWS]
    ]
    more = len(places) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more else "")


class RowReader:
    """Reads the rows of one sheet. `short_years` counts dates with a year of two figures as it goes."""

    def __init__(
        self, name: str, columns: tuple[Column, ...], book: NumberBook, orders: Mapping[int, Any]
    ) -> None:
        self.name = name
        self.columns = columns
        self.book = book
        self.orders = orders
        self.short_years = 0

    def read(self, row: Row) -> ProposedFind:
        """The row as a proposed find; whatever is wrong with it becomes a message, never an error."""
        draft = _FindDraft(row)
        for column in self.columns:
            cell = row.cells[column.index]
            if cell.kind == "formula":
                draft.refuse(str(cell.problem))
            elif cell.kind == "error":
                draft.look(str(cell.problem))
            elif not cell.is_blank:
                self._take(draft, cell, column)
        self._check_numbers(draft)
        if not any(draft.fields.get(name) for name in ("title", "description", "material")):
            draft.look("nothing says what it is; a heading, or a find to be described?")
        return draft.finished()

    def _take(self, draft: _FindDraft, cell: Cell, column: Column) -> None:
        if is_not_known(cell.text):
            return
        if column.field == "number":
            self._take_number(draft, cell)
        elif column.field == "found_by":
            self._take_finder(draft, cell, column)
        else:
            self._take_field(draft, cell, column)

    def _take_number(self, draft: _FindDraft, cell: Cell) -> None:
        draft.numbers.append(cell.text)
        if cell.kind == "date":
            draft.look(
                f"cell {cell.address} holds a date ({cell.text}) where a number is expected; spreadsheets turn "
                "numbers such as 3/98 into dates. Look it up in the book"
            )
        if spans_rows(cell):
            draft.look(
                f"number {cell.text} is merged over {cell.merged}: one find on several lines, or several finds "
                "under one number?"
            )

    def _take_finder(self, draft: _FindDraft, cell: Cell, column: Column) -> None:
        role = role_of(cell.text)
        if role is None:
            draft.finder = cell.text
            role = column.role
        if role is not None:
            draft.fields["found_by"] = role

    def _take_field(self, draft: _FindDraft, cell: Cell, column: Column) -> None:
        try:
            found = read_cell(cell, column, self.orders.get(column.index))
        except CellError as error:
            draft.look(f"cell {cell.address} ({column.header}): {error}")
            draft.remarks.append(f"{column.header} as written: {cell.text}")
            return
        self.short_years += found.short_year
        if found.remark:
            draft.remarks.append(found.remark)
        field = str(column.field)
        if field == "mass" and guess_words(column.header) not in _PLAIN_WEIGHTS:
            # Waterlogged wood weighs several times what it weighs dry: what was weighed must stay with the figure.
            draft.fields.setdefault("extra", []).append(["weighed as", column.header])
        if field == "extra":
            draft.fields.setdefault("extra", []).append([column.header or column.letter, found.value])
        elif field in SEVERAL_COLUMNS and field in draft.fields:
            draft.fields[field] = f"{draft.fields[field]}; {column.header}: {found.value}"
        else:
            draft.fields[field] = found.value

    def _check_numbers(self, draft: _FindDraft) -> None:
        if not draft.numbers and draft.status != "refused":
            draft.look("has no number in the register; once accepted it has only its new one")
        for number in draft.numbers:
            if self.book.is_known(number):
                draft.refuse(
                    f"number {number} is already in this project; nothing is entered twice. If this is another "
                    "object, give it another number in the sheet"
                )
            if named := self.book.several(number):
                self._take_several(draft, number, named)
            for said in self.book.clashes(draft.row.number, number):
                draft.look(said)

    def _take_several(self, draft: _FindDraft, number: str, named: Several) -> None:
        count = draft.fields.get("count")
        if count is None:
            draft.fields["count"] = named.count
            asked = f"accept it as one find with a count of {named.count}"
        else:
            asked = f"accept it as one find with the count of {count} the sheet gives"
        draft.look(
            f"number {number} reads as {named.count} numbers: {asked}, or give each its own row in the sheet"
        )


class _FindDraft(RowDraft):
    """A row on its way to a find."""

    def __init__(self, row: Row) -> None:
        super().__init__(row)
        self.numbers: list[str] = []
        self.finder: str | None = None

    def finished(self) -> ProposedFind:
        """The row as it is proposed."""
        messages = self.close()
        numbers = tuple(dict.fromkeys(self.numbers))
        return ProposedFind(self.row.number, self.status, numbers, self.fields, messages, self.finder)
