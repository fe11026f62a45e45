"""The report of a cradle: all its parts, what is refused while the rest stands, and advice where it carries."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from oakum.lift.cradle import (
    CradleLoads,
    CradlePlan,
    CradleReport,
    cradle_report,
    parse_cradle,
    starting_cradle,
)

G = 9.80665
TOUCHING = """title = "Log in straps"

[[state]]
state = "in water"
vertical_factor = "1.3"
vertical_source = "typed"

[[state]]
state = "clear"
vertical_factor = "1.2"
vertical_source = "typed"

[straps]
count = 4
width = "100 mm"
length = "1.2 m"
shape = "round"
radius = "0.3 m"
angle = "90 deg"
allowable = "25 kPa"

[[bearing]]
name = "underside"
area = "0.2 m2"
allowable = "8 kPa"

[[pad]]
name = "sole"
thickness = "50 mm"
area = "0.1 m2"
count = 4
share = "25 %"
closed_cells = "yes"
curve = [["10 %", "20 kPa"], ["25 %", "35 kPa"]]
density = "45 kg/m3"
"""


def loads(air_kg: float = 1200.0, water_kg: float = 350.0, at: tuple[float, float] = (0.0, 0.0)) -> CradleLoads:
    rng = np.random.default_rng(3)
    spread = rng.normal(1.0, 0.03, 400)
    centre = np.asarray(at) + rng.normal(0.0, 0.01, (400, 2))
    return CradleLoads(water_kg * G * spread, air_kg * G * spread, centre, centre, None, 1027.0, 14.0)


@cache
def frame_plan() -> CradlePlan:
    return parse_cradle(starting_cradle("frame"))


@cache
def whole() -> CradleReport:
    return cradle_report(frame_plan(), loads())


def test_every_state_and_part_is_answered_and_the_hardest_check_comes_first() -> None:
    found = whole()
    assert found.frame is not None
    assert [s.key for s in found.frame.states] == ["in water", "clear", "on deck", "on lorry"]
    used = [c.utilisation or 0.0 for c in found.checks]
    assert used == sorted(used, reverse=True) and len(found.checks) > 100
    assert len({c.key for c in found.checks}) == len(found.checks)
    assert found.governing is found.checks[0]
    assert found.refused == () and found.verdict.startswith("objection: ")
    assert any("it tips" in o for o in found.objections)
    assert any("edit" in q for q in found.open_questions)
    assert found.cautions[0].startswith("Planning support only")


def test_the_edge_of_the_stands_is_reckoned_where_nobody_typed_it() -> None:
    check = next(c for c in whole().checks if c.key == "on lorry:tip")
    assert check.capacity == pytest.approx(0.6, abs=0.025)  # half of 1.2 m, less where the centre may lie
    typed = replace(frame_plan(), states=tuple(replace(s, edge_m=0.7) for s in frame_plan().states))
    assert not any("tips" in o for o in cradle_report(typed, loads()).objections)


def test_the_centre_of_the_find_is_counted_from_the_frames_own_origin() -> None:
    there = cradle_report(frame_plan(), loads(at=(0.1, 0.0))).frame
    here = cradle_report(replace(frame_plan(), at_m=(-1.1, -0.9, -0.29)), loads()).frame
    assert there is not None and here is not None
    for a, b in zip(there.state("clear").stands, here.state("clear").stands, strict=True):
        assert a.force_n == pytest.approx(b.force_n, rel=1e-9)


def test_a_floating_find_refuses_the_state_under_water_and_answers_the_rest() -> None:
    found = cradle_report(frame_plan(), loads(water_kg=-20.0))
    assert found.frame is not None and [s.key for s in found.frame.states] == ["clear", "on deck", "on lorry"]
    assert [part for part, _ in found.refused] == ["frame, in water"]
    assert any("may float" in o for o in found.objections)


def test_a_find_beside_its_beds_refuses_the_frame_and_answers_what_touches_it() -> None:
    found = cradle_report(frame_plan(), loads(at=(3.0, 0.0)))
    assert found.frame is None and len(found.refused) == 4
    assert all("tips" in why for _, why in found.refused)
    assert found.bearings and found.pads[0].air_pa is not None


def test_states_that_nobody_described_are_objections_or_questions() -> None:
    found = cradle_report(replace(frame_plan(), states=frame_plan().states[:1]), loads())
    assert any("hanging clear of the water is not described" in o for o in found.objections)
    assert any("on lorry" in q for q in found.open_questions)


def test_straps_carry_water_and_air_with_the_motion_of_each() -> None:
    found = cradle_report(parse_cradle(TOUCHING), loads())
    wet, dry = found.straps
    assert (wet.state, wet.factor, dry.state, dry.factor) == ("under water", 1.3, "in air", 1.2)
    ratio = dry.answer.tension_n.best / wet.answer.tension_n.best
    assert ratio == pytest.approx(1200.0 * 1.2 / (350.0 * 1.3), rel=1e-6)
    checks = {c.key: c for c in found.checks}
    assert "times 1.2 for motion" in checks["straps:in air"].basis
    assert checks["straps:in air"].objection and not checks["straps:under water"].objection


def test_a_bearing_surface_takes_the_weight_in_air_times_the_motion() -> None:
    check = cradle_report(parse_cradle(TOUCHING), loads()).bearings[0]
    most = float(np.quantile(loads().air_n, 0.95, method="hazen"))
    assert check.demand == pytest.approx(1.2 * most / 0.2, rel=1e-3)
    two = TOUCHING + '\n[[bearing]]\nname = "rim"\narea = "0.1 m2"\n'
    said = cradle_report(parse_cradle(two), loads()).objections
    assert any("rim: not known what share" in o for o in said)
    assert any("not known what its surface bears" in o for o in said)


def test_pads_shrink_at_depth_and_are_pressed_in_air() -> None:
    pad = cradle_report(parse_cradle(TOUCHING), loads()).pads[0]
    assert pad.depth is not None and pad.depth.gap_m is not None and 0.02 < pad.depth.gap_m[0] < 0.03
    assert pad.air_pa == pytest.approx(0.25 * 1.2 * 1200.0 * G * 1.05 / 0.1, rel=0.02)
    assert pad.air_strain is None  # 37 kPa, its curve ends at 35
    found = cradle_report(parse_cradle(TOUCHING), replace(loads(), depth_m=None))
    assert found.pads[0].depth is None and any("depth" in why for _, why in found.refused)
    assert any("beyond the 35 kPa" in o for o in found.objections)


def test_without_motion_nothing_is_added_and_that_is_said() -> None:
    found = cradle_report(parse_cradle(TOUCHING.replace('vertical_factor = "1.2"\n', "")), loads())
    said = [o for o in found.objections if "not known by how much motion adds" in o]
    assert len(said) == 2  # straps in air, bearing


def test_advice_carries_when_it_is_taken() -> None:
    found = cradle_report(parse_cradle(TOUCHING), loads())
    straps = next(a for a in found.advice if "straps instead of 4" in a)
    more = TOUCHING.replace("count = 4\nwidth", f"count = {straps.split()[0]}\nwidth")
    again = cradle_report(parse_cradle(more), loads())
    assert not any(c.objection for s in again.straps for c in s.answer.checks)
    area = next(a for a in found.advice if "m² instead of" in a).split(": ")[1].split()[0]
    assert not cradle_report(parse_cradle(TOUCHING.replace('"0.2 m2"', f'"{area} m2"')), loads()).bearings[0].objection


def test_stouter_timber_is_advised_where_a_member_bears_too_little() -> None:
    text = starting_cradle("frame").replace('grade = "C24"', 'grade = "C14"', 1)
    found = cradle_report(parse_cradle(text), loads(1400.0))
    said = next(a for a in found.advice if "instead of 100 x 150 mm" in a)
    assert "runner 1, runner 2" in said
    deeper = parse_cradle(text.replace('"100 x 150 mm"', f'"{said.partition(" instead")[0]}"'))
    frame = cradle_report(deeper, loads(1400.0)).frame
    assert frame is not None
    used = [m.utilisation for s in frame.states for m in s.members if m.name.startswith("runner")]
    assert max(used) <= 1.0


def test_a_platter_in_its_tray_has_no_objection_and_bars_too_far_apart_have() -> None:
    text = starting_cradle("tray")
    light = loads(1.1, 0.9, at=(0.0, 0.0))
    found = cradle_report(parse_cradle(text), light)
    assert found.objections == () and found.tray is not None
    assert found.verdict == "no objection found under these assumptions"
    wide = cradle_report(parse_cradle(text.replace('spacing = "80 mm"', 'spacing = "400 mm"')), light)
    assert any("sag between the bars" in o for o in wide.objections)
    assert any("bars at most 195 mm apart" in a for a in wide.advice)
    loose = cradle_report(parse_cradle(text.replace('spacing = "80 mm"\n', "")), light)
    assert loose.tray is None and any("how far apart the bars lie" in o for o in loose.objections)
    bare = cradle_report(parse_cradle(text.replace("in a tub of water", "unsupported")), light)
    assert any("never lifted out unsupported" in o for o in bare.objections)
