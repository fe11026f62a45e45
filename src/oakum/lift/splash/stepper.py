"""Steps of the one-degree model for all members at once, in memory set aside beforehand.

Inside, lengths count in heights of the body and times in steps, so that speeds are added to places and forces
over masses to speeds without a factor: a mass is times H / h^2, a drag times (H / h)^2, a stiffness times H.

Where numba is installed the same steps are taken by `compiled`. Both agree to 1e-9.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module
from importlib.util import find_spec

import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.fine import Fine, Nodes
from oakum.lift.splash.immersion import Hollow
from oakum.lift.splash.model import SplashModel

Array = NDArray[np.float64]


class Held:
    """Water in one hollow of every member."""

    def __init__(self, hollow: Hollow, members: int, step_s: float, density: float, g_m_s2: float) -> None:
        self.hollow = hollow
        self.fall = hollow.rate_sqrt_m_per_s(g_m_s2) * step_s
        self.kg_per_m = density * hollow.plan_m2
        self.water = np.full(members, hollow.height_m)  # column above the floor, half a step behind

    def outside(self, under_m: Array) -> Array:
        """Return the level outside above the floor, m, at most the hollow's height."""
        return np.asarray(np.clip(under_m - self.hollow.floor_m, 0.0, self.hollow.height_m))

    def step(self, under_m: Array) -> tuple[Array, Array]:
        """Return the mean column over the step and the level outside, kg of water each."""
        hollow = self.hollow
        outside = self.outside(under_m)
        head = self.water - outside
        root = np.maximum(np.sqrt(np.abs(head)) - self.fall, 0.0)
        after = outside + np.copysign(root * root, head)
        # Water over the rim fills it at once.
        after = np.where(outside >= hollow.height_m, hollow.height_m, after)
        mean = self.kg_per_m * 0.5 * (self.water + after)
        self.water = after
        return mean, self.kg_per_m * outside


class Curves:
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
        self.tables = np.array([[c[:-1] for c in curves], [np.diff(c) for c in curves]])
        self.index = np.zeros(n, dtype=np.intp)
        self.place, self.rises = np.empty(n), np.empty((3, n))

    def read(self, share: Array, out: Array) -> None:
        """Write volume, added mass and drag (3, n) at shares (n,) between 0 and 1."""
        if self.even:
            np.multiply(share, self.whole, out)
            return
        np.multiply(share, self.cells, self.place)
        np.copyto(self.index, self.place, casting="unsafe")
        np.minimum(self.index, self.cells - 1, out=self.index)
        self.place -= self.index
        np.take(self.tables[0], self.index, axis=1, out=out, mode="clip")
        np.take(self.tables[1], self.index, axis=1, out=self.rises, mode="clip")
        self.rises *= self.place
        out += self.rises
        out[0] *= self.share


# Weights of the last steps' values, the newest first, as they stand in a ring for each place of the newest.
RATE = np.array([25.0, -23.0, 13.0, -3.0]) / 12.0
GAIN = np.array([11.0, -7.0, 2.0]) / 6.0
# The second difference of a force carried on by half a step (by none it takes energy out, by one it puts some in),
# over twelve; of the acceleration the same without its newest value, by the ways.
BEND = np.array([1.5, -3.5, 2.5, -0.5]) / 12.0
BEFORE = np.array([3.5, -6.0, 3.0, -0.5]) / 12.0
WHOLE = 1.0 + BEND[0]

_WAYS_NOW = tuple(np.stack([np.roll(RATE, newest), np.roll(BEFORE, newest)]) for newest in range(4))
_BEND_NOW = tuple(np.roll(BEND, newest) for newest in range(4))
_GAIN_NOW = tuple(np.roll(GAIN, newest) for newest in range(3))


