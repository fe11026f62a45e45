"""A list of gear, from rows of a sheet to drafts for the logbook, with a message a row.

`propose` reads and looks, `drafts` turns the rows a person accepted into entries; between the two nothing is
written. A cell that cannot be read never loses its row: the piece is then listed without that figure, and
every plan objects to it until the tag or the paper has been read.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from oakum.record.club_register.dates import day_order
from oakum.record.errors import RecordError
from oakum.record.gear.cells import DAYS
from oakum.record.gear.columns import FIELDS, WORDS
from oakum.record.gear.rows import GearRowReader, ProposedPiece
from oakum.record.log.entries import Draft, new_id
from oakum.record.sheets.columns import Column, body_rows, columns_of, header_of
from oakum.record.sheets.proposals import Counts, Status
from oakum.record.sheets.rows import Sheet

__all__ = ["GearListError", "GearProposal", "ProposedPiece", "drafts", "propose"]


class GearListError(RecordError):
    """A list that cannot be read as one of gear, or rows that cannot be accepted."""


@dataclass(frozen=True, slots=True)
class GearProposal:
    """A whole list as proposed. Nothing of it is in the logbook until rows are accepted.

    `columns` go to a field, `ignored_columns` hold something and go nowhere; `notes` hold for the whole sheet.
    """

    name: str
    rows: tuple[ProposedPiece, ...]
    columns: tuple[Column, ...]
    ignored_columns: tuple[Column, ...]
    counts: Counts
    notes: tuple[str, ...]

    def words(self) -> str:
        """What the list came to, as a sentence."""
        return f"{self.name}: {self.counts.words()}"

    def of_status(self, *statuses: Status) -> tuple[ProposedPiece, ...]:
        """The rows of these statuses, in order."""
        return tuple(row for row in self.rows if row.status in statuses)


def propose(
    sheet: Sheet, *, on: str, mapping: Mapping[str, str] | None = None, known: Collection[str] = ()
) -> GearProposal:
    """Read `sheet` as a list of gear; nothing is written.

    `on` is the day (YYYY-MM-DD) at which papers are looked at; `known` are `identity_key`s of pieces the
    register has; `mapping` gives columns (by letter or name) to fields where the guess is wrong. Raises
    `GearListError` if there is no row of column names, `SheetError` for a wrong mapping.
    """
    header = header_of(sheet, WORDS, mapping)
    columns = columns_of(sheet, header, WORDS, mapping) if header else ()
    used = tuple(column for column in columns if column.field)
    fields = {column.field for column in used}
    if header is None or "identity" not in fields or not fields & {"kind", "description"}:
        raise GearListError(
            f"{sheet.name}: no row of column names was found that says both identity and kind. Expected names such as "
            "Serial no, Type, WLL (t), Certificate no, Valid until in one row above the pieces. Or say which column is "
            f"what; the fields are: {', '.join(FIELDS)}."
        )
    rows, left_out = body_rows(sheet, header, columns)
    dated = [column.index for column in used if column.field in DAYS]
    habit = day_order(row.cells[index].text for row in rows for index in dated)
    orders = {index: day_order(row.cells[index].text for row in rows) or habit for index in dated}
    reader = GearRowReader(used, orders, known, on)
    proposed = tuple(reader.read(row) for row in rows)
    statuses = [piece.status for piece in proposed]
    counts = Counts(
        finds=len(proposed),
        ready=statuses.count("ready"),
        look=statuses.count("look"),
        refused=statuses.count("refused"),
        blank=sheet.blank_rows,
        left_out=len(left_out),
        what=("row of gear", "rows of gear"),
    )
    ignored = tuple(column for column in columns if not column.field and column.filled)
    notes = _notes(sheet, columns, left_out, reader.short_years)
    return GearProposal(sheet.name, proposed, used, ignored, counts, notes)


def drafts(
    proposal: GearProposal, accepted_rows: Iterable[int], *, author: str, file_sha256: str | None = None
) -> list[Draft]:
    """The accepted rows (by their number in the sheet) as drafts for `Logbook.append_many`.

    `file_sha256` names the kept file of the list, and adds an entry that it was accepted. Raises
    `GearListError` for rows that are refused or not there; then none is drafted.
    """
    by_row = {piece.row: piece for piece in proposal.rows}
    made: list[Draft] = []
    accepted = sorted(set(accepted_rows))
    for row in accepted:
        piece = by_row.get(row)
        if piece is None:
            raise GearListError(f"{proposal.name} has no piece in row {row}; nothing was accepted.")
        if piece.status == "refused":
            raise GearListError(
                f"Row {row} cannot be accepted: {piece.messages[0]}. Put it right in the list and bring that in "
                "again, or leave it out."
            )
        made += _drafts_of(piece, proposal.name, author)
    if made and file_sha256:
        body = {
            "name": proposal.name,
            "sha256": file_sha256,
            "rows": len(accepted),
            "note": proposal.counts.words(),
        }
        made.insert(0, Draft("import.accepted", None, body, author))
    return made


def _drafts_of(piece: ProposedPiece, name: str, author: str) -> list[Draft]:
    made: list[Draft] = []
    for identity in piece.identities:
        subject = new_id()
        body = {"identity": identity, "kind": piece.kind, **piece.fields}
        body["imported_from"] = f"{name}, row {piece.row}"
        made.append(Draft("gear.listed", subject, body, author))
        if piece.withdrawn:
            made.append(Draft("gear.withdrawn", subject, {"withdrawn": piece.withdrawn}, author))
    return made


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
        shown = "; ".join(left_out[:20])
        notes.append(f"Left out as headings: {shown}{' ...' if len(left_out) > 20 else ''}.")
    if any(column.field == "inspector" for column in columns):
        notes.append("Names of inspectors do not enter the logbook, which cannot forget them; keep the paper itself.")
    return tuple(notes)
