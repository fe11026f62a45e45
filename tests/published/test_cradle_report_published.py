"""The report of a cradle from its file to its figures, against equilibrium and worked values.

Sources stand beside each check: `own calculation` where equilibrium gives the figure by hand, `memory, verify` where a
worked value is recalled.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from oakum.lift.cradle import CradleLoads, cradle_report, parse_cradle

G = 9.80665
ATMOSPHERE = 101_325.0


def loads(air_kg: float, water_kg: float, depth_m: float | None = None, water_kg_m3: float = 1000.0) -> CradleLoads:
    rows = 50
    at = np.zeros((rows, 2))
    return CradleLoads(
        np.full(rows, water_kg * G), np.full(rows, air_kg * G), at, at, None, water_kg_m3, depth_m
    )


def test_five_straps_under_a_log_of_300_kg() -> None:
    """Belt on a cylinder, W / (2 n r b): 300 kg, 5 straps of 0.1 m, r 0.2 m give 14.7 kPa (own calculation)."""
    text = """title = "Log"
[[state]]
state = "clear"
vertical_factor = "1"
vertical_source = "at rest"
[straps]
count = 5
width = "0.1 m"
length = "2 m"
shape = "round"
radius = "0.2 m"
angle = "90 deg"
allowable = "20 kPa"
"""
    found = cradle_report(parse_cradle(text), loads(300.0, 100.0))
    assert found.straps[1].answer.pressure_pa is not None
    assert found.straps[1].answer.pressure_pa.best == pytest.approx(14_700.0, rel=1e-3)


def test_a_frame_on_four_eyes_by_equilibrium() -> None:
    """Two runners, two bearers, the find in the middle: each eye a quarter of find and frame (own calculation)."""
    text = """title = "Square"
at = { x = "-0.5 m", y = "-0.5 m", z = "0 m" }
service_class = 3
sag = "10 mm"
[section.beam]
timber = "100 x 100 mm"
grade = "C24"
density = "1100 kg/m3"
[[member]]
name = "runner"
kind = "runner"
section = "beam"
from = { x = "0 m", y = "0.1 m", z = "0.05 m" }
to = { x = "1 m", y = "0.1 m", z = "0.05 m" }
repeat = { count = 2, y = "0.8 m" }
[[member]]
name = "bearer"
kind = "bearer"
section = "beam"
from = { x = "0.25 m", y = "0 m", z = "0.15 m" }
to = { x = "0.25 m", y = "1 m", z = "0.15 m" }
repeat = { count = 2, x = "0.5 m" }
[[rest]]
name = "bed"
member = "bearer *"
from = "0.3 m"
to = "0.7 m"
share = "50 %"
[[stand]]
name = "eye"
kind = "lifting point"
at = { x = "0.1 m", y = "0.1 m" }
wll = "1 t"
repeat = [{ count = 2, x = "0.8 m" }, { count = 2, y = "0.8 m" }]
[[state]]
state = "clear"
duration = "short"
vertical_factor = "1.5"
vertical_source = "typed"
sling_angle = "60 deg"
skew_factor = "1"
"""
    found = cradle_report(parse_cradle(text), loads(400.0, 100.0))
    assert found.frame is not None
    own = 4 * 0.1 * 0.1 * 1.0 * 1100.0
    each = 1.5 * (400.0 + own) / 4
    for stand in found.frame.state("clear").stands:
        assert stand.force_n == pytest.approx(each * G, rel=1e-6)
    # the pull along a leg is the force over the sine of its angle
    point = next(c for c in found.checks if c.key.startswith("clear:point"))
    assert point.demand == pytest.approx(each / math.sin(math.radians(60.0)), rel=1e-6)
    # a bearer: half the find even on 0.4 m between joints 0.8 m apart, own weight of 11 kg even on 1 m
    find, mine = 1.5 * 200.0 * G, 1.5 * 11.0 * G
    moment = find / 2 * 0.4 - find / 2 * 0.1 + mine / 2 * 0.4 - mine / 2 * 0.25
    bearer = next(m for m in found.frame.state("clear").members if m.name == "bearer 1")
    assert bearer.moment_nm == pytest.approx(moment, rel=1e-3)


def test_closed_cells_ten_metres_down_by_boyle() -> None:
    """Boyle: p V stays; 10 m down with no walls the loss is rho g h / (p_a + rho g h) (own calculation)."""
    text = """title = "Pads"
[[state]]
state = "clear"
vertical_factor = "1"
vertical_source = "at rest"
[[pad]]
name = "sole"
thickness = "50 mm"
area = "0.1 m2"
closed_cells = "yes"
curve = [["10 %", "20 kPa"], ["25 %", "35 kPa"]]
density = "45 kg/m3"
"""
    found = cradle_report(parse_cradle(text), loads(0.5, 0.4, 10.0)).pads[0]
    assert found.depth is not None and found.depth.gap_m is not None
    pressure = 1000.0 * G * 10.0
    assert found.depth.gap_m[1] == pytest.approx(0.05 * pressure / (ATMOSPHERE + pressure), rel=1e-9)
    assert found.depth.lift_at_surface_n == pytest.approx(0.1 * 0.05 * (1000.0 - 45.0) * G, rel=1e-9)


def test_a_pewter_strip_between_two_bars() -> None:
    """Simple beam under its own weight, 5 q L^4 / (384 E I), plate factor 1 - 0.3^2 (memory, verify)."""
    text = """title = "Tray"
[tray]
name = "platter"
thickness = "3 mm"
bends = "yes"
modulus = "16000 N/mm2"
bears = "5 N/mm2"
sag = "0.2 mm"
density = "7200 kg/m3"
spacing = "200 mm"
comes_out = "on its tray"
"""
    found = cradle_report(parse_cradle(text), loads(1.0, 0.8)).tray
    assert found is not None and found.in_air.sag_m is not None
    width, t, span = 1.0, 0.003, 0.2
    q, inertia = 7200.0 * G * t * width, width * t**3 / 12.0
    assert found.in_air.sag_m == pytest.approx(0.91 * 5 * q * span**4 / (384 * 16e9 * inertia), rel=1e-6)
    assert found.in_air.stress_pa == pytest.approx(q * span**2 / 8 / (width * t**2 / 6), rel=1e-6)
    assert found.air_over_water == pytest.approx(7.2 / 6.2, rel=1e-9)
