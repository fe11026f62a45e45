"""How the vessel moves in waves: heave and roll against period, and what that makes of the boom head.

Phases between heave and roll are not in such a table, so they are added as if they came together: no phases make
the vertical motion of the head larger.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from oakum.lift.splash import TipResponse
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.stability import Array, Dim
from oakum.lift.vessel.typed_rows import RowNote


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

    def tip(self, y_m: float, x_m: float = 0.0) -> TipResponse:
        """Return the head's motion as the splash zone takes it, phases not known.

        `VesselError` where the table has a gap inside, which nothing may be read across.
        """
        inside = [g for g in self.gaps_s if self.period_s[0] < g < self.period_s[-1]]
        if inside:
            raise VesselError(
                f'motions "{self.name}": the row of {inside[0]:g} s has no full motion; fill it in, or take the row '
                "out if a straight line between its neighbours is meant"
            )
        along = f", {abs(x_m):g} m along her" if x_m else ""
        words = (
            f'the boom head follows the motions "{self.name}", {self.heading}, {abs(y_m):g} m off the centre '
            f"line{along}; heave and angles add up, since their phases are not known ({self.source})"
        )
        ratios = self.tip_ratio(np.asarray(self.period_s), y_m, x_m)
        return TipResponse(self.period_s, tuple(ratios.tolist()), None, words)

    def _read(self, period_s: Dim, column: tuple[float, ...]) -> Array:
        period = np.asarray(period_s, dtype=np.float64)
        found = np.interp(period, self.period_s, column, left=np.nan, right=np.nan)
        for gap in self.gaps_s:
            low = max((p for p in self.period_s if p < gap), default=-np.inf)
            high = min((p for p in self.period_s if p > gap), default=np.inf)
            found = np.where((period > low) & (period < high), np.nan, found)
        return np.asarray(found)
