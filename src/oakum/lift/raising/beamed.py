"""The load under a spreader, under water and in air, with its top legs and drops checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check, Rule
from oakum.lift.raising.gear_use import wll_kg
from oakum.lift.raising.loads import Draw
from oakum.lift.raising.plan import GearItem
from oakum.lift.raising.rig_plan import Piece, RigPlan, RigSpreader
from oakum.lift.slings import SlingError, SpreaderAnswer, spreader_answer

Array = NDArray[np.float64]

TAG = Rule(
    "spreader legs",
    "top legs and drops are used straight, each at most at the WLL on its tag",
    "the tag",
    mark="practice, no source",
)


@dataclass(frozen=True, slots=True)
class Beamed:
    """What the spreader says in each state, and why not."""

    answers: tuple[tuple[str, SpreaderAnswer], ...] = ()
    checks: tuple[Check, ...] = ()
    objections: tuple[str, ...] = ()
    open_questions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()  # states without an answer, and why; among the objections too


def hang_on_spreader(rig: RigPlan, draw: Draw, gear: Mapping[str, GearItem]) -> Beamed:
    """Return the load under the spreader of a rig; nothing where it has none."""
    if rig.spreader is None:
        return Beamed()
    answers: list[tuple[str, SpreaderAnswer]] = []
    refused: list[str] = []
    for state in ("under water", "in air"):
        try:
            answers.append((state, _one(rig.spreader, draw, state)))
        except SlingError as error:
            refused.append(f"{state}: {error}")
    checks: list[Check] = []
    for key in ("spreader:buckling", "spreader:yield"):
        found = [c for _, a in answers for c in a.checks if c.key == key]
        checks += [max(found, key=lambda c: c.demand)] if found else []
    if answers:
        checks += _legs(rig.spreader, [a for _, a in answers], gear)
    said = [*(o for _, a in answers for o in a.objections), *(c.objection for c in checks if c.objection)]
    return Beamed(
        tuple(answers),
        tuple(checks),
        tuple(dict.fromkeys([*refused, *said])),
        tuple(dict.fromkeys(q for _, a in answers for q in a.open_questions)),
        tuple(dict.fromkeys(s for _, a in answers for s in a.assumptions)),
        tuple(refused),
    )


def _one(spreader: RigSpreader, draw: Draw, state: str) -> SpreaderAnswer:
    load = draw.load(state)
    first, second = (np.array(end) for end in spreader.ends_m)
    along = (second - first)[:2]
    span = float(np.hypot(*along))
    if span <= 1e-6:
        raise SlingError(
            "the two eyes under the spreader are one above the other; give them different places"
        )
    middle = 0.5 * (first + second)
    offset = (load.hanging_m[:, :2] - middle[:2]) @ (along / span)
    depth = float(middle[2]) - load.hanging_m[:, 2]
    return spreader_answer(load.weight_n, offset, depth, spreader.beam, load.use_weights)


def _legs(spreader: RigSpreader, answers: list[SpreaderAnswer], gear: Mapping[str, GearItem]) -> list[Check]:
    found = []
    for key, words, piece, which in (
        ("spreader:top", "top leg of the spreader", spreader.top, "top_n"),
        ("spreader:drop", "drop of the spreader", spreader.drop, "drop_n"),
    ):
        demand = max(force.p95 for answer in answers for force in getattr(answer, which)) / G_M_S2
        found.append(_tag(key, words, demand, piece, gear))
    return found


def _tag(key: str, words: str, demand: float, piece: Piece, gear: Mapping[str, GearItem]) -> Check:
    capacity = wll_kg(piece, gear)
    objection = None
    if capacity is None:
        objection = f"{words}: no WLL known; no tag, no rating"
    elif demand > capacity:
        objection = f"{words}: {demand:,.0f} kg against {capacity:,.0f} kg"
    return Check(key, words, demand, capacity, "kg", "95th percentile of its greatest force", TAG, objection)
