"""How fast the spoil goes: volume a diver-hour from what was measured, and how long the rest may take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from scipy.special import stdtrit

from oakum.seabed.dig.errors import DigError

LEAST_DIVES = 3
INSIDE = 0.90


@dataclass(frozen=True, slots=True)
class Work:
    """One stretch of digging whose hours and volume are both known: a dive by its buckets, or a spit by its levels."""

    name: str
    hours: float
    volume_m3: float


@dataclass(frozen=True, slots=True)
class Rate:
    """Volume a diver-hour. `low` and `high` bound a further stretch as long as those seen, 9 in 10.

    `noise` is the sd of a volume over the root of its hours; `count` stretches and `hours` lie behind it. `source`
    says whether levels or buckets measured it.
    """

    m3_per_hour: float
    low: float
    high: float
    noise: float
    count: int
    hours: float
    source: str


@dataclass(frozen=True, slots=True)
class Forecast:
    """Diver-hours for the rest: likely, 9 in 10 within low to high; `high` None where no bound can be given."""

    rest_m3: float
    best_h: float
    low_h: float
    high_h: float | None
    words: str


def rate_of(work: Sequence[Work], source: str) -> Rate:
    """Return the measured rate: all volume over all hours, its noise from how the stretches differ.

    The volume of a stretch of h hours is taken as R h with a variance in proportion to h. Raises `DigError` for
    fewer than three stretches.
    """
    if len(work) < LEAST_DIVES:
        raise DigError(
            f"a rate needs at least {LEAST_DIVES} dives with their hours and buckets, or {LEAST_DIVES} spits with "
            f"hours and levels; there {'is' if len(work) == 1 else 'are'} {len(work)}. Enter the hours and buckets of "
            "each dive."
        )
    for one in work:
        if not (isfinite(one.hours) and isfinite(one.volume_m3) and one.hours > 0.0):
            raise DigError(f"{one.name}: hours are greater than nothing, and the volume is a number")
    hours = sum(one.hours for one in work)
    rate = sum(one.volume_m3 for one in work) / hours
    square = sum((one.volume_m3 - rate * one.hours) ** 2 / one.hours for one in work) / (len(work) - 1)
    typical = hours / len(work)
    half = _t(len(work)) * sqrt(square * (1.0 / typical + 1.0 / hours))
    return Rate(rate, rate - half, rate + half, sqrt(square), len(work), hours, source)


def forecast(rate: Rate, rest_m3: float, rest_sd_m3: float = 0.0) -> Forecast:
    """Return the diver-hours that are left.

    After H more hours the volume is R H within t noise sqrt(H (1 + H/T)), T the hours seen; where that band meets
    the rest are the bounds. A band that never leaves nothing behind has no upper bound, and that is said.
    """
    if rest_m3 <= 0.0:
        return Forecast(rest_m3, 0.0, 0.0, 0.0, "nothing is left of what was planned")
    if rate.m3_per_hour <= 0.0:
        raise DigError("no spoil went out in the hours seen, so nothing can be said of the rest")
    c = (_t(rate.count) * rate.noise) ** 2
    v = (_t(rate.count) * rest_sd_m3) ** 2
    a = rate.m3_per_hour**2 - c / rate.hours
    b = 2.0 * rate.m3_per_hour * rest_m3 + c
    q = rest_m3**2 - v
    best = rest_m3 / rate.m3_per_hour
    root = sqrt(max(0.0, b * b - 4.0 * a * q))
    low = max(0.0, 2.0 * q / (b + root))
    high = (b + root) / (2.0 * a) if a > 0.0 else None
    if high is None:
        words = (
            f"likely {best:.0f} diver-hours, at least {low:.0f}; the dives differ so much that no upper bound "
            "can be given"
        )
    else:
        words = f"likely {best:.0f} diver-hours; 9 in 10 within {low:.0f} to {high:.0f}"
    return Forecast(rest_m3, best, low, high, words)


def band_m3(rate: Rate, more_hours: float) -> tuple[float, float, float]:
    """Return low, likely and high volume after further diver-hours."""
    best = rate.m3_per_hour * more_hours
    half = _t(rate.count) * rate.noise * sqrt(more_hours * (1.0 + more_hours / rate.hours))
    return best - half, best, best + half


def _t(count: int) -> float:
    return float(stdtrit(count - 1, 0.5 + 0.5 * INSIDE))
