"""What would help in the sea: ballast, an open floor, a smaller waterplane, a calmer sea, a nearer radius.

Each is solved again with one thing changed, before and after with the same draws, and says what it costs.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from oakum.ground.errors import OakumError
from oakum.lift.raising import sea_ways as ways
from oakum.lift.raising.at_sea import AtSea
from oakum.lift.raising.plan import Help
from oakum.lift.seaway import SeawayAnswer, SeawayInputs, seaway_answer
from oakum.lift.seaway.inputs import seaway_questions
from oakum.lift.weights.weighing import Weighing

_RADIUS = "radius of the boom head"
_RADIUS_COST = "none to the object; the vessel lies nearer over it, the load passes nearer to her side"


def helps_at_sea(sea: AtSea, weighing: Weighing) -> tuple[Help, ...]:
    """Return what would help in the plan's sea; nothing where the rig file has no `[seaway]`.

    While Hs, Tz or the motion of the boom head is not known there is nothing to solve: each is refused with that.
    """
    inputs, answer = sea.inputs, sea.seaway
    if inputs is None or answer is None:
        return ()
    radius = _nearer(inputs, answer)
    hs, tz = inputs.sea.hs_m, inputs.sea.tz_s
    if hs is None or tz is None or answer.splash is None or not answer.splash.cases:
        said = answer.splash.objections if answer.splash is not None else answer.refused
        why = next(iter((*said, *answer.objections)), "the plan's sea could not be computed")
        return (*(_refused(way, None, why) for way in _WAYS), radius)
    asked = ways.few(seaway_questions(inputs))
    made = ways.Made(inputs, answer, asked, ways.solved(asked, hs, tz), weighing, hs, tz)
    return (*(_tried(way, made) for way in _WAYS), radius)


def _tried(way: _Way, made: ways.Made) -> Help:
    try:
        return way.solve(made)
    except (ways.WontHelp, OakumError) as error:
        before = None if way.unit != "1" else ways.ratio(made.splash)
        return _refused(way, before, str(error))


@dataclass(frozen=True, slots=True)
class _Way:
    """One thing to change: its name, the number that moves, its unit, its cost, how it is solved."""

    title: str
    measure: str
    unit: str
    cost: str
    solve: Callable[[ways.Made], Help]


def _refused(way: _Way, before: float | None, why: str) -> Help:
    return Help(way.title, way.measure, before, None, way.unit, way.cost, refused=why)


def _nearer(inputs: SeawayInputs, answer: SeawayAnswer) -> Help:
    """Return the radius at which load chart and heel have no objection, asked again there."""
    limit = answer.radius

    def refused(why: str) -> Help:
        return Help("A nearer radius", _RADIUS, inputs.sea.radius_m, None, "m", _RADIUS_COST, refused=why)

    if limit is None or limit.asked is None:
        return refused("vessel or radius is not known")
    if limit.value is None:
        return refused(limit.why_not)
    if not limit.is_over:
        return refused(f"the radius makes no objection before {limit.value:.2f} m")
    nearer = math.floor(limit.value * 10.0 - 1e-6) / 10.0
    chart = None if inputs.papers is None else inputs.papers.chart_for(inputs.sea.waters)
    if chart is None or nearer < chart.radius_m[0]:
        return refused("no radius of the load chart is near enough for this load")
    periods = () if inputs.sea.tz_s is None else (inputs.sea.tz_s,)
    try:
        after = seaway_answer(replace(inputs, sea=replace(inputs.sea, radius_m=nearer, periods_s=periods)))
    except OakumError as error:
        return refused(str(error))
    title = f"Boom head at {nearer:.1f} m radius"
    return Help(title, _RADIUS, limit.asked, nearer, "m", _RADIUS_COST, ways.gone_of(answer, after))


_WAYS = (
    _Way("Ballast under the hook", ways.RATIO, "1", "more load on hook and vessel", ways.ballast),
    _Way("An open floor", ways.RATIO, "1", ways.FLOOR_COST, ways.open_floor),
    _Way("Turned on edge", ways.RATIO, "1", ways.EDGE_COST, ways.turned_on_edge),
    _Way(ways.DRAINED, ways.HOOK, "kg", ways.DRAINED_COST, ways.drained_on_the_way),
    _Way("A calmer sea", ways.SEA, "m", ways.CALM_COST, ways.calmer),
)
