"""Shares of the variance, and weights with their spread, against published and independent figures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from oakum.ground.estimate import Draws, drivers, normal, spread_of, triangular, uniform

A, B = 7.0, 0.1
# Sobol' indices of Ishigami and Homma 1990 from the closed forms in Saltelli, Chan and Scott, Sensitivity
# Analysis (2000): V1 = (1 + b pi^4 / 5)^2 / 2, V2 = a^2 / 8, V3 = 0 (memory, verify).
V1 = 0.5 * (1.0 + B * math.pi**4 / 5.0) ** 2
V2 = A**2 / 8.0
V = 0.5 + A**2 / 8.0 + B * math.pi**4 / 5.0 + B**2 * math.pi**8 / 18.0


def ishigami(x: np.ndarray) -> np.ndarray:
    return np.asarray(np.sin(x[0]) + A * np.sin(x[1]) ** 2 + B * x[2] ** 4 * np.sin(x[0]))


def test_the_closed_forms_give_the_widely_printed_indices() -> None:
    """0.3139, 0.4424 and 0 are printed wherever the function is used (memory, verify)."""
    first, second = V1 / V, V2 / V
    assert first == pytest.approx(0.3139, abs=5e-5)
    assert second == pytest.approx(0.4424, abs=5e-5)


@pytest.mark.parametrize(("n", "within"), [(100_000, 0.01), (20_000, 0.015), (2_000, 0.06)])
def test_first_order_shares_of_the_ishigami_function(n: int, within: float) -> None:
    x = np.random.default_rng(20).uniform(-math.pi, math.pi, (3, n))
    shares = {d.label: d.share for d in drivers(ishigami(x), {"1": x[0], "2": x[1], "3": x[2]})}
    assert [shares["1"], shares["2"], shares["3"]] == pytest.approx([V1 / V, V2 / V, 0.0], abs=within)


def test_the_correction_for_chance_leaves_no_bias() -> None:
    """Own calculation: over 40 small samples the mean share of an idle input is zero within its noise."""
    rng = np.random.default_rng(4)
    x = rng.uniform(-math.pi, math.pi, (40, 3, 1000))
    second = [{d.label: d.share for d in drivers(ishigami(one), {"2": one[1]})}["2"] for one in x]
    assert np.mean(second) == pytest.approx(V2 / V, abs=0.015)


def test_weighted_draws_give_the_shares_of_the_distribution_they_stand_for() -> None:
    """Draws from wider bells, weighted back to the uniform of the function (importance sampling)."""
    x = np.random.default_rng(8).normal(0.0, 2.5, (3, 400_000))
    inside = np.all(np.abs(x) <= math.pi, axis=0)
    weights = np.where(inside, np.exp(0.5 * np.sum((x / 2.5) ** 2, axis=0)), 0.0)
    shares = {d.label: d.share for d in drivers(ishigami(x), {"1": x[0], "2": x[1], "3": x[2]}, weights)}
    assert [shares["1"], shares["2"], shares["3"]] == pytest.approx([V1 / V, V2 / V, 0.0], abs=0.02)


def test_an_independent_estimator_agrees() -> None:
    """scipy.stats.sobol_indices (Saltelli 2010 design) on the same function, with runs of its own."""
    other = stats.sobol_indices(
        func=ishigami, n=2**14, dists=[stats.uniform(-math.pi, 2 * math.pi)] * 3, rng=np.random.default_rng(1)
    )
    x = np.random.default_rng(21).uniform(-math.pi, math.pi, (3, 100_000))
    shares = {d.label: d.share for d in drivers(ishigami(x), {"0": x[0], "1": x[1], "2": x[2]})}
    for i, index in enumerate(other.first_order):
        assert shares[str(i)] == pytest.approx(index, abs=0.015)


def test_a_sum_of_independent_inputs_gives_shares_by_variance() -> None:
    d = Draws(100_000, np.random.default_rng(3))
    total = sum(d.of(normal(10.0, sd, f"sd {sd}")) for sd in (1.0, 2.0, 3.0))
    shares = {x.label: x.share for x in drivers(total, d.inputs)}
    assert [shares[f"sd {sd}"] for sd in (1.0, 2.0, 3.0)] == pytest.approx([1 / 14, 4 / 14, 9 / 14], abs=0.01)


def test_quantiles_agree_with_scipy() -> None:
    """scipy.stats as the independent reference for each kind."""
    p = np.array([0.001, 0.05, 0.3, 0.5, 0.9, 0.999])
    assert normal(7100.0, 150.0).quantile(p) == pytest.approx(stats.norm(7100, 150).ppf(p))
    assert uniform(18.0, 29.0).quantile(p) == pytest.approx(stats.uniform(18, 11).ppf(p))
    bent = triangular(20.0, 40.0, 100.0)
    reference = stats.triang(0.25, 20, 80)
    assert bent.quantile(p) == pytest.approx(reference.ppf(p))
    assert (bent.mean, bent.sd) == pytest.approx((reference.mean(), reference.std()))


def test_an_iron_gun_in_concretion_with_its_spread() -> None:
    """Own calculation, 2e6 draws: mass in air 1730 kg, sd 147, P5 1531, P95 2008.

    Frustum radius .20 to .13 m, 2.4 m long, bored .05 m for 2.1 m; iron 7100 +- 150 kg/m3; crust
    20..40..100 mm all round its side, 1800..2900 kg/m3.
    """
    d = Draws(400_000, np.random.default_rng(1))
    coat = d.of(triangular(0.02, 0.04, 0.10, "crust thickness"))
    crust = d.of(uniform(1800.0, 2900.0, "crust density"))
    iron = d.of(normal(7100.0, 150.0, "iron density"))

    def frustum(grown: float | np.ndarray) -> np.ndarray:
        r1, r2 = 0.20 + grown, 0.13 + grown
        return np.asarray(math.pi * 2.4 / 3.0 * (r1**2 + r1 * r2 + r2**2))

    metal = frustum(0.0) - math.pi * 0.05**2 * 2.1
    mass = spread_of(iron * metal + crust * (frustum(coat) - frustum(0.0)), "kg", inputs=d.inputs)
    assert (mass.mean, mass.sd, mass.p5, mass.p95) == pytest.approx((1730.0, 147.0, 1531.0, 2008.0), rel=0.01)
    assert [x.label for x in mass.drivers] == ["crust thickness", "crust density", "iron density"]
