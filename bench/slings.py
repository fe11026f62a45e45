"""Bounds of the legs of a four-legged sling for many draws at once against a linear programme draw by draw.

    python bench/slings.py [number of draws, default 100000]

The linear programme (scipy.optimize.linprog, HiGHS) asks the least and the greatest force of each of the four
legs, eight programmes a draw, on a sample of draws in the same run; its time is scaled to all draws. The closed
form does the same for all of them. Both are compared on the sample.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from scipy.optimize import linprog

from oakum.lift.slings import (
    Fitting,
    HookOver,
    Leg,
    Load,
    Rig,
    Ruling,
    bounds,
    elastic,
    geometry,
    sling_answer,
)

SAMPLE = 60
GOAL = 500.0
FEET = np.array([[1.0, 0.6, 0.0], [-1.0, 0.6, 0.15], [-1.0, -0.6, 0.15], [1.0, -0.6, 0.3]])
HOOK = np.array([0.2, 0.05, 2.2])


def programmes(unit: np.ndarray, force: np.ndarray) -> np.ndarray:
    ends = np.empty((2, 4))
    for leg in range(4):
        aim = np.zeros(4)
        aim[leg] = 1.0
        ends[0, leg] = linprog(aim, A_eq=unit.T, b_eq=force, bounds=(0, None)).fun
        ends[1, leg] = -linprog(-aim, A_eq=unit.T, b_eq=force, bounds=(0, None)).fun
    return ends


def best_of(times: int, work) -> float:
    took = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return min(took)


def main() -> None:
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    rng = np.random.default_rng(1670)
    hanging = rng.normal((0.2, 0.05, -0.3), (0.06, 0.05, 0.04), (n, 3))
    weight = rng.normal(15_000.0, 900.0, n)
    trimmed = np.column_stack((hanging[:, :2], np.full(n, HOOK[2])))
    shape = geometry(FEET, HOOK, hanging)
    known = bounds(shape, weight)
    assert known.feasible.all()
    some = min(SAMPLE, n)
    start = time.perf_counter()
    ends = np.array([programmes(shape.unit[0], weight[i] * shape.up[i]) for i in range(some)])
    slow = (time.perf_counter() - start) * n / some
    off = max(
        np.abs(known.least_n[:some] - ends[:, 0]).max(), np.abs(known.greatest_n[:some] - ends[:, 1]).max()
    )
    fixed = best_of(5, lambda: bounds(geometry(FEET, HOOK, hanging), weight))
    each = best_of(3, lambda: bounds(geometry(FEET, trimmed, hanging), weight))
    few = slice(0, min(2000, n))
    at = geometry(FEET, HOOK, hanging[few])
    springs = 1e6 / at.length_m[0]
    spring = best_of(3, lambda: elastic(at, weight[few], hanging[few], springs, np.array([0.01, 0, 0, 0])))
    legs = tuple(
        Leg(f"{i}", (float(x), float(y), float(z)), 2000.0, "wire rope", diameter_m=0.014,
            shackle=Fitting("shackle", "s", 2000.0, off_line_deg=0.0))
        for i, (x, y, z) in enumerate(FEET)
    )  # fmt: skip
    rig = Rig(legs, HookOver(2.0), Ruling("bound", "EU"), 5.0, 25.0)
    ten = slice(0, min(10_000, n))
    whole = best_of(3, lambda: sling_answer(Load("in air", weight[ten], hanging[ten]), rig))
    print(
        f"{n:,} draws, four legs at three heights; greatest difference {off / weight.mean():.1e} of the weight"
    )
    print(f"{'':52}{'seconds':>10}{'ratio':>10}")
    print(f"{f'linear programmes, scaled from {some} draws':52}{slow:10.2f}{1:10.0f}")
    print(f"{'closed form, one hook':52}{fixed:10.4f}{slow / fixed:10.0f}")
    print(f"{'closed form, legs trimmed to every draw':52}{each:10.4f}{slow / each:10.0f}")
    print(f"{'elastic with all displacements, 2,000 draws':52}{spring:10.4f}{'':>10}")
    print(f"{'whole answer with checks, 10,000 draws':52}{whole:10.4f}{'':>10}")
    print(f"goal {GOAL:.0f}: {'met' if min(slow / fixed, slow / each) >= GOAL else 'missed'}")


if __name__ == "__main__":
    main()
