"""A club's own register of finds, from rows of a sheet to drafts for the logbook, with a message a row.

`propose` reads and looks, `drafts` turns the rows a person accepted into entries; between the two nothing is
written. The club's numbers are kept as written beside the new ones; a cell that cannot be read never loses its
row: the row is to be looked at, and the text of the cell stays with it as a remark.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping

from oakum.record.club_register.columns import FIELDS, WORDS
from oakum.record.club_register.dates import day_order
from oakum.record.club_register.numbers import habits
from oakum.record.club_register.proposal import Counts, ProposedFind, RegisterProposal
from oakum.record.club_register.rows import NumberBook, RowReader
from oakum.record.errors import RecordError
from oakum.record.finds.numbers import FindNumber
from oakum.record.log.entries import Draft, Entry
from oakum.record.sheets.cells import is_not_known
from oakum.record.sheets.columns import Column, body_rows, columns_of, header_of
from oakum.record.sheets.rows import Row, Sheet

__all__ = ["ProposedFind", "RegisterError", "RegisterProposal", "drafts", "known_numbers", "propose"]

_PROGRESS_ROWS = 50
Progress = Callable[[int, int], None]


class RegisterError(RecordError):
    """A register that cannot be read as one, or rows that cannot be accepted."""


def propose(
    sheet: Sheet,
    *,
    mapping: Mapping[str, str] | None = None,
    known: Collection[str] = (),
    progress: Progress | None = None,
) -> RegisterProposal:
    """Read `sheet` as a register of finds; nothing is written.

    `mapping` gives columns (by letter or name) to fields where the guess is wrong; "ignore" leaves one out,
    "extra" keeps it under its own name. `known` are numbers the project already has. `progress(done, total)`
    counts rows. Raises `RegisterError` if there is no row of column names, `SheetError` for a wrong mapping.
    """
    header = header_of(sheet, WORDS, mapping)
    if header is None:
        raise RegisterError(_no_names(sheet))
    columns = columns_of(sheet, header, WORDS, mapping)
    used = tuple(column for column in columns if column.field)
    if not any(column.field in ("number", "title", "description") for column in used):
        raise RegisterError(_no_names(sheet))
    rows, left_out = body_rows(sheet, header, columns)
    numbers = {row.number: _numbers(row, used) for row in rows}
    book = NumberBook(numbers, known)
    reader = RowReader(sheet.name, used, book, _orders(rows, used))
    proposed = []
    for done, row in enumerate(rows, start=1):
        proposed.append(reader.read(row))
        if progress and (done % _PROGRESS_ROWS == 0 or done == len(rows)):
            progress(done, len(rows))
    statuses = [find.status for find in proposed]
    counts = Counts(
        finds=len(proposed),
        ready=statuses.count("ready"),
        look=statuses.count("look"),
        refused=statuses.count("refused"),
        blank=sheet.blank_rows,
        left_out=len(left_out),
    )
    return RegisterProposal(
        name=sheet.name,
        rows=tuple(proposed),
        columns=used,
        ignored_columns=tuple(column for column in columns if not column.field and column.filled),
        counts=counts,
        habits=habits(held[0] for held in numbers.values() if held and not book.several(held[0])),
        people=tuple(sorted({find.finder for find in proposed if find.finder})),
        notes=_notes(sheet, columns, left_out, reader.short_years),
    )


def drafts(
    proposal: RegisterProposal,
    accepted_rows: Iterable[int],
    number_source: Callable[[], FindNumber] | None = None,
    *,
    author: str,
    people: Mapping[str, str] | None = None,
    file_sha256: str | None = None,
) -> list[Draft]:
    """The accepted rows (by their number in the sheet) as drafts for `Logbook.append_many`.

    `number_source` gives each find its number; without one the logbook takes the next of the station's block.
    `people` gives texts of the finder column to ids of registered people; other names are left out.
    `file_sha256` names the kept file of the register, and adds an entry that it was accepted. Raises
    `RegisterError` for rows that are refused or not there; then none is drafted.
    """
    by_row = {find.row: find for find in proposal.rows}
    accepted = sorted(set(accepted_rows))
    strange = [row for row in accepted if row not in by_row]
    if strange:
        raise RegisterError(f"{proposal.name} has no find in row {_listed(strange)}; nothing was accepted.")
    refused = [row for row in accepted if by_row[row].status == "refused"]
    if refused:
        raise RegisterError(
            f"Row {_listed(refused)} cannot be accepted: {by_row[refused[0]].messages[0]}. "
            "Put it right in the sheet and bring that in again, or leave it out."
        )
    made = [_draft(by_row[row], proposal.name, number_source, author, people or {}) for row in accepted]
    if made and file_sha256:
        body = {
            "name": proposal.name,
            "sha256": file_sha256,
            "rows": len(made),
            "note": proposal.counts.words(),
        }
        made.insert(0, Draft("import.accepted", None, body, author))
    return made


def known_numbers(entries: Iterable[Entry]) -> frozenset[str]:
    """Every number, ours or the club's, that `entries` of a logbook mention."""
    found: set[str] = set()
    for entry in entries:
        if isinstance(number := entry.body.get("number"), str):
            found.add(number)
        found.update(entry.body.get("earlier_numbers") or ())
    return frozenset(found)


def _draft(
    find: ProposedFind,
    name: str,
    number_source: Callable[[], FindNumber] | None,
    author: str,
    people: Mapping[str, str],
) -> Draft:
    body = dict(find.fields)
    if find.numbers:
        body["earlier_numbers"] = list(find.numbers)
    if find.finder and (person := people.get(find.finder)):
        body["found_by"] = person
    if number_source is not None:
        body["number"] = str(number_source())
    body["imported_from"] = f"{name}, row {find.row}"
    return Draft("find.entered", None, body, author)


def _no_names(sheet: Sheet) -> str:
    return (
        f"{sheet.name}: no row of column names was found, or none of them says number, name or description. "
        "Expected names such as Find no, Name, Material, Count, Length (mm) in one row above the finds. "
        f"Or say which column is what; the fields are: {', '.join(FIELDS)}."
    )


def _numbers(row: Row, columns: tuple[Column, ...]) -> tuple[str, ...]:
    cells = [row.cells[column.index] for column in columns if column.field == "number"]
    return tuple(
        cell.text for cell in cells if not (cell.is_blank or cell.problem or is_not_known(cell.text))
    )


def _orders(rows: list[Row], columns: tuple[Column, ...]) -> dict[int, str | None]:
    return {
        column.index: day_order(row.cells[column.index].text for row in rows)
        for column in columns
        if column.field == "found_on"
    }


def _notes(
    sheet: Sheet, columns: tuple[Column, ...], left_out: list[str], short_years: int
) -> tuple[str, ...]:
    notes = [f"Read as {sheet.read_as}."]
    notes += [
        f"Column {column.letter} ({column.header}): {column.note}." for column in columns if column.note
    ]
    if short_years:
        notes.append(f"{short_years} dates have a year of two figures; they are read as 1950 to 2049.")
    if left_out:
        notes.append(
            f"Left out as headings: {'; '.join(left_out[:20])}{' ...' if len(left_out) > 20 else ''}."
        )
    if any(column.field == "found_by" for column in columns):
        notes.append(
            "Names of finders do not enter the logbook, which cannot forget them; register the people and give "
            "their ids, or only their role is kept."
        )
    return tuple(notes)


def _listed(rows: list[int]) -> str:
    return ", ".join(map(str, rows[:10])) + (" ..." if len(rows) > 10 else "")
