"""1,000 seas of ten minutes on one core against solve_ivp sea by sea, at equal error of the greatest line force.

    python bench/splash.py [seas, default 1000] [seconds held, default 600] [seas for solve_ivp, default 5]

solve_ivp (RK45, rtol 1e-6, atol 1e-6) runs the first seas of the ensemble one by one, on the equation written
for one body with every sum of waves in one product, and reads the greatest line force from its dense output at
the ensemble's longest step; its time is scaled to all seas. Both are held against DOP853 at rtol 1e-9 on those
seas, read eight times as finely. The ensemble steps at the longest step allowed and, where its error (root mean
square) is still the greater, at shorter ones. Times are processor time, so that other work on the machine counts
for neither. Each case is run with the steps compiled (where numba is installed; compiling is not counted, it is
done once and kept) and with numpy alone.
"""

from __future__ import annotations

import os

os.environ["OPENBLAS_NUM_THREADS"] = "1"  # one core

import resource
import sys
import time
from dataclasses import replace
from importlib.util import find_spec

import numpy as np
from scipy.integrate import solve_ivp

from oakum.ground.waves import decay
from oakum.lift.splash import (
    Hold,
    Immersion,
    Line,
    Part,
    Question,
    RandomSea,
    Run,
    SplashBody,
    SplashModel,
    TipResponse,
    Water,
    ensemble,
    limit_curve,
    march,
    perforated,
    plate,
    with_height,
)
from oakum.lift.splash.drive import driven
from oakum.lift.splash.stepper import Stepper

STEPPERS = {"numpy": Stepper}
if find_spec("numba") is not None:
    from oakum.lift.splash.compiled import CompiledStepper

    STEPPERS = {"compiled": CompiledStepper, **STEPPERS}
GOAL, LEAST = 1000.0, 400.0
MOST_MB = 500.0
ADDED = perforated(with_height(plate(1.2, 2.0), 2.4, 0.8), 20.0).volume_m3
TIP = TipResponse((1.5, 3.0, 6.0, 12.0), (0.1, 0.4, 0.8, 1.0), (0.0, 60.0, 30.0, 0.0))


def held(level_m: float, seconds: float, mass_kg: float = 1400.0) -> Run:
    """An open crate on a wire, held at a height, Hs 0.5 m and Tz 4 s."""
    model = SplashModel(
        np.array([mass_kg]), np.ones(1), Immersion.prism(0.8, 1.0, ADDED, 6.0), Line(2e5, 0.02), 1025.0
    )
    return Run(model, RandomSea(0.5, 4.0), TIP, Hold(level_m, seconds))


def frame(seconds: float) -> Run:
    """A frame of sills, load and top beams, held half in: its curves have corners."""
    sills = Part("sills", 0.0, 0.12, 0.05, 0.5, 0.6, 0.09, round_bottom=True)
    load = Part("object", 0.12, 0.5, 0.3, 0.7, 0.9, 0.45)
    tops = Part("top beams", 0.8, 0.12, 0.05, 0.5, 0.6, 0.09, round_bottom=True)
    body = SplashBody((sills, load, tops), np.array([900.0]), np.ones(1), 2.2)
    model = SplashModel.of(body, Line(2e5, 0.02), Water(1025.0))
    return Run(model, RandomSea(0.5, 4.0), TIP, Hold(-0.4, seconds))


def one_sea(
    run: Run, seeds: list[np.random.SeedSequence], member: int, method: str, tolerance: float, read_s: float
):
    """Return the greatest line force of one sea by solve_ivp, read at a spacing, and the seconds it took."""
    model, hold, fade = run.model, run.operation, run.fade_s
    drive = driven(run.sea, run.tip, [np.random.default_rng(seeds[member])])
    omega = drive.omega_rad_s
    surface = drive.coefficients[0] * drive.surface
    tip = drive.tip_coefficients[0] * drive.tip
    depth = float(model.centre_below_m(np.array([hold.from_level_m]))[0])
    water = surface * decay(drive.k_rad_m, depth) * 1j * omega
    spin = 1j * omega
    rows = np.stack([surface, surface * spin, water, water * spin, tip, tip * spin])
    rho, g, k, mass = model.density_kg_m3, model.g_m_s2, model.line.stiffness_n_m, float(model.mass_kg[0])
    height = model.immersion.height_m
    curves = (model.immersion.volume_m3, model.immersion.added_m3, model.immersion.drag_m2)
    volume, added, drag = (float(c[-1]) for c in curves)
    cells = len(curves[0]) - 1
    tables = [c.tolist() for c in curves]
    damping = float(model.line.damping_n_s_m(mass))
    stretch = float(model.static_n(hold.from_level_m, model.mass_kg, np.ones(1))[0]) / k
    hung = hold.from_level_m + stretch
    carried, buoyed, dragged = rho * added, rho * volume, 0.5 * rho * drag

    def rates(t, state):
        z, v = state
        eta, eta_rate, w, w_rate, x, x_rate = (rows @ np.exp(spin * t)).real.tolist()
        if t < fade:
            u = t / fade
            ramp, rate = u**3 * (10 - 15 * u + 6 * u * u), 30 * (u * (1 - u)) ** 2 / fade
            eta, eta_rate = ramp * eta, ramp * eta_rate + rate * eta
            w, w_rate = ramp * w, ramp * w_rate + rate * w
            x, x_rate = ramp * x, ramp * x_rate + rate * x
        share = min(max(eta - z, 0.0), height) / height
        if cells > 1:
            index = min(int(share * cells), cells - 1)
            part = share * cells - index
            low_v, low_a, low_d = (c[index] for c in tables)
            high_v, high_a, high_d = (c[index + 1] for c in tables)
            displaced = rho * (low_v + part * (high_v - low_v))
            taken = rho * (low_a + part * (high_a - low_a))
            slowed = 0.5 * rho * (low_d + part * (high_d - low_d))
            growing = rho * (high_a - low_a) * cells / height
        else:
            displaced, taken, slowed, growing = share * buoyed, share * carried, share * dragged, carried / height
        stretched = x + hung - z
        line = max(0.0, k * stretched + damping * (x_rate - v))
        against = v - w
        force = line - mass * g + displaced * (g + w_rate) + taken * w_rate - slowed * abs(against) * against
        if 0.0 < share < 1.0 and eta_rate > v:
            force -= growing * (eta_rate - v) * against
        return v, force / (mass + taken)

    start = time.process_time()
    total = fade + hold.counted_s
    begin = (hold.from_level_m, 0.0)
    out = solve_ivp(rates, (0.0, total), begin, method=method, rtol=tolerance, atol=tolerance, dense_output=True)
    most = 0.0
    samples = np.arange(fade, total, read_s)
    for first in range(0, len(samples), 1000):
        times = samples[max(first - 2, 0) : first + 1000]
        z, v = out.sol(times)
        x, x_rate = (rows[4:] @ np.exp(np.outer(spin, times))).real
        line = np.maximum(k * (x + hung - z) + damping * (x_rate - v), 0.0)
        most = max(most, _peak(line))
    return most, time.process_time() - start, out.nfev


