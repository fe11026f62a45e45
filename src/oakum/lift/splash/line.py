"""The hoist line as a spring: how stiff, how quickly it swings, how it passes the tip's motion on."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.lift.splash.errors import SplashError, not_negative, positive

Array = NDArray[np.float64]

STEPS_A_PERIOD = 50.0
"""A step of time is at most the line's own period over this."""


@dataclass(frozen=True, slots=True)
class Line:
    """All that stretches between the boom head and the load, in series, as one spring.

    `stiffness_n_m` of line, slings and boom together; `damping_ratio` as a share of critical for the body in
    air, below 1. None is not known and counts as no damping, which gives the greater forces.
    """

    stiffness_n_m: float
    damping_ratio: float | None = None

    def __post_init__(self) -> None:
        positive("the stiffness of the hoist line", self.stiffness_n_m, "N/m")
        if self.damping_ratio is not None:
            not_negative("the damping ratio of the hoist line", self.damping_ratio, "")
            if self.damping_ratio >= 1.0:
                raise SplashError(
                    f"the damping ratio of a hoist line lies below 1, mostly below 0.1; got {self.damping_ratio:g}"
                )

    def period_s(self, moving_kg: ArrayLike) -> Array:
        """Return the period of a mass, its added mass with it, bobbing on the line, s."""
        return np.asarray(2.0 * pi * np.sqrt(np.asarray(moving_kg, dtype=np.float64) / self.stiffness_n_m))

    def damping_n_s_m(self, mass_kg: ArrayLike) -> Array:
        """Return the damper beside the spring, N s/m."""
        zeta = self.damping_ratio or 0.0
        return np.asarray(
            2.0 * zeta * np.sqrt(self.stiffness_n_m * np.asarray(mass_kg, dtype=np.float64))
        )

    def step_s(self, moving_kg: ArrayLike, asked_s: float | None = None) -> float:
        """Return the step of time: the longest one allowed for the least moving mass (n,), or the one asked for.

        Raises `SplashError` where the one asked for is longer.
        """
        period = float(np.min(self.period_s(moving_kg)))
        longest = period / STEPS_A_PERIOD
        if asked_s is None:
            return longest
        positive("the step of time", asked_s, "s")
        if asked_s > longest * (1.0 + 1e-9):
            raise SplashError(
                f"a step of {asked_s:g} s is too long for this line: with {self.stiffness_n_m / 1000:,.4g} kN/m "
                f"the load bobs in {period:.3g} s and a step may be at most {longest:.3g} s, a fiftieth of it. "
                "Give a shorter step"
            )
        return asked_s


def in_series_n_m(*stiffness_n_m: float) -> float:
    """Return the stiffness of springs one after another, N/m."""
    if not stiffness_n_m:
        raise SplashError("at least one stiffness is needed")
    for value in stiffness_n_m:
        positive("a stiffness", value, "N/m")
    return 1.0 / sum(1.0 / value for value in stiffness_n_m)


def transmission(motion_period_s: float, own_period_s: float, damping_ratio: float) -> float:
    """Return the load's motion over the tip's for a steady swing: a base-excited spring with a damper.

    sqrt((1 + (2 z r)^2) / ((1 - r^2)^2 + (2 z r)^2)), r = own period over the motion's (any text on
    vibrations; own calculation). inf at resonance without damping.
    """
    r = own_period_s / motion_period_s
    damped = (2.0 * damping_ratio * r) ** 2
    below = (1.0 - r * r) ** 2 + damped
    return sqrt((1.0 + damped) / below) if below > 0.0 else float("inf")
