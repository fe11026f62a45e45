"""The same body otherwise: no sediment or water in it, its crust thinned, ballast under the hook; in the same draws."""

from __future__ import annotations

from dataclasses import replace

from oakum.ground.estimate import exact
from oakum.lift.body.model import Body, Part, Place, SedimentFill, Shape, Stuff, WaterFill
from oakum.lift.weights.frame import Framed
from oakum.lift.weights.sums import Sums, summed
from oakum.lift.weights.weighing import Weighing

STEEL_KG_M3 = 7850.0
THIN = 0.05
"""The percentile of its own thickness the crust is thinned to."""


def without_sediment(weighing: Weighing) -> Sums | None:
    """Return the sums with every sediment taken out, None where there is none.

    The draws are those of the weighing, so a reading's weights hold: it was taken before.
    """
    body = weighing.report.body
    gone = {p.name for p in body.parts if _is_sediment(p) and p.hole_in is None}
    if not any(_is_sediment(p) for p in body.parts):
        return None
    kept = tuple(
        replace(
            part,
            fill=None if _is_sediment(part) else part.fill,
            less=tuple(name for name in part.less if name not in gone),
        )
        for part in body.parts
        if part.name not in gone
    )
    return _again(weighing, replace(body, parts=kept))


def thinner_crust(weighing: Weighing) -> Sums | None:
    """Return the sums with every coat at the 5th percentile of its thickness, None where none has a spread."""
    body = weighing.report.body
    if not any(p.coat is not None and not p.coat.thickness_m.is_exact for p in body.parts):
        return None
    return _again(weighing, replace(body, parts=tuple(_thinned(p) for p in body.parts)))


def with_ballast(weighing: Weighing, ballast_kg: float) -> Sums:
    """Return the sums with steel hung under the hook; it counts as rigging: weight, no waterplane and no drag."""
    steel = Part(
        _new_name(weighing.report.body, "ballast"),
        "rigging",
        Shape("lump", (("mass", exact(ballast_kg)),)),
        Place(exact(0.0), exact(0.0), exact(0.0)),
        Stuff("steel", exact(STEEL_KG_M3)),
    )
    body = weighing.report.body
    return _again(weighing, replace(body, parts=(*body.parts, steel)))


def _new_name(body: Body, name: str) -> str:
    while any(p.name == name for p in body.parts):
        name += " again"
    return name


def drained(weighing: Weighing) -> Sums | None:
    """Return the sums with no water left in any hollow, None where none holds any."""
    body = weighing.report.body

    def holds(part: Part) -> bool:
        return isinstance(part.fill, WaterFill) and (part.fill.held is None or part.fill.held.best > 0.0)

    if not any(holds(p) for p in body.parts):
        return None
    parts = tuple(replace(p, fill=WaterFill(exact(0.0))) if holds(p) else p for p in body.parts)
    return _again(weighing, replace(body, parts=parts))


def _is_sediment(part: Part) -> bool:
    return isinstance(part.fill, SedimentFill) or part.role == "sediment"


def _thinned(part: Part) -> Part:
    if part.coat is None:
        return part
    thin = exact(float(part.coat.thickness_m.quantile(THIN)))
    return replace(part, coat=replace(part.coat, thickness_m=thin))


def _again(weighing: Weighing, body: Body) -> Sums:
    """Return the sums of a changed body; the frame of its cradle is as it was."""
    sums = weighing.sums
    frame = tuple(p for p in body.parts if p.name in sums.frame)
    find = replace(body, parts=tuple(p for p in body.parts if p.name not in sums.frame))
    return summed(Framed(find, frame).drawn(sums.drawn.draws), sums.frame)
