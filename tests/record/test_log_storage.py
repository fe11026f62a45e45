"""The file: append-only, several programs at once, tampering, and every way a disk can refuse."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import textwrap
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from oakum.record import (
    BusyError,
    DamagedError,
    DiskFullError,
    Logbook,
    NewerProjectError,
    NotAProjectError,
    ProjectExistsError,
    ReadOnlyError,
    RecordError,
)
from oakum.record.log.engine import wal_is_sound
from oakum.record.log.schema import FORMAT


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Logbook]:
    with Logbook.create(tmp_path, "Tolmarren") as opened:
        for title in ("jar", "shoe", "bell"):
            opened.append("find.entered", None, {"title": title}, author="recorder")
        yield opened


def run(code: str, *words: str) -> subprocess.CompletedProcess[str]:
    program = [sys.executable, "-c", textwrap.dedent(code), *words]
    return subprocess.run(program, capture_output=True, text=True, timeout=60)


def edit(log: Logbook, *statements: str, keep_triggers: bool = False) -> None:
    """Change the file as somebody with a database program would."""
    with sqlite3.connect(log.path) as raw:
        if not keep_triggers:
            kept = [row[0] for row in raw.execute("SELECT sql FROM sqlite_master WHERE type = 'trigger'")]
            raw.executescript("DROP TRIGGER entry_no_update; DROP TRIGGER entry_no_delete;")
        for statement in statements:
            raw.execute(statement)
        if not keep_triggers:
            raw.executescript(";".join(kept))
    raw.close()


@pytest.mark.parametrize("statement", ["UPDATE entry SET author = 'x'", "DELETE FROM entry"])
def test_the_file_itself_refuses_to_change_or_delete_an_entry(log: Logbook, statement: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=r"never (changed|deleted)"):
        edit(log, statement, keep_triggers=True)
    assert log.check().ok


@pytest.mark.parametrize(
    ("statement", "seq", "how"),
    [
        ("UPDATE entry SET body = replace(body, 'shoe', 'boot') WHERE seq = 5", 5, "changed"),
        ("UPDATE entry SET author = 'diver' WHERE seq = 5", 5, "changed"),
        ("UPDATE entry SET at_ms = at_ms - 1 WHERE seq = 5", 5, "changed"),
        ("UPDATE entry SET over = '[1]' WHERE seq = 5", 5, "changed"),
        ("UPDATE entry SET over = 'no list' WHERE seq = 5", 5, "changed"),
        ("UPDATE entry SET prev = hash WHERE seq = 5", 5, "does not link"),
        ("DELETE FROM entry WHERE seq = 5", 6, "entries 5 to 5 are missing"),
        ("DELETE FROM entry WHERE seq > 4", 5, "entries 5 to 6 were cut off the end"),
    ],
)
def test_check_names_the_first_entry_that_was_tampered_with(
    log: Logbook, statement: str, seq: int, how: str
) -> None:
    assert log.check().ok
    edit(log, statement)
    failure = log.check().failure
    assert failure is not None and failure.seq == seq and how in failure.words()


def test_check_notices_missing_triggers_and_views_that_were_edited_and_rebuild_mends_them(
    log: Logbook,
) -> None:
    edit(log, "UPDATE find SET title = 'boot' WHERE title = 'shoe'", "DELETE FROM find_words WHERE rowid = 1")
    report = log.check()
    assert not report.ok and report.failure is None and "find, find_words" in report.words()
    log.rebuild()
    assert log.check().ok and log.finds("shoe").lines
    edit(log, "DROP TRIGGER entry_no_update", keep_triggers=True)
    assert "someone removed them" in log.check().words()


def test_two_programs_write_500_entries_each_at_once_and_none_fails(log: Logbook) -> None:
    code = """
        import sys
        from oakum.record import Logbook
        log = Logbook.open(sys.argv[1])
        for i in range(500):
            log.append("find.entered", None, {"title": f"{sys.argv[2]} {i}"}, author="recorder")
    """
    program = [sys.executable, "-c", textwrap.dedent(code), str(log.folder)]
    both = [subprocess.Popen([*program, name], stderr=subprocess.PIPE) for name in ("left", "right")]
    said = [one.communicate(timeout=120)[1] for one in both]
    assert [one.returncode for one in both] == [0, 0], said
    assert log.count() == 1006 and log.check().ok
    entries = log.entries(kind="find.entered")
    assert len({entry.body["number"] for entry in entries}) == 1003
    titles = [entry.body["title"] for entry in entries if entry.body["title"].startswith("left")]
    assert titles == [f"left {i}" for i in range(500)]


def test_a_program_that_keeps_the_file_locked_is_named_after_five_seconds(
    log: Logbook, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("oakum.record.log.engine.BUSY_WAIT_S", 0.2)
    with Logbook.open(log.folder) as second:
        holder = sqlite3.connect(log.path, isolation_level=None)
        holder.execute("BEGIN IMMEDIATE")
        with pytest.raises(BusyError, match="Another program"):
            second.append("find.entered", None, {"title": "x"}, author="recorder")
        holder.execute("ROLLBACK")
        holder.close()
        second.append("find.entered", None, {"title": "x"}, author="recorder")


def test_the_write_ahead_log_is_used_only_where_sqlite_is_mended() -> None:
    # Versions: sqlite.org, page on write-ahead logging, section on the WAL-reset bug [read]
    mended = [(3, 44, 6), (3, 50, 7), (3, 51, 3), (3, 53, 0)]
    assert all(map(wal_is_sound, mended))
    assert not any(map(wal_is_sound, [(3, 40, 1), (3, 44, 5), (3, 45, 0), (3, 50, 6), (3, 51, 2)]))


def test_the_settings_of_every_connection(log: Logbook) -> None:
    with log._engine.connect() as connection:
        asked = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one()
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    sound = wal_is_sound(sqlite3.sqlite_version_info)
    assert asked == {
        "journal_mode": "wal" if sound else "delete",
        "synchronous": 2 if sound else 3,
        "foreign_keys": 1,
        "busy_timeout": 5000,
    }


def test_what_is_no_project_is_said_to_be_none(tmp_path: Path, log: Logbook) -> None:
    with pytest.raises(NotAProjectError, match="oakum new"):
        Logbook.open(tmp_path / "nothing")
    other = tmp_path / "other.oakum"
    other.mkdir()
    with sqlite3.connect(other / "logbook.sqlite") as raw:
        raw.execute("CREATE TABLE t (x)")
    raw.close()
    with pytest.raises(NotAProjectError, match="not one of Oakum's"):
        Logbook.open(other)
    with pytest.raises(NotAProjectError, match="2 projects"):
        Logbook.open(tmp_path)


def test_a_project_of_a_newer_oakum_is_left_alone(log: Logbook) -> None:
    log.close()
    edit(log, f"PRAGMA user_version = {FORMAT + 1}", keep_triggers=True)
    before = log.path.read_bytes()
    with pytest.raises(NewerProjectError, match="install the newer Oakum"):
        Logbook.open(log.folder)
    assert log.path.read_bytes() == before


@pytest.mark.parametrize(
    "spoil", [lambda b: b"", lambda b: b"x" * len(b), lambda b: b[:4096] + b"\xff" * 9000]
)
def test_a_damaged_file_is_told_from_a_whole_one(log: Logbook, spoil: Callable[[bytes], bytes]) -> None:
    log.close()
    log.path.write_bytes(spoil(log.path.read_bytes()))
    with pytest.raises(DamagedError, match="restore the newest backup"), Logbook.open(log.folder) as opened:
        opened.entries()


def test_a_new_project_never_touches_one_that_is_there(log: Logbook, tmp_path: Path) -> None:
    before = log.path.read_bytes()
    with pytest.raises(ProjectExistsError, match="not touched"):
        Logbook.create(tmp_path, "Tolmarren")
    assert log.path.read_bytes() == before and [p.name for p in tmp_path.iterdir()] == ["tolmarren.oakum"]


def test_a_refused_new_project_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(RecordError):
        Logbook.create(tmp_path, "Tolmarren", author="Jane Roe")
    with pytest.raises(Exception, match="block goes from"):
        Logbook.create(tmp_path, "Tolmarren", numbers=(5, 1))
    assert list(tmp_path.iterdir()) == []


def test_a_project_opened_to_read_only_reads_and_refuses_to_write(log: Logbook) -> None:
    with Logbook.open(log.folder, read_only=True) as reader:
        assert reader.finds("bell").lines and reader.check().ok
        with pytest.raises(ReadOnlyError, match="opened to read only"):
            reader.append("find.entered", None, {"title": "x"}, author="recorder")


@pytest.fixture
def open_ground() -> Iterator[Path]:
    """A folder that everybody may enter: the tests may run as root, whom no permission stops."""
    folder = Path(tempfile.mkdtemp(prefix="oakum-"))
    folder.chmod(0o777)
    yield folder
    shutil.rmtree(folder, ignore_errors=True)


UNPRIVILEGED = """
    import os, sys
    from oakum.record import Logbook, RecordError
    if os.getuid() == 0:
        os.setgroups([]); os.setgid(65534); os.setuid(65534)
    try:
        if sys.argv[2] == "create":
            Logbook.create(sys.argv[1], "Tolmarren")
        else:
            log = Logbook.open(sys.argv[1])
            print(log.count(), log.finds("jar").lines[0].title)
            log.append("find.entered", None, {"title": "x"}, author="recorder")
    except RecordError as error:
        print(type(error).__name__, error)
