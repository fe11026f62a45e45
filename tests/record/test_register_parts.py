"""The parts of a register: dates, numbers as written, names of columns."""

from __future__ import annotations

import pytest

from oakum.record.club_register.columns import DIMENSION, FIELDS, WORDS
from oakum.record.club_register.dates import DateError, day_order, read_date
from oakum.record.club_register.numbers import habits, key, loose_key, several, shape_of, year_like
from oakum.record.sheets.columns import unit_of


@pytest.mark.parametrize(
    ("text", "order", "iso"),
    [
        ("1998-06-03", None, "1998-06-03"),
        ("1998-06-03T14:05", None, "1998-06-03"),
        ("1998/6/3", None, "1998-06-03"),
        ("1998-06", None, "1998-06"),
        ("1998", None, "1998"),
        ("3.6.1998", None, "1998-06-03"),
        ("3.6.98", "month first", "1998-06-03"),
        ("25/6/98", None, "1998-06-25"),
        ("6/25/98", None, "1998-06-25"),
        ("3/6/98", "day first", "1998-06-03"),
        ("3/6/98", "month first", "1998-03-06"),
        ("5/5/2004", None, "2004-05-05"),
        ("3 June 1998", None, "1998-06-03"),
        ("3rd Jun. 1998", None, "1998-06-03"),
        ("3-Jun-98", None, "1998-06-03"),
        ("June 3, 1998", None, "1998-06-03"),
        ("June 3rd 1998", None, "1998-06-03"),
        ("June 1998", None, "1998-06"),
        ("Sept. 49", None, "2049-09"),
        ("29/2/2000", None, "2000-02-29"),
    ],
)
def test_a_date_is_read_as_precisely_as_it_was_written(text, order, iso):
    assert read_date(text, order).iso == iso


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("3/6/98", "could be two dates"),
        ("31/6/98", "no day of the calendar"),
        ("29/2/1999", "no day of the calendar"),
        ("13/13/98", "no day of the calendar"),
        ("1998-13", "no day of the calendar"),
        ("summer", "is no date"),
        ("3 Juno 1998", "is no date"),
        ("", "is no date"),
        ("3/6", "is no date"),
    ],
)
def test_what_is_no_date_or_two_is_refused(text, told):
    with pytest.raises(DateError, match=told):
        read_date(text)


def test_a_column_tells_its_order_only_if_its_dates_agree():
    assert day_order(["3/6/98", "25/6/98"]) == "day first"
    assert day_order(["3/6/98", "6/25/98"]) == "month first"
    assert day_order(["25/6/98", "6/25/98"]) is None
    assert day_order(["3/6/98", "25.6.98", "x"]) is None


@pytest.mark.parametrize(
    ("number", "shape"),
    [
        ("TOL/98/014", "TOL/#/#"),
        ("14", "#"),
        ("014a", "#"),
        ("14 b", "#"),
        ("F.14", "F.#"),
        ("98-014", "#-#"),
    ],
)
def test_the_habit_of_a_number(number, shape):
    assert shape_of(number) == shape


def test_habits_are_counted_the_commonest_first():
    found = habits(["F.1", "14", "015a", "F.2", "F.3", ""])
    assert [(habit.shape, habit.example, habit.rows) for habit in found] == [
        ("F.#", "F.1", 3),
        ("#", "14", 2),
    ]


def test_same_number_by_case_and_spaces_and_alike_by_zeros():
    assert key("f. 14") == key("F.14") != key("F.014")
    assert loose_key("F.014") == loose_key("f.14")
    assert loose_key("TOL/98/010") != loose_key("TOL/98/100")
    assert loose_key("0") == "0"


@pytest.mark.parametrize(
    ("text", "members"),
    [
        ("101-104", ("101", "102", "103", "104")),
        ("101\u2013104", ("101", "102", "103", "104")),
        ("101 to 103", ("101", "102", "103")),
        ("101-4", ("101", "102", "103", "104")),
        ("F.14-16", ("F.14", "F.15", "F.16")),
        ("TOL/98/009-011", ("TOL/98/009", "TOL/98/010", "TOL/98/011")),
        ("98-101", ("98", "99", "100", "101")),
        ("12, 13", ("12", "13")),
        ("12 & 14", ("12", "14")),
        ("F.1 and F.3", ("F.1", "F.3")),
    ],
)
def test_several_numbers_in_one_cell_are_told(text, members):
    assert several(text).members == members
    assert several(text).count == len(members)


@pytest.mark.parametrize(
    "text", ["14", "014a", "F.14", "TOL/98/014", "98-014", "104-101", "7-7", "1-9999", "A-7", "98-1-4"]
)
def test_one_number_is_one_number(text):
    assert several(text) is None


def test_a_first_part_that_comes_back_is_a_year_and_no_range():
    numbers = ["98-101", "98-102", "98-140", "7-9"]
    assert year_like(numbers) == {"98"}
    assert several("98-101", year_like(numbers)) is None
    assert several("7-9", year_like(numbers)).count == 3


@pytest.mark.parametrize(
    ("name", "field"),
    [
        ("Find No.", "number"),
        ("FIND NUMBER", "number"),
        ("№", "number"),
        ("Object Name", "title"),
        ("Qty", "count"),
        ("No. of pieces", "count"),
        ("Max. length (mm)", "length"),
        ("Length mm", "length"),
        ("L [cm]", "length"),
        ("Ø", None),
        ("Diam. in mm", "diameter"),
        ("Wt. g", "mass"),
        ("Weight/kg", "mass"),
        ("Weight in water (kg)", None),
        ("Photo number", None),
        ("Date of treatment", None),
        ("Date found", "found_on"),
        ("Depth of water (m)", "depth"),
        ("Depth", None),
        ("Maker's mark", "marks"),
        ("Remarks", "note"),
    ],
)
def test_only_whole_names_of_columns_are_recognised(name, field):
    assert WORDS.guess(name) == field


@pytest.mark.parametrize(
    ("name", "dimension", "unit"),
    [
        ("Length (mm)", "length", "mm"),
        ("L [cm]", "length", "cm"),
        ("Weight/kg", "mass", "kg"),
        ("Wt. g", "mass", "g"),
        ("Diam. in mm", "length", "mm"),
        ("Length", "length", None),
        ("Weight (mm)", "mass", None),
        ("Number (old)", None, None),
    ],
)
def test_the_unit_in_the_name_of_a_column(name, dimension, unit):
    assert unit_of(name, dimension) == (unit, None)


def test_no_name_of_a_column_means_two_fields():
    names = [name.strip() for text in FIELDS.values() for name in text.split(",")]
    assert sorted({name for name in names if names.count(name) > 1}) == []
    assert set(DIMENSION) <= set(FIELDS)
    assert all(WORDS.guess(name) == field for field, text in FIELDS.items() for name in text.split(", "))
