"""The folder of a project, NAME.oakum/ with logbook.sqlite and files/: making, finding, knowing one."""

from __future__ import annotations

import re
import secrets
import shutil
import struct
import time
import unicodedata
from pathlib import Path
from typing import TYPE_CHECKING

from oakum.record.errors import (
    DamagedError,
    FactError,
    NewerProjectError,
    NotAProjectError,
    ProjectExistsError,
    ReadOnlyError,
)
from oakum.record.finds.numbers import Block
from oakum.record.log import schema
from oakum.record.log.engine import can_write, explained, open_engine, writing
from oakum.record.log.entries import Draft, new_id
from oakum.record.log.writer import Writer

if TYPE_CHECKING:
    from oakum.record.logbook import Logbook

LOG_NAME = "logbook.sqlite"
ENDING = ".oakum"


def word_of(name: str, what: str) -> str:
    """Return a name as a plain word for a folder or a station."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    word = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:40]
    if not word:
        raise FactError(f"{what} {name!r}: expected a name with at least one letter or digit.")
    return word


def new_station(label: str) -> str:
    """Return a station id that no other copy of any project has."""
    return f"{word_of(label, 'The station')}-{secrets.token_hex(4)}"


def create(
    folder: Path,
    name: str,
    station: str,
    author: str,
    prefix: str | None,
    numbers: tuple[int, int],
    note: str = "",
) -> Path:
    """Make a project folder and return it. It is made beside its place and moved there when it is whole."""
    title = name.strip()
    target = folder if folder.suffix == ENDING else folder / f"{word_of(title, 'The project')}{ENDING}"
    letters = prefix or word_of(title, "The project").strip("0123456789-")[:1].upper() or "F"
    station_id = new_station(station)
    Block(station_id, letters, *numbers)
    refuse_existing(target)
    building = target.parent / f".{target.name}.{secrets.token_hex(4)}"
    with explained(target.parent):
        target.parent.mkdir(parents=True, exist_ok=True)
        building.mkdir()
        try:
            (building / "files").mkdir()
            _write_first(building / LOG_NAME, title, station, station_id, author, letters, numbers, note)
            refuse_existing(target)
            building.rename(target)
        except BaseException:
            shutil.rmtree(building, ignore_errors=True)
            raise
    return target


def _write_first(
    path: Path,
    title: str,
    label: str,
    station: str,
    author: str,
    prefix: str,
    numbers: tuple[int, int],
    note: str,
) -> None:
    path.touch()
    engine = open_engine(path)
    project = new_id()
    with writing(engine, path) as connection:
        schema.create_all(connection)
        for row in (("id", project), ("name", title), ("station", station), ("note", note)):
            connection.exec_driver_sql("INSERT INTO project (key, value) VALUES (?,?)", row)
        block = {"prefix": prefix, "first": numbers[0], "last": numbers[1]}
        Writer(connection, station, time.time_ns() // 1_000_000).write(
            [
                Draft("project.opened", project, {"title": title} | ({"note": note} if note else {}), author),
                Draft("station.opened", station, {"title": label}, author),
                Draft("block.given", station, block, author),
            ]
        )
    engine.dispose()


def refuse_existing(target: Path) -> None:
    """Raise `ProjectExistsError` if anything stands at the place of a new project."""
    if target.exists():
        raise ProjectExistsError(
            f"{target.name} stands there already and is not touched. Choose another name, or open it."
        )


def locate(folder: Path) -> Path:
    """Return the project folder somebody means: this one, or the only one in it."""
    if folder.name == LOG_NAME and folder.is_file():
        return folder.parent
    if (folder / LOG_NAME).exists():
        return folder
    inside = (
        sorted(one for one in folder.glob(f"*{ENDING}") if (one / LOG_NAME).exists())
        if folder.is_dir()
        else []
    )
    if len(inside) == 1:
        return inside[0]
    if inside:
        raise NotAProjectError(
            f"{folder} holds {len(inside)} projects; name one: {', '.join(p.name for p in inside)}."
        )
    raise NotAProjectError(
        f"{folder} is not an Oakum project: expected a folder NAME{ENDING} with {LOG_NAME} in it. "
        "Make one with: oakum new NAME"
    )


def check_file(path: Path) -> None:
    """Raise unless the file is a logbook of this or an older format. Looks at the header only."""
    with explained(path), path.open("rb") as file:
        head = file.read(100)
    if len(head) < 100 or head[:16] != b"SQLite format 3\x00":
        raise DamagedError(
            f"{path.name} in {path.parent.name} is no logbook, or its beginning is destroyed. Leave it as it "
            "is and restore the newest backup into a new folder."
        )
    (version,) = struct.unpack(">I", head[60:64])
    (application,) = struct.unpack(">I", head[68:72])
    if application != schema.APPLICATION_ID:
        raise NotAProjectError(f"{path.name} in {path.parent.name} is a database, but not one of Oakum's.")
    if version > schema.FORMAT:
        raise NewerProjectError(
            f"{path.parent.name} was made by a newer Oakum (format {version}; this one reads up to "
            f"{schema.FORMAT}). It was not touched: install the newer Oakum to open it."
        )


def check_writable(log: Logbook) -> None:
    """Raise `ReadOnlyError` if the project was opened to read only, or its folder cannot be written."""
    if log.read_only:
        raise ReadOnlyError(
            f"{log.folder.name} was opened to read only; open it for writing to enter something."
        )
    if not can_write(log.folder):
        raise ReadOnlyError(
            f"{log.folder.name} lies in a place that cannot be written: nothing was changed. Check who owns the "
            "folder and whether the disk is write-protected."
        )
