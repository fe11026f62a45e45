"""The rig as bodies in space, for a view that can be turned: the numbers of the elevations, none of its own.

Everything is in the body's frame, metres: x along, y across, z up. How a state hangs is a turn about its hook,
as in the elevations; water levels and the plumb line of the hook are level and upright after that turn.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from oakum.draw.body_marks import PointMark
from oakum.draw.coarser import coarser
from oakum.draw.parts import Shown, shown_parts
from oakum.draw.rig import state_marks
from oakum.draw.rig_legs import force_words
from oakum.draw.rig_panel import ball_m, hook_words, made_fast_m, tilt_words, tops_m
from oakum.draw.rig_pose import RIGGING, Array, Point3, Pose, pose_of
from oakum.draw.scale import bar_length_m
from oakum.draw.scene_water import WaterLevel, water_levels
from oakum.draw.svg import DrawingError
from oakum.ground.gravity import G_M_S2
from oakum.lift import Body
from oakum.lift.body.model import Part
from oakum.lift.raising.plan import RaisingPlan, RigView
from oakum.lift.weights.emergence import Emergence

MOST_FACES = 16_000
"""Triangles of one piece that a page is sent; a finer scan is made coarser for the eye."""
METAL_KG_M3, STONE_KG_M3 = 5_000.0, 1_600.0


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A piece as it most likely is: vertices (n, 3), triangles (m, 3) turned outward.

    `tone` is how dark it is drawn: "wood", "stone", "metal" by its density, or "" where it goes by its role.
    """

    name: str
    role: str
    tone: str
    vertices: Array
    faces: NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class SpaceLeg:
    """A leg from its upper end to its attachment; `label` is its number, force and angle."""

    name: str
    label: str
    top_m: Point3
    at_m: Point3


@dataclass(frozen=True, slots=True)
class SpaceBag:
    """A bag by its mouth, where its strop is made fast, and its diameter as a ball of its full volume."""

    name: str
    mouth_m: Point3
    foot_m: Point3 | None
    diameter_m: float


@dataclass(frozen=True, slots=True)
class SpacePoint:
    """A centre or hanging point: letter, likely place, and the middle and half axes of its P5 to P95 cloud."""

    tag: str
    name: str
    at_m: Point3
    middle_m: Point3
    half_m: Point3


@dataclass(frozen=True, slots=True)
class SpaceState:
    """One state of the rig. `turn` are the rows of the turn about the hook; `low_m`, `high_m` bound what hangs."""

    state: str
    words: str
    turn: tuple[Point3, Point3, Point3]
    hook_m: Point3
    legs: tuple[SpaceLeg, ...]
    beam_m: tuple[Point3, Point3] | None
    bags: tuple[SpaceBag, ...]
    points: tuple[SpacePoint, ...]
    low_m: Point3
    high_m: Point3


@dataclass(frozen=True, slots=True)
class RigScene:
    """Everything the view shows. `bar_m` is the length of its scale bar; `wave_m` the sea's Hs where it is known."""

    title: str
    pieces: tuple[Piece, ...]
    states: tuple[SpaceState, ...]
    levels: tuple[WaterLevel, ...]
    bar_m: float
    wave_m: float | None
    coarse: tuple[str, ...]  # names of pieces that are drawn coarser than they are


def rig_scene(plan: RaisingPlan, emergence: Emergence) -> RigScene:
    """Return the rig in space, every state of the plan's views; `emergence` is that of the plan's weighing.

    Raises `DrawingError` where there is no view or the body has no parts, as the elevations do.
    """
    if not plan.views:
        raise DrawingError("there is no rig to draw: describe hook and legs in the rig file")
    pieces = body_pieces(plan.weight.body)
    if not pieces:
        raise DrawingError("a body without parts cannot be drawn: add a part")
    states = tuple(_state(plan, view, pieces) for view in plan.views)
    across = max(high - low for s in states for low, high in zip(s.low_m, s.high_m, strict=True))
    fine = {s.name for s in shown_parts(plan.weight.body) if len(s.faces) > MOST_FACES}
    sea = None if plan.seaway is None else plan.seaway.asked.hs_m
    return RigScene(
        title=plan.title,
        pieces=pieces,
        states=states,
        levels=water_levels(plan, emergence, {s.state: (s.low_m[2], s.high_m[2]) for s in states}),
        bar_m=bar_length_m(0.45 * across),
        wave_m=sea,
        coarse=tuple(p.name for p in pieces if p.name in fine),
    )


