"""What nothing holds: motions of the whole site that no reading notices, in numbers and in words."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import expm, qr

from oakum.seabed.network.rows import Network

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

UNNOTICED = 1e-9
"""Singular values below this share of the greatest count as nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Motions:
    """The motions no reading notices, at one state.

    `basis` (7 + further, d) in shifts x y z, turns about x y z through `centre` (radians times `extent_m`), growth
    (times `extent_m`), then the further unknowns. `moves` (size of state, d) is what they do to the state.
    """

    centre: Array
    extent_m: float
    basis: Array
    moves: Array

    @property
    def count(self) -> int:
        """How many there are."""
        return int(self.basis.shape[1])


def candidates(network: Network, state: Array) -> tuple[Array, Array, float]:
    """What each of the seven motions and each further unknown does to the state; the centre; the extent."""
    n, size = len(network.names), len(state)
    places = state[: 3 * n].reshape(n, 3)
    centre = places.mean(axis=0) if n else np.zeros(3)
    arm = places - centre
    extent = max(float(np.sqrt((arm**2).sum() / max(n, 1))), 1e-3)
    columns = np.zeros((size, 7 + len(network.further)))
    for k in range(3):
        columns[k : 3 * n : 3, k] = 1.0
        turn = np.cross(np.eye(3)[k], arm) / extent
        columns[: 3 * n, 3 + k] = turn.ravel()
    columns[: 3 * n, 6] = arm.ravel() / extent
    for k in range(len(network.further)):
        columns[3 * n + k, 7 + k] = 1.0
    return columns, centre, extent


def unnoticed(network: Network, state: Array) -> Motions:
    """Find them: combinations of the candidates that change neither a reading nor a held value."""
    columns, centre, extent = candidates(network, state)
    jacobian = network.jacobian(state)
    changed = (jacobian @ columns) / network.sd[:, None]
    held = columns[:-1][network.held[:-1]] / 0.01
    _, sizes, rows = np.linalg.svd(
        np.vstack([changed, held, np.zeros((columns.shape[1],) * 2)]), full_matrices=False
    )
    basis = rows[sizes <= UNNOTICED * max(float(sizes.max(initial=0.0)), 1e-30)].T
    return Motions(centre, extent, basis, columns @ basis)


def pins(motions: Motions, network: Network, core: NDArray[np.bool_]) -> Ints:
    """As many coordinates as there are motions, to be held while solving; in the core where they can be."""
    weight = np.where(np.repeat(core, 3), 1.0, 1e-3)
    rows = motions.moves[: len(weight)] * weight[:, None] * ~network.held[: len(weight), None]
    _, _, order = qr(rows.T, mode="economic", pivoting=True)
    return np.sort(order[: motions.count]).astype(np.int64)


def moved(network: Network, state: Array, motions: Motions, amount: Array) -> Array:
    """The state after a finite motion; distances are kept exactly, however far it goes."""
    n = len(network.names)
    a = motions.basis @ amount
    turn, growth = a[3:6] / motions.extent_m, a[6] / motions.extent_m
    skew = np.array([[0, -turn[2], turn[1]], [turn[2], 0, -turn[0]], [-turn[1], turn[0], 0]])
    generator = np.zeros((4, 4))
    generator[:3, :3] = skew + growth * np.eye(3)
    generator[:3, 3] = a[:3]
    whole = expm(generator)
    out = state.copy()
    places = state[: 3 * n].reshape(n, 3) - motions.centre
    out[: 3 * n] = (places @ whole[:3, :3].T + whole[:3, 3] + motions.centre).ravel()
    out[3 * n : 3 * n + len(network.further)] += a[7:]
    out[network.held] = state[network.held]
    return out


def laid_on(network: Network, state: Array, target: Array) -> Array:
    """Move the site as nothing forbids until it lies best on the target (n, 3); nan where a mark has none.

    Leaves the sum of squares as it is. With a target for every mark this is what inner constraints give.
    """
    wanted = np.flatnonzero(np.isfinite(target.ravel()))
    for _ in range(30):
        motions = unnoticed(network, state)
        if motions.count == 0 or len(wanted) == 0:
            return state
        gap = target.ravel()[wanted] - state[wanted]
        amount = np.asarray(np.linalg.lstsq(motions.moves[wanted], gap, rcond=1e-12)[0], dtype=np.float64)
        state = moved(network, state, motions, amount)
        if float(np.abs(amount).max()) < 1e-11 * max(1.0, motions.extent_m):
            break
    return state


def _span(rows: Array, tolerance: float = 1e-6) -> Array:
    """An orthonormal basis (rows) of what the columns of `rows` span."""
    if rows.size == 0:
        return np.zeros((0, rows.shape[0]))
    u, sizes, _ = np.linalg.svd(rows)
    return np.asarray(u[:, : int((sizes > tolerance).sum())].T)


def in_words(motions: Motions) -> tuple[str, ...]:
    """What nothing fixes, one sentence each."""
    basis = motions.basis
    if basis.shape[1] == 0:
        return ()
    _, sizes, rows = np.linalg.svd(
        np.vstack([basis[3:7], np.zeros((basis.shape[1],) * 2)]), full_matrices=False
    )
    shifts = basis[:3] @ rows[sizes <= 1e-6].T
    turns = _span(basis[3:6])
    words: list[str] = []
    level = _span(shifts[:2])
    if len(level) == 2:
        words.append("nothing fixes where the plan lies (shift in x and y)")
    elif len(level) == 1:
        words.append(f"nothing fixes its shift along the bearing {_bearing(level[0]):.0f} degrees")
    if len(_span(shifts[2:3])):
        words.append("nothing fixes its height")
    upright = turns @ np.array([0.0, 0.0, 1.0]) if len(turns) else np.zeros(0)
    about_vertical = float(np.linalg.norm(upright)) > 0.999
    tilts = _span(turns[:, :2].T) if len(turns) else np.zeros((0, 2))
    if about_vertical:
        words.append("nothing fixes rotation about the vertical")
    if len(tilts) == 2:
        words.append("nothing fixes its tilt")
    elif len(tilts) == 1:
        words.append(f"nothing fixes its tilt about a line on the bearing {_bearing(tilts[0]):.0f} degrees")
    elif len(turns) and not about_vertical:
        words.append("nothing fixes a turn about a slanting line")
    if float(np.abs(basis[6]).max()) > 1e-6:
        words.append("nothing fixes its size: the scale of the tapes is unknown and no distance is held")
    return tuple(words)


def _bearing(direction: Array) -> float:
    return math.degrees(math.atan2(float(direction[0]), float(direction[1]))) % 180.0
