"""The steps of `stepper`, compiled by numba: a few members at a time, whose state stays in the nearest cache.

A group's state, nodes and drive are rows of arrays of a fixed width made in one function, so that the compiler sees
that they do not overlap and takes four members in one instruction. Compiled at the first use, in some ten to thirty
seconds, and kept on disk where the program may write.
"""

from __future__ import annotations

from collections.abc import Callable

import numba
import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.fine import Fine, Nodes
from oakum.lift.splash.model import SplashModel
from oakum.lift.splash.stepper import BEFORE, BEND, GAIN, RATE, WHOLE, Stepper

Array = NDArray[np.float64]

_WIDE = 128  # members in one group
_RATE_0, _RATE_1, _RATE_2, _RATE_3 = (float(v) for v in RATE)
_GAIN_0, _GAIN_1, _GAIN_2 = (float(v) for v in GAIN)
_BEND_0, _BEND_1, _BEND_2, _BEND_3 = (float(v) for v in BEND)
_BEFORE_0, _BEFORE_1, _BEFORE_2, _BEFORE_3 = (float(v) for v in BEFORE)
_WHOLE = float(WHOLE)

# Rows of the state: place; the last ways, springs' pulls and gains; added mass a step before. Then what a member is:
# mass, weight, damping; all it has under water. Then what a step works with.
_PLACE, _WAY, _SPRING, _GAIN, _BEFORE = 0, 1, 5, 8, 10
_MASS, _WEIGHT, _DAMPING, _ALL = 11, 12, 13, 14
_UNDER, _VOLUME, _ADDED, _DRAG, _HELD, _OUTSIDE, _LINE, _ROWS = 17, 18, 19, 20, 21, 22, 23, 24
_KEPT = 11


def _compile(function: Callable[..., None], *, inside: bool = False) -> Callable[..., None]:
    made: Callable[..., None]
    contract = {"contract"}
    try:
        made = numba.njit(
            function, cache=True, nogil=True, error_model="numpy", fastmath=contract, forceinline=inside
        )
    except RuntimeError:  # nowhere to keep it
        made = numba.njit(function, nogil=True, error_model="numpy", fastmath=contract, forceinline=inside)
    return made


def _follow(nodes: Array, row: int, weights: Array, i: int, drive: Array, into: int) -> None:
    """Read one curve at step `i` between two nodes."""
    a, b, c = weights[i, 0], weights[i, 1], weights[i, 2]
    d, e, f = weights[i, 3], weights[i, 4], weights[i, 5]
    for j in range(_WIDE):
        left = a * nodes[row, j] + b * nodes[row + 1, j] + c * nodes[row + 2, j]
        drive[into, j] = left + d * nodes[row + 3, j] + e * nodes[row + 4, j] + f * nodes[row + 5, j]


def _even(s: Array, drive: Array) -> None:
    """Read the curves of a prism."""
    for j in range(_WIDE):
        under = drive[0, j] - s[_PLACE, j]
        under = under if under > 0.0 else 0.0
        s[_UNDER, j] = under
        share = under if under < 1.0 else 1.0
        s[_VOLUME, j] = share * s[_ALL, j]
        s[_ADDED, j] = share * s[_ALL + 1, j]
        s[_DRAG, j] = share * s[_ALL + 2, j]


def _curved(s: Array, drive: Array, tables: Array) -> None:
    """Read the curves of any other body from tables (2, 3, cells): values and rises; row `_ALL` is a share."""
    cells = tables.shape[2]
    for j in range(_WIDE):
        under = drive[0, j] - s[_PLACE, j]
        under = under if under > 0.0 else 0.0
        s[_UNDER, j] = under
        place = (under if under < 1.0 else 1.0) * cells
        index = min(int(place), cells - 1)
        place -= index
        s[_VOLUME, j] = (tables[0, 0, index] + place * tables[1, 0, index]) * s[_ALL, j]
        s[_ADDED, j] = tables[0, 1, index] + place * tables[1, 1, index]
        s[_DRAG, j] = tables[0, 2, index] + place * tables[1, 2, index]


