"""GM measured afloat: by the period of roll, or by the heel of a known weight."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.stability import Dim

Array = NDArray[np.float64]

ROLL_FACTORS = {
    "empty or in ballast": 0.88,
    "liquids 20 %": 0.78,
    "liquids 10 %": 0.75,
    "liquids 5 %": 0.73,
    "fishing boat": 0.80,
}
"""f of GM = (f B / T)^2 by what is aboard: Transport Canada TP 2072 after IMO A.168 (read); fishing boats: memory."""

FACTOR_HALF_WIDTH = 0.05
"""f may be out by this much either way (read, TP 2072)."""

LEAST_RUNS = 3


@dataclass(frozen=True, slots=True)
class RollTest:
    """A rolling test in still water: `runs` of (number of full rolls, seconds); a full roll is there and back.

    `loading` is a key of `ROLL_FACTORS`.
    """

    beam_m: float
    runs: tuple[tuple[int, float], ...]
    loading: str


def gm_by_roll_m(beam_m: Dim, period_s: Dim, factor: Dim) -> Dim:
    """Return GM = (f B / T)^2, the water in tanks as it moved in the test."""
    return (factor * beam_m / period_s) ** 2


def best_roll_gm_m(test: RollTest) -> float:
    """Return GM by the mean period and the middle of f."""
    period = sum(seconds / rolls for rolls, seconds in test.runs) / len(test.runs)
    return float(gm_by_roll_m(test.beam_m, period, ROLL_FACTORS[test.loading]))


def roll_test_gm_m(test: RollTest, draws: int, rng: np.random.Generator) -> Array:
    """Return draws (n,) of GM from a rolling test.

    f is spread evenly over +-0.05, the period by the scatter of the runs' mean. `VesselError` for fewer than
    three runs, an unknown loading, or a run that cannot be.
    """
    if test.loading not in ROLL_FACTORS:
        raise VesselError(
            f'"{test.loading}" is not a state of loading known here; one of {", ".join(ROLL_FACTORS)}'
        )
    if len(test.runs) < LEAST_RUNS:
        raise VesselError(
            f"{len(test.runs)} runs were timed; time at least {LEAST_RUNS}, each of several rolls, or the scatter "
            "is not known"
        )
    if any(n < 1 or not s > 0.0 for n, s in test.runs) or not test.beam_m > 0.0:
        raise VesselError("a run has a whole number of rolls and seconds above 0, and the beam is above 0")
    periods = np.array([seconds / rolls for rolls, seconds in test.runs])
    error = float(periods.std(ddof=1)) / math.sqrt(len(periods))
    period = rng.normal(float(periods.mean()), error, draws)
    if np.any(period <= 0.0):
        raise VesselError("the runs differ by as much as the period itself; time them again")
    middle = ROLL_FACTORS[test.loading]
    factor = rng.uniform(middle - FACTOR_HALF_WIDTH, middle + FACTOR_HALF_WIDTH, draws)
    return np.asarray(gm_by_roll_m(test.beam_m, period, factor))


def gm_by_heel_m(weight_kg: Dim, arm_m: Dim, displacement_kg: Dim, heel: Dim) -> Dim:
    """Return GM from the heel (radians) of a weight moved or hung `arm_m` to the side: w y / (D tan(heel)).

    With a weight hung from the head the GM is that with the load in place, G raised. `displacement_kg`
    includes the weight.
    """
    if np.any(np.asarray(heel) <= 0.0):
        raise VesselError("the vessel must heel towards the weight by a measured angle above 0")
    return weight_kg * arm_m / (displacement_kg * np.tan(heel))
