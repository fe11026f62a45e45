"""Keeping the view tables: subject by subject as entries come, or all of them anew."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from sqlalchemy import Connection

from oakum.record.log import entry_table as log_table
from oakum.record.log.entries import Entry
from oakum.record.log.views import Rows, rows_of

_FIND = (
    "INSERT INTO find (id, sort, number, title, material, count, parent, sample_of, sample, struck, entries, "
    "last_ms, words) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?)"
)
_INSERT = {
    "find": _FIND,
    "earlier_number": "INSERT INTO earlier_number (text, subject) VALUES (?,?)",
    "joined": "INSERT INTO joined (entry, subject, other) VALUES (?,?,?)",
    "reading": (
        "INSERT INTO reading (entry, subject, quantity, state, value, unit, sd, settled) "
        "VALUES (?,?,?,?,?,?,?,?)"
    ),
    "question": "INSERT INTO question (subject, key, body) VALUES (?,?,?)",
    "gear": "INSERT INTO gear (subject, sort, kind, identity, struck) VALUES (?,?,?,?,?)",
}
_KEY = {
    "find": "id",
    "earlier_number": "subject",
    "joined": "subject",
    "reading": "subject",
    "question": "subject",
    "gear": "subject",
}
_INDEX_FROM = "INSERT INTO find_words (rowid, words) SELECT row, words FROM find WHERE row > ?"
_UNINDEX = (
    "INSERT INTO find_words (find_words, rowid, words) SELECT 'delete', row, words FROM find WHERE id = ?"
)


def update(connection: Connection, subjects: Mapping[str, Sequence[Entry]], known: Iterable[str]) -> None:
    """Write the rows of these subjects anew; `known` are those that may have rows already."""
    old = [(subject,) for subject in known]
    if old:
        connection.exec_driver_sql(_UNINDEX, old)
        for table, key in _KEY.items():
            connection.exec_driver_sql(f"DELETE FROM {table} WHERE {key} = ?", old)
    _write(connection, [rows_of(subject, entries) for subject, entries in subjects.items()])


def rebuild(connection: Connection) -> None:
    """Empty every view and fill it from the log."""
    for table in _KEY:
        connection.exec_driver_sql(f"DELETE FROM {table}")
    connection.exec_driver_sql("INSERT INTO find_words (find_words) VALUES ('delete-all')")
    batch: list[Rows] = []
    for subject, entries in log_table.by_subject(connection):
        batch.append(rows_of(subject, entries))
        if len(batch) == 5000:
            _write(connection, batch)
            batch = []
    _write(connection, batch)


def _write(connection: Connection, several: Sequence[Rows]) -> None:
    highest = connection.exec_driver_sql("SELECT coalesce(max(row), 0) FROM find").scalar_one()
    for index, table in enumerate(Rows._fields):
        rows = [row for one in several for row in one[index]]
        if rows:
            connection.exec_driver_sql(_INSERT[table], rows)
    connection.exec_driver_sql(_INDEX_FROM, (highest,))


def dump(connection: Connection) -> dict[str, list[tuple[object, ...]]]:
    """Return every view as sorted rows without the row numbers of SQLite: what a rebuild must reproduce."""
    found: dict[str, list[tuple[object, ...]]] = {}
    for table in _INSERT:
        rows = connection.exec_driver_sql(f"SELECT {_columns(table)} FROM {table}")
        found[table] = sorted((tuple(row) for row in rows), key=repr)
    return found


def differences(connection: Connection) -> list[str]:
    """Return the names of the views that differ from what the log says; walks the log in batches."""
    wrong: set[str] = set()
    totals = dict.fromkeys(_KEY, 0)
    batch: dict[str, Rows] = {}
    for subject, entries in log_table.by_subject(connection):
        batch[subject] = rows_of(subject, entries)
        if len(batch) == 500:
            wrong |= _compare(connection, batch, totals)
            batch = {}
    wrong |= _compare(connection, batch, totals)
    for table, total in totals.items():
        if connection.exec_driver_sql(f"SELECT count(*) FROM {table}").scalar_one() != total:
            wrong.add(table)
    if connection.exec_driver_sql("SELECT count(*) FROM find_words_docsize").scalar_one() != totals["find"]:
        wrong.add("find_words")
    return sorted(wrong)


def _compare(connection: Connection, batch: Mapping[str, Rows], totals: dict[str, int]) -> set[str]:
    wrong: set[str] = set()
    marks = ",".join("?" * len(batch))
    for index, (table, key) in enumerate(_KEY.items()):
        ought = {row for rows in batch.values() for row in rows[index]}
        totals[table] += len(ought)
        sql = f"SELECT {_columns(table)} FROM {table} WHERE {key} IN ({marks})"
        if {tuple(row) for row in connection.exec_driver_sql(sql, tuple(batch))} != ought:
            wrong.add(table)
    return wrong


def _columns(table: str) -> str:
    statement = _INSERT[table]
    return statement[statement.index("(") + 1 : statement.index(")")]
