"""Random seas, their components, and seas that cannot be."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.ground.waves import (
    Jonswap,
    Sea,
    WaveError,
    check_sea,
    components,
    decay,
    decay_slope_per_m,
    gaussian_coefficients,
    most_probable_largest,
    regular,
    regular_coefficients,
    tz_over_tp,
    wave_number_rad_m,
)


def generators(members: int, seed: int = 1670) -> list[np.random.Generator]:
    return [np.random.default_rng(s) for s in np.random.SeedSequence(seed).spawn(members)]


def test_components_keep_height_and_mean_period_and_never_repeat() -> None:
    spectrum = Jonswap.of_tz(0.5, 4.0)
    parts = components(spectrum, 160)
    assert np.sum(parts.sd_m**2) == pytest.approx(spectrum.moment(0), rel=1e-9)
    mean = np.sum(parts.sd_m**2 * parts.omega_rad_s**2)
    assert 2 * np.pi * np.sqrt(spectrum.moment(0) / mean) == pytest.approx(spectrum.tz_s, rel=0.05)
    gaps = np.diff(parts.omega_rad_s)
    assert gaps.min() > 0 and gaps.max() / gaps.min() > 3


def test_gaussian_seas_have_the_height_and_period_asked_for() -> None:
    spectrum = Jonswap.of_tz(0.5, 4.0)
    parts = components(spectrum)
    sea = Sea(parts.omega_rad_s, gaussian_coefficients(parts, generators(60)))
    surface = sea.elevation_m(np.arange(0.0, 400.0, 0.2))
    assert 4 * surface.std() == pytest.approx(4 * np.sqrt(spectrum.moment(0)), rel=0.03)
    ups = ((surface[:, :-1] < 0) & (surface[:, 1:] >= 0)).sum()
    assert 60 * 400.0 / ups == pytest.approx(4.0, rel=0.06)
    kurtosis = np.mean(surface**4) / np.mean(surface**2) ** 2
    assert kurtosis == pytest.approx(3.0, abs=0.25)


def test_same_generator_same_sea_whatever_the_neighbours() -> None:
    parts = components(Jonswap(1.0, 5.0))
    together = gaussian_coefficients(parts, generators(3))
    alone = gaussian_coefficients(parts, generators(3)[1:2])
    assert np.array_equal(together[1], alone[0])


def test_a_regular_wave_has_its_amplitude_and_any_phase() -> None:
    parts = regular(0.3, 4.0)
    sea = Sea(parts.omega_rad_s, regular_coefficients(parts, generators(50)))
    surface = sea.elevation_m(np.arange(0.0, 4.0, 0.01))
    assert surface.max(axis=1) == pytest.approx(np.full(50, 0.3), rel=1e-4)
    assert surface[:, 0].std() > 0.15


def test_motion_dies_away_only_below_the_mean_level_and_ends_at_the_bed() -> None:
    assert decay(0.5, [-1.0, 0.0]) == pytest.approx([1.0, 1.0])
    assert float(decay(0.5, 30.0, 12.0)) == 0.0
    assert decay_slope_per_m(0.5, [-1.0, 30.0], 12.0) == pytest.approx([0.0, 0.0])
    assert float(decay(40.0, 1.0, 1000.0)) == pytest.approx(np.exp(-40.0))  # no overflow
    step = 1e-5
    for depth in (None, 9.0):
        slope = (decay(0.6, 2.0 + step, depth) - decay(0.6, 2.0 - step, depth)) / (2 * step)
        assert float(decay_slope_per_m(0.6, 2.0, depth)) == pytest.approx(float(slope), rel=1e-6)


def test_a_sea_that_would_break_is_refused_with_the_one_that_would_not() -> None:
    check_sea(0.5, 4.0)
    with pytest.raises(WaveError, match=r"Tz 3 s is impossible for Hs 2 m.*at least 4\.0 s.*at most 1\.11 m"):
        check_sea(2.0, 3.0)
    with pytest.raises(WaveError, match=r"impossible in 5 m of water.*at most"):
        check_sea(4.0, 13.0, 5.0)
    with pytest.raises(WaveError, match="more than 0 m"):
        check_sea(0.0, 4.0)
    with pytest.raises(WaveError, match="more than 0 s"):
        check_sea(0.5, float("nan"))


@pytest.mark.parametrize(
    ("ask", "expected"),
    [
        (lambda: wave_number_rad_m(0.0), "frequency of a wave"),
        (lambda: wave_number_rad_m(1.0, 0.0), "depth of the water must be more than 0 m"),
        (lambda: Jonswap(1.0, 5.0, 9.0), "between 1 and 7"),
        (lambda: tz_over_tp(0.5), "between 1 and 7"),
        (lambda: Jonswap(-1.0, 5.0), "Hs must be more than 0 m"),
        (lambda: Jonswap(1.0, 5.0).moment(4), "not finite"),
        (lambda: components(Jonswap(1.0, 5.0), 3), "at least 16 waves"),
        (lambda: regular(0.0, 4.0), "amplitude of a wave"),
        (lambda: most_probable_largest(1.0), "more than one wave"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(ask, expected: str) -> None:
    with pytest.raises(WaveError, match=expected):
        ask()
