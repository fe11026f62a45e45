"""Steps of the one-degree model for all members at once, in memory set aside beforehand.

Inside, lengths count in heights of the body and times in steps, so that speeds are added to places and forces
over masses to speeds without a factor: a mass is times H / h^2, a drag times (H / h)^2, a stiffness times H.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.immersion import Hollow
from oakum.lift.splash.model import SplashModel

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Driven:
    """What drives the members over some steps, each (steps, n) in the stepper's own units.

    Surface, water speed and its quickening, the place the line would hang to unstretched, its speed and its
    quickening.
    """

    surface: Array
    water: Array
    quickening: Array
    hung: Array
    hung_speed: Array
    hung_quickening: Array


class _Held:
    """Water in one hollow of every member."""

    def __init__(self, hollow: Hollow, members: int, step_s: float, density: float, g_m_s2: float) -> None:
        self.hollow = hollow
        self.fall = hollow.rate_sqrt_m_per_s(g_m_s2) * step_s
        self.kg_per_m = density * hollow.plan_m2
        self.water = np.full(members, hollow.height_m)  # column above the floor, half a step behind

    def step(self, under_m: Array) -> tuple[Array, Array]:
        """Return the mean column over the step and the level outside, kg of water each."""
        hollow = self.hollow
        outside = np.minimum(np.maximum(under_m - hollow.floor_m, 0.0), hollow.height_m)
        head = self.water - outside
        root = np.maximum(np.sqrt(np.abs(head)) - self.fall, 0.0)
        after = outside + np.copysign(root * root, head)
        # Water over the rim fills it at once.
        after = np.where(outside >= hollow.height_m, hollow.height_m, after)
        mean = self.kg_per_m * 0.5 * (self.water + after)
        self.water = after
        return mean, self.kg_per_m * outside


class _Curves:
    """Displaced and added mass and drag against the share of the height that is under water."""

    def __init__(self, model: SplashModel, volume_share: Array, mass: float, drag: float) -> None:
        rho, n = model.density_kg_m3, len(volume_share)
        _, volume, added, area = model.immersion.ladder()
        self.even = model.immersion.is_prism
        self.cells = len(volume) - 1
        self.share = volume_share
        curves = (rho * mass * volume, rho * mass * added, 0.5 * rho * drag * area)
        whole = np.array([np.broadcast_to(c[-1], n) for c in curves])
        whole[0] *= volume_share
        self.whole = whole
        self.tables = tuple((c[:-1].copy(), np.diff(c)) for c in curves)
        self.index = np.zeros(n, dtype=np.intp)
        self.place, self.rise = np.empty(n), np.empty(n)

    def read(self, share: Array, out: Array) -> None:
        """Write volume, added mass and drag (3, n) at shares (n,) between 0 and 1."""
        if self.even:
            np.multiply(share, self.whole, out)
            return
        np.multiply(share, self.cells, self.place)
        np.copyto(self.index, self.place, casting="unsafe")
        np.minimum(self.index, self.cells - 1, out=self.index)
        self.place -= self.index
        for (table, rises), row in zip(self.tables, out, strict=True):
            np.take(table, self.index, out=row, mode="clip")
            np.take(rises, self.index, out=self.rise, mode="clip")
            self.rise *= self.place
            row += self.rise
        out[0] *= self.share


# Values of the last three half steps carried on to now, the newest first, for each place of the newest in a ring.
_SPEED_NOW = tuple(np.roll(np.array([15.0, -10.0, 3.0]) / 8.0, newest) for newest in range(3))
_ENTRY_NOW = tuple(np.roll(np.array([11.0, -7.0, 2.0]) / 6.0, newest) for newest in range(3))


class Stepper:
    """Places at whole steps, speeds at half steps. See the module `march` for the equation."""

    def __init__(
        self, model: SplashModel, mass_kg: Array, volume_share: Array, step_s: float, start_m: Array
    ) -> None:
        n = len(mass_kg)
        height, g = model.immersion.height_m, model.g_m_s2
        self.height_m, self.step_s = height, step_s
        self.mass_scale = height / step_s**2
        self.g = g / self.mass_scale
        self.curves = _Curves(model, volume_share, self.mass_scale, (height / step_s) ** 2)
        self.mass = mass_kg * self.mass_scale
        self.weight = mass_kg * g
        self.stiffness = model.line.stiffness_n_m * height
        damping = model.line.damping_n_s_m(mass_kg) * height / step_s
        self.damping = damping if np.any(damping > 0.0) else None
        self.hollows = [_Held(h, n, step_s, model.density_kg_m3, g) for h in model.hollows]
        self.z, self.speeds, self.newest = start_m / height, np.zeros((3, n)), 0
        # What is under water and drags, now and a step before.
        self.wet, self.wet_before = np.empty((3, n)), np.empty((3, n))
        self.curves.read(np.clip(-self.z, 0.0, 1.0), self.wet)
        self.entries = np.zeros((3, n))
        self.scratch = [np.empty(n) for _ in range(7)]
        self.taut = np.empty(n, dtype=np.bool_)

    def held_kg(self) -> Array:
        """Return the water in all hollows (n,)."""
        total = np.zeros_like(self.z)
        for held in self.hollows:
            total += held.kg_per_m * held.water
        return total

    def _pushes(self, quickening: Array) -> Array | None:
        """Return buoyancy and the wave's push of bodies wholly under water (steps, n); None unless they are prisms."""
        if not self.curves.even:
            return None
        volume, added, _ = self.curves.whole
        push: Array = quickening * (volume + added)
        push += volume * self.g
        return push

    def advance(self, drive: Driven, force: Array, height_m: Array | None = None) -> None:
        """Take the steps of `drive`, and write the line force, N, at the start of each into `force` (steps, n).

        `height_m` (steps, n), if given, takes the height of the lowest point.
        """
        share, under, speed, against, rest, mass, push = self.scratch
        z, speeds, entries, taut = self.z, self.speeds, self.entries, self.taut
        wet, before, newest = self.wet, self.wet_before, self.newest
        pushes = self._pushes(drive.quickening)
        filter_mass = self.stiffness / 12.0
        for i in range(len(force)):
            line = force[i]
            if height_m is not None:
                np.multiply(z, self.height_m, height_m[i])
            # How much is under water, and what that brings.
            np.subtract(drive.surface[i], z, under)
            np.maximum(under, 0.0, out=share)
            np.minimum(share, 1.0, out=share)
            wet, before = before, wet
            self.curves.read(share, wet)
            volume, added, drag = wet
            np.dot(_SPEED_NOW[newest], speeds, out=speed)
            # Added mass gained on entry a step.
            gained = entries[newest]
            np.subtract(added, before[1], gained)
            np.maximum(gained, 0.0, out=gained)
            np.dot(_ENTRY_NOW[newest], entries, out=rest)
            # The line pulls, or hangs slack.
            np.subtract(drive.hung[i], z, line)
            line *= self.stiffness
            if self.damping is not None:
                np.subtract(drive.hung_speed[i], speed, mass)
                mass *= self.damping
                line += mass
            np.maximum(line, 0.0, out=line)
            np.greater(line, 0.0, taut)
            # Drag and entry against the water.
            speed -= drive.water[i]
            np.abs(speed, against)
            drag *= against
            drag += rest
            drag *= speed
            np.subtract(line, self.weight, rest)
            rest -= drag
            # Mass, with the filter's share where the line is taut.
            np.multiply(taut, filter_mass, mass)
            np.multiply(mass, drive.hung_quickening[i], speed)
            rest += speed
            mass += self.mass
            mass += added
            # Buoyancy, and the wave's own push on body and added mass.
            if pushes is not None:
                np.multiply(share, pushes[i], push)
            else:
                np.add(volume, added, push)
                push *= drive.quickening[i]
                volume *= self.g
                push += volume
            rest += push
            for held in self.hollows:
                column, outside = held.step(under * self.height_m)
                mass += self.mass_scale * column
                rest += self.mass_scale * (outside * (drive.quickening[i] + self.g) - column * self.g)
            rest /= mass
            older = newest - 1
            np.add(speeds[newest], rest, speeds[older])
            newest = older % 3
            z += speeds[newest]
        self.wet, self.wet_before, self.newest = wet, before, newest
