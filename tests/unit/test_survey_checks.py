"""Readings held against each other: triangles, depths, the blame, the water level."""

from __future__ import annotations

import math

import pytest

from oakum.desk.seabed.known import Known
from oakum.desk.seabed.proposals import ProposedReading
from oakum.desk.seabed.triangles import Tapes, blamed
from oakum.desk.seabed.typed import Slate, proposed
from oakum.desk.seabed.water import LONGEST_GAP_S, Series, seconds_of
from oakum.seabed.network import Depth, Site, Tape, TapeMeasure

PLACES = {"A": (0.0, 0.0, -12.0), "B": (5.2, 0.0, -12.3), "C": (5.0, 4.1, -12.1), "D": (0.3, 4.0, -11.8)}


def site(*more: Tape | Depth, rejected: frozenset[str] = frozenset()) -> Site:
    names = list(PLACES)
    tapes = [
        Tape(id=f"t{a}{b}", a=a, b=b, length_m=math.dist(PLACES[a], PLACES[b]))
        for i, a in enumerate(names)
        for b in names[i + 1 :]
    ]
    return Site(
        observations=(*tapes, *more), tapes=(TapeMeasure(name="T1", longest_m=30.0),), rejected=rejected
    )


def asked(known: Known, what: str = "tape", **typed: str) -> ProposedReading:
    one = proposed(what, {key.rstrip("_"): value for key, value in typed.items()}, Slate())
    return known.asked(known.named(one, {}), {})


def test_a_length_no_triangle_allows_is_asked_about_with_the_reason() -> None:
    # AB 3.1, BC 4.3: by the triangle inequality AC is within 1.2 and 7.4 m (Euclid, Elements I.20).
    known = Known(
        Site(observations=(Tape(id="1", a="A", b="B", length_m=3.1), Tape(id="2", a="B", b="C", length_m=4.3)))
    )
    one = asked(known, from_="A", to="C", value="9.2")
    assert one.status == "look" and one.doubts[0].field == "value"
    assert one.messages == ("A–C is 9.20 m, but A–B and B–C allow 1.2 to 7.4 m.",)
    assert asked(known, from_="A", to="C", value="7.3").status == "ready"
    assert asked(known, from_="C", to="A", value="1.0").status == "look"


def test_the_same_pair_read_otherwise_and_feet_in_a_field_of_metres_are_asked_about() -> None:
    known = Known(site())
    should = math.dist(PLACES["A"], PLACES["C"])
    assert asked(known, from_="C", to="A", value=f"{should + 0.05:.2f}").status == "ready"
    one = asked(known, from_="C", to="A", value=f"{should + 1.0:.2f}")
    assert "it was read as 6.47 m before (tAC)" in one.messages[0]
    feet = asked(known, from_="C", to="A", value=f"{should / 0.3048:.2f}")
    assert "Read as feet (6.47 m) it would fit." in feet.messages[0]


def test_a_rejected_tape_no_longer_accuses() -> None:
    wrong = Tape(id="x", a="A", b="E", length_m=99.0)
    known = Known(site(wrong, rejected=frozenset({"x"})))
    assert asked(known, from_="B", to="E", value="4").status == "ready"


def test_depths_further_apart_than_their_tape_are_asked_about() -> None:
    known = Known(site(Depth(id="d", mark="A", depth_m=12.2, gauge="gauge", dive="7")))
    deep = proposed("depth", {"mark": "B", "value": "21.4"}, Slate(dive="7"))
    one = known.asked(deep, {})
    assert one.messages[0].startswith("B is 21.4 m deep and A 12.2 m, 9.2 m apart, but the tape")
    assert known.asked(proposed("depth", {"mark": "B", "value": "12.6"}, Slate(dive="7")), {}).status == "ready"


def test_a_name_spelt_alike_is_suggested_and_one_beyond_the_tape_is_said() -> None:
    known = Known(site())
    assert "a is not a mark yet, but A is" in asked(known, from_="a", to="Z", value="3").messages[0]
    assert asked(known, from_="A", to="Z", value="3").status == "ready"
    assert "beyond the end of tape T1 (30 m)" in asked(known, from_="A", to="Z", value="41", with_="T1").messages[0]


def test_of_a_page_the_tape_that_breaks_the_most_triangles_is_blamed_wherever_it_stands() -> None:
    tapes = Tapes()
    names = [f"M{i}" for i in range(6)]
    places = [(math.cos(i) * 5.0, math.sin(i) * 5.0, 0.0) for i in range(6)]
    for i in range(6):
        for j in range(i + 1, 6):
            wrong = 25.0 if (i, j) == (0, 1) else 0.0  # the first of the page
            tapes.add(names[i], names[j], math.dist(places[i], places[j]) + wrong, 0.025, f"row {i}{j}")
    assert tapes.doubted() == [("M0", "M1")]


def test_where_two_stand_in_equally_many_conflicts_both_are_named() -> None:
    assert blamed([("a", "b"), ("a", "c"), ("d", "e")]) == ["a", "d", "e"]
    assert blamed([]) == []


def test_the_water_level_is_read_between_two_levels_and_not_beyond_or_across_a_gap() -> None:
    start = seconds_of("2026-06-12T10:00", "+01:00")
    assert start == seconds_of("2026-06-12T09:00", "Z") == seconds_of("2026-06-12T10:00", "Europe/London")
    series = Series((start, start + 1800.0, start + 1800.0 + LONGEST_GAP_S + 1), (0.2, 0.5, 2.0))
    assert series.at(start + 600.0) == pytest.approx(0.3)
    assert series.at(start + 1800.0) == 0.5
    assert series.at(start - 1.0) is None and series.at(start + 3000.0) is None
    assert seconds_of("2026-06-12", "Z") is None


def test_the_gap_allowed_keeps_a_half_daily_tide_of_1_5_m_within_5_cm() -> None:
    # Own calculation: M2 speed 28.9841042 deg/h (Codiga 2011, read); worst chord error at the turn of the tide.
    speed, half = math.radians(28.9841042), 0.5 * LONGEST_GAP_S / 3600.0
    assert 1.5 * (1.0 - math.cos(speed * half)) < 0.05
