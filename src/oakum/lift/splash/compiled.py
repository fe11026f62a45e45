"""The steps of `stepper`, compiled by numba: one pass over a few members, whose state stays in the nearest cache.

Compiled at the first use, in some ten seconds, and kept on disk where the program may write.
"""

from __future__ import annotations

from collections.abc import Callable

import numba
import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.model import SplashModel
from oakum.lift.splash.stepper import BEFORE, BEND, GAIN, RATE, WHOLE, Driven, Stepper

Array = NDArray[np.float64]

_TOGETHER = 256  # members in one pass
_RATE_0, _RATE_1, _RATE_2, _RATE_3 = (float(v) for v in RATE)
_GAIN_0, _GAIN_1, _GAIN_2 = (float(v) for v in GAIN)
_BEND_0, _BEND_1, _BEND_2, _BEND_3 = (float(v) for v in BEND)
_BEFORE_0, _BEFORE_1, _BEFORE_2, _BEFORE_3 = (float(v) for v in BEFORE)
_WHOLE = float(WHOLE)


def _compile(function: Callable[..., None]) -> Callable[..., None]:
    made: Callable[..., None]
    try:
        made = numba.njit(function, cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
    except RuntimeError:  # nowhere to keep it
        made = numba.njit(function, nogil=True, error_model="numpy", fastmath={"contract"})
    return made


def _even(z: Array, surface: Array, whole: Array, under: Array, wet: Array) -> None:
    """Read the curves of a prism."""
    for j in range(z.size):
        below = surface[j] - z[j]
        below = below if below > 0.0 else 0.0
        under[j] = below
        share = below if below < 1.0 else 1.0
        wet[0, j] = share * whole[0, j]
        wet[1, j] = share * whole[1, j]
        wet[2, j] = share * whole[2, j]


def _curved(z: Array, surface: Array, tables: Array, volume_share: Array, under: Array, wet: Array) -> None:
    """Read the curves of any other body from tables (2, 3, cells): values and rises."""
    cells = tables.shape[2]
    for j in range(z.size):
        below = surface[j] - z[j]
        below = below if below > 0.0 else 0.0
        under[j] = below
        place = (below if below < 1.0 else 1.0) * cells
        index = min(int(place), cells - 1)
        place -= index
        wet[0, j] = (tables[0, 0, index] + place * tables[1, 0, index]) * volume_share[j]
        wet[1, j] = tables[0, 1, index] + place * tables[1, 1, index]
        wet[2, j] = tables[0, 2, index] + place * tables[1, 2, index]


def _hold(under: Array, hollow: Array, water: Array, held: Array, outside: Array) -> None:
    """Run the water of one hollow (floor, height, fall, mass for each height) and add what it holds."""
    floor, height, fall, mass = hollow[0], hollow[1], hollow[2], hollow[3]
    for j in range(under.size):
        out = min(max(under[j] - floor, 0.0), height)
        head = water[j] - out
        root = max(np.sqrt(abs(head)) - fall, 0.0)
        after = out + (root * root if head >= 0.0 else -root * root)
        after = height if out >= height else after
        held[j] += mass * 0.5 * (water[j] + after)
        outside[j] += mass * out
        water[j] = after


def _move(
    z: Array,
    ways: Array,
    springs: Array,
    gains: Array,
    before: Array,
    wet: Array,
    held: Array,
    outside: Array,
    body: Array,
    drive: Array,
    line: Array,
    stiffness: float,
    g: float,
) -> None:
    """Take one step. `body` is mass, weight and damping, `drive` the rows of `Driven` after the first."""
    for j in range(z.size):
        added = wet[1, j]
        way = ways[0, j]
        speed = _RATE_0 * way + _RATE_1 * ways[1, j] + _RATE_2 * ways[2, j] + _RATE_3 * ways[3, j]
        gained = added - before[j]
        gained = gained if gained > 0.0 else 0.0
        entry = _GAIN_0 * gained + _GAIN_1 * gains[0, j] + _GAIN_2 * gains[1, j]
        before[j] = added
        gains[1, j] = gains[0, j]
        gains[0, j] = gained
        spring = stiffness * (drive[2, j] - z[j])
        pull = spring + body[2, j] * (drive[3, j] - speed)
        pull = pull if pull > 0.0 else 0.0
        line[j] = pull
        taut = 1.0 if pull > 0.0 else 0.0
        spring *= taut
        against = speed - drive[0, j]
        force = pull - body[1, j] - (wet[2, j] * abs(against) + entry) * against
        force += (wet[0, j] + added + outside[j]) * drive[1, j] + (wet[0, j] + outside[j] - held[j]) * g
        mass = body[0, j] + added + held[j]
        known = _BEFORE_0 * way + _BEFORE_1 * ways[1, j] + _BEFORE_2 * ways[2, j] + _BEFORE_3 * ways[3, j]
        bend = _BEND_0 * spring + _BEND_1 * springs[0, j] + _BEND_2 * springs[1, j] + _BEND_3 * springs[2, j]
        springs[2, j] = springs[1, j]
        springs[1, j] = springs[0, j]
        springs[0, j] = spring
        along = taut * (stiffness * (1.0 / 12.0))
        way += (force * _WHOLE - known * mass - bend + along * drive[4, j]) / (mass + along)
        ways[3, j] = ways[2, j]
        ways[2, j] = ways[1, j]
        ways[1, j] = ways[0, j]
        ways[0, j] = way
        z[j] += way


_even, _curved, _hold, _move = (_compile(f) for f in (_even, _curved, _hold, _move))


def _advance(
    z: Array,
    ways: Array,
    springs: Array,
    gains: Array,
    before: Array,
    body: Array,
    whole: Array,
    tables: Array,
    volume_share: Array,
    hollows: Array,
    water: Array,
    drive: Array,
    force: Array,
    heights: Array,
    stiffness: float,
    g: float,
) -> None:
    """Take all steps of `drive` (6, steps, n) for a few members at a time; `heights` (0, n) is not asked for."""
    steps, n = force.shape
    wet, under = np.empty((3, _TOGETHER)), np.empty(_TOGETHER)
    held, outside = np.zeros(_TOGETHER), np.zeros(_TOGETHER)
    for a in range(0, n, _TOGETHER):
        b = min(a + _TOGETHER, n)
        k = b - a
        for i in range(steps):
            if heights.shape[0] > 0:
                heights[i, a:b] = z[a:b]
            if tables.shape[2] == 0:
                _even(z[a:b], drive[0, i, a:b], whole[:, a:b], under[:k], wet[:, :k])
            else:
                _curved(z[a:b], drive[0, i, a:b], tables, volume_share[a:b], under[:k], wet[:, :k])
            if len(hollows) > 0:
                held[:], outside[:] = 0.0, 0.0
                for h in range(len(hollows)):
                    _hold(under[:k], hollows[h], water[h, a:b], held[:k], outside[:k])
            _move(
                z[a:b],
                ways[:, a:b],
                springs[:, a:b],
                gains[:, a:b],
                before[a:b],
                wet[:, :k],
                held[:k],
                outside[:k],
                body[:, a:b],
                drive[1:, i, a:b],
                force[i, a:b],
                stiffness,
                g,
            )


_advance = _compile(_advance)


class CompiledStepper(Stepper):
    """Takes the same steps as `Stepper`, compiled. Rings are kept with the newest first."""

    def __init__(
        self, model: SplashModel, mass_kg: Array, volume_share: Array, step_s: float, start_m: Array
    ) -> None:
        super().__init__(model, mass_kg, volume_share, step_s, start_m)
        n, curves = len(mass_kg), self.curves
        damping = np.zeros(n) if self.damping is None else self.damping
        self.body = np.stack([self.mass, self.weight, damping])
        self.before = self.wet[1].copy()
        cells = 0 if curves.even else curves.cells
        self.read_from = np.zeros((2, 3, cells))
        if cells:
            self.read_from[:] = np.stack([np.stack(rows) for rows in zip(*curves.tables, strict=True)])
        length, mass = 1.0 / self.height_m, self.mass_scale * self.height_m
        self.rows = np.array(
            [
                [h.hollow.floor_m * length, h.hollow.height_m * length, h.fall * length**0.5, h.kg_per_m * mass]
                for h in self.hollows
            ]
        ).reshape(-1, 4)
        self.water = np.array([h.water * length for h in self.hollows]).reshape(-1, n)

    def held_kg(self) -> Array:
        """Return the water in all hollows (n,)."""
        kg_per_m = np.array([h.kg_per_m for h in self.hollows])
        return np.asarray(kg_per_m @ self.water * self.height_m)

    def _steps(self, drive: Driven, force: Array, height_m: Array | None) -> None:
        _advance(
            self.z,
            self.ways,
            self.springs,
            self.gains,
            self.before,
            self.body,
            self.curves.whole,
            self.read_from,
            self.curves.share,
            self.rows,
            self.water,
            drive.rows,
            force,
            np.empty((0, len(self.z))) if height_m is None else height_m,
            self.stiffness,
            self.g,
        )
        if height_m is not None:
            height_m *= self.height_m
