"""Sling forces against worked examples, and factors and ratings against the tables they come from."""

from __future__ import annotations

import math

import numpy as np
import pytest

from oakum.lift.slings import (
    bounds,
    elastic,
    geometry,
    quick_misfit_n,
    set_factor,
    shared,
    table,
    wire_rope_ea_n,
)
from oakum.lift.slings.factors import basket, bend, choke, choke_angle, shackle, shoulder_eyebolt, swivel_eye
from oakum.lift.slings.tables import POUND_KG

FOUR = np.array([[1.0, 0.6, 0.0], [-1.0, 0.6, 0.0], [-1.0, -0.6, 0.0], [1.0, -0.6, 0.0]])


def test_two_legs_of_unlike_steepness() -> None:
    """Own calculation: V by levers, T = V / sin, equal horizontal pull on both sides."""
    shape = geometry(
        np.array([[0.0, 0, 0], [2.4, 0, 0]]), np.array([0.6, 0, 1.8]), np.array([[0.6, 0, -0.5]])
    )
    force = bounds(shape, np.array([10.0])).greatest_n[0]
    assert force == pytest.approx([7.906, 3.536], abs=1e-3)
    assert np.degrees(np.arcsin(shape.sine[0])) == pytest.approx([71.57, 45.00], abs=0.01)
    assert force * np.sqrt(1.0 - shape.sine[0] ** 2) == pytest.approx([2.5, 2.5], abs=1e-9)


def test_three_legs_with_one_hook() -> None:
    """Own calculation: three equations, three unknowns."""
    feet = np.array([[-1.0, -0.6, 0], [-1.0, 0.7, 0], [1.4, 0, 0]])
    shape = geometry(feet, np.array([0.3, 0.1, 2.0]), np.array([[0.3, 0.1, -0.3]]))
    assert bounds(shape, np.array([12.0])).greatest_n[0] == pytest.approx([2.534, 4.257, 7.425], abs=1e-3)


def test_four_legs_off_the_middle_bound_and_elastic() -> None:
    """Own calculation: linear programme for the bound, springs of EA 1 MN for the elastic forces."""
    hanging, weight = np.array([[0.3, 0.1, -0.3]]), np.array([10_000.0])
    shape = geometry(FOUR, np.array([0.3, 0.1, 2.0]), hanging)
    known = bounds(shape, weight)
    assert known.greatest_n[0] == pytest.approx([6350, 4265, 4350, 4649], rel=5e-4)
    springs = 1e6 / shape.length_m[0]
    rest = elastic(shape, weight, hanging, springs)
    assert rest.found.all()
    assert rest.force_n[0] == pytest.approx([4084, 2529, 1765, 3062], rel=5e-4)
    assert shared(known, springs)[0] == pytest.approx([4084, 2529, 1765, 3062], rel=5e-3)


@pytest.mark.parametrize(
    ("ea_n", "misfit_m", "low", "high", "skew"),
    [(1e6, 0.010, 1807.0, 3973.0, 1.37), (2e5, 0.010, 2660.0, 3098.0, 1.07), (1e6, 0.050, 0.0, 5755.0, 1.99)],
)
def test_one_leg_longer_than_the_others(
    ea_n: float, misfit_m: float, low: float, high: float, skew: float
) -> None:
    """Own calculation: nominal 2,894 N a leg; stiff legs skew more, and 50 mm leaves two legs to carry all."""
    hanging, weight = np.array([[0.0, 0.0, -0.3]]), np.array([10_000.0])
    shape = geometry(FOUR, np.array([0.0, 0.0, 2.0]), hanging)
    springs, misfit = ea_n / shape.length_m[0], np.array([misfit_m, 0, 0, 0])
    rest = elastic(shape, weight, hanging, springs, misfit)
    force = rest.force_n[0]
    assert rest.found.all()
    assert force[[1, 3]].mean() == pytest.approx(high, rel=0.01)
    assert force[[0, 2]].mean() == pytest.approx(low, rel=0.01, abs=30.0)
    assert force[[1, 3]].mean() / 2894.0 == pytest.approx(skew, rel=0.01)
    assert shared(bounds(shape, weight), springs, misfit)[0] == pytest.approx(force, rel=0.01, abs=50.0)


def test_the_hand_formula_for_one_long_leg() -> None:
    """Own calculation: dV = k sin^2(theta) w / 4, w = dl / sin(theta), gives 1,807 and 3,973 N to 1 %."""
    length = math.hypot(2.0, math.hypot(1.0, 0.6))
    sine = 2.0 / length
    moved = quick_misfit_n(1e6 / length, sine, 0.010)
    assert (2500.0 - moved) / sine == pytest.approx(1807.0, rel=0.01)
    assert (2500.0 + moved) / sine == pytest.approx(3973.0, rel=0.01)