def _hold(s: Array, hollow: Array, water: Array) -> None:
    """Run the water of one hollow (floor, height, fall, mass for each height) and add what it holds."""
    floor, height, fall, mass = hollow[0], hollow[1], hollow[2], hollow[3]
    for j in range(water.size):
        out = min(max(s[_UNDER, j] - floor, 0.0), height)
        head = water[j] - out
        root = max(np.sqrt(abs(head)) - fall, 0.0)
        after = out + (root * root if head >= 0.0 else -root * root)
        after = height if out >= height else after
        s[_HELD, j] += mass * 0.5 * (water[j] + after)
        s[_OUTSIDE, j] += mass * out
        water[j] = after


def _move(s: Array, drive: Array, stiffness: float, g: float) -> None:
    """Take one step."""
    for j in range(_WIDE):
        added = s[_ADDED, j]
        way, way_1, way_2, way_3 = s[_WAY, j], s[_WAY + 1, j], s[_WAY + 2, j], s[_WAY + 3, j]
        speed = _RATE_0 * way + _RATE_1 * way_1 + _RATE_2 * way_2 + _RATE_3 * way_3
        gained = added - s[_BEFORE, j]
        gained = gained if gained > 0.0 else 0.0
        entry = _GAIN_0 * gained + _GAIN_1 * s[_GAIN, j] + _GAIN_2 * s[_GAIN + 1, j]
        s[_BEFORE, j] = added
        s[_GAIN + 1, j] = s[_GAIN, j]
        s[_GAIN, j] = gained
        spring = stiffness * (drive[3, j] - s[_PLACE, j])
        pull = spring + s[_DAMPING, j] * (drive[4, j] - speed)
        pull = pull if pull > 0.0 else 0.0
        s[_LINE, j] = pull
        taut = 1.0 if pull > 0.0 else 0.0
        spring *= taut
        against = speed - drive[1, j]
        displaced = s[_VOLUME, j] + s[_OUTSIDE, j]
        force = pull - s[_WEIGHT, j] - (s[_DRAG, j] * abs(against) + entry) * against
        force += (displaced + added) * drive[2, j] + (displaced - s[_HELD, j]) * g
        mass = s[_MASS, j] + added + s[_HELD, j]
        known = _BEFORE_0 * way + _BEFORE_1 * way_1 + _BEFORE_2 * way_2 + _BEFORE_3 * way_3
        bend = _BEND_0 * spring + _BEND_1 * s[_SPRING, j] + _BEND_2 * s[_SPRING + 1, j] + _BEND_3 * s[_SPRING + 2, j]
        s[_SPRING + 2, j] = s[_SPRING + 1, j]
        s[_SPRING + 1, j] = s[_SPRING, j]
        s[_SPRING, j] = spring
        along = taut * (stiffness * (1.0 / 12.0))
        next_way = way + (force * _WHOLE - known * mass - bend + along * drive[5, j]) / (mass + along)
        s[_WAY + 3, j] = way_2
        s[_WAY + 2, j] = way_1
        s[_WAY + 1, j] = way
        s[_WAY, j] = next_way
        s[_PLACE, j] += next_way


_follow, _even, _curved, _hold, _move = (_compile(f, inside=True) for f in (_follow, _even, _curved, _hold, _move))


