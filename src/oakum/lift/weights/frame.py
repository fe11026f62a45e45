"""The frame of a cradle in the weighing: joined to the body it carries, and taken off what a load cell read.

A frame is built to a drawing: the scale of the tape that measured the find does not stretch it.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, replace

import numpy as np

from oakum.ground.estimate import Draws, spread_of
from oakum.lift.body.model import Body, Part
from oakum.lift.body.overlap import overlaps
from oakum.lift.weights.conditioning import Conditioned, Use, condition
from oakum.lift.weights.drawn import Drawn, draw
from oakum.lift.weights.report import CellReading, FrameShare
from oakum.lift.weights.sums import Array, Sums


@dataclass(frozen=True, slots=True)
class Framed:
    """A body with the parts of the frame that carries it; `frame` empty: no cradle is described."""

    body: Body
    frame: tuple[Part, ...] = ()

    def __post_init__(self) -> None:
        taken = {p.name for p in self.body.parts} & self.names
        if taken:
            raise ValueError(f"body and frame both have a part named {', '.join(sorted(taken))}: rename one")

    @property
    def names(self) -> frozenset[str]:
        """Names of the frame's parts."""
        return frozenset(p.name for p in self.frame)

    @property
    def whole(self) -> Body:
        """Body and frame as one."""
        return replace(self.body, parts=self.body.parts + self.frame) if self.frame else self.body

    def drawn(self, draws: Draws) -> Drawn:
        """Return the terms of both; those of the body are the same as without a frame."""
        find = draw(self.body, draws)
        if not self.frame:
            return find
        alone = replace(self.body, parts=self.frame, tape_scale=None)
        return replace(find, body=self.whole, terms=find.terms + draw(alone, draws).terms)


def frame_share(sums: Sums, weights: Array | None) -> FrameShare | None:
    """Return how much of the hook load is the frame, None where there is none."""
    if not sums.frame:
        return None
    return FrameShare(
        spread_of(sums.frame_submerged_kg, "kg", weights), spread_of(sums.frame_clear_kg, "kg", weights)
    )


def conditioned(sums: Sums, readings: Sequence[CellReading], rng: np.random.Generator) -> Conditioned:
    """Return what readings make of the draws of the find alone, without rigging and frame.

    What the frame weighs under water is taken off a reading it hung with, its spread with it. Where it is not known
    whether it hung there, that is an open question, and each check takes the worse of the two.
    """
    find = sums.submerged_kg - sums.rigging_submerged_kg - sums.frame_submerged_kg
    unsaid = [r for r in readings if r.with_frame is None] if sums.frame else []
    if not unsaid:
        return condition(find, [_net(r, sums, bool(r.with_frame)) for r in readings], rng)
    ways = []
    for hung in (True, False):
        net = [_net(r, sums, hung if r.with_frame is None else r.with_frame) for r in readings]
        ways.append(condition(find, net, deepcopy(rng)))
    # Which is worse hangs on what the model makes of each reading, not on the readings alone: one may contradict it.
    hook = max(ways, key=lambda way: _mean_kg(find, way.hook))
    slack = min(ways, key=lambda way: _mean_kg(find, way.slack))
    asked = tuple(
        f'not known whether the frame of the cradle hung on the cell at the reading "{r.text}": until somebody says '
        "so the hook takes the greater mass of the find, and slack line and bags the lesser"
        for r in unsaid
    )
    questions = tuple(dict.fromkeys((*asked, *hook.questions, *slack.questions)))
    return Conditioned(hook.hook, slack.slack, hook.result, questions)


def _mean_kg(find_kg: Array, use: Use) -> float:
    """Return the mean of the find's submerged mass under one use of the draws."""
    extra = 0.0 if use.extra_kg is None else use.extra_kg
    return float(np.average(find_kg + extra, weights=use.weights))


def _net(reading: CellReading, sums: Sums, hung: bool) -> CellReading:
    """Return a reading of the find alone: the frame, where it hung there, counted with what hung between."""
    if not hung or not sums.frame:
        return reading
    frame = spread_of(sums.frame_submerged_kg, "kg")
    sd = None if reading.sd_kg is None else float(np.hypot(reading.sd_kg, frame.sd))
    return replace(reading, rigging_kg=reading.rigging_kg + frame.best, sd_kg=sd)


def frame_objections(framed: Framed) -> tuple[str, ...]:
    """Return where the find and the frame stand in each other: their common volume would be weighed twice."""
    if not framed.frame:
        return ()
    found = [o for o in overlaps(framed.whole) if (o.first in framed.names) != (o.second in framed.names)]
    return tuple(
        f'"{o.first}" and "{o.second}" stand in each other: {100 * o.share:.0f} % of the smaller lies in both '
        f"({100 * o.allowed:.0f} % allowed). Put right where the cradle stands, a member, or the find"
        for o in found
    )


def frame_assumptions(framed: Framed) -> tuple[str, ...]:
    """Return what the weight of the frame rests on."""
    if not framed.frame:
        return ()
    said = [
        "The frame of the cradle counts in every state, as long and as thick as it is drawn; the scale of the tape "
        "does not stretch it.",
        "Load-cell readings are of the find without the frame, unless they say it hung there.",
    ]
    if any(p.fill is not None for p in framed.frame):
        said.append("Open and drilled tubes of the frame are counted full when it comes clear.")
    return tuple(said)
