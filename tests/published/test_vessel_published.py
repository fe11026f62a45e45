"""Stability, derrick and criteria against published items and closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from oakum.lift.vessel import (
    Derrick,
    ResponseTable,
    criteria,
    derrick_forces,
    energy_m,
    first_roll_rad,
    free_surface_m,
    gm_by_heel_m,
    gm_by_roll_m,
    greatest_load_kg,
    heel_rad,
    kg_with_load_m,
    least_gm_fishing_m,
    lifting_threshold_kg_m,
    righting_arm_m,
    wall_sided_heel_rad,
    wall_sided_to_rad,
)

LONG_TON, FOOT = 1016.0469088, 0.3048
D0, KG, KM, LOAD, Y, HEAD = 45_000.0, 1.55, 2.35, 1_200.0, 4.0, 6.0


def test_a_45_tonne_vessel_with_1_2_tonnes_at_the_boom_head() -> None:
    """Own calculation by the textbook formulas: GM 0.6844 m, 8.63 degrees; 7.40 if the head's height is left out."""
    kg = kg_with_load_m(D0, KG, LOAD, HEAD)
    assert KM - kg == pytest.approx(0.6844, abs=5e-5)
    assert math.degrees(heel_rad(LOAD * Y, D0 + LOAD, KM - kg)) == pytest.approx(8.63, abs=0.005)
    forgotten = kg_with_load_m(D0, KG, LOAD, KG)
    assert math.degrees(heel_rad(LOAD * Y, D0 + LOAD, KM - forgotten)) == pytest.approx(7.40, abs=0.05)
    wall = wall_sided_heel_rad(LOAD * Y, D0 + LOAD, KM - kg, 1.9)
    assert math.degrees(wall) == pytest.approx(8.38, abs=0.005)


def test_greatest_load_for_seven_degrees() -> None:
    """Own calculation: 0.994 t; and with that load the heel is seven degrees."""
    most = greatest_load_kg(math.radians(7.0), D0, KM - KG, KM, Y, HEAD)
    assert most == pytest.approx(994.0, rel=5e-3)
    gm = KM - kg_with_load_m(D0, KG, most, HEAD)
    assert math.degrees(heel_rad(most * Y, D0 + most, gm)) == pytest.approx(7.0, rel=1e-12)


def test_moment_over_which_the_special_rules_for_lifting_apply() -> None:
    """IS Code part B 2.9.1.2 (scope and symbols read, formula memory, verify): 3.60 t m, less than 1.2 t at 4 m."""
    gm = KM - kg_with_load_m(D0, KG, LOAD, HEAD)
    most = lifting_threshold_kg_m(D0 + LOAD, gm, 0.85, 5.0)
    assert most == pytest.approx(3_600.0, rel=5e-3)
    assert most < LOAD * Y
    third = math.tan(float(wall_sided_to_rad(0.85, 99.0, 5.0))) / 3.0  # a third of the way to the deck edge
    assert most / ((D0 + LOAD) * gm) == pytest.approx(third, rel=0.006)


def test_gm_by_the_heel_of_a_known_weight() -> None:
    """US Coast Guard deck examination, item 2260-SA-4 (read): 50 LT 75 ft out, 18,050 LT, 3.5 degrees: GM 3.40 ft.

    Stowed 56 ft lower GM grows by 50 x 56 / 18,050 to 3.55 ft (own calculation).
    """
    gm = gm_by_heel_m(50 * LONG_TON, 75 * FOOT, 18_050 * LONG_TON, math.radians(3.5)) / FOOT
    assert gm == pytest.approx(3.40, abs=0.01)
    hung = kg_with_load_m(18_000.0, 30.0, 50.0, 112.0)
    stowed = kg_with_load_m(18_000.0, 30.0, 50.0, 56.0)
    assert gm + hung - stowed == pytest.approx(3.55, abs=0.01)


def test_a_derrick_by_the_triangle_of_forces() -> None:
    """Own calculation: boom 6 m, mast 5 m, radius 4 m: tip 4.472 m, thrust 1.2 W, topping lift 0.807 W."""
    found = derrick_forces(Derrick("d", 6.0, 5.0, 0, None, None), 4.0, 1.0)
    assert found.tip_m == pytest.approx(4.472, abs=5e-4)
    assert float(found.thrust) == pytest.approx(1.2)
    assert float(found.topping) == pytest.approx(0.807, abs=5e-4)
    runner = derrick_forces(Derrick("d", 6.0, 5.0, 2, None, None), 4.0, 1.0)
    assert float(runner.thrust) == pytest.approx(1.7)


@pytest.mark.parametrize("heel", [0.0, 3.0, 8.0])
def test_a_heeled_derrick_balances_at_its_tip(heel: float) -> None:
    """Own calculation: boom, topping lift and load, resolved outboard and up in the vessel's own axes."""
    angle = math.radians(heel)
    found = derrick_forces(Derrick("d", 6.0, 5.0, 0, None, None), 4.0, 1.0, angle)
    tip, stay = found.tip_m, math.hypot(4.0, 5.0 - found.tip_m)
    thrust, topping = float(found.thrust), float(found.topping)
    assert thrust * 4.0 / 6.0 - topping * 4.0 / stay + math.sin(angle) == pytest.approx(0.0, abs=1e-12)
    assert thrust * tip / 6.0 + topping * (5.0 - tip) / stay - math.cos(angle) == pytest.approx(
        0.0, abs=1e-12
    )


