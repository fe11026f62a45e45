"""How the boom head moves up and down in a sea: by a response table, by what was seen, or in proportion.

All motions are vertical and single amplitudes. An unknown motion is None, never nothing: it is an objection.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import pi, radians
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.waves import Jonswap
from oakum.lift.splash.errors import SplashError, not_negative, positive

Array = NDArray[np.float64]
Complexes = NDArray[np.complex128]

GREATEST_OVER_SD = 3.6
"""Greatest amplitude over standard deviation: as the wave's 0.9 Hs to its Hs/4."""

_OUTSIDE = 0.10  # share of the tip's variance that may come from periods beyond a table
_NEAR_S = 0.5  # how far from the period it was seen at a motion may be used
_BINS = 400


@dataclass(frozen=True, slots=True, eq=False)
class TipAmplitudes:
    """Greatest motion (n,), speed and acceleration of the tip in seas (n,): single amplitudes."""

    motion_m: Array
    speed_m_s: Array
    acceleration_m_s2: Array


@dataclass(frozen=True, slots=True, eq=False)
class TipDrive:
    """How the tip follows in the time domain.

    `transfer` (j,) complex: motion over wave elevation at each frequency of the sea; `random_phase`: its
    phases are not known and drawn anew for each sea. `swings`: (amplitude m, period s) of its own motions.
    """

    transfer: Complexes
    random_phase: bool = False
    swings: tuple[tuple[float, float], ...] = ()


class TipMotion(Protocol):
    """A tip motion that is a function of the sea."""

    @property
    def words(self) -> str:
        """What it rests on, for the assumptions."""
        ...

    def amplitudes(self, hs_m: ArrayLike, tz_s: float) -> TipAmplitudes:
        """Return the greatest amplitudes for heights (n,) at one mean period. `SplashError`: not known there."""
        ...

    def drive(self, omega_rad_s: Array, hs_m: float, tz_s: float) -> TipDrive:
        """Return how it follows waves of these frequencies. `SplashError` where it cannot be said."""
        ...


@dataclass(frozen=True, slots=True)
class TipStill:
    """A boom head that does not move: a quay, or a vessel hard aground."""

    words: str = "the boom head does not move"

    def amplitudes(self, hs_m: ArrayLike, tz_s: float) -> TipAmplitudes:
        """Return nothing for heights (n,)."""
        still = np.zeros_like(np.asarray(hs_m, dtype=np.float64))
        return TipAmplitudes(still, still, still)

    def drive(self, omega_rad_s: Array, hs_m: float, tz_s: float) -> TipDrive:
        """Return no motion at any frequency."""
        return TipDrive(np.zeros(len(omega_rad_s), dtype=np.complex128))


@dataclass(frozen=True, slots=True)
class TipPerHeight:
    """Motion, speed and acceleration in proportion to Hs, at every period: for the simplified method alone."""

    motion_per_hs: float
    speed_per_hs: float
    acceleration_per_hs: float

    def __post_init__(self) -> None:
        not_negative("the tip motion per metre of Hs", self.motion_per_hs, "")
        not_negative("the tip speed per metre of Hs", self.speed_per_hs, "1/s")
        not_negative("the tip acceleration per metre of Hs", self.acceleration_per_hs, "1/s²")

    @property
    def words(self) -> str:
        """What it rests on."""
        return (
            f"the boom head moves {self.motion_per_hs:g} m, {self.speed_per_hs:g} m/s and "
            f"{self.acceleration_per_hs:g} m/s² for each metre of Hs, at every period"
        )

    def amplitudes(self, hs_m: ArrayLike, tz_s: float) -> TipAmplitudes:
        """Return the amplitudes for heights (n,)."""
        hs = np.asarray(hs_m, dtype=np.float64)
        return TipAmplitudes(
            hs * self.motion_per_hs, hs * self.speed_per_hs, hs * self.acceleration_per_hs
        )

    def drive(self, omega_rad_s: Array, hs_m: float, tz_s: float) -> TipDrive:
        """Refuse: there is no period in it."""
        raise SplashError(
            "a tip motion in proportion to Hs has no period of its own and cannot be followed in time; give a "
            "response table, or amplitude and period"
        )


