"""From independent causes to low, best and high: the width of an area or a volume and what drives it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from oakum.ground.estimate import Driver, Spread

Z95 = 1.6448536269514722
"""The 95th percentile of the standard normal."""
_NAMED_FROM = 0.01


@dataclass(frozen=True, slots=True)
class Part:
    """One independent cause of a width and the standard deviation it gives, in the unit of the result."""

    cause: str
    sd: float


def spread_from(best: float, parts: Sequence[Part], unit: str) -> Spread:
    """Return the spread of a result that is linear in independent normal causes."""
    sd = hypot(*(part.sd for part in parts)) if parts else 0.0
    shares = [Driver(part.cause, (part.sd / sd) ** 2) for part in parts] if sd > 0.0 else []
    named = tuple(sorted((d for d in shares if d.share >= _NAMED_FROM), key=lambda d: -d.share))
    return Spread(best - Z95 * sd, best, best + Z95 * sd, best, sd, unit, named)
