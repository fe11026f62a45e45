"""The frame of a cradle in the weighing: it counts in every state, and is taken off what a load cell read."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.desk.lifts.weigh import weighing_text
from oakum.ground.estimate import exact, normal
from oakum.lift import Body, CellReading, Weighing, parse_body, report_dict, weighing_of
from oakum.lift.body.model import Part
from oakum.lift.cradle import (
    Frame,
    Member,
    frame_numbers,
    frame_parts,
    parse_cradle,
    rectangle,
    starting_cradle,
    steel_grade,
    timber_grade,
)
from oakum.lift.cradle.sections import tube
from oakum.lift.weights.sums import summed, without_frame

WATER = 1027.0
BOX = """
title = "Crusted block"
water = "1027 kg/m3"
hook_above_top = "2 m"
[[part]]
name = "block"
shape = "box"
length = "1.2 m"
width = "0.8 m"
height = "0.5 m"
density = "2400 ± 80 kg/m3"
coat = { density = "1900..2900 kg/m3", material = "crust", thickness = "10..40..100 mm", covers = "100 %" }
"""
BEAM = rectangle(0.1, 0.15)
OAK = timber_grade("C24")


def frame(below_m: float = 0.075) -> Frame:
    """Return two runners and two bearers, the bearers' top `below_m` above their axis."""
    members = [
        Member(f"runner {i}", "runner", BEAM, OAK, (-0.9, y, -0.15), (0.9, y, -0.15))
        for i, y in enumerate((-0.3, 0.3), 1)
    ]
    members += [
        Member(f"bearer {i}", "bearer", BEAM, OAK, (x, -0.5, 0.0), (x, 0.5, 0.0))
        for i, x in enumerate((-0.5, 0.5), 1)
    ]
    return Frame("two and two", tuple(members))


PARTS = frame_parts(frame(), (0.0, 0.0, -0.2))


def weighed(*readings: CellReading, parts: tuple[Part, ...] = PARTS, body: Body | None = None) -> Weighing:
    return weighing_of(
        body or parse_body(BOX), rng=np.random.default_rng(5), draws=6000, readings=readings, frame=parts
    )


def test_the_frame_counts_in_every_state_and_leaves_the_draws_of_the_find_as_they_were() -> None:
    alone, framed = weighed(parts=()), weighed()
    sums, find = framed.sums, without_frame(framed.sums)
    np.testing.assert_array_equal(find.submerged_kg, alone.sums.submerged_kg)
    np.testing.assert_array_equal(find.mass_kg, alone.sums.mass_kg)
    np.testing.assert_allclose(sums.submerged_kg, find.submerged_kg + sums.frame_submerged_kg)
    np.testing.assert_allclose(sums.mass_kg + sums.water_clear_kg, find.mass_kg + sums.frame_clear_kg)
    low, high = frame_numbers(frame(), WATER).mass_kg
    share = framed.report.frame
    assert share is not None and alone.report.frame is None
    assert share.clear_kg.p5 == pytest.approx(low, rel=0.01)
    assert share.clear_kg.p95 == pytest.approx(high, rel=0.01)
    deck = framed.report.state("deck").load_kg.mean - alone.report.state("deck").load_kg.mean
    assert deck == pytest.approx(share.clear_kg.mean, rel=1e-6)
    assert len(sums.submerged_kg) == len(alone.sums.submerged_kg) == 6000


def test_the_mass_of_the_object_is_without_the_frame() -> None:
    assert weighed().report.mass_kg == weighed(parts=()).report.mass_kg


def test_the_report_says_how_much_of_the_hook_load_is_frame() -> None:
    report = weighed().report
    assert report.frame is not None
    assert report.frame.clear_kg.words() in report.state("clear").explanation
    assert report.frame.submerged_kg.words() in report.state("submerged").explanation
    assert "frame" not in weighed(parts=()).report.state("clear").explanation
    told = report_dict(report)["frame"]
    assert told["clear_kg"]["p95"] == report.frame.clear_kg.p95 and "under water" in told["words"]
    assert any("scale of the tape does not stretch it" in a for a in report.assumptions)
    assert {p.role for p in report.parts if p.name.startswith("frame: ")} == {"crate"}


def test_the_tape_of_the_find_does_not_stretch_the_frame() -> None:
    body = replace(parse_body(BOX), tape_scale=normal(1.0, 0.2, "tape"))
    steel = tuple(replace(p, stuff=replace(p.stuff, density_kg_m3=exact(2000.0))) for p in PARTS if p.stuff)
    made = weighed(parts=steel, body=body).sums
    assert np.ptp(made.frame_submerged_kg) < 1e-9 < np.ptp(without_frame(made).volume_m3)


