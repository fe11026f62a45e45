"""Backup of a whole project, and restoring it as a new station.

The copy is made by SQLite's online backup, never by copying a file in use; the check is run on the copy. A
restored copy must not go on under the name of the station it was copied from: two copies would then write
different entries with the same number. So it gets a new station and a chain of its own.
"""

from __future__ import annotations

import secrets
import shutil
import sqlite3
import time
from pathlib import Path
from typing import TYPE_CHECKING

from oakum.record import project_folder
from oakum.record.errors import DamagedError, ProjectExistsError
from oakum.record.files.store import FileStore, FileStoreError
from oakum.record.log import schema
from oakum.record.log.engine import explained, open_engine, writing
from oakum.record.log.entries import Draft
from oakum.record.log.upgrade import upgrade
from oakum.record.log.writer import Writer

if TYPE_CHECKING:
    from oakum.record.logbook import Logbook


def backup(log: Logbook, target: Path) -> Path:
    """Copy a project to the new folder `target` and return it once the copy has been checked."""
    from oakum.record.logbook import Logbook as Opened

    place = target if target.suffix == project_folder.ENDING else target / log.folder.name
    project_folder.refuse_existing(place)
    building = place.parent / f".{place.name}.{secrets.token_hex(4)}"
    with explained(place.parent):
        place.parent.mkdir(parents=True, exist_ok=True)
        building.mkdir()
        try:
            copy_database(log.path, building / project_folder.LOG_NAME)
            if log.files_folder.is_dir():
                shutil.copytree(log.files_folder, building / "files")
            else:
                (building / "files").mkdir()
            with Opened.open(building, read_only=True) as copy:
                report = copy.check()
            if not report.ok:
                raise DamagedError(f"The copy did not pass its check and was removed: {report.words()}")
            _compare_files(log.files_folder, building / "files")
            project_folder.refuse_existing(place)
            building.rename(place)
        except BaseException:
            shutil.rmtree(building, ignore_errors=True)
            raise
    return place


def _compare_files(source: Path, copy: Path) -> None:
    """Read every file of the copy again. One that was spoilt at its source before is no fault of the copy."""
    kept = FileStore(source)
    found = FileStore(copy).verify_all(expected=kept.digests())
    spoilt = [digest for digest in found.changed if _reads_well(kept, digest)]
    if found.missing or spoilt:
        wrong = (*found.missing, *spoilt)
        raise DamagedError(
            f"{len(wrong)} files did not arrive whole in the copy (first: {wrong[0]}); it was removed. Check "
            "the disk the copy goes to, and try again."
        )


def _reads_well(store: FileStore, digest: str) -> bool:
    try:
        store.get(digest)
    except FileStoreError:
        return False
    return True


def restore(
    path: str | Path, folder: str | Path, *, station: str = "restored", author: str = "director"
) -> Logbook:
    """Restore a backup into a new folder as a new station, and return it open.

    The new station has no number block yet: give it one with `Logbook.give_block` before entering finds.
    Raises `ProjectExistsError` if a project stands there, `DamagedError` if the backup fails its check.
    """
    from oakum.record.logbook import Logbook as Opened

    source = project_folder.locate(Path(path))
    wanted = Path(folder)
    place = wanted if wanted.suffix == project_folder.ENDING else wanted / source.name
    if place.resolve() == source.resolve():
        raise ProjectExistsError("A backup is restored into a new folder, never over itself.")
    with Opened.open(source, read_only=True) as kept:
        report = kept.check()
        if not report.ok:
            raise DamagedError(f"The backup did not pass its check and was not restored: {report.words()}")
        backup(kept, place)
        old = kept.station
    try:
        upgrade(place / project_folder.LOG_NAME, keep_copy=False)
        become_station(
            place / project_folder.LOG_NAME, project_folder.new_station(station), station, old, author
        )
    except BaseException:
        shutil.rmtree(place, ignore_errors=True)
        raise
    return Opened.open(place)


def become_station(path: Path, new: str, label: str, old: str, author: str) -> None:
    """Make a copy write under a new station from now on, and say so in its log."""
    engine = open_engine(path)
    with writing(engine, path) as connection:
        connection.exec_driver_sql("UPDATE project SET value = ? WHERE key = 'station'", (new,))
        Writer(connection, new, time.time_ns() // 1_000_000).write(
            [
                Draft("station.opened", new, {"title": label}, author),
                Draft("restored", new, {"from_station": old}, author),
            ]
        )
    engine.dispose()


def copy_database(source: Path, target: Path) -> None:
    """Copy a database that may be in use, by SQLite's online backup."""
    reading = sqlite3.connect(f"{source.resolve().as_uri()}?mode=ro", uri=True, timeout=5.0)
    writing_ = sqlite3.connect(target)
    try:
        reading.backup(writing_)
        (version,) = writing_.execute("PRAGMA user_version").fetchone()
        if version > schema.FORMAT:
            raise DamagedError("The copy carries a newer format than the project it was made from.")
    finally:
        writing_.close()
        reading.close()
