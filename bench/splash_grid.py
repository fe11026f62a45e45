"""The simplified splash-zone method against the one-degree model in time, over a grid of 200 cases.

    python bench/splash_grid.py [file for the table, default docs/splash-comparison.md] [seas a case, default 40]

Five bodies, four heights, five mean periods, a boom head that stands still and one that follows the waves. The
simplified method takes the greatest wave of about 650; a run of ten minutes has fewer, so the time model's
greatest force is the percentile of its seas that matches the median over 650 waves.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import sys
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from oakum.lift.splash import (
    Hold,
    Hollow,
    Line,
    Part,
    Question,
    RandomSea,
    Run,
    SplashBody,
    SplashModel,
    TipMotion,
    TipResponse,
    TipStill,
    Water,
    cylinder_across,
    ensemble,
    perforated,
    plate,
    simplified,
    through_the_surface,
    with_height,
    worst_level,
)
from oakum.lift.splash.in_time import tip_reach_m

WATER = Water(1025.0, None)
HOIST_M_S = 0.25
HEIGHTS = (0.15, 0.3, 0.5, 0.8)
PERIODS = (3.0, 4.0, 5.0, 6.5, 8.0)
TIPS: dict[str, TipMotion] = {
    "still": TipStill(),
    "follows": TipResponse((1.5, 3.0, 4.0, 6.0, 9.0, 14.0), (0.05, 0.35, 0.9, 1.2, 1.05, 1.0)),
}


def _body(parts: tuple[Part, ...], mass_kg: float, longest_m: float, hollows=()) -> SplashBody:
    return SplashBody(parts, np.array([mass_kg]), np.ones(1), longest_m, hollows)


def bodies() -> dict[str, SplashBody]:
    open_crate = perforated(with_height(plate(1.2, 2.0), 2.4, 0.8), 20.0).volume_m3
    crate = Part("crate", 0.0, 0.8, 1.0, 1.92, 2.4, open_crate)
    tight = with_height(plate(1.2, 2.0), 2.4, 0.8).volume_m3
    walls = Part("crate", 0.0, 0.8, 0.35, 0.45, 2.4, tight)
    gun = Part("gun", 0.0, 0.30, 0.17, 0.5, 0.55, cylinder_across(0.15, 1.9).volume_m3, round_bottom=True)
    bar = cylinder_across(0.06, 2.0).volume_m3
    sills = Part("sills", 0.0, 0.12, 0.05, 0.5, 0.6, 2 * bar, round_bottom=True)
    load = Part("object", 0.12, 0.5, 0.3, 0.7, 0.9, 0.8 * plate(0.7, 1.3).volume_m3)
    tops = Part("top beams", 0.8, 0.12, 0.05, 0.5, 0.6, 2 * bar, round_bottom=True)
    return {
        "open crate": _body((crate,), 1400.0, 2.0),
        "open crate, ballast": _body((crate,), 2400.0, 2.0),
        "crate that holds water": _body((walls,), 1100.0, 2.0, (Hollow(2.0, 0.6, 0.1, 0.04),)),
        "iron gun": _body((gun,), 1300.0, 2.1),
        "frame with object": _body((sills, load, tops), 900.0, 2.2),
    }


@dataclass(frozen=True)
class Row:
    body: str
    tip: str
    hs_m: float
    tz_s: float
    why_not: str
    simple_n: float
    simple_slack: float
    case: str
    time_n: float
    hoist_n: float
    slack_count: int
    seas: int
    level_m: float
    static_n: float
    own_period_s: float

    @property
    def holds(self) -> bool:
        return not self.why_not

    @property
    def ratio(self) -> float:
        return self.simple_n / self.time_n

    @property
    def lower(self) -> bool:
        return self.ratio < 1.0

    @property
    def missed_slack(self) -> bool:
        return self.simple_slack <= 0.9 and self.slack_count > 0


def solve(job: tuple[str, str, float, float, int]) -> Row:
    name, tip_name, hs, tz, seas = job
    body, tip, line = bodies()[name], TIPS[tip_name], Line(2.0e5, 0.03)
    asked = Question(body, WATER, tip, line, HOIST_M_S, 5000.0)
    simple = simplified(asked, hs, tz)
    sea = RandomSea(hs, tz, waves=120)
    model = SplashModel.of(body, line, WATER)
    up = through_the_surface(body.height_m, hs, tip_reach_m(tip, sea), HOIST_M_S)
    run = Run(model, sea, tip, up)
    seeds = np.random.SeedSequence([round(100 * hs), round(100 * tz)])
    look, hoist, hold, slack = seeds.spawn(4)
    worst = worst_level(run, look, levels=9, members=24)
    hoisted = ensemble(run, seas, hoist)
    held = ensemble(replace(run, operation=Hold(worst.level_m)), seas, hold)
    slack_count = int((held.slack_s > 0.0).sum())
    most = np.quantile(held.greatest_n, 0.5 ** (600.0 / (650.0 * tz)))
    if worst.slack_level_m is not None and worst.slack_level_m != worst.level_m:
        there = ensemble(replace(run, operation=Hold(worst.slack_level_m)), seas, slack)
        slack_count = max(slack_count, int((there.slack_s > 0.0).sum()))
        most = max(most, np.quantile(there.greatest_n, 0.5 ** (600.0 / (650.0 * tz))))
    slack_count = max(slack_count, int((hoisted.slack_s > 0.0).sum()))
    governing = simple.governing
    assert governing is not None
    moving = body.mass_kg[0] + 1025.0 * body.added_m3
    return Row(
        name,
        tip_name,
        hs,
        tz,
        "; ".join(w for p in simple.periods for w in p.why_not),
        max(max(c.greatest_n, c.snap_n or 0.0) for c in simple.cases),
        governing.slack_ratio,
        governing.title,
        float(max(most, np.quantile(hoisted.greatest_n, 0.95))),
        float(np.quantile(hoisted.greatest_n, 0.95)),
        slack_count,
        seas,
        worst.level_m,
        float(body.mass_kg[0] * WATER.g_m_s2),
        float(line.period_s(moving)),
    )


def main() -> None:
    target = Path(sys.argv[1] if len(sys.argv) > 1 else "docs/splash-comparison.md")
    seas = int(sys.argv[2]) if len(sys.argv) > 2 else 40
    jobs = [(b, t, h, z, seas) for b in bodies() for t in TIPS for h in HEIGHTS for z in PERIODS]
    start = time.perf_counter()
    rows = []
    with ProcessPoolExecutor(2) as pool:
        for row in pool.map(solve, jobs):
            rows.append(row)
            print(
                f"{len(rows):4} {row.body:24}{row.tip:9}{row.hs_m:5}{row.tz_s:5} {row.ratio:6.2f} "
                f"{row.simple_slack:6.2f} {row.slack_count:3}/{row.seas}",
                flush=True,
            )
    print(f"{len(rows)} cases in {time.perf_counter() - start:.0f} s")
    from splash_grid_page import page

    target.write_text(page(rows), encoding="utf-8")


if __name__ == "__main__":
    main()
