"""The compiled steps against those of numpy, and that a missing compiler changes nothing but the time."""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.splash import (
    Hoist,
    Hold,
    Hollow,
    Immersion,
    Line,
    Operation,
    RandomSea,
    Run,
    SplashModel,
    TipResponse,
    ensemble,
    traced,
)
from oakum.lift.splash.compiled import CompiledStepper
from oakum.lift.splash.stepper import Stepper

MARCH = sys.modules["oakum.lift.splash.march"]
STEPPER = sys.modules["oakum.lift.splash.stepper"]
TIP = TipResponse((1.5, 3.0, 6.0, 12.0), (0.3, 0.9, 1.1, 1.0))
SHARE = np.linspace(0.0, 1.0, 65)
PRISM = Immersion.prism(0.8, 1.0, 1.76, 6.0)
CURVED = Immersion(0.8, SHARE**2, 1.76 * SHARE**1.5, 6.0 * SHARE)
HOLLOWS = (Hollow(1.0, 0.5, 0.1, 0.02), Hollow(0.3, 0.2, 0.3, 0.0))


def asked(mass_kg: float, shape: Immersion, hollows: tuple[Hollow, ...], operation: Operation) -> Run:
    mass, share = np.array([mass_kg, 1.05 * mass_kg]), np.array([1.0, 0.98])
    model = SplashModel(mass, share, shape, Line(2e5, 0.02), 1025.0, hollows)
    return Run(model, RandomSea(0.5, 4.0, waves=60), TIP, operation)


@pytest.mark.parametrize(
    "run",
    [
        asked(1400.0, PRISM, (), Hold(-0.4, 12.0)),
        asked(1150.0, PRISM, (), Hold(-0.85, 12.0)),
        asked(1100.0, PRISM, HOLLOWS, Hold(-0.6, 12.0)),
        asked(1150.0, CURVED, (), Hold(-0.85, 12.0)),
        asked(1300.0, CURVED, HOLLOWS, Hoist(0.25, -1.5, 0.7)),
        replace(asked(1200.0, PRISM, (), Hold(-0.5, 12.0)), depth_m=6.0),
    ],
    ids=["smooth", "snapping", "hollows", "curved and snapping", "hoisted", "shallow"],
)
def test_compiled_steps_are_those_of_numpy(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    found, followed = [], []
    for kind in (Stepper, CompiledStepper):
        monkeypatch.setattr(MARCH, "stepper", kind)
        found.append(ensemble(run, 130, np.random.SeedSequence(3)))
        followed.append(traced(run, 2, np.random.SeedSequence(3)))
    one, other = found
    heaviest = float(run.model.mass_kg.max()) * run.model.g_m_s2
    assert other.greatest_n == pytest.approx(one.greatest_n, rel=1e-9)
    assert other.least_n == pytest.approx(one.least_n, abs=1e-9 * heaviest)
    assert np.array_equal(other.snaps, one.snaps) and np.array_equal(other.slack_s, one.slack_s)
    first, second = followed
    assert second.line_n == pytest.approx(first.line_n, abs=1e-9 * heaviest)
    assert second.height_m == pytest.approx(first.height_m, abs=1e-9)
    assert second.held_kg == pytest.approx(first.held_kg, abs=1e-6)


def test_the_quickest_stepper_is_compiled_where_it_can_be(monkeypatch: pytest.MonkeyPatch) -> None:
    STEPPER._quickest.cache_clear()
    assert STEPPER._quickest() is CompiledStepper
    monkeypatch.setattr(STEPPER, "find_spec", lambda name: None)
    STEPPER._quickest.cache_clear()
    assert STEPPER._quickest() is Stepper
    STEPPER._quickest.cache_clear()
