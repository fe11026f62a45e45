"""What the sea and the vessel do to the load, as curves of time: one column a sea.

Surface, water motion at the middle of the submerged height and motion of the tip are sums of regular waves.
They are summed at nodes a sixth of the shortest wave apart and read between by quintics through values and two
rates there (Hermite), with an error of 2e-5 of the shortest wave and 1e-8 of the waves at the peak.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import pi

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.ground.waves import (
    Components,
    Jonswap,
    components,
    decay,
    decay_slope_per_m,
    gaussian_coefficients,
    regular,
    regular_coefficients,
    wave_number_rad_m,
)
from oakum.lift.splash.errors import not_negative, positive
from oakum.lift.splash.tip import TipMotion

Array = NDArray[np.float64]
Complexes = NDArray[np.complex128]

_NODE_ANGLE = 1.0  # highest frequency times the spacing of nodes


@dataclass(frozen=True, slots=True)
class RegularSea:
    """One regular wave: amplitude and period, phase drawn for each member."""

    amplitude_m: float
    period_s: float

    def __post_init__(self) -> None:
        not_negative("the amplitude of the wave", self.amplitude_m, "m")
        positive("the period of the wave", self.period_s, "s")

    @property
    def hs_m(self) -> float:
        """Its height, for tip motions in proportion to one."""
        return 2.0 * self.amplitude_m

    @property
    def tz_s(self) -> float:
        """Its period."""
        return self.period_s


@dataclass(frozen=True, slots=True)
class RandomSea:
    """A JONSWAP sea by Hs and Tz, cut into `waves` regular ones. gamma None: by Hs and Tp."""

    hs_m: float
    tz_s: float
    gamma: float | None = None
    waves: int = 160


SeaState = RegularSea | RandomSea


@dataclass(frozen=True, slots=True, eq=False)
class Drive:
    """Waves and tip of the members of one ensemble.

    `omega_rad_s` (j,); `surface` (j,) 1 for waves, 0 for the tip's own swings; `tip` (j,) tip motion over
    wave; `coefficients` (n, j) complex, m, and `tip_coefficients` the same with the phases the tip sees, both
    also as `parts` (2 j, n), real over imaginary; `depth_m` of the water or None for deep.
    """

    omega_rad_s: Array
    surface: Array
    tip: Complexes
    coefficients: Complexes
    tip_coefficients: Complexes
    k_rad_m: Array
    depth_m: float | None
    parts: Array = field(init=False)
    tip_parts: Array = field(init=False)

    def __post_init__(self) -> None:
        for name, of in (("parts", self.coefficients), ("tip_parts", self.tip_coefficients)):
            object.__setattr__(self, name, np.concatenate([of.real, of.imag], axis=1).T.copy())

    @property
    def members(self) -> int:
        """How many seas."""
        return len(self.coefficients)

    def node_spacing_s(self, step_s: float) -> tuple[int, float]:
        """Return how many steps lie between two nodes, and the spacing of nodes."""
        most = _NODE_ANGLE / float(np.max(self.omega_rad_s))
        steps = max(1, min(int(most / step_s), 64))
        return steps, steps * step_s

    def nodes(self, time_s: Array, below_m: Array, ramp: Array) -> tuple[Array, Array, Array]:
        """Return surface, vertical water speed and tip, (3 k, n) each: value, rate and second rate at times (k,).

        `below_m` (3, k) is the depth at which the water speed is taken, `ramp` (3, k) fades everything in, both
        with first and second rate.
        """
        turn = np.exp(1j * np.outer(time_s, self.omega_rad_s))
        spin = 1j * self.omega_rad_s
        deep, sink, sinking = (row[:, None] for row in below_m)
        depth = decay(self.k_rad_m, deep, self.depth_m)
        slope = decay_slope_per_m(self.k_rad_m, deep, self.depth_m)
        deeper = slope * sink
        curving = np.square(self.k_rad_m * sink) * depth + slope * sinking
        surface = turn * self.surface
        speed = surface * spin
        tip = turn * self.tip
        return (
            _summed((surface, speed, speed * spin), ramp, self.parts),
            _summed(
                (
                    speed * depth,
                    speed * (spin * depth + deeper),
                    speed * (spin**2 * depth + 2.0 * spin * deeper + curving),
                ),
                ramp,
                self.parts,
            ),
            _summed((tip, tip * spin, tip * spin**2), ramp, self.tip_parts),
        )


def _summed(factors: tuple[Complexes, Complexes, Complexes], ramp: Array, parts: Array) -> Array:
    """Return the real part of factors (k, j) and their rates, faded in, times coefficients (2 j, n): (3 k, n)."""
    value, rate, second = factors
    on, coming, bending = (row[:, None] for row in ramp)
    rows = (on * value, on * rate + coming * value, on * second + 2.0 * coming * rate + bending * value)
    both = np.stack(rows, axis=1)
    left = np.concatenate([both.real, -both.imag], axis=2)
    return np.asarray(left.reshape(-1, left.shape[2]) @ parts)


def hermite(steps: int, spacing_s: float, order: int) -> Array:
    """Return weights (steps, 6) that read a derivative of an order at `steps` points from the left of two nodes on.

    They act on value, rate and second rate of the left and then of the right node: the quintic through them.
    """
    powers = np.arange(6)

    def row(at: float, derivative: int) -> Array:
        falls = np.ones(6)
        for q in range(derivative):
            falls = falls * np.maximum(powers - q, 0)
        return np.asarray(falls * at ** np.maximum(powers - derivative, 0))

    known = np.array([row(at, d) for at in (0.0, 1.0) for d in range(3)])
    asked = np.array([row(i / steps, order) for i in range(steps)])
    scale = float(spacing_s) ** (np.tile(np.arange(3), 2) - order)
    return np.asarray(np.linalg.solve(known.T, asked.T).T * scale)


def driven(
    sea: SeaState,
    tip: TipMotion,
    generators: list[np.random.Generator],
    depth_m: float | None = None,
    g_m_s2: float = G_M_S2,
) -> Drive:
    """Return waves and tip for one member a generator."""
    parts = _parts(sea)
    draw = regular_coefficients if isinstance(sea, RegularSea) else gaussian_coefficients
    waves = draw(parts, generators)
    omega = parts.omega_rad_s
    follows = tip.drive(omega, sea.hs_m, sea.tz_s)
    transfer, tip_waves = follows.transfer, waves
    if follows.random_phase:
        turn = np.stack([g.uniform(0.0, 2.0 * pi, len(omega)) for g in generators])
        tip_waves = waves * np.exp(1j * turn)
    if follows.swings:
        amplitude = np.array([a for a, _ in follows.swings])
        own = np.array([2.0 * pi / p for _, p in follows.swings])
        phase = np.stack([g.uniform(0.0, 2.0 * pi, len(own)) for g in generators])
        omega = np.concatenate([omega, own])
        waves = np.concatenate([waves, np.zeros_like(phase, dtype=np.complex128)], axis=1)
        tip_waves = np.concatenate([tip_waves, amplitude * np.exp(1j * phase)], axis=1)
        transfer = np.concatenate([transfer, np.ones(len(own), dtype=np.complex128)])
    surface = np.concatenate([np.ones(len(parts.omega_rad_s)), np.zeros(len(omega) - len(parts.omega_rad_s))])
    k = wave_number_rad_m(omega, depth_m, g_m_s2)
    return Drive(omega, surface, transfer, waves, tip_waves, k, depth_m)


def _parts(sea: SeaState) -> Components:
    if isinstance(sea, RandomSea):
        return components(Jonswap.of_tz(sea.hs_m, sea.tz_s, sea.gamma), sea.waves)
    if sea.amplitude_m == 0.0:
        return Components(np.array([2.0 * pi / sea.period_s]), np.zeros(1))
    return regular(sea.amplitude_m, sea.period_s)
