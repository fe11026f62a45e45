"""Beams, sections, timber and straps against beam tables, makers' tables, closed forms and independent solvers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from oakum.lift.cradle import (
    Beam,
    Foam,
    Forces,
    PointLoad,
    Section,
    SpreadLoad,
    Support,
    Tie,
    boyle_strain,
    chi,
    drape_sag_m,
    drape_stress_pa,
    factor,
    k_c,
    k_def,
    k_h,
    k_mod,
    line_pressure_pa,
    lorry_shares,
    rectangle,
    round_tube,
    solve_beam,
    solve_network,
    squeeze_n,
    steel_grade,
    strain_at_depth,
    strap_tension_n,
    strength_checks,
    strip_sag_m,
    strip_stress_pa,
    timber_grade,
    timber_stresses,
    tube,
)

EI, W = 2.3e5, 1_700.0
G = 9.80665


def even(length: float, places: tuple[float, ...], built_in: bool = False) -> Beam:
    """A beam under an even load on supports that do not give."""
    supports = tuple(Support(x, holds_turn=built_in) for x in places)
    return Beam(length, EI, supports, spread=(SpreadLoad(0.0, length, W),))


def test_simple_beam_under_an_even_load() -> None:
    """Any beam table (read): w L^2 / 8 and 5 w L^4 / (384 EI), in the middle."""
    span = solve_beam(even(4.0, (0.0, 4.0))).spans()[0]
    assert span.sagging_nm.value == pytest.approx(W * 16.0 / 8.0)
    assert span.deflection_m.value == pytest.approx(5.0 * W * 256.0 / (384.0 * EI))
    assert span.sagging_nm.at_m == pytest.approx(2.0) and span.deflection_m.at_m == pytest.approx(2.0)
    assert abs(span.shear_n.value) == pytest.approx(2.0 * W)


@pytest.mark.parametrize("at", [0.7, 1.5, 2.9])
def test_simple_beam_under_a_point_load(at: float) -> None:
    """Any beam table (read): P a b / L; greatest sag P b (L^2 - b^2)^1.5 / (9 sqrt(3) L EI), b the shorter part."""
    beam = Beam(3.6, EI, (Support(0.0), Support(3.6)), (PointLoad(at, 500.0),))
    span = solve_beam(beam).spans()[0]
    a, b = at, 3.6 - at
    assert span.sagging_nm.value == pytest.approx(500.0 * a * b / 3.6)
    short = min(a, b)
    sag = 500.0 * short * (3.6**2 - short**2) ** 1.5 / (9.0 * math.sqrt(3.0) * 3.6 * EI)
    assert span.deflection_m.value == pytest.approx(sag)


def test_built_in_beam() -> None:
    """Any beam table (read): w L^2 / 12 at the ends, w L^2 / 24 in the middle, w L^4 / (384 EI)."""
    span = solve_beam(even(5.0, (0.0, 5.0), True)).spans()[0]
    assert span.hogging_nm.value == pytest.approx(-W * 25.0 / 12.0)
    assert span.sagging_nm.value == pytest.approx(W * 25.0 / 24.0)
    assert span.deflection_m.value == pytest.approx(W * 625.0 / (384.0 * EI))


def test_two_equal_spans() -> None:
    """Beam table (read): reactions 0.375, 1.25, 0.375 w L; moments w L^2 / 8 and 9 w L^2 / 128; 0.005416 w L^4 / EI."""
    found = solve_beam(even(6.0, (0.0, 3.0, 6.0)))
    assert np.array(found.reactions_n) / (W * 3.0) == pytest.approx([0.375, 1.25, 0.375])
    for span in found.spans():
        assert span.hogging_nm.value == pytest.approx(-W * 9.0 / 8.0)
        assert span.sagging_nm.value == pytest.approx(9.0 * W * 9.0 / 128.0)
        assert span.deflection_m.value * EI / (W * 81.0) == pytest.approx(0.005416, rel=1e-4)


def test_three_equal_spans() -> None:
    """Beam table (read): reactions 0.4, 1.1, 1.1, 0.4 w L; 0.10 w L^2 over the supports, 0.08 in the outer spans."""
    found = solve_beam(even(6.0, (0.0, 2.0, 4.0, 6.0)))
    assert np.array(found.reactions_n) / (W * 2.0) == pytest.approx([0.4, 1.1, 1.1, 0.4])
    assert found.greatest_moment_nm == pytest.approx(0.10 * W * 4.0)
    assert found.spans()[0].sagging_nm.value == pytest.approx(0.08 * W * 4.0)


def test_where_overhangs_make_moment_or_sag_least() -> None:
    """Beam table (read): overhang 0.2071 L: 0.02145 w L^2; 0.2232 L: all droop alike, 2.70e-4 w L^4 / EI."""
    short = solve_beam(even(4.0, (0.2071 * 4.0, 0.7929 * 4.0)))
    assert short.greatest_moment_nm / (W * 16.0) == pytest.approx(0.02145, rel=1e-3)
    long = solve_beam(even(4.0, (0.2232 * 4.0, 0.7768 * 4.0)))
    ends, middle = float(long.deflection_m(0.0)), float(long.deflection_m(2.0))
    assert ends == pytest.approx(middle, rel=0.01)
    assert long.greatest_deflection_m * EI / (W * 256.0) == pytest.approx(2.70e-4, rel=0.01)


def test_cantilever_under_a_slanted_load_and_a_moment() -> None:
    """Beam table (memory, verify): triangle, greatest at the wall: w L^4 / (30 EI); end moment: M L^2 / (2 EI)."""
    wall = (Support(0.0, holds_turn=True),)
    slanted = solve_beam(Beam(3.0, EI, wall, spread=(SpreadLoad(0.0, 3.0, W, 0.0),)))
    assert float(slanted.deflection_m(3.0)) == pytest.approx(W * 81.0 / (30.0 * EI))
    assert float(slanted.moment_nm(0.0)) == pytest.approx(-W * 9.0 / 6.0)
    turned = solve_beam(Beam(3.0, EI, wall, (PointLoad(3.0, 0.0, 400.0),)))
    assert float(turned.deflection_m(3.0)) == pytest.approx(400.0 * 9.0 / (2.0 * EI))
    assert turned.clamp_nm[0] == pytest.approx(400.0)


def test_beam_on_springs_against_a_boundary_value_solver() -> None:
    """SciPy's solve_bvp on EI w'''' = q with springs at both ends, a slanted load."""
    length, k1, k2 = 3.0, 4.0e4, 9.0e4

    def motion(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.array([y[1], y[2], y[3], (300.0 + 400.0 * x / length) / EI])

    def ends(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        return np.array([a[2], b[2], EI * a[3] + k1 * a[0], EI * b[3] - k2 * b[0]])

    x = np.linspace(0.0, length, 41)
    fine = solve_bvp(motion, ends, x, np.zeros((4, 41)), tol=1e-10)
    springs = (Support(0.0, stiffness_n_m=k1), Support(length, stiffness_n_m=k2))
    found = solve_beam(Beam(length, EI, springs, spread=(SpreadLoad(0.0, length, 300.0, 700.0),)))
    assert found.deflection_m(x) == pytest.approx(fine.sol(x)[0], rel=1e-6)
    assert found.moment_nm(x) == pytest.approx(-EI * fine.sol(x)[2], abs=1e-3)
    assert found.shear_n(x) == pytest.approx(-EI * fine.sol(x)[3], abs=1e-2)


def by_differences(beam: Beam, cells: int) -> np.ndarray:
    """Deflections of a beam on soft springs by finite differences of EI w'''' = q; an independent oracle."""
    h = beam.length_m / cells
    n = cells + 1
    bend = np.zeros((n, n))
    for i in range(1, n - 1):
        row = np.zeros(n)
        row[i - 1 : i + 2] = (1.0, -2.0, 1.0)
        bend += beam.ei_nm2 / h**3 * np.outer(row, row)  # energy of curvature at inner points
    x = np.linspace(0.0, beam.length_m, n)
    force = np.zeros(n)
    for load in beam.spread:
        share = np.clip(np.minimum(x + h / 2, load.to_m) - np.maximum(x - h / 2, load.from_m), 0.0, None)
        share[[0, -1]] = np.clip(share[[0, -1]], 0.0, h / 2)
        force += load.start_n_m * share
    for point in beam.points:
        force[round(point.at_m / h)] += point.force_n
    for support in beam.supports:
        bend[(k := round(support.at_m / h)), k] += support.stiffness_n_m or 1e12
    return np.linalg.solve(bend, force)


