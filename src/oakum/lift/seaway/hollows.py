"""The water that a body holds, as the splash zone counts it: prisms that fill, and drain through their openings."""

from __future__ import annotations

from math import sqrt

import numpy as np

from oakum.ground.gravity import G_M_S2
from oakum.lift.body.likely_solid import likely_solid
from oakum.lift.body.placing import placed_mesh
from oakum.lift.splash import Hollow
from oakum.lift.weights.draining import DISCHARGE
from oakum.lift.weights.hold import Held
from oakum.lift.weights.sums import Sums

_DISCHARGE = sum(DISCHARGE) / 2.0
_LEAST_M = 1e-3
_MOST = 8


def hollows(sums: Sums, floor_m: float) -> tuple[Hollow, ...]:
    """Return the hollows that hold water clear of the surface, by their median measures.

    A hollow is a prism of its own height and volume, filled as far as it comes up; what lies below its outlet is one
    of its own that never drains. Hollows alike in floor and height are one. More than eight tight ones are one.
    `floor_m`: lowest point of the body in its frame.
    """
    found: dict[tuple[float, float, float], Hollow] = {}
    for held in sums.waters:
        for hollow in _of(held, sums, floor_m):
            key = (
                round(hollow.floor_m, 4), round(hollow.height_m, 4), round(hollow.opening_m2 / hollow.plan_m2, 6)
            )  # fmt: skip
            found[key] = _joined([found[key], hollow]) if key in found else hollow
    all_ = list(found.values())
    tight = [h for h in all_ if h.opening_m2 == 0.0]
    if len(tight) > _MOST:
        all_ = [*(h for h in all_ if h.opening_m2 > 0.0), _joined(tight)]
    return tuple(sorted(all_, key=lambda h: (h.floor_m, h.height_m)))


def held_kg(found: tuple[Hollow, ...], water_kg_m3: float) -> float:
    """Return the water in hollows, full."""
    return water_kg_m3 * sum(h.plan_m2 * h.height_m for h in found)


def _of(held: Held, sums: Sums, floor_m: float) -> list[Hollow]:
    full = sums.drawn.full
    water = float(np.median(full(sums.drawn.water_kg_m3)))
    level = float(np.median(full(held.share))) * held.height_m
    volume = float(np.median(full(held.clear_kg))) / water
    if level < _LEAST_M or volume <= 0.0:
        return []
    part = held.term.part
    mesh = placed_mesh(part, likely_solid(part, water).to_mesh(24))
    floor = max(float(mesh.vertices[:, 2].min()) - floor_m, 0.0)
    plan = volume / level
    if held.rate is None:
        return [Hollow(plan, level, floor, 0.0)]
    opening = min(float(np.median(full(held.rate))) * plan / (_DISCHARGE * sqrt(G_M_S2 / 2.0)), plan)
    sill = min(float(np.median(full(held.left_kg))) / water / plan, level)
    found = [Hollow(plan, sill, floor, 0.0)] if sill >= _LEAST_M else []
    sill = sill if found else 0.0
    if level - sill >= _LEAST_M:
        found.append(Hollow(plan, level - sill, floor + sill, opening, _DISCHARGE))
    return found


def _joined(several: list[Hollow]) -> Hollow:
    """Return hollows as one, from the lowest floor to the highest rim, of the same volume and opening."""
    floor = min(h.floor_m for h in several)
    height = max(h.floor_m + h.height_m for h in several) - floor
    plan = sum(h.plan_m2 * h.height_m for h in several) / height
    return Hollow(plan, height, floor, min(sum(h.opening_m2 for h in several), plan), several[0].discharge)
