"""How much of the water in one hollow comes up, runs out, or stays."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import uniform
from oakum.lift.body.likely_solid import likely_solid
from oakum.lift.body.model import WaterFill
from oakum.lift.body.placing import placed_mesh
from oakum.lift.body.stuff import drawn as draws_of
from oakum.lift.weights.draining import DISCHARGE, MOST_OPEN, head_after_m, rate_sqrt_m_per_s, steady_head_m
from oakum.lift.weights.drawn import Drawn, Term

Array = NDArray[np.float64]
Dim = float | Array


@dataclass(frozen=True, slots=True)
class Held:
    """Water of one hollow, all copies together, over the draws: kg clear of the surface and drained.

    `share` is the part of the full hollow that hangs on the hook just clear of the surface. `rate` is None
    where nothing lets the water out. Heads in metres, of one copy.
    """

    term: Term
    share: Dim
    clear_kg: Dim
    left_kg: Dim
    height_m: float
    head_m: Dim
    rate: Dim | None

    def after_kg(self, time_s: float) -> Dim:
        """Return what is left after hanging for a time, kg."""
        if self.rate is None:
            return self.clear_kg
        share = head_after_m(self.head_m, self.rate, time_s) / self.height_m
        return np.minimum(self.left_kg + share * self.term.mass_kg, self.clear_kg)

    def empty_s(self) -> Array:
        """Return when the head is gone, s (n,) or one number; 0 where nothing runs."""
        if self.rate is None:
            return np.zeros(1)
        rate = np.maximum(np.asarray(self.rate, dtype=np.float64), 1e-12)
        return np.atleast_1d(np.sqrt(self.head_m) / rate)


def held_water(drawn: Drawn, term: Term) -> Held:
    """Return what one hollow holds; not known: full, the greater load (an objection says so)."""
    fill = term.fill
    assert isinstance(fill, WaterFill)  # called for water only
    draws, body = drawn.draws, drawn.body
    mesh = placed_mesh(term.part, likely_solid(term.part, body.water.density_kg_m3.best).to_mesh(24))
    low, high = _extent(term, mesh.vertices)
    height = high - low
    held = 1.0 if fill.held is None else draws_of(draws, fill.held)
    outlet = fill.outlet
    if outlet is None:
        return Held(term, held, held * term.mass_kg, held * term.mass_kg, height, 0.0, None)
    plan = np.maximum(term.volume_m3, 1e-12) / (term.part.count * height)
    unclogged = MOST_OPEN if outlet.open_share is None else draws_of(draws, outlet.open_share)
    unclogged = np.minimum(unclogged, MOST_OPEN)
    sill: Dim = 0.0
    if outlet.floor_share is not None:
        opening = draws_of(draws, outlet.floor_share) * plan * unclogged
    else:
        assert outlet.diameter_m is not None and outlet.height_m is not None  # the body file sees to it
        opening = outlet.count * math.pi / 4.0 * np.square(draws_of(draws, outlet.diameter_m)) * unclogged
        sill = np.clip(draws_of(draws, outlet.height_m), 0.0, height)
    discharge = draws.of(uniform(*DISCHARGE, "discharge of the holes"))
    level = held * height
    if body.hoist_speed_m_s is not None:
        speed = draws_of(draws, body.hoist_speed_m_s)
        level = np.minimum(level, sill + steady_head_m(speed, plan, opening, discharge))
    left = np.minimum(level, sill)
    return Held(
        term=term,
        share=level / height,
        clear_kg=level / height * term.mass_kg,
        left_kg=left / height * term.mass_kg,
        height_m=height,
        head_m=np.maximum(level - left, 0.0),
        rate=rate_sqrt_m_per_s(plan, opening, discharge),
    )


def _extent(term: Term, vertices: Array) -> tuple[float, float]:
    """Return the lowest and highest point of one copy; all copies of a hollow are taken to stand alike."""
    one = vertices[: len(vertices) // term.part.count, 2]
    return float(one.min()), float(one.max())
