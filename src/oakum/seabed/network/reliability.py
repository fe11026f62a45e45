"""How far each reading is checked by the others, and what an error in it would do unseen (Baarda 1968; Pope 1976).

memory, verify; held against published networks in the tests.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtri, ndtri, stdtrit

from oakum.seabed.network.covariance import SiteCovariance
from oakum.seabed.network.equations import EQUATIONS
from oakum.seabed.network.rows import Network
from oakum.seabed.network.site import Levels

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

UNCHECKED = 1e-6
"""Redundancy below this is none: the reading is not checked by anything."""


@dataclass(frozen=True, slots=True, eq=False)
class Reliability:
    """All (m,), in the rows' own units; nan where nothing checks the row.

    `moves_m`, `moves_z_m` are the level and upright shift of the row's own mark `moved` (-1: none) that an error of
    `mdb` would cause, the largest over its marks.
    """

    residual: Array
    sd: Array
    redundancy: Array
    w: Array
    error: Array
    mdb: Array
    moves_m: Array
    moves_z_m: Array
    moved: Ints


def critical_w(levels: Levels) -> float:
    """|w| beyond this is doubted: 3.29 at 0.001."""
    return float(-ndtri(levels.reading / 2.0))


def noncentrality(levels: Levels) -> float:
    """Shift of w that is found with the stated power: 4.13 at 0.001 and 0.80."""
    return critical_w(levels) + float(ndtri(levels.power))


def critical_tau(freedom: int, alpha: float) -> float:
    """Critical value of tau with the variance factor estimated from `freedom` spare readings (Pope 1976).

    tau = t sqrt(f) / sqrt(f - 1 + t2), t of f - 1 degrees; sqrt(f) at most, 1 for f = 1.
    """
    if freedom <= 1:
        return 1.0
    t = float(stdtrit(freedom - 1, 1.0 - alpha / 2.0))
    return t * math.sqrt(freedom) / math.sqrt(freedom - 1 + t * t)


def s0_bounds(freedom: int, alpha: float) -> tuple[float, float]:
    """Estimated over stated sd stays between these with probability 1 - alpha where all is well."""
    low, high = (float(chdtri(freedom, p)) / freedom for p in (1.0 - alpha / 2.0, alpha / 2.0))
    return math.sqrt(low), math.sqrt(high)


def reliability(network: Network, state: Array, covariance: SiteCovariance, levels: Levels) -> Reliability:
    """Redundancy, w, estimated error, MDB and its effect, row by row."""
    n = len(network.names)
    shift = noncentrality(levels)
    parts: list[tuple[Array, ...]] = []
    moved: list[Ints] = []
    for g in network.groups:
        _, d = EQUATIONS[g.equation](state[g.columns], g.constants)
        k = d.shape[1]
        rows, columns = np.broadcast_arrays(g.columns[:, :, None], g.columns[:, None, :])
        variance = np.einsum("mi,mij,mj->m", d, covariance.pinned_pairs(rows, columns), d)
        r = np.clip(1.0 - variance / g.sd**2, 0.0, 1.0)
        checked = np.where(r > UNCHECKED, r, np.nan)
        mdb = shift * g.sd / np.sqrt(checked)
        effect = np.einsum("mij,mj->mi", covariance.pairs(rows, columns), d) * (mdb / g.sd**2)[:, None]
        level, upright, mark = np.zeros(len(r)), np.zeros(len(r)), np.full(len(r), -1, dtype=np.int64)
        for name in range(k):
            first = g.columns[:, name] // 3
            flat = np.zeros(len(r))
            for axis in (0, 1):
                flat += np.where(g.columns == (3 * first + axis)[:, None], effect, 0.0).sum(axis=1) ** 2
            high = np.abs(np.where(g.columns == (3 * first + 2)[:, None], effect, 0.0).sum(axis=1))
            better = (np.sqrt(flat) + high > level + upright) & (first < n)
            level, upright = np.where(better, np.sqrt(flat), level), np.where(better, high, upright)
            mark = np.where(better, first, mark)
        parts.append(
            (r, mdb, np.where(np.isfinite(mdb), level, np.nan), np.where(np.isfinite(mdb), upright, np.nan))
        )
        moved.append(mark)
    empty = (np.zeros(0),) * 4
    redundancy, mdb, level, upright = (np.concatenate(p) for p in zip(*(parts or [empty]), strict=True))
    residual, sd = network.residual(state), network.sd
    checked = np.where(redundancy > UNCHECKED, redundancy, np.nan)
    return Reliability(
        residual,
        sd,
        redundancy,
        residual / (sd * np.sqrt(checked)),
        -residual / checked,
        mdb,
        level,
        upright,
        np.concatenate(moved or [np.zeros(0, np.int64)]),
    )


def correlated(
    network: Network, state: Array, covariance: SiteCovariance, rel: Reliability, row: int, least: float = 0.9
) -> Ints:
    """Rows whose w goes with that of this row: an error in one cannot be told from one in the other."""
    jacobian = network.jacobian(state)
    right = jacobian[[row]].toarray().T
    cross = -(jacobian @ covariance.state_columns(right))[:, 0]
    spread = rel.sd * np.sqrt(np.maximum(rel.redundancy, UNCHECKED))
    rho = cross / (spread * spread[row])
    alike = (np.abs(rho) > least) & (rel.redundancy > UNCHECKED)
    alike[row] = False
    return np.flatnonzero(alike)


def predicted(network: Network, state: Array, covariance: SiteCovariance) -> tuple[Array, Array]:
    """Residuals of rows that did not count, and the sd of each (reading and prediction together)."""
    jacobian = network.jacobian(state).toarray()
    variance = np.einsum("mi,mi->m", jacobian, covariance.state_columns(jacobian.T).T)
    return network.residual(state), np.sqrt(network.sd**2 + np.maximum(variance, 0.0))
