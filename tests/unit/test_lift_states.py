"""The five weight states, the hanging points and the curves of small bodies that can be worked by hand."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest

from oakum.lift import WeightReport, load_at, parse_body, report_dict, weigh, weighing_of

TUB = """
title = "Tub with everything"
water = "1000 kg/m3"
hook_above_top = "2 m"

[[part]]
name = "tub"
shape = "box"
length = "1 m"
width = "1 m"
height = "1 m"
density = "2000 kg/m3"
place = { z = "0 m" }

[[part]]
name = "hollow"
hole = true
in = "tub"
shape = "box"
length = "0.5 m"
width = "0.5 m"
height = "0.8 m"
place = { x = "0.1 m", z = "0.2 m" }
filled = "water"
held = "yes"
drain_holes = { count = 2, diameter = "40 mm", height = "0.2 m", open_share = "50 %" }

[[part]]
name = "sand"
role = "sediment"
shape = "lump"
volume = "0.05 m3"
density = "2000 kg/m3"
stays = "40 %"
place = { z = "1 m" }

[[part]]
name = "frame"
role = "crate"
shape = "lump"
mass = "78.5 kg"
density = "7850 kg/m3"
place = { z = "-0.2 m" }

[[part]]
name = "slings"
role = "rigging"
shape = "lump"
mass = "15.7 kg"
density = "7850 kg/m3"
place = { z = "2 m" }
"""


def weighed(text: str, draws: int = 1000) -> WeightReport:
    return weigh(parse_body(text), rng=np.random.default_rng(1), draws=draws)


def load(report: WeightReport, key: str) -> float:
    return report.state(key).load_kg.best


def test_every_state_is_what_it_holds() -> None:
    report = weighed(TUB)
    stuff = 2000.0 * (1.0 - 0.2)  # box less hollow
    solid = stuff + 100.0 + 78.5 + 15.7
    displaced = 0.8 + 0.05 + 0.01 + 0.002
    assert load(report, "submerged") == pytest.approx(solid - 1000.0 * displaced)
    assert load(report, "seabed") == pytest.approx(solid - 1000.0 * displaced)
    assert load(report, "clear") == pytest.approx(solid + 200.0)
    # Sixty per cent of the sand runs out; water below the holes, a quarter of the hollow, stays.
    assert load(report, "drained") == pytest.approx(solid - 60.0 + 50.0)
    assert load(report, "deck") == pytest.approx(solid - 60.0 + 50.0 - 15.7)
    assert report.mass_kg.best == pytest.approx(stuff)
    assert report.breakout_kg is None
    assert any("bed is not described" in q for q in report.open_questions)


def test_states_stand_in_the_order_of_the_lift() -> None:
    assert [s.key for s in weighed(TUB).states] == ["seabed", "submerged", "clear", "drained", "deck"]
    assert all(s.explanation and s.title for s in weighed(TUB).states)


def test_the_curve_runs_from_submerged_to_clear() -> None:
    report = weighed(TUB)
    assert report.emergence.best[0] == pytest.approx(load(report, "submerged"))
    assert report.emergence.best[-1] == pytest.approx(load(report, "clear"))
    assert all(a <= b + 1e-9 for a, b in zip(report.emergence.best, report.emergence.best[1:], strict=False))


def test_load_at_half_depth_of_a_plain_box() -> None:
    text = """