@dataclass(frozen=True, slots=True)
class TipResponse:
    """Response of the tip, metres for each metre of wave amplitude, against the wave's period.

    `phase_deg`: how far the tip is ahead of the wave at the load; None is not known: phases are then drawn.
    Between the periods amplitude and phase are taken linearly; beyond them the end values stand, and the
    motion counts as not known where more than a tenth of it would come from there.
    """

    period_s: tuple[float, ...]
    motion_m_per_m: tuple[float, ...]
    phase_deg: tuple[float, ...] | None = None
    words: str = field(default="the boom head follows the waves by the response table given")

    def __post_init__(self) -> None:
        if len(self.period_s) < 2 or len(self.motion_m_per_m) != len(self.period_s):
            raise SplashError("a response table needs at least two periods and one motion for each")
        if self.phase_deg is not None and len(self.phase_deg) != len(self.period_s):
            raise SplashError("a response table with phases needs one for each period")
        for value in self.period_s:
            positive("a period of the response table", value, "s")
        for value in self.motion_m_per_m:
            not_negative("a motion of the response table", value, "m/m")
        if np.any(np.diff(self.period_s) <= 0.0):
            raise SplashError("the periods of the response table must rise from row to row")

    def amplitudes(self, hs_m: ArrayLike, tz_s: float) -> TipAmplitudes:
        """Return 3.6 standard deviations of motion, speed and acceleration in JONSWAP seas (n,)."""
        found = [self._one(float(hs), tz_s) for hs in np.ravel(np.asarray(hs_m, dtype=np.float64))]
        shape = np.shape(hs_m)
        motion, speed, acceleration = (np.reshape(np.array(c), shape) for c in zip(*found, strict=True))
        return TipAmplitudes(motion, speed, acceleration)

    def _one(self, hs_m: float, tz_s: float) -> tuple[float, float, float]:
        return (0.0, 0.0, 0.0) if hs_m <= 0.0 else _greatest(self, hs_m, tz_s)

    def greatest(self, hs_m: float, tz_s: float) -> tuple[float, float, float]:
        """Return motion, speed and acceleration in one sea of some height."""
        sea = Jonswap.of_tz(hs_m, tz_s)
        omega = np.linspace(0.5, 4.0, _BINS) * sea.peak_rad_s
        energy = np.square(self._motion(omega)) * sea.density_m2_s(omega) * (omega[1] - omega[0])
        total = float(energy.sum())
        if total > 0.0:
            self._check(float(energy[self._beyond(omega)].sum()) / total, tz_s)
        moments = [float((energy * omega**n).sum()) for n in (0, 2, 4)]
        motion, speed, acceleration = (GREATEST_OVER_SD * m**0.5 for m in moments)
        return motion, speed, acceleration

    def drive(self, omega_rad_s: Array, hs_m: float, tz_s: float) -> TipDrive:
        """Return the response at each frequency."""
        if len(omega_rad_s) == 1:
            self._check(float(self._beyond(omega_rad_s)[0]), 2.0 * pi / float(omega_rad_s[0]))
        else:
            self._one(hs_m, tz_s)
        motion = self._motion(omega_rad_s).astype(np.complex128)
        if self.phase_deg is None:
            return TipDrive(motion, random_phase=True)
        phase = np.interp(2.0 * pi / omega_rad_s, self.period_s, np.unwrap(np.radians(self.phase_deg)))
        return TipDrive(motion * np.exp(1j * phase))

    def _motion(self, omega: Array) -> Array:
        return np.asarray(np.interp(2.0 * pi / omega, self.period_s, self.motion_m_per_m))

    def _beyond(self, omega: Array) -> NDArray[np.bool_]:
        period = 2.0 * pi / omega
        return np.asarray((period < self.period_s[0]) | (period > self.period_s[-1]))

    def _check(self, share: float, tz_s: float) -> None:
        if share > _OUTSIDE:
            raise SplashError(
                f"the tip motion is not known for waves of {tz_s:g} s: the response table reaches from "
                f"{self.period_s[0]:g} to {self.period_s[-1]:g} s, and {100 * share:.0f} % of the motion would "
                "come from beyond it"
            )


@lru_cache(maxsize=8192)
def _greatest(table: TipResponse, hs_m: float, tz_s: float) -> tuple[float, float, float]:
    """Remember the motion in a sea: a search asks the same seas for several bodies."""
    return table.greatest(hs_m, tz_s)


