"""What every weight sheet says besides its numbers: assumptions, questions, objections, cautions."""

from __future__ import annotations

from oakum.ground.estimate import Estimate
from oakum.ground.gravity import G_M_S2
from oakum.lift.body.model import Body, SedimentFill, WaterFill
from oakum.lift.body.overlap import overlaps
from oakum.lift.body.stuff import stuffs
from oakum.lift.checks import WHO_GOVERNS
from oakum.lift.weights.draining import MOST_OPEN
from oakum.lift.weights.report import CellReading

CAUTIONS = (
    WHO_GOVERNS,
    "Nobody under, on or attached to the load, nor above it in the water, while it hangs or may move.",
    "Weigh it under water with a load cell before the hoist; a number from a model is no weighing.",
    "Never pull it out of the bed with bags or crane: dig, undercut and let water in until nothing holds; "
    "what pulls against suction is excess lift the moment it lets go.",
    "Do not cut or chip concretion to make it lighter: it may carry the object, and its edges cut hands and "
    "slings.",
    "A gun may still be charged and a shell may be live: no drilling, heating, hammering or electrolysis until "
    "a competent person has excluded it.",
    "A closed container may hold gas under pressure or poisonous gas: do not open it, nor lift it closed, "
    "without advice.",
    "Hook loads are for still water: waves, hoisting and slack add to them and take from them.",
)

_CELL_WALL = "cell wall of wood 1,500 kg/m³, in the literature 1,460 to 1,530"


def assumptions(body: Body, *, draws: int, seed: int, readings: tuple[CellReading, ...]) -> tuple[str, ...]:
    """Return what the numbers rest on, in plain sentences."""
    said = [
        f"Loads are forces shown as a load cell shows them, force / g, with g = {G_M_S2} m/s².",
        f"Spreads are from {draws:,} draws (seed {seed}); all parts of one material share one density, and "
        "what has one label has one cause.",
        f"Water: {body.water.words}; trapped water has the same density.",
        *([f"Measures: {body.source}."] if body.source else []),
        *body.assumptions,
    ]
    if body.tape_scale is not None:
        said.append(f"One tape: all lengths are out together, by {100 * body.tape_scale.sd:.2g} % (one sd).")
    if any(s.is_wood for p in body.parts for s in stuffs(p)):
        wall = (
            _CELL_WALL
            if body.cell_wall_kg_m3 is None
            else f"cell wall {body.cell_wall_kg_m3.best:,.0f} kg/m³"
        )
        said.append(f"Wood is fully waterlogged, no air left in it; {wall}.")
    if any(p.coat is not None for p in body.parts):
        said.append(
            "Crust is an even coat at right angles to the surface; where two coated parts touch their coats "
            "are counted twice as far as the share covered does not leave that out."
        )
    if any(p.hole_in is not None for p in body.parts):
        said.append("Holes lie wholly inside the part they are cut out of.")
    said += _fill_assumptions(body)
    said.append(
        "How much is under water at each level is taken from the likeliest shape, the weights from all draws."
    )
    said.append("Rigging hangs on the hook and does not move the hanging points; the body is rigid.")
    if any(r.sd_kg for r in readings):
        said.append("The load cell was read with the body free of the bed, at rest, and bags empty.")
    return tuple(said)


def _fill_assumptions(body: Body) -> list[str]:
    waters = [p.fill for p in body.parts if isinstance(p.fill, WaterFill)]
    said = []
    if waters:
        said.append(
            "Trapped water stands in its hollow as in an upright prism of the same height and volume."
        )
    if any(w.outlet is not None for w in waters):
        said.append(f"At most {100 * MOST_OPEN:.0f} % of every drain opening is counted as open: holes clog.")
        said.append("Trapped water runs out through sharp-edged openings, discharge 0.60 to 0.62.")
        if body.hoist_speed_m_s is None:
            said.append(
                "No water is taken to run out before the body is clear: the hoisting speed is not given."
            )
        else:
            said.append("What the openings let out at the given hoisting speed has run out when clear.")
    return said


def objections(body: Body, float_reason: str | None) -> tuple[str, ...]:
    """Return what must be answered before anybody relies on the weights."""
    found = []
    if not body.water.known:
        found.append("the water is not known; say sea, fresh or its density")
    for part in body.parts:
        if isinstance(part.fill, WaterFill) and part.fill.held is None:
            found.append(
                f'not known whether "{part.name}" holds its water when it is hoisted; it is counted full'
            )
    found += [pair.words() for pair in overlaps(body)]
    if float_reason is not None:
        found.append(float_reason)
    return tuple(found)


def questions(body: Body) -> tuple[str, ...]:
    """Return what the description leaves open."""
    found = list(body.questions)
    if body.mark:
        found.insert(0, f"{body.mark}")
    for part in body.parts:
        fill = part.fill
        if isinstance(fill, SedimentFill) and fill.stays is None:
            found.append(f'not known how much of "{part.name}" stays after draining; all of it is counted')
        if isinstance(fill, WaterFill) and _is_held(fill.held):
            if fill.outlet is None:
                found.append(f'"{part.name}" has no drain holes: its water stays until somebody lets it out')
            elif fill.outlet.open_share is None:
                found.append(
                    f'not known how much of the openings of "{part.name}" is clogged; half is counted open'
                )
    if body.hook_above_top_m is None:
        found.append("hook height not known: no tilt is given")
    return tuple(found)


def _is_held(held: Estimate | None) -> bool:
    return held is None or held.best > 0.0


def reading_questions(body: Body, readings: tuple[CellReading, ...], rigging_kg: float) -> tuple[str, ...]:
    """Return what a reading leaves open about the gear between cell and body."""
    if not any(p.role == "rigging" for p in body.parts):
        return ()
    return tuple(
        f'reading "{r.text}" names no gear between cell and body, but the body has rigging of '
        f"{rigging_kg:,.0f} kg under water: say what hung there"
        for r in readings
        if r.rigging_kg == 0.0
    )
