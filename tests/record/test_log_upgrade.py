"""A project of format 1 is copied, brought up to date in one go or not at all, and read as it is where it cannot."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from oakum.record import DiskFullError, Logbook, NewerProjectError, ReadOnlyError, restore
from oakum.record.log import upgrade as upgrading
from oakum.record.log.schema import FORMAT, SINCE

FORMAT_1 = Path(__file__).with_name("format_1.sql")
COPY = "logbook.before-format-2.sqlite"


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A project folder as format 1 left it: its own tables, filled with a log of its time."""
    with Logbook.create(tmp_path / "new", "Tolmarren", prefix="T") as log:
        log.add_person("Somebody Invented", "director")
        jar = log.append("find.entered", None, {"title": "jar", "earlier_numbers": ["14"]}, author="recorder")
        log.append("find.entered", None, {"title": "bell"}, author="recorder")
        over = [jar.id]
        log.append(
            "find.described", jar.subject, {"title": "jug", "reason": "handle"}, author="diver", over=over
        )
        for value in ("60", "64"):
            body = {"quantity": "mass", "state": "in air", "text": f"{value} kg", "value": value, "unit": "kg"}
            log.append("reading", jar.subject, body, author="recorder")
    folder = tmp_path / "tolmarren.oakum"
    (folder / "files").mkdir(parents=True)
    with closing(sqlite3.connect(folder / "logbook.sqlite")) as raw:
        raw.executescript(FORMAT_1.read_text())
        raw.execute("ATTACH ? AS new", (str(log.path),))
        later = {table.name for several in SINCE.values() for table in several}
        tables = [row[0] for row in raw.execute("SELECT name FROM new.sqlite_master WHERE type = 'table'")]
        with raw:
            for table in tables:
                if table not in later and not table.startswith("find_words"):
                    raw.execute(f"INSERT INTO main.{table} SELECT * FROM new.{table}")
            raw.execute("INSERT INTO find_words (rowid, words) SELECT row, words FROM find")
    return folder


def version(path: Path) -> int:
    with closing(sqlite3.connect(path)) as raw:
        return int(raw.execute("PRAGMA user_version").fetchone()[0])


