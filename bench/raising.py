"""How long a whole plan takes with 10,000 draws, beside the weighing alone, in the same run.

The capstan on its example rig: both states on four legs, hook, three bags, gear, roles, steps, and eight ways that
would help, each solved again. Wall and processor seconds, the best of several runs; goal: whole plan < 0.5 s.
Run: python bench/raising.py [draws, default 10000]
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import numpy as np

from oakum.lift import parse_body, starting_bodies, weighing_of
from oakum.lift.raising import (
    GearItem,
    PlanContext,
    example_rig,
    gear_uses,
    parse_rig,
    plan_dict,
    raising_plan,
)

RUNS = 7
GOAL_S = 0.5


def best(work: Callable[[], object]) -> tuple[float, float]:
    """Return wall and processor seconds of the fastest of several runs."""
    walls, processor = [], []
    for _ in range(RUNS):
        wall, cpu = time.perf_counter(), time.process_time()
        work()
        walls.append(time.perf_counter() - wall)
        processor.append(time.process_time() - cpu)
    return min(walls), min(processor)


def main() -> None:
    draws = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    body = parse_body(starting_bodies()["capstan"].toml)
    text = example_rig()
    rig = parse_rig(text)
    gear = {
        use.piece.key: GearItem(use.piece.key, "gear", 2000.0, "2 t", "2027-06-01", "2027-03-01", None, None)
        for use in gear_uses(rig)
    }
    context = PlanContext(on="2026-07-01", gear=gear)

    def weigh() -> object:
        return weighing_of(body, rng=np.random.default_rng(1), draws=draws, seed=1)

    weighing = weighing_of(body, rng=np.random.default_rng(1), draws=draws, seed=1)
    plan = raising_plan(weighing, rig, context)
    alone = best(weigh)
    rows = {
        "weighing alone": alone,
        "rig file read": best(lambda: parse_rig(text)),
        "plan without helps (a slider)": best(lambda: raising_plan(weighing, rig, context, with_helps=False)),
        "whole plan": best(lambda: raising_plan(weighing, rig, context)),
        "plan as JSON": best(lambda: plan_dict(plan)),
    }
    print(f"{draws:,} draws, {len(plan.checks)} checks, {len(plan.helps)} helps; best of {RUNS} runs")
    print(f"{'':32}{'wall s':>9}{'cpu s':>9}{'of weighing':>13}")
    for name, (wall, cpu) in rows.items():
        print(f"{name:32}{wall:9.3f}{cpu:9.3f}{cpu / alone[1]:12.2f}x")
    whole = rows["whole plan"][0]
    print(f"goal < {GOAL_S} s: {'met' if whole < GOAL_S else 'MISSED'}")
    if whole >= GOAL_S:
        sys.exit(1)


if __name__ == "__main__":
    main()