def test_five_springs_and_mixed_loads_against_finite_differences() -> None:
    """Own finite differences, 400 cells."""
    springs = tuple(
        Support(x, stiffness_n_m=k) for x, k in ((0.5, 3e4), (1.0, 9e4), (2.0, 5e4), (3.5, 7e4), (4.0, 2e4))
    )
    beam = Beam(
        4.0, EI, springs, (PointLoad(1.5, 900.0), PointLoad(3.8, 300.0)), (SpreadLoad(0.5, 2.0, 800.0),)
    )
    fine = by_differences(beam, 400)
    found = solve_beam(beam).deflection_m(np.linspace(0.0, 4.0, 401))
    assert found == pytest.approx(fine, abs=2e-3 * float(np.abs(fine).max()))


def test_two_crossing_beams_share_by_their_stiffness() -> None:
    """Own calculation: tied in the middle, P goes as EI / L^3: 48 EI / L^3 of each."""
    first = Beam(2.0, EI, (Support(0.0), Support(2.0)), (PointLoad(1.0, 1000.0),), name="a")
    second = Beam(3.0, 2.0 * EI, (Support(0.0), Support(3.0)), name="b")
    a, b = solve_network((first, second), (Tie(0, 1.0, 1, 1.5),))
    ka, kb = 48.0 * EI / 8.0, 96.0 * EI / 27.0
    assert sum(a.reactions_n) == pytest.approx(1000.0 * ka / (ka + kb))
    assert sum(b.reactions_n) == pytest.approx(1000.0 * kb / (ka + kb))
    assert a.tie_n[0][1] == pytest.approx(-sum(b.reactions_n)) and b.tie_n[0][1] == pytest.approx(
        sum(b.reactions_n)
    )


