"""Laws every run of the one-degree model and every snap obeys."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oakum.lift.splash import (
    Hoist,
    Hold,
    Hollow,
    Immersion,
    Line,
    RandomSea,
    RegularSea,
    Run,
    SplashModel,
    TipResponse,
    TipStill,
    ensemble,
    first_crossing,
    snap_peak_n,
    traced,
)
from oakum.lift.splash.drive import driven
from oakum.lift.splash.march import march

brief = settings(max_examples=12, deadline=None)
CALM = RegularSea(0.0, 4.0)
TABLE = TipResponse((1.5, 3.0, 6.0, 12.0), (0.3, 1.2, 1.1, 1.0))


def body(mass_kg: float, drag_m2: float = 6.0, line: Line | None = None, **more) -> SplashModel:
    shape = Immersion.prism(0.8, 1.0, more.pop("added_m3", 1.76), drag_m2)
    return SplashModel(np.array([mass_kg]), np.ones(1), shape, line or Line(1.2e5), 1025.0, **more)


def run_free(model: SplashModel, level_m: float, stretched_m: float, seconds: float):
    """Let the body swing from a start away from balance, without waves."""
    drive = driven(CALM, TipStill(), [np.random.default_rng(1)])
    return march(
        model,
        drive,
        Hold(level_m, seconds),
        model.mass_kg,
        model.volume_share,
        model.step_s(level_m),
        stretched_m=stretched_m,
        trace=True,
    )


@brief
@given(
    st.floats(1050.0, 4000.0), st.floats(0.1, 0.9), st.floats(-1.6, 0.4), st.floats(3e4, 1e6), st.booleans()
)
def test_the_line_never_pushes_and_slack_is_counted_when_it_does_not_pull(
    mass, hs, level, stiffness, hollow
) -> None:
    hollows = (Hollow(1.2, 0.5, 0.1, 0.02),) if hollow else ()
    model = body(mass, line=Line(stiffness, 0.03), hollows=hollows)
    run = Run(model, RandomSea(hs, 3.6, waves=32), TABLE, Hold(level, 8.0))
    trace = traced(run, 6, np.random.SeedSequence(3))
    assert trace.line_n.min() >= 0.0 and np.all(np.isfinite(trace.line_n))
    found = ensemble(run, 6, np.random.SeedSequence(3))
    assert np.all((found.least_n >= 0.0) & (found.least_n <= found.greatest_n))
    assert np.array_equal(found.slack_s > 0.0, (trace.line_n[trace.time_s >= run.fade_s] <= 0.0).any(axis=0))


@brief
@given(st.floats(1200.0, 4000.0), st.floats(2e4, 2e6), st.floats(0.1, 0.9))
def test_without_drag_the_energy_stays_to_a_thousandth_over_a_hundred_periods(mass, stiffness, share) -> None:
    model = body(mass, 0.0, Line(stiffness))
    moving = mass + 1025.0 * 1.76
    period = float(model.line.period_s(moving))
    weight = float(model.static_n(-3.0, model.mass_kg, np.ones(1))[0])
    _, trace = run_free(model, -3.0, share * weight / stiffness, 101.0 * period)
    z, h = trace.height_m[:, 0], trace.time_s[1]
    # Speed to fourth order from the places.
    v = (8.0 * (z[3:-1] - z[1:-3]) - (z[4:] - z[:-4])) / (12.0 * h)
    stretch = trace.line_n[2:-2, 0] / stiffness
    energy = 0.5 * moving * v**2 + 0.5 * stiffness * stretch**2 + weight * z[2:-2]
    swing = 0.5 * stiffness * (share * weight / stiffness) ** 2
    assert np.ptp(energy) <= 1e-3 * swing
    assert np.ptp(z) == pytest.approx(2.0 * share * weight / stiffness, rel=3e-3)


def test_energy_stays_while_it_bobs_through_the_surface_and_goes_slack() -> None:
    """No drag and no added mass: buoyancy and spring only, height against speed over a hundred periods."""
    model = body(1100.0, 0.0, Line(8e4), added_m3=0.0)
    level = -0.8
    _, trace = run_free(model, level, 0.25, 100.0 * 2 * np.pi * np.sqrt(1100.0 / 8e4))
    z, h = trace.height_m[:, 0], trace.time_s[1]
    v = (8.0 * (z[3:-1] - z[1:-3]) - (z[4:] - z[:-4])) / (12.0 * h)
    z, pull = z[2:-2], trace.line_n[2:-2, 0]
    under = np.clip(-z, 0.0, 0.8)
    g = model.g_m_s2
    # Work of buoyancy from the surface down: constant below full depth.
    lifted = 1025.0 * g * (0.5 * under**2 / 0.8 + np.maximum(-z - 0.8, 0.0))
    energy = 0.5 * 1100.0 * v**2 + 0.5 * pull**2 / 8e4 + 1100.0 * g * z + lifted
    assert pull.min() == 0.0 and under.min() < 0.8
    kinetic = 0.5 * 1100.0 * np.max(v**2)
    smooth = energy[25::50]
    assert np.ptp(smooth) <= 2e-2 * kinetic
    early, late = energy[:500].mean(), energy[-500:].mean()
    assert abs(late - early) <= 1e-3 * kinetic


def test_hoisted_ever_more_slowly_the_line_follows_the_static_emergence_curve() -> None:
    hollow = (Hollow(1.2, 0.4, 0.2, 0.1),)
    worst = []
    for speed in (0.2, 0.05, 0.0125):
        model = body(1400.0, line=Line(1.2e5, 0.2), hollows=hollow)
        trace = traced(Run(model, CALM, TipStill(), Hoist(speed, -1.0, 0.3)), 1, np.random.SeedSequence(1))
        counted = trace.time_s > Run(model, CALM, TipStill(), Hoist(speed, -1.0, 0.3)).fade_s
        level = trace.height_m[counted, 0]
        static = np.array([float(model.static_n(v, model.mass_kg, np.ones(1))[0]) for v in level[::20]])
        worst.append(float(np.max(np.abs(trace.line_n[counted, 0][::20] - static))))
    assert worst[0] > worst[1] > worst[2]
    assert worst[2] < 0.01 * 1400.0 * 9.81


@settings(max_examples=100, deadline=None)
@given(
    st.floats(0.0, 5e4), st.floats(0.0, 3.0), st.floats(1e3, 1e7), st.floats(1.0, 10.0), st.floats(10.0, 1e4)
)
def test_a_stiffer_line_never_snaps_less(weight, speed, stiffness, times, moving) -> None:
    softer = float(snap_peak_n(weight, speed, stiffness, moving))
    assert float(snap_peak_n(weight, speed, stiffness * times, moving)) >= softer * (1 - 1e-12)
    assert softer >= 2.0 * weight * (1 - 1e-12)


def test_a_load_falling_into_its_line_in_air_peaks_at_the_exact_bound_the_stiffer_the_higher() -> None:
    peaks = []
    for stiffness in (5e4, 1e5, 4e5):
        model = body(900.0, 0.0, Line(stiffness))
        weight = 900.0 * model.g_m_s2
        drop = 0.05
        found, _ = run_free(model, 3.0, -(drop + weight / stiffness), 1.5)
        speed = np.sqrt(2 * model.g_m_s2 * drop)
        known = float(snap_peak_n(weight, speed, stiffness, 900.0))
        assert found.greatest_n[0] == pytest.approx(known, rel=5e-3)
        peaks.append(found.greatest_n[0])
    assert peaks == sorted(peaks)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.05, 0.95), st.floats(0.5, 4.0))
def test_the_first_crossing_is_the_smallest_of_several(first, power) -> None:
    def excess(x):
        return np.sin(2 * np.pi * (x - first) / 0.7) * np.abs(x - 5.0) ** power

    found = first_crossing(excess, 0.0, 3.0, 600)
    roots = first + 0.7 * np.arange(-3, 8)
    known = roots[(roots > 0.0)].min()
    if excess(np.array([0.0]))[0] > 0.0:
        assert found == 0.0
    else:
        assert found == pytest.approx(known, abs=1e-5)
