"""Seas made of many regular waves with random phases, one row a sea."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.waves.errors import WaveError, positive
from oakum.ground.waves.spectrum import Jonswap

Array = NDArray[np.float64]
Complexes = NDArray[np.complex128]

_LOWEST, _HIGHEST = 0.5, 4.0  # in peak frequencies: 99.5 % of the energy, waves down to a sixteenth of the length
_FINE = 8001


@dataclass(frozen=True, slots=True, eq=False)
class Components:
    """Regular waves a sea is made of: angular frequencies (j,) and the standard deviation each brings (j,), m."""

    omega_rad_s: Array
    sd_m: Array


@dataclass(frozen=True, slots=True, eq=False)
class Sea:
    """Seas (n,) of the same components: surface = real part of the sum of c exp(i omega t), c (n, j) in m."""

    omega_rad_s: Array
    coefficients_m: Complexes

    def elevation_m(self, time_s: ArrayLike) -> Array:
        """Return the surface above the mean level (n, k), m, at times (k,)."""
        turn = np.exp(1j * np.outer(self.omega_rad_s, np.asarray(time_s, dtype=np.float64)))
        return np.asarray((self.coefficients_m @ turn).real)


def components(spectrum: Jonswap, count: int = 240) -> Components:
    """Return the spectrum cut into `count` waves between 0.5 and 4 times its peak frequency.

    The pieces are narrow where the energy is and of unlike width, so that a sea does not repeat itself. Each
    carries its piece's energy at the frequency that keeps the piece's second moment; all are scaled by
    0.25 % or so to keep the significant height. Raises `WaveError` for fewer than 16.
    """
    if count < 16:
        raise WaveError(f"a random sea needs at least 16 waves; got {count}")
    omega = np.linspace(_LOWEST, _HIGHEST, _FINE) * spectrum.peak_rad_s
    density = spectrum.density_m2_s(omega)
    step = np.diff(omega)
    energy = _summed(density, step)
    second = _summed(density * omega**2, step)
    spread = 0.5 * energy / energy[-1] + 0.5 * (omega - omega[0]) / (omega[-1] - omega[0])
    edges = np.interp(np.linspace(0.0, 1.0, count + 1), spread, omega)
    each = np.diff(np.interp(edges, omega, energy))
    middle = np.sqrt(np.diff(np.interp(edges, omega, second)) / each)
    return Components(middle, np.sqrt(each * spectrum.moment(0) / each.sum()))


def _summed(values: Array, step: Array) -> Array:
    return np.concatenate([[0.0], np.cumsum(0.5 * (values[1:] + values[:-1]) * step)])


def gaussian_coefficients(parts: Components, generators: Sequence[np.random.Generator]) -> Complexes:
    """Return the coefficients (n, j) of one Gaussian sea a generator: random phases and Rayleigh amplitudes."""
    drawn = np.stack([rng.standard_normal((2, len(parts.sd_m))) for rng in generators])
    return np.asarray((drawn[:, 0] - 1j * drawn[:, 1]) * parts.sd_m)


def regular(amplitude_m: float, period_s: float) -> Components:
    """Return a single regular wave; `sd_m` is its amplitude over the square root of two."""
    positive("the amplitude of a wave", amplitude_m, "m")
    positive("the period of a wave", period_s, "s")
    return Components(np.array([2.0 * np.pi / period_s]), np.array([amplitude_m / np.sqrt(2.0)]))


def regular_coefficients(parts: Components, generators: Sequence[np.random.Generator]) -> Complexes:
    """Return the coefficients (n, j): amplitudes as they are, phases from each generator."""
    phase = np.stack([rng.uniform(0.0, 2.0 * np.pi, len(parts.sd_m)) for rng in generators])
    return np.asarray(np.sqrt(2.0) * parts.sd_m * np.exp(1j * phase))
