"""The body as the splash zone sees it: parts at heights, hollows that hold water, and what it weighs."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import weighted_quantile
from oakum.lift.splash.errors import SplashError, not_negative, positive
from oakum.lift.splash.immersion import Hollow, Immersion
from oakum.lift.splash.rules import LEAST_DRAG, LEAST_SLAM, LEAST_SLAM_ROUND

Array = NDArray[np.float64]

_HIGH, _LOW = 0.95, 0.05


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the body: a crate, a beam of a frame, the object itself.

    `base_m` its underside above the body's lowest point, `height_m` its own; `volume_m3` what it displaces;
    `waterplane_m2` solid area cut by the surface; `plan_m2` area seen from below, which drags; `added_m3`
    added mass over density, deep; `slam_m2` what the water hits from below, `plan_m2` unless given. Drag and
    slamming coefficients not given are the least the rule allows (2.5; 5, or 3 for a smooth cylinder across),
    lower ones are raised to these.
    """

    name: str
    base_m: float
    height_m: float
    volume_m3: float
    waterplane_m2: float
    plan_m2: float
    added_m3: float
    slam_m2: float | None = None
    drag_coefficient: float | None = None
    slam_coefficient: float | None = None
    round_bottom: bool = False

    def __post_init__(self) -> None:
        positive(f'the height of "{self.name}"', self.height_m, "m")
        for what, value, unit in (
            ("height above the lowest point", self.base_m, "m"),
            ("volume", self.volume_m3, "m³"),
            ("waterplane", self.waterplane_m2, "m²"),
            ("plan area", self.plan_m2, "m²"),
            ("added mass", self.added_m3, "m³"),
            ("area hit from below", self.slam_m2 or 0.0, "m²"),
        ):
            not_negative(f'the {what} of "{self.name}"', value, unit)

    @property
    def top_m(self) -> float:
        """Its upper side above the lowest point."""
        return self.base_m + self.height_m

    @property
    def drag_m2(self) -> float:
        """Drag coefficient times area."""
        return max(self.drag_coefficient or 0.0, LEAST_DRAG) * self.plan_m2

    @property
    def slamming_m2(self) -> float:
        """Slamming coefficient times area."""
        least = LEAST_SLAM_ROUND if self.round_bottom else LEAST_SLAM
        area = self.plan_m2 if self.slam_m2 is None else self.slam_m2
        return max(self.slam_coefficient or 0.0, least) * area

    def share_under(self, water_line_m: float) -> float:
        """Return the share of its height below a water line above the body's lowest point."""
        return min(max((water_line_m - self.base_m) / self.height_m, 0.0), 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class SplashBody:
    """Parts, weights and hollows of what hangs on the hook.

    `mass_kg` (n,): all that hangs in air but water in hollows; `volume_share` (n,): the draw's displacement
    over the sum of the parts' volumes. They are draws, with `weights` (n,) or None, or with `is_range` the two
    ends (P5, P95) of what is known, of which each check takes its worse. `longest_m` is the greatest
    horizontal size. `rising_m3` (k,): volume of all parts under water with the surface at evenly spaced heights, from
    0 to the height of the body; None: each part takes its own on evenly.
    """

    parts: tuple[Part, ...]
    mass_kg: Array
    volume_share: Array
    longest_m: float
    hollows: tuple[Hollow, ...] = ()
    weights: Array | None = None
    is_range: bool = False
    rising_m3: Array | None = None

    def __post_init__(self) -> None:
        if not self.parts:
            raise SplashError("the body has no parts; give at least one with its height and areas")
        if min(p.base_m for p in self.parts) > 1e-9:
            raise SplashError("the lowest part of the body must start at height 0")
        if len(self.mass_kg) == 0 or len(self.mass_kg) != len(self.volume_share):
            raise SplashError("mass and share of the volume need the same number of draws, one at least")
        if not np.all(np.isfinite(self.mass_kg)) or float(np.min(self.mass_kg)) <= 0.0:
            raise SplashError("the mass of the body must be more than 0 kg in every draw")
        if not np.all(np.isfinite(self.volume_share)) or float(np.min(self.volume_share)) < 0.0:
            raise SplashError("the share of the volume must be 0 or more in every draw")
        positive("the greatest horizontal size of the body", self.longest_m, "m")
        if self.weights is not None and len(self.weights) != len(self.mass_kg):
            raise SplashError("weights of draws need one number for each draw")
        if self.rising_m3 is not None and abs(float(self.rising_m3[-1]) / self.volume_m3 - 1.0) > 1e-6:
            raise SplashError("the volume under water must end with the volume of all parts")

    @property
    def height_m(self) -> float:
        """From the lowest to the highest point."""
        return max(p.top_m for p in self.parts)

    @property
    def volume_m3(self) -> float:
        """Volume of all parts, at share 1."""
        return sum(p.volume_m3 for p in self.parts)

    @property
    def added_m3(self) -> float:
        """Added mass of all parts over density."""
        return sum(p.added_m3 for p in self.parts)

    @property
    def drag_m2(self) -> float:
        """Drag coefficient times area of all parts."""
        return sum(p.drag_m2 for p in self.parts)

    def immersion(self) -> Immersion:
        """Return volume, added mass and drag area against submergence: each part takes them on evenly.

        The volume by `rising_m3` where that is given.
        """
        count = 257 if len(self.parts) > 1 or self.rising_m3 is not None else 2
        height = self.height_m
        lines = np.linspace(0.0, height, count)
        share = np.array([[p.share_under(float(line)) for p in self.parts] for line in lines])
        kinds = np.array([[p.volume_m3, p.added_m3, p.drag_m2] for p in self.parts])
        volume, added, drag = (share @ kinds).T
        if self.rising_m3 is not None:
            volume = np.interp(lines, np.linspace(0.0, height, len(self.rising_m3)), self.rising_m3)
        return Immersion(height, volume, added, drag)

    def high(self, values: Array) -> float:
        """Return the worse end of what should be low: 95th percentile over the draws, or the greater."""
        return self._end(values, _HIGH)

    def low(self, values: Array) -> float:
        """Return the worse end of what should be high: 5th percentile over the draws, or the lesser."""
        return self._end(values, _LOW)

    def high_of_rows(self, values: Array) -> Array:
        """Return `high` of each row of (k, n)."""
        if self.is_range or values.shape[-1] == 1:
            return np.asarray(values.max(axis=-1))
        if self.weights is None:
            return _quantile(values, _HIGH)
        return np.array([self._end(row, _HIGH) for row in values])

    def _end(self, values: Array, prob: float) -> float:
        if self.is_range or len(values) == 1:
            return float(np.max(values) if prob > 0.5 else np.min(values))
        return float(weighted_quantile(values, (prob,), self.weights)[0])

    def few(self, most: int) -> SplashBody:
        """Return the body with at most `most` draws that count alike."""
        n = len(self.mass_kg)
        if self.is_range or n <= most:
            return self
        order = np.argsort(self.mass_kg - self.volume_share * self.volume_m3 * 1025.0, kind="stable")
        weight = np.ones(n) if self.weights is None else self.weights[order]
        summed = np.cumsum(weight)
        at = np.searchsorted(summed, (np.arange(most) + 0.5) / most * summed[-1])
        picks = order[np.minimum(at, n - 1)]
        return replace(
            self, mass_kg=self.mass_kg[picks], volume_share=self.volume_share[picks], weights=None
        )

    @property
    def basis(self) -> str:
        """In words, which value of the spread a check takes."""
        if len(self.mass_kg) == 1:
            return "the weight given"
        return "worse end of the weights given" if self.is_range else "95th percentile over the draws"


def _quantile(rows: Array, prob: float) -> Array:
    """Return `np.quantile` of each row (k, n), as it takes it straight between two draws, in half the time."""
    at = prob * (rows.shape[-1] - 1)
    low = int(at)
    high = min(low + 1, rows.shape[-1] - 1)
    parted = np.partition(rows, (low, high), axis=-1)
    return np.asarray(parted[..., low] + (at - low) * (parted[..., high] - parted[..., low]))
