"""The body on its line, ready to be put through a sea."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.splash.body import SplashBody
from oakum.lift.splash.errors import SplashError, positive
from oakum.lift.splash.forces import Water
from oakum.lift.splash.immersion import Hollow, Immersion
from oakum.lift.splash.line import Line

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class SplashModel:
    """A body going up and down on a line that can go slack: one degree of freedom.

    `mass_kg` (n,) draws of all that hangs on the line in air but the water in hollows; `volume_share` (n,)
    times the volume of the immersion gives each draw's displacement. A member of an ensemble takes the draws
    in turn. Lengths from the body's lowest point, up.
    """

    mass_kg: Array
    volume_share: Array
    immersion: Immersion
    line: Line
    density_kg_m3: float
    hollows: tuple[Hollow, ...] = ()
    g_m_s2: float = G_M_S2

    def __post_init__(self) -> None:
        if len(self.mass_kg) == 0 or len(self.mass_kg) != len(self.volume_share):
            raise SplashError("mass and share of the volume need the same number of draws, one at least")
        if not np.all(np.isfinite(self.mass_kg)) or np.min(self.mass_kg) <= 0.0:
            raise SplashError("the mass of the body must be more than 0 kg in every draw")
        if not np.all(np.isfinite(self.volume_share)) or np.min(self.volume_share) < 0.0:
            raise SplashError("the share of the volume must be 0 or more in every draw")
        positive("the density of the water", self.density_kg_m3, "kg/m³")

    @classmethod
    def of(cls, body: SplashBody, line: Line, water: Water) -> SplashModel:
        """Return the model of a body; its draws are resampled to count alike where they carry weights."""
        few = body if body.weights is None else body.few(min(len(body.mass_kg), 2000))
        return cls(
            few.mass_kg,
            few.volume_share,
            few.immersion(),
            line,
            water.density_kg_m3,
            few.hollows,
            water.g_m_s2,
        )

    def step_s(self, highest_level_m: float, asked_s: float | None = None) -> float:
        """Return the step of time, at most a fiftieth of the period on the line at the highest level taken.

        The lightest draw with the added mass of what is under still water there. Raises `SplashError` where
        `asked_s` is longer.
        """
        _, added, _ = self.immersion.at(-highest_level_m)
        return self.line.step_s(np.min(self.mass_kg) + self.density_kg_m3 * added, asked_s)

    def static_n(self, level_m: float, mass_kg: Array, volume_share: Array) -> Array:
        """Return the still-water pull (n,) with the lowest point at a level above the water, hollows drained
        to the surface."""
        volume, _, _ = self.immersion.at(-level_m)
        return np.asarray(self.g_m_s2 * (mass_kg - self.density_kg_m3 * float(volume) * volume_share))

    def held_over_n(self, level_m: float) -> float:
        """Return the weight of the water that full hollows hold above the surface, N."""
        over = 0.0
        for hollow in self.hollows:
            outside = min(max(-level_m - hollow.floor_m, 0.0), hollow.height_m)
            over += hollow.plan_m2 * (hollow.height_m - outside)
        return over * self.density_kg_m3 * self.g_m_s2

    def centre_below_m(self, level_m: Array) -> Array:
        """Return how deep the middle of the submerged height is at levels of the lowest point, m."""
        under = np.clip(-level_m, 0.0, self.immersion.height_m)
        return np.asarray(np.maximum(-level_m, 0.0) - 0.5 * under)