def test_cold_formed_tubes_against_a_makers_table() -> None:
    """Table of EN 10219 rectangular tubes, b2bmetal.eu (read): A cm2, Ix cm4, Wx cm3, Iy cm4."""
    for depth, width, wall, area, ix, wx, iy in (
        (40, 20, 2.0, 2.14, 4.05, 2.02, 1.34),
        (40, 30, 3.0, 3.61, 7.27, 3.63, 4.60),
        (50, 30, 4.0, 5.35, 15.25, 6.10, 6.69),
        (60, 40, 2.5, 4.59, 22.07, 7.36, 11.74),
        (60, 40, 4.0, 6.95, 30.99, 10.33, 16.28),
    ):
        found = tube(width / 1e3, depth / 1e3, wall / 1e3)
        assert found.area_m2 * 1e4 == pytest.approx(area, abs=0.0051)
        assert found.inertia_m4 * 1e8 == pytest.approx(ix, abs=0.0051)
        assert found.modulus_m3 * 1e6 == pytest.approx(wx, abs=0.0051)
        assert found.side_inertia_m4 * 1e8 == pytest.approx(iy, abs=0.0051)


def test_sharp_corners_would_make_a_tube_too_stiff() -> None:
    """Own calculation: 100 x 100 x 5 as two squares is 5.7 % stiffer than with its corners."""
    sharp = (0.1**4 - 0.09**4) / 12.0
    assert sharp / tube(0.1, 0.1, 0.005).inertia_m4 == pytest.approx(1.057, abs=0.002)
    assert tube(0.1, 0.1, 0.005, corner_m=0.0).inertia_m4 == pytest.approx(sharp)


