"""Where the water line stands against a load on its way up, and what the hook carries there.

Heights are those of the curve of hook load: of the body's lowest point above the water, negative below.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from oakum.draw.forces import reading, unit_words
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import length_words, nice_step
from oakum.lift.raising.plan import RaisingPlan
from oakum.lift.weights.emergence import Emergence
from oakum.lift.weights.weighing import load_at

SUBMERGED, HALF_IN, CLEAR = "submerged", "half in", "just clear"
_RUNGS = 16  # steps of the water line over the height of the body, about
_LADDER = 64


@dataclass(frozen=True, slots=True)
class WaterLevel:
    """One water line: `name` of the load case it belongs to or "", and the rig's state it is drawn with.

    `height_m` of the lowest point above the water, `surface_m` of the water in the drawing, `under` the share of
    the body's volume that is under. Loads are readings of the load cell with empty bags, kg: P5, median, P95.
    """

    name: str
    state: str
    height_m: float
    surface_m: float
    under: float
    p5_kg: float
    best_kg: float
    p95_kg: float
    words: str


def water_levels(
    plan: RaisingPlan, emergence: Emergence, reach_m: Mapping[str, tuple[float, float]]
) -> tuple[WaterLevel, ...]:
    """Return water lines from submerged to clear of the water, rising body, the three load cases among them.

    `reach_m` are the lowest and highest z of what hangs in each state. Submerged is where everything that is
    drawn, bags and hook too, is under; half in where half of the body's volume is.
    """
    wet = "under water" if "under water" in reach_m else next(iter(reach_m))
    dry = "in air" if "in air" in reach_m else wet
    low, high = reach_m[wet]
    rungs = _rungs(emergence)
    deepest = min(-(high - low), rungs[0].height_m)
    found = []
    for rung in (replace(rungs[0], height_m=deepest), *rungs[1:]):
        state = wet if rung.height_m < 0.0 else dry
        found.append(_level(plan, rung, state, reach_m[state][0] - rung.height_m))
    return tuple(found)


def level_rows(levels: tuple[WaterLevel, ...], cell_unit: str) -> Rows:
    """Return the three load cases: height of the lowest point, share under water, hook load."""
    unit = unit_words(cell_unit)
    return Rows(
        "Water line, and the hook load there with empty bags, as a load-cell reading",
        (
            "water line", "lowest point above the water (m)", "of the body under water",
            f"low, P5 ({unit})", f"likely ({unit})", f"high, P95 ({unit})",
        ),
        tuple(
            (
                level.name,
                figure(level.height_m),
                f"{100 * level.under:.0f} %",
                *(reading(kg, cell_unit) for kg in (level.p5_kg, level.best_kg, level.p95_kg)),
            )
            for level in levels
            if level.name
        ),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Rung:
    name: str
    height_m: float
    under: float


@lru_cache(maxsize=4)
def _rungs(emergence: Emergence) -> tuple[_Rung, ...]:
    """Return heights from all under to clear, rising; remembered, since a rig that is turned changes none."""
    tall = emergence.height_m
    ladder = np.linspace(-tall, 0.0, _LADDER)
    under = emergence.under_water(emergence.shares(ladder))  # falls as the body rises
    half_in = float(np.interp(-0.5, -under, ladder))
    step = nice_step(tall, _RUNGS)
    named = {-tall - step: SUBMERGED, half_in: HALF_IN, 0.0: CLEAR}
    even = [round(i * step, 6) for i in range(-math.floor(tall / step), 3)]
    heights = sorted({h for h in even if all(abs(h - n) > 0.3 * step for n in named)} | set(named))
    shares = emergence.under_water(emergence.shares(np.array(heights)))
    return tuple(_Rung(named.get(h, ""), h, float(u)) for h, u in zip(heights, shares, strict=True))


def _level(plan: RaisingPlan, rung: _Rung, state: str, surface_m: float) -> WaterLevel:
    height = rung.height_m
    load, unit = load_at(plan.weight, height), plan.cell_unit
    side = "above" if height > 0.0 else "under"
    place = "at the water" if height == 0.0 else f"{length_words(abs(height))} {side} the water"
    said = f"{reading(load.p5_kg, unit)} to {reading(load.p95_kg, unit)} {unit_words(unit)}"
    words = f"Lowest point {place}. Hook load there {said}, bags empty, in still water."
    return WaterLevel(
        rung.name, state, height, surface_m, rung.under, load.p5_kg, load.best_kg, load.p95_kg, words
    )
