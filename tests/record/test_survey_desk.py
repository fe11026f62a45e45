"""From slate to adjustment: entered when accepted, corrected, rejected, restored; marks joined; water taken out."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import pytest

from oakum.desk.seabed.bringing import accept, bring_page, join
from oakum.desk.seabed.entering import NothingAcceptedError, correct, enter, propose_typed, reading_named
from oakum.desk.seabed.held import add_levels, describe_instrument, set_bench, set_north, set_way_round
from oakum.desk.seabed.marks import MarkError, hold_mark, mark_lines, name_mark, two_names
from oakum.desk.seabed.next_tapes import (
    NextTapeError,
    marks_without_depth,
    pairs_in,
    pairs_text,
    tapes_for_tomorrow,
)
from oakum.desk.seabed.rejecting import RejectError, reject, restore
from oakum.desk.seabed.site import site_of
from oakum.desk.seabed.survey import survey_lately, survey_of
from oakum.desk.seabed.typed import Slate
from oakum.record import Logbook
from oakum.record import restore as restore_copy
from oakum.seabed.network import Bearing, Depth

SLATE = Slate(day="2026-06-12", zone="Z", seen_by="diver", dive="7")
Fill = Callable[..., None]


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


@pytest.fixture
def person(log: Logbook) -> str:
    return log.add_person("Director", "directs").id


def test_nothing_enters_until_it_is_accepted_and_a_doubt_stays_with_the_reading(log: Logbook) -> None:
    before = log.count()
    brought = bring_page(log, "A B 3.1\nB C 4.3\nA A 2\nhello", SLATE)
    assert log.count() == before and [row.status for row in brought.proposal.rows] == ["ready"] * 2 + ["refused"] * 2
    accept(log, brought, author="recorder")
    one = propose_typed(log, "tape", {"from": "A", "to": "C", "value": "9.2"}, SLATE)
    assert one.status == "look"
    with pytest.raises(NothingAcceptedError):
        enter(log, [one], author="recorder")
    enter(log, [one], author="recorder", sure=True)
    kept = list(survey_of(log).entries.values())[-1]
    assert kept.word("doubt") == "A–C is 9.20 m, but A–B and B–C allow 1.2 to 7.4 m."
    assert (kept.day, kept.word("dive"), kept.text) == ("2026-06-12", "7", "9.2 m")
    with pytest.raises(NothingAcceptedError, match="Row 3 cannot be entered: A twice"):
        enter(log, brought.proposal.rows, author="recorder", chosen=["1", "3"])


def test_three_spellings_are_one_mark_only_when_a_person_says_so(log: Logbook) -> None:
    brought = bring_page(log, "A-1 B 3.1\na 1 C 4.3\nA1 D 2.2", SLATE)
    assert [set(group) for group in brought.proposal.two_names] == [{"A-1", "a 1", "A1"}]
    assert [row.status for row in brought.proposal.rows] == ["ready", "look", "look"]
    accept(log, brought, author="recorder", sure=True)
    assert {line.name for line in mark_lines(log)} == {"A-1", "a 1", "A1", "B", "C", "D"}
    assert len(two_names(log)) == 1 and "3 names for one mark?" in two_names(log)[0].words()
    name_mark(log, "A1", also=["A-1", "a 1"], author="recorder")
    assert two_names(log) == () and {line.name for line in mark_lines(log)} == {"A1", "B", "C", "D"}
    assert [one.a for one in site_of(log).observations] == ["A1"] * 3
    assert [one.written[0] for one in survey_of(log).entries.values()] == ["A-1", "a 1", "A1"]


def test_spellings_joined_in_the_preview_are_kept_with_the_readings(log: Logbook) -> None:
    brought = join(log, bring_page(log, "A1 B 3.1\na1 C 4.3", SLATE), {"a1": "A1"})
    assert brought.proposal.count("ready") == 2 and brought.proposal.two_names == ()
    accept(log, brought, author="recorder")
    assert mark_lines(log)[0].also == ("a1",)


def test_a_named_mark_joined_to_another_gives_up_its_name_but_not_its_place(log: Logbook) -> None:
    name_mark(log, "a1", author="recorder")
    name_mark(log, "A1", also=["a1"], author="recorder")
    assert [line.name for line in mark_lines(log)] == ["A1"]
    hold_mark(log, "B1", {"x": "1"}, author="recorder")
    with pytest.raises(MarkError, match="a place of its own"):
        name_mark(log, "A1", also=["B1"], author="recorder")


def test_rejecting_is_one_entry_with_a_reason_and_can_be_taken_back(
    log: Logbook, person: str, survey_into: Fill
) -> None:
    survey_into(log)
    first = survey_of(log).solution.suspects[0]
    answer = survey_of(log)
    assert set(answer.entries[first.id].marks) == {"B", "E"}
    for reason, said in (("", "Say why"), (" ", "Say why")):
        with pytest.raises(RejectError, match=said):
            reject(log, first.id, reason, author=person)
    reject(log, first.id, "the slate says a metre less", author=person)
    after = survey_of(log)
    assert first.id in after.site.rejected and not [s for s in after.solution.suspects if s.id == first.id]
    assert (after.entries[first.id].rejected, after.entries[first.id].rejected_by) == (
        "the slate says a metre less", person
    )  # fmt: skip
    assert not after.solution.reading(first.id).counted
    with pytest.raises(RejectError, match="rejected already"):
        reject(log, first.id, "again", author=person)
    restore(log, first.id, "it was right", author=person)
    assert survey_of(log).site == answer.site
    with pytest.raises(RejectError, match="is not rejected"):
        restore(log, first.id, "again", author=person)
    reject(log, first.id, "after all", author=person)
    assert survey_of(log).entries[first.id].rejected == "after all" and log.check().ok


def test_a_correction_is_over_what_was_typed_and_forgets_nothing(log: Logbook) -> None:
    typed = {"from": "A", "to": "B", "value": "3.1", "with": "± 0.02"}
    enter(log, [propose_typed(log, "tape", typed, SLATE)], author="recorder")
    one = next(iter(survey_of(log).entries.values()))
    correct(log, one.id, {"from": "A", "to": "C", "value": "4.1"}, reason="wrong line of the slate", author="recorder")
    now = reading_named(log, one.subject)
    assert (now.id, now.marks, now.number("value"), now.number("sd"), now.day) == (
        one.id, ("A", "C"), 4.1, None, "2026-06-12"
    )  # fmt: skip
    assert [entry.body["value"] for entry in now.history] == ["3.1", "4.1"]
    with pytest.raises(NothingAcceptedError, match="says already"):
        correct(log, one.id, {"from": "A", "to": "C", "value": "4.1"}, reason="again", author="recorder")
    with pytest.raises(NothingAcceptedError, match="Say why"):
        correct(log, one.id, {"from": "A", "to": "C", "value": "4.2"}, reason="", author="recorder")
    with pytest.raises(NothingAcceptedError, match="No mark"):
        correct(log, one.id, {"from": "", "to": "C", "value": "4.1"}, reason="x", author="recorder")


def test_two_stations_that_correct_one_reading_differently_leave_an_open_question(log: Logbook, tmp_path: Path) -> None:
    enter(log, [propose_typed(log, "tape", {"from": "A", "to": "B", "value": "3.1"}, SLATE)], author="recorder")
    id = next(iter(survey_of(log).entries))
    with restore_copy(log.backup(tmp_path / "copy"), tmp_path / "laboratory") as other:
        for book, value in ((log, "3.2"), (other, "3.3")):
            correct(book, id, {"from": "A", "to": "B", "value": value}, reason="slate", author="recorder")
        log.receive(other.entries())
    asked = survey_of(log).open_questions
    assert {question.key for question in asked} == {"field:value", "field:text"}
    assert asked[0].number in ("3.2 m", "3.3 m")


def test_depths_take_the_level_of_a_series_at_their_own_time(log: Logbook) -> None:
    accept(log, bring_page(log, "A d 12.0 10:00\nB d 12.6 10:15\nC d 12.0 12:00", SLATE), author="recorder")
    add_levels(log, [("2026-06-12 10:00", "0.3"), ("2026-06-12 10:30", "0.5")], zone="Z", author="recorder")
    levels = [one.water_level_m for one in site_of(log).observations if isinstance(one, Depth)]
    assert levels == [pytest.approx(0.3), pytest.approx(0.4), None]
    with pytest.raises(MarkError, match="height"):
        add_levels(log, [("2026-06-12 10:00", "high")], zone="Z", author="recorder")


def test_what_the_water_rose_on_a_dive_is_taken_out_in_proportion_to_time(log: Logbook) -> None:
    # The bench mark M is read 12.00 m at 10:00 and 12.60 m at 11:00: the water rose 0.01 m a minute.
    page = "M d 12.00 10:00\nA d 13.30 10:30\nB d 13.3\nM d 12.60 11:00"
    accept(log, bring_page(log, page, SLATE), author="recorder")
    set_bench(log, "M", author="recorder")
    depths = [one.depth_m for one in site_of(log).observations if isinstance(one, Depth)]
    assert depths == [pytest.approx(12.0), pytest.approx(13.0), 13.3, pytest.approx(12.0)]
    assert [words for words in survey_of(log).objections if "has no time" in words and "(B" in words]


def test_instruments_north_and_way_round_reach_the_site(log: Logbook) -> None:
    typed = {"longest": "30 m", "sd": "2 cm", "sd_per_m": "0.001", "scale": "1.2", "solve": "scale"}
    describe_instrument(log, "T1", "tape", typed, author="recorder")
    describe_instrument(log, "t1", "tape", {"longest": "40 m"}, author="recorder", reason="a new tape")
    set_north(log, "-2.5", turn_deg="12", author="recorder")
    set_way_round(log, ["A", "B", "C"], author="recorder")
    accept(log, bring_page(log, "A B 10 T1\nA B bearing 40", SLATE), author="recorder")
    site = site_of(log)
    (tape,) = site.tapes
    assert (tape.name, tape.longest_m, tape.scale, tape.solve_scale) == ("T1", 40.0, pytest.approx(0.0012), True)
    assert (site.observations[0].sd_m, site.observations[0].sd_per_m) == (0.02, 0.001)
    assert isinstance(site.observations[1], Bearing) and site.observations[1].declination_deg == 9.5
    assert site.anticlockwise == ("A", "B", "C")
    with pytest.raises(MarkError, match="say why it changes"):
        set_north(log, "-3", author="recorder")
    with pytest.raises(MarkError, match="three different marks"):
        set_way_round(log, ["A", "A", "C"], author="recorder")


def test_a_held_place_is_replaced_with_a_reason_only(log: Logbook) -> None:
    hold_mark(log, "A", {"x": "1 m", "y": "2", "z": "-14.2", "sd": "3 cm"}, author="recorder")
    with pytest.raises(MarkError, match="say why it changes"):
        hold_mark(log, "A", {"x": "1.5"}, author="recorder")
    hold_mark(log, "A", {"x": "1.5", "y": "2"}, author="recorder", reason="measured again")
    (datum,) = site_of(log).datums
    assert (datum.x_m, datum.y_m, datum.z_m, datum.sd_m) == (1.5, 2.0, None, None)
    with pytest.raises(MarkError, match="at least one of x, y and z"):
        hold_mark(log, "B", {"sd": "1"}, author="recorder")


def test_the_answer_is_kept_while_nothing_is_entered(log: Logbook, survey_into: Fill) -> None:
    survey_into(log)
    answer = survey_of(log)
    assert survey_of(log) is answer
    log.append("find.entered", None, {"title": "jar"}, author="recorder")
    assert survey_of(log) is not answer and survey_of(log).solution is answer.solution
    enter(log, [propose_typed(log, "tape", {"from": "A", "to": "P2", "value": "10.07"}, SLATE)], author="recorder")
    lately = survey_lately(log)
    assert lately.solution is answer.solution and len(lately.site.observations) == len(answer.site.observations) + 1
    assert len(survey_of(log).solution.readings) == len(answer.solution.readings) + 1


def test_a_large_site_answers_at_once_without_waiting_for_its_plan(
    log: Logbook, survey_into: Fill, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("oakum.desk.seabed.survey.LARGE_SITE", 20)
    survey_into(log)
    assert survey_lately(log).solution.marks == () and len(survey_lately(log).entries) > 20
    one = propose_typed(log, "tape", {"from": "A", "to": "P1", "value": "17.9"}, SLATE)
    assert "it was read as" in one.messages[0]


def test_tomorrows_tapes_are_unmeasured_pairs_near_enough_and_the_sheet_text_reads_back(
    log: Logbook, survey_into: Fill
) -> None:
    survey_into(log, trouble=False)
    taped = {frozenset((o.a, o.b)) for o in site_of(log).observations if hasattr(o, "length_m")}
    plan = tapes_for_tomorrow(log, marks=["P1"], count=3, longest_m=20.0)
    assert len(plan.tapes) == 3
    assert all(frozenset((t.a, t.b)) not in taped and t.length_m <= 20.0 for t in plan.tapes)
    assert all(t.after_m <= t.before_m for t in plan.tapes)
    pairs = tuple((t.a, t.b) for t in plan.tapes)
    assert pairs_in(pairs_text(pairs)) == pairs and pairs_in("nonsense; A to ") == ()
    for wrong in ({"marks": ["Q"]}, {"count": 0}, {"longest_m": 1e9}):
        with pytest.raises(NextTapeError):
            tapes_for_tomorrow(log, **wrong)
    assert marks_without_depth(log) == []
    accept(log, bring_page(log, "A Q 3.0", SLATE), author="recorder", sure=True)
    assert marks_without_depth(log) == ["Q"]


def test_a_misreading_is_found_again_through_the_logbook(log: Logbook, survey_into: Fill) -> None:
    survey_into(log)
    suspect = survey_of(log).solution.suspects[0]
    assert suspect.error == pytest.approx(1.0, abs=0.06) and any(c.key == "metre" for c in suspect.causes)
    assert math.isclose(abs(suspect.w), abs(suspect.error) / suspect.error_sd, rel_tol=0.02)
