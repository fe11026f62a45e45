"""The logbook of one project: everything people saw, measured, decided and did, in the order written."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection

from oakum.record import people, project_folder
from oakum.record.files.store import FileStore, FixityReport
from oakum.record.finds import questions, register
from oakum.record.finds.masses import Tally, tally
from oakum.record.finds.number_blocks import NumberDesk
from oakum.record.finds.questions import OpenQuestion
from oakum.record.finds.readings import Reading, standing_readings
from oakum.record.finds.register import Find, FindsPage
from oakum.record.gear import pieces as gear
from oakum.record.gear.pieces import GearPiece
from oakum.record.log import entry_table as log_table
from oakum.record.log import view_table
from oakum.record.log.chain import CheckReport, check_log
from oakum.record.log.engine import open_engine, reading, writing
from oakum.record.log.entries import Draft, Entry
from oakum.record.log.file_links import linked_files
from oakum.record.log.heads import Head, heads
from oakum.record.log.upgrade import erase_in_copies, upgrade
from oakum.record.log.writer import Writer, receive_entries
from oakum.record.people import Competence, Person


class Logbook:
    """A project that is open. Several programs may have it open; each write waits up to five seconds."""

    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        """Use `Logbook.open` or `Logbook.create`; this opens a folder that is known to be a project."""
        self.folder = folder
        self.path = folder / project_folder.LOG_NAME
        self.read_only = read_only
        self._engine = open_engine(self.path, read_only=read_only)
        with self._reading() as connection:
            held = {row[0]: row[1] for row in connection.exec_driver_sql("SELECT key, value FROM project")}
        self.project_id, self.name, self.station = held["id"], held["name"], held["station"]
        self.note: str = held.get("note", "")

    @classmethod
    def create(
        cls,
        folder: str | Path,
        name: str,
        *,
        station: str = "hut",
        author: str = "director",
        prefix: str | None = None,
        numbers: tuple[int, int] = (1, 4999),
        note: str = "",
    ) -> Logbook:
        """Make a new project.

        `folder` is the project folder if it ends with ".oakum", else the folder in which NAME.oakum is made.
        The first station gets the find numbers `numbers` of `prefix` (default: first letter of the name).
        `note` is shown on every page. Raises `ProjectExistsError` rather than touch a project that is there.
        """
        return cls(project_folder.create(Path(folder), name, station, author, prefix, numbers, note))

    @classmethod
    def open(cls, folder: str | Path, read_only: bool = False) -> Logbook:
        """Open a project folder, or the one project in a folder.

        One of an older format is copied beside itself and brought up to date, unless it is only read.
        """
        found = project_folder.locate(Path(folder))
        project_folder.check_file(found / project_folder.LOG_NAME)
        if not read_only:
            upgrade(found / project_folder.LOG_NAME)
        return cls(found, read_only=read_only)

    def close(self) -> None:
        """Let go of the file."""
        self._engine.dispose()

    def __enter__(self) -> Logbook:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def files_folder(self) -> Path:
        """Where photographs and files lie, by their SHA-256."""
        return self.folder / "files"

    # Writing

    def append(
        self,
        kind: str,
        subject: str | None,
        body: Mapping[str, Any],
        *,
        author: str,
        over: Sequence[str] = (),
        seen: Mapping[str, Any] | None = None,
    ) -> Entry:
        """Enter one fact and return the entry once it is on disk. `subject` None makes a new thing."""
        return self.append_many([Draft(kind, subject, body, author, tuple(over), seen)])[0]

    def append_many(self, drafts: Iterable[Draft]) -> list[Entry]:
        """Enter several facts: all of them, or if one is refused none."""
        held = list(drafts)
        with self._writing() as connection:
            writer = Writer(connection, self.station, wall_ms())
            return writer.write(held)

    def receive(self, entries: Iterable[Entry]) -> int:
        """Take in entries of other stations; return how many were new. Receiving twice is harmless."""
        with self._writing() as connection:
            return receive_entries(connection, list(entries), self.station, wall_ms())

    def give_block(
        self, prefix: str, first: int, last: int, *, author: str, station: str | None = None
    ) -> Entry:
        """Give a station (default: this one) a block of find numbers that no station has."""
        body = {"prefix": prefix, "first": first, "last": last}
        return self.append("block.given", station or self.station, body, author=author)

    # Reading

    def next_numbers(self, count: int) -> tuple[str, ...]:
        """Return the next find numbers of this station, for labels. They are not taken by asking."""
        with self._reading() as connection:
            desk = NumberDesk(connection, self.station)
            return tuple(desk.take_next() for _ in range(count))

    def entries(
        self,
        subject: str | None = None,
        *,
        kind: str | None = None,
        station: str | None = None,
        newest_first: bool = False,
        limit: int | None = None,
        offset: int = 0,
    ) -> list[Entry]:
        """Return entries in display order, all or those of a subject, kind, station."""
        wanted = {"subject": subject, "kind": kind, "station": station}
        given = {column: value for column, value in wanted.items() if value is not None}
        with self._reading() as connection:
            return log_table.filtered(connection, given, newest_first, limit, offset)

    def entry(self, id: str) -> Entry:
        """Return one entry by its id; raise `UnknownSubjectError` if there is none."""
        with self._reading() as connection:
            return log_table.one(connection, id)

    def count(self) -> int:
        """Return how many entries there are."""
        with self._reading() as connection:
            total: int = connection.exec_driver_sql("SELECT count(*) FROM entry").scalar_one()
            return total

    def heads(self, subject: str) -> dict[str, tuple[Head, ...]]:
        """Return the current heads of every field of a subject."""
        return heads(self.entries(subject))

    def find(self, number_or_id: str) -> Find:
        """Return a find by id, number (with or without check character) or earlier number."""
        with self._reading() as connection:
            return register.find(connection, number_or_id)

    def finds(self, query: str = "", after: str | None = None, limit: int = 50) -> FindsPage:
        """Return a page of finds in order of number, all or those that hold every word of `query`."""
        with self._reading() as connection:
            return register.finds(connection, query, after, limit)

    def readings(
        self, subject: str, quantity: str | None = None, state: str | None = None
    ) -> tuple[Reading, ...]:
        """Return the readings of a subject that stand."""
        return tuple(
            one
            for one in standing_readings(self.entries(subject))
            if quantity in (None, one.quantity) and state in (None, one.state)
        )

    def total_mass(self, state: str) -> Tally:
        """Return what all finds weigh together in one state, no weight counted twice."""
        with self._reading() as connection:
            return tally(register.weighed(connection, state))

    def open_questions(self, subject: str | None = None) -> tuple[OpenQuestion, ...]:
        """Return what a named person has to settle."""
        with self._reading() as connection:
            return questions.open_questions(connection, subject)

    # Gear

    def gear(self, *, with_struck: bool = False) -> tuple[GearPiece, ...]:
        """Return every piece of gear, by kind and identity; those struck out only if asked for."""
        with self._reading() as connection:
            return gear.pieces(connection, with_struck=with_struck)

    def piece(self, identity_or_id: str) -> GearPiece:
        """Return a piece by its id, its identity, or kind and identity ("shackle SH 12")."""
        with self._reading() as connection:
            return gear.piece(connection, identity_or_id)

    # People

    def add_person(self, name: str, role: str) -> Person:
        """Register a person; the log will know them by the id returned."""
        with self._writing() as connection:
            return people.add(connection, name, role)

    def people(self) -> tuple[Person, ...]:
        """Return everybody who is registered."""
        with self._reading() as connection:
            return people.everyone(connection)

    def set_competence(
        self, id: str, competence: str, *, until: str | None, evidence: str | None = None
    ) -> Competence:
        """Say what a person is qualified or fit for, until which day (YYYY-MM-DD, "does not lapse", None: not known).

        What was said of this competence before is replaced; nothing of it enters the log.
        """
        with self._writing() as connection:
            return people.set_competence(connection, id, competence, until, evidence)

    def remove_competence(self, id: str, competence: str) -> bool:
        """Forget one competence of a person; tell whether there was one."""
        with self._writing() as connection:
            return people.remove_competence(connection, id, competence)

    def erase_person(self, id: str) -> None:
        """Forget a person's name, role and competences, here and in copies of older formats beside the file.

        The chain is not touched.
        """
        with self._writing() as connection:
            people.erase(connection, id)
        erase_in_copies(self.path, id)

    # Keeping

    def check(self) -> CheckReport:
        """Walk every chain and compare the views with the log; name the first entry that fails."""
        with self._reading() as connection:
            return check_log(connection)

    def check_files(self, progress: Callable[[int, int], None] | None = None) -> FixityReport:
        """Read every photograph and file again and compare it with what the log links."""
        with self._reading() as connection:
            expected = linked_files(connection)
        return FileStore(self.files_folder).verify_all(expected, progress=progress)

    def rebuild(self) -> None:
        """Fill every view anew from the log."""
        with self._writing() as connection:
            view_table.rebuild(connection)

    def views(self) -> dict[str, list[tuple[object, ...]]]:
        """Return every view as sorted rows."""
        with self._reading() as connection:
            return view_table.dump(connection)

    def backup(self, path: str | Path) -> Path:
        """Copy the whole project into a new folder and check the copy."""
        from oakum.record.backup import backup

        return backup(self, Path(path))

    def _reading(self) -> AbstractContextManager[Connection]:
        return reading(self._engine, self.path)

    def _writing(self) -> AbstractContextManager[Connection]:
        project_folder.check_writable(self)
        return writing(self._engine, self.path)


def wall_ms() -> int:
    """Return the wall clock in milliseconds since 1970."""
    return time.time_ns() // 1_000_000
