"""A worked crate, from its body file and rig file through the whole seaway answer.

All values: own calculation of one crate by DNV-RP-H103 section 4.3 and 4.4 (formulas from memory, verify), with g 9.81.
"""

from __future__ import annotations

import numpy as np
import pytest

from oakum.lift import parse_body, weighing_of
from oakum.lift.raising import parse_rig
from oakum.lift.seaway import SeawayInputs, seaway_answer, seaway_question
from oakum.lift.splash import case_forces, limit_curve, load_cases, simplified, wave_motion

CRATE = """
title = "Crate"
water = "1025 kg/m3"
[[part]]
name = "crate"
shape = "box"
length = "2 m"
width = "1.2 m"
height = "0.8 m"
density = "1400 kg/m3"
place = { z = "0 m" }
[[part]]
name = "well"
hole = true
in = "crate"
shape = "box"
length = "1 m"
width = "1.15 m"
height = "0.8 m"
place = { z = "0 m" }
filled = "open"
"""
RIG = """
title = "Crate on two legs"
cell_unit = "kg"
[hook]
place = "over the hanging point"
height = "2 m"
[[leg]]
name = "fore"
at = { x = "1 m", y = "0 m", z = "0.8 m" }
[[leg]]
name = "aft"
at = { x = "-1 m", y = "0 m", z = "0.8 m" }
[seaway]
hs = "0.5 m"
tz = "4 s"
hoist_speed = "0.25 m/s"
line = { stiffness = { force = "200 kN", stretch = "1 m" } }
tip = { how = "per height", hs = "0.5 m", motion = "0.25 m", speed = "0.3 m/s", acceleration = "0.4 m/s2" }
[[seaway.part]]
name = "object"
open = "20 %"
waterplane = "1.92 m2"
"""


def inputs(rig: str = RIG) -> SeawayInputs:
    found = weighing_of(parse_body(CRATE), rng=np.random.default_rng(1), draws=100)
    sea = parse_rig(rig).sea
    assert sea is not None
    return SeawayInputs(found.sums, found.use, found.slack, sea, hook_kg=3000.0)


def just_under(asked):
    return tuple(c for c in load_cases(asked.body) if c.kind == "just under")


def test_the_crates_forces_come_out_of_its_files() -> None:
    """Added mass 1804.5 kg, F_M 3117, F_D 2811, F_rho 9938, F_hyd 7378, static 3679 N."""
    asked = seaway_question(inputs())
    assert asked.tip is not None
    assert asked.body.added_m3 * 1025.0 == pytest.approx(1804.5, rel=2e-3)
    assert asked.body.volume_m3 == pytest.approx(1.0) and asked.body.mass_kg[0] == pytest.approx(1400.0)
    (case,) = just_under(asked)
    tip = asked.tip.amplitudes(np.array(0.5), 4.0)
    found = case_forces(case, asked.body, tip, wave_motion(np.array(0.5), 4.0, asked.water), asked.water, 0.25)
    assert found.mass_n[0] == pytest.approx(3117, rel=2e-3)
    assert float(found.drag_n) == pytest.approx(2811, rel=2e-3)
    assert float(found.buoyancy_n) == pytest.approx(9938, rel=2e-3)
    assert found.hydro_n[0] == pytest.approx(7378, rel=2e-3)
    assert found.least_n[0] == pytest.approx(3679, rel=2e-3)


def test_the_first_objection_of_the_crate_appears_at_its_height() -> None:
    """Tip 0.5 Hs, 0.6 Hs/s, 0.8 Hs/s2, without slam: the line may go slack from Hs 0.2309 m on."""
    asked = seaway_question(inputs())
    point = limit_curve(asked, [4.0], just_under(asked)).points[0]
    assert point.hs_m == pytest.approx(0.2309, abs=5e-5)
    whole = seaway_answer(inputs(RIG + 'slam_area = "0.0001 m2"\n'))
    assert whole.curve is not None
    (at,) = (p for p in whole.curve.points if p.tz_s == 4.0)
    assert at.hs_m == pytest.approx(0.2309, abs=2e-4)
    assert at.objection == 'the line may go slack with "object" just under' and at.skipper_m is not None
    assert "the slack line fails first, at Hs 0.23 m" in whole.first and "the plan has Hs 0.50 m" in whole.first


def test_light_bulky_crates_fail_on_the_slack_line() -> None:
    """Ratio of hydrodynamic to static force just under: 0.39, 0.58, 0.78, 1.17, 2.0 at Hs 0.1 to 0.5 m.

    Own calculation, tip motion in proportion to the height.
    """
    asked = seaway_question(inputs())
    for hs, ratio in ((0.1, 0.39), (0.15, 0.58), (0.2, 0.78), (0.3, 1.17), (0.5, 2.0)):
        case = next(c for c in simplified(asked, hs, 4.0).cases if c.kind == "just under")
        assert case.slack_ratio == pytest.approx(ratio, abs=0.006)
