"""A weighed body with its draws kept, so that the load at any water level can be asked for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.ground.estimate import weighted_quantile
from oakum.lift.weights.conditioning import Use
from oakum.lift.weights.emergence import Emergence
from oakum.lift.weights.report import WeightReport
from oakum.lift.weights.sums import Sums

CURVE_DRAWS = 20_000
"""Draws that curves and the level use: their percentiles are good to about 1 % of the width."""


@dataclass(frozen=True, slots=True, eq=False)
class Weighing:
    """The report, and what it was made from.

    `use`: of the draws, for everything that must not be too heavy. `slack`: for what must not be too light; the
    same object where no reading says otherwise.
    """

    report: WeightReport
    sums: Sums
    emergence: Emergence
    use: Use
    slack: Use


@dataclass(frozen=True, slots=True)
class LevelLoad:
    """The hook load with the body's lowest point at `level_m` above the water (negative: below), kg.

    `under_water` is the share of the body's volume that is under; None where only the report was at hand.
    """

    level_m: float
    p5_kg: float
    best_kg: float
    p95_kg: float
    under_water: float | None = None


def load_at(weighed: Weighing | WeightReport, level_m: float) -> LevelLoad:
    """Return the hook load at a level, from the draws of a weighing or between the points of a curve."""
    if isinstance(weighed, WeightReport):
        curve = weighed.emergence
        low, best, high = (float(np.interp(level_m, curve.x, y)) for y in (curve.p5, curve.best, curve.p95))
        return LevelLoad(level_m, low, best, high)
    some = slice(0, CURVE_DRAWS)
    shares = weighed.emergence.shares(np.array([level_m]))
    low, best, high = banded(weighed.emergence.loads_kg(shares, some)[:, 0], weighed.use)
    return LevelLoad(level_m, low, best, high, float(weighed.emergence.under_water(shares)[0]))


def banded(loads_kg: np.ndarray, use: Use) -> tuple[float, float, float]:
    """Return P5, median and P95 of the first draws' loads (m,) under the reading's weights or shift."""
    m = len(loads_kg)
    if use.extra_kg is not None:
        loads_kg = loads_kg + use.extra_kg[:m]
    weights = use.weights[:m] if use.weights is not None else None
    low, best, high = weighted_quantile(loads_kg, (0.05, 0.5, 0.95), weights)
    return float(low), float(best), float(high)