def _advance(
    state: Array,
    tables: Array,
    hollows: Array,
    water: Array,
    surface: Array,
    moving: Array,
    hung: Array,
    weights: Array,
    force: Array,
    heights: Array,
    stiffness: float,
    g: float,
) -> None:
    """Take all steps between two nodes, group by group.

    `state` its first rows (17, n), `surface`, `moving`, `hung` (6, n) the nodes, `weights` (6, steps, 6) for the rows
    of the drive; `heights` (0, n) is not asked for.
    """
    steps, n = force.shape
    s, nodes, drive = np.zeros((_ROWS, _WIDE)), np.zeros((18, _WIDE)), np.zeros((6, _WIDE))
    s[_MASS] = 1.0  # of places no member takes
    for a in range(0, n, _WIDE):
        b = min(a + _WIDE, n)
        k = b - a
        for row in range(len(state)):
            s[row, :k] = state[row, a:b]
        for row in range(6):
            nodes[row, :k] = surface[row, a:b]
            nodes[row + 6, :k] = moving[row, a:b]
            nodes[row + 12, :k] = hung[row, a:b]
        for i in range(steps):
            if heights.shape[0] > 0:
                heights[i, a:b] = s[_PLACE, :k]
            _follow(nodes, 0, weights[0], i, drive, 0)
            _follow(nodes, 6, weights[1], i, drive, 1)
            _follow(nodes, 6, weights[2], i, drive, 2)
            _follow(nodes, 12, weights[3], i, drive, 3)
            _follow(nodes, 12, weights[4], i, drive, 4)
            _follow(nodes, 12, weights[5], i, drive, 5)
            if tables.shape[2] == 0:
                _even(s, drive)
            else:
                _curved(s, drive, tables)
            if len(hollows) > 0:
                s[_HELD], s[_OUTSIDE] = 0.0, 0.0
                for h in range(len(hollows)):
                    _hold(s, hollows[h], water[h, a:b])
            _move(s, drive, stiffness, g)
            force[i, a:b] = s[_LINE, :k]
        for row in range(_KEPT):
            state[row, a:b] = s[row, :k]


_advance = _compile(_advance)


class CompiledStepper(Stepper):
    """Takes the same steps as `Stepper`, compiled. Rings are kept with the newest first."""

    def __init__(
        self, model: SplashModel, mass_kg: Array, volume_share: Array, step_s: float, start_m: Array
    ) -> None:
        super().__init__(model, mass_kg, volume_share, step_s, start_m)
        n, curves = len(mass_kg), self.curves
        self.tables = np.zeros((2, 3, 0)) if curves.even else curves.tables
        length, mass = 1.0 / self.height_m, self.mass_scale * self.height_m
        self.rows = np.array(
            [
                [h.hollow.floor_m * length, h.hollow.height_m * length, h.fall * length**0.5, h.kg_per_m * mass]
                for h in self.hollows
            ]
        ).reshape(-1, 4)
        self.water = np.array([h.water * length for h in self.hollows]).reshape(-1, n)
        self.state = np.zeros((_UNDER, n))

    def held_kg(self) -> Array:
        """Return the water in all hollows (n,)."""
        kg_per_m = np.array([h.kg_per_m for h in self.hollows])
        return np.asarray(kg_per_m @ self.water * self.height_m)

    def _begin(self, hung: Array) -> None:
        super()._begin(hung)
        state, curves = self.state, self.curves
        state[_PLACE] = self.z
        state[_WAY : _WAY + 4] = self.ways
        state[_SPRING : _SPRING + 3] = self.springs[1:]
        state[_BEFORE] = self.wet[1]
        state[_MASS], state[_WEIGHT] = self.mass, self.weight
        state[_DAMPING] = 0.0 if self.damping is None else self.damping
        state[_ALL : _ALL + 3] = curves.whole if curves.even else curves.share

    def _steps(self, fine: Fine, nodes: Nodes, i: int, force: Array, height_m: Array | None) -> None:
        surface, moving, hung = (rows[3 * i : 3 * i + 6] for rows in nodes)
        n = force.shape[1]
        heights = np.empty((0, n)) if height_m is None else height_m
        _advance(
            self.state,
            self.tables,
            self.rows,
            self.water,
            surface,
            moving,
            hung,
            fine.weights,
            force,
            heights,
            self.stiffness,
            self.g,
        )
        if height_m is not None:
            height_m *= self.height_m