def names(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as raw:
        return [row[0] for row in raw.execute("SELECT name FROM person")]


def test_opening_copies_the_file_first_and_then_adds_the_tables(old: Path) -> None:
    before = (old / "logbook.sqlite").read_bytes()
    with Logbook.open(old) as log:
        assert version(log.path) == FORMAT and log.check().ok
        assert log.find("14").title == "jug" and log.finds("bell").lines and len(log.open_questions()) == 1
        person = log.people()[0]
        assert person.name == "Somebody Invented" and person.competences == () and log.gear() == ()
        live = log.views()
        log.rebuild()
        assert log.views() == live
        log.set_competence(person.id, "lift leader", until="2027-01-01")
        log.append("gear.listed", None, {"kind": "shackle", "identity": "K-1"}, author="recorder")
        assert log.check().ok and log.piece("K-1").kind == "shackle"
    assert version(old / COPY) == 1
    shutil.copytree(old, old.parent / "back.oakum")
    (old.parent / "back.oakum" / COPY).replace(old.parent / "back.oakum" / "logbook.sqlite")
    with Logbook.open(old.parent / "back.oakum", read_only=True) as kept:
        assert kept.check().ok and kept.find("14").title == "jug"
    assert version(old.parent / "back.oakum" / "logbook.sqlite") == 1 and before[:16] == b"SQLite format 3\0"


def test_opening_a_second_time_copies_nothing(old: Path) -> None:
    Logbook.open(old).close()
    (old / COPY).unlink()
    Logbook.open(old).close()
    assert not (old / COPY).exists()


def test_reading_only_leaves_an_old_file_as_it_is(old: Path) -> None:
    before = (old / "logbook.sqlite").read_bytes()
    with Logbook.open(old, read_only=True) as log:
        assert log.check().ok and log.people()[0].competences == () and log.gear() == ()
        assert len(log.open_questions()) == 1 and log.find("14").title == "jug"
        with pytest.raises(ReadOnlyError):
            log.append("note", log.find("14").id, {"text": "x"}, author="recorder")
    assert (old / "logbook.sqlite").read_bytes() == before and [p.name for p in old.iterdir()] != [COPY]
    assert not (old / COPY).exists()


def test_an_old_project_in_a_place_that_cannot_be_written_is_read_as_it_is(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The tests may run as root, whom no permission stops: so the answer to the question is changed instead.
    monkeypatch.setattr("oakum.record.log.upgrade.can_write", lambda _: False)
    before = (old / "logbook.sqlite").read_bytes()
    with Logbook.open(old) as log:
        assert log.find("14").title == "jug" and log.gear() == () and log.check().ok
        with pytest.raises(ReadOnlyError):
            log.add_person("Somebody Else", "diver")
    assert (old / "logbook.sqlite").read_bytes() == before


def test_a_failure_on_the_way_leaves_the_file_of_format_1(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tables = upgrading.add_tables

    def cut_off(connection: object, to_format: int) -> None:
        tables(connection, to_format)  # type: ignore[arg-type]
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(upgrading, "add_tables", cut_off)
    with pytest.raises(DiskFullError, match="disk is full"):
        Logbook.open(old)
    assert version(old / "logbook.sqlite") == 1 and version(old / COPY) == 1
    monkeypatch.undo()
    with Logbook.open(old) as log:
        assert log.check().ok and version(log.path) == FORMAT


def test_no_room_for_the_copy_changes_nothing(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("oakum.record.log.upgrade.os.replace", full)
    before = (old / "logbook.sqlite").read_bytes()
    with pytest.raises(DiskFullError):
        Logbook.open(old)
    assert (old / "logbook.sqlite").read_bytes() == before
    assert sorted(path.name for path in old.iterdir()) == ["files", "logbook.sqlite"]


def test_a_program_that_is_killed_on_the_way_leaves_a_file_that_opens(old: Path) -> None:
    code = """
import os, signal, sys
from oakum.record import Logbook
from oakum.record.log import upgrade
tables = upgrade.add_tables
def killed(connection, to_format):
    tables(connection, to_format)
    os.kill(os.getpid(), signal.SIGKILL)
upgrade.add_tables = killed
Logbook.open(sys.argv[1])
"""
    assert subprocess.run([sys.executable, "-c", code, str(old)], timeout=60).returncode == -9
    with Logbook.open(old) as log:
        assert log.check().ok and version(log.path) == FORMAT and log.find("14").title == "jug"


def test_two_programs_that_open_it_at_once_both_find_it_up_to_date(old: Path) -> None:
    code = "import sys; from oakum.record import Logbook; log = Logbook.open(sys.argv[1]); print(log.check().ok)"
    both = [
        subprocess.Popen([sys.executable, "-c", code, str(old)], stdout=subprocess.PIPE, text=True)
        for _ in range(2)
    ]
    assert [one.communicate(timeout=60)[0] for one in both] == ["True\n", "True\n"]
    assert version(old / "logbook.sqlite") == FORMAT and version(old / COPY) == 1


def test_a_backup_of_format_1_is_restored_and_stays_as_it_is(old: Path, tmp_path: Path) -> None:
    before = (old / "logbook.sqlite").read_bytes()
    with restore(old, tmp_path / "restored") as log:
        assert version(log.path) == FORMAT and log.check().ok and log.find("14").title == "jug"
        log.append("gear.listed", None, {"kind": "hook", "identity": "H-1"}, author="recorder")
        assert not (log.folder / COPY).exists()
    assert (old / "logbook.sqlite").read_bytes() == before


def test_erasing_a_person_reaches_the_copy_beside_the_file(old: Path) -> None:
    with Logbook.open(old) as log:
        assert names(old / COPY) == ["Somebody Invented"]
        log.erase_person(log.people()[0].id)
    assert names(old / COPY) == []
    assert b"Somebody Invented" not in (old / COPY).read_bytes() + (old / "logbook.sqlite").read_bytes()


def test_a_newer_format_is_still_left_alone(old: Path) -> None:
    with closing(sqlite3.connect(old / "logbook.sqlite")) as raw:
        raw.execute(f"PRAGMA user_version={FORMAT + 1}")
    with pytest.raises(NewerProjectError, match="install the newer Oakum"):
        Logbook.open(old)
    assert not (old / COPY).exists()
