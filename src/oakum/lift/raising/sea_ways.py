"""Ways through the sea: each takes the plan's question, changes one thing, and asks again."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from oakum.lift.raising.lighter import drained, with_ballast
from oakum.lift.raising.on_edge import Axis, on_edge
from oakum.lift.raising.plan import Help
from oakum.lift.raising.sea_words import is_begun_in, limit_at
from oakum.lift.seaway import SeaPart, SeawayAnswer, SeawayInputs, seaway_answer
from oakum.lift.seaway.both import worse_answer
from oakum.lift.seaway.inputs import Questions, seaway_questions
from oakum.lift.seaway.pieces import OBJECT
from oakum.lift.splash import Question, SimplifiedAnswer, perforation_factor, simplified
from oakum.lift.splash.rules import SLACK_SHARE
from oakum.lift.weights.weighing import Weighing

DRAWS = 200
"""Draws that stand for all in a help, before and after alike."""

OPEN_PERCENT = 30.0
"""How much of a closed floor is taken out: it still carries, and its added mass is about halved."""

_MOST_BALLAST = 2.0  # times the mass of the load
_HALVINGS = 10
_ROUND_KG = 10.0
_LEAST_FLOOR = 0.1  # of the plan of the object, from which a member is worth opening

RATIO = "forces of the sea over the least weight on the line, worst load case; above 0.9 it may go slack"
HOOK = "greatest hook load through the surface"
SEA = "significant wave height to begin in"
DRAINED = "Hollows drained on the way up"
FLOOR_COST = "less floor to bear on: check the pressure on the object; small finds and mud fall through, lay a net"
EDGE_COST = (
    "a turning on the bed and slings and a cradle of their own; wood, joints and crust bear their weight another way, "
    "loose parts fall: the conservator decides"
)
DRAINED_COST = (
    "openings bored or plugs drawn: only by the conservator; a thin wall loses the water that held it, fill washes out"
)
CALM_COST = "none to the object but another day in the sea, and the window may not come"


class WontHelp(Exception):
    """Why a way cannot be gone or would not help."""


@dataclass(frozen=True, slots=True)
class Made:
    """The plan's question with few draws, and its answers."""

    inputs: SeawayInputs
    answer: SeawayAnswer
    asked: Questions
    splash: SimplifiedAnswer
    weighing: Weighing
    hs_m: float
    tz_s: float


def few(asked: Questions) -> Questions:
    """Return the questions with few draws that stand for all."""
    return replace(asked, hook=_thin(asked.hook), slack=_thin(asked.slack))


def _thin(one: Question) -> Question:
    return replace(one, body=one.body.few(DRAWS))


def solved(asked: Questions, hs_m: float, tz_s: float) -> SimplifiedAnswer:
    """Return the worse of hook and slack line in a sea, by the simplified method."""
    return worse_answer(simplified(asked.hook, hs_m, tz_s), simplified(asked.slack, hs_m, tz_s))


def ratio(answer: SimplifiedAnswer) -> float:
    """Return the greatest share of the least weight that the sea takes from the line, of all load cases."""
    return max(case.slack_ratio for case in answer.cases)


def _gone(before: SimplifiedAnswer, after: SimplifiedAnswer) -> tuple[str, ...]:
    left = {_bones(o) for o in after.objections}
    return tuple(o for o in before.objections if _bones(o) not in left)


def _bones(words: str) -> str:
    return "".join(c for c in words if not c.isdigit())


def _asked_again(made: Made, inputs: SeawayInputs) -> SeawayAnswer:
    """Return the whole answer to a changed question; its curve is not looked at and not found again."""
    points = () if made.answer.curve is None else made.answer.curve.points
    return seaway_answer(replace(inputs, points=points))


def gone_of(before: SeawayAnswer, after: SeawayAnswer) -> tuple[str, ...]:
    """Return the objections that go; one that only changes its number has not gone."""
    left = {_bones(o) for o in after.objections}
    return tuple(o for o in before.objections if _bones(o) not in left)


def ballast(made: Made) -> Help:
    """Return the least ballast of steel with which the line stays taut, and what it costs hook and vessel."""
    before = ratio(made.splash)
    if before <= SLACK_SHARE:
        raise WontHelp("the line stays taut in the plan's sea without it")

    def at(kg: float) -> float:
        return ratio(_splash_of(made, _with_ballast(made, kg)))

    high = _MOST_BALLAST * float(np.median(made.asked.slack.body.mass_kg))
    if at(high) > SLACK_SHARE:
        raise WontHelp(f"even {high:,.0f} kg of steel do not keep the line taut")
    low = 0.0
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if at(middle) > SLACK_SHARE else (low, middle)
    steel = math.ceil(high / _ROUND_KG) * _ROUND_KG
    after = _asked_again(made, _with_ballast(made, steel))
    cost = f"none to the object, if it does not hang on it; {_on_hook(made.answer, after)}"
    left = {_bones(o) for o in made.answer.objections}
    new = next((o for o in after.objections if _bones(o) not in left), None)
    if new is not None:
        cost += f"; it brings the objection: {new}"
    title = f"{steel:,.0f} kg of steel as ballast under the hook"
    return Help(title, RATIO, before, at(steel), "1", cost, gone_of(made.answer, after))


def _with_ballast(made: Made, kg: float) -> SeawayInputs:
    """Return the question with ballast; rigging that the rig file gives hangs there beside it."""
    inputs = made.inputs
    typed = None if inputs.rigging_kg is None else inputs.rigging_kg + kg
    sums = with_ballast(made.weighing, kg)
    return replace(inputs, sums=sums, rigging_kg=typed, shape=made.asked.shape)