title = "Box"
water = "1000 kg/m3"
[[part]]
name = "box"
shape = "box"
length = "1 m"
width = "1 m"
height = "1 m"
density = "3000 kg/m3"
"""
    weighing = weighing_of(parse_body(text), rng=np.random.default_rng(0), draws=100)
    for level, expected, share in (
        (-2.0, 2000.0, 1.0),
        (-0.5, 2500.0, 0.5),
        (-0.25, 2750.0, 0.25),
        (0.0, 3000.0, 0.0),
    ):
        found = load_at(weighing, level)
        assert found.best_kg == pytest.approx(expected)
        assert found.under_water == pytest.approx(share)
        assert load_at(weighing.report, level).best_kg == pytest.approx(expected, rel=2e-3)


def test_water_above_the_surface_hangs_on_the_hook_while_it_emerges() -> None:
    weighing = weighing_of(parse_body(TUB), rng=np.random.default_rng(0), draws=100)
    low = weighing.emergence.lowest_m
    # Water line at the middle of the hollow (z = 0.6): half its water is above it.
    found = load_at(weighing, low - 0.6).best_kg
    lumps = 78.5 - 10.0 + 15.7 + 100.0  # frame under; slings and sand above the line
    assert found == pytest.approx(1600.0 - 1000.0 * (0.6 - 0.1) + lumps + 100.0, rel=1e-6)


def test_draining_starts_clear_and_ends_drained_but_for_sediment() -> None:
    report = weighed(TUB)
    assert report.draining is not None
    assert report.draining.x[0] == 0.0
    assert report.draining.best[0] == pytest.approx(load(report, "clear"))
    assert report.draining.best[-1] == pytest.approx(load(report, "drained") + 60.0, rel=1e-3)
    assert list(report.draining.best) == sorted(report.draining.best, reverse=True)


def test_slow_hoisting_lets_water_out_before_the_body_is_clear() -> None:
    slow = weighed(TUB.replace('hook_above_top = "2 m"', 'hoist_speed = "0.002 m/s"'))
    fast = weighed(TUB.replace('hook_above_top = "2 m"', 'hoist_speed = "1 m/s"'))
    opening = 2 * math.pi / 4 * 0.04**2 * 0.5
    head = (0.002 * 0.25 / (0.61 * opening)) ** 2 / (2 * 9.80665)
    assert load(slow, "clear") == pytest.approx(load(fast, "clear") - 1000 * 0.25 * (0.6 - head), abs=1.0)
    assert load(fast, "clear") == pytest.approx(load(weighed(TUB), "clear"))


def test_water_without_holes_stays_and_is_asked_about() -> None:
    text = TUB[: TUB.index("drain_holes")] + TUB[TUB.index('[[part]]\nname = "sand"') :]
    report = weighed(text)
    assert report.draining is None
    assert any("has no drain holes" in q for q in report.open_questions)
    assert load(report, "drained") == pytest.approx(load(report, "clear") - 60.0)


def test_not_known_whether_water_is_held_is_an_objection_and_counted_full() -> None:
    report = weighed(TUB.replace('held = "yes"\n', ""))
    assert any('"hollow" holds its water' in o for o in report.objections)
    assert load(report, "clear") == pytest.approx(load(weighed(TUB), "clear"))


def test_no_more_than_half_of_an_opening_is_counted() -> None:
    half, all_open = weighed(TUB), weighed(TUB.replace('open_share = "50 %"', 'open_share = "100 %"'))
    assert half.draining is not None and all_open.draining is not None
    assert half.draining.x[-1] == pytest.approx(all_open.draining.x[-1])
    unsaid = weighed(TUB.replace(', open_share = "50 %"', ""))
    assert any("clogged; half is counted open" in q for q in unsaid.open_questions)


def test_hook_height_not_known_gives_no_tilt() -> None:
    report = weighed(TUB.replace('hook_above_top = "2 m"\n', ""))
    assert report.hanging.tilt_deg is None
    assert report.hanging.why_no_tilt == "hook height not known"
    assert report.hanging.swing_m is not None


def test_hanging_point_and_tilt_of_two_boxes_by_hand() -> None:
    text = """
title = "Oak with iron at one end"
water = "1000 kg/m3"
hook_above_top = "1.5 m"
[[part]]
name = "oak"
shape = "box"
length = "2 m"
width = "0.4 m"
height = "0.4 m"
density = "1200 kg/m3"
place = { x = "1 m" }
[[part]]
name = "iron"
shape = "box"
length = "0.2 m"
width = "0.4 m"
height = "0.4 m"
density = "7200 kg/m3"
place = { x = "2.1 m" }
"""
    report = weighed(text)
    oak, iron = 0.32 * 1200, 0.032 * 7200
    x_air = (oak * 1.0 + iron * 2.1) / (oak + iron)
    x_sub = ((oak - 320) * 1.0 + (iron - 32) * 2.1) / (oak + iron - 352)
    assert report.hanging.in_air.x_m.best == pytest.approx(x_air)
    assert report.hanging.submerged.x_m.best == pytest.approx(x_sub)
    assert report.hanging.swing_m is not None and report.hanging.tilt_deg is not None
    assert report.hanging.swing_m.best == pytest.approx(x_sub - x_air)
    assert report.hanging.tilt_deg.best == pytest.approx(
        math.degrees(math.atan((x_sub - x_air) / (0.2 + 1.5)))
    )


def test_wood_that_hardly_sinks_may_float_or_capsize() -> None:
    text = """
