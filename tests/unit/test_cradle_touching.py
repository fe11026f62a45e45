"""What touches the find: straps, bearing, foam and sand, trays; and beams, sections and classes that cannot be."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.cradle import (
    Beam,
    CradleError,
    Foam,
    Forces,
    LimpFind,
    PointLoad,
    SpreadLoad,
    Straps,
    Support,
    Tie,
    bearing_check,
    foam_spring_n_m,
    greatest_spacing_m,
    k_mod,
    limp_answer,
    padding_answer,
    rectangle,
    round_bar,
    round_tube,
    sand_spring_n_m,
    shares_on_springs,
    solve_beam,
    solve_network,
    steel_grade,
    strain_at_depth,
    straps_answer,
    strength_checks,
    timber_grade,
    tube,
    typed_section,
)

LOG = Straps(5, 0.1, 2.5, "round", 0.2, 90.0, 20e3)
WEIGHT = np.random.default_rng(1).normal(300.0, 10.0, 1000) * 9.80665
PAD = Foam("pad", 0.08, True, ((0.0, 0.0), (0.1, 2.5e4), (0.3, 7e4), (0.6, 2.4e5)))
PLATTER = LimpFind("platter", 0.012, True, 2e8, 2e5, 0.002)
LEATHER = LimpFind("leather", 0.003, False, 2e6, 5e4, 0.01)


def test_straps_say_places_pressure_and_the_number_needed() -> None:
    found = straps_answer(WEIGHT, LOG)
    assert found.objections == () and found.places_m == pytest.approx((0.25, 0.75, 1.25, 1.75, 2.25))
    assert found.pressure_pa is not None and found.worst_pa is not None
    assert found.pressure_pa.best == pytest.approx(14.7e3, rel=0.01)
    assert found.worst_pa.best > found.pressure_pa.best
    assert found.checks[0].demand == pytest.approx(found.worst_pa.p95)
    assert found.needed is not None and found.needed <= 5 and found.squeeze_n.best == 0.0
    harder = straps_answer(WEIGHT, replace(LOG, allowable_pa=6e3))
    assert harder.needed is not None and harder.needed > 10 and "6.0 kPa allowed" in harder.objections[0]


def test_straps_whose_limits_are_not_known_object() -> None:
    unknown = straps_answer(WEIGHT, replace(LOG, allowable_pa=None))
    assert "not known what the surface bears" in unknown.objections[0] and unknown.needed is None
    assert any("5 to 10 kPa" in c for c in unknown.cautions)
    edge = straps_answer(WEIGHT, replace(LOG, shape="boxy", radius_m=None))
    assert "rounding of the edges" in edge.objections[0] and edge.pressure_pa is None and edge.checks == ()
    flat = straps_answer(WEIGHT, replace(LOG, from_horizontal_deg=20.0))
    assert any("use a spreader" in o for o in flat.objections) and flat.squeeze_n.best > 300.0
    for change, part in (({"count": 1}, "at least two"), ({"from_horizontal_deg": 0.0}, "between 0 and 90"),
                         ({"width_m": 0.0}, "width of a strap"), ({"radius_m": -1.0}, "radius under")):  # fmt: skip
        with pytest.raises(CradleError, match=part):
            straps_answer(WEIGHT, replace(LOG, **change))  # type: ignore[arg-type]


def test_bearing_has_no_default() -> None:
    unknown = bearing_check("keel on its bed", WEIGHT, 0.5, None)
    assert unknown.capacity is None and "not known what its surface bears" in (unknown.objection or "")
    assert bearing_check("keel", WEIGHT, 0.5, 8e3).objection is None
    assert "kPa allowed" in (bearing_check("keel", WEIGHT, 0.5, 5e3).objection or "")
    assert bearing_check("keel", WEIGHT, 0.5, 8e3).rule.mark == "practice, no source"
    with pytest.raises(CradleError, match="bears on must be more"):
        bearing_check("keel", WEIGHT, 0.0, None)


def test_a_pad_fitted_above_is_loose_below_and_one_fitted_below_presses_above() -> None:
    found = padding_answer(PAD, 0.5, 14.0, 1027.0, 35.0, 3e3)
    assert found.objections == () and found.gap_m is not None and found.swell_m is not None
    assert 0.03 < found.gap_m[0] <= found.gap_m[1] < 0.05
    assert found.swell_m[0] > found.gap_m[0]
    assert found.lift_at_depth_n is not None and found.lift_at_surface_n is not None
    assert found.lift_at_depth_n < found.lift_at_surface_n == pytest.approx(0.04 * (1027 - 35) * 9.80665)


def test_a_pad_of_unknown_cells_or_stiffness_objects() -> None:
    unknown = padding_answer(replace(PAD, closed_cells=None), 0.5, 14.0, 1027.0, None)
    assert "not known whether its cells are closed" in unknown.objections[0] and unknown.gap_m is not None
    assert unknown.gap_m[0] == 0.0 and any("density is not known" in o for o in unknown.objections)
    soft = padding_answer(replace(PAD, curve=None), 0.5, 14.0, 1027.0, 35.0)
    assert soft.gap_m is None and any("how stiff it is" in o for o in soft.objections)
    open_ = replace(PAD, closed_cells=False)
    assert padding_answer(open_, 0.5, 14.0, 1027.0, 35.0, 2.5e4).gap_m == pytest.approx((0.008, 0.008))
    crushed = padding_answer(open_, 0.5, 14.0, 1027.0, 35.0, 9e5)
    assert crushed.gap_m is None and any("its curve ends" in o for o in crushed.objections)
    with pytest.raises(CradleError, match="0 m or more"):
        padding_answer(PAD, 0.5, -1.0, 1027.0, 35.0)


def test_beds_are_springs() -> None:
    assert foam_spring_n_m(PAD, 0.2, 1e4) == pytest.approx(2.5e5 * 0.2 / 0.08)
    assert foam_spring_n_m(PAD, 0.2, 5e4) == pytest.approx(2.25e5 * 0.2 / 0.08)
    assert (
        foam_spring_n_m(PAD, 0.2, 3e5) is None and foam_spring_n_m(replace(PAD, curve=None), 0.2, 1e3) is None
    )
    assert sand_spring_n_m(2e6, 0.1, 0.2) == pytest.approx(1e6)
    assert strain_at_depth(replace(PAD, curve=None), 1e5) is None
    with pytest.raises(CradleError, match="begins at 0 strain"):
        Foam("x", 0.1, True, ((0.1, 10.0), (0.2, 20.0)))
    with pytest.raises(CradleError, match="rise from point to point"):
        Foam("x", 0.1, True, ((0.0, 0.0), (0.2, 20.0), (0.1, 30.0)))
    with pytest.raises(CradleError, match="0 Pa or more"):
        strain_at_depth(PAD, -1.0)
    with pytest.raises(CradleError, match="does not lie over its beds"):
        shares_on_springs(np.array([[0.0, 0.0], [1.0, 0.0]]), np.ones(2), np.array([2.0, 0.0]))
    with pytest.raises(CradleError, match="a stiffness above 0"):
        shares_on_springs(np.array([[0.0, 0.0]]), np.zeros(1), np.zeros(2))


def test_a_platter_on_its_tray_weighs_many_times_more_in_air() -> None:
    density = np.full(100, 1090.0)
    tub = limp_answer(PLATTER, density, 1027.0, 0.25, "in a tub of water")
    tray = limp_answer(PLATTER, density, 1027.0, 0.25, "on its tray")
    assert tub.objections == () and tub.air_over_water == pytest.approx(17.3, rel=1e-3)
    assert tub.in_air.sag_m is not None and tub.in_water.sag_m is not None
    assert tub.in_air.sag_m / tub.in_water.sag_m == pytest.approx(tub.air_over_water)
    assert tub.in_air.spacing_m is not None and tub.in_water.spacing_m is not None
    assert tub.in_air.spacing_m < tub.in_water.spacing_m
    assert all("in air" in c.title for c in tray.checks)
    wide = limp_answer(PLATTER, density, 1027.0, 0.5, "on its tray")
    assert any("sag between the bars in air" in o for o in wide.objections)


def test_what_is_limp_is_never_lifted_out_unsupported() -> None:
    density = np.full(10, 1100.0)
    bare = limp_answer(LEATHER, density, 1027.0, 0.1, "unsupported")
    assert "never lifted out unsupported" in bare.objections[0]
    assert "not said how" in limp_answer(LEATHER, density, 1027.0, 0.1, None).objections[0]
    unknown = limp_answer(
        replace(LEATHER, e_pa=None, bears_pa=None, sag_m=None), density, 1027.0, 0.1, "on its tray"
    )
    assert any("closed bed all over" in o for o in unknown.objections) and unknown.in_air.spacing_m is None
    drape = limp_answer(LEATHER, density, 1027.0, 0.1, "in a tub of water")
    assert drape.in_water.sag_m is not None and drape.in_water.stress_pa is not None
    limited = replace(PLATTER, bears_pa=None)
    assert any(
        "not known what it bears" in o
        for o in limp_answer(limited, density, 1027.0, 0.1, "on its tray").objections
    )
    spacing = greatest_spacing_m(LEATHER, 30.0)
    assert spacing is not None and 0.05 < spacing < 5.0
    with pytest.raises(CradleError, match="lighter than the water"):
        limp_answer(LEATHER, np.full(10, 900.0), 1027.0, 0.1, "on its tray")
    with pytest.raises(CradleError, match="spacing of the bars"):
        limp_answer(LEATHER, density, 1027.0, 0.0, "on its tray")


@pytest.mark.parametrize(
    ("beam", "said"),
    [
        (Beam(2.0, 1e4, (Support(1.0),), (PointLoad(1.0, 10.0),)), "without enough supports"),
        (Beam(2.0, 1e4, (), (PointLoad(1.0, 10.0),)), "without enough supports"),
        (Beam(2.0, 1e4, (Support(0.0), Support(2.5))), "at 2.5 m is off it"),
        (Beam(2.0, 1e4, (Support(0.5), Support(0.5))), "two supports are at one place"),
        (Beam(2.0, 0.0, (Support(0.0), Support(2.0))), "bending stiffness EI must be more than 0"),
        (Beam(-1.0, 1e4, ()), "its length must be more than 0"),
        (
            Beam(2.0, 1e4, (Support(0.0), Support(2.0)), (), (SpreadLoad(1.0, 0.5, 10.0),)),
            "ends behind its beginning",
        ),
        (Beam(2.0, 1e4, (Support(0.0), Support(2.0, stiffness_n_m=-5.0))), "the stiffness of its support"),
    ],
)
def test_a_beam_that_cannot_be_is_refused(beam: Beam, said: str) -> None:
    with pytest.raises(CradleError, match=said):
        solve_beam(beam)


def test_a_load_outside_supports_that_push_tips_the_beam() -> None:
    pushing = (Support(0.0, pushes_only=True), Support(1.0, pushes_only=True))
    with pytest.raises(CradleError, match="it tips"):
        solve_beam(Beam(3.0, 1e4, pushing, (PointLoad(2.0, 10.0),)))
    held = solve_beam(Beam(3.0, 1e4, (*pushing, Support(2.5, pushes_only=True)), (PointLoad(2.0, 10.0),)))
    assert held.reactions_n[0] == 0.0 and sum(held.reactions_n) == pytest.approx(10.0)
    with pytest.raises(CradleError, match="a joint at 9 m is off it"):
        solve_network((Beam(2.0, 1e4), Beam(2.0, 1e4)), (Tie(0, 9.0, 1, 1.0),))
    with pytest.raises(CradleError, match="read between 0 and 3 m only"):
        held.moment_nm(4.0)


def test_unknown_classes_and_impossible_sections_are_refused() -> None:
    with pytest.raises(
        CradleError, match='"C25" is not a strength class of timber known here; there are C14'
    ):
        timber_grade("C25")
    with pytest.raises(CradleError, match="not a grade of steel"):
        steel_grade("S1")
    with pytest.raises(CradleError, match="classes are 1, 2 and 3"):
        k_mod(4, "short")  # type: ignore[arg-type]
    with pytest.raises(CradleError, match="cannot have a wall"):
        tube(0.05, 0.05, 0.03)
    with pytest.raises(CradleError, match="cannot have a wall"):
        round_tube(0.05, 0.03)
    with pytest.raises(CradleError, match="width of a section"):
        rectangle(0.0, 0.1)
    with pytest.raises(CradleError, match="each number of the section"):
        typed_section(
            "angle", width_m=0.05, depth_m=0.05, area_m2=0.0, inertia_m4=1.0, modulus_m3=1.0, side_inertia_m4=1.0,
            side_modulus_m3=1.0, shear_m2=1.0,
        )  # fmt: skip
    assert timber_grade(" c24 ").name == "C24" and round_bar(0.1).area_m2 == pytest.approx(
        0.00785398, rel=1e-6
    )


def test_steel_is_checked_elastically_and_thick_walls_object() -> None:
    forces = Forces(800.0, 5e3, thrust_n=8e3, buckling_m=2.0)
    checks = {
        c.key: c
        for c in strength_checks("bar", tube(0.05, 0.05, 0.003), steel_grade("S235"), 3, "short", forces, "x")
    }
    assert checks["bar:bending"].capacity == pytest.approx(235e6)
    assert checks["bar:shear"].capacity == pytest.approx(235e6 / 3.0**0.5)
    assert checks["bar:thrust"].utilisation is not None
    assert checks["bar:thrust"].utilisation > (checks["bar:bending"].utilisation or 0.0)
    thick = strength_checks("bar", tube(0.2, 0.2, 0.02), steel_grade("S235"), 3, "short", forces, "x")
    assert any("beyond the 16 mm" in (c.objection or "") for c in thick)


def test_timber_overloaded_names_the_stress_and_its_limit() -> None:
    forces = Forces(9000.0, 3e4, bearing_n=4e4, bearing_m=0.1)
    checks = strength_checks("beam", rectangle(0.1, 0.15), timber_grade("C16"), 3, "permanent", forces, "x")
    words = [c.objection for c in checks if c.objection]
    assert len(words) == 3 and any("beam, bending: 24.0 against 6.2 N/mm²" in w for w in words)
    assert any("bearing across the grain" in w for w in words)
