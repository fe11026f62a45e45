"""How the energy of a sea is spread over frequencies: the JONSWAP spectrum and its periods."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import exp, log, pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq

from oakum.ground.waves.errors import WaveError, positive

Array = NDArray[np.float64]

_SIGMA_LOW, _SIGMA_HIGH = 0.07, 0.09
_GRID = np.concatenate([np.linspace(0.3, 4.0, 3701), np.geomspace(4.0, 200.0, 2001)[1:]])


def peakedness(hs_m: float, tp_s: float) -> float:
    """Return the peak enhancement factor gamma, 1 to 5, of a height and a peak period.

    5 for Tp/sqrt(Hs) <= 3.6, 1 for >= 5, between them exp(5.75 - 1.15 Tp/sqrt(Hs)). DNV-RP-H103 (2011),
    2.2.6.9 (read, in code that cites it). Hs in m, Tp in s.
    """
    positive("the significant wave height Hs", hs_m, "m")
    positive("the peak period Tp", tp_s, "s")
    slope = tp_s / sqrt(hs_m)
    if slope <= 3.6:
        return 5.0
    return 1.0 if slope >= 5.0 else exp(5.75 - 1.15 * slope)


def tz_over_tp(gamma: float) -> float:
    """Return Tz / Tp of a JONSWAP sea, gamma 1 to 7: 0.6673 + 0.05037 g - 0.006230 g^2 + 0.0003341 g^3.

    DNV-RP-C205 (memory, verify); within 0.2 % of the integrals over the spectrum (own calculation).
    """
    if not 1.0 <= gamma <= 7.0:
        raise WaveError(f"the peak enhancement factor must lie between 1 and 7; got {gamma:g}")
    return 0.6673 + gamma * (0.05037 + gamma * (-0.006230 + gamma * 0.0003341))


def tp_from_tz_s(hs_m: float, tz_s: float, gamma: float | None = None) -> float:
    """Return the peak period, s, of a sea known by Hs and Tz; gamma by `peakedness` where it is None."""
    positive("the significant wave height Hs", hs_m, "m")
    positive("the mean period Tz", tz_s, "s")
    if gamma is not None:
        return tz_s / tz_over_tp(gamma)
    return float(brentq(lambda tp: tp * tz_over_tp(peakedness(hs_m, tp)) - tz_s, tz_s, 2.0 * tz_s))


@dataclass(frozen=True, slots=True)
class Jonswap:
    """A JONSWAP sea: significant height, peak period, peak enhancement factor (None: by `peakedness`).

    Raises `WaveError` for a height or period that is not above nothing, or gamma outside 1 to 7.
    """

    hs_m: float
    tp_s: float
    gamma: float | None = None
    enhancement: float = field(init=False)

    def __post_init__(self) -> None:
        gamma = peakedness(self.hs_m, self.tp_s) if self.gamma is None else self.gamma
        positive("the significant wave height Hs", self.hs_m, "m")
        positive("the peak period Tp", self.tp_s, "s")
        tz_over_tp(gamma)
        object.__setattr__(self, "enhancement", gamma)

    @classmethod
    def of_tz(cls, hs_m: float, tz_s: float, gamma: float | None = None) -> Jonswap:
        """Return the sea of a significant height and a mean period Tz."""
        return cls(hs_m, tp_from_tz_s(hs_m, tz_s, gamma), gamma)

    @property
    def peak_rad_s(self) -> float:
        """Angular frequency of the peak."""
        return 2.0 * pi / self.tp_s

    def density_m2_s(self, omega_rad_s: ArrayLike) -> Array:
        """Return S(omega), m2 s/rad, for frequencies above nothing.

        (1 - 0.287 ln g) (5/16) Hs^2 wp^4 w^-5 exp(-1.25 (w/wp)^-4) g^exp(-(w-wp)^2 / (2 s^2 wp^2)), s = 0.07
        below the peak and 0.09 above (DNV-RP-H103, 2.2.6; memory, verify).
        """
        omega = np.asarray(omega_rad_s, dtype=np.float64)
        ratio = omega / self.peak_rad_s
        sigma = np.where(ratio <= 1.0, _SIGMA_LOW, _SIGMA_HIGH)
        bump = self.enhancement ** np.exp(-0.5 * np.square((ratio - 1.0) / sigma))
        level = (1.0 - 0.287 * log(self.enhancement)) * 5.0 / 16.0 * self.hs_m**2 / self.peak_rad_s
        return np.asarray(level * ratio**-5.0 * np.exp(-1.25 * ratio**-4.0) * bump)

    def moment(self, order: float) -> float:
        """Return the integral of omega^order S(omega), m2 (rad/s)^order; order below 4, where it is finite."""
        if not order < 4.0:
            raise WaveError("moments of order 4 and above of this spectrum are not finite")
        omega = _GRID * self.peak_rad_s
        values = omega**order * self.density_m2_s(omega)
        rest = omega[-1] * values[-1] / (4.0 - order)  # the tail falls as omega^-5
        return float(np.trapezoid(values, omega)) + float(rest)

    @property
    def tz_s(self) -> float:
        """Mean zero-up-crossing period, s, from the moments: 2 pi sqrt(m0/m2)."""
        return 2.0 * pi * sqrt(self.moment(0) / self.moment(2))
