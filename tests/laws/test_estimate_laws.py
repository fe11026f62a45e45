"""Laws of estimates and of the sums over their draws."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from oakum.ground.estimate import (
    Draws,
    Estimate,
    Spread,
    effective_draws,
    exact,
    lognormal,
    normal,
    spread_of,
    triangular,
    uniform,
    weighted_quantile,
)

numbers = st.floats(-1e6, 1e6).map(lambda x: round(x, 6))
widths = st.floats(1e-3, 1e4)


@st.composite
def estimates(draw: st.DrawFn) -> Estimate:
    at, first, second = draw(numbers), draw(widths), draw(widths)
    match draw(st.sampled_from(["exact", "normal", "uniform", "triangular", "lognormal"])):
        case "exact":
            return exact(at, "x")
        case "normal":
            return normal(at, first, "x")
        case "uniform":
            return uniform(at, at + first, "x")
        case "triangular":
            return triangular(at, at + first, at + first + second, "x")
        case _:
            return lognormal(first, 1.0 + min(second, 3.0), "x")


@given(estimates(), st.floats(0.001, 0.999), st.floats(0.001, 0.999))
def test_quantiles_rise(estimate: Estimate, p: float, q: float) -> None:
    low, high = sorted((p, q))
    assert estimate.quantile(low) <= estimate.quantile(high) + 1e-9 * abs(estimate.quantile(high))


@given(estimates(), st.integers(0, 2**32 - 1))
def test_one_seed_gives_one_answer(estimate: Estimate, seed: int) -> None:
    one, two = (Draws(64, np.random.default_rng(seed)).of(estimate) for _ in range(2))
    assert np.array_equal(one, two)
    assert np.all(np.isfinite(one))


@given(st.lists(estimates(), min_size=2, max_size=4), st.integers(0, 2**32 - 1))
def test_the_order_of_asking_does_not_matter(some: list[Estimate], seed: int) -> None:
    named = [e.labelled(f"cause {i}") for i, e in enumerate(some)]
    one, two = (Draws(32, np.random.default_rng(seed)) for _ in range(2))
    forward = [one.of(e) for e in named]
    backward = [two.of(e) for e in reversed(named)][::-1]
    for a, b in zip(forward, backward, strict=True):
        assert np.array_equal(a, b)


values_and_weights = st.lists(st.tuples(numbers, st.floats(0.01, 10.0)), min_size=1, max_size=60)


@given(values_and_weights, st.floats(0.0, 1.0), st.floats(0.1, 10.0), numbers)
def test_weighted_quantiles_scale_shift_and_stay_inside(
    pairs: list[tuple[float, float]], p: float, scale: float, shift: float
) -> None:
    v, w = (np.array(column) for column in zip(*pairs, strict=True))
    quantile = float(weighted_quantile(v, p, w))
    assert v.min() - 1e-9 * abs(v.min()) <= quantile <= v.max() + 1e-9 * abs(v.max())
    size = abs(scale) * np.abs(v).max() + abs(shift) + 1.0
    assert (
        abs(float(weighted_quantile(scale * v + shift, p, 3.0 * w)) - (scale * quantile + shift))
        < 1e-9 * size
    )


@given(values_and_weights)
def test_a_whole_weight_is_so_many_equal_draws(pairs: list[tuple[float, float]]) -> None:
    """A draw of weight 3 pulls the mean as three draws do."""
    v = np.array([value for value, _ in pairs])
    w = np.array([1 + int(weight) for _, weight in pairs])
    one, many = spread_of(v, "kg", weights=w), spread_of(np.repeat(v, w), "kg")
    size = np.abs(v).max() + 1.0
    assert abs(one.mean - many.mean) < 1e-9 * size
    assert abs(one.sd - many.sd) < 1e-7 * size


@given(st.lists(st.floats(0.0, 1e6), min_size=1, max_size=50).filter(lambda w: sum(w) > 0))
def test_effective_draws_lie_between_one_and_all(weights: list[float]) -> None:
    assert 1.0 - 1e-9 <= effective_draws(weights) <= len(weights) + 1e-9


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e6), st.floats(1e-6, 1e6))
def test_words_never_move_an_end_by_more_than_a_twentieth_of_the_half_width(
    low: float, first: float, second: float
) -> None:
    spread = Spread(low, low + first, low + first + second, 0.0, 1.0, "kg/m3")
    if spread.is_exact:
        return
    said = spread.words().replace(",", "").replace("\N{MINUS SIGN}", "-")
    words = said.split()
    best, written_low, written_high = float(words[1]), float(words[7]), float(words[9])
    allowed = 0.5 * (first + second) / 20.0 + 1e-9 * max(abs(low), abs(spread.p95))
    assert abs(best - spread.best) <= allowed
    assert abs(written_low - spread.p5) <= allowed
    assert abs(written_high - spread.p95) <= allowed
