"""Backup while the project is in use, and restoring as a new station."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from oakum.record import (
    ChainError,
    DamagedError,
    Logbook,
    NotAProjectError,
    NumberError,
    ProjectExistsError,
    restore,
)
from oakum.record.files.store import FileStore


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    opened = Logbook.create(tmp_path / "work", "Tolmarren")
    for title in ("jar", "shoe"):
        opened.append("find.entered", None, {"title": title}, author="recorder")
    (opened.files_folder / "drawing").write_bytes(b"pencil")
    return opened


def test_a_backup_is_a_whole_project_with_its_files(log: Logbook, tmp_path: Path) -> None:
    place = log.backup(tmp_path / "stick")
    with Logbook.open(place, read_only=True) as copy:
        assert copy.entries() == log.entries() and copy.views() == log.views() and copy.check().ok
        assert (copy.files_folder / "drawing").read_bytes() == b"pencil"
    with pytest.raises(ProjectExistsError, match="not touched"):
        log.backup(tmp_path / "stick")


def test_files_that_are_linked_are_read_again_and_a_missing_one_is_named(
    log: Logbook, tmp_path: Path
) -> None:
    kept = FileStore(log.files_folder).put(b"a drawing", name="drawing.txt")
    find = log.finds().lines[0].id
    body = {"sha256": kept.sha256, "name": "drawing.txt", "size": kept.size}
    log.append("file.linked", find, body, author="recorder")
    assert log.check_files().whole and [e.body["name"] for e in log.find(find).files] == ["drawing.txt"]
    with Logbook.open(log.backup(tmp_path / "stick"), read_only=True) as copy:
        assert copy.check_files().whole and copy.check_files().checked == 1
    (log.files_folder / kept.sha256).unlink()
    assert log.check_files().missing == (kept.sha256,)


def test_a_backup_can_be_made_while_another_program_writes(log: Logbook, tmp_path: Path) -> None:
    with Logbook.open(log.folder) as other:
        for index in range(5):
            other.append("find.entered", None, {"title": f"n {index}"}, author="recorder")
            with Logbook.open(log.backup(tmp_path / f"b{index}"), read_only=True) as copy:
                assert copy.count() == log.count() and copy.check().ok


def test_a_restored_copy_is_a_new_station_with_its_own_chain(log: Logbook, tmp_path: Path) -> None:
    restored = restore(log.backup(tmp_path / "stick"), tmp_path / "new", station="laboratory")
    assert restored.station != log.station and restored.station.startswith("laboratory-")
    assert restored.entries()[: log.count()] == log.entries() and restored.check().ok
    with pytest.raises(NumberError, match="no block"):
        restored.append("find.entered", None, {"title": "bell"}, author="recorder")
    restored.give_block("T", 5000, 5999, author="director")
    entry = restored.append("find.entered", None, {"title": "bell"}, author="recorder")
    assert entry.body["number"].startswith("T-5000-") and entry.seq == 4
    # Both go on, and both logs fit together again.
    log.append("find.entered", None, {"title": "spoon"}, author="recorder")
    assert log.receive(restored.entries()) == 4 and log.receive(restored.entries()) == 0
    assert restored.receive(log.entries()) == 1 and restored.views() == log.views()
    assert log.check().ok and restored.check().ok


def test_a_copy_that_went_on_under_the_same_name_is_refused(log: Logbook, tmp_path: Path) -> None:
    with Logbook.open(log.backup(tmp_path / "stick")) as fork:
        fork.append("find.entered", None, {"title": "fork"}, author="recorder")
        with pytest.raises(ChainError, match="same name"):
            log.receive(fork.entries())
        log.append("find.entered", None, {"title": "spoon"}, author="recorder")
        with pytest.raises(ChainError, match="two different entries number 6"):
            log.receive(fork.entries())
    assert log.count() == 6 and log.check().ok


def test_entries_with_a_gap_or_a_change_are_refused(log: Logbook, tmp_path: Path) -> None:
    other = Logbook.create(tmp_path / "other", "Tolmarren", station="laboratory")
    entries = other.entries()
    with pytest.raises(ChainError, match="does not follow entry 1"):
        log.receive([entries[0], entries[2]])
    with pytest.raises(ChainError, match="was changed"):
        log.receive([entries[0]._replace(author="diver")])
    assert log.count() == 5


def test_restore_never_writes_over_a_project(log: Logbook, tmp_path: Path) -> None:
    place = log.backup(tmp_path / "stick")
    for target in (log.folder, log.folder.parent, place):
        with pytest.raises(ProjectExistsError):
            restore(place, target)
    with pytest.raises(NotAProjectError):
        restore(tmp_path / "nowhere", tmp_path / "new")
    assert log.check().ok and log.count() == 5


def test_a_backup_that_fails_its_check_is_not_restored_and_leaves_nothing(
    log: Logbook, tmp_path: Path
) -> None:
    place = log.backup(tmp_path / "stick")
    with sqlite3.connect(place / "logbook.sqlite") as raw:
        raw.execute("DROP TRIGGER entry_no_update")
        raw.execute("UPDATE entry SET body = replace(body, 'shoe', 'boot')")
    raw.close()
    with pytest.raises(DamagedError, match="Entry 5 of station"):
        restore(place, tmp_path / "new")
    assert not (tmp_path / "new").exists() or list((tmp_path / "new").iterdir()) == []
