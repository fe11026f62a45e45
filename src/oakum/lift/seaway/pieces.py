"""What hangs in the splash zone, sorted: the object as one part, what carries it member by member."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from oakum.lift.cradle import Frame, frame_splash_parts
from oakum.lift.seaway.hanging import Hanging, Piece, extent
from oakum.lift.seaway.shadow import shadow
from oakum.lift.seaway.shaped import MOST_OPEN_PERCENT, Shaped, outlined, shaped
from oakum.lift.splash import AddedMass, Part
from oakum.lift.weights.sums import Sums

OBJECT = "object"
"""How the rig file calls all of the object together."""

MOST_PIECES, MOST_LEVELS = 40, 12
"""More members, or members at more heights than that, count as one part."""


@dataclass(frozen=True, slots=True)
class Sorted:
    """Parts of the splash body, heights from its lowest point, and what is to be said of them."""

    parts: tuple[Part, ...]
    assumptions: tuple[str, ...] = ()
    objections: tuple[str, ...] = ()


def object_part(sums: Sums, hanging: Hanging, waterplane_m2: float) -> Sorted:
    """Return the object, its crust and its sediment as one part; nothing where the body has none of them.

    `waterplane_m2`: the greatest solid area cut at any height. Holes cut through it count as closed in the plan.
    """
    shapes = hanging.of_object
    if not shapes:
        return Sorted(())
    low, height = extent(shapes)
    volume = sum(volume_m3(sums, p.name) for p in hanging.object_parts)
    if len(shapes) == 1:
        only = shaped(shapes[0].solid, shapes[0].mesh, shapes[0].turn)
    else:
        seen = shadow([s.mesh for s in shapes])
        only = Shaped(seen, outlined(seen, height))
    added, said, against = _added(OBJECT, only, shapes)
    area = only.shadow.area_m2
    part = Part(
        OBJECT, low - hanging.floor_m, height, volume, min(waterplane_m2, area), area, added.volume_m3,
        round_bottom=only.round_bottom,
    )  # fmt: skip
    words = f"object: added mass by {added.words}; plan area {area:.3g} m²"
    return Sorted((part,), (words, *said), against)


def crate_parts(sums: Sums, hanging: Hanging, frame: Frame | None) -> Sorted:
    """Return what carries the object, member by member: those of a cradle's frame by their sections."""
    said: list[str] = []
    against: list[str] = []
    found: list[Part] = []
    own = hanging.crate_parts
    if frame is not None and sums.frame:
        lowest = extent(hanging.of(p.name for p in own if p.name in sums.frame))[0] - hanging.floor_m
        own = tuple(p for p in own if p.name not in sums.frame)
        found += [replace(p, base_m=p.base_m + lowest) for p in frame_splash_parts(frame)]
        said.append(f"frame: each of its {len(found)} members by itself, not shielded by its neighbours")
    elif frame is not None:
        against.append(
            "the frame of the cradle is not among the parts that were weighed: the sea is asked without it"
        )
    for part in own:
        if part.shape.kind == "lump":
            against.append(
                f'"{part.name}" is a lump: how broad and how high it is in the waves is not known. Describe its '
                "shape, or give plan_area, waterplane and added_mass of it as a [[seaway.part]]"
            )
        pieces = hanging.of([part.name])
        volume = volume_m3(sums, part.name) / len(pieces)
        for number, piece in enumerate(pieces, start=1):
            name = part.name if len(pieces) == 1 else f"{part.name} {number}"
            one = _one(name, piece, volume, hanging.floor_m)
            found += one.parts
            against += one.objections
            said += one.assumptions if number == 1 else ()
    return _together(Sorted(tuple(found), tuple(said), tuple(dict.fromkeys(against))), hanging)


def volume_m3(sums: Sums, name: str) -> float:
    """Return the median volume of a body part's stuff and coat, all copies."""
    mine = [sums.drawn.full(t.volume_m3) for t in sums.solids if t.part.name == name]
    return max(float(np.median(np.sum(mine, axis=0))), 0.0) if mine else 0.0


def _one(name: str, piece: Piece, volume: float, floor_m: float) -> Sorted:
    seen = shaped(piece.solid, piece.mesh, piece.turn)
    low, height = extent([piece])
    added, said, against = _added(name, seen, [piece])
    area = seen.shadow.area_m2
    cut = area if seen.round_bottom else min(volume / height, area)
    part = Part(
        name, low - floor_m, height, volume, cut, area, added.volume_m3, round_bottom=seen.round_bottom
    )
    return Sorted((part,), (f"{name}: added mass by {added.words}", *said), against)


def _added(
    name: str, seen: Shaped, pieces: Sequence[Piece]
) -> tuple[AddedMass, tuple[str, ...], tuple[str, ...]]:
    """Return the added mass of a part; where its plan is open beyond the table, of its pieces one by one."""
    if seen.added is not None:
        return seen.added, (), ()
    opened = f"{name}: its plan is {seen.shadow.open_percent:.0f} % open, beyond the table's {MOST_OPEN_PERCENT:g} %"
    each = [shaped(p.solid, p.mesh, p.turn).added for p in pieces]
    known = [a for a in each if a is not None]
    if len(pieces) > 1 and len(known) == len(each):
        total = AddedMass(sum(a.volume_m3 for a in known), f"the sum of its {len(known)} pieces")
        return total, (f"{opened}: its pieces count one by one, not shielded by each other",), ()
    closed = outlined(replace(seen.shadow, area_m2=seen.shadow.hull_m2), extent(pieces)[1])
    assert closed is not None  # a closed plan is in every table
    return (
        closed,
        (f"{opened}: taken as of a closed plan",),
        (f"{opened}: describe its bars one by one, or give added_mass of it as a [[seaway.part]]",),
    )


def _together(found: Sorted, hanging: Hanging) -> Sorted:
    """Return members as one part where there are very many of them, or at very many heights."""
    levels = {(round(p.base_m, 3), round(p.top_m, 3)) for p in found.parts}
    if len(found.parts) <= MOST_PIECES and len(levels) <= MOST_LEVELS:
        return found
    seen = shadow([piece.mesh for piece in hanging.of(p.name for p in hanging.crate_parts)])
    low = min(p.base_m for p in found.parts)
    height = max(p.top_m for p in found.parts) - low
    volume = sum(p.volume_m3 for p in found.parts)
    added = outlined(seen, height)
    words = "the sum of its members" if added is None else added.words
    total = sum(p.added_m3 for p in found.parts) if added is None else added.volume_m3
    cut = min(volume / height, seen.area_m2)
    whole = Part("frame", low, height, volume, cut, seen.area_m2, total)
    said = (
        f"frame: {len(found.parts)} members at {len(levels)} heights count as one part; added mass by {words}"
    )
    return Sorted((whole,), (said,), found.objections)