@lru_cache(maxsize=8)
def body_pieces(body: Body) -> tuple[Piece, ...]:
    """Return every piece of a body but slings, which are drawn as legs."""
    parts = {part.name: part for part in body.parts}
    water = body.water.density_kg_m3.best
    return tuple(
        Piece(s.name, s.role, _tone(s, parts.get(s.name), water), *coarser(s.vertices, s.faces, MOST_FACES))
        for s in shown_parts(body)
        if s.role != RIGGING
    )


def _tone(shown: Shown, part: Part | None, water_kg_m3: float) -> str:
    """Return how dark an object's piece is drawn: by what it is made of."""
    if shown.role != "object" or part is None or part.stuff is None:
        return ""
    density = part.stuff.density_kg_m3
    if part.stuff.is_wood or density is None or density.best < max(STONE_KG_M3, water_kg_m3):
        return "wood"
    return "metal" if density.best >= METAL_KG_M3 else "stone"


def _state(plan: RaisingPlan, view: RigView, pieces: tuple[Piece, ...]) -> SpaceState:
    answer = plan.under_water if view.state == "under water" else plan.in_air
    hook = [] if answer is None else [hook_words(answer.hook_load_n.p95 / G_M_S2, plan.cell_unit)]
    points = np.array([at for _, at in view.attachments], dtype=np.float64).reshape(-1, 3)
    tops = tops_m(view, points, plan.rig)
    legs = tuple(
        SpaceLeg(name, f"{i + 1}: {force_words(view, i, plan.cell_unit)}", _point(tops[i]), at)
        for i, (name, at) in enumerate(view.attachments)
    )
    apart = len(tops) == 2 and bool(np.abs(tops[0] - tops[1]).max() > 1e-9)
    bags = tuple(
        SpaceBag(name, mouth, made_fast_m(name, plan.rig), ball_m(volume)) for name, mouth, volume in view.bags
    )
    whole = {"under water": "all under water", "in air": "in air, clear of the surface"}.get(view.state, view.state)
    pose = pose_of(view)
    low, high = _bounds(view, pose, pieces, [*points, *tops], bags)
    return SpaceState(
        state=view.state,
        words=f"Legs, their forces and the tilt as {whole}: {', '.join([*hook, tilt_words(view)])}.",
        turn=pose.rows,
        hook_m=view.hook_m,
        legs=legs,
        beam_m=(_point(tops[0]), _point(tops[1])) if apart else None,
        bags=bags,
        points=tuple(_space_point(mark) for mark in state_marks(plan, view.state)),
        low_m=low,
        high_m=high,
    )


def _space_point(mark: PointMark) -> SpacePoint:
    spreads = (mark.centre.x_m, mark.centre.y_m, mark.centre.z_m)
    return SpacePoint(
        mark.tag,
        mark.name,
        _point(np.array([s.best for s in spreads])),
        _point(np.array([(s.p5 + s.p95) / 2 for s in spreads])),
        _point(np.array([(s.p95 - s.p5) / 2 for s in spreads])),
    )


def _bounds(
    view: RigView, pose: Pose, pieces: tuple[Piece, ...], points: list[Array], bags: tuple[SpaceBag, ...]
) -> tuple[Point3, Point3]:
    """Return the lowest and highest corner of everything that hangs, turned as it hangs."""
    spots = [np.asarray(view.hook_m)[None], *(pose.at(p.vertices) for p in pieces)]
    if points:
        spots.append(pose.at(np.array(points)))
    for bag in bags:
        r, mouth = bag.diameter_m / 2, pose.at(np.asarray(bag.mouth_m))
        spots.append(mouth + np.array([(-r, -r, 0.0), (r, r, 2.2 * r)]))
    every = np.concatenate(spots)
    return _point(every.min(axis=0)), _point(every.max(axis=0))


def _point(values: Array) -> Point3:
    x, y, z = (float(v) for v in values)
    return x, y, z

