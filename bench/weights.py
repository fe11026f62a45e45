"""How fast a 20-part body is weighed with 100,000 draws, against plain Python loops in the same run.

Two loops, both over a sample of the draws and scaled up to all of them (the sample is printed):

- by hand: each draw by `random` and the closed forms written out, with volume, mass, centres and states;
- one at a time: this program's own solids asked for one draw after another.

Neither loop does percentiles, drivers or curves, so both are compared with the part of the weighing that does the
same work: draws, volumes, masses, centres, sums.
Run: python bench/weights.py
"""

from __future__ import annotations

import math
import random
import statistics
import time
from collections.abc import Callable

import numpy as np

from oakum.ground.estimate import Draws
from oakum.ground.solids import Box, Cylinder, Frustum, Ring
from oakum.lift import load_at, parse_body, weighing_of
from oakum.lift.weights.drawn import draw
from oakum.lift.weights.hanging import points
from oakum.lift.weights.sums import summed

DRAWS = 100_000
BY_HAND, ONE_AT_A_TIME = 2_000, 300
WATER = 1027.0


def body_text() -> str:
    """Return a body of 20 parts, all with spreads: 10 planks, 4 rings, 4 bars with crust, 2 frusta."""
    rows = ['title = "Twenty parts"', 'water = "1027 ± 1 kg/m3"', 'tape_scale = "±0.4 %"', 'hook_above_top = "2 m"']
    for i in range(10):
        rows += part(f"plank {i}", "box", z=0.1 * i, length=2.0, width=0.3, height=0.08)
        rows += ['material = "oak"', 'basic_density = "400..560 kg/m3"']
    for i in range(4):
        rows += part(f"ring {i}", "ring", z=2.0 + 0.2 * i, inner_diameter=0.9, wall=0.05, height=0.08)
        rows += ['material = "wrought iron"']
    for i in range(4):
        rows += part(f"bar {i}", "cylinder", z=3.0 + 0.5 * i, diameter=0.1, height=0.4)
        rows += ['material = "wrought iron"']
        rows += ['coat = { material = "concretion", thickness = "10..30..60 mm", covers = "80..100 %" }']
    for i in range(2):
        rows += part(f"post {i}", "frustum", z=6.0 + 1.2 * i, bottom_diameter=0.4, top_diameter=0.3, height=1.0)
        rows += ['material = "oak"', 'basic_density = "400..560 kg/m3"']
    return "\n".join(rows)


def part(name: str, shape: str, z: float, **measures: float) -> list[str]:
    """Return the lines of one part, each measure with 2 % of spread."""
    lines = ["[[part]]", f'name = "{name}"', f'shape = "{shape}"', f'place = {{ z = "{z:.2f} ± 0.01 m" }}']
    return lines + [f'{key} = "{value:g} ± {0.02 * value:g} m"' for key, value in measures.items()]


def by_hand(draws: int) -> list[float]:
    """Weigh the same body by a plain loop; return the loads clear of the surface."""
    rng, loads = random.Random(1), []
    for _ in range(draws):
        water, tape = rng.gauss(WATER, 1.0), rng.gauss(1.0, 0.004)
        basic, iron, crust = rng.uniform(400.0, 560.0), rng.uniform(7700.0, 7850.0), rng.uniform(1800.0, 2900.0)
        oak = basic + (1.0 - basic / rng.triangular(1460.0, 1530.0, 1500.0)) * water
        mass = volume = moment = buoyancy = 0.0

        def length(value: float, tape: float = tape) -> float:
            return rng.gauss(value, 0.02 * value) * tape

        rows = []
        for i in range(10):
            rows.append((length(2.0) * length(0.3) * (h := length(0.08)), oak, h / 2, 0.1 * i))
        for i in range(4):
            inner, wall, h = length(0.9) / 2, length(0.05), length(0.08)
            rows.append((math.pi * ((inner + wall) ** 2 - inner**2) * h, iron, h / 2, 2.0 + 0.2 * i))
        for i in range(4):
            r, h, t = length(0.1) / 2, length(0.4), rng.triangular(0.01, 0.06, 0.03) * tape
            bar = math.pi * r * r * h
            coat = (math.pi * (r + t) ** 2 * (h + 2 * t) - bar) * rng.uniform(0.8, 1.0)
            rows += [(bar, iron, h / 2, 3.0 + 0.5 * i), (coat, crust, h / 2, 3.0 + 0.5 * i)]
        for i in range(2):
            big, small, h = length(0.4) / 2, length(0.3) / 2, length(1.0)
            squares = big * big + big * small + small * small
            z = h / 4 * (big * big + 2 * big * small + 3 * small * small) / squares
            rows.append((math.pi * h / 3 * squares, oak, z, 6.0 + 1.2 * i))
        for v, density, z_own, z in rows:
            place = rng.gauss(z, 0.01) * tape + z_own
            mass += v * density
            volume += v
            moment += v * density * place
            buoyancy += v * water * place
        hang = (moment - buoyancy) / (mass - water * volume)
        assert math.isfinite(hang)
        loads.append(mass)
    return loads


