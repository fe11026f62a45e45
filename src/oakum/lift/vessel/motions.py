"""How the vessel moves in waves: heave and roll against period, and what that makes of the boom head.

Phases between heave and roll are not in such a table, so they are added as if they came together: no phases make
the vertical motion of the head larger.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from oakum.ground.waves import Jonswap
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.stability import Array, Dim
from oakum.lift.vessel.typed_rows import RowNote

MOST_OUTSIDE = 0.05
"""Share of the sea's energy that may lie outside the periods of the table; above it no motion is given."""

_CUTS = 400


@dataclass(frozen=True, slots=True)
class TipMotion:
    """Vertical motion of the boom head, single amplitudes: metres, m/s, m/s2.

    `outside`: share of the sea's energy at periods the table does not have, not counted.
    """

    eta_m: float
    v_m_s: float
    a_m_s2: float
    outside: float = 0.0


@dataclass(frozen=True, slots=True)
class ResponseTable:
    """Single amplitudes per metre of wave *amplitude*, by wave period in seconds, for one heading.

    `heave` m/m, `roll_rad` rad/m, `pitch_rad` rad/m or None where the table has none. Straight between periods,
    nothing outside; `gaps_s` are periods listed without a motion, and nothing is read between their neighbours.
    """

    name: str
    heading: str
    period_s: tuple[float, ...]
    heave: tuple[float, ...]
    roll_rad: tuple[float, ...]
    pitch_rad: tuple[float, ...] | None
    source: str
    gaps_s: tuple[float, ...] = ()
    notes: tuple[RowNote, ...] = field(default=())

    def __post_init__(self) -> None:
        periods = np.asarray(self.period_s)
        if len(periods) < 2 or np.any(np.diff(periods) <= 0.0) or periods[0] <= 0.0:
            raise VesselError(
                f'motions "{self.name}": at least two periods above 0 s are needed, rising from row to row'
            )
        columns = [self.heave, self.roll_rad, *([self.pitch_rad] if self.pitch_rad is not None else [])]
        if any(len(c) != len(periods) or min(c) < 0.0 for c in columns):
            raise VesselError(
                f'motions "{self.name}": every period needs its heave and roll, as amplitudes of 0 or more'
            )

    def covers(self, period_s: float) -> bool:
        """Whether a period lies within the table and in none of its gaps."""
        return bool(np.isfinite(self._read(period_s, self.heave)))

    def tip_ratio(self, period_s: Dim, y_m: float, x_m: float = 0.0) -> Array:
        """Return heave + roll x lever (+ pitch x lever) of a head, m per m of wave amplitude; NaN outside the table.

        `y_m`, `x_m`: level distances of the head from the axes of roll and pitch. A head out along the vessel needs
        pitch in the table: `VesselError` otherwise.
        """
        if x_m != 0.0 and self.pitch_rad is None:
            raise VesselError(
                f'motions "{self.name}": the head is {abs(x_m):g} m along the vessel and the table has no pitch; add a '
                "pitch column or lift amidships"
            )
        total = self._read(period_s, self.heave) + abs(y_m) * self._read(period_s, self.roll_rad)
        if x_m != 0.0 and self.pitch_rad is not None:
            total = total + abs(x_m) * self._read(period_s, self.pitch_rad)
        return total

    def _read(self, period_s: Dim, column: tuple[float, ...]) -> Array:
        period = np.asarray(period_s, dtype=np.float64)
        found = np.interp(period, self.period_s, column, left=np.nan, right=np.nan)
        for gap in self.gaps_s:
            low = max((p for p in self.period_s if p < gap), default=-np.inf)
            high = min((p for p in self.period_s if p > gap), default=np.inf)
            found = np.where((period > low) & (period < high), np.nan, found)
        return np.asarray(found)

    def in_wave(self, amplitude_m: float, period_s: float, y_m: float, x_m: float = 0.0) -> TipMotion:
        """Return the motion of the head in one regular wave. `VesselError` for a period outside the table."""
        if not self.covers(period_s):
            raise VesselError(
                f'motions "{self.name}": a period of {period_s:g} s is outside the table ({self.period_s[0]:g} to '
                f"{self.period_s[-1]:g} s) or in a gap of it; nothing is read there"
            )
        eta = amplitude_m * float(self.tip_ratio(period_s, y_m, x_m))
        omega = 2.0 * math.pi / period_s
        return TipMotion(eta, eta * omega, eta * omega**2)

    def in_sea(self, sea: Jonswap, y_m: float, x_m: float = 0.0, *, minutes: float = 30.0) -> TipMotion:
        """Return the most probable largest motion of the head in a sea, linear theory and Rayleigh's statistics.

        Each of displacement, speed and acceleration is s sqrt(2 ln N) with its own s, N the swings in the time.
        `VesselError` where more than 5 % of the sea's energy lies at periods outside the table or in its gaps.
        """
        low, high = 2.0 * math.pi / self.period_s[-1], 2.0 * math.pi / self.period_s[0]
        within = np.linspace(low, high, _CUTS)
        ratio = self.tip_ratio(2.0 * math.pi / within, y_m, x_m)
        density = np.where(np.isnan(ratio), 0.0, sea.density_m2_s(within))
        outside = min(max(1.0 - float(np.trapezoid(density, within)) / sea.moment(0), 0.0), 1.0)
        if outside > MOST_OUTSIDE:
            raise VesselError(
                f'motions "{self.name}": {100.0 * outside:.0f} % of this sea\'s energy lies outside the periods of the '
                f"table ({self.period_s[0]:g} to {self.period_s[-1]:g} s, less its gaps); give the motions over more "
                "periods"
            )
        moved = density * np.nan_to_num(ratio) ** 2
        moments = [float(np.trapezoid(moved * within ** (2 * k), within)) for k in range(3)]
        if moments[0] <= 0.0:
            return TipMotion(0.0, 0.0, 0.0, outside)
        swings = 60.0 * minutes / (2.0 * math.pi * math.sqrt(moments[0] / moments[1]))
        times = math.sqrt(2.0 * math.log(max(swings, math.e)))
        eta, v, a = (times * math.sqrt(m) for m in moments)
        return TipMotion(eta, v, a, outside)


TipBy = Literal["regular wave", "sea"]


def tip_motion_by(
    table: ResponseTable, by: TipBy, y_m: float, x_m: float = 0.0, *, wave_share: float = 0.9
) -> Callable[[float, float], TipMotion]:
    """Return tip motion as a function of Hs (m) and Tz (s), as splash-zone limits want it.

    "regular wave": a wave of amplitude `wave_share` Hs (0.9 in the simplified method) at the period Tz; "sea": a
    JONSWAP sea of that Hs and Tz over half an hour. Both raise `VesselError` where the table does not reach.
    """

    def moved(hs_m: float, tz_s: float) -> TipMotion:
        if by == "regular wave":
            return table.in_wave(wave_share * hs_m, tz_s, y_m, x_m)
        return table.in_sea(Jonswap.of_tz(hs_m, tz_s), y_m, x_m)

    return moved
