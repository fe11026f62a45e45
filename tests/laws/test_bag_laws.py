"""Laws that hold for every bag, depth and weight."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oakum.lift.bags import (
    BAR_PA,
    AirSupply,
    Bag,
    BagKind,
    BagSet,
    Column,
    Eye,
    absolute_pa,
    boyle_m3,
    cylinder_gives_m3,
    expansion_m3_s,
    free_air_m3,
    gives_m3,
    held_m3,
    lift_kg_per_m3,
    net_force_n,
    propose,
    terminal_m_s,
    travel,
    valve_area_m2,
    valve_m3_s,
)
from oakum.lift.draw_bands import picked

G = 9.80665
columns = st.builds(Column, st.floats(995.0, 1040.0), st.floats(-1.0, 30.0), st.floats(95_000.0, 105_000.0))
depths = st.floats(1.0, 80.0)
weights_kg = st.floats(20.0, 5_000.0)
volumes = st.floats(0.02, 3.0)
brief = settings(max_examples=80, deadline=None)


@brief
@given(columns, depths, depths, volumes)
def test_free_air_grows_with_depth(column: Column, a: float, b: float, volume: float) -> None:
    shallow, deep = sorted((a, b))
    assert free_air_m3(volume, shallow, column, BAR_PA) <= free_air_m3(volume, deep, column, BAR_PA)


@brief
@given(columns, depths, depths, volumes)
def test_air_brought_to_another_depth_and_back_is_the_same(
    column: Column, a: float, b: float, volume: float
) -> None:
    pa, pb = absolute_pa(a, column), absolute_pa(b, column)
    assert float(boyle_m3(boyle_m3(volume, pa, pb), pb, pa)) == pytest.approx(volume, rel=1e-12)


@brief
@given(columns, depths, weights_kg, st.floats(0.01, 0.99), st.floats(0.01, 1.0))
def test_net_force_is_nothing_at_the_neutral_depth_up_above_it_and_down_below(
    column: Column, neutral: float, weight: float, above: float, below: float
) -> None:
    assert float(net_force_n(weight, neutral, neutral, column)) == pytest.approx(0.0, abs=1e-9 * weight)
    assert float(net_force_n(weight, neutral, neutral * above, column)) > 0.0
    assert float(net_force_n(weight, neutral, neutral * (1.0 + below), column)) < 0.0


@brief
@given(st.floats(0.1, 50_000.0), st.floats(0.05, 20.0), columns)
def test_terminal_speed_solves_its_own_balance(net: float, area: float, column: Column) -> None:
    v = float(terminal_m_s(net, area, column.density_kg_m3))
    assert 0.5 * column.density_kg_m3 * area * v**2 == pytest.approx(net, rel=1e-12)


def test_nothing_that_sinks_has_a_speed_up() -> None:
    assert float(terminal_m_s(-10.0, 1.0, 1027.0)) == 0.0


@brief
@given(columns, depths, weights_kg, st.floats(0.002, 0.3), st.floats(100.0, 20_000.0), st.floats(0.1, 0.9))
def test_the_rise_without_drag_conserves_energy(
    column: Column, deep: float, weight_kg: float, over: float, moving: float, share: float
) -> None:
    """What expanding air gives, p0 V0 ln(p0 / p), goes into raising weight and air and into speed."""
    up = deep * share
    start = (1.0 + over) * weight_kg / float(lift_kg_per_m3(deep, column))
    path = travel(
        np.array([weight_kg * G]),
        np.array([start]),
        np.array([1e6]),
        np.array([moving]),
        column,
        deep,
        up,
        0.0,
        steps=400,
    )
    p0, p = float(absolute_pa(deep, column)), float(absolute_pa(up, column))
    air_kg = start * (column.density_kg_m3 - float(lift_kg_per_m3(deep, column)))
    given_j = p0 * start * np.log(p0 / p) - (weight_kg + air_kg) * G * (deep - up)
    carried = 0.5 * column.density_kg_m3 * start * p0 / p
    mass = moving + air_kg + carried
    assert 0.5 * mass * path.speed_m_s[0, -1] ** 2 == pytest.approx(given_j, rel=2e-3)


@brief
@given(columns, depths, weights_kg, st.floats(0.002, 0.3), st.floats(0.2, 5.0), st.floats(1.0, 1.5))
def test_no_rise_is_faster_than_the_greatest_terminal_speed_on_its_way(
    column: Column, deep: float, weight_kg: float, over: float, area: float, room: float
) -> None:
    start = (1.0 + over) * weight_kg / float(lift_kg_per_m3(deep, column))
    path = travel(
        np.array([weight_kg * G]),
        np.array([start]),
        np.array([start * room]),
        np.array([3.0 * weight_kg]),
        column,
        deep,
        0.0,
        area,
    )
    limit = terminal_m_s(path.net_n, area, column.density_kg_m3).max()
    assert path.moves[0]
    assert path.speed_m_s.max() <= limit * (1.0 + 2e-3)
    assert np.all(np.diff(path.time_s[0]) > 0.0)


@brief
@given(
    st.lists(volumes, min_size=1, max_size=6),
    st.lists(st.floats(0.0, 10.0), min_size=1, max_size=5),
    st.lists(st.floats(0.2, 8.0), min_size=1, max_size=5),
)
def test_air_held_in_bags_filled_in_turn_is_the_sum_over_the_bags(
    capacity: list[float], start: list[float], growth: list[float]
) -> None:
    room, air = np.array(capacity), np.array(start)
    got = held_m3(air, room, np.array(growth))
    before = np.concatenate([[0.0], np.cumsum(room)[:-1]])
    each = np.clip(air[:, None] - before, 0.0, room)
    for k, g in enumerate(growth):
        known = np.minimum(each * g, room).sum(axis=1) if g >= 1.0 else each.sum(axis=1) * g
        assert got[:, k] == pytest.approx(known, rel=1e-9, abs=1e-9)


kinds = st.builds(
    lambda v, share: BagKind(f"{v}", f"{v} m3", v, None, share * 1000.0 * v), volumes, st.floats(0.0, 0.2)
)


@brief
@given(st.lists(kinds, min_size=2, max_size=6), depths, columns)
def test_more_bags_never_lift_less(chosen: list[BagKind], depth: float, column: Column) -> None:
    bags = tuple(Bag(f"{i}", kind, None, "eye", None) for i, kind in enumerate(chosen))
    every = BagSet(bags, (Eye("eye", None),), depth, depth)
    fewer = replace(every, bags=bags[:-1])
    assert every.full_lift_kg(depth, column) >= fewer.full_lift_kg(depth, column)
    assert every.counted_lift_kg(depth, column) >= fewer.counted_lift_kg(depth, column)


@brief
@given(st.floats(1e5, 500e5), st.floats(1e5, 500e5), st.floats(0.001, 0.05))
def test_real_air_never_gives_more_than_pressure_times_volume(a: float, b: float, volume: float) -> None:
    low, high = sorted((a, b))
    assert 0.0 <= gives_m3(volume, high, low) <= volume * (high - low) / BAR_PA + 1e-12


@brief
@given(st.floats(10e5, 300e5), depths, depths, columns)
def test_a_cylinder_gives_no_more_deeper_down(fill: float, a: float, b: float, column: Column) -> None:
    shallow, deep = sorted((a, b))
    supply = AirSupply(0.012, fill, 1, 0.0, "bags only", 0.0, 1)
    assert cylinder_gives_m3(supply, deep, column) <= cylinder_gives_m3(supply, shallow, column) + 1e-12


@brief
@given(volumes, depths, st.floats(0.02, 1.0), st.floats(0.1, 2.0), columns)
def test_a_valve_of_the_needed_size_lets_out_what_is_gained(
    volume: float, depth: float, rise: float, height: float, column: Column
) -> None:
    gained = expansion_m3_s(volume, depth, rise, column)
    area = valve_area_m2(gained, height, depth, column)
    assert float(valve_m3_s(area, height, depth, column)) == pytest.approx(float(gained), rel=1e-12)
    step = 1e-6
    grown = boyle_m3(volume, absolute_pa(depth, column), absolute_pa(depth - rise * step, column)) - volume
    assert float(gained) == pytest.approx(float(grown) / step, rel=1e-3)


@settings(max_examples=25, deadline=None)
@given(st.lists(kinds, min_size=1, max_size=3, unique_by=lambda k: k.key), weights_kg, depths, columns)
def test_a_proposal_without_objection_keeps_both_rules(
    chosen: list[BagKind], weight: float, depth: float, column: Column
) -> None:
    for found in propose(chosen, weight, depth, column, most_bags=5):
        full = sum(n * float(k.net_lift_kg(k.full_m3(column), depth, column)) for k, n in found.counts)
        assert found.excess == pytest.approx(full / weight - 1.0, rel=1e-9, abs=1e-9)
        assert (found.objection is None) == (found.counted >= 0.05 and found.excess <= 0.10)
        if found.objection is None:
            assert 0.0 < found.trim_fill <= 1.0


@brief
@given(st.integers(1, 300), st.integers(0, 2**32 - 1))
def test_picked_draws_stand_for_the_weighted_ones(n: int, seed: int) -> None:
    rng = np.random.default_rng(seed)
    weights, values = rng.random(n) + 1e-3, rng.random(n)
    some = picked(n, weights, n)
    counts = np.bincount(some, minlength=n)
    assert np.all(np.abs(counts - n * weights / weights.sum()) < 1.0 + 1e-9)
    assert values[picked(n, None, 10)] == pytest.approx(values[:10])
