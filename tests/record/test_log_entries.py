"""What may enter the logbook, how it is corrected, and what it says afterwards."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from oakum.record import Draft, FactError, Logbook, RecordError, UnknownSubjectError, pooled

SEEN = {"at": "2026-06-01T10:20", "zone": "+01:00", "precision": "minute", "by": "diver", "from": "slate"}


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


def enter(log: Logbook, **fields: Any) -> str:
    return log.append("find.entered", None, {"title": "jar", **fields}, author="recorder").subject


def read(log: Logbook, find: str, value: str, sd: str | None = None, **more: str) -> Any:
    body = {"quantity": "mass", "state": "air", "text": f"{value} kg", "value": value, "unit": "kg", **more}
    return log.append("reading", find, body | ({"sd": sd} if sd else {}), author="conservator")


def test_a_new_project_says_who_opened_it_and_gives_its_station_a_block(log: Logbook) -> None:
    assert [entry.kind for entry in log.entries()] == ["project.opened", "station.opened", "block.given"]
    assert log.folder.name == "tolmarren.oakum" and log.files_folder.is_dir()
    assert log.entries()[0].prev == "0" * 64 and log.entries()[1].prev == log.entries()[0].hash


def test_the_typist_is_the_author_and_the_diver_is_in_seen(log: Logbook) -> None:
    entry = log.append("find.entered", None, {"title": "jar"}, author="recorder", seen=SEEN)
    assert log.entry(entry.id).seen == SEEN and log.entry(entry.id).author == "recorder"


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("at", "yesterday"),
        ("at", "2026-02-30"),
        ("zone", "summer"),
        ("precision", "roughly"),
        ("by", "Jane Roe"),
        ("from", "hearsay"),
    ],
)
def test_seen_is_refused_with_the_name_of_the_part_that_is_wrong(log: Logbook, key: str, value: str) -> None:
    with pytest.raises(FactError, match=rf"seen\.{key}"):
        log.append("find.entered", None, {"title": "jar"}, author="recorder", seen={**SEEN, key: value})
    assert log.count() == 3


def test_a_correction_replaces_the_fields_it_sets_and_no_other(log: Logbook) -> None:
    find = enter(log, material="oak", count=1)
    first = log.entries(find)[0]
    over = log.append(
        "find.described", find, {"material": "elm", "reason": "cut clean"}, author="recorder", over=[first.id]
    )
    heads = log.heads(find)
    assert [h.value for h in heads["material"]] == ["elm"] and heads["material"][0].entry == over
    assert heads["title"][0].entry == first and log.find(find).fields["count"] == 1
    assert not log.open_questions() and len(log.find(find).history) == 2


def test_a_correction_without_a_reason_is_refused(log: Logbook) -> None:
    find = enter(log, material="oak")
    with pytest.raises(FactError, match="reason"):
        log.append(
            "find.described", find, {"material": "elm"}, author="recorder", over=[log.entries(find)[0].id]
        )


def test_another_value_that_names_no_entry_to_correct_is_refused(log: Logbook) -> None:
    find = enter(log, material="oak")
    with pytest.raises(FactError, match=r"already says 'oak'.*correction over"):
        log.append("find.described", find, {"material": "elm"}, author="recorder")


def test_a_field_can_be_taken_back_to_not_known(log: Logbook) -> None:
    find = enter(log, material="oak")
    body = {"material": None, "reason": "guessed"}
    log.append("find.described", find, body, author="recorder", over=[log.entries(find)[0].id])
    assert "material" not in log.find(find).fields and log.heads(find)["material"][0].value is None


def test_striking_out_takes_everything_back_and_brings_back_what_was_replaced(log: Logbook) -> None:
    find = enter(log, material="oak")
    wrong = log.append(
        "find.described",
        find,
        {"material": "tin", "reason": "x"},
        author="recorder",
        over=[log.entries(find)[0].id],
    )
    strike = log.append("struck", find, {"reason": "meant another find"}, author="recorder", over=[wrong.id])
    assert log.find(find).fields["material"] == "oak"
    log.append("struck", find, {"reason": "it was this one"}, author="recorder", over=[strike.id])
    assert log.find(find).fields["material"] == "tin"


def test_a_correction_of_a_correction_keeps_the_first_value_away_when_the_middle_one_is_struck_out(
    log: Logbook,
) -> None:
    find = enter(log, material="oak")
    aim = log.entries(find)[0].id
    for material in ("tin", "elm"):
        body = {"material": material, "reason": "looked again"}
        aim = log.append("find.described", find, body, author="recorder", over=[aim]).id
    middle = log.entries(find)[1].id
    log.append("struck", find, {"reason": "never said"}, author="recorder", over=[middle])
    assert [head.value for head in log.heads(find)["material"]] == ["elm"] and not log.open_questions()
    assert log.find(find).history[-1].at[0] == log.finds().lines[0].last_ms


def test_a_find_struck_out_leaves_the_register_but_keeps_its_number(log: Logbook) -> None:
    find = enter(log)
    number = log.find(find).number
    log.append("struck", find, {"reason": "a stone"}, author="recorder", over=[log.entries(find)[0].id])
    assert log.find(find).is_struck and log.find(str(number)).id == find and not log.finds().lines
    assert log.find(enter(log)).number != number


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ({"titel": "jar"}, "did you mean 'title'"),
        ({"count": 0}, "whole number, 1 or more"),
        ({"count": True}, "whole number"),
        ({"title": ""}, "leave the field out where it is not known"),
        ({"title": 3.5}, "expected text, not float"),
        ({"title": "\ud800"}, "lone surrogate"),
        ({"length": "1.2 m"}, r"\{text, value, unit\}"),
        ({"length": {"text": "1.2 m", "value": 1.2, "unit": "m"}}, "decimal text"),
        ({"length": {"text": "4 ft", "value": "1.2", "unit": "ft"}}, "SI unit"),
        ({"found_by": "Jane Roe"}, "names of people do not enter"),
    ],
)
def test_a_wrong_body_is_refused_with_what_was_expected(
    log: Logbook, body: dict[str, Any], words: str
) -> None:
    with pytest.raises(FactError, match=words):
        log.append("find.entered", None, body, author="recorder")
    assert log.count() == 3


def test_one_wrong_draft_keeps_the_whole_batch_out(log: Logbook) -> None:
    with pytest.raises(FactError):
        log.append_many([Draft("find.entered", None, {"title": t}, "recorder") for t in ("jar", "shoe", "")])
    assert log.count() == 3 and log.find(enter(log)).number == "T-0001-X"


def test_an_unknown_kind_author_subject_or_entry_is_named(log: Logbook) -> None:
    find = enter(log)
    with pytest.raises(FactError, match=r"Did you mean 'find.entered'"):
        log.append("find.enterd", None, {}, author="recorder")
    with pytest.raises(FactError, match="role"):
        log.append("note", find, {"text": "x"}, author="Jane Roe")
    with pytest.raises(UnknownSubjectError, match="add the person first"):
        log.append("note", find, {"text": "x"}, author="p-00000000")
    with pytest.raises(UnknownSubjectError, match="enter it first"):
        log.append("note", "nothing", {"text": "x"}, author="recorder")
    with pytest.raises(UnknownSubjectError, match="no entry about this subject"):
        log.append("struck", find, {"reason": "x"}, author="recorder", over=[log.entries()[0].id])


def test_readings_stand_side_by_side_and_are_pooled(log: Logbook) -> None:
    find = enter(log)
    read(log, find, "340", "3", instrument="crane scale")
    first = read(log, find, "342", "4")
    together = pooled(log.readings(find, "mass", "air"))
    # own calculation: weights 1/9 and 1/16
    assert (
        together.value == pytest.approx((340 / 9 + 342 / 16) / (1 / 9 + 1 / 16)) and together.why_open is None
    )
    assert together.sd == pytest.approx((1 / 9 + 1 / 16) ** -0.5)
    with pytest.raises(FactError, match="side by side"):
        log.append("reading", find, {**first.body, "reason": "x"}, author="recorder", over=[first.id])


@pytest.mark.parametrize(
    ("other", "sd", "is_open"),
    [("352", "3", False), ("353", "3", True), ("341", None, True), ("340", None, False)],
)
def test_readings_that_differ_or_lack_an_sd_are_an_open_question(
    log: Logbook, other: str, sd: str | None, is_open: bool
) -> None:
    find = enter(log)
    read(log, find, "340", "3")
    read(log, find, other, sd)
    assert bool(log.open_questions(find)) is is_open


def test_until_settled_a_check_takes_the_worse_value_and_a_named_person_settles_it(log: Logbook) -> None:
    find = enter(log)
    both = [read(log, find, "340", "3").id, read(log, find, "412", "3").id]
    open_ = pooled(log.readings(find))
    assert open_.value is None and (open_.worse("greater"), open_.worse("lesser")) == (412.0, 340.0)
    (question,) = log.open_questions()
    assert set(question.entries) == set(both) and "3 combined" in question.words()
    body = {
        "reason": "sling was caught at the second weighing",
        "reading": {
            "quantity": "mass",
            "state": "air",
            "text": "340 kg",
            "value": "340",
            "unit": "kg",
            "sd": "3",
        },
    }
    with pytest.raises(RecordError, match="named person"):
        log.append("settled", find, body, author="director", over=both)
    person = log.add_person("A. N. Other", "director")
    settled = log.append("settled", find, body, author=person.id, over=both)
    assert not log.open_questions() and pooled(log.readings(find)).value == 340.0
    log.append("struck", find, {"reason": "too early"}, author=person.id, over=[settled.id])
    assert len(log.open_questions()) == 1


def test_a_float_is_refused_however_deep_it_hides(log: Logbook) -> None:
    find = enter(log)
    person = log.add_person("A. N. Other", "director")
    body = {"reason": "x", "fields": {"extra": [["mass", 12.4]]}}
    with pytest.raises(FactError, match="decimal text"):
        log.append("settled", find, body, author=person.id, over=[log.entries(find)[0].id])


def test_entries_come_by_kind_and_newest_first(log: Logbook) -> None:
    finds = [enter(log) for _ in range(3)]
    assert [e.subject for e in log.entries(kind="find.entered")] == finds
    newest = log.entries(newest_first=True, limit=2)
    assert [e.subject for e in newest] == finds[:0:-1] and newest[0] == log.entries()[-1]


def test_names_are_in_no_entry_and_erasing_one_leaves_the_chain_whole(log: Logbook) -> None:
    person = log.add_person("Zebulon Quill", "diver")
    find = log.append("find.entered", None, {"title": "jar"}, author=person.id).subject
    before = log.entries()
    assert [p.name for p in log.people()] == ["Zebulon Quill"] and b"Zebulon" in log.path.read_bytes()
    log.erase_person(person.id)
    assert log.people() == () and log.entries() == before and log.check().ok
    assert b"Zebulon" not in log.path.read_bytes() and log.find(find).history[0].author == person.id
    with pytest.raises(UnknownSubjectError):
        log.erase_person(person.id)
