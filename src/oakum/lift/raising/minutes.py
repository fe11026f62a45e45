"""How long it takes: the sum of the steps, and what earlier lifts teach."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from scipy.special import stdtrit

from oakum.ground.estimate import Estimate, Spread, spread_of
from oakum.lift.raising.errors import RaisingError
from oakum.lift.raising.plan import Step

_FEWEST = 3
"""Lifts from which minutes are learnt: with fewer, a spread would be made up (practice, no source)."""


def total_minutes(steps: Sequence[Step]) -> Spread | None:
    """Return the time of all steps, minutes; None while one of them is not known.

    Steps are taken to be slow together (cold, swell, a tired crew), so that percentiles add up: the width is
    the greatest that the steps allow.
    """
    known = [step.minutes for step in steps]
    if not known or any(m is None for m in known):
        return None
    found = [m for m in known if m is not None]
    sums = (sum(getattr(m, name) for m in found) for name in ("p5", "best", "p95", "mean", "sd"))
    p5, best, p95, mean, sd = (float(s) for s in sums)
    return Spread(p5, best, p95, mean, sd, "min")


def minutes_of(estimate: Estimate) -> Spread:
    """Return typed minutes, an estimate in seconds, as a spread in minutes."""
    low, best, high = (float(estimate.quantile(p)) / 60.0 for p in (0.05, 0.5, 0.95))
    return Spread(low, best, high, estimate.mean / 60.0, estimate.sd / 60.0, "min")


def learn_minutes(history: Iterable[Mapping[str, float]]) -> dict[str, Spread]:
    """Return the minutes of every step that at least three earlier lifts timed, by step key.

    `history` has one mapping a lift, step key to minutes taken. With few lifts a new one may well fall
    outside what was seen, so 5th and 95th percentile are those of a next value (Student's t on the logarithm
    of the minutes, sd times sqrt(1 + 1/n)); a step timed fewer than three times is left out: not known.
    """
    taken: dict[str, list[float]] = {}
    for lift in history:
        for key, minutes in lift.items():
            if not (np.isfinite(minutes) and minutes > 0.0):
                raise RaisingError(f'step "{key}": minutes taken must be a number above 0, got {minutes:g}')
            taken.setdefault(key, []).append(float(minutes))
    return {key: _next(values) for key, values in taken.items() if len(values) >= _FEWEST}


def _next(values: list[float]) -> Spread:
    logs = np.log(values)
    n = len(logs)
    width = float(logs.std(ddof=1)) * float(np.sqrt(1.0 + 1.0 / n))
    if width <= 0.0:
        return spread_of(np.array(values), "min")
    middle = float(logs.mean())
    reach = float(stdtrit(n - 1, 0.95)) * width
    low, high = (float(np.exp(middle + s * reach)) for s in (-1.0, 1.0))
    return Spread(
        low, float(np.exp(middle)), high, float(np.mean(values)), float(np.std(values, ddof=1)), "min"
    )