title = "Soft wood"
water = "1027 kg/m3"
hook_above_top = "2 m"
[[part]]
name = "plank"
shape = "plank"
length = "3 m"
width = "0.3 m"
thickness = "0.05 m"
material = "pine"
basic_density = "90..130 kg/m3"
"""
    report = weighed(text)
    assert report.hanging.tilt_deg is None and report.hanging.swing_m is None
    assert any("may float or capsize" in o for o in report.objections)
    assert report.hanging.why_no_tilt is not None and "5 %" in report.hanging.why_no_tilt


def test_a_hanging_point_outside_the_parts_may_float_or_capsize() -> None:
    text = """
title = "Float beside a weight"
water = "1000 kg/m3"
hook_above_top = "2 m"
[[part]]
name = "foam"
shape = "box"
length = "1 m"
width = "1 m"
height = "1 m"
density = "100 kg/m3"
place = { x = "-1 m" }
[[part]]
name = "lead"
shape = "box"
length = "0.5 m"
width = "0.5 m"
height = "0.5 m"
density = "11340 kg/m3"
place = { x = "0.5 m" }
"""
    report = weighed(text)
    assert report.hanging.tilt_deg is None
    assert any("may float or capsize" in o and "outside the parts" in o for o in report.objections)


def test_breakout_is_a_bound_on_the_seabed_only() -> None:
    bed = """
[bed]
kind = "clay"
shear_strength = "5 kPa"
base_area = "1 m2"
side_area = "2 m2"
adhesion = "50 %"
overburden = "10 cm"
overburden_area = "1 m2"
overburden_density = "1800 kg/m3"
"""
    head, parts = TUB.split("\n[[part]]", 1)
    report = weighed(head + bed + "\n[[part]]" + parts, 5000)
    assert report.breakout_kg is not None
    low, high = (5e3 * (factor * 1.0 + 0.5 * 2.0) / 9.80665 for factor in (6.0, 9.0))
    assert low < report.breakout_kg.p5 < report.breakout_kg.p95 < high
    assert load(report, "seabed") == pytest.approx(
        load(report, "submerged") + 80.0 + report.breakout_kg.best, rel=1e-3
    )
    assert "to be dug away" in report.state("seabed").explanation


@pytest.mark.parametrize("kind", ["sand", "silt"])
def test_no_bound_is_claimed_for_other_beds(kind: str) -> None:
    head, parts = TUB.split("\n[[part]]", 1)
    report = weighed(head + f'\n[bed]\nkind = "{kind}"\n\n[[part]]' + parts)
    assert report.breakout_kg is None
    assert any(f"breakout from {kind} is not computed" in q for q in report.open_questions)


def test_clay_without_its_strength_gives_no_bound() -> None:
    head, parts = TUB.split("\n[[part]]", 1)
    report = weighed(head + '\n[bed]\nkind = "clay"\nbase_area = "1 m2"\n\n[[part]]' + parts)
    assert report.breakout_kg is None
    assert any("shear_strength, side_area, adhesion of the bed not known" in q for q in report.open_questions)


def test_the_json_holds_the_same_numbers_with_units_in_the_keys() -> None:
    report = weighed(TUB)
    said = json.loads(json.dumps(report_dict(report), allow_nan=False))
    assert said["states"][2]["load_kg"]["best"] == load(report, "clear")
    assert said["hanging"]["tilt_deg"]["unit"] == "deg"
    assert said["draining"]["x"]["unit"] == "s"
    assert said["breakout_kg"] is None and said["verdict"] == report.verdict


def test_no_text_of_a_report_calls_anything_harmless() -> None:
    words = json.dumps(report_dict(weighed(TUB))).lower()
    assert "safe" not in words
    assert len(weighed(TUB).cautions) >= 6


def test_the_same_generator_gives_the_same_report() -> None:
    text = TUB.replace('"2000 kg/m3"', '"1900..2100 kg/m3"')
    assert report_dict(weighed(text)) == report_dict(weighed(text))


def test_the_width_is_put_down_to_its_causes() -> None:
    report = weighed(
        TUB.replace(
            'density = "2000 kg/m3"\nplace = { z = "0 m" }',
            'density = "1800..2200 kg/m3"\nplace = { z = "0 m" }',
        ),
        5000,
    )
    (driver,) = report.state("clear").load_kg.drivers
    assert driver.label == "density of tub" and driver.share > 0.95
