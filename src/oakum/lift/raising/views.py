"""The rig as it is drawn, under water and in air."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from oakum.ground.estimate import Spread, weighted_quantile
from oakum.ground.gravity import G_M_S2
from oakum.lift.raising.bagged import Bagged
from oakum.lift.raising.loads import Draw
from oakum.lift.raising.plan import RigView
from oakum.lift.raising.rig_plan import Point, RigPlan
from oakum.lift.raising.solved import Solved
from oakum.lift.slings import SlingAnswer, SpreaderAnswer


def views(rig: RigPlan, solved: Solved, draw: Draw) -> tuple[RigView, ...]:
    """Return a view for each state that could be solved; bags are drawn under water only."""
    found = [_of_legs(state, answer, draw) for state, answer in solved.hung.answers.items()]
    found += [_of_spreader(rig, state, answer, draw) for state, answer in solved.beamed.answers]
    bags = _bags(rig, solved.bagged)
    return tuple(replace(v, bags=bags) if v.state == "under water" else v for v in found)


def _of_legs(state: str, answer: SlingAnswer, draw: Draw) -> RigView:
    return RigView(
        state=state,
        hook_m=answer.hook_m,
        attachments=tuple((leg.name, leg.attachment_m) for leg in answer.legs),
        leg_force_kg=tuple(as_reading(leg.greatest_n) for leg in answer.legs),
        from_horizontal_deg=tuple(leg.from_horizontal_deg.best for leg in answer.legs),
        hanging_m=_hanging(draw, state),
        tilt_deg=answer.tilt_deg.best,
    )


def _of_spreader(rig: RigPlan, state: str, answer: SpreaderAnswer, draw: Draw) -> RigView:
    """Return the view of a spreader: its drops stand upright over the eyes of the load."""
    assert rig.spreader is not None  # its answer is there
    first, second = rig.spreader.ends_m
    middle = 0.5 * (np.array(first) + np.array(second))
    top = float(max(first[2], second[2])) + rig.spreader.beam.hook_height_m
    return RigView(
        state=state,
        hook_m=(float(middle[0]), float(middle[1]), top),
        attachments=(("first drop", first), ("second drop", second)),
        leg_force_kg=tuple(as_reading(force) for force in answer.drop_n),
        from_horizontal_deg=(90.0, 90.0),
        hanging_m=_hanging(draw, state),
        tilt_deg=answer.tilt_deg.best,
    )


def as_reading(force_n: Spread) -> Spread:
    """Return a force as a load cell shows it, force / g, kg."""
    p5, best, p95, mean, sd = (
        v / G_M_S2 for v in (force_n.p5, force_n.best, force_n.p95, force_n.mean, force_n.sd)
    )
    return Spread(p5, best, p95, mean, sd, "kg", force_n.drivers)


def _hanging(draw: Draw, state: str) -> Point:
    cloud = draw.water_m if state == "under water" else draw.air_m
    x, y, z = (float(weighted_quantile(cloud[:, axis], 0.5, draw.weights)) for axis in range(3))
    return x, y, z


def _bags(rig: RigPlan, bagged: Bagged) -> tuple[tuple[str, Point, float], ...]:
    """Return name, place of the mouth and full volume of every bag whose place is known."""
    if rig.bags is None or bagged.answer is None:
        return ()
    column = bagged.answer.column
    return tuple(
        (
            bag.name,
            (bag.at_m[0], bag.at_m[1], bag.at_m[2] + (bag.strop_length_m or 0.0)),
            bag.kind.full_m3(column),
        )
        for bag in rig.bags.bags
        if bag.at_m is not None
    )
