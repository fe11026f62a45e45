"""The dig in the logbook: entered whole or not at all, corrected over, read back as volumes and open questions."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.seabed.dig import dig_of
from oakum.desk.seabed.dig_drawn import beds_of, contours_of, section_of, zero_of
from oakum.desk.seabed.dig_entering import enter_hours, enter_levels, enter_square
from oakum.desk.seabed.dig_facts import dig_facts, marks_of
from oakum.desk.seabed.dig_json import dig_dict
from oakum.desk.seabed.marks import hold_mark
from oakum.desk.seabed.plan_items import squares_of
from oakum.record import FactError, Logbook, restore
from oakum.seabed.dig import DigError

BEFORE = "A 1.20\nB 1.22 m\nC 1.25\nD 118 cm\nmiddle 1.21"
AFTER = "a 1.40\nB 1.42\nC 1.45\nD 1.38\nm 1.41"


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    book = Logbook.create(tmp_path, "Skerry")
    enter_square(
        book, {"name": "N2", "corners": "A 0 0\nB 2.0, 0\nC 2 2\nD 0 2", "planned_depth": "60 cm"}, author="recorder"
    )
    return book


def levels(log: Logbook, stage: str, text: str, reason: str = "", **more: str) -> Any:
    typed = {"square": "n2", "spit": "1", "stage": stage, "from": "string 1", "levels": text, "sd": "1 cm", **more}
    return enter_levels(log, typed, author="recorder", reason=reason)


def dive(log: Logbook, name: str, **more: str) -> Any:
    typed = {"on": "2026-06-12", "dive": name, "square": "N2", "spit": "1", "hours": "100 min", **more}
    return enter_hours(log, typed, author="diver")


def test_a_spit_is_entered_as_read_and_comes_back_as_a_volume(log: Logbook) -> None:
    levels(log, "top", BEFORE, on="2026-06-12", by="diver")
    entry = levels(log, "bottom", AFTER, on="2026-06-14")
    assert entry.body["bottom"][0] == {"at": "a", "down": "1.4", "text": "a 1.40"}
    assert dig_facts(log).spits[0].fields["top"][3] == {"at": "D", "down": "1.18", "text": "D 118 cm"}
    (square,) = dig_of(log).squares
    (spit,) = square.spits
    assert spit.dug is not None and spit.dug.best_m3 == pytest.approx(0.8) and spit.dug.volume is not None
    assert "hang on string 1" in spit.assumptions[0] and square.planned_m3 == pytest.approx(2.4)
    assert dig_of(log) is dig_of(log)
    assert log.check().ok and dig_dict(dig_of(log))["squares"][0]["spits"][0]["best_m3"] == pytest.approx(0.8)
    assert json.loads(json.dumps(dig_dict(dig_of(log))))["season"]["area_m2"] == 4.0


def test_levels_below_stand_for_those_before_the_next_spit(log: Logbook) -> None:
    levels(log, "top", BEFORE)
    levels(log, "bottom", AFTER)
    levels(log, "bottom", "A 1.5\nB 1.5\nC 1.6\nD 1.5", spit="2")
    second = dig_of(log).squares[0].spits[1]
    assert second.dug is not None
    assert second.assumptions[0] == "The levels after spit 1 stand for those before this one."
    third = levels(log, "top", "A 1.5\nB 1.5\nC 1.6\nD 1.5", spit="3")
    assert third is not None and dig_of(log).squares[0].spits[2].refused.startswith("no levels after it yet")


def test_a_correction_needs_a_reason_and_the_old_levels_stay(log: Logbook) -> None:
    levels(log, "top", BEFORE)
    first = levels(log, "bottom", AFTER)
    assert levels(log, "bottom", AFTER) is None
    with pytest.raises(FieldErrors, match="say why the old value no longer holds"):
        levels(log, "bottom", AFTER.replace("1.45", "1.55"))
    levels(log, "bottom", AFTER.replace("1.45", "1.55"), reason="slate read again")
    spit = dig_of(log).squares[0].spits[0]
    assert spit.dug is not None and spit.dug.best_m3 == pytest.approx(0.8 + 4 * 0.1 / 6)
    log.append("struck", spit.kept.id, {"reason": "wrong slate"}, author="recorder", over=[first.id])
    log.append("struck", spit.kept.id, {"reason": "wrong slate"}, author="recorder", over=[spit.kept.history[-1].id])
    assert "no levels after it yet" in dig_of(log).squares[0].spits[0].refused


@pytest.mark.parametrize(
    ("stage", "text", "more", "field", "said"),
    [
        ("bottom", "A 1.0\nB 1.0\nC 1.0\nD 1.0", {}, "levels", "would lie 0.21 m above its top on the whole"),
        ("top", "A -0.2\nB 1\nC 1", {"from": "Water", "spit": "2"}, "levels", '"A -0.2" is above the surface'),
        ("top", "A 1\nB 1", {"spit": "2"}, "levels", "2 places cannot carry a surface"),
        ("top", "A 1\nAB 1\nB 1", {"spit": "2"}, "levels", "all places lie on one line"),
        ("top", "Q 1", {"spit": "2"}, "levels", 'line 1, "Q 1": no corner and no mark is called Q'),
        ("top", "A", {"spit": "2"}, "levels", "write the place and how far down it is"),
        ("top", "A 1 ± 2 cm", {"spit": "2"}, "levels", "write one number"),
        ("top", "A 1.2.3", {"spit": "2"}, "levels", "line 1"),
        ("top", "", {"spit": "2"}, "levels", "give the levels, one a line"),
        ("top", BEFORE, {"spit": ""}, "spit", "write the number of the spit"),
        ("middle", BEFORE, {}, "stage", "before the spit"),
        ("top", BEFORE, {"square": "N9"}, "square", "there is no square 'N9'; there are N2"),
        ("top", BEFORE, {"spit": "2", "sd": "0"}, "sd", "more than nothing"),
        ("top", BEFORE, {"spit": "2", "on": "12/6"}, "on", "expected a day"),
        ("top", BEFORE, {"spit": "2", "colour": "grey"}, "colour", "there is no such field"),
    ],
)
def test_levels_that_cannot_be_right_are_refused_and_nothing_enters(
    log: Logbook, stage: str, text: str, more: dict, field: str, said: str
) -> None:
    levels(log, "top", BEFORE)
    before = log.count()
    with pytest.raises(FieldErrors) as refused:
        levels(log, stage, text, **more)
    assert said in refused.value.wrong[field] and log.count() == before


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"corners": "A 0 0\nB 1 0\nC 2 0\nD 1 3"}, "corners", "corners A, B and C lie on one line"),
        ({"corners": "A 0 0\nB 1 1\nC 1 0\nD 0 1"}, "corners", "meets the side"),
        ({"corners": "A 0 0\nB mark D9\nC 1 1"}, "corners", "the survey gives no place to the mark D9"),
        ({"corners": "A 0 0\na 1 0\nC 1 1"}, "corners", "two corners are called A"),
        ({"corners": "A nought 0\nB 1 0\nC 1 1"}, "corners", "line 1"),
        ({"corners": "A\nB\nC"}, "corners", "write the corner and its place"),
        ({"corners": ""}, "corners", "give its corners"),
        ({"name": " "}, "name", "write the name"),
        ({"planned_depth": "deep"}, "planned_depth", "deep"),
    ],
)
def test_squares_that_cannot_be_right_are_refused_and_nothing_enters(
    log: Logbook, typed: dict, field: str, said: str
) -> None:
    before = log.count()
    with pytest.raises(FieldErrors) as refused:
        enter_square(log, {"name": "Z", "corners": "A 0 0\nB 1 0\nC 1 1", **typed}, author="recorder")
    assert said in refused.value.wrong[field] and log.count() == before


def test_two_strings_without_heights_join_nothing_and_with_heights_they_do(log: Logbook) -> None:
    levels(log, "top", BEFORE)
    levels(log, "bottom", AFTER, **{"from": "string 2"})
    spit = dig_of(log).squares[0].spits[0]
    assert spit.dug is None and "give the height of both on the site" in spit.refused
    levels(log, "top", BEFORE, zero="-12.40 m", reason="levelled")
    levels(log, "bottom", AFTER, zero="-12.30 m", reason="levelled", **{"from": "string 2"})
    spit = dig_of(log).squares[0].spits[0]
    assert spit.dug is not None and spit.dug.best_m3 == pytest.approx(0.4)
    assert any("no width can be given" in words for words in spit.objections)
    levels(log, "bottom", AFTER, zero="-12.30 m", bias="2 cm", **{"from": "string 2"})
    spit = dig_of(log).squares[0].spits[0]
    assert spit.dug is not None and spit.dug.volume is not None and not spit.objections
    assert spit.dug.volume.drivers[0].label.startswith("what all levels share")


def test_depths_from_the_water_object_until_its_height_is_known(log: Logbook) -> None:
    levels(log, "top", "A 13\nB 13\nC 13\nD 13", **{"from": "water"})
    levels(log, "bottom", "A 12.9\nB 12.9\nC 12.9\nD 12.9", **{"from": "Water"})
    spit = dig_of(log).squares[0].spits[0]
    assert spit.dug is not None and spit.dug.volume is None
    assert any("the tide between them is in the volume" in words for words in spit.objections)
    assert any("are before and after swapped" in words for words in spit.objections)
    assert zero_of(dig_of(log).squares[0]) == "water"
    levels(log, "top", "A 13\nB 13\nC 13\nD 13", zero="0.3", reason="tide read", **{"from": "water"})
    later = {"from": "water", "zero": "-0.1", "bias": "5 cm"}
    levels(log, "bottom", "A 12.9\nB 12.9\nC 12.9\nD 12.9", reason="tide", **later)
    spit = dig_of(log).squares[0].spits[0]
    assert spit.dug is not None and spit.dug.best_m3 == pytest.approx(1.2) and not spit.objections
    assert zero_of(dig_of(log).squares[0]) == "the site's zero"


def test_a_level_that_rose_is_an_open_question(log: Logbook) -> None:
    levels(log, "top", BEFORE)
    levels(log, "bottom", AFTER.replace("C 1.45", "C 1.15"))
    assert dig_of(log).open_questions == ("N2 spit 1: At C the bed rose by 0.10 m. Filled back, or misread?",)


def test_hours_give_a_rate_once_three_dives_are_there(log: Logbook) -> None:
    levels(log, "top", BEFORE)
    levels(log, "bottom", AFTER)
    for name, buckets in (("1", "40"), ("2", "44")):
        dive(log, name, buckets=buckets)
    assert "at least 3 dives" in dig_of(log).season.refused and dig_of(log).season.forecast is None
    dive(log, "3", buckets="31", hours="1.5")
    season = dig_of(log).season
    assert season.rate is not None and season.rate.source == "buckets, measured by levels"
    assert season.forecast is not None and season.forecast.rest_m3 == pytest.approx(1.6)
    with pytest.raises(FieldErrors, match="already"):
        dive(log, "3")
    for wrong, field in (({"hours": "0"}, "hours"), ({"buckets": "-1"}, "buckets"), ({"litres": "a lot"}, "litres")):
        with pytest.raises(FieldErrors) as refused:
            dive(log, "9", **wrong)
        assert field in refused.value.wrong
    with pytest.raises(FieldErrors, match="a spit belongs to a square"):
        dive(log, "9", square="")


def test_corners_may_be_marks_of_the_survey_and_the_plan_shows_the_square(log: Logbook) -> None:
    for name, x, y in (("D4", "4", "0"), ("D5", "6", "0"), ("D6", "6", "2")):
        hold_mark(log, name, {"x": x, "y": y, "z": "-14"}, author="director")
    enter_square(log, {"name": "N4", "corners": "A mark D4\nB mark D5\nC mark D6"}, author="recorder")
    square = dig_of(log).square("n4")
    assert square is not None and square.area_m2 == pytest.approx(2.0)
    places = marks_of(log)()
    assert [one.name for one in squares_of(log, places)] == ["N2", "N4"]
    enter_levels(
        log, {"square": "N4", "spit": "1", "stage": "top", "levels": "D4 1\nB 1\nC 1", "from": "s"}, author="recorder"
    )
    assert dig_of(log).square("N4").spits[0].refused.startswith("no levels after")  # type: ignore[union-attr]


def test_drawings_get_surfaces_contours_and_a_section(log: Logbook) -> None:
    levels(log, "top", BEFORE)
    levels(log, "bottom", AFTER)
    (square,) = dig_of(log).squares
    marks = marks_of(log)
    beds = beds_of(square, marks)
    assert [bed.title for bed in beds] == ["before spit 1", "after spit 1"] and zero_of(square) == "string 1"
    lines, words = contours_of(beds[-1], square, None)
    assert lines and "every 0.02 m" in words
    assert "finer than the levels can tell" in contours_of(beds[-1], square, 0.01)[1]
    cut, first, last = section_of(square, beds, marks, "", "", None)
    assert (first, last, cut.length_m) == ("DA", "BC", 2.0) and len(cut.layers) == 2
    with pytest.raises(DigError, match="no corner and no mark is called so"):
        section_of(square, beds, marks, "Q", "A", None)


def test_the_record_holds_its_own_kinds_to_their_form(log: Logbook) -> None:
    square = dig_facts(log).squares[0].id
    for body, said in (
        ({"square": square, "spit": "1", "top": [{"at": "A", "down": "x", "text": "A x"}]}, "decimal text"),
        ({"square": square, "spit": "1", "top": [{"down": "1", "text": "1"}]}, "expected each level"),
        (
            {"square": square, "spit": "1", "top_from": "water", "top": [{"at": "A", "down": "-1", "text": "A -1"}]},
            "above the surface",
        ),
    ):
        with pytest.raises(FactError, match=said):
            log.append("dig.spit", None, body, author="recorder")
    with pytest.raises(FactError, match="3 to 60 corners"):
        log.append("dig.square", None, {"name": "Q", "corners": []}, author="recorder")
    with pytest.raises(FactError, match="greater than 0"):
        log.append("dig.hours", "site", {"hours": "0", "on": "2026-06-12"}, author="recorder")


def test_two_stations_that_correct_the_same_levels_leave_an_open_question(log: Logbook, tmp_path: Path) -> None:
    first = levels(log, "top", BEFORE)
    with restore(log.backup(tmp_path / "copy"), tmp_path / "laboratory") as other:
        for book, text in ((log, "1.30"), (other, "1.10")):
            levels(book, "top", BEFORE.replace("1.25", text), reason="slate read again")
        log.receive(other.entries())
    answer = dig_of(log)
    assert [question.subject for question in answer.questions] == [first.subject] and log.check().ok