def test_a_reading_of_the_find_alone_says_the_same_with_a_cradle_as_without() -> None:
    kg = weighed(parts=()).report.state("submerged").load_kg.p95
    alone = weighed(CellReading(kg, 12.0, "hung alone"), parts=())
    framed = weighed(CellReading(kg, 12.0, "hung alone", with_frame=False))
    assert framed.report.conditioning is not None and alone.report.conditioning is not None
    assert framed.report.conditioning.after_kg == alone.report.conditioning.after_kg
    assert not any("frame of the cradle hung" in q for q in framed.report.open_questions)
    share = framed.report.frame
    assert share is not None
    gain = framed.report.state("submerged").load_kg.mean - alone.report.state("submerged").load_kg.mean
    assert gain == pytest.approx(share.submerged_kg.mean, rel=1e-6)


def test_what_the_frame_weighs_under_water_is_taken_off_a_reading_it_hung_with() -> None:
    alone, bare = weighed(parts=()), weighed()
    kg = alone.report.state("submerged").load_kg.p95
    share = bare.report.frame
    assert share is not None
    with_it = weighed(CellReading(kg + share.submerged_kg.best, 12.0, "with it", with_frame=True))
    without = weighed(CellReading(kg, 12.0, "alone", with_frame=False))
    a, b = (w.report.state("clear").load_kg for w in (with_it, without))
    assert a.best == pytest.approx(b.best, rel=0.01)
    assert a.sd > b.sd  # what is not known of the frame is not known of the find either
    done = with_it.report.conditioning
    assert done is not None and done.reading.rigging_kg == pytest.approx(share.submerged_kg.best)


def test_not_known_whether_the_frame_hung_there_each_check_takes_the_worse() -> None:
    steel = steel_grade("S235")
    bars = tuple(
        Member(f"bar {i}", "bearer", tube(0.08, 0.08, 0.005), steel, (x, -0.5, 0.0), (x, 0.5, 0.0), ends="open")
        for i, x in enumerate((-0.4, 0.4), 1)
    )
    parts = frame_parts(Frame("bars", bars), (0.0, 0.0, -0.2))
    kg = weighed(parts=()).report.state("submerged").load_kg.best
    unsaid = weighed(CellReading(kg, 15.0, "640 kg"), parts=parts)
    hung, alone = (
        weighed(CellReading(kg, 15.0, "640 kg", with_frame=said), parts=parts) for said in (True, False)
    )
    assert any('"640 kg"' in q and "frame of the cradle hung" in q for q in unsaid.report.open_questions)
    assert unsaid.report.state("clear").load_kg == alone.report.state("clear").load_kg
    assert unsaid.use.weights is not None and hung.use.weights is not None
    assert unsaid.slack is not unsaid.use and unsaid.slack.weights is not None
    np.testing.assert_allclose(unsaid.slack.weights, hung.use.weights)


def test_a_reading_needs_no_word_of_a_frame_where_there_is_none() -> None:
    report = weighed(CellReading(640.0, 5.0, "640 kg"), parts=()).report
    assert not any("frame" in q for q in report.open_questions)


def test_a_frame_that_stands_in_the_find_is_objected_to() -> None:
    through = frame_parts(frame(), (0.0, 0.0, 0.2))
    found = [o for o in weighed(parts=through).report.objections if "stand in each other" in o]
    assert len(found) == 4 and all("frame: " in o and '"block"' in o for o in found)
    assert not [o for o in weighed().report.objections if "overlap" in o or "stand in" in o]


def test_two_parts_of_one_name_are_refused() -> None:
    body = parse_body(BOX.replace('name = "block"', 'name = "frame: bearer 1"'))
    with pytest.raises(ValueError, match="both have a part named frame: bearer 1"):
        weighed(body=body)


def test_without_a_frame_the_sums_of_the_find_are_the_sums() -> None:
    sums = weighed(parts=()).sums
    assert without_frame(sums) is sums and not sums.frame_submerged_kg.any()
    assert summed(sums.drawn).frame == frozenset()


def test_a_crate_in_the_body_beside_the_frame_of_a_cradle_is_asked_about() -> None:
    cradle = parse_cradle(starting_cradle("frame"))
    tray = ('name = "tray"', 'role = "crate"', 'shape = "lump"', 'mass = "40 kg"', 'material = "steel"')
    crated = "\n".join((BOX, 'place = { z = "0 m" }', "[[part]]", *tray, 'place = { z = "-0.1 m" }', ""))
    asked = [q for q in weighing_text(crated, cradle=cradle).report.open_questions if "both count" in q]
    assert len(asked) == 1 and '"tray"' in asked[0]
    assert not any("both count" in q for q in weighing_text(BOX, cradle=cradle).report.open_questions)
