"""Reading and writing the table of entries."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from pydantic_core import from_json
from sqlalchemy import Connection

from oakum.record.errors import UnknownSubjectError
from oakum.record.log.clock import Stamp
from oakum.record.log.entries import Entry
from oakum.record.log.heads import in_order

COLUMNS = "id, station, seq, at_ms, at_counter, author, kind, subject, body, over, prev, hash"
INSERT = f"INSERT INTO entry ({COLUMNS}) VALUES (?,?,?,?,?,?,?,?,?,?,?,?)"
IN_ORDER = "ORDER BY at_ms, at_counter, station, seq"
NEWEST_FIRST = "ORDER BY at_ms DESC, at_counter DESC, station DESC, seq DESC"


def from_row(row: Sequence[Any]) -> Entry:
    """Return the entry of one row of `COLUMNS`."""
    over = row[9]
    return Entry(
        row[0],
        row[1],
        row[2],
        Stamp(row[3], row[4]),
        row[5],
        row[6],
        row[7],
        from_json(row[8]),
        () if over == "[]" else tuple(from_json(over)),
        row[10],
        row[11],
        row[8],
    )


def to_row(entry: Entry) -> tuple[Any, ...]:
    """Return the row of an entry that was sealed here or checked on arrival."""
    return (
        entry.id,
        entry.station,
        entry.seq,
        entry.at[0],
        entry.at[1],
        entry.author,
        entry.kind,
        entry.subject,
        entry.body_text,
        json.dumps(entry.over, separators=(",", ":")) if entry.over else "[]",
        entry.prev,
        entry.hash,
    )


def insert(connection: Connection, entries: Sequence[Entry]) -> None:
    """Write entries to the log."""
    if entries:
        connection.exec_driver_sql(INSERT, [to_row(entry) for entry in entries])


def select(
    connection: Connection, where: str = "", parameters: Sequence[Any] = (), tail: str = ""
) -> list[Entry]:
    """Return entries in display order. `where` is our own SQL text, never a user's."""
    sql = f"SELECT {COLUMNS} FROM entry {where} {IN_ORDER} {tail}"
    return [from_row(row) for row in connection.exec_driver_sql(sql, tuple(parameters))]


def of_subjects(connection: Connection, subjects: Iterable[str]) -> dict[str, list[Entry]]:
    """Return the entries of each subject, an empty list for one without."""
    wanted = list(subjects)
    found: dict[str, list[Entry]] = {subject: [] for subject in wanted}
    for start in range(0, len(wanted), 500):
        some = wanted[start : start + 500]
        marks = ",".join("?" * len(some))
        for entry in select(connection, f"WHERE subject IN ({marks})", some):
            found[entry.subject].append(entry)
    return found


def subjects_of_kind(connection: Connection, kind: str) -> list[str]:
    """Return the subjects that have an entry of a kind."""
    rows = connection.exec_driver_sql("SELECT DISTINCT subject FROM entry WHERE kind = ?", (kind,))
    return [row[0] for row in rows]


def by_subject(connection: Connection) -> Iterator[tuple[str, list[Entry]]]:
    """Walk the whole log subject by subject, without holding it in memory."""
    sql = f"SELECT {COLUMNS} FROM entry ORDER BY subject, at_ms, at_counter, station, seq"
    subject, held = "", list[Entry]()
    for row in connection.execution_options(yield_per=2000).exec_driver_sql(sql):
        entry = from_row(row)
        if entry.subject != subject and held:
            yield subject, held
            held = []
        subject = entry.subject
        held.append(entry)
    if held:
        yield subject, held


def tail_of(connection: Connection, station: str) -> tuple[int, str, Stamp] | None:
    """Return sequence number, hash and stamp of the newest entry of a station."""
    row = connection.exec_driver_sql(
        "SELECT seq, hash, at_ms, at_counter FROM entry WHERE station = ? ORDER BY seq DESC LIMIT 1",
        (station,),
    ).first()
    return None if row is None else (row[0], row[1], Stamp(row[2], row[3]))


def filtered(
    connection: Connection, given: Mapping[str, str], newest_first: bool, limit: int | None, offset: int
) -> list[Entry]:
    """Return entries whose columns have the given values."""
    where = " AND ".join(f"{column} = ?" for column in given)
    order = NEWEST_FIRST if newest_first else IN_ORDER
    sql = f"SELECT {COLUMNS} FROM entry {'WHERE ' + where if where else ''} {order} LIMIT ? OFFSET ?"
    parameters = (*given.values(), -1 if limit is None else limit, offset)
    return [from_row(row) for row in connection.exec_driver_sql(sql, parameters)]


def one(connection: Connection, id: str) -> Entry:
    """Return one entry; raise `UnknownSubjectError` if there is none."""
    found = select(connection, "WHERE id = ?", (id,))
    if not found:
        raise UnknownSubjectError(f"There is no entry {id} in this logbook.")
    return found[0]


def blocks(connection: Connection) -> list[Entry]:
    """Return the entries that gave number blocks, by way of their own small index."""
    sql = f"SELECT {COLUMNS} FROM entry INDEXED BY entry_of_block WHERE kind = 'block.given'"
    return in_order(from_row(row) for row in connection.exec_driver_sql(sql))