@pytest.mark.parametrize(
    ("angle_deg", "factor"),
    [(90, 1.0), (85, 1.004), (80, 1.015), (75, 1.035), (70, 1.064), (65, 1.104), (60, 1.155), (55, 1.221),
     (50, 1.305), (45, 1.414), (40, 1.555), (35, 1.742), (30, 2.0)],
)  # fmt: skip
def test_the_tension_of_a_pair_of_legs_by_their_angle(angle_deg: float, factor: float) -> None:
    """Effect-of-angle chart of the Uline manual of web slings IS-17880 (read); it has 1.742 where 1.743 is due."""
    half = 1.0 / math.tan(math.radians(min(angle_deg, 89.99)))
    feet = np.array([[-half, 0.0, 0.0], [half, 0.0, 0.0]])
    shape = geometry(feet, np.array([0.0, 0.0, 1.0]), np.array([[0.0, 0.0, -1.0]]))
    assert bounds(shape, np.array([2.0])).greatest_n[0] == pytest.approx([factor, factor], abs=1.5e-3)


PEERLESS = """
7/32 2100 3600 3000 2100 5500 4400 3200
9/32 3500 6100 4900 3500 9100 7400 5200
5/16 4500 7800 6400 4500 11700 9500 6800
3/8 7100 12300 10000 7100 18400 15100 10600
1/2 12000 20800 17000 12000 31200 25500 18000
5/8 18100 31300 25600 18100 47000 38400 27100
3/4 28300 49000 40000 28300 73500 60000 42400
7/8 34200 59200 48400 34200 88900 72500 51300
1 47700 82600 67400 47700 123900 101200 71500
1 1/4 72300 125200 102200 72300 187800 153400 108400
"""


def test_grade_80_chain_table_agrees_with_a_second_maker() -> None:
    """Peerless Chain, grade 80 working load limits in pounds (read), as OSHA's guidance on slings, table 1."""
    rows = table("chain_grade_80")
    lines = PEERLESS.strip().splitlines()
    assert len(rows) == len(lines) == 10
    for row, line in zip(rows, lines, strict=True):
        size = line.split()[:-7]
        printed = [float(x) for x in line.split()[-7:]]
        assert row.size == " ".join(size)
        assert [kg / POUND_KG for kg in row.capacity_kg.values()] == pytest.approx(printed, abs=51.0)


@pytest.mark.parametrize(("column", "legs"), [("double", 2), ("quad", 3), ("quad", 4)])
@pytest.mark.parametrize("angle_deg", [60, 45, 30])
def test_sets_of_chain_are_rated_two_or_three_legs_times_the_sine(
    column: str, legs: int, angle_deg: int
) -> None:
    """OSHA, Guidance on Safe Sling Use, table 1 (read): four legs are rated as three; printed to 50 or 100 lb."""
    factor = set_factor("set US", legs, float(angle_deg))
    assert factor is not None and factor.legs_counted == min(legs, 3)
    for row in table("chain_grade_80"):
        printed = row.capacity_kg[f"{column}_{angle_deg}"] / POUND_KG
        assert row.capacity_kg["single"] * factor.value / POUND_KG == pytest.approx(printed, abs=75.0)


@pytest.mark.parametrize(
    ("legs", "from_vertical_deg", "value"),
    [(2, 45, 1.4), (2, 60, 1.0), (3, 45, 2.1), (3, 60, 1.5), (4, 30, 2.1), (4, 46, 1.5)],
)
def test_european_sets_of_legs(legs: int, from_vertical_deg: float, value: float) -> None:
    """EN 818-4 as printed in the Green Pin load chart of chain slings (read); never above legs times cosine."""
    factor = set_factor("set EU", legs, 90.0 - from_vertical_deg)
    assert factor is not None and factor.value == value
    exact = min(legs, 3) * math.cos(math.radians(from_vertical_deg))
    assert value <= exact + 1e-9


CFR = """
1/2 550 250 1100 900 750 550
3/4 1100 550 2200 1900 1500 1100
1 1800 900 3600 3100 2600 1800
1 1/2 3700 1850 7400 6400 5200 3700
2 6200 3100 12500 10500 8800 6200
2 5/8 10500 5200 21000 18000 14500 10500
"""


def test_natural_fibre_rope_table() -> None:
    """29 CFR 1918 Appendix II, table 2, eye and eye slings, pounds, factor of safety 5 (read)."""
    rows = {row.size: row for row in table("natural_fibre_rope")}
    assert len(rows) == 19
    for line in CFR.strip().splitlines():
        printed = [float(x) for x in line.split()[-6:]]
        listed = rows[" ".join(line.split()[:-6])]
        assert [kg / POUND_KG for kg in listed.capacity_kg.values()] == pytest.approx(printed)
        assert listed.mark == "read"


