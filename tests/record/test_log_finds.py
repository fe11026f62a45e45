"""The life of finds: numbers, counts, parts, joins, samples, search, and weights counted once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from oakum.record import FactError, Logbook, NumberError, RecordError, UnknownSubjectError
from oakum.record.finds.masses import Weighed, tally
from oakum.record.finds.numbers import FindNumber


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren", numbers=(1, 6))


def enter(log: Logbook, **fields: Any) -> str:
    return log.append("find.entered", None, {"title": "jar", **fields}, author="recorder").subject


def own(running: int) -> str:
    return str(FindNumber.of("T", running))


def weigh(log: Logbook, find: str, value: str, covers: str | None = None) -> None:
    body = {
        "quantity": "mass",
        "state": "air",
        "text": f"{value} kg",
        "value": value,
        "unit": "kg",
        "sd": "0.1",
    }
    log.append("reading", find, body | ({"covers": covers} if covers else {}), author="conservator")


def test_numbers_come_from_the_block_one_after_another_until_it_is_used_up(log: Logbook) -> None:
    numbers = [log.find(enter(log)).number for _ in range(6)]
    assert [n[:6] for n in numbers if n] == [f"T-000{i}" for i in range(1, 7)]
    with pytest.raises(NumberError, match="used up"):
        enter(log)
    log.give_block("T", 100, 101, author="director")
    assert str(log.find(enter(log)).number).startswith("T-0100-")


def test_a_number_is_refused_when_taken_foreign_or_wrongly_copied(log: Logbook) -> None:
    third = log.append("find.entered", None, {"number": own(3).lower()}, author="recorder")
    assert third.body["number"] == own(3)
    for typed, words in ((own(3), "given before"), ("T-0003-*", "does not fit"), (own(7), "outside")):
        with pytest.raises((NumberError, RecordError), match=words):
            log.append("find.entered", None, {"number": typed}, author="recorder")
    assert str(log.find(enter(log)).number).startswith("T-0004-")
    with pytest.raises(FactError, match="not a field"):
        log.append("find.described", third.subject, {"number": own(5)}, author="recorder")


def test_a_block_that_overlaps_another_stations_is_refused(log: Logbook) -> None:
    log.give_block(
        "T",
        7,
        20,
        author="director",
        station=log.append(
            "station.opened", "laboratory-1", {"title": "laboratory"}, author="director"
        ).subject,
    )
    with pytest.raises(NumberError, match="no number may be given twice"):
        log.give_block("T", 20, 30, author="director")
    with pytest.raises(NumberError, match="outside"):
        log.append("find.entered", None, {"number": own(8)}, author="recorder")


def test_a_find_is_met_by_id_number_stem_and_earlier_number(log: Logbook) -> None:
    find = enter(log, earlier_numbers=["17/32 b", "K 4"])
    for way in (find, find.upper(), "T-0001-X", "t-0001", "T 0001 x", "17/32 b", "K 4"):
        assert log.find(way).id == find
    assert log.find(find).earlier_numbers == ("17/32 b", "K 4")
    with pytest.raises(NumberError, match="ends with X"):
        log.find("T-0001-7")
    with pytest.raises(UnknownSubjectError, match="T-0002"):
        log.find("T-0002")
    enter(log, earlier_numbers=["K 4"])
    with pytest.raises(RecordError, match="2 finds carry the number K 4"):
        log.find("K 4")


def test_a_concretion_that_is_opened_has_child_finds(log: Logbook) -> None:
    lump, shot, chain = enter(log), enter(log, count=40), enter(log)
    for child in (shot, chain):
        log.append("find.part_of", child, {"parent": lump}, author="conservator")
    assert [c.id for c in log.find(lump).children] == [shot, chain] and log.find(shot).count == 40
    parent = log.find(shot).parent
    assert parent is not None and parent.id == lump
    with pytest.raises(FactError, match="part of itself"):
        log.append("find.part_of", lump, {"parent": chain}, author="conservator")
    (first,) = log.entries(chain, kind="find.part_of")
    body = {"parent": None, "reason": "lay beside it"}
    log.append("find.part_of", chain, body, author="conservator", over=[first.id])
    assert [c.id for c in log.find(lump).children] == [shot]


def test_joined_sherds_are_one_object_and_keep_their_numbers(log: Logbook) -> None:
    a, b, c = enter(log), enter(log), enter(log)
    log.append("find.joined", a, {"other": b}, author="conservator")
    join = log.append("find.joined", c, {"other": b}, author="conservator")
    assert {line.number for line in log.find(a).joined} == {log.find(b).number, log.find(c).number}
    log.append("struck", c, {"reason": "edges do not meet"}, author="conservator", over=[join.id])
    assert [line.id for line in log.find(a).joined] == [b] and log.find(c).joined == ()
    with pytest.raises(FactError, match="itself"):
        log.append("find.joined", a, {"other": a}, author="conservator")


def test_samples_are_numbered_under_their_find(log: Logbook) -> None:
    find = enter(log)
    for purpose in ("wood species", "tree rings"):
        log.append("find.sample", None, {"of": find, "purpose": purpose}, author="conservator")
    assert [s.number for s in log.find(find).samples] == ["T-0001-X/S1", "T-0001-X/S2"]
    sample = log.find("t-0001-x/s2")
    assert sample.sample_of is not None and sample.sample_of.id == find
    assert [line.number for line in log.finds().lines] == ["T-0001-X", "T-0001-X/S1", "T-0001-X/S2"]
    log.append("struck", sample.id, {"reason": "dropped"}, author="conservator", over=[sample.history[0].id])
    with pytest.raises(FactError, match="next sample of this find has the number 3"):
        log.append("find.sample", None, {"of": find, "sample": 9}, author="conservator")


def test_no_weight_is_counted_twice(log: Logbook) -> None:
    lump, shot, a, b, lone, empty = (enter(log) for _ in range(6))
    log.append("find.part_of", shot, {"parent": lump}, author="conservator")
    log.append("find.joined", a, {"other": b}, author="conservator")
    weigh(log, lump, "10", "whole")
    weigh(log, shot, "3")
    weigh(log, a, "2", "alone")
    weigh(log, b, "1", "alone")
    weigh(log, lone, "5")
    log.append("find.sample", None, {"of": lone}, author="conservator")
    tally = log.total_mass("air")
    assert tally.total_kg == 18.0 and tally.unknown == (empty,) and not tally.unclear
    assert tally.sd_kg == pytest.approx(0.1 * 4**0.5)
    weigh(log, b, "3.1", "whole")
    assert log.total_mass("air").total_kg == pytest.approx(18.1)


def test_a_weight_that_does_not_say_what_it_covers_is_named_not_guessed(log: Logbook) -> None:
    lump, shot = enter(log), enter(log)
    log.append("find.part_of", shot, {"parent": lump}, author="conservator")
    weigh(log, lump, "10")
    weigh(log, shot, "3")
    tally = log.total_mass("air")
    assert tally.unclear == (lump,) and tally.total_kg == 3.0 and not tally.is_complete


def test_search_meets_every_word_and_takes_any_sign_as_text(log: Logbook) -> None:
    jar = enter(log, description="stoneware, salt glaze", earlier_numbers=["17/32"])
    shoe = enter(log, title="shoe", marks='cut "AB" (NEAR) title:x')
    assert [line.id for line in log.finds("stone glaz").lines] == [jar]
    assert [line.id for line in log.finds("T-0002").lines] == [shoe]
    assert [line.id for line in log.finds('"AB" (NEAR').lines] == [shoe]
    assert [line.id for line in log.finds("17/32").lines] == [jar]
    for odd in ('"', "NOT", "a OR", "title:", "(((", "*", "-", "\x00", "^jar AND", "'; DROP TABLE entry"):
        log.finds(odd)
    assert log.finds("***").lines == () and len(log.finds("  ").lines) == 2


def test_a_corrected_text_is_found_and_the_old_one_is_not(log: Logbook) -> None:
    find = enter(log, material="oak")
    (first,) = log.entries(find)
    log.append("find.described", find, {"material": "elm", "reason": "x"}, author="recorder", over=[first.id])
    assert log.finds("elm").lines and not log.finds("oak").lines


def test_the_register_is_paged_in_order_of_number(tmp_path: Path) -> None:
    log = Logbook.create(tmp_path, "Tolmarren", numbers=(8, 10_020))
    for _ in range(7):
        enter(log)
    log.append("find.entered", None, {"number": own(10_000)}, author="recorder")
    seen, after = [], None
    while True:
        page = log.finds("jar" if after is None else "", after=after, limit=3)
        seen += [line.number for line in page.lines]
        after = page.after
        if after is None:
            break
    assert [n.split("-")[1] for n in seen if n] == [f"{i:04d}" for i in range(8, 15)] + ["10000"]
    with pytest.raises(RecordError, match="first page"):
        log.finds(after="elsewhere")


def test_parts_in_a_circle_are_named_and_not_lost_from_the_sum() -> None:
    # Two merged copies can say that a is part of b and b part of a; the logbook itself refuses it.
    finds = [
        Weighed(id, parent, (), None, ()) for id, parent in (("a", "b"), ("b", "a"), ("c", "a"), ("d", None))
    ]
    assert tally(finds).unclear == ("a", "b", "c") and tally(finds).unknown == ("d",)