def one_at_a_time(draws: int) -> list[float]:
    """Weigh the same shapes by asking the program's own solids draw after draw."""
    rng, loads = np.random.default_rng(1), []
    for _ in range(draws):
        scale = rng.normal(1.0, 0.02, 6)
        oak, iron, crust = rng.uniform(1130.0, 1200.0), rng.uniform(7700.0, 7850.0), rng.uniform(1800.0, 2900.0)
        mass = moment = 0.0
        solids: list[tuple[Box | Ring | Frustum | Cylinder, float]] = []
        solids += [(Box(2.0 * scale[0], 0.3 * scale[1], 0.08 * scale[2]), oak) for _ in range(10)]
        solids += [(Ring(0.5 * scale[0], 0.45 * scale[0], 0.08 * scale[1]), iron) for _ in range(4)]
        bars = [Cylinder(0.05 * scale[0], 0.4 * scale[1]) for _ in range(4)]
        solids += [(bar, iron) for bar in bars]
        solids += [(Frustum(0.2 * scale[0], 0.15 * scale[1], 1.0 * scale[2]), oak) for _ in range(2)]
        for solid, density in solids:
            m = float(solid.volume_m3()) * density
            mass += m
            moment += m * float(solid.centroid_m()[2])
        for bar in bars:
            mass += (float(bar.grown(0.03).volume_m3()) - float(bar.volume_m3())) * crust
        loads.append(mass)
    return loads


def timed(work: Callable[[], object], repeats: int = 3) -> float:
    """Return the best time of some runs, s: on a shared machine the others are the neighbours'."""
    times = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return min(times)


def main() -> None:
    """Print the table."""
    body = parse_body(body_text())
    weigh = timed(lambda: weighing_of(body, rng=np.random.default_rng(1), draws=DRAWS), 5)
    core = timed(lambda: points(summed(draw(body, Draws(DRAWS, np.random.default_rng(1))))), 5)
    weighing = weighing_of(body, rng=np.random.default_rng(1), draws=DRAWS)
    hand = timed(lambda: by_hand(BY_HAND)) * DRAWS / BY_HAND
    single = timed(lambda: one_at_a_time(ONE_AT_A_TIME)) * DRAWS / ONE_AT_A_TIME
    level = timed(lambda: load_at(weighing, -1.0), 9)
    mean, plain = weighing.report.state("clear").load_kg.mean, statistics.mean(by_hand(BY_HAND))
    print(f"20 parts, {DRAWS:,} draws; mean load clear of the surface {mean:,.0f} kg, by hand {plain:,.0f} kg")
    print(f"{'what':<58}{'s':>10}{'ratio':>10}")
    print(f"{'weighed: states, drivers, centres, curves (goal < 1 s)':<58}{weigh:>10.3f}")
    print(f"{'of it what the loops do: draws, masses, centres, sums':<58}{core:>10.3f}{1:>10.1f}")
    print(f"{f'plain loop, by hand ({BY_HAND:,} draws scaled up)':<58}{hand:>10.1f}{hand / core:>10.1f}")
    print(f"{f'own solids one draw at a time ({ONE_AT_A_TIME:,} scaled up)':<58}{single:>10.1f}{single / core:>10.1f}")
    print(f"{'one water level of the slider (goal < 0.03 s)':<58}{level:>10.4f}{'':>10}")


if __name__ == "__main__":
    main()
