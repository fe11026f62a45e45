"""Lifting bags against figures worked outside: Boyle's law by hand, a published incident, scipy's integrator."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from oakum.lift.bags import (
    ATMOSPHERE_PA,
    BAR_PA,
    AirSupply,
    Bag,
    BagKind,
    BagLoad,
    BagSet,
    Column,
    CrownLine,
    Eye,
    absolute_pa,
    answer,
    compressibility,
    cylinder_gives_m3,
    expansion_m3_s,
    free_air_m3,
    gives_m3,
    lift_kg_per_m3,
    net_force_n,
    terminal_m_s,
    travel,
    valve_area_m2,
)

SEA = Column(1027.0, 10.0)
G = 9.80665
AT_20_M = 600.0 / float(lift_kg_per_m3(20.0, SEA))


def test_one_atmosphere_of_sea_water() -> None:
    """Own calculation, and the diver's rule of ten metres an atmosphere: 10.06 m at 1027 kg/m3."""
    assert absolute_pa(10.06, SEA) - absolute_pa(0.0, SEA) == pytest.approx(ATMOSPHERE_PA, rel=1e-3)


def test_bag_for_600_kg_at_20_m() -> None:
    """Own calculation with another program: volume, free air at one atmosphere."""
    assert pytest.approx(0.5864, rel=3e-3) == AT_20_M
    assert pytest.approx(0.5842, rel=3e-3) == 600.0 / 1027.0
    assert float(free_air_m3(AT_20_M, 20.0, SEA, ATMOSPHERE_PA)) == pytest.approx(1.752, rel=3e-3)


def test_free_air_at_one_bar_is_1_3_percent_more() -> None:
    """By the definitions of bar and standard atmosphere (memory, verify)."""
    ratio = free_air_m3(1.0, 20.0, SEA, BAR_PA) / free_air_m3(1.0, 20.0, SEA, ATMOSPHERE_PA)
    assert float(ratio) == pytest.approx(1.01325, rel=1e-9)


@pytest.mark.parametrize(("depth_m", "up_kg"), [(15.0, 120.0), (10.0, 299.0), (5.0, 598.0)])
def test_excess_of_a_bag_neutral_at_20_m(depth_m: float, up_kg: float) -> None:
    """Own calculation with another program: +120, +299, +598 kg at 15, 10 and 5 m."""
    assert float(net_force_n(600.0, 20.0, depth_m, SEA)) == pytest.approx(up_kg, rel=3e-3)


@pytest.mark.parametrize(("capacity_m3", "greatest_m_s"), [(0.60, 0.52), (0.65, 1.07), (1.5, 3.7)])
def test_greatest_speed_of_the_rise(capacity_m3: float, greatest_m_s: float) -> None:
    """Own calculation with another program: 1500 kg and 500 kg added mass, drag area 1.13 m2, 1 % over balance.

    The bag carries half its volume of water along; from 20 m to 0.3 m.
    """
    path = travel(
        np.array([600.0 * G]),
        np.array([1.01 * AT_20_M]),
        np.array([capacity_m3]),
        np.array([2000.0]),
        SEA,
        20.0,
        0.3,
        1.13,
    )
    assert path.speed_m_s.max() == pytest.approx(greatest_m_s, rel=0.03)


@pytest.mark.parametrize("capacity_m3", [0.60, 0.65, 1.5])
@pytest.mark.parametrize("drag_area_m2", [0.0, 1.13])
def test_the_rise_against_a_general_integrator(capacity_m3: float, drag_area_m2: float) -> None:
    """scipy's solve_ivp on M z'' = N - drag - M' v^2 / 2, in time instead of depth (general library)."""
    weight, start, moving = 600.0 * G, 1.01 * AT_20_M, 2000.0
    p0 = 101_325.0 + 1027.0 * G * 20.0

    def slope(_: float, y: np.ndarray) -> list[float]:
        p = 101_325.0 + 1027.0 * G * y[0]
        free = start * p0 / p
        volume = min(free, capacity_m3)
        air = p / (287.05 * 283.15)
        mass = moving + (air + 0.5 * 1027.0) * volume
        grows = (
            0.5 * 1027.0 * volume * 1027.0 * G / p
            if free < capacity_m3
            else -capacity_m3 * 1027.0 * G / (287.05 * 283.15)
        )
        force = (1027.0 - air) * volume * G - weight - 0.5 * 1027.0 * drag_area_m2 * y[1] * abs(y[1])
        return [-y[1], (force - 0.5 * grows * y[1] ** 2) / mass]

    def surfaced(_: float, y: np.ndarray) -> float:
        return float(y[0] - 0.3)

    surfaced.terminal = True  # type: ignore[attr-defined]
    known = solve_ivp(slope, (0.0, 300.0), [20.0, 0.0], events=surfaced, rtol=1e-9, atol=1e-10, max_step=0.05)
    path = travel(
        np.array([weight]),
        np.array([start]),
        np.array([capacity_m3]),
        np.array([moving]),
        SEA,
        20.0,
        0.3,
        drag_area_m2,
    )
    assert path.speed_m_s[0, -1] == pytest.approx(known.y[1, -1], rel=5e-4)
    assert path.time_s[0, -1] == pytest.approx(known.t[-1], rel=5e-4)


