"""The splash zone against worked values, closed forms, and an integrator of scipy on the same equation."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import ellipe
from scipy.stats import binomtest

from oakum.lift.splash import (
    Hoist,
    Hold,
    Hollow,
    Immersion,
    Line,
    Part,
    Question,
    RandomSea,
    RegularSea,
    Run,
    SplashBody,
    SplashModel,
    TipPerHeight,
    TipResponse,
    TipStill,
    Water,
    case_forces,
    clopper_pearson,
    disc,
    ellipse,
    ensemble,
    limit_curve,
    load_cases,
    perforated,
    perforation_factor,
    plate,
    prism,
    snap_force_n,
    snap_peak_n,
    traced,
    transmission,
    wave_motion,
    with_height,
)
from oakum.lift.splash.drive import driven
from oakum.lift.splash.tip import TipAmplitudes

WATER = Water(1025.0, None, 9.81)
ADDED = perforated(with_height(plate(1.2, 2.0), 2.4, 0.8), 20.0)
CRATE = Part("crate", 0.0, 0.8, 1.0, 1.92, 2.4, ADDED.volume_m3)
BODY = SplashBody((CRATE,), np.array([1400.0]), np.ones(1), 2.0)
TIP = TipAmplitudes(np.array(0.25), np.array(0.3), np.array(0.4))


def test_perforated_crate_just_under_water() -> None:
    """Own calculation by the simplified method of DNV-RP-H103, 4.3 (memory, verify), g 9.81, to 0.2 %."""
    wave = wave_motion(np.array(0.5), 4.0, WATER)
    case = next(c for c in load_cases(BODY) if c.kind == "just under")
    assert case.wet[0].below_m == pytest.approx(0.4)
    found = case_forces(case, BODY, TIP, wave, WATER, 0.25)
    assert float(wave.speed_m_s(0.4)) == pytest.approx(0.6392, rel=2e-3)
    assert float(wave.acceleration_m_s2(0.4)) == pytest.approx(1.0041, rel=2e-3)
    assert ADDED.kg(1025.0) == pytest.approx(1804.5, rel=2e-3)
    assert float(found.relative_m_s) == pytest.approx(0.9561, rel=2e-3)
    assert found.mass_n[0] == pytest.approx(3117, rel=2e-3)
    assert float(found.drag_n) == pytest.approx(2811, rel=2e-3)
    assert float(found.buoyancy_n) == pytest.approx(9938, rel=2e-3)
    assert found.hydro_n[0] == pytest.approx(7378, rel=2e-3)
    assert found.least_n[0] == pytest.approx(3679, rel=2e-3)
    assert found.slack_ratio[0] > 0.9


def test_slamming_from_below() -> None:
    """Own calculation: C_s 5, A_s 2.4 m2, at the surface: v_s 1.0179 m/s, 6372 N."""
    case = next(c for c in load_cases(BODY) if c.kind == "hit from below")
    found = case_forces(case, BODY, TIP, wave_motion(np.array(0.5), 4.0, WATER), WATER, 0.25)
    assert float(found.slam_m_s) == pytest.approx(1.0179, rel=2e-3)
    assert float(found.slam_n) == pytest.approx(6372, rel=2e-3)


def test_snap_of_a_slack_line_and_its_exact_peak() -> None:
    """Own calculation: K 200 kN/m, 2300 kg at 0.5 m/s: 10724 N; with 4000 N hanging on it 15446 N at most."""
    assert float(snap_force_n(0.5, 2e5, 2300.0)) == pytest.approx(10724, rel=1e-3)
    assert float(snap_peak_n(4000.0, 0.5, 2e5, 2300.0)) == pytest.approx(15446, rel=1e-3)


def test_first_objection_of_the_crate() -> None:
    """Own calculation: tip 0.5 Hs, 0.6 Hs/s, 0.8 Hs/s2, no slam: the line may go slack from Hs 0.2309 m on."""
    asked = Question(BODY, WATER, TipPerHeight(0.5, 0.6, 0.8), Line(2e5), 0.25, 3000.0)
    cases = tuple(c for c in load_cases(BODY) if c.kind == "just under")
    point = limit_curve(asked, [4.0], cases).points[0]
    assert point.hs_m == pytest.approx(0.2309, abs=5e-5)
    assert point.objection == 'the line may go slack with "crate" just under'
    assert point.skipper_m == 0.15


@pytest.mark.parametrize(
    ("stiffness", "period", "ratio"), [(150e3, 0.778, 1.039), (20e3, 2.131, 1.389)]
)
def test_line_passes_on_the_motion_of_the_tip(stiffness: float, period: float, ratio: float) -> None:
    """Base-excited mass of 2300 kg, damping 0.1, tip period 4 s (own calculation)."""
    line = Line(stiffness, 0.1)
    own = float(line.period_s(2300.0))
    assert own == pytest.approx(period, rel=2e-3)
    assert transmission(4.0, own, 0.1) == pytest.approx(ratio, rel=2e-3)


@pytest.mark.parametrize(
    ("drag_m2", "most", "least"), [(0.0, 3678.75 + 565.2, 3678.75 - 565.2), (6.0, 4293.0, 3064.0)]
)
def test_steady_waves_on_a_submerged_crate(drag_m2: float, most: float, least: float) -> None:
    """M 1400, V 1.0, A 1804.5 kg, K 200 kN/m, wave 0.1 m of 4 s at 1.0 m depth, tip fixed (own calculation).

    Without drag the closed form F0 / (1 - r^2) with F0 = 542.9 N; with C_D 2.5 on 2.4 m2 stepped in time.
    """
    shape = Immersion.prism(0.8, 1.0, 1804.5 / 1025.0, drag_m2)
    model = SplashModel(np.array([1400.0]), np.ones(1), shape, Line(2e5), 1025.0, (), 9.81)
    run = Run(model, RegularSea(0.1, 4.0), TipStill(), Hold(-1.4, 60.0))
    found = ensemble(run, 3, np.random.SeedSequence(1))
    assert found.greatest_n == pytest.approx(np.full(3, most), rel=5e-3)
    assert found.least_n == pytest.approx(np.full(3, least), rel=5e-3)


def test_elliptic_plates_against_the_elliptic_integral() -> None:
    """Exact for unbounded water: C_A = 1 / E(k), k^2 = 1 - (a/b)^2 (Lamb, Hydrodynamics; memory, verify)."""
    for ratio in (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 10.0):
        exact = pi / 6.0 * ratio / ellipe(1.0 - 1.0 / ratio**2)
        assert ellipse(1.0, ratio).volume_m3 == pytest.approx(exact, rel=2.5e-3)
    assert ellipse(2.0, 2.0).volume_m3 == pytest.approx(disc(1.0).volume_m3, rel=1e-3)


def plate_by_panels(ratio: float, count: int) -> float:
    """Return the added mass over density of a plate 1 by `ratio` by constant doublets on equal panels."""
    across, along = count, round(count * ratio)
    x, y = (np.arange(n + 1) * size / n for n, size in ((across, 1.0), (along, ratio)))
    cx, cy = (0.5 * (e[1:] + e[:-1]) for e in (x, y))
    dx = [x[None, :-1] - cx[:, None], x[None, 1:] - cx[:, None]]
    dy = [y[None, :-1] - cy[:, None], y[None, 1:] - cy[:, None]]
    wash = np.zeros((across, along, across, along))
    for i, ax in enumerate(dx):
        for j, ay in enumerate(dy):
            a, b = ax[:, None, :, None], ay[None, :, None, :]
            wash += (-1) ** (i + j) * np.hypot(a, b) / (a * b)
    size = across * along
    doublets = np.linalg.solve(wash.reshape(size, size) / (4 * pi), np.ones(size))
    return abs(float(doublets.sum())) / size * ratio


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0, 3.0])
def test_plate_table_against_doublet_panels(ratio: float) -> None:
    """Own calculation: two panel counts, extrapolated to none; the table agrees to half a per cent."""
    coarse, fine = plate_by_panels(ratio, 10), plate_by_panels(ratio, 20)
    assert plate(1.0, ratio).volume_m3 == pytest.approx(2.0 * fine - coarse, rel=6e-3)


def test_height_rule_agrees_with_the_prism_table_and_perforation_joins() -> None:
    """Cube by the rule for body height 0.704 against 0.68 in the prism table (DNV-RP-H103; memory, verify)."""
    assert with_height(plate(1.0, 1.0), 1.0, 1.0).volume_m3 == pytest.approx(0.704, abs=0.001)
    assert prism(1.0, 1.0).volume_m3 == pytest.approx(0.68)
    assert perforation_factor(5.0) == pytest.approx(1.0)
    assert perforation_factor(34.0) == pytest.approx(0.4315, abs=1e-4)
    assert perforation_factor(34.0 + 1e-9) == pytest.approx(0.4244, abs=1e-4)


@pytest.mark.parametrize(("count", "members"), [(0, 40), (3, 200), (40, 40), (500, 1000)])
def test_odds_against_an_exact_binomial_test(count: int, members: int) -> None:
    """Clopper and Pearson as scipy.stats gives it."""
    odds = clopper_pearson(count, members, 0.95)
    known = binomtest(count, members).proportion_ci(0.95, method="exact")
    assert (odds.low, odds.high) == pytest.approx((known.low, known.high), abs=1e-12)


def by_scipy(run: Run, seeds: np.random.SeedSequence, member: int) -> float:
    """Return the greatest line force of one member by DOP853 on the equation written out anew."""
    model, sea = run.model, run.sea
    children = seeds.spawn(member + 1)
    drive = driven(sea, run.tip, [np.random.default_rng(children[member])], run.depth_m, model.g_m_s2)
    omega, c, tip = drive.omega_rad_s, drive.coefficients[0] * drive.surface, drive.tip_coefficients[0] * drive.tip
    rho, g, k, height = model.density_kg_m3, model.g_m_s2, model.line.stiffness_n_m, model.immersion.height_m
    mass = float(model.mass_kg[0])
    damping = float(model.line.damping_n_s_m(mass))
    fade, operation = run.fade_s, run.operation
    start = operation.from_level_m + float(operation.rise(np.zeros(1), fade)[0, 0])
    stretch = float(model.static_n(start, model.mass_kg, np.ones(1))[0]) / k
    full = model.held_over_n(start) / k

    def surroundings(t: float) -> tuple[float, ...]:
        u = min(t / fade, 1.0)
        ramp, rate = u**3 * (10 - 15 * u + 6 * u * u), 30 * (u * (1 - u)) ** 2 / fade
        risen, speed, _ = (float(row[0]) for row in operation.rise(np.array([t]), fade))
        level = operation.from_level_m + risen
        below = max(-level, 0.0) - 0.5 * min(max(-level, 0.0), height)
        sinking = -speed * (1.0 if level < -height else 0.5 if level < 0.0 else 0.0)
        turn = np.exp(1j * omega * t)
        fades = np.exp(-drive.k_rad_m * below)
        surface = c * turn
        moving = surface * fades * 1j * omega
        eta, eta_rate = float(surface.sum().real), float((surface * 1j * omega).sum().real)
        w = float(moving.sum().real)
        w_rate = float((moving * 1j * omega - moving * drive.k_rad_m * sinking).sum().real)
        x, x_rate = float((tip * turn).sum().real), float((tip * turn * 1j * omega).sum().real)
        return (
            ramp * eta, ramp * eta_rate + rate * eta, ramp * w, ramp * w_rate + rate * w,
            ramp * x + operation.from_level_m + risen + stretch,
            ramp * x_rate + rate * x + speed,
        )  # fmt: skip

    def pull(t: float, z: float, v: float, around: tuple[float, ...]) -> float:
        stretched = around[4] - z
        return max(k * stretched + damping * (around[5] - v), 0.0)

    def rates(t: float, state: np.ndarray) -> list[float]:
        z, v, *columns = state
        around = surroundings(t)
        eta, eta_rate, w, w_rate, _, _ = around
        under = eta - z
        volume, added, drag = (float(q) for q in model.immersion.at(under))
        _, edge, _ = (float(q) for q in model.immersion.at(height))
        displaced, held, fall = rho * volume, 0.0, []
        for hollow, column in zip(model.hollows, columns, strict=True):
            outside = min(max(under - hollow.floor_m, 0.0), hollow.height_m)
            displaced += rho * hollow.plan_m2 * outside
            held += rho * hollow.plan_m2 * column
            flow = hollow.discharge * hollow.opening_m2 / hollow.plan_m2 * np.sqrt(2 * g * abs(column - outside))
            brim = under - hollow.floor_m >= hollow.height_m
            over_rim = max(hollow.height_m - column, 0.0) / 0.01  # fills at once, here in a hundredth of a second
            fall.append(over_rim if brim else -np.sign(column - outside) * flow)
        force = pull(t, z, v, around) - (mass + held) * g + displaced * g + (displaced + rho * added) * w_rate
        force -= 0.5 * rho * drag * abs(v - w) * (v - w)
        if 0.0 < under < height and eta_rate > v:
            force += rho * edge / height * (eta_rate - v) * (w - v)
        return [v, force / (mass + held + rho * added), *fall]

    total = fade + operation.counted_s
    first = [start - full, 0.0, *(h.height_m for h in model.hollows)]
    out = solve_ivp(
        rates, (0.0, total), first, method="DOP853", rtol=1e-8, atol=1e-9, max_step=0.05, dense_output=True
    )
    times = np.arange(fade, total, 0.004)
    states = out.sol(times)
    return max(pull(t, s[0], s[1], surroundings(t)) for t, s in zip(times, states.T, strict=True))


LIGHT = Immersion.prism(0.8, 1.0, 1.76, 6.0)
TABLE = TipResponse((1.5, 3.0, 6.0, 12.0), (0.3, 0.9, 1.1, 1.0), (0.0, 120.0, 60.0, 0.0))


@pytest.mark.parametrize(
    ("operation", "hollows", "within"),
    [
        (Hold(-0.5, 25.0), (), 5e-4),
        (Hoist(0.25, -1.4, 0.6), (), 2e-3),
        (Hoist(0.15, -1.2, 0.4), (Hollow(1.5, 0.5, 0.1, 0.05),), 5e-3),
    ],
)
def test_seas_stepped_here_and_by_scipy(operation, hollows, within: float) -> None:
    """scipy.integrate.solve_ivp (DOP853, rtol 1e-8) on the same equation, JONSWAP sea, moving tip."""
    model = SplashModel(np.array([1400.0]), np.ones(1), LIGHT, Line(1.2e5, 0.02), 1025.0, hollows)
    run = Run(model, RandomSea(0.4, 3.5, waves=60), TABLE, operation)
    found = ensemble(run, 2, np.random.SeedSequence(7))
    known = by_scipy(run, np.random.SeedSequence(7), 1)
    assert found.greatest_n[1] == pytest.approx(known, rel=within)


def test_a_line_that_snaps_stepped_here_and_by_scipy() -> None:
    """A light load in steep waves: slack and snaps; the same run by DOP853, to a per cent at a fine step."""
    model = SplashModel(np.array([1100.0]), np.ones(1), LIGHT, Line(1.2e5, 0.05), 1025.0)
    base = Run(model, RandomSea(0.5, 3.2, waves=60), TABLE, Hold(-0.85, 12.0))
    run = Run(model, base.sea, TABLE, base.operation, step_s=base.used_step_s / 6.0)
    found = ensemble(run, 3, np.random.SeedSequence(11))
    assert found.snaps.sum() > 0 and found.slack_s.max() > 0.0
    member = int(np.argmax(found.snaps))
    known = by_scipy(run, np.random.SeedSequence(11), member)
    assert found.greatest_n[member] == pytest.approx(known, rel=1e-2)


def test_trace_tells_the_same_as_the_ensemble() -> None:
    """The curve of a run and the counts of an ensemble come from the same steps."""
    model = SplashModel(np.array([1400.0]), np.ones(1), LIGHT, Line(1.2e5, 0.02), 1025.0)
    run = Run(model, RandomSea(0.4, 3.5, waves=60), TABLE, Hold(-0.5, 25.0))
    trace = traced(run, 2, np.random.SeedSequence(7))
    counted = trace.time_s >= run.fade_s
    found = ensemble(run, 2, np.random.SeedSequence(7))
    assert trace.line_n[counted].max(axis=0) == pytest.approx(found.greatest_n, rel=2e-3)