def _on_hook(before: SeawayAnswer, after: SeawayAnswer) -> str:
    """Say what a heavier load does to hook and vessel."""
    told = []
    loads = [None if a.splash is None else a.splash.hook_kg for a in (before, after)]
    if loads[1] is not None:
        was = "not known" if loads[0] is None else f"{loads[0]:,.0f} kg"
        told.append(f"hook load through the surface {loads[1]:,.0f} kg instead of {was}")
    heels = [a.vessel[-1].heel_deg if a.vessel else None for a in (before, after)]
    if heels[0] is not None and heels[1] is not None:
        told.append(f"she heels {heels[1].p95:.1f}° instead of {heels[0].p95:.1f}°")
    return ", ".join(told) or "hook and vessel could not be asked"


def open_floor(made: Made) -> Help:
    """Return the ratio with the broadest floor or member under the object perforated."""
    parts = made.asked.slack.body.parts
    of_object = max((p.plan_m2 for p in parts if p.name == OBJECT), default=0.0)
    least = max(_LEAST_FLOOR * of_object, 1e-6)
    floors = [p for p in parts if p.name not in (OBJECT, *made.inputs.sums.frame) and p.plan_m2 >= least]
    if not floors and made.inputs.sums.frame:
        raise WontHelp("it lies on the members of a frame, open between them; what carries is not bored")
    if not floors:
        raise WontHelp("nothing under it is a closed floor: what carries it is narrow or open already")
    floor = max(floors, key=lambda p: p.added_m3)
    given = {p.name: p for p in made.inputs.sea.parts}
    if floor.name in given and given[floor.name].open_percent is not None:
        raise WontHelp(f'how far "{floor.name}" is open is given in the rig file already')
    left = 1.0 - OPEN_PERCENT / 100.0
    hit = floor.plan_m2 if floor.slam_m2 is None else floor.slam_m2
    opened = SeaPart(
        floor.name,
        plan_m2=left * floor.plan_m2,
        waterplane_m2=left * floor.waterplane_m2,
        added_kg=floor.added_m3 * perforation_factor(OPEN_PERCENT) * made.asked.shape.water_kg_m3,
        slam_m2=left * hit,
        drag=floor.drag_coefficient,
        slam=floor.slam_coefficient,
    )
    sea = replace(made.inputs.sea, parts=(*(p for p in made.inputs.sea.parts if p.name != floor.name), opened))
    after = _splash_of(made, replace(made.inputs, sea=sea, shape=None))
    title = f'"{floor.name}" perforated, {OPEN_PERCENT:g} % open'
    return Help(title, RATIO, ratio(made.splash), ratio(after), "1", FLOOR_COST, _gone(made.splash, after))


def _splash_of(made: Made, inputs: SeawayInputs) -> SimplifiedAnswer:
    return solved(few(seaway_questions(inputs)), made.hs_m, made.tz_s)


def turned_on_edge(made: Made) -> Help:
    """Return the ratio with the body turned on edge, about whichever axis is better."""
    inputs = made.inputs
    if inputs.sums.frame:
        raise WontHelp("it hangs in its cradle, which is made for it lying as it lies: another cradle is needed")
    axes: tuple[Axis, ...] = ("x", "y")
    found = {
        axis: _splash_of(made, replace(inputs, sums=on_edge(inputs.sums, axis), shape=None)) for axis in axes
    }
    axis, after = min(found.items(), key=lambda item: ratio(item[1]))
    before = ratio(made.splash)
    if ratio(after) >= before:
        raise WontHelp("turned on edge the sea asks no less of it")
    title = f"Turned on edge about its axis {'along' if axis == 'x' else 'across'}"
    return Help(title, RATIO, before, ratio(after), "1", EDGE_COST, _gone(made.splash, after))


def drained_on_the_way(made: Made) -> Help:
    """Return the hook load with every hollow let out on the way up."""
    sums = drained(made.weighing)
    if sums is None:
        raise WontHelp("no hollow that holds water is described")
    after = _splash_of(made, replace(made.inputs, sums=sums, shape=None))
    before_kg, after_kg = (_greatest_kg(one, made) for one in (made.splash, after))
    return Help(DRAINED, HOOK, before_kg, after_kg, "kg", DRAINED_COST, _gone(made.splash, after))


def _greatest_kg(answer: SimplifiedAnswer, made: Made) -> float:
    return max(max(c.greatest_n, c.snap_n or 0.0) for c in answer.cases) / made.asked.hook.water.g_m_s2


def calmer(made: Made) -> Help:
    """Return the sea in which the objection is gone, by the limit at the plan's period, asked again there."""
    point = limit_at(made.answer)
    if point is None or point.why_not:
        raise WontHelp(
            "no limit of the sea is known for this period" if point is None else "; ".join(point.why_not)
        )
    if point.hs_m is None or point.hs_m > made.hs_m:
        at = f"Hs {point.steepest_m:.2f} m, the steepest" if point.hs_m is None else f"Hs {point.hs_m:.2f} m"
        raise WontHelp(f"the height of the plan's sea makes no objection before {at}")
    if not is_begun_in(point) or not point.skipper_m:
        raise WontHelp(f"an objection appears at Hs {point.hs_m:.2f} m already: too little to print a sea to begin in")
    sea = replace(made.inputs.sea, hs_m=point.skipper_m)
    after = _asked_again(made, replace(made.inputs, sea=sea))
    return Help(
        f"Wait for Hs {point.skipper_m:.2f} m at Tz {made.tz_s:g} s",
        SEA,
        made.hs_m,
        point.skipper_m,
        "m",
        CALM_COST,
        gone_of(made.answer, after),
    )


