"""What a body displaces, drags along and offers to the stream as it goes under, and the water it holds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.lift.splash.errors import SplashError, not_negative, positive
from oakum.lift.weights.draining import DISCHARGE, rate_sqrt_m_per_s

Array = NDArray[np.float64]

_RUNGS = 257


@dataclass(frozen=True, slots=True, eq=False)
class Immersion:
    """Volume, added mass and drag area against submergence, evenly spaced from 0 to `height_m`.

    Submergence is how far the body's lowest point is below the surface. `volume_m3` (k,) displaced by solid
    parts, `added_m3` (k,) added mass over the density of the water, `drag_m2` (k,) drag coefficient times
    area, all under water up to there. Each grows from 0 and never falls.
    """

    height_m: float
    volume_m3: Array
    added_m3: Array
    drag_m2: Array

    def __post_init__(self) -> None:
        positive("the height of the body", self.height_m, "m")
        for name in ("volume_m3", "added_m3", "drag_m2"):
            values = getattr(self, name)
            if len(values) != len(self.volume_m3) or len(values) < 2:
                raise SplashError("the curves of a body going under need one value each at every submergence")
            if not np.all(np.isfinite(values)) or values[0] < 0.0 or np.any(np.diff(values) < -1e-9):
                raise SplashError(f"{name.split('_')[0]} under water must grow with submergence, from 0 on")

    @classmethod
    def prism(cls, height_m: float, volume_m3: float, added_m3: float, drag_m2: float) -> Immersion:
        """Return a body that takes everything on evenly over its height: the linear assumption."""
        share = np.array([0.0, 1.0])
        return cls(height_m, volume_m3 * share, added_m3 * share, drag_m2 * share)

    @property
    def is_prism(self) -> bool:
        """Whether all three curves are straight lines from nothing."""
        n = len(self.volume_m3) - 1
        even = np.arange(n + 1) / n
        return all(
            bool(np.allclose(c, c[-1] * even, rtol=0.0, atol=1e-12 * max(float(c[-1]), 1e-9)))
            for c in (self.volume_m3, self.added_m3, self.drag_m2)
        )

    def ladder(self) -> tuple[float, Array, Array, Array]:
        """Return the spacing, m, and the three curves on an even ladder fine enough to read between."""
        n = max(_RUNGS, len(self.volume_m3))
        to = np.linspace(0.0, self.height_m, n)
        own = np.linspace(0.0, self.height_m, len(self.volume_m3))
        curves = (np.interp(to, own, c) for c in (self.volume_m3, self.added_m3, self.drag_m2))
        volume, added, drag = curves
        return self.height_m / (n - 1), volume, added, drag

    def at(self, submergence_m: ArrayLike) -> tuple[Array, Array, Array]:
        """Return volume, added mass over density, and drag area at submergences; constant beyond both ends."""
        own = np.linspace(0.0, self.height_m, len(self.volume_m3))
        s = np.asarray(submergence_m, dtype=np.float64)
        volume, added, drag = (np.interp(s, own, c) for c in (self.volume_m3, self.added_m3, self.drag_m2))
        return np.asarray(volume), np.asarray(added), np.asarray(drag)


@dataclass(frozen=True, slots=True)
class Hollow:
    """A hollow that holds water and lets it out through an opening in its floor.

    A prism of `plan_m2` by `height_m`, its floor `floor_m` above the body's lowest point; `opening_m2` 0
    never drains, as a hollow that is open only above. The volume of its walls belongs to the solid parts.
    """

    plan_m2: float
    height_m: float
    floor_m: float
    opening_m2: float
    discharge: float = sum(DISCHARGE) / 2.0

    def __post_init__(self) -> None:
        positive("the plan area of a hollow", self.plan_m2, "m²")
        positive("the height of a hollow", self.height_m, "m")
        not_negative("the height of a hollow's floor above the lowest point", self.floor_m, "m")
        not_negative("the opening of a hollow", self.opening_m2, "m²")
        positive("the discharge coefficient of a hollow", self.discharge, "")
        if self.opening_m2 > self.plan_m2:
            raise SplashError("the opening of a hollow cannot be greater than its plan area")

    def rate_sqrt_m_per_s(self, g_m_s2: float) -> float:
        """Return how fast the square root of its head falls, m^0.5/s."""
        return float(rate_sqrt_m_per_s(self.plan_m2, self.opening_m2, self.discharge, g_m_s2))
