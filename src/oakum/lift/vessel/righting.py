"""The vessel's own righting curve from its stability book, and what the criteria ask of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.lift.vessel.errors import VesselError


@dataclass(frozen=True, slots=True)
class RightingCurve:
    """GZ in metres against heel in degrees, from 0 on, for the condition of the lift; straight between points.

    `page` is where the book has it.
    """

    heel_deg: tuple[float, ...]
    gz_m: tuple[float, ...]
    page: str

    def __post_init__(self) -> None:
        angles = np.asarray(self.heel_deg)
        if len(angles) != len(self.gz_m) or len(angles) < 3:
            raise VesselError("a righting curve has at least three heels, each with its GZ")
        if angles[0] != 0.0 or np.any(np.diff(angles) <= 0.0):
            raise VesselError("the heels of a righting curve begin at 0° and rise")

    def at(self, heel_deg: float) -> float | None:
        """Return GZ at a heel; None beyond the curve."""
        if not 0.0 <= heel_deg <= self.heel_deg[-1]:
            return None
        return float(np.interp(heel_deg, self.heel_deg, self.gz_m))

    def area_m_rad(self, from_deg: float, to_deg: float) -> float | None:
        """Return the area under GZ between two heels, m rad; None beyond the curve."""
        if to_deg > self.heel_deg[-1]:
            return None
        inside = [a for a in self.heel_deg if from_deg < a < to_deg]
        angles = np.array([from_deg, *inside, to_deg])
        return float(np.trapezoid(np.interp(angles, self.heel_deg, self.gz_m), np.radians(angles)))

    def measures(self) -> dict[str, float | None]:
        """Return what criteria ask of a curve, by the name of the quantity; None where it is too short."""
        beyond = [z for a, z in zip(self.heel_deg, self.gz_m, strict=True) if a >= 30.0]
        at_30 = self.at(30.0)
        most = max([*beyond, *([at_30] if at_30 is not None else [])], default=None)
        return {
            "area_0_30_m_rad": self.area_m_rad(0.0, 30.0),
            "area_0_40_m_rad": self.area_m_rad(0.0, 40.0),
            "area_30_40_m_rad": self.area_m_rad(30.0, 40.0),
            "gz_from_30_m": most,
            "gz_peak_deg": self.heel_deg[int(np.argmax(self.gz_m))],
        }
