"""The club's spreadsheet: two rows of names, feet and metres, blank cells, remarks, one mark spelt three ways."""

from __future__ import annotations

import io
from pathlib import Path

import openpyxl
import pytest

from oakum.desk.seabed.bringing import accept, bring_sheet, join
from oakum.desk.seabed.entering import NothingAcceptedError
from oakum.desk.seabed.importing import propose_sheet
from oakum.desk.seabed.proposals import SurveyProposal
from oakum.desk.seabed.survey import survey_of
from oakum.desk.seabed.typed import Slate
from oakum.record import Logbook
from oakum.record.files.store import FileStore
from oakum.record.sheets.sheet import SheetChoice, SheetError

CLUB = (Path(__file__).resolve().parents[2] / "docs/examples/club-tapes.csv").read_bytes()
SLATE = Slate(zone="Z", seen_from="sheet")


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


def read(log: Logbook, text: str, unit: str = "") -> SurveyProposal:
    return propose_sheet(log, text.encode(), "club.csv", slate=SLATE, unit=unit)


def test_the_clubs_sheet_is_read_with_a_message_for_every_row_that_needs_one(log: Logbook) -> None:
    proposal = bring_sheet(log, CLUB, "club-tapes.csv", SLATE).proposal
    assert dict(proposal.columns)["C: Distance (m)"] == "length, in m"
    assert dict(proposal.columns)["D: Distance (ft)"] == "length, in ft"
    rows = {row.row: row for row in proposal.rows}
    assert (rows[7].body["text"], rows[7].body["value"]) == ("13.57 ft", "4.136136")
    assert (rows[25].body["text"], rows[25].body["value"]) == ("14' 8\"", "4.4704")
    assert rows[5].body["note"] == "tape bowed in the current" and "but A1 is" in rows[5].messages[0]
    assert rows[19].status == "refused" and "A2 twice" in rows[19].messages[0]
    assert "Read as feet (6.37 m) it would fit" in rows[17].messages[0]
    assert rows[29].what == "depth" and "9.7 m apart" in rows[29].messages[0]
    assert "row 23: A4–Stem has no reading" in proposal.left_out
    assert rows[4].seen is not None and rows[4].seen["at"] == "2026-06-12" and rows[4].seen["by"] == "diver"
    assert [set(group) for group in proposal.two_names] == [{"A1", "a1", "A 1"}, {"B2", "b2"}]
    assert log.count() == 3


def test_with_the_spellings_joined_only_the_misread_rows_are_left_to_look_at(log: Logbook) -> None:
    brought = join(log, bring_sheet(log, CLUB, "club-tapes.csv", SLATE), {"a1": "A1", "A 1": "A1", "b2": "B2"})
    assert [row.row for row in brought.proposal.of_status("look")] == [12, 17, 29]
    entries = accept(log, brought, author="recorder", sure=True)
    assert len(entries) == 27 and {e.kind for e in entries} == {"survey.read"}
    assert {mark.name: set(mark.also) for mark in survey_of(log).marks} == {"A1": {"a1", "A 1"}, "B2": {"b2"}}
    (kept,) = log.entries(kind="import.accepted")
    assert FileStore(log.files_folder).get(kept.body["sha256"]) == CLUB
    again = bring_sheet(log, CLUB, "club-tapes.csv", SLATE).proposal
    assert again.count("ready") == 0 and "is in the logbook already" in " ".join(again.rows[0].messages)


