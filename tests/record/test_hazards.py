"""Hazards of a find: answered by a named competent person, authorised by a linked paper, or an objection."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.hazards import (
    ASKS_FOR,
    answer_hazard,
    decide_to_raise,
    hazards_of,
    in_situ_of,
    link_authorisation,
)
from oakum.lift.raising import Hazard
from oakum.record import HAZARDS, FactError, Logbook, UnknownSubjectError

DAY = date(2026, 6, 1)


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


@pytest.fixture
def gun(log: Logbook) -> str:
    return log.append("find.entered", None, {"title": "small gun"}, author="recorder").subject


@pytest.fixture
def person(log: Logbook) -> str:
    return log.add_person("Somebody Invented", "clearance diver").id


def hazard(log: Logbook, find: str, key: str, on: date = DAY) -> Hazard:
    people = {one.id: one for one in log.people()}
    return next(one for one in hazards_of(log.find(find), people, on) if one.key == key)


def test_an_object_nobody_was_asked_about_is_not_known_in_every_hazard(log: Logbook, gun: str) -> None:
    found = hazards_of(log.find(gun), {}, DAY)
    assert [one.key for one in found] == list(HAZARDS) and {one.answer for one in found} == {"not known"}


@pytest.mark.parametrize("key", ["charge", "pressure", "gas"])
def test_it_is_excluded_by_a_named_person_whose_competence_held_on_the_day(
    log: Logbook, gun: str, person: str, key: str
) -> None:
    log.set_competence(person, ASKS_FOR[key], until="2026-05-20")
    answer_hazard(log, gun, key, "excluded", by=person, on="2026-05-20", author="recorder")
    found = hazard(log, gun, key)
    assert (found.answer, found.person, found.on) == ("excluded", person, "2026-05-20")
    assert found.objection is None


@pytest.mark.parametrize(
    ("until", "told"),
    [
        (None, 'no competence "explosives" is known of who answered'),
        ("", 'until when the competence "explosives" of who answered holds is not known'),
        ("2026-05-19", "had lapsed on 2026-05-19, before the answer"),
    ],
)
def test_the_word_of_a_person_without_the_competence_is_an_objection(
    log: Logbook, gun: str, person: str, until: str | None, told: str
) -> None:
    if until is not None:
        log.set_competence(person, "explosives", until=until or None)
    answer_hazard(log, gun, "charge", "excluded", by=person, on="2026-05-20", author="recorder")
    assert told in str(hazard(log, gun, "charge").objection)


def test_the_word_of_a_person_who_was_erased_stands_for_nobody(log: Logbook, gun: str, person: str) -> None:
    log.set_competence(person, "explosives", until="2027-01-01")
    answer_hazard(log, gun, "charge", "excluded", by=person, on="2026-05-20", author="recorder")
    log.erase_person(person)
    assert "is not registered here" in str(hazard(log, gun, "charge").objection)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"by": None, "on": "2026-05-20"}, "by missing"),
        ({"by": "p-1", "on": None}, "on missing"),
        ({"by": "director", "on": "2026-05-20"}, "expected the id of a named person"),
        ({"by": "p-1", "on": "May"}, "year-month-day"),
    ],
)
def test_an_answer_without_a_named_person_and_a_day_is_refused(
    log: Logbook, gun: str, person: str, given: dict[str, str | None], told: str
) -> None:
    by = person if given["by"] == "p-1" else given["by"]
    with pytest.raises(FactError, match=told):
        answer_hazard(log, gun, "charge", "excluded", by=by, on=given["on"], author="recorder")


def test_nobody_can_authorise_a_charge_away(log: Logbook, gun: str, person: str) -> None:
    with pytest.raises(FactError, match="nobody can authorise this away"):
        answer_hazard(log, gun, "charge", "authorised", by=person, on="2026-05-20", author="recorder")
    with pytest.raises(FieldErrors, match="only remains and venerated can be authorised"):
        link_authorisation(log, gun, "charge", "coroner", on="2026-05-20", author="recorder")


@pytest.mark.parametrize(("key", "answer"), [("powder", "excluded"), ("charge", "probably not")])
def test_an_unknown_hazard_or_answer_is_told(log: Logbook, gun: str, key: str, answer: str) -> None:
    with pytest.raises(FieldErrors, match="expected one of"):
        answer_hazard(log, gun, key, answer, author="recorder")


def test_an_unregistered_person_answers_nothing(log: Logbook, gun: str) -> None:
    with pytest.raises(UnknownSubjectError, match=r"hazard_charge\.by: nobody with the id p-00000000"):
        answer_hazard(log, gun, "charge", "excluded", by="p-00000000", on="2026-05-20", author="recorder")


@pytest.mark.parametrize("key", ["remains", "venerated"])
def test_remains_and_what_is_venerated_object_until_an_authorisation_is_linked(
    log: Logbook, gun: str, person: str, key: str
) -> None:
    answer_hazard(log, gun, key, "authorised", by=person, on="2026-05-20", author="recorder")
    assert "no authorisation that holds on 2026-06-01 is linked" in str(hazard(log, gun, key).objection)
    link_authorisation(
        log,
        gun,
        key,
        "county office",
        on="2026-05-19",
        until="2026-06-30",
        number="A 7",
        paper=("permit.pdf", b"%PDF-1.7"),
        author="recorder",
    )
    assert hazard(log, gun, key).objection is None and log.check_files().whole
    assert hazard(log, gun, key, date(2026, 7, 1)).objection is not None
    assert hazard(log, gun, key, date(2026, 5, 18)).objection is not None
    (linked,) = log.entries(kind="authorisation.linked")
    log.append("struck", gun, {"reason": "for another find"}, author="recorder", over=[linked.id])
    assert hazard(log, gun, key).objection is not None


def test_a_changed_answer_needs_a_reason_and_the_newest_counts(log: Logbook, gun: str, person: str) -> None:
    answer_hazard(log, gun, "gas", "not known", author="recorder", note="sealed cask")
    log.set_competence(person, "gas testing", until="2027-01-01")
    with pytest.raises(FieldErrors, match="reason"):
        answer_hazard(log, gun, "gas", "excluded", by=person, on="2026-05-20", author="recorder")
    answer_hazard(
        log,
        gun,
        "gas",
        "excluded",
        by=person,
        on="2026-05-20",
        author="recorder",
        reason="tested",
        paper=("report.pdf", b"%PDF-1.7 gas"),
    )
    assert hazard(log, gun, "gas").answer == "excluded" and log.check_files().checked == 1


def test_two_answers_that_differ_count_as_the_worse_one(tmp_path: Path) -> None:
    hut = Logbook.create(tmp_path / "hut", "Tolmarren", station="hut")
    lab = Logbook.create(tmp_path / "lab", "Tolmarren", station="lab", numbers=(5000, 5999))
    gun = hut.append("find.entered", None, {"title": "gun"}, author="recorder").subject
    lab.receive(hut.entries())
    person = hut.add_person("Somebody", "clearance diver").id
    hut.set_competence(person, "explosives", until="2027-01-01")
    answer_hazard(hut, gun, "charge", "excluded", by=person, on="2026-05-20", author="recorder")
    answer_hazard(lab, gun, "charge", "present", author="conservator")
    hut.receive(entry for entry in lab.entries() if entry.station == lab.station)
    found = hazard(hut, gun, "charge")
    assert found.answer == "present" and "entries differ" in str(found.objection)
    assert [question.key for question in hut.open_questions()] == ["field:hazard_charge"]


def test_why_it_is_not_left_where_it_is_is_decided_by_a_named_person(
    log: Logbook, gun: str, person: str
) -> None:
    assert in_situ_of(log.find(gun)) is None
    with pytest.raises(FieldErrors, match="say why it is not left where it is"):
        decide_to_raise(log, gun, " ", by=person, on="2026-05-01", author="recorder")
    with pytest.raises(FactError, match="raise_decided_by: expected the id of a named person"):
        decide_to_raise(log, gun, "scour", by="director", on="2026-05-01", author="recorder")
    decide_to_raise(
        log,
        gun,
        "scour has bared it",
        by=person,
        on="2026-05-01",
        author="recorder",
        alternatives="sandbags: moved twice",
    )
    assert in_situ_of(log.find(gun)) == "scour has bared it"
    with pytest.raises(FieldErrors, match="reason"):
        decide_to_raise(log, gun, "anchors drag there", by=person, on="2026-05-01", author="recorder")


def test_the_hazards_of_a_find_are_asked_of_finds_only(log: Logbook) -> None:
    piece = log.append("gear.listed", None, {"kind": "hook", "identity": "H"}, author="recorder").subject
    with pytest.raises(UnknownSubjectError, match="no find with the id"):
        log.append("find.hazard", piece, {"hazard_charge": {"answer": "present"}}, author="recorder")
