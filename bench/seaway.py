"""How long the answer about a lift's sea takes with 10,000 draws, and its limit curve at six mean periods.

Starting bodies under the example vessel, and a block on a frame of 14 members. Processor seconds, the best of several
runs. Goals: the answer with one period < 0.3 s, with six < 2 s. Run: python bench/seaway.py [draws, default 10000]
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace

import numpy as np

from oakum.lift import Weighing, parse_body, starting_bodies, weighing_of
from oakum.lift.cradle import Frame, Member, frame_parts, rectangle, timber_grade
from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.seaway import SeaAsked, SeawayInputs, seaway_answer
from oakum.lift.vessel import example_vessel, parse_vessel

RUNS = 5
GOAL_ONE_S, GOAL_SIX_S = 0.3, 2.0
BLOCK = """
title = "Block on a frame"
water = "1025 kg/m3"
[[part]]
name = "block"
shape = "box"
length = "1.6 m"
width = "1 m"
height = "0.5 m"
density = "1500..1900 kg/m3"
place = { z = "0.3 m" }
"""


def frame() -> Frame:
    """Return two runners, six bearers, four posts and two rails."""
    bar, pine = rectangle(0.1, 0.1), timber_grade("C24")
    members = [Member(f"runner {y:g}", "runner", bar, pine, (-1.0, y, 0.05), (1.0, y, 0.05)) for y in (-0.5, 0.5)]
    members += [
        Member(f"bearer {i}", "bearer", bar, pine, (x, -0.6, 0.15), (x, 0.6, 0.15))
        for i, x in enumerate(np.linspace(-0.9, 0.9, 6).tolist())
    ]
    members += [
        Member(f"post {x:g} {y:g}", "post", bar, pine, (x, y, 0.2), (x, y, 1.0))
        for x in (-0.95, 0.95)
        for y in (-0.6, 0.6)
    ]
    members += [Member(f"rail {y:g}", "rail", bar, pine, (-1.0, y, 1.05), (1.0, y, 1.05)) for y in (-0.6, 0.6)]
    return Frame("fourteen members", tuple(members))


def best(inputs: SeawayInputs) -> float:
    """Return the processor seconds of the fastest of several runs."""
    taken = []
    for _ in range(RUNS):
        begun = time.process_time()
        seaway_answer(inputs)
        taken.append(time.process_time() - begun)
    return min(taken)


def main() -> None:
    draws = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    papers = parse_vessel(*example_vessel())
    sea = SeaAsked("Tolmarren Girl", "beam", "open", 0.2, 4.0, (4.0,), 14.0, 4.0, 6.0, 0.25, 3e5)
    cradle = CradlePlan("fourteen members", frame())
    found: dict[str, tuple[Weighing, CradlePlan | None]] = {}
    for key in ("capstan", "cask", "gun"):
        body = parse_body(starting_bodies()[key].toml)
        found[key] = weighing_of(body, rng=np.random.default_rng(1), draws=draws), None
    parts = frame_parts(frame())
    on_frame = weighing_of(parse_body(BLOCK), rng=np.random.default_rng(1), draws=draws, frame=parts)
    found["block, 14 members"] = on_frame, cradle
    print(f"{'':24s}one period  six periods")
    for name, (weighed, plan) in found.items():
        one = SeawayInputs(weighed.sums, weighed.use, weighed.slack, sea, papers, plan, 3000.0, 30.0, 2e6)
        six = replace(one, sea=replace(sea, periods_s=(3.0, 4.0, 5.0, 6.0, 7.0, 8.0)))
        print(f"{name:24s}{best(one):8.3f} s {best(six):10.3f} s")
    print(f"goals: {GOAL_ONE_S:g} s and {GOAL_SIX_S:g} s")


if __name__ == "__main__":
    main()