class Stepper:
    """Places at whole steps and ways from step to step. See the module `march` for the equation."""

    def __init__(
        self, model: SplashModel, mass_kg: Array, volume_share: Array, step_s: float, start_m: Array
    ) -> None:
        n = len(mass_kg)
        height, g = model.immersion.height_m, model.g_m_s2
        self.height_m, self.step_s = height, step_s
        self.mass_scale = height / step_s**2
        self.g = g / self.mass_scale
        self.curves = Curves(model, volume_share, self.mass_scale, (height / step_s) ** 2)
        self.mass = mass_kg * self.mass_scale
        self.weight = mass_kg * g
        self.stiffness = model.line.stiffness_n_m * height
        damping = model.line.damping_n_s_m(mass_kg) * height / step_s
        self.damping = damping if np.any(damping > 0.0) else None
        self.hollows = [Held(h, n, step_s, model.density_kg_m3, g) for h in model.hollows]
        self.z = start_m / height
        # The last ways, springs' pulls and gains of added mass, in rings.
        self.ways, self.springs, self.gains = np.zeros((4, n)), np.zeros((4, n)), np.zeros((3, n))
        self.taken = 0
        # What is under water and drags, now and a step before.
        self.wet, self.wet_before = np.empty((3, n)), np.empty((3, n))
        self.curves.read(np.clip(-self.z, 0.0, 1.0), self.wet)
        self.scratch = [np.empty(n) for _ in range(6)]
        self.taut = np.empty(n, dtype=np.bool_)

    def held_kg(self) -> Array:
        """Return the water in all hollows (n,)."""
        total = np.zeros_like(self.z)
        for held in self.hollows:
            total += held.kg_per_m * held.water
        return total

    def advance(
        self, fine: Fine, nodes: Nodes, i: int, force: Array, height_m: Array | None = None
    ) -> None:
        """Take the steps from node `i` on, and write the line force, N, at the start of each into `force` (steps, n).

        `height_m` (steps, n), if given, takes the height of the lowest point.
        """
        if self.taken == 0:
            self._begin(nodes[2][3 * i] / self.height_m)
        self._steps(fine, nodes, i, force, height_m)
        self.taken += len(force)

    def _begin(self, hung: Array) -> None:
        """Set the steps before the first as of a body that comes to rest there."""
        volume, added, _ = self.wet
        force = np.maximum(self.stiffness * (hung - self.z), 0.0) - self.weight + volume * self.g
        mass = self.mass + added
        for held in self.hollows:
            kg = held.kg_per_m * self.mass_scale
            force += kg * self.g * (held.outside(-self.z * self.height_m) - held.water)
            mass += kg * held.water
        rate = force / mass
        for k in range(4):
            self.ways[k] = -(k + 0.5) * rate
            self.springs[k] = np.maximum(self.stiffness * (hung - self.z - 0.5 * k**2 * rate), 0.0)

    def _pushes(self, quickening: Array) -> Array | None:
        """Return buoyancy and the wave's push of bodies wholly under water (steps, n); None unless they are prisms."""
        if not self.curves.even:
            return None
        volume, added, _ = self.curves.whole
        push: Array = quickening * (volume + added)
        push += volume * self.g
        return push

    def _steps(self, fine: Fine, nodes: Nodes, i: int, force: Array, height_m: Array | None) -> None:
        share, under, against, rest, mass, push = self.scratch
        z, ways, springs, gains, taut = self.z, self.ways, self.springs, self.gains, self.taut
        wet, before = self.wet, self.wet_before
        surface, water, quickening, hung, hung_speed, hung_quickening = fine.at(nodes, i)
        pushes = self._pushes(quickening)
        filter_mass = self.stiffness / 12.0
        for k in range(len(force)):
            line = force[k]
            now, of_three = -(self.taken + k) % 4, -(self.taken + k) % 3
            if height_m is not None:
                np.multiply(z, self.height_m, height_m[k])
            # How much is under water, and what that brings.
            np.subtract(surface[k], z, under)
            np.maximum(under, 0.0, out=share)
            np.minimum(share, 1.0, out=share)
            wet, before = before, wet
            self.curves.read(share, wet)
            volume, added, drag = wet
            speed, gaining = _WAYS_NOW[now] @ ways
            # Added mass gained on entry a step.
            gained = gains[of_three]
            np.subtract(added, before[1], gained)
            np.maximum(gained, 0.0, out=gained)
            np.dot(_GAIN_NOW[of_three], gains, out=rest)
            # The line pulls, or hangs slack.
            spring = springs[now]
            np.subtract(hung[k], z, spring)
            spring *= self.stiffness
            if self.damping is None:
                np.maximum(spring, 0.0, out=line)
            else:
                np.subtract(hung_speed[k], speed, mass)
                mass *= self.damping
                np.add(spring, mass, line)
                np.maximum(line, 0.0, out=line)
            np.greater(line, 0.0, taut)
            spring *= taut
            # Drag and entry against the water.
            speed -= water[k]
            np.abs(speed, against)
            drag *= against
            drag += rest
            drag *= speed
            np.subtract(line, self.weight, rest)
            rest -= drag
            np.add(self.mass, added, mass)
            # Buoyancy, and the wave's own push on body and added mass.
            if pushes is not None:
                np.multiply(share, pushes[k], push)
            else:
                np.add(volume, added, push)
                push *= quickening[k]
                volume *= self.g
                push += volume
            rest += push
            for held in self.hollows:
                column, outside = held.step(under * self.height_m)
                mass += self.mass_scale * column
                rest += self.mass_scale * (outside * (quickening[k] + self.g) - column * self.g)
            # A twelfth of the bend: of the spring as it will be, of all else by the steps before.
            rest *= WHOLE
            gaining *= mass
            rest -= gaining
            rest -= np.dot(_BEND_NOW[now], springs, out=push)
            np.multiply(taut, filter_mass, against)
            mass += against
            against *= hung_quickening[k]
            rest += against
            rest /= mass
            way = ways[now - 1]
            np.add(ways[now], rest, way)
            z += way
        self.wet, self.wet_before = wet, before


def stepper(
    model: SplashModel, mass_kg: Array, volume_share: Array, step_s: float, start_m: Array
) -> Stepper:
    """Return the quickest stepper there is here."""
    return _quickest()(model, mass_kg, volume_share, step_s, start_m)


@cache
def _quickest() -> Callable[[SplashModel, Array, Array, float, Array], Stepper]:
    if find_spec("numba") is None:
        return Stepper
    made: Callable[[SplashModel, Array, Array, float, Array], Stepper]
    made = import_module("oakum.lift.splash.compiled").CompiledStepper
    return made
