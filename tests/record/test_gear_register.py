"""The gear register: one identity one piece, papers on the day, out of use and back, and what falls due."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from oakum.desk.finds.entering import FieldErrors, settle
from oakum.desk.gear.entering import (
    GearError,
    attach_certificate,
    bring_back,
    change_piece,
    list_piece,
    withdraw,
)
from oakum.desk.gear.standing import gear_register, gear_standing
from oakum.desk.today.due_gear import papers_due
from oakum.ground.errors import OakumError
from oakum.record import FactError, Logbook, RecordError, UnknownSubjectError

DAY = date(2026, 6, 1)
SOUND = {
    "identity": "K-01",
    "kind": "shackle",
    "wll": "3.25 t",
    "certificate": "C 4411",
    "certificate_from": "2025-01-01",
    "certificate_until": "2026-12-31",
    "inspected_on": "2026-02-01",
    "inspect_by": "2026-08-01",
}


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


def listed(log: Logbook, **typed: str) -> Any:
    return list_piece(
        log, {field: text for field, text in (SOUND | typed).items() if text}, author="recorder"
    )


def objection(log: Logbook, on: date = DAY, key: str = "K-01") -> str | None:
    return gear_register(log, on)[key].objection


def test_a_piece_with_sound_papers_has_no_objection_and_keeps_the_text_of_its_tag(log: Logbook) -> None:
    piece = listed(log)
    item = gear_register(log, DAY)["K-01"]
    assert item.objection is None and item.wll_kg == 3250.0 and item.wll_text == "3.25 t"
    assert piece.fields["wll"] == {"text": "3.25 t", "value": "3250", "unit": "kg"}
    assert (item.certificate_until, item.inspection_until) == ("2026-12-31", "2026-08-01")
    assert log.check().ok


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"wll": ""}, "no WLL from a tag; no tag, no rating"),
        ({"certificate": ""}, "no certificate is named"),
        ({"certificate_until": ""}, "how long its certificate holds is not known"),
        ({"certificate_until": "2026-05-31"}, "its certificate lapsed on 2026-05-31"),
        ({"certificate_from": "2026-07-01"}, "its certificate begins only on 2026-07-01"),
        ({"inspected_on": ""}, "when it was last inspected is not known"),
        ({"inspected_on": "2026-07-01"}, "its inspection (2026-07-01) lies after the day of use"),
        ({"inspect_by": ""}, "by when it must be inspected again is not known"),
        ({"inspect_by": "2026-05-31"}, "its inspection lapsed on 2026-05-31"),
    ],
)
def test_what_is_expired_or_not_known_is_an_objection(
    log: Logbook, typed: dict[str, str], told: str
) -> None:
    listed(log, **typed)
    assert objection(log) == f"K-01: {told}"


@pytest.mark.parametrize(("day", "holds"), [(date(2026, 8, 1), True), (date(2026, 8, 2), False)])
def test_a_paper_holds_through_its_last_day(log: Logbook, day: date, holds: bool) -> None:
    listed(log)
    assert (objection(log, day) is None) is holds


@pytest.mark.parametrize(
    ("field", "text", "told"),
    [
        ("wll", "2 ton", "more than one meaning: write t .1000 kg., long ton .2240 lb. or short ton"),
        ("wll", "2", "has no unit"),
        ("wll", "1..2 t", "a WLL is the one number on the tag"),
        ("wll", "2 ± 0.1 t", "a WLL is the one number on the tag"),
        ("wll", "0 kg", "more than zero"),
        ("wll", "2 m", "mass"),
        ("kind", "shakle", "'shakle' is no kind of gear; did you mean 'shackle'?"),
        ("inspect_by", "1/8/26", "year-month-day"),
        ("inspect_by", "2026-02-30", "no day of the calendar"),
        ("identity", "", "write what stands on the tag"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_field_and_nothing_is_entered(
    log: Logbook, field: str, text: str, told: str
) -> None:
    before = log.count()
    with pytest.raises(FieldErrors, match=told) as error:
        listed(log, **{field: text})
    assert set(error.value.wrong) == {field} and log.count() == before


def test_a_tag_in_kilonewtons_is_the_mass_that_weighs_as_much(log: Logbook) -> None:
    # Standard gravity 9.80665 m/s2: 3rd CGPM 1901 [memory, verify]
    listed(log, wll="32.5 kN")
    item = gear_register(log, DAY)["K-01"]
    assert item.wll_kg == pytest.approx(32_500 / 9.80665, rel=1e-12) and item.wll_text == "32.5 kN"


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"certificate_until": "2024-12-31"}, r"certificate ends \(2024-12-31\) before it begins \(2025-01-01\)"),
        ({"inspect_by": "2026-01-31"}, r"next inspection \(2026-01-31\) is due before the last one"),
    ],
)
def test_a_paper_that_ends_before_it_begins_is_refused(
    log: Logbook, typed: dict[str, str], told: str
) -> None:
    with pytest.raises(FactError, match=told):
        listed(log, **typed)


def test_a_paper_that_ends_before_it_begins_by_two_entries_is_an_objection(log: Logbook) -> None:
    piece = listed(log, certificate_from="")
    change_piece(log, piece.id, "certificate_from", "2027-01-01", author="recorder")
    assert "its certificate ends (2026-12-31) before it begins (2027-01-01)" in str(objection(log))


def test_two_pieces_of_one_kind_with_one_identity_are_refused(log: Logbook) -> None:
    listed(log)
    before = log.count()
    for twin in ("K-01", "k - 01"):
        with pytest.raises(FactError, match=r"a shackle with the identity .* already.*Look at both tags"):
            listed(log, identity=twin)
    other = listed(log, identity="K-02")
    with pytest.raises(FactError, match="already"):
        change_piece(log, other.id, "identity", "K-01", author="recorder", reason="misread")
    assert log.count() == before + 1


def test_a_struck_piece_gives_its_identity_free(log: Logbook) -> None:
    piece = listed(log)
    log.append("struck", piece.id, {"reason": "listed twice"}, author="recorder", over=[piece.history[0].id])
    assert log.gear() == () and len(log.gear(with_struck=True)) == 1
    assert listed(log).id != piece.id and log.check().ok


def test_one_batch_may_not_hold_two_pieces_with_one_identity_but_may_swap_marks(log: Logbook) -> None:
    from oakum.record import Draft

    body = {"kind": "hook", "identity": "H-1"}
    with pytest.raises(FactError, match="already"):
        log.append_many([Draft("gear.listed", None, body, "recorder") for _ in range(2)])
    a, b = listed(log, identity="A"), listed(log, identity="B")
    mark = [
        Draft("gear.described", x.id, {"identity": y, "reason": "swapped"}, "recorder", (x.history[0].id,))
        for x, y in ((a, "C"), (b, "A"), (a, "B"))
    ]
    with pytest.raises(FactError, match="already says 'C'"):
        log.append_many(mark)
    log.append_many(mark[:2])
    assert [piece.identity for piece in log.gear()] == ["A", "C"]


def test_one_identity_on_two_kinds_is_told_apart_by_kind(log: Logbook) -> None:
    listed(log, identity="12")
    listed(log, identity="12", kind="hook", wll="1 t")
    register = gear_register(log, DAY)
    assert register["shackle 12"].objection is None and register["hook 12"].wll_kg == 1000.0
    assert "write which is meant: hook 12 or shackle 12" in str(register["12"].objection)
    with pytest.raises(RecordError, match="Give kind and identity"):
        log.piece("12")
    assert log.piece("hook 12").kind == "hook"


def merged(tmp_path: Path) -> Logbook:
    """Two stations list a shackle of the same identity, each without knowing of the other; one takes in all."""
    hut, lab = (
        Logbook.create(tmp_path / at, "Tolmarren", station=at, numbers=numbers)
        for at, numbers in (("hut", (1, 99)), ("lab", (100, 199)))
    )
    for log, wll in ((hut, "3.25 t"), (lab, "2 t")):
        listed(log, wll=wll)
    hut.receive(entry for entry in lab.entries() if entry.station == lab.station)
    return hut


def test_across_merged_copies_one_identity_twice_is_an_open_question(tmp_path: Path) -> None:
    log = merged(tmp_path)
    (question,) = [one for one in log.open_questions() if one.key == "identity"]
    assert question.number == "shackle K-01" and "two pieces of gear carry this identity" in question.why
    assert set(question.values) == {piece.id for piece in log.gear()}
    with pytest.raises(OakumError, match="Two pieces carry this identity: mark one of them anew"):
        settle(log, question, "x", author="director", reason="x")
    item = gear_register(log, DAY)["K-01"]
    assert item.wll_kg == 2000.0 and "2 pieces of this kind carry this identity" in str(item.objection)
    change_piece(log, log.gear()[0].id, "identity", "K-01a", author="recorder", reason="marked anew")
    assert not [one for one in log.open_questions() if one.key == "identity"] and log.check().ok


def test_two_values_of_one_field_take_the_worse_until_a_named_person_settles_it(tmp_path: Path) -> None:
    hut = Logbook.create(tmp_path / "hut", "Tolmarren", station="hut")
    lab = Logbook.create(tmp_path / "lab", "Tolmarren", station="lab", numbers=(5000, 5999))
    piece = listed(hut)
    lab.receive(hut.entries())
    change_piece(hut, piece.id, "wll", "2 t", author="recorder", reason="tag cleaned")
    change_piece(lab, piece.id, "wll", "1.5 t", author="recorder", reason="read with a lens")
    hut.receive(entry for entry in lab.entries() if entry.station == lab.station)
    item = gear_register(hut, DAY)["K-01"]
    assert item.wll_kg == 1500.0
    assert "entries differ about the WLL (2 t / 1.5 t); a named person must settle it" in str(item.objection)
    (question,) = hut.open_questions()
    assert question.number == "shackle K-01"
    person = hut.add_person("Somebody Invented", "director").id
    with pytest.raises(FactError, match=r"wll: expected \{text, value, unit\}"):
        hut.append(
            "settled", piece.id, {"fields": {"wll": "2 t"}, "reason": "x"}, author=person, over=question.entries
        )
    with pytest.raises(FieldErrors, match="more than one meaning"):
        settle(hut, question, "2 ton", author=person, reason="both read it again")
    settle(hut, question, "1.75 t", author=person, reason="both read it again")
    assert objection(hut) is None and gear_register(hut, DAY)["K-01"].wll_kg == 1750.0


def test_a_withdrawn_piece_objects_until_a_named_person_brings_it_back(log: Logbook) -> None:
    piece = listed(log)
    person = log.add_person("Somebody Invented", "rigger").id
    with pytest.raises(GearError, match="is not withdrawn"):
        bring_back(log, piece.id, passed_by=person, reason="x", author="recorder")
    withdraw(log, piece.id, "pin bent", author="recorder")
    assert objection(log) == "K-01: withdrawn: pin bent"
    with pytest.raises(FieldErrors, match="why it may be used again"):
        bring_back(log, piece.id, passed_by=person, reason=" ", author="recorder")
    with pytest.raises(FactError, match="passed_by: expected the id of a named person"):
        bring_back(log, piece.id, passed_by="director", reason="new pin", author="recorder")
    with pytest.raises(UnknownSubjectError, match="nobody with the id p-00000000"):
        bring_back(log, piece.id, passed_by="p-00000000", reason="new pin", author="recorder")
    bring_back(log, piece.id, passed_by=person, reason="new pin", author="recorder")
    assert objection(log) is None
    withdraw(log, piece.id, "pin lost", author="recorder")
    assert objection(log) == "K-01: withdrawn: pin lost"
    bring_back(log, piece.id, passed_by=person, reason="third pin", author="recorder")
    assert objection(log) is None and not log.open_questions() and log.check().ok


def test_a_new_inspection_is_a_correction_with_a_reason_and_the_old_one_stays(log: Logbook) -> None:
    piece = listed(log, inspect_by="2026-05-01", inspected_on="2026-01-01")
    with pytest.raises(FieldErrors, match="say why the old value no longer holds"):
        change_piece(log, piece.id, "inspect_by", "2027-05-01", author="recorder")
    change_piece(log, piece.id, "inspect_by", "2027-05-01", author="recorder", reason="inspected again")
    assert objection(log) is None
    assert change_piece(log, piece.id, "inspect_by", "2027-05-01", author="recorder") is None
    assert len(log.piece("K-01").history) == 2


def test_a_piece_keeps_its_identity_and_the_subject_of_another_thing_is_no_piece(log: Logbook) -> None:
    piece = listed(log)
    with pytest.raises(FieldErrors, match="keeps its kind and identity"):
        change_piece(log, piece.id, "identity", "", author="recorder")
    find = log.append("find.entered", None, {"title": "jar"}, author="recorder").subject
    with pytest.raises(UnknownSubjectError, match="no piece of gear"):
        log.append("gear.described", find, {"where": "hut"}, author="recorder")
    with pytest.raises(FactError, match="id is that of something else"):
        log.append("gear.listed", find, {"kind": "hook", "identity": "H"}, author="recorder")
    with pytest.raises(FactError, match=r"described or correct|listed before"):
        log.append("gear.listed", piece.id, {"kind": "shackle", "identity": "K-01"}, author="recorder")


def test_the_certificate_is_kept_as_a_file_that_the_check_reads_again(log: Logbook) -> None:
    piece = list_piece(log, SOUND, author="recorder", certificate=("c4411.pdf", b"%PDF-1.7 first"))
    attach_certificate(log, piece.id, "c5000.pdf", b"%PDF-1.7 second", author="recorder")
    assert log.check_files().whole and log.check_files().checked == 2
    (log.files_folder / log.piece("K-01").fields["certificate_file"]).unlink()
    assert len(log.check_files().missing) == 1


def test_what_lapses_within_thirty_days_or_has_lapsed_is_due_earliest_first(log: Logbook) -> None:
    listed(log, inspect_by="2026-07-01")
    listed(log, identity="K-02", inspect_by="2026-07-02")
    listed(log, identity="K-03", certificate_until="2026-05-30", inspect_by="2026-06-02")
    out = listed(log, identity="K-04", inspect_by="2026-06-03")
    withdraw(log, out.id, "bent", author="recorder")
    person = log.add_person("Somebody Invented", "diver").id
    log.set_competence(person, "fit to dive", until="2026-06-01")
    log.set_competence(person, "lift leader", until="does not lapse")
    assert [one.words() for one in papers_due(log, DAY)] == [
        "shackle K-03: certificate lapsed on 2026-05-30",
        f"{person}: fit to dive holds until today",
        "shackle K-03: inspection holds until 2026-06-02, 1 day more",
        "shackle K-01: inspection holds until 2026-07-01, 30 days more",
    ]
    assert papers_due(log, DAY)[1].is_person


def test_three_hundred_pieces_stand_in_order(log: Logbook) -> None:
    from oakum.record import Draft

    log.append_many(
        Draft("gear.listed", None, {"kind": "ring", "identity": f"R-{n:03d}"}, "recorder")
        for n in reversed(range(300))
    )
    assert [one.piece.identity for one in gear_standing(log, DAY)] == [f"R-{n:03d}" for n in range(300)]
