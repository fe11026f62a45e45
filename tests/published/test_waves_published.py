"""Waves against printed tables, limits of theory and integrals done another way."""

from __future__ import annotations

from math import exp, log, pi, sqrt

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from oakum.ground.waves import (
    Jonswap,
    decay,
    decay_slope_per_m,
    deep_length_m,
    height_odds,
    most_probable_largest,
    peakedness,
    shortest_tz_s,
    steepest_hs_m,
    tp_from_tz_s,
    tz_over_tp,
    wave_length_m,
    wave_number_rad_m,
)


@pytest.mark.parametrize(
    ("period_s", "depth_m", "length_m"),
    [(3, 5, 13.758), (3, 10, 14.043), (5, 5, 30.302), (5, 10, 36.583), (5, 30, 39.014), (8, 5, 53.071),
     (8, 20, 88.770), (12, 20, 152.328), (12, 30, 177.002)],
)  # fmt: skip
def test_length_by_period_and_depth(period_s: float, depth_m: float, length_m: float) -> None:
    """Linear dispersion relation, table for g = 9.80665 m/s2 (own calculation)."""
    assert float(wave_length_m(period_s, depth_m)) == pytest.approx(length_m, abs=6e-4)


def test_dispersion_against_a_root_finder_from_shallow_to_deep() -> None:
    """Own calculation: scipy.optimize.brentq on omega^2 = g k tanh k h."""
    for depth in (0.2, 1.0, 7.0, 40.0, 300.0):
        for omega in (0.3, 0.9, 2.0, 6.0):
            k = brentq(lambda k, w=omega, h=depth: 9.80665 * k * np.tanh(k * h) - w * w, 1e-6, 100.0)
            assert float(wave_number_rad_m(omega, depth)) == pytest.approx(k, rel=1e-9)


def test_motion_under_a_wave_at_the_bed_and_between() -> None:
    """sinh law of linear theory written out (any text; own calculation)."""
    k, h = float(wave_number_rad_m(2 * pi / 8, 20.0)), 20.0
    for d in (0.0, 3.0, 12.0, 20.0):
        assert float(decay(k, d, h)) == pytest.approx(np.sinh(k * (h - d)) / np.sinh(k * h), rel=1e-12)
        slope = -k * np.cosh(k * (h - d)) / np.sinh(k * h)
        if 0.0 < d < h:
            assert float(decay_slope_per_m(k, d, h)) == pytest.approx(slope, rel=1e-12)
    assert float(decay(k, 3.0)) == pytest.approx(exp(-3.0 * k))


def test_jonswap_height_and_mean_period() -> None:
    """Hs 1 m, Tp 5 s, gamma 3.3: Tz 3.889 s, 4 sqrt(m0) 1.001 m; Hs 0.5, Tp 3.2 by rule: gamma 1.726, Tz 2.363.

    DNV-RP-H103, 2.2.6 (formula from memory, verify; numbers own calculation).
    """
    sea = Jonswap(1.0, 5.0, 3.3)
    assert sea.tz_s == pytest.approx(3.889, rel=5e-3)
    assert 4 * sqrt(sea.moment(0)) == pytest.approx(1.001, rel=5e-3)
    short = Jonswap(0.5, 3.2)
    assert short.enhancement == pytest.approx(1.726, rel=5e-4)
    assert short.tz_s == pytest.approx(2.363, rel=5e-3)


@pytest.mark.parametrize("gamma", [1.0, 1.7, 2.5, 3.3, 5.0])
def test_ratio_of_periods_against_the_integrals(gamma: float) -> None:
    """DNV-RP-C205 polynomial (memory, verify) against scipy's quad over the spectrum: within 0.2 %."""
    sea = Jonswap(2.0, 8.0, gamma)

    def part(order: int) -> float:
        return sum(
            quad(lambda w: w**order * float(sea.density_m2_s(w)), a, b, limit=400)[0]
            for a, b in ((0.2, 0.75), (0.75, 0.83), (0.83, 3.0), (3.0, 400.0))
        )

    ratio = 2 * pi * sqrt(part(0) / part(2)) / 8.0
    assert sea.tz_s / 8.0 == pytest.approx(ratio, rel=2e-4)
    assert tz_over_tp(gamma) == pytest.approx(ratio, rel=2e-3)


def test_gamma_one_is_the_spectrum_of_pierson_and_moskowitz() -> None:
    """Closed forms m0 = A/4B, m2 = A sqrt(pi/B)/4 (own calculation)."""
    sea = Jonswap(1.5, 7.0, 1.0)
    wp = sea.peak_rad_s
    a, b = 5 / 16 * 1.5**2 * wp**4, 1.25 * wp**4
    assert sea.moment(0) == pytest.approx(a / (4 * b), rel=1e-5)
    assert sea.moment(2) == pytest.approx(a / 4 * sqrt(pi / b), rel=1e-4)


def test_peakedness_by_the_rule_and_back_from_tz() -> None:
    """DNV-RP-H103, 2.2.6.9 (read, in code that cites it): 5 below 3.6, 1 above 5, exp between."""
    assert peakedness(1.0, 3.0) == 5.0
    assert peakedness(1.0, 5.5) == 1.0
    assert peakedness(1.0, 4.0) == pytest.approx(exp(5.75 - 4.6))
    for hs, tz in ((0.3, 3.0), (0.5, 4.0), (1.0, 3.6), (2.0, 4.2)):
        tp = tp_from_tz_s(hs, tz)
        assert tp * tz_over_tp(peakedness(hs, tp)) == pytest.approx(tz, rel=1e-9)


def test_greatest_of_many_waves() -> None:
    """Rayleigh: sqrt(ln N / 2) 1.58, 1.75, 1.99 for N 150, 450, 2700; 1.8 is about 650 waves (own calculation)."""
    assert [most_probable_largest(n) for n in (150, 450, 2700)] == pytest.approx(
        [1.58, 1.75, 1.99], rel=5e-3
    )
    assert most_probable_largest(650) == pytest.approx(1.80, abs=0.005)
    assert height_odds([1.0, 1.5, 2.0]) == pytest.approx([0.1353, 0.01111, 0.000335], rel=2e-3)
    assert most_probable_largest(exp(2.0)) == pytest.approx(sqrt(log(exp(2.0)) / 2))


def test_shortest_period_comes_from_a_greatest_wave_of_a_seventh_of_its_length() -> None:
    """DNV-RP-H103, 4.3.2 (read): 8.9 sqrt(Hs/g) from 1.8 Hs = L/7."""
    tz = shortest_tz_s(0.7)
    assert float(deep_length_m(tz)) / 7.0 == pytest.approx(1.8 * 0.7, rel=2e-3)
    assert steepest_hs_m(tz) == pytest.approx(0.7)
    assert steepest_hs_m(tz, 200.0) == pytest.approx(0.7, rel=1e-2)  # Miche in deep water says the same
    assert steepest_hs_m(10.0, 5.0) < 0.5 * steepest_hs_m(10.0)
