"""How a project file is opened: the rules that keep SQLite whole when several programs use it.

Measured and read elsewhere, kept here in one place: BEGIN is sent by us (so that a failed change of tables
rolls back), writers begin IMMEDIATE (a reader that turns writer fails at once otherwise), every connection
waits five seconds for another, and the write-ahead log is used only on a version of SQLite that is free of
the WAL-reset error (sqlite.org, "WAL-reset bug": 3.7.0 to 3.51.2, fixed in 3.51.3, 3.50.7 and 3.44.6) [read].
"""

from __future__ import annotations

import errno
import os
import random
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError

from oakum.record.errors import BusyError, DamagedError, DiskFullError, ReadOnlyError, RecordError
from oakum.record.log import schema

BUSY_WAIT_S = 5.0


def wal_is_sound(version: tuple[int, ...]) -> bool:
    """Tell whether this version of SQLite may use its write-ahead log with several connections."""
    if version >= (3, 51, 3):
        return True
    return (3, 50, 7) <= version < (3, 51) or (3, 44, 6) <= version < (3, 45)


def open_engine(path: Path, *, read_only: bool = False, stand_ins: bool = True) -> Engine:
    """Return an engine for the file. The file must exist.

    A file of an older format that was not brought up to date (it cannot be written, or shall not be) is only
    read: the tables it lacks stand in empty beside it, unless `stand_ins` is False.
    """
    uri = f"{path.resolve().as_uri()}?mode={'ro' if read_only else 'rw'}"

    def connect() -> sqlite3.Connection:
        return sqlite3.connect(
            uri, uri=True, timeout=BUSY_WAIT_S, isolation_level=None, check_same_thread=False
        )

    engine = create_engine("sqlite://", creator=connect)

    @event.listens_for(engine, "connect")
    def _settings(raw: sqlite3.Connection, _record: Any) -> None:
        raw.execute("PRAGMA foreign_keys=ON")
        raw.execute("PRAGMA secure_delete=ON")
        if (stand_ins and _stand_in(raw)) or read_only:
            raw.execute("PRAGMA query_only=ON")
        elif wal_is_sound(sqlite3.sqlite_version_info):
            raw.execute("PRAGMA journal_mode=WAL")
            raw.execute("PRAGMA synchronous=FULL")
        else:
            raw.execute("PRAGMA journal_mode=DELETE")
            raw.execute("PRAGMA synchronous=EXTRA")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        raw = connection.connection.driver_connection
        assert isinstance(raw, sqlite3.Connection)
        take_turn(raw, is_writer=bool(connection.get_execution_options().get("write")))

    return engine


def _stand_in(raw: sqlite3.Connection) -> bool:
    """Add empty tables of this connection for those an older file lacks; tell whether it is such a file."""
    (version,) = raw.execute("PRAGMA user_version").fetchone()
    (application,) = raw.execute("PRAGMA application_id").fetchone()
    if application != schema.APPLICATION_ID or version >= schema.FORMAT:
        return False
    raw.execute("PRAGMA temp_store=MEMORY")
    for to_format in range(version + 1, schema.FORMAT + 1):
        for table in schema.SINCE[to_format]:
            columns = ", ".join(column.name for column in table.columns)
            raw.execute(f"CREATE TEMP TABLE {table.name} ({columns})")
    return True


def take_turn(raw: sqlite3.Connection, *, is_writer: bool) -> None:
    """Begin a transaction and take its lock, asking often for up to five seconds.

    SQLite's own wait sleeps up to a tenth of a second between two tries, and a program that writes without pause
    leaves gaps of a few hundred microseconds: another can miss them all and starve.
    """
    deadline = time.monotonic() + BUSY_WAIT_S
    raw.execute("PRAGMA busy_timeout=0")
    try:
        while True:
            try:
                raw.execute("BEGIN IMMEDIATE" if is_writer else "BEGIN")
                raw.execute("SELECT count(*) FROM sqlite_master").fetchone()
                return
            except sqlite3.OperationalError as error:
                if raw.in_transaction:
                    raw.execute("ROLLBACK")
                is_busy = error.sqlite_errorcode & 0xFF in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
                if not is_busy or time.monotonic() > deadline:
                    raise
                time.sleep(random.uniform(0.0002, 0.002))
    finally:
        raw.execute(f"PRAGMA busy_timeout={BUSY_WAIT_S * 1000:.0f}")


@contextmanager
def reading(engine: Engine, path: Path) -> Iterator[Connection]:
    """Give a connection in one read transaction; SQLite's errors come out as sentences."""
    with explained(path), engine.begin() as connection:
        yield connection


@contextmanager
def writing(engine: Engine, path: Path) -> Iterator[Connection]:
    """Give a connection in one write transaction that others wait for; all of it is written, or nothing."""
    with explained(path), engine.connect().execution_options(write=True) as connection, connection.begin():
        yield connection


@contextmanager
def explained(path: Path) -> Iterator[None]:
    """Turn the errors of SQLite and of the file system into `RecordError` with a sentence."""
    try:
        yield
    except RecordError:
        raise
    except DBAPIError as error:
        raise explain(error.orig, path) from error
    except (sqlite3.Error, OSError) as error:
        raise explain(error, path) from error


def explain(error: BaseException | None, path: Path) -> RecordError:
    """Return the `RecordError` that says what this error means and what to do."""
    code = (getattr(error, "sqlite_errorcode", None) or 0) & 0xFF
    number = getattr(error, "errno", None)
    where = path.parent if path.suffix == ".sqlite" else path
    full = number in (errno.ENOSPC, errno.EFBIG, errno.EDQUOT)
    if code == sqlite3.SQLITE_FULL or full:
        return DiskFullError(
            f"The disk is full: nothing of this entry was written to {where.name}. "
            "Free some room and enter it again; everything entered before is there."
        )
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return BusyError(
            f"Another program has kept {where.name} locked for {BUSY_WAIT_S:.0f} seconds; nothing was "
            "written. Try again, or close the other program."
        )
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return DamagedError(
            f"The logbook in {where.name} is damaged ({error}). Do not write to it: copy the folder away as "
            "it is, then restore the newest backup into a new folder."
        )
    if code in (
        sqlite3.SQLITE_READONLY,
        sqlite3.SQLITE_CANTOPEN,
        sqlite3.SQLITE_PERM,
        sqlite3.SQLITE_AUTH,
    ) or (number in (errno.EACCES, errno.EPERM, errno.EROFS)):
        return ReadOnlyError(
            f"{where} cannot be written: nothing was changed. Check who owns the folder and whether the disk "
            "is write-protected, or open the project to read only."
        )
    if code == sqlite3.SQLITE_IOERR:
        return DiskFullError(
            f"{where.name} could not be written ({error}): the disk is full or failing. Nothing of this "
            "entry was kept; everything entered before is there."
        )
    return RecordError(f"The logbook in {where.name} gave an error: {error}.")


def can_write(folder: Path) -> bool:
    """Tell whether this process may make files in the folder."""
    return os.access(folder, os.W_OK | os.X_OK)