def heave_and_roll(
    period_s: Sequence[float],
    heave_m_per_m: Sequence[float],
    roll_deg_per_m: Sequence[float],
    lever_m: float,
    phases_deg: tuple[Sequence[float], Sequence[float]] | None = None,
) -> TipResponse:
    """Return the tip's response from heave and roll of the vessel against the wave's period.

    `lever_m`: how far the boom head is off the centre line. `phases_deg`: of heave and of roll ahead of the
    wave at the load, roll counted positive where the tip goes up; without them both add up (the worse case)
    and the tip's phase is drawn.
    """
    not_negative("the lever of the boom head from the centre line", lever_m, "m")
    if not len(period_s) == len(heave_m_per_m) == len(roll_deg_per_m):
        raise SplashError("heave and roll need one value each for every period")
    heave = np.asarray(heave_m_per_m, dtype=np.float64)
    roll = lever_m * np.radians(np.asarray(roll_deg_per_m, dtype=np.float64))
    at = tuple(float(p) for p in period_s)
    words = f"the boom head follows heave and roll, {lever_m:g} m off the centre line"
    if phases_deg is None:
        both = "; heave and roll add up, phase to the wave drawn"
        return TipResponse(at, tuple((heave + roll).tolist()), None, words + both)
    first, second = (np.exp(1j * np.radians(np.asarray(p, dtype=np.float64))) for p in phases_deg)
    sum_ = heave * first + roll * second
    return TipResponse(at, tuple(np.abs(sum_).tolist()), tuple(np.degrees(np.angle(sum_)).tolist()), words)


@dataclass(frozen=True, slots=True)
class TipSeen:
    """One observation: in a sea of `hs_m` and `tz_s` the tip went by `swings`, (single amplitude m, period s)."""

    hs_m: float
    tz_s: float
    swings: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        positive("the Hs in which the tip was watched", self.hs_m, "m")
        positive("the Tz in which the tip was watched", self.tz_s, "s")
        if not self.swings:
            raise SplashError("an observed tip motion needs at least one amplitude with its period")
        for amplitude, period in self.swings:
            not_negative("an amplitude of the tip", amplitude, "m")
            positive("a period of the tip", period, "s")

    def per_hs(self) -> tuple[float, float, float]:
        """Return greatest motion, speed and acceleration for each metre of Hs, all swings together."""
        sums = [sum(a * (2.0 * pi / p) ** n for a, p in self.swings) / self.hs_m for n in (0, 1, 2)]
        return sums[0], sums[1], sums[2]


@dataclass(frozen=True, slots=True)
class TipMeasured:
    """Tip motions seen or given by numbers: in proportion to Hs, known only near the Tz they were seen at."""

    seen: tuple[TipSeen, ...]

    def __post_init__(self) -> None:
        if not self.seen:
            raise SplashError("no tip motion was given; leave it out where it is not known")

    @property
    def words(self) -> str:
        """What it rests on."""
        at = ", ".join(f"Hs {s.hs_m:g} m with Tz {s.tz_s:g} s" for s in self.seen)
        return f"the boom head moves as seen at {at}, in proportion to Hs"

    def amplitudes(self, hs_m: ArrayLike, tz_s: float) -> TipAmplitudes:
        """Return the amplitudes for heights (n,) at a period it was seen at, or near."""
        hs = np.asarray(hs_m, dtype=np.float64)
        motion, speed, acceleration = self._at(tz_s).per_hs()
        return TipAmplitudes(hs * motion, hs * speed, hs * acceleration)

    def drive(self, omega_rad_s: Array, hs_m: float, tz_s: float) -> TipDrive:
        """Return its own swings; it does not follow single waves."""
        seen = self._at(tz_s)
        swings = tuple((a * hs_m / seen.hs_m, p) for a, p in seen.swings)
        return TipDrive(np.zeros(len(omega_rad_s), dtype=np.complex128), swings=swings)

    def _at(self, tz_s: float) -> TipSeen:
        nearest = min(self.seen, key=lambda s: abs(s.tz_s - tz_s))
        if abs(nearest.tz_s - tz_s) > _NEAR_S + 1e-9:
            raise SplashError(
                f"the tip motion is not known at Tz {tz_s:g} s: it was seen at "
                f"{', '.join(f'{s.tz_s:g}' for s in self.seen)} s"
            )
        return nearest


def heave_and_roll_seen(
    heave: tuple[float, float], roll: tuple[float, float], lever_m: float, hs_m: float, tz_s: float
) -> TipMeasured:
    """Return the tip motion from heave (amplitude m, period s) and roll (amplitude deg, period s) seen in a sea."""
    not_negative("the lever of the boom head from the centre line", lever_m, "m")
    swings = (heave, (lever_m * radians(roll[0]), roll[1]))
    return TipMeasured((TipSeen(hs_m, tz_s, swings),))