@pytest.mark.parametrize("angle_deg", [90, 60, 45, 30])
def test_baskets_of_natural_fibre_carry_twice_the_sine(angle_deg: int) -> None:
    """29 CFR 1918 Appendix II, table 2 (read), which rounds to 50, 100 or 500 lb, mostly down."""
    factor = basket(float(angle_deg), "US")
    assert factor is not None
    for row in table("natural_fibre_rope"):
        printed = row.capacity_kg[f"basket_{angle_deg}"] / POUND_KG
        ours = row.capacity_kg["vertical"] * factor.value / POUND_KG
        assert ours == pytest.approx(printed, abs=max(105.0, 0.03 * printed))


def test_choke_hitch_of_natural_fibre_is_half_at_most() -> None:
    """29 CFR 1918 Appendix II, table 2 (read): rope in a choke is rated about half, web and chain 75 to 80 %."""
    for row in table("natural_fibre_rope"):
        share = row.capacity_kg["choker"] / row.capacity_kg["vertical"]
        assert 0.45 <= share <= 0.53


@pytest.mark.parametrize(
    ("ratio", "bending_factor"),
    [(1.0, 2.00), (1.5, 1.69), (2.0, 1.55), (3.0, 1.41), (4.0, 1.33), (5.0, 1.29), (6.0, 1.26), (7.0, 1.23)],
)
def test_bent_wire_rope(ratio: float, bending_factor: float) -> None:
    """GL Noble Denton 0027/ND rev 11.2, table 7-1, every entry (read)."""
    factor = bend(ratio * 0.014, 0.014)
    assert factor is not None and 1.0 / factor.value == pytest.approx(bending_factor, abs=0.006)


def test_wire_rope_is_never_bent_tighter_than_its_own_diameter() -> None:
    """GL Noble Denton 0027/ND rev 11.2, 7.8.5 (read)."""
    assert bend(0.013, 0.014) is None


def test_stiffness_of_wire_rope() -> None:
    """GL Noble Denton 0027/ND rev 11.2, 5.6.13 (read): 80,000 N/mm2 on 0.785 d2."""
    assert wire_rope_ea_n(0.020) == pytest.approx(80_000 * 0.785 * 20**2)


@pytest.mark.parametrize(
    ("angle_deg", "share"), [(150, 1.0), (121, 1.0), (120, 0.87), (90, 0.87), (89, 0.74), (60, 0.74), (59, 0.62),
                             (30, 0.62), (29, 0.49), (0, 0.49)],
)  # fmt: skip
def test_angle_of_choke(angle_deg: float, share: float) -> None:
    """ASME B30.9 as printed in the Uline manual of web slings IS-17880 (read)."""
    assert choke_angle(angle_deg).value == share


def test_choke_hitch_in_two_countries() -> None:
    """EN 1492 0.8 (read in a trade journal), ASME B30.9 0.75 (read in two riggers' guides)."""
    assert (choke("EU").value, choke("US").value) == (0.8, 0.75)


def test_european_basket_hitches() -> None:
    """EN 1492 mode factors 2, 1.4, 1.0 (memory, verify), never above twice the sine."""
    values = [b.value for a in (90.0, 83.0, 60.0, 45.0, 40.0, 30.0) if (b := basket(a, "EU")) is not None]
    assert values == pytest.approx([2.0, 2.0 * math.sin(math.radians(83.0)), 1.4, 1.4, 1.0, 1.0])


@pytest.mark.parametrize(
    ("angle_deg", "share"), [(0, 1.0), (5, 1.0), (6, 0.7), (45, 0.7), (46, 0.5), (90, 0.5), (91, None)]
)
def test_shackle_pulled_out_of_line(angle_deg: float, share: float | None) -> None:
    """Green Pin catalogue: 0 100 %, 45 70 %, 90 50 % (read); classes 0-5, 6-45, 46-90: WAC 296-155-33905 (read)."""
    factor = shackle(angle_deg)
    assert (factor.value if factor else None) == share


@pytest.mark.parametrize(
    ("angle_deg", "share"),
    [(0, 1.0), (5, 1.0), (15, 0.8), (30, 0.65), (45, 0.3), (90, 0.25), (16, 0.65), (91, None)],
)
def test_shoulder_eyebolt_pulled_off_its_axis(angle_deg: float, share: float | None) -> None:
    """Trade table after ASME B18.15 (read); between its lines the next worse is taken."""
    factor = shoulder_eyebolt(angle_deg)
    assert (factor.value if factor else None) == share


def test_swivel_eye_keeps_its_wll_to_the_side() -> None:
    """Trade table (read): full rating from 0 to 90 degrees."""
    side, back = swivel_eye(90.0), swivel_eye(120.0)
    assert side is not None and side.value == 1.0 and back is None
