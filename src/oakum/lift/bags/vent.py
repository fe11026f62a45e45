"""The valve: how fast the air grows on the way up, and what an opening lets out."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.bags.gas import Column, absolute_pa, air_density_kg_m3

Array = NDArray[np.float64]

DISCHARGE = 0.6
"""Discharge coefficient of a sharp-edged opening (any hydraulics text; memory, verify)."""


def expansion_m3_s(volume_m3: ArrayLike, depth_m: ArrayLike, rise_m_s: ArrayLike, column: Column) -> Array:
    """Return how fast air grows while it rises, dV/dt = V rho g v / p, m3/s at its depth."""
    grown = np.asarray(volume_m3) * column.pa_per_m * np.asarray(rise_m_s)
    return np.asarray(grown / absolute_pa(depth_m, column), dtype=np.float64)


def valve_m3_s(
    area_m2: ArrayLike,
    air_height_m: ArrayLike,
    depth_m: ArrayLike,
    column: Column,
    discharge: float = DISCHARGE,
) -> Array:
    """Return what a valve at the crown lets out, C_d A sqrt(2 rho_w g h / rho_air), m3/s at its depth.

    `air_height_m` is the height of the air under the valve down to the water in the bag: it drives the flow.
    """
    return np.asarray(discharge * np.asarray(area_m2) * _speed(air_height_m, depth_m, column))


def valve_area_m2(
    flow_m3_s: ArrayLike,
    air_height_m: ArrayLike,
    depth_m: ArrayLike,
    column: Column,
    discharge: float = DISCHARGE,
) -> Array:
    """Return the opening that lets out a flow; the inverse of `valve_m3_s`."""
    return np.asarray(np.asarray(flow_m3_s) / (discharge * _speed(air_height_m, depth_m, column)))


def _speed(air_height_m: ArrayLike, depth_m: ArrayLike, column: Column) -> Array:
    air = air_density_kg_m3(absolute_pa(depth_m, column), column.temperature_c)
    head = 2.0 * column.density_kg_m3 * G_M_S2 * np.asarray(air_height_m, dtype=np.float64)
    return np.asarray(np.sqrt(head / air))
