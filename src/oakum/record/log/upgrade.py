"""Bringing a project of an older format up to this one: copied first, then changed in one transaction, or not at all.

The log itself, its entries and hashes, is the same in every format; only tables beside it are added.
"""

from __future__ import annotations

import os
import secrets
import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import Connection
from sqlalchemy.schema import CreateIndex, CreateTable

from oakum.record.log import schema
from oakum.record.log.engine import can_write, explained, open_engine, writing

_COPY = "{stem}.before-format-{to}.sqlite"


def format_of(path: Path) -> int:
    """Return the format of a project file, as SQLite reads it."""
    with explained(path), closing(_open(path, "ro")) as raw:
        (version,) = raw.execute("PRAGMA user_version").fetchone()
        return int(version)


def upgrade(path: Path, *, keep_copy: bool = True) -> Path | None:
    """Bring the file to the present format if it is older, and return the copy kept beside it.

    Nothing happens where it is up to date or lies in a folder that cannot be written: it can still be read
    then. Raises `DiskFullError` where there is no room for the copy; the file is untouched then.
    """
    if format_of(path) >= schema.FORMAT or not can_write(path.parent) or not os.access(path, os.W_OK):
        return None
    engine = open_engine(path, stand_ins=False)
    copy: Path | None = None
    try:
        with writing(engine, path) as connection:
            # Asked again under the lock: another program may have done it while this one waited.
            version = int(connection.exec_driver_sql("PRAGMA user_version").scalar_one())
            if version < schema.FORMAT:
                copy = copy_beside(path, version + 1) if keep_copy else None
                for step in range(version + 1, schema.FORMAT + 1):
                    add_tables(connection, step)
                connection.exec_driver_sql(f"PRAGMA user_version={schema.FORMAT}")
    finally:
        engine.dispose()
    return copy


def add_tables(connection: Connection, to_format: int) -> None:
    """Add the tables that came with a format. They begin empty: an older log holds nothing they would show."""
    for table in schema.SINCE[to_format]:
        connection.execute(CreateTable(table))
        for index in table.indexes:
            connection.execute(CreateIndex(index))


def copy_beside(path: Path, to_format: int) -> Path:
    """Copy the file, as it is before the change, to a name beside it; whole or not at all."""
    place = path.with_name(_COPY.format(stem=path.stem, to=to_format))
    part = path.with_name(f".{place.name}.{secrets.token_hex(4)}")
    try:
        with closing(_open(path, "ro")) as reading, closing(sqlite3.connect(part)) as made:
            reading.backup(made)
            made.execute("PRAGMA journal_mode=DELETE")
        handle = os.open(part, os.O_RDWR)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
        os.replace(part, place)
    finally:
        for leftover in (part, part.with_name(part.name + "-journal")):
            leftover.unlink(missing_ok=True)
    return place


def erase_in_copies(path: Path, person: str) -> None:
    """Forget a person in the copies this module made beside the file: they would outlive the erasure otherwise."""
    for copy in path.parent.glob(_COPY.format(stem=path.stem, to="*")):
        with explained(copy), closing(_open(copy, "rw")) as raw, raw:
            raw.execute("PRAGMA secure_delete=ON")
            tables = {row[0] for row in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
            for table, column in (("competence", "person"), ("person", "id")):
                if table in tables:
                    raw.execute(f"DELETE FROM {table} WHERE {column} = ?", (person,))


def _open(path: Path, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode={mode}", uri=True, timeout=5.0)
