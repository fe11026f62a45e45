"""From a weighing to the body that goes through the splash zone: the same draws, the same sums, its shape by parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from oakum.ground.solids import Mesh
from oakum.lift.body.likely import PlacedPart, placed_parts
from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.seaway.hanging import hanging
from oakum.lift.seaway.hollows import held_kg, hollows
from oakum.lift.seaway.model import SeaPart
from oakum.lift.seaway.overrides import overridden
from oakum.lift.seaway.pieces import Sorted, crate_parts, object_part
from oakum.lift.seaway.shadow import reach_m
from oakum.lift.splash import Hollow, Part, SplashBody
from oakum.lift.weights.conditioning import Use
from oakum.lift.weights.drawn import Array, Outline, Term
from oakum.lift.weights.emergence import share_below
from oakum.lift.weights.sums import Sums

_RUNGS = 129


@dataclass(frozen=True, slots=True, eq=False)
class SplashShape:
    """The shape of a weighed body in the splash zone, for every use of its draws.

    `rising_m3` (k,): its volume with the surface at evenly spaced heights from its lowest to its highest point.
    """

    parts: tuple[Part, ...]
    hollows: tuple[Hollow, ...]
    rising_m3: Array
    longest_m: float
    water_kg_m3: float
    assumptions: tuple[str, ...]
    objections: tuple[str, ...]


def splash_shape(
    sums: Sums, cradle: CradlePlan | None = None, asked: Sequence[SeaPart] = ()
) -> SplashShape:
    """Return the shape of a weighed body: parts at their heights, hollows, volume against height.

    `asked`: what somebody knows better than the shapes. `SplashError` for a body without a shape, or numbers that
    cannot be.
    """
    body = sums.drawn.body
    water = float(np.median(sums.drawn.full(sums.drawn.water_kg_m3)))
    hung = hanging(body)
    placed = placed_parts(body)
    lines = np.linspace(hung.floor_m, hung.top_m, _RUNGS)
    solids = [t for t in sums.solids if t.role != "rigging"]
    under = _shares(solids, placed, lines)
    names = {p.name for p in hung.object_parts}
    alone = _volumes([t for t in solids if t.part.name in names], under)
    slope = float(np.max(np.diff(alone), initial=0.0)) / float(lines[1] - lines[0])
    object_ = object_part(sums, hung, slope)
    crate = crate_parts(sums, hung, None if cradle is None else cradle.frame)
    given = overridden(Sorted(object_.parts + crate.parts), asked, water)
    lowest = min(p.base_m for p in given.parts)
    parts = tuple(replace(p, base_m=max(p.base_m - lowest, 0.0)) for p in given.parts)
    rising = _volumes(solids, under)
    kept = [o for o in (*object_.objections, *crate.objections) if not _answered(o, asked)]
    return SplashShape(
        parts=parts,
        hollows=hollows(sums, hung.floor_m),
        rising_m3=rising / rising[-1] * sum(p.volume_m3 for p in parts),
        longest_m=reach_m([p.mesh for p in hung.everything]),
        water_kg_m3=water,
        assumptions=(*ASSUMPTIONS, *object_.assumptions, *crate.assumptions, *given.assumptions),
        objections=(*kept, *given.objections),
    )


ASSUMPTIONS = (
    "the load hangs in the attitude of its body file; object, crust and sediment are one part, what carries them "
    "another for each member",
    "plan areas and added mass follow from the likeliest measures, deep in the water; parts do not shield each other",
    "slings and shackles weigh and displace, and catch no waves; sediment stays where it is on the way out",
    "the waterplane of the object is the greatest solid area at any of its heights",
    "trapped water: a prism in each hollow, of its median volume; what a draw holds more or less hangs with the body "
    "for the hook and is left out for the slack line",
)


def splash_body(
    sums: Sums, use: Use, shape: SplashShape, *, slack: bool = False, rigging_kg: float | None = None
) -> SplashBody:
    """Return the body of a weighing, draw by draw with its mass, its displacement and the weight of the draw.

    For the hook, far below it pulls what the weighing says under water, and just clear what it says there, in every
    draw. With `slack` the load just clear is the mass without trapped water. `rigging_kg`: typed weight of what hangs
    between; it counts for the hook where the body's own parts weigh less, never against a slack line.
    `SplashError` where a draw has no mass.
    """
    extra = 0.0 if use.extra_kg is None else use.extra_kg
    submerged = sums.submerged_kg + extra
    clear = sums.mass_kg + extra
    if not slack:
        clear = clear + sums.water_clear_kg - held_kg(shape.hollows, shape.water_kg_m3)
        if rigging_kg is not None:
            has_own = any(t.role == "rigging" for t in sums.solids)
            more = np.maximum(rigging_kg - sums.rigging_kg, 0.0) if has_own else rigging_kg
            submerged, clear = submerged + more, clear + more
    volume = sum(p.volume_m3 for p in shape.parts)
    return SplashBody(
        parts=shape.parts,
        mass_kg=np.asarray(clear),
        volume_share=np.asarray((clear - submerged) / (shape.water_kg_m3 * volume)),
        longest_m=shape.longest_m,
        hollows=shape.hollows,
        weights=use.weights,
        rising_m3=shape.rising_m3,
    )


def _shares(solids: list[Term], placed: tuple[PlacedPart, ...], lines: Array) -> dict[Outline, Array]:
    """Return the share of every outline that bounds a solid below the lines (k,)."""
    wanted = {outline for t in solids for outline, _ in t.pieces}
    meshes: dict[Outline, Mesh] = {(p.name, "solid"): p.mesh for p in placed}
    meshes |= {(p.name, "coat"): p.coat for p in placed if p.coat is not None}
    return {outline: share_below(meshes[outline])(lines) for outline in wanted}


def _volumes(solids: list[Term], under: dict[Outline, Array]) -> Array:
    """Return the mean volume of terms below each line (k,), never falling."""
    total = np.zeros(_RUNGS)
    for term in solids:
        for outline, piece in term.pieces:
            total = total + float(np.mean(piece)) * under[outline]
    return np.asarray(np.maximum.accumulate(np.maximum(total, 0.0)))


def _answered(objection: str, asked: Sequence[SeaPart]) -> bool:
    """Whether somebody has given what an objection to a part's shape asks for."""
    return any(
        p.added_kg is not None
        and (objection.startswith(f"{p.name}: ") or (objection.startswith(f'"{p.name}" ') and _whole(p)))
        for p in asked
    )


def _whole(part: SeaPart) -> bool:
    return part.plan_m2 is not None and part.waterplane_m2 is not None
