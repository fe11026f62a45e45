"""Round figures: ticks, scale bars, and print scales that a ruler can follow."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oakum.draw import scale

FINITE = st.floats(-1e6, 1e6, allow_nan=False)


@pytest.mark.parametrize(
    ("span", "count", "step"), [(1.0, 5, 0.2), (1730, 5, 500), (0.07, 4, 0.02), (10, 10, 1), (0, 5, 1.0)]
)
def test_steps_are_one_two_or_five(span: float, count: int, step: float) -> None:
    assert scale.nice_step(span, count) == step


@given(FINITE, FINITE)
def test_an_axis_holds_its_data_and_its_ticks_are_evenly_spaced(a: float, b: float) -> None:
    low, high = min(a, b), max(a, b)
    axis = scale.axis(low, high, 0.0, 100.0)
    slack = 1e-6 * max(abs(low), abs(high), 1.0)
    assert axis.low <= low + slack and axis.high >= high - slack and axis.low < axis.high
    assert 2 <= len(axis.ticks) <= 12
    assert all(-1e-6 <= axis.at(t) <= 100 + 1e-6 for t in axis.ticks)


def test_tick_labels_have_the_decimals_of_their_step_and_a_real_minus() -> None:
    axis = scale.axis(-0.6, 0.6, 0, 1, count=6)
    assert [axis.label(t) for t in axis.ticks] == ["−0.6", "−0.4", "−0.2", "0.0", "0.2", "0.4", "0.6"]
    assert scale.axis(0, 1730, 0, 1).label(1500) == "1,500"


@pytest.mark.parametrize(
    ("extent_m", "room_m", "denominator"),
    [(0.1, 0.16, 1), (0.7, 0.16, 5), (1.5, 0.16, 10), (2.6, 0.16, 20), (7.9, 0.16, 50), (400.0, 0.16, 3000)],
)
def test_the_largest_print_scale_that_fits_is_taken(extent_m: float, room_m: float, denominator: int) -> None:
    assert scale.print_scale(extent_m, room_m) == denominator


def test_a_metre_of_paper_is_its_points() -> None:
    assert pytest.approx(72) == scale.POINTS_PER_METRE * 0.0254  # the inch is 25.4 mm, 72 points (definition)


@pytest.mark.parametrize(
    ("room", "bar"), [(1.0, 1.0), (0.99, 0.5), (0.49, 0.2), (23.0, 20.0), (0.003, 0.002)]
)
def test_scale_bars_are_round(room: float, bar: float) -> None:
    assert scale.bar_length_m(room) == bar


@pytest.mark.parametrize(
    ("length", "words"),
    [(0.02, "20 mm"), (0.45, "45 cm"), (0.455, "45.5 cm"), (1.25, "1.25 m"), (0.0, "0 mm")],
)
def test_lengths_are_written_in_the_unit_of_their_size(length: float, words: str) -> None:
    assert scale.length_words(length) == words
