"""What a load-cell reading of the body hanging free under water says about everything else.

A reading r ± s does not replace the model: every draw is weighted by how well it agrees with it,
exp(-(r - m_sub - rigging)^2 / 2 s^2). A draw with a thick crust that agrees keeps its crust, so the reading
moves the mass in air, the volume and the centres as far as they hang together with the submerged mass.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import effective_draws, spread_of
from oakum.lift.weights.report import CellReading, Conditioning

Array = NDArray[np.float64]

RANGE = (0.005, 0.995)
"""A reading outside this part of the model's own range contradicts the model."""

FEWEST = 500
"""With fewer effective draws the weighted answer rests on too few cases."""

APART = 3.0
"""Readings further apart than this many combined standard deviations contradict each other."""


@dataclass(frozen=True, slots=True)
class Use:
    """How the draws are to be used for one kind of check: weights (None: all alike) and kilograms to add."""

    weights: Array | None = None
    extra_kg: Array | None = None


@dataclass(frozen=True, slots=True)
class Conditioned:
    """`hook` for everything that must not be too heavy, `slack` for everything that must not be too light."""

    hook: Use
    slack: Use
    result: Conditioning | None
    questions: tuple[str, ...]


def reading_weights(submerged_kg: Array, readings: Sequence[CellReading]) -> Array:
    """Return the weight of every draw (n,), the greatest 1, for readings that all have a spread."""
    exponent = np.zeros(len(submerged_kg))
    for reading in readings:
        assert reading.sd_kg is not None  # readings without a spread are left out before
        miss = (reading.reading_kg - reading.rigging_kg - submerged_kg) / reading.sd_kg
        exponent -= 0.5 * np.square(miss)
    return np.asarray(np.exp(exponent - exponent.max()))


def condition(submerged_kg: Array, readings: Sequence[CellReading], rng: np.random.Generator) -> Conditioned:
    """Return what the readings make of the draws of the submerged mass without rigging (n,).

    Readings that agree are pooled. Where two differ by more than 3 combined standard deviations, where a
    reading lies outside the model's range or leaves too few draws, that is an open question and each check
    takes the worse value: the greater mass for the hook, the lesser for floating.
    """
    questions: list[str] = []
    usable = [r for r in readings if _has_spread(r, questions)]
    if not usable:
        alike = Use()
        return Conditioned(alike, alike, None, tuple(questions))
    if _disagree(usable, questions):
        net = [r.reading_kg - r.rigging_kg for r in usable]
        heaviest, lightest = usable[int(np.argmax(net))], usable[int(np.argmin(net))]
        hook, result = _one(submerged_kg, [heaviest], rng, questions, heavy=True)
        slack, _ = _one(submerged_kg, [lightest], rng, questions, heavy=False)
        return Conditioned(hook, slack, result, tuple(questions))
    hook, result = _one(submerged_kg, usable, rng, questions, heavy=True)
    if hook.extra_kg is None and hook.weights is not None:
        return Conditioned(hook, hook, result, tuple(questions))
    slack, _ = _one(submerged_kg, usable, rng, [], heavy=False)
    return Conditioned(hook, slack, result, tuple(questions))


def _has_spread(reading: CellReading, questions: list[str]) -> bool:
    if reading.sd_kg is not None and reading.sd_kg > 0.0:
        return True
    questions.append(
        f'reading "{reading.text}" has no standard deviation and was not used: '
        "note what the cell may be out by"
    )
    return False


def _disagree(readings: list[CellReading], questions: list[str]) -> bool:
    found = False
    for a, b in combinations(readings, 2):
        gap = abs((a.reading_kg - a.rigging_kg) - (b.reading_kg - b.rigging_kg))
        if gap > APART * float(np.hypot(a.sd_kg or 0.0, b.sd_kg or 0.0)):
            found = True
            questions.append(
                f'readings "{a.text}" and "{b.text}" differ by {gap:,.0f} kg, more than 3 combined standard '
                "deviations: until it is settled each check takes the worse of them"
            )
    return found


def _one(
    submerged_kg: Array,
    readings: list[CellReading],
    rng: np.random.Generator,
    questions: list[str],
    *,
    heavy: bool,
) -> tuple[Use, Conditioning]:
    """Return the use of agreeing readings, pooled, and what they did."""
    pooled = pool(readings)
    assert pooled.sd_kg is not None  # pooled from readings with a spread
    net = pooled.reading_kg - pooled.rigging_kg
    rank = float(np.mean(submerged_kg < net))
    weights = reading_weights(submerged_kg, readings)
    effective = effective_draws(weights)
    outside = not RANGE[0] <= rank <= RANGE[1]
    before = spread_of(submerged_kg, "kg")
    if outside:
        questions.append(
            f'reading "{pooled.text}" lies outside the model\'s own range (submerged {before.words()}): '
            "something is missing, held by the bed, or misread"
        )
    elif effective < FEWEST:
        questions.append(
            f'reading "{pooled.text}" leaves only {effective:,.0f} effective draws, fewer than {FEWEST}: '
            "weigh with more draws"
        )
    if not outside and effective >= FEWEST:
        after = spread_of(submerged_kg, "kg", weights)
        return Use(weights), Conditioning(pooled, rank, effective, before, after)
    # Too few cases agree to weight by. The reading is kept beside the model, and counts where it is worse.
    measured = net + pooled.sd_kg * rng.standard_normal(len(submerged_kg))
    worse = net > before.best if heavy else net < before.best
    extra = measured - submerged_kg if worse else None
    after = spread_of(measured if worse else submerged_kg, "kg")
    return Use(None, extra), Conditioning(pooled, rank, effective, before, after, is_weighting=False)


def pool(readings: Sequence[CellReading]) -> CellReading:
    """Return readings that agree as one: the mean weighted by 1/s^2, rigging taken off."""
    if len(readings) == 1:
        return readings[0]
    precision = np.array([1.0 / float(r.sd_kg or np.inf) ** 2 for r in readings])
    net = np.array([r.reading_kg - r.rigging_kg for r in readings])
    mean = float(np.average(net, weights=precision))
    sd = float(precision.sum() ** -0.5)
    text = " and ".join(r.text for r in readings)
    return CellReading(mean, sd, f"{text} (pooled, without rigging)", 0.0)