"""


def test_a_folder_that_cannot_be_written_reads_and_says_so(open_ground: Path) -> None:
    with Logbook.create(open_ground, "Tolmarren") as log:
        log.append("find.entered", None, {"title": "jar"}, author="recorder")
        before = log.path.read_bytes()
    log.path.chmod(0o444)
    log.folder.chmod(0o555)
    done = run(UNPRIVILEGED, str(log.folder), "append")
    log.folder.chmod(0o755)
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    assert lines[0] == "4 jar" and lines[1].startswith("ReadOnlyError") and "nothing was changed" in lines[1]
    assert log.path.read_bytes() == before and not list(log.folder.glob("*-journal"))


def test_a_project_cannot_be_made_where_nothing_may_be_written(open_ground: Path) -> None:
    open_ground.chmod(0o555)
    done = run(UNPRIVILEGED, str(open_ground), "create")
    assert done.stdout.startswith("ReadOnlyError"), done.stdout + done.stderr
    assert list(open_ground.iterdir()) == []


def test_a_full_disk_keeps_everything_acknowledged_and_nothing_of_the_entry_refused(log: Logbook) -> None:
    with log._engine.connect() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar_one()
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages + 6}")
    kept: list[str] = []
    with pytest.raises(DiskFullError, match="Free some room"):
        for _ in range(1000):
            kept.append(log.append("find.entered", None, {"title": "x" * 3000}, author="recorder").id)
    with log._engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA max_page_count = 1073741823")
    assert kept and [entry.id for entry in log.entries()][6:] == kept and log.check().ok
    log.append("find.entered", None, {"title": "room again"}, author="recorder")


def test_a_file_size_limit_of_the_system_is_a_full_disk(log: Logbook) -> None:
    code = """
        import resource, sys
        from oakum.record import Logbook, RecordError
        log = Logbook.open(sys.argv[1])
        size = log.path.stat().st_size
        resource.setrlimit(resource.RLIMIT_FSIZE, (size + 30_000, size + 30_000))
        done = 0
        try:
            for done in range(1000):
                log.append("find.entered", None, {"title": "x" * 3000}, author="recorder")
        except RecordError as error:
            print(done, type(error).__name__, error)
    """
    done = run(code, str(log.folder))
    count, name, *_ = done.stdout.split(" ")
    assert name == "DiskFullError" and "full" in done.stdout, done.stdout + done.stderr
    assert log.count() == 6 + int(count) and log.check().ok


def test_a_full_disk_while_a_project_is_made_leaves_nothing(open_ground: Path) -> None:
    code = """
        import resource, sys
        from oakum.record import Logbook, RecordError
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))
        try:
            Logbook.create(sys.argv[1], "Tolmarren")
        except RecordError as error:
            print(type(error).__name__)
    """
    assert run(code, str(open_ground)).stdout == "DiskFullError\n"
    assert list(open_ground.iterdir()) == [] and os.access(open_ground, os.W_OK)
