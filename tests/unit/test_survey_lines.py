"""A notebook page typed line by line, and four typed fields: what is understood, and what is said where it is not."""

from __future__ import annotations

import pytest

from oakum.desk.seabed.lines import read_line, read_lines
from oakum.desk.seabed.typed import TYPED_FIELDS, Slate, proposed, typed_of

SLATE = Slate(day="2026-06-12", zone="+01:00", seen_by="diver", dive="7")
KNOWN = {"A1", "B2", "bow post", "A-1"}


@pytest.mark.parametrize(
    ("line", "what", "marks", "value"),
    [
        ("A1 B2 12.34", "tape", ("A1", "B2"), "12.34"),
        ("12,34 a1-b2", "tape", ("a1", "b2"), "12.34"),
        ("B2 d 13.2", "depth", ("B2",), "13.2"),
        ("depth B2 13.2", "depth", ("B2",), "13.2"),
        ("A1 to B2 = 40 ft 6 in", "tape", ("A1", "B2"), "12.3444"),
        ("A1->B2 41.5 ft", "tape", ("A1", "B2"), "12.6492"),
        ("A1, B2, 12.34", "tape", ("A1", "B2"), "12.34"),
        ("A1 - B2: 6 1/2 m", "tape", ("A1", "B2"), "6.5"),
        ("A-1-B-2 3.2", "tape", ("A-1", "B-2"), "3.2"),
        ("1 2 3.45", "tape", ("1", "2"), "3.45"),
        ("A 1 B 2 4,5", "tape", ("A 1", "B 2"), "4.5"),
        ("a 1 C 4.3", "tape", ("a 1", "C"), "4.3"),
        ("bow post A1 3.2", "tape", ("bow post", "A1"), "3.2"),
        ("A1 B2 level -0.12", "level", ("A1", "B2"), "-0.12"),
        ("A1 B2 bearing 123", "bearing", ("A1", "B2"), "123"),
    ],
)
def test_a_line_is_read_as_it_stands(line: str, what: str, marks: tuple[str, ...], value: str) -> None:
    one = read_line(line, SLATE, known=KNOWN)
    assert (one.status, one.what, one.marks, one.body["value"]) == ("ready", what, marks, value)
    assert one.body["text"] == line and one.body["dive"] == "7"


def test_time_instrument_spread_and_remark_are_taken_from_the_line() -> None:
    depth, tape, spread = read_lines(
        "B2 d 13.2 10:42\n\n# page 3\nT2: A1 B2 4.5 # current strong\nA1 B2 12.34 ± 0.02 (sag?)",
        SLATE,
        known=KNOWN,
        instruments={"T2"},
    )
    assert depth.seen == {
        "at": "2026-06-12T10:42", "zone": "+01:00", "precision": "minute", "by": "diver", "from": "slate"
    }  # fmt: skip
    assert (tape.row, tape.body["instrument"], tape.body["note"]) == (4, "T2", "current strong")
    assert (spread.body["sd"], spread.body["note"]) == ("0.02", "sag?")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("hello", "No number was found"),
        ("A1 12.3", "does not show two marks"),
        ("A1 A1 4.2", "A1 twice: a tape runs between different marks"),
        ("A1 B2 0", "A length of 0 m: a tape reads more than 0."),
        ("A1 B2 1234", "no tape is that long"),
        ("A1 B2 12,345", "could be 12.345 or 12345"),
        ("B2 d -3", "lies above the surface"),
        ("B2 d 430", "Is a decimal point missing"),
        ("A1 B2 bearing 400", "a compass shows 0 to 360"),
    ],
)
def test_what_is_not_understood_is_said_in_a_sentence_and_nothing_is_kept(line: str, said: str) -> None:
    one = read_line(line, SLATE, known=KNOWN)
    assert one.status == "refused" and one.body == {}
    assert said in one.messages[0]


@pytest.mark.parametrize(
    ("what", "typed", "body"),
    [
        ("tape", {"from": "A1", "to": "B2", "value": "12.34", "with": "T1"}, {"value": "12.34", "instrument": "T1"}),
        ("tape", {"from": "A1", "to": "B2", "value": "12.34", "with": "± 3 cm"}, {"sd": "0.03"}),
        ("depth", {"mark": "B2", "value": "43 ft", "time": "1042"}, {"value": "13.1064"}),
        ("level", {"from": "A1", "to": "B2", "value": "-12 cm", "with": "0.01"}, {"value": "-0.12", "sd": "0.01"}),
        ("bearing", {"from": "A1", "to": "B2", "value": "87.5"}, {"value": "87.5", "unit": "deg"}),
        ("offset", {"mark": "P", "line": "A1-A4", "along": "3.2", "left": "-1.1"}, {"along": "3.2", "left": "-1.1"}),
        ("tie", {"mark": "P", "line": "A1 to A4", "at": "2", "value": "4.05"}, {"at": "2", "value": "4.05"}),
        ("fix", {"mark": "P", "x": "-3.1", "y": "2", "with": "2 m"}, {"x": "-3.1", "y": "2", "sd": "2"}),
    ],
)
def test_four_fields_make_a_reading_and_a_kept_reading_fills_them_again(
    what: str, typed: dict[str, str], body: dict[str, str]
) -> None:
    assert len(TYPED_FIELDS[what]) == 4
    one = proposed(what, typed, SLATE)
    assert one.status == "ready", one.messages
    assert body.items() <= dict(one.body).items()
    again = proposed(what, typed_of(what, one.marks, one.body), SLATE)
    for key in ("value", "along", "left", "at", "x", "y", "marks", "sd"):
        assert again.body.get(key) == one.body.get(key), key


def test_each_wrong_field_is_named() -> None:
    one = proposed("tape", {"from": "", "to": "B2", "value": "about 3", "with": "± none"}, SLATE)
    assert {fault.field for fault in one.faults} == {"from", "value", "with"}


def test_a_time_without_a_day_is_said_to_be_lost() -> None:
    one = proposed("depth", {"mark": "A", "value": "12", "time": "10:42"}, Slate())
    assert one.status == "ready" and "only with a day and a reader" in one.messages[0]
