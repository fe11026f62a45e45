"""Entries about the seabed: what a reading may say, one site, each mark once, named people who reject; 10^4 at once."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest

from oakum.desk.seabed.site import site_of
from oakum.record import Draft, FactError, Logbook, RecordError, UnknownSubjectError
from oakum.record.log.facts import KINDS, check_fact
from oakum.record.log.kinds_seabed import SEABED_KINDS

TAPE = {"what": "tape", "marks": ["A", "B"], "text": "3.10 m", "value": "3.1", "unit": "m"}


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


def test_every_kind_is_known_to_the_log() -> None:
    assert {kind.name for kind in SEABED_KINDS} <= set(KINDS)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"marks": ["A"]}, "names 2, not 1"),
        ({"marks": ["A", " "]}, "names of marks"),
        ({"value": 3.1}, "decimal text"),
        ({"value": None}, "needs its value in m"),
        ({"unit": "deg"}, "needs its value in m"),
        ({"what": "laser"}, "expected one of tape, depth"),
        ({"side": "left"}, "side: does not belong to a reading of the kind tape"),
        ({"sd": "0"}, "greater than 0"),
        ({"what": "fix", "marks": ["A"]}, "x: missing"),
        ({"what": "offset", "marks": ["A", "B", "C"]}, "at least one of them"),
        ({"what": "tie", "marks": ["A", "B", "C"]}, "how far along the baseline"),
    ],
)
def test_a_reading_that_does_not_hold_together_is_refused(change: dict[str, Any], said: str) -> None:
    with pytest.raises(FactError, match=said):
        check_fact("survey.read", {**TAPE, **change}, ())


@pytest.mark.parametrize(
    "body",
    [
        {"what": "depth", "marks": ["A"], "text": "12", "value": "12", "unit": "m", "above": "0.1"},
        {"what": "bearing", "marks": ["A", "B"], "text": "12", "value": "12", "unit": "deg"},
        {"what": "fix", "marks": ["A"], "text": "1, 2", "x": "1", "y": "-2", "line": "14", "lean": "3"},
        {"what": "offset", "marks": ["A", "B", "C"], "text": "1", "left": "-1"},
        {"what": "tie", "marks": ["A", "B", "C"], "text": "1", "value": "1", "unit": "m", "at": "2", "side": "left"},
    ],
)
def test_each_kind_of_reading_has_its_own_numbers(body: dict[str, Any]) -> None:
    check_fact("survey.read", body, ())


def test_there_is_one_site_and_other_things_have_ids_of_their_own(log: Logbook) -> None:
    log.append("site.named", "site", {"name": "Tolmarren"}, author="director")
    with pytest.raises(FactError, match="already says 'Tolmarren'"):
        log.append("site.named", "site", {"name": "Another"}, author="director")
    with pytest.raises(FactError, match="give it the subject 'site'"):
        log.append("site.north", None, {"declination": "-2"}, author="director")
    with pytest.raises(FactError, match="not about the site as a whole"):
        log.append("survey.read", "site", TAPE, author="director")
    find = log.append("find.entered", None, {"title": "jar"}, author="director").subject
    with pytest.raises(FactError, match="something else's"):
        log.append("survey.read", find, TAPE, author="director")


def test_a_mark_is_named_once_whatever_its_spelling_and_only_a_mark_is_held(log: Logbook) -> None:
    mark = log.append("mark.named", None, {"name": "A1", "also": ["a 1"]}, author="recorder")
    for body in ({"name": "a 1"}, {"name": "X", "also": ["A1"]}):
        with pytest.raises(FactError, match="is the name of a mark already"):
            log.append("mark.named", None, body, author="recorder")
    with pytest.raises(FactError, match="is the name of a mark already"):
        log.append_many([Draft("mark.named", None, {"name": "B"}, "recorder") for _ in range(2)])
    log.append("struck", mark.subject, {"reason": "typed twice"}, author="recorder", over=[mark.id])
    log.append("mark.named", None, {"name": "a 1"}, author="recorder")
    log.append("survey.instrument", None, {"name": "T1", "kind": "tape"}, author="recorder")
    with pytest.raises(FactError, match="is the name of an instrument already"):
        log.append("survey.instrument", None, {"name": "t1", "kind": "tape"}, author="recorder")
    reading = log.append("survey.read", None, TAPE, author="recorder").subject
    with pytest.raises(UnknownSubjectError, match="no mark"):
        log.append("site.held", reading, {"x": "0"}, author="recorder")


def test_a_reading_is_rejected_by_a_named_person_only(log: Logbook) -> None:
    one = log.append("survey.read", None, TAPE, author="recorder")
    with pytest.raises(RecordError, match="by a named person"):
        log.append("survey.rejected", one.subject, {"rejected": "misread"}, author="director")
    with pytest.raises(UnknownSubjectError):
        log.append("survey.rejected", "nothing", {"rejected": "misread"}, author=log.add_person("D", "director").id)


def test_water_levels_are_a_bench_mark_or_a_series_with_its_zone(log: Logbook) -> None:
    log.append("site.water", "site", {"bench": "A"}, author="recorder")
    levels = [["2026-06-12T10:20", "0.42"], ["2026-06-12T10:50", "0.51"]]
    log.append("site.water", "site", {"levels": levels, "zone": "+01:00"}, author="recorder")
    for body in ({"levels": levels}, {"bench": "A", "levels": levels, "zone": "Z"}, {"note": "none"}):
        with pytest.raises(FactError, match="either a bench mark, or levels with their zone"):
            log.append("site.water", "site", body, author="recorder")
    with pytest.raises(FactError, match="expected local time"):
        log.append("site.water", "site", {"levels": [["noon", "0.4"]], "zone": "Z"}, author="recorder")


def test_ten_thousand_readings_enter_and_come_back_quickly(log: Logbook) -> None:
    seen = {"at": "2026-06-12", "zone": "Z", "precision": "day", "by": "diver", "from": "slate"}
    drafts = [
        Draft("survey.read", None, {**TAPE, "marks": [f"A{i % 2000}", f"B{i % 1999}"]}, "recorder", seen=seen)
        for i in range(10_000)
    ]
    began = time.process_time()
    log.append_many(drafts)
    entered = time.process_time()
    assert len(site_of(log).observations) == 10_000
    assert entered - began < 4.0 and time.process_time() - entered < 4.0
    began = time.process_time()
    log.append("survey.read", None, TAPE, author="recorder")
    assert time.process_time() - began < 0.25
    assert log.check().ok