def test_round_tube_by_integration() -> None:
    """Own calculation: second moment of a ring."""
    found: Section = round_tube(0.06, 0.004)
    inertia = quad(lambda r: math.pi * r**3, 0.026, 0.030)[0]
    assert found.inertia_m4 == pytest.approx(inertia)


def test_timber_classes_are_those_of_the_standard() -> None:
    """EN 338:2003 C16 and C24 (read, pocket book) and 2016 (read, open library): N/mm2."""
    for name, f_m, f_t, f_c, f_90, f_v03, f_v16, f_t16 in (
        ("C16", 16, 10, 17, 2.2, 1.8, 3.2, 8.5),
        ("C24", 24, 14, 21, 2.5, 2.5, 4.0, 14.5),
    ):
        old, new = timber_grade(name).editions
        assert (old.f_m_pa, old.f_t0_pa, old.f_c0_pa, old.f_c90_pa, old.f_v_pa) == tuple(
            x * 1e6 for x in (f_m, f_t, f_c, f_90, f_v03)
        )
        assert (new.f_v_pa, new.f_t0_pa, new.k_cr) == (f_v16 * 1e6, f_t16 * 1e6, 0.67)
    assert timber_grade("C24").e_mean_pa == 11e9


def test_factors_of_timber_are_those_of_the_standard() -> None:
    """EN 1995-1-1 tables 3.1, 3.2, 2.3 (read, as coded in open libraries) and k_h (read)."""
    wet = [k_mod(3, d) for d in ("permanent", "long", "medium", "short", "instantaneous")]
    assert wet == [0.5, 0.55, 0.65, 0.7, 0.9]
    assert [k_def(c) for c in (1, 2, 3)] == [0.6, 0.8, 2.0]
    assert factor("gamma_m_timber") == 1.3 and factor("load_factor") == 1.3
    assert k_h(0.2) == 1.0 and k_h(0.1) == pytest.approx(1.5**0.2) and k_h(0.02) == 1.3


def test_a_wet_c24_beam_of_100_by_200() -> None:
    """Own calculation by EN 1995-1-1: 4 kN/m on 3 m, short: 6.75 <= 12.92 and 0.672 <= 2.15 N/mm2, 5.75 mm."""
    section, grade = rectangle(0.1, 0.2), timber_grade("C24")
    beam = Beam(
        3.0,
        grade.e_mean_pa * section.inertia_m4,
        (Support(0.0), Support(3.0)),
        spread=(SpreadLoad(0, 3, 4e3),),
    )
    moment, shear, sag = solve_beam(beam).greatest()
    new = timber_stresses(section, grade.editions[1], 3, "short", Forces(moment, shear))
    assert np.array(new["bending"]) / 1e6 == pytest.approx([6.75, 12.92], rel=2e-3)
    assert np.array(new["shear"]) / 1e6 == pytest.approx([0.672, 2.15], rel=2e-3)
    assert sag * 1e3 == pytest.approx(5.75, rel=2e-3)


def test_the_stricter_edition_governs_each_check() -> None:
    """Shear of C24 is stricter in the 2003 edition (0.33) than in 2016 with k_cr (0.31); own calculation."""
    checks = strength_checks(
        "b", rectangle(0.1, 0.2), timber_grade("C24"), 3, "short", Forces(4500.0, 6000.0), "x"
    )
    shear = next(c for c in checks if c.key == "b:shear")
    assert shear.rule.key == "timber-C24-2003"
    assert shear.utilisation == pytest.approx(0.45 / (0.7 * 2.5 / 1.3))


def test_a_degraded_plank_on_its_supports() -> None:
    """Own calculation: 3.0 x 0.25 x 0.05 m, 1,090 kg/m3, in air: 1,443, 248, 128, 48.6 kPa; / 17.3 under water."""
    section = rectangle(0.25, 0.05)
    load = 1090.0 * section.area_m2 * G

    def stress(*places: float) -> float:
        beam = Beam(3.0, 1e3, tuple(Support(x) for x in places), spread=(SpreadLoad(0.0, 3.0, load),))
        return solve_beam(beam).greatest_moment_nm / section.modulus_m3 / 1e3

    assert stress(0.0, 3.0) == pytest.approx(1443.0, rel=1e-2)
    assert stress(0.207 * 3.0, 0.793 * 3.0) == pytest.approx(248.0, rel=1e-2)
    assert stress(0.0, 1.0, 2.0, 3.0) == pytest.approx(128.0, rel=1e-2)
    assert stress(*np.linspace(0.0, 3.0, 6).tolist()) == pytest.approx(48.6, rel=1e-2)
    assert pytest.approx(17.3, rel=1e-2) == 1090.0 / (1090.0 - 1027.0)


