"""What the answer about a sea is made from, and the questions put to the splash zone."""

from __future__ import annotations

import math
from dataclasses import dataclass

from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.seaway.body import SplashShape, splash_body, splash_shape
from oakum.lift.seaway.model import SeaAsked
from oakum.lift.seaway.tip import TipFound, tip_found
from oakum.lift.splash import LimitPoint, Line, Question, Water, in_series_n_m
from oakum.lift.vessel import VesselPapers
from oakum.lift.weights.conditioning import Use
from oakum.lift.weights.sums import Sums


@dataclass(frozen=True, slots=True, eq=False)
class SeawayInputs:
    """A weighing, a sea and a vessel.

    `hook_use` of the draws for all that must not be too heavy, `slack_use` for all that must not be too light.
    `papers` None: the vessel is not known. `cradle` None: there is none. `hook_kg`: WLL of hook and all under it,
    None: not known. `rigging_kg`: typed weight of what hangs between hook and load. `slings_n_m`: the legs of the rig
    as one spring, None: not known. `seed` of the vessel's draws. `shape`: of the same sums, cradle and parts, to save
    finding it again; `points`: of the same limit curve, likewise.
    """

    sums: Sums
    hook_use: Use
    slack_use: Use
    sea: SeaAsked
    papers: VesselPapers | None = None
    cradle: CradlePlan | None = None
    hook_kg: float | None = None
    rigging_kg: float | None = None
    slings_n_m: float | None = None
    seed: int = 0
    shape: SplashShape | None = None
    points: tuple[LimitPoint, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Questions:
    """The same question with the draws as the hook takes them, and as a slack line does; and how the head moves."""

    hook: Question
    slack: Question
    tip: TipFound
    shape: SplashShape


def seaway_questions(inputs: SeawayInputs) -> Questions:
    """Return both questions of a lift. `SplashError` where body, line or depth cannot be."""
    sea = inputs.sea
    shape = inputs.shape or splash_shape(inputs.sums, inputs.cradle, sea.parts)
    water = Water(shape.water_kg_m3, sea.depth_m)
    stiffness = line_n_m(sea, inputs.slings_n_m)
    line = None if stiffness is None else Line(stiffness, sea.line_damping)
    tip = tip_found(sea, inputs.papers)
    heavy = splash_body(inputs.sums, inputs.hook_use, shape, rigging_kg=inputs.rigging_kg)
    light = splash_body(inputs.sums, inputs.slack_use, shape, slack=True)
    hook = Question(heavy, water, tip.motion, line, sea.hoist_m_s, inputs.hook_kg)
    return Questions(
        hook, Question(light, water, tip.motion, line, sea.hoist_m_s, inputs.hook_kg), tip, shape
    )


def seaway_question(inputs: SeawayInputs, *, slack: bool = False) -> Question:
    """Return the question as the hook asks it, or with `slack` as a slack line does; all draws with their weights."""
    both = seaway_questions(inputs)
    return both.slack if slack else both.hook


def line_n_m(sea: SeaAsked, slings_n_m: float | None) -> float | None:
    """Return line and slings in series, N/m; the line alone where the slings' is not known, None without the line's."""
    if sea.line_n_m is None:
        return None
    return sea.line_n_m if slings_n_m is None else in_series_n_m(sea.line_n_m, slings_n_m)


def slings_n_m(springs_n_m: tuple[float, ...], from_horizontal_deg: tuple[float, ...]) -> float | None:
    """Return the legs of a rig as one spring up and down: the sum of k sin(angle)^2; None where one is not known.

    Small motions of a load that does not tilt, legs straight and taut (own calculation).
    """
    if not springs_n_m or len(springs_n_m) != len(from_horizontal_deg):
        return None
    total = sum(
        k * math.sin(math.radians(a)) ** 2 for k, a in zip(springs_n_m, from_horizontal_deg, strict=True)
    )
    return total if total > 0.0 else None
