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

    Surface, water speed and its quickening, the place the line would hang to unstretched, and its speed.
    """

    surface: Array
    water: Array
    quickening: Array
    hung: Array
    hung_speed: Array | None


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
        rho = model.density_kg_m3
        _, volume, added, area = model.immersion.ladder()
        self.even = model.immersion.is_prism
        self.cells = len(volume) - 1
        self.share = volume_share
        curves = (rho * mass * volume, rho * mass * added, 0.5 * rho * drag * area)
        if self.even:
            self.whole = (curves[0][-1] * volume_share, float(curves[1][-1]), float(curves[2][-1]))
        else:
            self.tables = tuple((c[:-1].copy(), np.diff(c)) for c in curves)
            n = len(volume_share)
            self.index = np.zeros(n, dtype=np.intp)
            self.place, self.rise = np.empty(n), np.empty(n)

    def read(self, share: Array, volume: Array, added: Array, drag: Array) -> None:
        """Write the three curves at shares (n,) between 0 and 1."""
        if self.even:
            for whole, out in zip(self.whole, (volume, added, drag), strict=True):
                np.multiply(share, whole, out)
            return
        np.multiply(share, self.cells, self.place)
        np.copyto(self.index, self.place, casting="unsafe")
        np.minimum(self.index, self.cells - 1, out=self.index)
        self.place -= self.index
        for (table, rises), out in zip(self.tables, (volume, added, drag), strict=True):
            np.take(table, self.index, out=out, mode="clip")
            np.take(rises, self.index, out=self.rise, mode="clip")
            self.rise *= self.place
            out += self.rise
        volume *= self.share


class Stepper:
    """Places at whole steps, speeds at half steps. See the module `march` for the equation."""

    def __init__(
        self,
        model: SplashModel,
        mass_kg: Array,
        volume_share: Array,
        step_s: float,
        start_m: Array,
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
        self.z, self.v, self.dv = start_m / height, np.zeros(n), np.zeros(n)
        surface = np.clip(-self.z, 0.0, 1.0)
        self.added_before, self.half_entry = np.empty(n), np.zeros(n)
        self.curves.read(surface, np.empty(n), self.added_before, np.empty(n))
        self.scratch = [np.empty(n) for _ in range(9)]
        self.taut = np.empty(n, dtype=np.bool_)

    def held_kg(self) -> Array:
        """Return the water in all hollows (n,)."""
        total = np.zeros_like(self.z)
        for held in self.hollows:
            total += held.kg_per_m * held.water
        return total

    def advance(self, drive: Driven, force: Array, height_m: Array | None = None) -> None:
        """Take the steps of `drive`, and write the line force, N, at the start of each into `force` (steps, n).

        `height_m` (steps, n), if given, takes the height of the lowest point.
        """
        share, under, speed, volume, added, drag, entry, rest, mass = self.scratch
        z, v, dv, taut, half = self.z, self.v, self.dv, self.taut, self.half_entry
        before = self.added_before
        filter_mass = self.stiffness / 12.0
        for i in range(len(force)):
            water, line = drive.water[i], force[i]
            if height_m is not None:
                np.multiply(z, self.height_m, height_m[i])
            # How much is under water, and what that brings.
            np.subtract(drive.surface[i], z, under)
            np.maximum(under, 0.0, out=share)
            np.minimum(share, 1.0, out=share)
            self.curves.read(share, volume, added, drag)
            # Speed now against the water's, carried on from the last half step.
            np.multiply(dv, 0.5, speed)
            speed += v
            # Added mass gained on entry, carried on to the middle of the step.
            np.subtract(added, before, entry)
            np.maximum(entry, 0.0, out=entry)
            before, self.added_before = self.added_before, before
            np.copyto(before, added)
            np.multiply(entry, 1.5, rest)
            rest -= half
            np.multiply(entry, 0.5, half)
            # The line pulls, or hangs slack.
            np.subtract(drive.hung[i], z, line)
            np.greater(line, 0.0, taut)
            np.maximum(line, 0.0, out=line)
            line *= self.stiffness
            if self.damping is not None and drive.hung_speed is not None:
                np.subtract(drive.hung_speed[i], speed, mass)
                mass *= self.damping
                mass *= taut
                line += mass
                np.maximum(line, 0.0, out=line)
            # Drag and entry against the water.
            speed -= water
            np.abs(speed, entry)
            drag *= entry
            drag += rest
            drag *= speed
            np.subtract(line, self.weight, rest)
            rest -= drag
            # Mass, with the filter's share where the line is taut; water in hollows.
            np.multiply(taut, filter_mass, mass)
            mass += self.mass
            mass += added
            for held in self.hollows:
                column, outside = held.step(under * self.height_m)
                column *= self.mass_scale
                outside *= self.mass_scale
                mass += column
                volume += outside
                rest -= self.g * column
            # Buoyancy, and the wave's own push on body and added mass.
            added += volume
            added *= drive.quickening[i]
            rest += added
            volume *= self.g
            rest += volume
            np.divide(rest, mass, dv)
            v += dv
            z += v
        self.added_before = before
