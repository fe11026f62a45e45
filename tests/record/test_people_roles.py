"""People of a lift: competences that lapse and can be forgotten, roles given, confirmed, and held on the day."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from oakum.desk.finds.entering import FieldErrors, settle
from oakum.desk.people import enter_competence, give_role, roles_of
from oakum.lift.raising import RoleHeld, example_rig, parse_rig
from oakum.record import NEVER_LAPSES, FactError, Logbook, UnknownSubjectError
from oakum.record.finds.questions import value_words

DAY = date(2026, 6, 1)
RIG = parse_rig(
    example_rig()
    + '\n[[role]]\nrole = "winch hand"\nneeds = ["winch", "first aid"]\nduty = "Winches."\nin_water = "no"\n'
)


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


@pytest.fixture
def find(log: Logbook) -> str:
    return log.append("find.entered", None, {"title": "anchor"}, author="recorder").subject


@pytest.fixture
def person(log: Logbook) -> str:
    return log.add_person("Somebody Invented", "volunteer").id


def held(log: Logbook, find: str, role: str, on: date = DAY) -> RoleHeld:
    people = {one.id: one for one in log.people()}
    return next(one for one in roles_of(log.find(find), people, RIG, on) if one.role == role)


def test_a_competence_is_kept_with_its_last_day_and_replaced_by_a_newer_one(log: Logbook, person: str) -> None:
    enter_competence(log, person, "Fit  to dive", until="2026-06-30", evidence="card in the hut")
    enter_competence(log, person, "fit to dive", until="2027-06-30")
    (only,) = log.people()[0].competences
    assert (only.competence, only.until, only.evidence) == ("fit to dive", "2027-06-30", None)
    assert only.holds_on("2027-06-30") and only.holds_on("2027-07-01") is False
    assert log.people()[0].competence("FIT TO DIVE") == only and log.people()[0].competence("cook") is None
    assert log.remove_competence(person, "Fit to Dive") and not log.remove_competence(person, "fit to dive")


@pytest.mark.parametrize(
    ("until", "holds"), [("", None), (NEVER_LAPSES, True), ("2026-05-31", False), ("2026-06-01", True)]
)
def test_an_empty_date_is_not_known(log: Logbook, person: str, until: str, holds: bool | None) -> None:
    assert enter_competence(log, person, "winch", until=until).holds_on("2026-06-01") is holds


@pytest.mark.parametrize(
    ("competence", "until", "told"),
    [
        ("", "2026-06-01", "needs a name of up to 100 characters, such as lift supervisor"),
        ("winch", "next year", "year-month-day, such as 2026-06-03, or \"does not lapse\""),
        ("winch", "2026-02-30", "no day of the calendar"),
    ],
)
def test_what_cannot_be_kept_is_told(log: Logbook, person: str, competence: str, until: str, told: str) -> None:
    with pytest.raises(FactError, match=told):
        enter_competence(log, person, competence, until=until)
    assert log.people()[0].competences == ()


def test_nobody_who_is_not_registered_gets_a_competence_or_a_role(log: Logbook, find: str) -> None:
    with pytest.raises(UnknownSubjectError, match="Nobody with the id p-00000000"):
        enter_competence(log, "p-00000000", "winch", until="")
    with pytest.raises(UnknownSubjectError, match="nobody with the id p-00000000 is registered"):
        give_role(log, find, "winch hand", "p-00000000", author="recorder")
    with pytest.raises(FactError, match="expected the id of a named person"):
        give_role(log, find, "winch hand", "Jane Roe", author="recorder")
    assert not any(entry.kind == "role.confirmed" for entry in log.entries())


def test_erasing_a_person_erases_their_competences_in_the_file_and_leaves_the_log(
    log: Logbook, find: str, person: str
) -> None:
    enter_competence(log, person, "shotfirer of powder", until="2026-12-31", evidence="paper of the quarry")
    give_role(log, find, "winch hand", person, author="recorder", confirmed=True, in_water=False)
    log.erase_person(person)
    with closing(sqlite3.connect(log.path)) as raw:
        assert raw.execute("SELECT count(*) FROM competence").fetchone() == (0,)
    content = log.path.read_bytes()
    assert not any(text in content for text in (b"Somebody Invented", b"shotfirer", b"of the quarry"))
    assert log.check().ok and "is not registered here" in str(held(log, find, "winch hand").objection)


def test_the_log_itself_never_holds_a_name_or_a_competence(log: Logbook, find: str, person: str) -> None:
    enter_competence(log, person, "winch", until="2026-12-31")
    give_role(log, find, "winch hand", person, author="recorder", confirmed=True)
    text = str([(entry.author, entry.body) for entry in log.entries()])
    assert "Somebody" not in text and "'winch'" not in text and person in text


def test_a_role_is_held_with_the_earliest_end_of_what_it_needs(log: Logbook, find: str, person: str) -> None:
    enter_competence(log, person, "winch", until="2026-12-31")
    enter_competence(log, person, "first aid", until="2026-09-30")
    give_role(log, find, "Winch hand", person, author="recorder", confirmed=True, in_water=False)
    role = held(log, find, "Winch hand")
    assert (role.holds_until, role.confirmed, role.in_water) == ("2026-09-30", True, False)
    assert role.needs == ("winch", "first aid") and role.objection is None


@pytest.mark.parametrize(
    ("first_aid", "told"),
    [
        (None, 'no competence "first aid" is known of who holds it'),
        ("", 'until when the competence "first aid" holds is not known'),
        ("2026-05-31", 'the competence "first aid" of who holds it lapsed on 2026-05-31'),
    ],
)
def test_a_competence_that_lapsed_or_is_not_known_is_an_objection(
    log: Logbook, find: str, person: str, first_aid: str | None, told: str
) -> None:
    enter_competence(log, person, "winch", until=NEVER_LAPSES)
    if first_aid is not None:
        enter_competence(log, person, "first aid", until=first_aid)
    give_role(log, find, "winch hand", person, author="recorder", confirmed=True, in_water=False)
    role = held(log, find, "winch hand")
    assert role.objection == f"winch hand: {told}"
    assert role.holds_until == (first_aid or None)


def test_a_role_not_confirmed_is_not_known_and_confirming_it_needs_no_reason(
    log: Logbook, find: str, person: str
) -> None:
    give_role(log, find, "winch hand", person, author="recorder")
    assert held(log, find, "winch hand").confirmed is None
    give_role(log, find, "winch hand", person, author=person, confirmed=True, in_water=False)
    assert held(log, find, "winch hand").confirmed is True
    with pytest.raises(FieldErrors, match="why the old value no longer holds"):
        give_role(log, find, "winch hand", person, author=person, confirmed=False)
    give_role(log, find, "winch hand", person, author=person, confirmed=False, reason="has a cold")
    assert held(log, find, "winch hand").confirmed is False


def test_another_person_in_a_role_needs_a_reason(log: Logbook, find: str, person: str) -> None:
    other = log.add_person("Somebody Else", "volunteer").id
    give_role(log, find, "winch hand", person, author="recorder", confirmed=True)
    with pytest.raises(FieldErrors, match="reason"):
        give_role(log, find, "winch hand", other, author="recorder", confirmed=True)
    give_role(log, find, "winch hand", other, author="recorder", confirmed=True, reason="first one is ill")
    assert held(log, find, "winch hand").person == other and not log.open_questions()


def test_two_stations_that_name_two_people_for_one_role_are_an_open_question(tmp_path: Path) -> None:
    hut = Logbook.create(tmp_path / "hut", "Tolmarren", station="hut")
    lab = Logbook.create(tmp_path / "lab", "Tolmarren", station="lab", numbers=(5000, 5999))
    find = hut.append("find.entered", None, {"title": "anchor"}, author="recorder").subject
    lab.receive(hut.entries())
    for log in (hut, lab):
        give_role(log, find, "winch hand", log.add_person("Somebody", "volunteer").id, author="recorder")
    hut.receive(entry for entry in lab.entries() if entry.station == lab.station)
    assert [question.key for question in hut.open_questions()] == ["field:role_winch_hand"]
    assert "entries differ about who holds it" in str(held(hut, find, "winch hand").objection)
    (question,) = hut.open_questions()
    first = f"person: {question.values[0]['person']}; role: winch hand"
    assert value_words(question.values[0]) == first and first in question.words()
    person = hut.people()[0].id
    settle(hut, question, first, author=person, reason="asked both")
    assert hut.open_questions() == () and held(hut, find, "winch hand").person == question.values[0]["person"]


def test_the_field_of_a_role_must_be_that_of_its_name(log: Logbook, find: str, person: str) -> None:
    body = {"role_winch_hand": {"role": "lift leader", "person": person}}
    with pytest.raises(FactError, match="whose field is role_lift_leader"):
        log.append("role.confirmed", find, body, author="recorder")
    with pytest.raises(FactError, match="role_winch_hand: person missing"):
        log.append("role.confirmed", find, {"role_winch_hand": {"role": "winch hand"}}, author="recorder")
    with pytest.raises(FactError, match="nothing is said"):
        log.append("role.confirmed", find, {}, author="recorder")
    with pytest.raises(FactError, match="role_NAME"):
        log.append("role.confirmed", find, {"title": "x"}, author="recorder")
    with pytest.raises(FieldErrors, match="say which role"):
        give_role(log, find, "  ", person, author="recorder")
