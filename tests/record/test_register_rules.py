"""Rules of the register import, one small sheet each: columns, units, dates, people, refusals."""

from __future__ import annotations

import datetime as dt
import io
from pathlib import Path

import openpyxl
import pytest

from oakum.record.club_register.propose import RegisterError, propose
from oakum.record.sheets.sheet import SheetError, read_sheet


def csv(text):
    return read_sheet(text.encode(), "register.csv")


def test_a_guess_is_overruled_by_letter_or_name():
    sheet = csv("No;Label;Weight (g);Photo number\n1;bell;900;P7\n2;shot;50;P8\n")
    rows = propose(sheet, mapping={"Label": "title", "C": "ignore", "Photo number": "extra"}).rows
    assert rows[0].fields == {"title": "bell", "extra": [["Photo number", "P7"]]}
    assert rows[0].status == "ready"


@pytest.mark.parametrize(
    ("mapping", "told"),
    [
        ({"A": "nubmer"}, "no field called 'nubmer' for column A. Did you mean number"),
        ({"Z": "title"}, "no column 'Z'. Give its letter, A to B"),
        ({"A": "title", "B": "title"}, "Columns A and B are both meant for title"),
    ],
)
def test_a_wrong_mapping_is_told(mapping, told):
    with pytest.raises(SheetError, match=told):
        propose(csv("No;Name\n1;bell\n"), mapping=mapping)


def test_a_sheet_without_names_of_columns_is_refused_with_what_was_expected():
    with pytest.raises(RegisterError, match=r"Expected names such as Find no, Name, Material"):
        propose(csv("1;bell\n2;shot\n"))
    with pytest.raises(RegisterError, match="none of them says number, name or description"):
        propose(csv("Date;Weight (g)\n1998;5\n"))


def test_a_second_column_for_one_field_is_left_out_and_said():
    proposal = propose(csv("No;Name;Object\n1;bell;instrument\n"))
    assert proposal.rows[0].fields == {"title": "bell"}
    assert "another column is already read as title" in proposal.ignored_columns[0].note


def test_two_columns_of_numbers_and_of_places_are_both_kept():
    find = propose(csv("Find no;Old no;Name;Trench;Square\nF.1;98/7;bell;B;C4\n")).rows[0]
    assert find.numbers == ("F.1", "98/7")
    assert find.fields["place"] == "B; Square: C4"


def test_a_bare_figure_without_any_unit_is_to_be_looked_at():
    find = propose(csv("No;Name;Length\n1;bell;40\n")).rows[0]
    assert find.status == "look"
    assert "cell C2 (Length)" in find.messages[0]
    assert find.fields["note"] == "Length as written: 40"


def test_a_unit_with_two_meanings_in_the_name_of_a_column_is_told_once():
    proposal = propose(csv("No;Name;Weight (tons)\n1;gun;1\n"))
    assert any(
        "Column C (Weight (tons))" in note and "more than one meaning" in note for note in proposal.notes
    )
    assert proposal.rows[0].status == "look"


def test_a_dry_weight_stays_known_as_one_and_a_weight_under_water_is_no_mass():
    find = propose(csv("No;Name;Dry weight (g)\n1;shoe;90\n")).rows[0]
    assert find.fields["extra"] == [["weighed as", "Dry weight (g)"]]
    proposal = propose(csv("No;Name;Weight in water (kg)\n1;gun;900\n"))
    assert [column.header for column in proposal.ignored_columns] == ["Weight in water (kg)"]


def test_dates_that_could_be_two_days_are_told_by_their_column_or_to_be_looked_at():
    told = propose(csv("No;Name;Date\n1;a;3/6/1998\n2;b;25/6/1998\n"))
    assert [find.fields["found_on"] for find in told.rows] == ["1998-06-03", "1998-06-25"]
    open_ = propose(csv("No;Name;Date\n1;a;3/6/1998\n2;b;4/6/1998\n"))
    assert {find.status for find in open_.rows} == {"look"}
    assert "does not tell whether the day or the month" in open_.rows[0].messages[0]


def test_a_number_turned_into_a_date_by_the_spreadsheet_is_noticed():
    book = openpyxl.Workbook()
    book.active.append(["No", "Name"])
    book.active.append([dt.date(1998, 3, 1), "bell"])
    out = io.BytesIO()
    book.save(out)
    find = propose(read_sheet(out.getvalue(), "a.xlsx")).rows[0]
    assert find.status == "look"
    assert "cell A2 holds a date (1998-03-01) where a number is expected" in find.messages[0]


def test_a_row_of_names_repeated_for_printing_is_left_out():
    proposal = propose(csv("No;Name\n1;bell\nNo;Name\n2;shot\n"))
    assert (proposal.counts.finds, proposal.counts.left_out) == (2, 1)


def test_a_text_too_long_for_the_logbook_is_refused_not_cut():
    find = propose(csv(f"No;Name;Remarks\n1;bell;{'x' * 4001}\n")).rows[0]
    assert find.status == "refused"
    assert "up to 4,000 are taken" in find.messages[0]


def test_a_role_in_the_finder_column_is_kept_as_role():
    find = propose(csv("No;Name;Found by\n1;bell;Conservator\n")).rows[0]
    assert (find.fields["found_by"], find.finder) == ("conservator", None)
    find = propose(csv("No;Name;Found by\n1;bell;J. Invented\n")).rows[0]
    assert ("found_by" in find.fields, find.finder) == (False, "J. Invented")


def test_the_example_of_the_manual_says_what_the_manual_says():
    example = Path(__file__).resolve().parents[2] / "docs" / "examples" / "register.csv"
    proposal = propose(read_sheet(example.read_bytes(), "register.csv"))
    assert proposal.words() == (
        "register.csv: 6 finds: 2 ready, 4 to be looked at, 0 refused; 1 blank row and 0 headings left out."
    )
    rows = {find.row: find for find in proposal.rows}
    assert rows[3].fields["length"]["text"] == "31 cm"
    assert "one find with a count of 4" in rows[6].messages[0]
    assert "about a foot" in rows[4].fields["note"]
