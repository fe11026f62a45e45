"""Bodies of finds: kept over each other with a reason, meshes taken from the find's files, and what they still lack."""

from __future__ import annotations

from pathlib import Path

import pytest

from oakum.desk.finds.attach import attach_file
from oakum.desk.finds.measures import reading_of
from oakum.desk.finds.register_import import NothingAcceptedError, accept_rows, propose
from oakum.desk.lifts.bodies import BodyError, finds_with_body, keep_body, mesh_files
from oakum.desk.today.due import due_today
from oakum.lift import BodyFileError, starting_bodies
from oakum.record import Find, Logbook

MESH = """
title = "lump"
water = "sea"

[[part]]
name = "lump"
shape = "mesh"
file = "lump.stl"
unit = "mm"
material = "cast iron"
"""
REGISTER = b"Find no;Object\nX/1;sole\nX/2;shot\n"


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


def gun(log: Logbook) -> Find:
    entry = log.append("find.entered", None, {"title": "gun"}, author="recorder")
    return log.find(entry.subject)


def test_a_body_is_kept_once_and_a_change_needs_a_reason(log: Logbook) -> None:
    toml, find = starting_bodies()["gun"].toml, gun(log)
    first = keep_body(log, find, toml, author="director")
    with pytest.raises(BodyError, match="holds already"):
        keep_body(log, log.find(find.id), toml, author="director")
    with pytest.raises(BodyError, match="why the body changes"):
        keep_body(log, log.find(find.id), toml + "\n# shorter\n", author="director")
    second = keep_body(log, log.find(find.id), toml + "\n# shorter\n", author="director", reason="taped again")
    assert second.over == (first.id,)
    assert [one.entry.id for one in finds_with_body(log)] == [second.id]


def test_a_body_that_cannot_be_weighed_is_not_kept(log: Logbook) -> None:
    find, before = gun(log), log.count()
    with pytest.raises(BodyFileError, match="line 3"):
        keep_body(log, find, 'title = "x"\nwater = "sea"\ncolour = "red"\n', author="director")
    assert log.count() == before


def test_a_mesh_is_taken_from_the_files_of_the_find(log: Logbook) -> None:
    find = gun(log)
    assert mesh_files(log, find, MESH) == {}
    attach_file(log, find.id, "lump.stl", b"solid", author="recorder")
    attach_file(log, find.id, "other.stl", b"other", author="recorder")
    assert mesh_files(log, log.find(find.id), MESH) == {"lump.stl": b"solid"}


def test_due_lists_unfinished_bodies_and_readings_without_a_spread_until_struck_out(log: Logbook) -> None:
    assert due_today(log).is_new
    find = gun(log)
    keep_body(log, find, starting_bodies()["gun"].toml, author="director")
    bare = log.append(
        "reading", find.id, reading_of("3 kg", "mass", quantity="mass", state="in air"), author="recorder"
    )
    sure = reading_of("3.1 \u00b1 0.2 kg", "mass", quantity="mass", state="in water")
    log.append("reading", find.id, sure, author="recorder")
    due = due_today(log)
    assert not due.is_new and due.last[0].body["text"] == "3.1 \u00b1 0.2 kg"
    assert [one.body.find.id for one in due.unfinished] == [find.id] and due.unfinished[0].lacks
    assert [reading.entry.id for reading in due.no_spread] == [bare.id]
    log.append("struck", find.id, {"reason": "wrong find"}, author="recorder", over=[bare.id])
    assert due_today(log).no_spread == ()


def test_only_accepted_rows_of_a_register_enter_and_the_file_is_kept(log: Logbook) -> None:
    proposal = propose(log, REGISTER, "club.csv")
    with pytest.raises(NothingAcceptedError):
        accept_rows(log, proposal, REGISTER, "club.csv", author="recorder", rows=[])
    steps: list[tuple[int, int]] = []
    accept_rows(
        log, proposal, REGISTER, "club.csv", author="recorder", rows=[3], report=lambda *step: steps.append(step)
    )
    assert [line.title for line in log.finds().lines] == ["shot"] and steps == [(0, 1), (1, 1)]
    assert log.entries(kind="import.accepted")[0].body["rows"] == 1
    again = propose(log, REGISTER, "club.csv")
    assert [row.status for row in again.rows] == ["ready", "refused"]
