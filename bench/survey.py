"""The adjustment against general least squares, in one run: 300, 2,000 and 20,000 points.

    python bench/survey.py [points ...; default 300 2000 20000]

Networks: points at random in an area of 1.44 n m2 with 3 m relief, one in 40 held, about five tapes a point to near
neighbours, sd 25 mm, a depth a point of sd 0.1 m, start 0.3 m off. Held against scipy.optimize.least_squares (trf,
lsmr, sparse Jacobian, the same residuals) at equal sum of squares, and the covariance against a dense Cholesky
inverse. CPU seconds of this process on one thread; memory is the peak of the process so far.
"""

from __future__ import annotations

import os

os.environ["OPENBLAS_NUM_THREADS"] = "1"

import resource
import sys
import time
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import lapack
from scipy.optimize import least_squares
from scipy.spatial import cKDTree

from oakum.seabed.network import Datum, Depth, Mark, Observation, Site, Tape, solve_site
from oakum.seabed.network.adjust import Adjusted, adjust, equations, motions_at
from oakum.seabed.network.build import build
from oakum.seabed.network.covariance import SiteCovariance
from oakum.seabed.network.rows import FreeProblem, Network
from oakum.seabed.network.settle import measure
from oakum.seabed.network.site import Levels
from oakum.seabed.network.vet import vet

Array = NDArray[np.float64]


def timed(work: Callable[[], object]) -> tuple[float, object]:
    began = time.process_time()
    answer = work()
    return time.process_time() - began, answer


def draw(n: int) -> tuple[Site, Array]:
    """The site with starts 0.3 m off."""
    rng = np.random.default_rng(n)
    places = np.column_stack([rng.uniform(0.0, 1.2 * n**0.5, (n, 2)), -14.0 + rng.uniform(0.0, 3.0, n)])
    _, near = cKDTree(places).query(places, 9)
    pairs = np.unique(
        np.sort(np.column_stack([np.repeat(np.arange(n), 8), near[:, 1:].ravel()]), axis=1), axis=0
    )
    pairs = pairs[rng.random(len(pairs)) < 5.2 * n / len(pairs)]
    lengths = np.linalg.norm(places[pairs[:, 0]] - places[pairs[:, 1]], axis=1) + rng.normal(
        0, 0.025, len(pairs)
    )
    readings: list[Observation] = [
        Tape(id=f"{i}-{j}", a=f"M{i}", b=f"M{j}", length_m=max(float(r), 0.01), sd_m=0.025)
        for (i, j), r in zip(pairs.tolist(), lengths, strict=True)
    ]
    depths = -places[:, 2] + rng.normal(0.0, 0.1, n)
    readings += [
        Depth(id=f"d{i}", mark=f"M{i}", depth_m=float(d), sd_m=0.1, water_level_m=0.0)
        for i, d in enumerate(depths)
    ]
    held = rng.permutation(n)[: max(n // 40, 3)]
    datums = tuple(
        Datum(mark=f"M{i}", x_m=p[0], y_m=p[1], z_m=p[2])
        for i, p in zip(held.tolist(), places[held].tolist(), strict=True)
    )
    off = places + rng.normal(0.0, 0.3, places.shape)
    marks = tuple(Mark(name=f"M{i}", x_m=p[0], y_m=p[1], z_m=p[2]) for i, p in enumerate(off.tolist()))
    return Site(observations=tuple(readings), datums=datums, marks=marks), places


def general(network: Network, start: Array) -> tuple[float, float, Array]:
    """scipy on the same residuals: CPU, sum of squares, answer."""
    problem = FreeProblem(network, start)

    def run() -> object:
        return least_squares(
            problem.residual,
            start[problem.free],
            problem.jacobian,
            method="trf",
            tr_solver="lsmr",
            x_scale=1.0,
            ftol=1e-10,
            xtol=1e-10,
            gtol=1e-10,
            max_nfev=200,
        )

    spent, answer = timed(run)
    return spent, 2.0 * float(answer.cost), answer.x  # type: ignore[attr-defined]


def dense_inverse(adjusted: Adjusted) -> float:
    """CPU of a dense Cholesky factor and inverse of the same normal equations."""
    problem = FreeProblem(adjusted.network, adjusted.state)
    jacobian = problem.jacobian(adjusted.state[problem.free])
    normal = (jacobian.T @ jacobian).toarray()

    def run() -> object:
        factor, _ = lapack.dpotrf(normal, lower=1, overwrite_a=1)
        return lapack.dpotri(factor, lower=1, overwrite_c=1)

    return timed(run)[0]


def row(what: str, value: float, unit: str = "s", goal: str = "") -> None:
    print(f"{what:62}{value:10.3f} {unit:6}{goal}")


def memory() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def measured(n: int) -> None:
    site, _ = draw(n)
    spent, vetted = timed(lambda: vet(site))
    print(f"--- {n} points, {len(site.observations)} readings")
    building, built = timed(lambda: build(site, vetted))  # type: ignore[arg-type]
    row("vetting and building", spent + building)
    network = built.network  # type: ignore[attr-defined]
    start = network.given.copy()
    flat = slice(0, 3 * len(network.names))
    start[flat] = np.where(network.held[flat], network.given[flat], built.place_m.ravel())  # type: ignore[attr-defined]
    other, phi, _ = general(network, start)
    ours, adjusted = timed(lambda: adjust(network, start, robust=False))
    assert isinstance(adjusted, Adjusted)
    row("general least squares (trf, lsmr)", other)
    row("our solve", ours, "s", f"{ours / other:.2f} times; sums {adjusted.phi:.6f} and {phi:.6f}")
    if n <= 5000:
        spent, _ = timed(lambda: measure(adjusted, Levels()))
        row("covariance, redundancy, w, MDB of everything", spent)
        blocks, _ = timed(lambda: equations(adjusted))
        dense = dense_inverse(adjusted)
        row(
            "all 3x3 covariance blocks (sparse inverse)",
            blocks,
            "s",
            f"{blocks / dense:.3f} of a dense inverse, {dense:.2f} s",
        )
    else:

        def some() -> object:
            found = equations(adjusted)
            covariance = SiteCovariance(adjusted, found, motions_at(adjusted))
            return covariance.mark_blocks()

        spent, _ = timed(some)
        row("covariance of all points", spent)
    if n <= 300:
        whole, solution = timed(lambda: solve_site(site))
        row("solve_site from yesterday's places, all of it", whole)
        assert solution is not None
    row("peak memory", memory(), "MB")


def main() -> None:
    for n in [int(word) for word in sys.argv[1:]] or [300, 2000, 20000]:
        measured(n)


if __name__ == "__main__":
    main()
