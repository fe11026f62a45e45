"""Vessels and cradles in the logbook: whole or not at all, corrected over, their tables kept like every other file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.vessel_facts import charts_at, facts_of, not_known
from oakum.desk.lifts.vessels import (
    VesselUnknownError,
    enter_vessel,
    papers_of,
    strike_vessel,
    vessel_named,
    vessel_questions,
    vessels,
)
from oakum.ground.errors import OakumError
from oakum.lift.vessel import VesselFileError, example_vessel, parse_vessel
from oakum.record import FactError, Logbook, UnknownSubjectError, restore
from oakum.record.files.store import FileStoreError

TOML, TABLES = example_vessel()
TITLE = "Workboat Tolmarren Girl"
SHA = "a" * 64


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


@pytest.fixture
def boat(log: Logbook) -> str:
    return enter_vessel(log, TOML, TABLES, author="recorder").subject


def kept_files(log: Logbook) -> list[str]:
    return [p.name for p in log.files_folder.iterdir()] if log.files_folder.is_dir() else []


def test_a_vessel_is_entered_with_its_tables_and_read_again(log: Logbook, boat: str) -> None:
    (held,) = vessels(log)
    assert (held.id, held.title, set(held.files)) == (boat, TITLE, set(TABLES))
    papers = papers_of(log, TITLE.upper())
    assert papers.title == TITLE and len(papers.charts) == 2 and papers_of(log, boat) is papers
    assert log.check().ok and log.check_files().whole and log.check_files().unasked == ()


@pytest.mark.parametrize(
    ("toml", "tables", "error"),
    [
        (TOML.replace('"3.70 ± 0.05 m"', '"3.7"'), TABLES, VesselFileError),
        (TOML, {}, VesselFileError),
        (TOML, {**TABLES, "crane-sheet.csv": b"nothing"}, VesselFileError),
        (TOML, {**TABLES, "spare.csv": b"radius (m),load (t)\n1,2\n2,1\n"}, FieldErrors),
        ("title = ", {}, VesselFileError),
    ],
)
def test_nothing_is_stored_unless_all_of_it_reads(
    log: Logbook, toml: str, tables: dict[str, bytes], error: type[Exception]
) -> None:
    before = log.count()
    with pytest.raises(error):
        enter_vessel(log, toml, tables, author="recorder")
    assert log.count() == before and kept_files(log) == [] and vessels(log) == ()


def test_a_correction_stands_over_the_old_papers_and_keeps_the_tables_that_are_not_sent(
    log: Logbook, boat: str
) -> None:
    new = TOML.replace('floods_at = "22 deg"', 'floods_at = "19 deg"')
    with pytest.raises(FieldErrors, match="why the papers change"):
        enter_vessel(log, new, {}, author="recorder", over=boat)
    with pytest.raises(FieldErrors, match="already"):
        enter_vessel(log, TOML, {}, author="recorder", over=boat, reason="again")
    enter_vessel(log, new, {}, author="recorder", over=TITLE, reason="scupper measured")
    held = vessel_named(log, TITLE)
    assert held.id == boat and len(held.history) == 2 and set(held.files) == set(TABLES)
    assert papers_of(log, TITLE).vessel.floods_at_deg == pytest.approx(19.0)
    assert vessel_questions(log, boat) == () and log.check().ok


def test_a_second_vessel_of_the_same_title_is_refused(log: Logbook, boat: str) -> None:
    before = log.count()
    with pytest.raises(FieldErrors, match="there is a vessel"):
        enter_vessel(log, TOML.replace(TITLE, TITLE.lower()), TABLES, author="recorder")
    assert log.count() == before


def test_a_name_nobody_entered_lists_those_there_are(log: Logbook) -> None:
    with pytest.raises(VesselUnknownError, match="Enter its papers"):
        papers_of(log, "Gannet")
    enter_vessel(log, 'title = "Puffin"', {}, author="recorder")
    with pytest.raises(VesselUnknownError, match='There are "Puffin"'):
        papers_of(log, "Gannet")


def test_two_copies_that_correct_it_differently_leave_an_open_question_with_its_title(
    log: Logbook, boat: str, tmp_path: Path
) -> None:
    with restore(log.backup(tmp_path / "copy"), tmp_path / "laboratory") as other:
        for book, heel in ((log, "6 deg"), (other, "5 deg")):
            text = TOML.replace('heel_limit = "7 deg"', f'heel_limit = "{heel}"')
            enter_vessel(book, text, {}, author="director", over=boat, reason="asked the master")
        log.receive(other.entries())
    (question,) = vessel_questions(log, TITLE)
    assert question.key == "field:toml" and question.number == TITLE
    assert log.views() == (log.rebuild(), log.views())[1]
    book = papers_of(log, boat).vessel.book
    assert book is not None and book.heel_limit_deg == 5.0  # the newest, for showing
    text = TOML.replace('heel_limit = "7 deg"', 'heel_limit = "5 deg"')
    with pytest.raises(FieldErrors, match="why the papers change"):
        enter_vessel(log, text, {}, author="director", over=boat)
    enter_vessel(log, text, {}, author="director", over=boat, reason="the master's letter")
    assert vessel_questions(log, TITLE) == ()


def test_text_of_one_entry_and_tables_of_another_are_not_put_together(
    log: Logbook, boat: str, tmp_path: Path
) -> None:
    person = log.add_person("Somebody Invented", "director").id
    sheet = TABLES["crane-sheet.csv"].replace(b"3.9 t", b"3.8 t")
    with restore(log.backup(tmp_path / "copy"), tmp_path / "laboratory") as other:
        enter_vessel(log, TOML + "\n", {}, author="director", over=boat, reason="tidied")
        more = {"crane-sheet.csv": sheet}
        enter_vessel(
            other, TOML.replace("page 14", "page 15"), more, author="director", over=boat, reason="new sheet"
        )
        log.receive(other.entries())
    by_key = {question.key: question for question in vessel_questions(log, boat)}
    assert set(by_key) == {"field:toml", "field:files"}
    for key, index in (("field:toml", 0), ("field:files", 1)):
        question = by_key[key]
        fields = {key.partition(":")[2]: question.values[index]}
        body = {"fields": fields, "reason": "chosen"}
        log.append("settled", boat, body, author=person, over=question.entries)
    with pytest.raises(OakumError, match="two different entries"):
        papers_of(log, boat)


def test_a_backup_and_its_restored_copy_have_the_tables(log: Logbook, boat: str, tmp_path: Path) -> None:
    with restore(log.backup(tmp_path / "copy"), tmp_path / "laboratory") as other:
        assert papers_of(other, TITLE).charts == papers_of(log, TITLE).charts
        assert other.check().ok and other.check_files().whole


def test_a_table_that_was_spoilt_on_the_disk_is_found_and_not_read(log: Logbook, boat: str) -> None:
    digest = vessel_named(log, boat).files["beam-seas.csv"]
    (log.files_folder / digest).write_bytes(b"other")
    assert log.check_files().changed == (digest,)
    with pytest.raises(FileStoreError, match="no longer fits"):
        papers_of(log, boat)
    (log.files_folder / digest).unlink()
    assert log.check_files().missing == (digest,)


def test_a_vessel_struck_out_is_gone_from_the_list_and_its_history_stays(log: Logbook, boat: str) -> None:
    with pytest.raises(FieldErrors, match="why she is struck out"):
        strike_vessel(log, boat, " ", author="director")
    strike_vessel(log, TITLE, "entered twice", author="director")
    assert vessels(log) == () and len(log.entries(boat)) == 2
    assert log.check_files().whole  # a struck entry still links its tables
    enter_vessel(log, TOML, TABLES, author="recorder")
    assert vessel_named(log, TITLE).id != boat


@pytest.mark.parametrize(
    "body",
    [
        {"title": "v", "toml": "x"},
        {"title": "v", "toml": "x", "files": [{"name": "a.csv", "sha256": "short"}]},
        {"title": "v", "toml": "x", "files": [{"name": "a.csv"}]},
        {"title": "v", "toml": "x", "files": [{"name": "a.csv", "sha256": SHA}] * 2},
        {"title": "v", "toml": "x", "files": "a.csv"},
        {"toml": "x", "files": []},
    ],
)
def test_an_entry_about_a_vessel_needs_title_text_and_its_files(log: Logbook, body: dict[str, Any]) -> None:
    with pytest.raises(FactError):
        log.append("vessel.described", None, body, author="recorder")


def test_a_find_is_no_vessel_and_a_vessel_has_no_cradle(log: Logbook, boat: str) -> None:
    find = log.append("find.entered", None, {"title": "capstan"}, author="recorder").subject
    with pytest.raises(FactError, match="something else's"):
        log.append("vessel.described", find, {"title": "v", "toml": "x", "files": []}, author="recorder")
    with pytest.raises(UnknownSubjectError):
        log.append("cradle.described", boat, {"cradle": 'title = "c"'}, author="recorder")


def test_a_cradle_is_kept_with_its_find_corrected_over_and_not_searched(log: Logbook) -> None:
    find = log.append("find.entered", None, {"title": "capstan"}, author="recorder").subject
    first = log.append("cradle.described", find, {"cradle": 'title = "larch frame"'}, author="recorder")
    with pytest.raises(FactError, match="already says"):
        log.append("cradle.described", find, {"cradle": "other"}, author="recorder")
    body = {"cradle": 'title = "oak frame"', "reason": "larch not to be had"}
    log.append("cradle.described", find, body, author="recorder", over=[first.id])
    assert log.find(find).fields["cradle"] == 'title = "oak frame"'
    assert log.finds("frame").lines == () and log.check().ok


def test_what_is_not_known_of_a_vessel_is_told_before_any_lift() -> None:
    said = " ".join(not_known(parse_vessel('title = "v"')))
    for words in (
        "KG and KM",
        "stability book",
        "free surface",
        "aboard",
        "no load chart",
        "boom foot",
        "no motions",
        "wind",
    ):
        assert words in said, words
    papers = parse_vessel(TOML, TABLES)
    assert not_known(papers) == ()
    facts = {fact.label: fact.words for fact in facts_of(papers)}
    assert facts["Beam"] == "6.502 m" and "9 in 10 within" in (facts["Displacement"] or "")


def test_charts_are_read_at_a_radius_as_typed_and_not_outside() -> None:
    papers = parse_vessel(TOML, TABLES)
    harbour, sea = charts_at(papers, "15 ft")
    assert (harbour.stepped_kg, sea.stepped_kg) == (pytest.approx(2_243.4, abs=0.1), 1_700.0)
    assert sea.load_kg == pytest.approx(2_100 - 400 * (4.572 - 4.0) / 0.8768)
    assert all("outside the chart" in one.words for one in charts_at(papers, "12 m"))
    with pytest.raises(ValueError, match="has no unit"):
        charts_at(papers, "5")
