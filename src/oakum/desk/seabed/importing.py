"""The club's spreadsheet of readings: a message a row, and nothing enters until it is accepted."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Any

from oakum.desk.seabed.entering import NothingAcceptedError, ask_all, enter, spellings
from oakum.desk.seabed.facts import KeptReading
from oakum.desk.seabed.known import Known
from oakum.desk.seabed.proposals import ProposedReading, Remark, SurveyProposal
from oakum.desk.seabed.sheet_columns import WORDS, header_in
from oakum.desk.seabed.sheet_rows import RowReader
from oakum.desk.seabed.survey import survey_lately
from oakum.desk.seabed.typed import Slate
from oakum.record import Draft, Entry, Logbook
from oakum.record.club_register.dates import day_order
from oakum.record.files.store import FileStore
from oakum.record.log.fact_checks import ROLES
from oakum.record.sheets.columns import Column, body_rows, columns_of
from oakum.record.sheets.rows import Row
from oakum.record.sheets.sheet import SheetError, read_sheet


def propose_sheet(
    logbook: Logbook,
    data: bytes,
    name: str,
    *,
    slate: Slate,
    sheet: str | None = None,
    unit: str = "",
    mapping: Mapping[str, str] | None = None,
    joined: Mapping[str, str] | None = None,
) -> SurveyProposal:
    """Read a spreadsheet (CSV or XLSX) of readings and hold each against what is known; nothing is written.

    `slate` gives what the sheet does not say; `unit` the unit of bare lengths in columns without one; `mapping` gives
    columns to fields where the guess is wrong; `joined` gives spellings somebody said are one mark the name that
    stands for them. Raises `SheetError` or `SheetChoice` with what to do.
    """
    table = read_sheet(data, name, sheet=sheet)
    header = header_in(table)
    if header is None:
        raise SheetError(
            f"{name}: no row of column names was found. Expected names such as From, To, Distance (m), Depth (m), "
            "Date, Diver, Comments in one or two rows above the readings."
        )
    columns = columns_of(table, header, WORDS, mapping)
    columns = tuple(_of_words(c, [r for r in table.rows if r.number > header.rows[-1]]) for c in columns)
    used = tuple(column for column in columns if column.field)
    if not {c.field for c in used} & {"length", "depth", "level", "bearing"}:
        raise SheetError(f"{name}: no column was recognised as a length, a depth, a level or a bearing.")
    rows, left_out = body_rows(table, header, columns)
    dates = [c for c in used if c.field == "date"]
    order = day_order(row.cells[c.index].text for row in rows for c in dates)
    reader = RowReader(table.name, used, slate, unit, order, _people(logbook))
    found: list[ProposedReading] = []
    for row in rows:
        readings, why = reader.read(row)
        found += readings
        if why:
            left_out.append(f"row {row.number}: {why}")
    answer = survey_lately(logbook)
    rename = spellings(answer) | dict(joined or {})
    proposal = ask_all(
        table.name,
        found,
        Known(answer.site, answer),
        rename,
        columns=tuple((f"{c.letter}: {c.header}", _becomes(c)) for c in columns if c.filled),
        left_out=tuple(left_out),
        notes=_notes(table.read_as, columns, reader),
    )
    return replace(proposal, rows=_not_twice(proposal.rows, answer.entries, rename))


def accept_sheet(
    logbook: Logbook,
    proposal: SurveyProposal,
    data: bytes,
    *,
    author: str,
    sure: bool = False,
    chosen: Collection[str] | None = None,
    first: Sequence[Draft] = (),
) -> list[Entry]:
    """Enter the accepted rows, all or none, and keep the file itself.

    `chosen` are keys of rows; None takes those that are ready and, with `sure`, those to be looked at; `first` are
    drafts that enter before them. Raises `NothingAcceptedError`, or what the logbook refuses.
    """
    wanted = ("ready", "look") if sure else ("ready",)
    count = sum(row.status in wanted if chosen is None else row.key in chosen for row in proposal.rows)
    if not count:
        raise NothingAcceptedError("No row was accepted, so nothing was entered.")
    kept = FileStore(logbook.files_folder).put(data, name=proposal.name)
    body = {"name": proposal.name, "sha256": kept.sha256, "rows": count, "note": proposal.words()}
    before = [Draft("import.accepted", None, body, author), *first]
    return enter(logbook, proposal.rows, author=author, sure=sure, chosen=chosen, first=before)


def _of_words(column: Column, rows: Sequence[Row]) -> Column:
    """A column called "Tape" that holds names instead of lengths says which tape it was."""
    texts = [row.cells[column.index].text for row in rows if not row.cells[column.index].is_blank]
    if column.field == "length" and column.unit is None and texts and not any(t[0] in "0123456789.," for t in texts):
        return replace(column, field="with")
    return column


def _people(logbook: Logbook) -> dict[str, str]:
    """Who may stand in the column of divers: registered people by name, and roles."""
    named = {person.name.casefold(): person.id for person in logbook.people()}
    return named | {role: role for role in ROLES}


def _becomes(column: Column) -> str:
    if column.field is None:
        return "left out" if column.note is None else column.note
    return f"{column.field}, in {column.unit}" if column.unit else column.field


def _notes(read_as: str, columns: Collection[Column], reader: RowReader) -> tuple[str, ...]:
    notes = [f"Read as {read_as}."]
    notes += [f"Column {c.letter} ({c.header}): {c.note}." for c in columns if c.note and c.field]
    if reader.strangers:
        count = len(reader.strangers)
        notes.append(
            f"{count} {'name of a reader is' if count == 1 else 'names of readers are'} not registered; names do not "
            "enter the logbook, which cannot forget them. Those readings are kept as read by a diver."
        )
    return tuple(notes)


def _not_twice(
    rows: tuple[ProposedReading, ...], entries: Mapping[str, KeptReading], rename: Mapping[str, str]
) -> tuple[ProposedReading, ...]:
    """Doubt a reading that stands in the logbook already: the same marks, the same number, the same day."""
    held = {_same(one.what, one.marks, one.body, one.day): one.id for one in entries.values()}
    found = []
    for row in rows:
        marks = tuple(rename.get(name, name) for name in row.marks)
        day = str((row.seen or {}).get("at", ""))[:10]
        id = None if row.faults else held.get(_same(row.what, marks, row.body, day))
        words = f"The same reading is in the logbook already ({id}); entered twice it would count twice."
        found.append(row if id is None else row.doubted(Remark("", words)))
    return tuple(found)


def _same(what: str, marks: tuple[str, ...], body: Mapping[str, Any], day: str) -> tuple[Any, ...]:
    return what, tuple(sorted(marks)), body.get("value"), body.get("instrument"), day