def test_five_straps_round_a_log() -> None:
    """Own calculation: 300 kg, 5 straps 0.1 m wide round 0.2 m: 14.7 kPa; legs at 60 degrees press 1 / sin harder."""
    weight = 300.0 * G
    upright = line_pressure_pa(strap_tension_n(weight, 5), 0.2, 0.1)
    assert upright / 1e3 == pytest.approx(14.7, rel=1e-3)
    assert upright == pytest.approx(weight / (2 * 5 * 0.2 * 0.1))
    leaning = line_pressure_pa(strap_tension_n(weight, 5, 60.0), 0.2, 0.1)
    assert leaning / upright == pytest.approx(2.0 / math.sqrt(3.0))
    assert squeeze_n(weight, 5, 45.0) == pytest.approx(weight / 10.0) and squeeze_n(weight, 5, 90.0) == 0.0


def test_strip_and_drape_are_beam_and_membrane() -> None:
    """Own calculation: a strip one metre wide by the beam solver; a stretched arc by its length (8 d^2 / 3 s)."""
    q, s, t, e = 90.0, 0.3, 0.012, 2e8
    stiff = e * t**3 / (12.0 * 0.91)
    beam = solve_beam(Beam(s, stiff, (Support(0.0), Support(s)), spread=(SpreadLoad(0.0, s, q),)))
    assert strip_sag_m(q, s, t, e) == pytest.approx(beam.greatest_deflection_m)
    assert strip_stress_pa(q, s, t) == pytest.approx(beam.greatest_moment_nm / (t**2 / 6.0))
    sag = drape_sag_m(q, s, 0.002, 1e6)
    stretch = 8.0 / 3.0 * (sag / s) ** 2
    assert drape_stress_pa(q, s, 0.002, sag) == pytest.approx(1e6 * stretch)


def test_air_in_a_pad_at_ten_metres_is_half_of_it() -> None:
    """Boyle (memory, verify): one atmosphere of water more halves the volume."""
    assert boyle_strain(101_325.0) == pytest.approx(0.5)
    bag = Foam("air", 0.1, True, ((0.0, 0.0), (0.5, 101_325.0), (0.8, 4 * 101_325.0)))
    low, high = strain_at_depth(bag, 101_325.0) or (0.0, 0.0)
    assert (low, high) == pytest.approx((0.5, 0.5), rel=1e-6)  # a curve that is that of air has no walls


def test_struts_against_the_buckling_curves_and_euler() -> None:
    """EN 1993-1-1 curve c: chi 0.5399 at slenderness 1 (memory, verify); EN 1995-1-1: Euler's force when slender."""
    grade = steel_grade("S235")
    one = math.pi * math.sqrt(grade.e_pa / grade.f_y_pa)
    assert chi(one, 1.0, grade) == pytest.approx(0.5399, abs=2e-4)
    row = timber_grade("C24").editions[0]
    section = rectangle(0.075, 0.1)
    euler = math.pi**2 * row.e_05_pa * section.side_inertia_m4 / 4.0**2
    borne = k_c(4.0, section.gyration_m, row) * row.f_c0_pa * section.area_m2
    assert 0.85 * euler < borne < euler


def test_accelerations_on_a_lorry() -> None:
    """EN 12195-1:2010 as printed in a training text on the CTU Code (read)."""
    assert {s.direction: s.share_of_g for s in lorry_shares()} == {
        "forward": 0.8,
        "backward": 0.5,
        "sideways": 0.6,
    }
