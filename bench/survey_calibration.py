"""Do the ellipses hold what they promise, and is a misread tape found as often as promised?

    python bench/survey_calibration.py [sites, default 500] [marks a site, default 14]

Truth is drawn here and never passes through the solver: marks with at least five tapes each, a depth at each, three
known marks; sds known. One random point a site is held against its 95 % ellipse. Clean sites, sites with 5 % of the
tapes misread (a metre, half a metre, two metres, too long or too short), and sites with one error of the size called
MDB in one random tape. Limits: the exact binomial 99 % interval; at 500 sites 92.4 to 97.4 %.
"""

from __future__ import annotations

import math
import sys
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import binom

from oakum.seabed.network import Datum, Depth, Observation, Site, SiteSolution, Tape, solve_site

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Truth:
    names: tuple[str, ...]
    places: Array
    misread: frozenset[str]


def draw(seed: int, marks: int, misread: float = 0.0) -> tuple[Site, Truth]:
    """A site and its truth."""
    rng = np.random.default_rng([seed, 1670])
    wide = 1.7 * math.sqrt(marks)
    places = np.column_stack([rng.uniform(0.0, wide, (marks, 2)), rng.uniform(-14.5, -13.0, marks)])
    names = tuple(f"M{i + 1}" for i in range(marks))
    apart = np.linalg.norm(places[:, None] - places, axis=2)
    pairs: set[tuple[int, int]] = set()
    for i in range(marks):
        near = rng.permutation(np.argsort(apart[i])[1:10])[:5]
        pairs |= {(min(i, int(j)), max(i, int(j))) for j in near}
    readings: list[Observation] = []
    wrong: set[str] = set()
    for i, j in sorted(pairs):
        sd = math.hypot(0.015, 0.001 * apart[i, j])
        length = float(apart[i, j] + rng.normal(0.0, sd))
        if rng.random() < misread:
            wrong.add(f"{i}-{j}")
            size = float(rng.choice([0.5, 1.0, 2.0]))
            length += size if rng.random() < 0.5 or length < size + 0.2 else -size
        readings.append(
            Tape(id=f"{i}-{j}", a=names[i], b=names[j], length_m=length, sd_m=0.015, sd_per_m=0.001)
        )
    for i, name in enumerate(names):
        depth = float(-places[i, 2] + rng.normal(0.0, 0.05))
        readings.append(Depth(id=f"d{i}", mark=name, depth_m=depth, sd_m=0.05, water_level_m=0.0))
    datums = tuple(
        Datum(mark=names[i], x_m=float(x), y_m=float(y), z_m=float(z))
        for i, (x, y, z) in enumerate(places[:3])
    )
    return Site(observations=tuple(readings), datums=datums), Truth(names, places, frozenset(wrong))


def inside(solution: SiteSolution, truth: Truth, seed: int) -> bool:
    """Whether one random mark lies in its 95 % ellipse."""
    pick = 3 + int(np.random.default_rng([seed, 2]).integers(len(truth.names) - 3))
    mark = solution.mark(truth.names[pick])
    gap = np.array(mark.place[:2]) - truth.places[pick, :2]
    return bool(gap @ np.linalg.solve(mark.cov_m2[:2, :2], gap) <= 5.991465)


def limits(count: int, share: float) -> tuple[float, float]:
    """The exact binomial 99 % interval of a share."""
    low, high = binom.ppf([0.005, 0.995], count, share) / count
    return float(low), float(high)


def line(what: str, hits: int, count: int, share: float) -> bool:
    low, high = limits(count, share)
    fine = low <= hits / count <= high
    span = f"{100 * low:6.2f} to {100 * high:6.2f} {'' if fine else 'OUT'}"
    print(f"{what:58}{hits:6} of{count:7} {100 * hits / count:8.2f} %  {span}")
    return fine


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    marks = int(sys.argv[2]) if len(sys.argv) > 2 else 14
    began = time.process_time()
    good, alarms, tests, found, hit = 0, 0, 0, 0, 0
    for seed in range(count):
        site, truth = draw(seed, marks)
        solution = solve_site(site)
        good += inside(solution, truth, seed)
        rows = [r for r in solution.readings if r.w is not None]
        tests += len(rows)
        alarms += sum(abs(r.w or 0.0) > 3.290527 for r in rows)
        tapes = [r for r in rows if r.kind == "tape" and r.mdb is not None and r.redundancy > 0.1]
        rng = np.random.default_rng([seed, 3])
        pick = tapes[int(rng.integers(len(tapes)))]
        error = (pick.mdb or 0.0) * (1.0 if rng.random() < 0.5 else -1.0)
        shifted = tuple(
            Tape(id=o.id, a=o.a, b=o.b, length_m=o.length_m + error, sd_m=pick.sd) if o.id == pick.id else o
            for o in site.observations
            if not (isinstance(o, Tape) and o.id == pick.id and o.length_m + error <= 0.0)
        )
        again = solve_site(Site(observations=shifted, datums=site.datums))
        hit += 1
        row = next((r for r in again.readings if r.id == pick.id), None)
        found += row is not None and row.w is not None and abs(row.w) > 3.290527
    line("clean: point inside its 95 % ellipse", good, count, 0.95)
    line("clean: false alarms a reading (stated 0.1 %)", alarms, tests, 0.001)
    line("error of the MDB found (stated 80 %)", found, hit, 0.80)
    held, named, wrong, false, places = 0, 0, 0, 0, 0
    for seed in range(count):
        site, truth = draw(seed, marks, misread=0.05)
        solution = solve_site(site)
        suspects = {s.id for s in solution.suspects}
        wrong += len(truth.misread)
        named += len(truth.misread & suspects)
        false += len(suspects - truth.misread)
        places += len(site.observations)
        held += inside(solution.without_suspects or solution, truth, seed)
    line("5 % misread: point inside, suspects left out", held, count, 0.95)
    print(f"{'misread tapes named':58}{named:6} of{wrong:7} {100 * named / max(wrong, 1):8.2f} %")
    right = places - wrong
    print(f"{'right readings named as suspects':58}{false:6} of{right:7} {100 * false / right:8.2f} %")
    print(f"{'CPU seconds':58}{time.process_time() - began:6.0f}")


if __name__ == "__main__":
    main()
