"""How the vessel was seen to move: greatest heave and roll in seas somebody watched, for want of a table."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite, radians

from oakum.lift.splash import TipMeasured, TipSeen
from oakum.lift.vessel.errors import VesselError


@dataclass(frozen=True, slots=True)
class SeenMotion:
    """One sea of `hs_m` and `tz_s`, and the greatest single amplitudes seen in it, each with its period."""

    hs_m: float
    tz_s: float
    heave_m: float
    heave_period_s: float
    roll_deg: float
    roll_period_s: float
    pitch_deg: float | None = None
    pitch_period_s: float | None = None

    def __post_init__(self) -> None:
        above = (self.hs_m, self.tz_s, self.heave_period_s, self.roll_period_s)
        if not all(isfinite(v) and v > 0.0 for v in above):
            raise VesselError("a motion that was seen needs the sea's Hs and Tz and its own periods, above 0")
        if min(self.heave_m, self.roll_deg, self.pitch_deg or 0.0) < 0.0:
            raise VesselError("heave, roll and pitch are single amplitudes of 0 or more")
        if (self.pitch_deg is None) != (self.pitch_period_s is None):
            raise VesselError("a pitch that was seen needs its angle and its period")


@dataclass(frozen=True, slots=True)
class SeenMotions:
    """What was seen on one heading to the waves, by whom or where (`source`)."""

    name: str
    heading: str
    seen: tuple[SeenMotion, ...]
    source: str

    def __post_init__(self) -> None:
        if not self.seen:
            raise VesselError(
                f'motions "{self.name}": no sea was watched; leave them out if they are not known'
            )

    def tip(self, y_m: float, x_m: float = 0.0) -> TipMeasured:
        """Return the head's motion in proportion to Hs, near the periods it was seen at.

        `y_m`, `x_m`: level distances of the head from the axes of roll and pitch; heave and angles add up, since
        nobody saw their phases. `VesselError` for a head along the vessel where no pitch was seen.
        """
        return TipMeasured(tuple(self._one(s, abs(y_m), abs(x_m)) for s in self.seen))

    def _one(self, seen: SeenMotion, y_m: float, x_m: float) -> TipSeen:
        swings = [(seen.heave_m, seen.heave_period_s), (y_m * radians(seen.roll_deg), seen.roll_period_s)]
        if x_m > 0.0:
            if seen.pitch_deg is None or seen.pitch_period_s is None:
                raise VesselError(
                    f'motions "{self.name}": the head is {x_m:g} m along the vessel and no pitch was seen at '
                    f"Hs {seen.hs_m:g} m; add it or lift amidships"
                )
            swings.append((x_m * radians(seen.pitch_deg), seen.pitch_period_s))
        return TipSeen(seen.hs_m, seen.tz_s, tuple(swings))