def _peak(line: np.ndarray) -> float:
    at = int(np.argmax(line))
    if at in (0, len(line) - 1):
        return float(line[at])
    left, top, right = line[at - 1 : at + 2]
    return float(top - (right - left) ** 2 / (8 * (left - 2 * top + right)))


def case(title: str, run: Run, seas: int, alone: int) -> dict[str, float]:
    """Time both on one case and return the ratios at an error no greater than solve_ivp's, by how it steps."""
    children = np.random.SeedSequence(1670).spawn(alone)
    step = run.used_step_s
    known = np.array([one_sea(run, children, i, "DOP853", 1e-9, step / 8)[0] for i in range(alone)])
    slow = [one_sea(run, children, i, "RK45", 1e-6, step) for i in range(alone)]
    error = np.abs(np.array([s[0] for s in slow]) / known - 1.0)
    took = sum(s[1] for s in slow)
    scaled = took / alone * seas
    print(f"\n{title}")
    print(
        f"  solve_ivp RK45 {took / alone:7.2f} s a sea, {np.mean([s[2] for s in slow]):,.0f} evaluations, scaled to "
        f"{seas:,}: {scaled:8.0f} s; error greatest {error.max():.1e}, root mean square {rms(error):.1e}"
    )
    return {name: by(name, run, seas, known, scaled, rms(error)) for name in STEPPERS}


def by(name: str, run: Run, seas: int, known: np.ndarray, scaled: float, most: float) -> float:
    """Return the ratio with one stepper at the first step whose error is no greater than `most`; 0 if none is."""
    march.stepper = STEPPERS[name]
    ensemble(run, 2, np.random.SeedSequence(1))
    for part in (1.0, 1.25, 1.5, 1.75, 2.0, 3.0):
        shorter = replace(run, step_s=run.used_step_s / part)
        start = time.process_time()
        found = ensemble(shorter, seas, np.random.SeedSequence(1670), chunk=1000)
        fast = time.process_time() - start
        own = np.abs(found.greatest_n[: len(known)] / known - 1.0)
        print(
            f"  {name}, step {1000 * found.step_s:5.2f} ms: {fast:6.2f} s, {scaled / fast:6.0f} times; error greatest "
            f"{own.max():.1e}, root mean square {rms(own):.1e}; {found.odds_slack().count} of {seas} slack"
        )
        if rms(own) <= most:
            return scaled / fast
    print("  the ensemble's error stays the greater at all steps tried")
    return 0.0


def rms(error: np.ndarray) -> float:
    return float(np.sqrt(np.mean(np.square(error))))


def limits() -> float:
    """Seconds for a limit curve with six periods by the simplified method, 20,000 draws of the weight."""
    rng = np.random.default_rng(1670)
    part = Part("crate", 0.0, 0.8, 1.0, 1.92, 2.4, ADDED)
    body = SplashBody((part,), rng.normal(1400.0, 50.0, 20_000), rng.normal(1.0, 0.02, 20_000), 2.0)
    asked = Question(body, Water(1025.0), TIP, Line(2e5), 0.25, 3000.0)
    start = time.process_time()
    limit_curve(asked, (3.0, 4.0, 5.0, 6.0, 8.0, 10.0))
    return time.process_time() - start


def main() -> None:
    seas = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 600.0
    alone = int(sys.argv[3]) if len(sys.argv) > 3 else 5
    ratios = [
        case("held half in", held(-0.4, seconds), seas, alone),
        case("a frame of beams held half in", frame(seconds), seas, alone),
        case("held just under, the line about to go slack", held(-0.85, seconds), seas, alone),
        case("lighter, the line slack and snapping", held(-0.85, seconds, 1150.0), seas, alone),
    ]
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"\nmemory at most {memory:.0f} MB: {'met' if memory < MOST_MB else 'missed'} ({MOST_MB:.0f})")
    for name in STEPPERS:
        least = min(r[name] for r in ratios)
        verdict = "goal met" if least >= GOAL else "at least 400 met" if least >= LEAST else "missed"
        print(f"{name}: least ratio {least:.0f}, goal {GOAL:.0f}, at least {LEAST:.0f}: {verdict}")
    print(f"limit curve, six periods, 20,000 draws: {limits():.2f} s (goal 2)")


if __name__ == "__main__":
    main()
