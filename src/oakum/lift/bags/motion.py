"""How fast it goes: terminal speed, and a rise or fall from rest in closed steps of depth.

A load on bags moving along its path s has the energy E = M v^2 / 2, and since drag goes with v^2 the equation
of motion is linear in E:

    dE/ds = N(s) - (rho C_D A / M) E

with N the net force along the path and M(s) the mass that moves: load, added water, air, and the water that
the bags carry along. Where the bags expand M grows; the form above keeps that exactly (d(Mv)/dt less half the
change of M times v^2). Each step is solved exactly for N and M at its middle, so nothing is stiff and all
draws go at once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.bags.gas import Column, absolute_pa, air_density_kg_m3

Array = NDArray[np.float64]

BAG_ADDED = 0.5
"""Water that a rounded bag carries along, as a share of its volume: the sphere's half (memory, verify)."""

STEPS = 160


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """A rise or a fall over the draws: `depth_m` (k,), the rest (n, k). A draw that stays has speed 0.

    `moves` (n,) tells which draws move at all; `time_s` is inf for those that do not.
    """

    depth_m: Array
    speed_m_s: Array
    time_s: Array
    net_n: Array
    volume_m3: Array
    moves: NDArray[np.bool_]


def terminal_m_s(net_n: ArrayLike, drag_area_m2: ArrayLike, density_kg_m3: float) -> Array:
    """Return the speed at which drag equals the net force, sqrt(2 N / (rho C_D A)); 0 where N <= 0.

    `drag_area_m2` is the drag coefficient (1.0 to 1.2 for bluff bodies; memory, verify) times the area.
    """
    net = np.maximum(np.asarray(net_n, dtype=np.float64), 0.0)
    return np.asarray(np.sqrt(2.0 * net / (density_kg_m3 * np.asarray(drag_area_m2))))


def held_m3(start_m3: Array, capacity_m3: Array, growth: Array) -> Array:
    """Return the air (n, k) still held when it has grown by `growth` (k,), bags filled one after another.

    `start_m3` (n,) is the air at the start, `capacity_m3` (bags,) in the order of filling. Growing, bags
    already full spill and the one partly filled grows until it is full; shrinking, all shrink.
    """
    filled = np.cumsum(capacity_m3)
    start = np.minimum(start_m3, filled[-1])
    at = np.minimum(np.searchsorted(filled, start * (1.0 + 1e-12), side="right"), len(filled))
    full = np.where(at > 0, filled[at - 1], 0.0)
    part = np.maximum(start - full, 0.0)
    room = np.append(capacity_m3, 0.0)[at]
    grown = full[:, None] + np.minimum(part[:, None] * growth[None, :], room[:, None])
    return np.asarray(np.where(growth[None, :] >= 1.0, grown, start[:, None] * growth[None, :]))


def travel(
    weight_n: Array,
    start_m3: Array,
    capacity_m3: Array,
    moving_kg: Array,
    column: Column,
    from_m: float,
    to_m: float,
    drag_area_m2: float,
    *,
    steps: int = STEPS,
) -> Path:
    """Return how a load goes from rest at one depth to another, up or down.

    `weight_n` (n,) submerged weight with empty bags, N; `start_m3` (n,) air held at `from_m`; `capacity_m3`
    (bags,) full volumes in the order of filling; `moving_kg` (n,) mass of load and bags with the water they
    carry, less what moves with the bags' air, which is added here; `drag_area_m2` 0 means no drag. A draw
    whose net force at the start is not along the path stays where it is.
    """
    up = 1.0 if to_m < from_m else -1.0
    # from rest the speed grows with the root of the way, so steps that grow evenly keep the time exact too
    nodes = from_m + (to_m - from_m) * np.linspace(0.0, 1.0, steps + 1) ** 2
    middles = 0.5 * (nodes[1:] + nodes[:-1])
    step = np.abs(np.diff(nodes))
    volume, net, mass = _along(weight_n, start_m3, capacity_m3, moving_kg, column, from_m, nodes)
    _, pull, heavy = _along(weight_n, start_m3, capacity_m3, moving_kg, column, from_m, middles)
    moves = up * net[:, 0] > 0.0
    rate = column.density_kg_m3 * drag_area_m2 / heavy
    gain = up * pull * (step if drag_area_m2 == 0.0 else -np.expm1(-rate * step) / rate)
    energy = _stepped(np.ascontiguousarray(np.exp(-rate * step).T), np.ascontiguousarray(gain.T)).T
    speed = np.sqrt(2.0 * np.where(moves[:, None], energy, 0.0) / mass)
    with np.errstate(divide="ignore"):
        taken = 2.0 * step / (speed[:, 1:] + speed[:, :-1])
    time = np.concatenate([np.zeros((len(net), 1)), np.cumsum(taken, axis=1)], axis=1)
    return Path(nodes, speed, time, net, volume, moves)


def _stepped(decay: Array, gain: Array) -> Array:
    """Return the energies (k + 1, n) from rest; `decay` and `gain` (k, n) of each step."""
    energy = np.zeros((len(gain) + 1, gain.shape[1]))
    for k in range(len(gain)):
        energy[k + 1] = np.maximum(energy[k] * decay[k] + gain[k], 0.0)
    return energy


def _along(
    weight_n: Array,
    start_m3: Array,
    capacity_m3: Array,
    moving_kg: Array,
    column: Column,
    from_m: float,
    depths: Array,
) -> tuple[Array, Array, Array]:
    """Return volume, net force up and moving mass (n, k) at the depths (k,)."""
    pressure = absolute_pa(depths, column)
    volume = held_m3(start_m3, capacity_m3, absolute_pa(from_m, column) / pressure)
    air = air_density_kg_m3(pressure, column.temperature_c)[None, :]
    net = (column.density_kg_m3 - air) * volume * G_M_S2 - weight_n[:, None]
    mass = moving_kg[:, None] + (air + BAG_ADDED * column.density_kg_m3) * volume
    return volume, net, mass
