"""Estimates, draws with shared causes, weighted sums and the words for a spread."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import numpy as np
import pytest

from oakum.ground.errors import OakumError
from oakum.ground.estimate import (
    Draws,
    Estimate,
    EstimateError,
    Spread,
    drivers,
    effective_draws,
    exact,
    lognormal,
    normal,
    positive,
    spread_of,
    triangular,
    uniform,
    weighted_mean_sd,
    weighted_quantile,
)

KINDS = [
    exact(3.0, "x"),
    normal(7100.0, 150.0, "x"),
    uniform(1800.0, 2900.0, "x"),
    triangular(0.02, 0.04, 0.1, "x"),
    triangular(0.0, 0.0, 1.0, "x"),
    triangular(0.0, 1.0, 1.0, "x"),
    lognormal(5.0, 1.5, "x"),
]


def draws(n: int = 1000, seed: int = 7) -> Draws:
    return Draws(n, np.random.default_rng(seed))


@pytest.mark.parametrize("estimate", KINDS, ids=lambda e: e.kind)
def test_draws_have_the_mean_sd_and_quantiles_of_the_estimate(estimate: Estimate) -> None:
    values = draws(200_000).of(estimate)
    assert values.mean() == pytest.approx(estimate.mean, abs=4 * estimate.sd / math.sqrt(values.size))
    assert values.std() == pytest.approx(estimate.sd, rel=0.02)
    for p in (0.05, 0.5, 0.95):
        assert np.mean(values <= estimate.quantile(p)) == pytest.approx(
            1.0 if estimate.is_exact else p, abs=0.005
        )


def test_best_is_what_one_would_write_down_alone() -> None:
    assert [round(e.best, 6) for e in KINDS] == [3.0, 7100.0, 2350.0, 0.04, 0.0, 1.0, 5.0]


def test_quantile_takes_arrays_and_refuses_what_is_no_share() -> None:
    assert normal(0.0, 1.0).quantile(np.array([0.5, 0.975])) == pytest.approx([0.0, 1.959964], abs=1e-6)
    with pytest.raises(EstimateError, match="between 0 and 1"):
        normal(0.0, 1.0).quantile(1.2)


def test_estimates_of_one_label_share_one_draw() -> None:
    d = draws()
    first = d.of(normal(560.0, 60.0, "density of oak"))
    assert d.of(normal(560.0, 60.0, "density of oak")) is first
    other = d.of(normal(560.0, 60.0, "density of elm"))
    assert abs(np.corrcoef(first, other)[0, 1]) < 0.15


def test_estimates_of_one_label_and_another_width_rise_and_fall_together() -> None:
    d = draws()
    bell = d.of(normal(1.0, 0.01, "tape"))
    flat = d.of(uniform(0.9, 1.1, "tape"))
    again = d.of(lognormal(1.0, 1.1, "tape"))
    assert np.array_equal(np.argsort(bell), np.argsort(flat))
    assert np.array_equal(np.argsort(bell), np.argsort(again))
    assert d.inputs["tape"] is bell
    e = draws()
    flat_first = e.of(uniform(0.9, 1.1, "tape"))
    assert np.array_equal(np.argsort(flat_first), np.argsort(e.of(normal(1.0, 0.01, "tape"))))


def test_estimates_without_a_label_are_independent_and_not_named() -> None:
    d = draws()
    a, b = d.of(normal(0.0, 1.0)), d.of(normal(0.0, 1.0))
    assert abs(np.corrcoef(a, b)[0, 1]) < 0.15
    assert d.inputs == {}


def test_draws_of_a_label_do_not_depend_on_what_was_asked_before() -> None:
    one, two = draws(), draws()
    two.of(uniform(0.0, 1.0, "something else"))
    two.of(normal(0.0, 1.0))
    assert np.array_equal(one.of(normal(5.0, 1.0, "x")), two.of(normal(5.0, 1.0, "x")))
    assert not np.array_equal(one.of(normal(5.0, 1.0, "x")), draws(seed=8).of(normal(5.0, 1.0, "x")))


def test_shared_draws_cannot_be_changed_by_one_of_their_users() -> None:
    d = draws()
    for values in (d.of(normal(5.0, 1.0, "x")), d.of(exact(5.0))):
        with pytest.raises(ValueError, match="read-only"):
            values += 1.0
    with pytest.raises(EstimateError, match="at least 1"):
        Draws(0, np.random.default_rng(1))


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: normal(5.0, 0.0, "coat"), "coat.*greater than zero"),
        (lambda: normal(5.0, -1.0), "greater than zero"),
        (lambda: normal(math.nan, 1.0), "finite"),
        (lambda: exact(math.inf), "finite"),
        (lambda: uniform(2.0, 1.0), "smaller to the greater"),
        (lambda: uniform(2.0, 2.0), "smaller to the greater"),
        (lambda: triangular(1.0, 5.0, 4.0), "rising order"),
        (lambda: triangular(1.0, 1.0, 1.0), "rising order"),
        (lambda: lognormal(0.0, 2.0), "median"),
        (lambda: lognormal(2.0, 1.0), "factor"),
        (lambda: positive(normal(40.0, 15.0, "coat")), r"coat.*below zero.*10\.\.40\.\.70"),
        (lambda: positive(normal(-40.0, 1.0, "coat")), "greater than zero"),
        (lambda: positive(uniform(-1.0, 5.0)), "below zero"),
        (lambda: positive(triangular(-1.0, 2.0, 5.0)), "below zero"),
        (lambda: positive(exact(0.0)), "greater than zero"),
        (lambda: exact(1.0).from_normal(0.0), "not made from a normal"),
    ],
)
def test_an_estimate_that_cannot_be_meant_is_refused(make: Callable[[], object], said: str) -> None:
    with pytest.raises(EstimateError, match=said):
        make()
    assert issubclass(EstimateError, OakumError)


@pytest.mark.parametrize("estimate", [exact(1.0), normal(40.0, 9.9), uniform(0.0, 1.0), lognormal(1.0, 3.0)])
def test_positive_passes_what_is_positive(estimate: Estimate) -> None:
    assert positive(estimate) is estimate


def test_weights_of_equal_size_change_nothing_and_heavy_draws_pull() -> None:
    values = np.random.default_rng(3).normal(size=501)
    probs = np.array([0.0, 0.05, 0.5, 0.95, 1.0])
    assert weighted_quantile(values, probs, np.full(501, 0.2)) == pytest.approx(
        weighted_quantile(values, probs)
    )
    assert weighted_quantile([1.0, 2.0, 3.0], 0.5, [0.0, 0.0, 5.0]) == 3.0
    assert weighted_quantile([3.0, 1.0, 2.0], 0.5, [1.0, 1.0, 1.0]) == 2.0
    assert weighted_mean_sd([1.0, 3.0], [3.0, 1.0]) == pytest.approx((1.5, math.sqrt(0.75)))


def test_effective_draws_count_equal_weights_fully_and_a_single_one_once() -> None:
    assert effective_draws(np.full(800, 1e-300)) == pytest.approx(800.0)
    assert effective_draws([0.0, 7.0, 0.0]) == pytest.approx(1.0)
    assert effective_draws([1.0, 1.0, 2.0]) == pytest.approx(16 / 6)


@pytest.mark.parametrize("weights", [[1.0], [1.0, -1.0], [0.0, 0.0], [1.0, math.nan]])
def test_weights_that_cannot_be_are_refused(weights: list[float]) -> None:
    with pytest.raises(EstimateError, match="weight"):
        weighted_quantile([1.0, 2.0], 0.5, weights)


def test_a_spread_names_its_drivers_greatest_first() -> None:
    d = draws(20_000)
    a, b, c = (d.of(normal(100.0, sd, label)) for sd, label in ((8.0, "crust"), (6.0, "iron"), (0.1, "tape")))
    spread = spread_of(a + b + c, "kg", inputs=d.inputs)
    assert [driver.label for driver in spread.drivers] == ["crust", "iron"]
    assert [driver.share for driver in spread.drivers] == pytest.approx([0.64, 0.36], abs=0.02)
    assert (spread.mean, spread.sd) == pytest.approx((300.0, 10.0), rel=0.02)
    assert spread_of((a + b)[:100], "kg", inputs={"crust": a[:100]}).drivers == ()


def test_drivers_follow_the_weights() -> None:
    rng = np.random.default_rng(5)
    x, y = rng.normal(size=(2, 50_000))
    known_x = np.exp(-0.5 * (x / 0.1) ** 2)
    assert drivers(x + y, {"x": x, "y": y})[0].share == pytest.approx(0.5, abs=0.02)
    after = {d.label: d.share for d in drivers(x + y, {"x": x, "y": y}, known_x)}
    assert after["y"] == pytest.approx(0.99, abs=0.01)
    assert after["x"] == pytest.approx(0.01, abs=0.01)


def test_a_result_or_input_that_does_not_vary_drives_nothing() -> None:
    x = np.random.default_rng(1).normal(size=1000)
    assert drivers(np.full(1000, 1710.0), {"x": x})[0].share == 0.0
    assert drivers(x, {"still": np.ones(1000)})[0].share == 0.0
    two_values = np.where(x > 0, 1.0, 0.0)
    assert drivers(two_values, {"switch": two_values})[0].share == pytest.approx(1.0, abs=0.01)
    with pytest.raises(EstimateError, match="too few"):
        drivers(x[:150], {"x": x[:150]})
    with pytest.raises(EstimateError, match="shape"):
        drivers(x, {"x": x[:10]})


@pytest.mark.parametrize(
    ("numbers", "unit", "words"),
    [
        ((1515.2, 1710.4, 2017.8), "kg", "likely 1,710 kg; 9 in 10 within 1,515 to 2,018 kg"),
        ((15152.0, 17104.0, 20178.0), "kg", "likely 17,100 kg; 9 in 10 within 15,150 to 20,180 kg"),
        ((0.4, 0.452, 0.51), "kg", "likely 452 g; 9 in 10 within 400 to 510 g"),
        ((1.0142, 1.0171, 1.0203), "m", "likely 1.0171 m; 9 in 10 within 1.0142 to 1.0203 m"),
        ((0.0201, 0.0403, 0.0804), "m", "likely 40 mm; 9 in 10 within 20 to 80 mm"),
        ((-0.033, 1e-17, 0.033), "m", "likely 0 mm; 9 in 10 within −33 to 33 mm"),
        ((0.191, 0.192, 0.193), "m3", "likely 0.1920 m³; 9 in 10 within 0.1910 to 0.1930 m³"),
        ((0.011, 0.012, 0.013), "m3", "likely 12.0 l; 9 in 10 within 11.0 to 13.0 l"),
        ((2.2, 3.1, 4.0), "deg", "likely 3.10°; 9 in 10 within 2.20 to 4.00°"),
        ((8000.0, 10000.0, 12000.0), "N", "likely 10.0 kN; 9 in 10 within 8.0 to 12.0 kN"),
        ((0.2, 0.3, 0.4), "1", "likely 30 %; 9 in 10 within 20 to 40 %"),
    ],
)
def test_a_spread_is_said_in_figures_that_its_width_supports(
    numbers: tuple[float, float, float], unit: str, words: str
) -> None:
    low, best, high = numbers
    assert Spread(low, best, high, best, (high - low) / 3.3, unit).words() == words


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (1710.0, "kg", "exactly 1,710 kg as entered"),
        (0.1 + 0.2, "m", "exactly 0.3 m as entered"),
        (0.0805, "m", "exactly 80.5 mm as entered"),
        (1e-17, "m", "exactly 0 mm as entered"),
        (1027.0457, "kg/m3", "exactly 1,027.05 kg/m³ as entered"),
        (90.0, "deg", "exactly 90° as entered"),
    ],
)
def test_no_spread_is_said_to_be_none(value: float, unit: str, words: str) -> None:
    assert spread_of(value, unit).words() == words
    assert spread_of(np.full(300, value), unit).words() == words


@pytest.mark.parametrize("values", [[], [[1.0, 2.0]], [1.0, math.nan], [math.inf]])
def test_draws_that_are_no_numbers_are_refused(values: list[float]) -> None:
    with pytest.raises(EstimateError):
        spread_of(values, "kg")


def test_a_hundred_thousand_draws_of_twenty_inputs_are_fast() -> None:
    def once() -> tuple[float, float]:
        started = time.perf_counter()
        d = draws(100_000)
        total = sum(d.of(normal(100.0, 1.0 + i, f"part {i}")) for i in range(20))
        drawn = time.perf_counter()
        spread_of(total, "kg", inputs=d.inputs)
        return drawn - started, time.perf_counter() - drawn

    times = [once() for _ in range(4)]
    assert min(t[0] for t in times) < 0.3
    assert min(t[1] for t in times) < 0.3
