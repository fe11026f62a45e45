"""What the sea and the vessel do to the load, as curves of time: one column a sea.

Surface, water motion at the middle of the submerged height and motion of the tip are sums of regular waves.
They are summed at nodes a fraction of the shortest wave apart and read between by cubics through values and
rates (Hermite), whose error is below a thousandth of the shortest wave and 1e-6 of the waves at the peak.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

from oakum.ground.waves import (
    G_M_S2,
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

_NODE_ANGLE = 0.6  # highest frequency times the spacing of nodes


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
    wave; `coefficients` (n, j) complex, m, and `tip_coefficients` the same with the phases the tip sees;
    `depth_m` of the water or None for deep.
    """

    omega_rad_s: Array
    surface: Array
    tip: Complexes
    coefficients: Complexes
    tip_coefficients: Complexes
    k_rad_m: Array
    depth_m: float | None

    @property
    def members(self) -> int:
        """How many seas."""
        return len(self.coefficients)

    def node_spacing_s(self, step_s: float) -> tuple[int, float]:
        """Return how many steps lie between two nodes, and the spacing of nodes."""
        most = _NODE_ANGLE / float(np.max(self.omega_rad_s))
        steps = max(1, min(int(most / step_s), 64))
        return steps, steps * step_s

    def nodes(
        self, time_s: Array, below_m: Array, below_rate: Array, ramp: Array, ramp_rate: Array
    ) -> tuple[Array, ...]:
        """Return surface, vertical water speed at a depth, and tip, each (2 k, n): value and rate in turn, at
        times (k,).

        `below_m` (k,) is the depth at which the water speed is taken, with its rate; `ramp` (k,) fades
        everything in, with its rate.
        """
        turn = np.exp(1j * np.outer(time_s, self.omega_rad_s))
        spin = 1j * self.omega_rad_s
        depth = decay(self.k_rad_m, below_m[:, None], self.depth_m)
        deeper = decay_slope_per_m(self.k_rad_m, below_m[:, None], self.depth_m) * below_rate[:, None]
        surface = turn * self.surface * ramp[:, None]
        fading = turn * self.surface * ramp_rate[:, None]
        speed = surface * depth * spin
        speed_rate = speed * spin + surface * deeper * spin + fading * depth * spin
        tip = turn * self.tip * ramp[:, None]
        tip_rate = tip * spin + turn * self.tip * ramp_rate[:, None]
        waves = np.stack([surface, surface * spin + fading, speed, speed_rate], axis=1)
        return (
            *_real_sums(waves, self.coefficients),
            *_real_sums(np.stack([tip, tip_rate], axis=1), self.tip_coefficients),
        )


def _real_sums(factors: Complexes, coefficients: Complexes) -> tuple[Array, ...]:
    """Return the real part of factors (k, 2 m, j) times coefficients (n, j), as m arrays (2 k, n)."""
    k, rows, j = factors.shape
    left = np.concatenate([factors.real, -factors.imag], axis=2).reshape(k, rows // 2, 2, 2 * j)
    right = np.concatenate([coefficients.real, coefficients.imag], axis=1).T
    return tuple(left[:, q].reshape(2 * k, 2 * j) @ right for q in range(rows // 2))


def hermite(steps: int, spacing_s: float) -> tuple[Array, Array]:
    """Return weights (steps, 4) for values and for rates at `steps` points from the left node on.

    They act on (value, rate) of the left and of the right node.
    """
    u = np.arange(steps) / steps
    value = [
        2 * u**3 - 3 * u**2 + 1,
        spacing_s * (u**3 - 2 * u**2 + u),
        3 * u**2 - 2 * u**3,
        spacing_s * (u**3 - u**2),
    ]
    rate = [(6 * u**2 - 6 * u) / spacing_s, 3 * u**2 - 4 * u + 1, (6 * u - 6 * u**2) / spacing_s, 3 * u**2 - 2 * u]
    return np.column_stack(value), np.column_stack(rate)


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
