"""The vessel under this lift's load: under water and in air, in still water and with the forces of the sea."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from oakum.ground.estimate import weighted_quantile
from oakum.lift.draw_bands import picked
from oakum.lift.seaway.curve import Bears
from oakum.lift.seaway.inputs import SeawayInputs
from oakum.lift.splash import SimplifiedAnswer
from oakum.lift.vessel import (
    Head,
    HungLoad,
    Vessel,
    VesselAnswer,
    VesselLift,
    VesselPapers,
    vessel_answer,
)
from oakum.lift.weights.drawn import Array

State = Literal["under water", "in air"]

DRAWS = 2000
"""Draws that stand for all under the vessel; her own are as many."""

DYNAMIC = (
    "the greatest hook load through the surface acts on the vessel in air as if it stayed; the greatest one just under "
    "the surface acts under water"
)


@dataclass(frozen=True, slots=True, eq=False)
class Alongside:
    """The vessel with her draws, and the hook load without the sea, kg in the same draws (n,), all counting alike."""

    papers: VesselPapers
    vessel: Vessel
    head: Head
    water_kg: Array
    air_kg: Array
    inputs: SeawayInputs

    def lift(self, state: State, added_kg: float = 0.0) -> VesselLift:
        """Return the question of one state, each draw of the load raised by the forces of the sea."""
        load = (self.water_kg if state == "under water" else self.air_kg) + added_kg
        waters = self.inputs.sea.waters
        return VesselLift(
            self.vessel,
            self.head,
            HungLoad(state, np.maximum(load, 0.0)),
            self.papers.chart_for(waters),
            waters,
            self.papers.derrick,
        )

    def answer(self, state: State, added_kg: float = 0.0) -> VesselAnswer:
        """Return the vessel's answer in one state."""
        return vessel_answer(self.lift(state, added_kg))

    def p95_kg(self, state: State) -> float:
        """Return the 95th percentile of the still hook load."""
        return float(np.quantile(self.water_kg if state == "under water" else self.air_kg, 0.95))


def alongside(inputs: SeawayInputs, papers: VesselPapers, head: Head, water_kg_m3: float) -> Alongside:
    """Return the vessel and the hook load, by the heavier use of the draws."""
    sums, use = inputs.sums, inputs.hook_use
    extra = 0.0 if use.extra_kg is None else use.extra_kg
    more: Array | float = 0.0
    if inputs.rigging_kg is not None:
        has_own = any(t.role == "rigging" for t in sums.solids)
        more = np.maximum(inputs.rigging_kg - sums.rigging_kg, 0.0) if has_own else inputs.rigging_kg
    which = picked(sums.drawn.draws.n, use.weights, DRAWS)
    water = (sums.submerged_kg + extra + more)[which]
    air = (sums.mass_kg + sums.water_clear_kg + extra + more)[which]
    vessel = papers.drawn(len(which), np.random.default_rng(inputs.seed), water_kg_m3)
    return Alongside(papers, vessel, head, water, air, inputs)


def with_the_sea(beside: Alongside, splash: SimplifiedAnswer | None, g_m_s2: float) -> tuple[VesselAnswer, ...]:
    """Return the vessel under water and in air; with the forces of the sea where the splash zone gave them.

    Each draw of the load is raised so that its 95th percentile is the greatest hook load of the splash zone.
    """
    air = water = 0.0
    if splash is not None and splash.hook_kg is not None and splash.cases:
        air = max(splash.hook_kg - beside.p95_kg("in air"), 0.0)
        under = [c for c in splash.cases if c.kind == "just under"]
        deepest = max(under, key=lambda c: c.water_line_m)
        greatest = max(deepest.greatest_n, deepest.snap_n or 0.0) / g_m_s2
        water = max(greatest - beside.p95_kg("under water"), 0.0)
    return beside.answer("under water", water), beside.answer("in air", air)


def named_checks(answers: tuple[VesselAnswer, ...]) -> tuple[VesselAnswer, ...]:
    """Return the answers with the state in the titles of their checks."""
    return tuple(
        replace(a, checks=tuple(replace(c, title=f"{c.title}, {a.state}") for c in a.checks)) for a in answers
    )


def vessel_bears(still: VesselAnswer) -> tuple[Bears, ...]:
    """Return what load chart and heel limit bear, each with the heel that the load makes itself."""
    found = []
    if still.chart_load_kg is not None:
        found.append(Bears(still.chart_load_kg, "the load chart", "hook load over what the load chart allows"))
    if still.heel_load_kg is not None and still.heel_limit_deg is not None:
        at = f"{still.heel_limit_deg:g}°"
        found.append(Bears(still.heel_load_kg, "the heel of the vessel", f"hook load over what heels her {at}"))
    return tuple(found)


def low_gm(values: Array) -> float:
    """Return the 5th percentile of GM (n,), m."""
    return float(weighted_quantile(values, 0.05, None))
