"""Laws of every vessel: heel grows with load, GM falls with its height, the chart never grows with radius."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from oakum.lift.vessel import (
    Boom,
    LoadChart,
    ResponseTable,
    chart_load_kg,
    first_roll_rad,
    greatest_load_kg,
    heel_rad,
    heeled_radius_m,
    kg_with_load_m,
    wall_sided_heel_rad,
)

brief = settings(max_examples=100, deadline=None)
displacement = st.floats(5e3, 5e5)
load = st.floats(10.0, 5e3)
gm = st.floats(0.05, 3.0)
arm = st.floats(0.1, 8.0)


@st.composite
def charts(draw: st.DrawFn) -> LoadChart:
    count = draw(st.integers(2, 8))
    steps = draw(st.lists(st.floats(0.2, 3.0), min_size=count, max_size=count))
    drops = draw(st.lists(st.floats(0.0, 0.6), min_size=count - 1, max_size=count - 1))
    loads = [draw(st.floats(500.0, 5000.0))]
    for drop in drops:
        loads.append(loads[-1] * (1.0 - drop))
    return LoadChart("c", tuple(np.cumsum(steps).tolist()), tuple(loads), holds_in="open")


@brief
@given(displacement, load, st.floats(0.5, 3.0), st.floats(0.05, 2.0), arm, st.floats(1.0, 12.0))
def test_heel_grows_with_load_and_gm_falls_with_the_height_of_the_head(
    ship: float, weight: float, kg: float, gm0: float, y: float, head: float
) -> None:
    km = kg + gm0

    def gm_at(w: float, h: float) -> float:
        return km - float(kg_with_load_m(ship, kg, w, h))

    assume(gm_at(1.2 * weight, head + 1.0) > 0.01)
    first = heel_rad(weight * y, ship + weight, gm_at(weight, head))
    # tan(heel) = w y / (D0 GM0 + w (KM - h)) rises with w wherever GM stays above 0, however low the head is
    more = heel_rad(1.2 * weight * y, ship + 1.2 * weight, gm_at(1.2 * weight, head))
    assert more > first
    assert gm_at(weight, head + 1.0) < gm_at(weight, head)


@brief
@given(displacement, load, gm, st.floats(0.0, 5.0), arm)
def test_a_wall_sided_vessel_never_heels_more_than_the_small_angle_formula_says(
    ship: float, weight: float, high: float, bm: float, y: float
) -> None:
    small = float(heel_rad(weight * y, ship, high))
    wall = float(wall_sided_heel_rad(weight * y, ship, high, bm))
    assert wall <= small * (1.0 + 1e-9)


@brief
@given(displacement, st.floats(0.5, 15.0), gm, arm, st.floats(2.0, 10.0))
def test_the_greatest_load_gives_the_limit(
    ship: float, limit: float, gm0: float, y: float, head: float
) -> None:
    km = 2.0 + gm0
    most = greatest_load_kg(math.radians(limit), ship, gm0, km, y, head)
    assume(math.isfinite(most) and most < 10.0 * ship)
    left = km - float(kg_with_load_m(ship, 2.0, most, head))
    assume(left > 1e-6)
    assert math.degrees(heel_rad(most * y, ship + most, left)) == pytest.approx(limit, rel=1e-6)


@brief
@given(st.floats(0.5, 20.0), gm, st.floats(0.0, 3.0), st.floats(0.0, 0.05))
def test_the_first_roll_is_the_heel_itself_and_more_with_a_counterweight(
    heel: float, high: float, bm: float, counter: float
) -> None:
    start = math.radians(heel)
    alone = float(first_roll_rad(start, high, bm))
    assert alone == pytest.approx(start, rel=1e-6)
    assert float(first_roll_rad(start, high, bm, -counter)) >= alone - 1e-9


@brief
@given(charts(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_chart_never_allows_more_further_out_and_says_nothing_outside(
    chart: LoadChart, a: float, b: float
) -> None:
    first, last = chart.radius_m[0], chart.radius_m[-1]
    near, far = sorted((first + a * (last - first), first + b * (last - first)))
    near, far = min(max(near, first), last), min(max(far, first), last)
    allowed = chart.capacity_kg(np.array([near, far, first - 0.01, last + 0.01]))
    assert allowed[1] <= allowed[0] * (1.0 + 1e-12)
    assert np.isnan(allowed[2:]).all()
    stepped = chart.stepped_kg(far)
    assert stepped is not None and stepped <= allowed[1] * (1.0 + 1e-9)


@brief
@given(charts(), st.floats(0.05, 0.95), st.floats(0.2, 1.5))
def test_the_chart_with_its_own_heel_never_allows_more_than_upright(
    chart: LoadChart, share: float, gm0: float
) -> None:
    radius = chart.radius_m[0] + share * (chart.radius_m[-1] - chart.radius_m[0])
    boom = Boom(50_000.0, 1.5, 1.5 + gm0, 0.0, 1.0, 2.0, 7.0)
    most = chart_load_kg(boom, chart, 1.0, radius)
    assert most <= float(chart.capacity_kg(radius)) + 1e-6


@brief
@given(st.floats(0.5, 10.0), st.floats(0.0, 12.0), st.floats(0.0, 0.6))
def test_a_heel_lengthens_the_radius_of_a_high_boom(radius: float, over: float, heel: float) -> None:
    reached = float(heeled_radius_m(radius, over, heel))
    if over >= radius * math.tan(heel / 2.0):
        assert reached >= radius * (1.0 - 1e-12)
    assert reached <= math.hypot(radius, over) + 1e-9


@brief
@given(st.floats(4.0, 9.0), st.floats(0.0, 6.0), st.floats(0.0, 4.0))
def test_a_longer_lever_never_moves_less(period: float, lever: float, more: float) -> None:
    table = ResponseTable("t", "beam", (3.0, 5.0, 10.0), (0.8, 0.9, 1.0), (0.05, 0.2, 0.06), None, "own")
    assert table.tip_ratio(period, lever + more) >= table.tip_ratio(period, lever)