def test_only_chosen_rows_enter_and_a_refused_one_stops_all(log: Logbook) -> None:
    brought = bring_sheet(log, CLUB, "club-tapes.csv", SLATE)
    before = log.count()
    with pytest.raises(NothingAcceptedError, match="Row 19 cannot be entered"):
        accept(log, brought, author="recorder", chosen=["4", "19"])
    with pytest.raises(NothingAcceptedError, match="No row was accepted"):
        accept(log, brought, author="recorder", chosen=[])
    assert log.count() == before
    assert len(accept(log, brought, author="recorder", chosen=["4", "6"])) == 2


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("From,To,Distance\nA,B,12.3", "has no unit"),
        ("From,To,Distance (m)\nA,,12.3", "No mark"),
        ("From,To,Distance (m),Distance (ft)\nA,B,12.30,45", "which one is right?"),
        ("From,To,Distance (m)\nA,B,twelve", "twelve"),
        ("From,To,Distance (m)\nA,B,=A1*2", "holds a formula"),
        ("From,To,Distance,Unit\nA,B,12.3,ell", "is no unit of length"),
        ("From,To,Distance (m),Depth (m)\nA,B,,12.3", "of which is it?"),
        ("Mark,Depth (m)\nA,-3", "lies above the surface"),
    ],
)
def test_a_row_that_cannot_be_read_is_refused_in_a_sentence(log: Logbook, text: str, said: str) -> None:
    (row,) = read(log, text).rows
    assert row.status == "refused" and said in row.messages[0]


def test_bare_lengths_take_the_unit_that_was_said_and_two_that_agree_are_one(log: Logbook) -> None:
    (feet,) = read(log, "From,To,Distance\nA,B,10", unit="ft").rows
    assert (feet.body["value"], feet.body["text"]) == ("3.048", "10 ft")
    (both,) = read(log, "From,To,Distance (m),Distance (ft)\nA,B,3.05,10").rows
    assert both.status == "ready" and both.body["value"] == "3.05"
    tape, depth = read(log, "From,To,Mark,Distance (m),Depth (m)\nA,B,C,3.05,12").rows
    assert (tape.key, depth.key, depth.marks) == ("2a", "2b", ("C",))


def test_tape_names_spreads_times_and_divers_come_from_their_columns(log: Logbook) -> None:
    person = log.add_person("Robin Vane", "diver").id
    text = (
        "From,To,Distance (m),Tape,SD (cm),Date,Time,Diver,Dive\n"
        "A,B,3.05,T1,2,2026-06-12,10:42,Robin Vane,7\nA,C,4,T1,,2026-06-12,noon,Sam,7"
    )
    first, second = read(log, text).rows
    assert first.seen == {
        "at": "2026-06-12T10:42", "zone": "Z", "precision": "minute", "by": person, "from": "sheet"
    }  # fmt: skip
    assert (first.body["instrument"], first.body["sd"], first.body["dive"]) == ("T1", "0.02", "7")
    assert second.seen is not None and second.seen["by"] == "diver"
    assert 'The time "noon" is left out' in second.messages[0]


def test_a_sheet_without_names_and_a_workbook_with_two_sheets_say_what_to_do(log: Logbook) -> None:
    with pytest.raises(SheetError, match="no row of column names"):
        read(log, "1,2,3\n4,5,6")
    with pytest.raises(SheetError, match="no column was recognised as a length"):
        read(log, "From,To,Date,Diver\nA,B,2026-06-12,x")
    book = openpyxl.Workbook()
    book.active.title = "June"
    book.active.append(["From", "To", "Distance (m)"])
    book.active.append(["A", "B", 3.25])
    other = book.create_sheet("July")
    other.append(["From", "To", "Distance (m)"])
    other.append(["A", "C", 4.5])
    data = io.BytesIO()
    book.save(data)
    with pytest.raises(SheetChoice):
        propose_sheet(log, data.getvalue(), "club.xlsx", slate=SLATE)
    (row,) = propose_sheet(log, data.getvalue(), "club.xlsx", slate=SLATE, sheet="July").rows
    assert (row.marks, row.body["value"]) == (("A", "C"), "4.5")


def test_ten_thousand_rows_are_read_and_entered(log: Logbook) -> None:
    lines = [f"M{i % 400},N{(7 * i) % 393},{3 + (i % 97) / 10:.2f}" for i in range(10_000)]
    proposal = read(log, "From,To,Distance (m)\n" + "\n".join(dict.fromkeys(lines)))
    assert len(proposal.rows) == len(set(lines)) and proposal.count("refused") == 0