@pytest.mark.parametrize(("loading", "period"), [(0.88, 4.0), (0.75, 3.2)])
def test_gm_by_the_period_of_roll_is_the_pendulum_formula(loading: float, period: float) -> None:
    """T = 2 pi k / sqrt(g GM) with a radius of gyration k = f sqrt(g) B / 2 pi, about 0.40 B (memory, verify)."""
    gm = gm_by_roll_m(5.0, period, loading)
    gyration = loading * math.sqrt(9.80665) / (2.0 * math.pi) * 5.0
    assert period == pytest.approx(2.0 * math.pi * gyration / math.sqrt(9.80665 * gm))
    assert 0.35 < gyration / 5.0 < 0.45


def test_wall_sided_heel_solves_its_cubic() -> None:
    """Own calculation: against a root finder, over GM and BM."""
    for gm in (0.05, 0.4, 1.5):
        for bm in (0.0, 0.3, 4.0):
            arm = 0.07
            root = brentq(lambda t, gm=gm, bm=bm: (gm + 0.5 * bm * t * t) * t - 0.07, 0.0, 10.0)
            found = wall_sided_heel_rad(arm * 1e4, 1e4, gm, bm)
            assert math.tan(found) == pytest.approx(root, rel=1e-6)
            gz = righting_arm_m(gm, bm, float(found))
            assert gz == pytest.approx(arm * math.cos(found), rel=1e-6)


def test_free_surface_of_a_box_tank() -> None:
    """Own calculation: second moment of a rectangle by integration."""
    inertia = 3.0 * quad(lambda y: y * y, -1.0, 1.0)[0]
    assert free_surface_m(1000.0, 3.0, 2.0, 45_000.0) == pytest.approx(1000.0 * inertia / 45_000.0)


def test_energy_is_the_integral_of_the_righting_arm() -> None:
    """Own calculation: by quadrature."""
    for heel in (0.1, 0.5, 1.0):
        by_hand = quad(lambda a: float(righting_arm_m(0.6, 1.7, a)) - 0.05 * math.cos(a), 0.0, heel)[0]
        assert energy_m(0.6, 1.7, 0.05, heel) == pytest.approx(by_hand, rel=1e-9)


def test_first_roll_after_the_loss_is_that_of_the_equation_of_motion() -> None:
    """SciPy's solve_ivp on the undamped roll with a weight kept on the other side."""
    heel, gm, arm, gyration = math.radians(8.0), 0.7, -0.02, 1.9

    def motion(_: float, s: np.ndarray) -> list[float]:
        pull = float(righting_arm_m(gm, 0.0, s[0])) - arm * math.cos(s[0])
        return [s[1], -9.80665 * pull / gyration**2]

    run = solve_ivp(motion, (0.0, 30.0), [heel, 0.0], rtol=1e-9, atol=1e-11, max_step=0.01)
    furthest = -float(run.y[0].min())
    assert float(first_roll_rad(heel, gm, 0.0, arm)) == pytest.approx(furthest, rel=1e-5)
    assert furthest == pytest.approx(heel + 2.0 * math.atan(-arm / gm), rel=0.01)  # small angles


def test_criteria_are_those_of_the_codes() -> None:
    """MCA small commercial vessel code 11.6.3 and IMO IS Code part A 2.2 (both read)."""
    by_key = {c.key: c for c in criteria()}
    assert (by_key["uk-heel"].value, by_key["uk-freeboard"].value) == (7.0, 0.25)
    areas = [by_key[k].value for k in ("imo-area-30", "imo-area-40", "imo-area-30-40")]
    assert areas == [0.055, 0.09, 0.03]
    assert (by_key["imo-gm"].value, by_key["imo-gz-30"].value, by_key["imo-gz-peak"].value) == (
        0.15,
        0.2,
        25.0,
    )
    assert all(c.source and c.mark and c.country for c in criteria())


def test_least_gm_of_a_small_fishing_vessel_by_hand() -> None:
    """IS Code part B 2.1.5 (ranges read, formula memory, verify): by hand for B 5, f 0.5, D 2.5, ls 4, L 16."""
    by_hand = 0.53 + 10.0 * (0.075 - 0.037 + 0.0082 - 0.028 - 0.008)
    assert least_gm_fishing_m(5.0, 0.5, 2.5, 4.0, 16.0) == pytest.approx(by_hand)


def test_a_head_that_follows_the_surface_moves_as_the_surface_in_a_jonswap_sea() -> None:
    """DNV-RP-H103 4.3 (memory, verify): greatest amplitude 0.9 Hs; speed and period of the surface itself."""
    table = ResponseTable("t", "beam", (0.5, 25.0), (1.0, 1.0), (0.0, 0.0), None, "own")
    found = table.tip(4.0).amplitudes(np.array([0.5]), 4.0)
    assert float(found.motion_m[0]) == pytest.approx(0.45, rel=0.01)
    assert float(found.speed_m_s[0]) == pytest.approx(0.45 * 2.0 * math.pi / 4.0, rel=0.04)