def test_valve_for_a_bag_of_600_l_rising_at_5_m() -> None:
    """Own calculation with another program: 12.0 l/s through 2.14 cm2 (16.5 mm) under 0.8 m of air."""
    flow = float(expansion_m3_s(0.6, 5.0, 0.3, SEA))
    area = float(valve_area_m2(flow, 0.8, 5.0, SEA))
    assert flow == pytest.approx(0.0120, rel=0.02)
    assert area == pytest.approx(2.14e-4, rel=0.02)
    assert 2.0 * np.sqrt(area / np.pi) == pytest.approx(0.0165, rel=0.02)


def test_a_load_that_lost_its_bags_sinks_at_3_1_m_s() -> None:
    """Own calculation: 600 kg under water, 1 m2, drag coefficient 1.2."""
    assert float(terminal_m_s(600.0 * G, 1.2, 1027.0)) == pytest.approx(3.1, abs=0.05)


def test_air_at_300_bar_gives_a_tenth_less_than_an_ideal_gas() -> None:
    """Divers' rule and handbook table (memory, verify)."""
    assert gives_m3(0.012, 301e5, 1e5) / (0.012 * 300.0) == pytest.approx(0.90, abs=0.01)


@pytest.mark.parametrize("bar", [1.0, 5.0, 10.0, 20.0])
def test_compressibility_at_low_pressure_follows_the_second_virial_coefficient(bar: float) -> None:
    """Z = 1 + B p / (R T), B of air at 300 K about -7 cm3/mol (tables of physical constants; memory, verify)."""
    assert float(compressibility(bar * 1e5)) == pytest.approx(
        1.0 - 7.0e-6 * bar * 1e5 / (8.314 * 300.0), abs=1e-3
    )


def test_a_twelve_litre_cylinder_at_200_bar() -> None:
    """By hand: ideal 12 l (201 - 51) = 1800 l; real air a few per cent less, never more."""
    supply = AirSupply(0.012, 200e5, 1, 50e5, "bags only", 0.0, 1)
    assert 1.68 < cylinder_gives_m3(supply, 14.0, SEA) < 1.80


def test_published_incident_a_500_kg_bag_took_a_600_kg_load_away_from_19_m() -> None:
    """IMCA safety flash 11/02 (read): the bag held over 25 % more than its rating, no restraining line.

    With its real volume the bag lifts the load and runs away; the set as it was used meets objections.
    """
    kind = BagKind("500", "500 kg bag", 1.26 * 500.0 / 1027.0, 500.0, 5.0)
    bags = BagSet(
        (Bag("one", kind, None, "flange", None),), (Eye("flange", None),), 19.0, 19.0, drag_area_m2=1.0
    )
    weight = np.full(200, 600.0)
    found = answer(BagLoad(weight, np.full(200, 800.0), False), bags, SEA, None)
    assert found.lifts == 1.0
    assert found.all_full is not None and found.all_full.rises == 1.0
    text = found.verdict
    assert text.startswith("objection: ")
    assert "no line from the crown to an anchor" in text
    assert "not known who takes the load over" in text
    assert "capacity not known" in text
    strop = next(c for c in found.checks if c.key == "strop-one")
    assert strop.rule.mark == "read" and strop.demand == pytest.approx(1.25 * 1.26 * 500.0)


def test_published_incident_main_rigging_and_crown_line_on_one_pin() -> None:
    """IMCA safety event, Uncontrolled ascent: loss of lift bag to surface (read): a single point of failure."""
    kind = BagKind("10t", "10 t bag", 10.0, None, 60.0, shared_crown=True)
    line = CrownLine(20.0, 24.0, wll_kg=20_000.0, holding_kg=20_000.0)
    bags = BagSet((Bag("one", kind, 20_000.0, "sleeper", line),), (Eye("sleeper", 20_000.0),), 22.0, 22.0)
    weight = np.full(50, 9_700.0)
    text = answer(BagLoad(weight, weight, False), bags, SEA, None).verdict
    assert 'bag "one": main rigging and crown line share one pin or strap' in text
