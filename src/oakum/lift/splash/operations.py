"""The two operations a body is put through: hoisted through the surface, or held at a height."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.errors import SplashError, positive

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Hoist:
    """Hoisted at `speed_m_s` from one level of the lowest point to another; levels above the mean water, m."""

    speed_m_s: float
    from_level_m: float
    to_level_m: float

    def __post_init__(self) -> None:
        positive("the hoist speed", self.speed_m_s, "m/s")
        if not self.to_level_m > self.from_level_m:
            raise SplashError("a hoist must end higher than it starts")

    @property
    def counted_s(self) -> float:
        """How long it takes."""
        return (self.to_level_m - self.from_level_m) / self.speed_m_s

    def rise(self, time_s: Array, fade_s: float) -> Array:
        """Return how far above `from_level_m` the hoist has come, m, with speed and acceleration, (3, k).

        Time begins with `fade_s`, in which waves come up and the winch gathers speed; it is at `from_level_m`
        when that ends and runs on.
        """
        speed, quickening, _ = smoothly(time_s, fade_s)
        u = np.clip(time_s / fade_s, 0.0, 1.0) if fade_s > 0.0 else np.ones_like(time_s)
        lag = fade_s * (2.5 * u**4 - 3.0 * u**5 + u**6 - 0.5)
        way = np.where(u < 1.0, lag, time_s - fade_s)
        return self.speed_m_s * np.stack([way, speed, quickening])


@dataclass(frozen=True, slots=True)
class Hold:
    """Held with the lowest point at a level above the mean water in still water, m; ten minutes unless given."""

    from_level_m: float
    counted_s: float = 600.0

    def __post_init__(self) -> None:
        positive("the time it is held", self.counted_s, "s")

    def rise(self, time_s: Array, fade_s: float) -> Array:
        """Return how far above `from_level_m` it is, with speed and acceleration, (3, k): not at all."""
        return np.zeros((3, len(time_s)))


Operation = Hoist | Hold


def through_the_surface(height_m: float, hs_m: float, tip_m: float, speed_m_s: float) -> Hoist:
    """Return the hoist from well under the greatest trough to well over the greatest crest.

    A greatest wave of 1.8 Hs (amplitude 0.9 Hs), a tenth more, and the tip's amplitude on either side.
    """
    reach = 1.1 * 0.9 * hs_m + tip_m
    return Hoist(speed_m_s, -height_m - reach, reach)


def highest_level_m(operation: Operation) -> float:
    """Return the highest level of the lowest point in still water during an operation."""
    return operation.to_level_m if isinstance(operation, Hoist) else operation.from_level_m


def smoothly(time_s: Array, over_s: float) -> Array:
    """Return a rise from 0 to 1 over a time, with its first and second rate, (3, k): smooth at both ends."""
    if over_s <= 0.0:
        return np.stack([np.ones_like(time_s), np.zeros_like(time_s), np.zeros_like(time_s)])
    u = np.clip(time_s / over_s, 0.0, 1.0)
    rise = u**3 * (10.0 - 15.0 * u + 6.0 * u * u)
    rate = 30.0 * np.square(u * (1.0 - u)) / over_s
    return np.stack([rise, rate, 60.0 * u * (1.0 - u) * (1.0 - 2.0 * u) / over_s**2])
