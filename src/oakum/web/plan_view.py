"""What the plan page shows of a plan: drawings, each with its numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from oakum.desk.lifts.kept import Kept
from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.what_if import Knobs, WhatIf, knobs_of
from oakum.draw import DrawingError, Rows, ascent, rig, turning, utilisation
from oakum.draw.curves import band_rows
from oakum.draw.hook_load import hook_load
from oakum.lift import WeightReport
from oakum.lift.checks import Check
from oakum.lift.raising import RaisingPlan, RigView, TurningAnswer
from oakum.report import plan_phrases as say
from oakum.report import plan_tables as tables
from oakum.web.knobs import query_of
from oakum.web.scene_view import Scenery, scenery

DRAWN = 400.0  # units across a drawing: legible on a telephone, not coarse on a desk
_drawn: Kept[tuple[WeightReport, str]] = Kept(24)
HARDEST = 9
"""Bars that are drawn; the others wait behind a fold."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing, what it shows, and its numbers."""

    svg: str
    caption: str
    rows: Rows | None = None


@dataclass(frozen=True, slots=True)
class Rigged:
    """The piece of the page that changes with the controls. `refused` says why it could not be tried."""

    plan: RaisingPlan
    knobs: Knobs
    kept: Knobs
    changes: tuple[str, ...]
    new: tuple[str, ...]
    gone: tuple[str, ...]
    elevations: tuple[Figure, ...]
    bars: Figure | None
    more_bars: Figure | None
    governing: str
    hook: tuple[tuple[str, str], ...]
    trial: str
    scene: Scenery | None = None
    refused: str = ""

    @property
    def query(self) -> str:
        """The controls as they stand, for an address."""
        return query_of(self.knobs, self.kept)


def rigged(answer: PlanAnswer, tried: WhatIf | None, refused: str = "") -> Rigged:
    """Return what the controls change: the kept rig, or the one that is tried."""
    plan = answer.plan if tried is None else tried.plan
    kept = knobs_of(answer.plan)
    return Rigged(
        plan=plan,
        knobs=kept if tried is None else tried.knobs,
        kept=kept,
        changes=() if tried is None else tried.changes,
        new=() if tried is None else tried.new,
        gone=() if tried is None else tried.gone,
        elevations=_elevations(plan),
        bars=_bars(plan, plan.checks[:HARDEST], "used-hardest"),
        more_bars=_bars(plan, plan.checks[HARDEST:], "used-less"),
        governing=say.governing_words(plan),
        hook=say.hook_lines(plan),
        trial=say.trial_sentence(plan.trial),
        scene=scenery(answer, plan),
        refused=refused,
    )


def _elevations(plan: RaisingPlan) -> tuple[Figure, ...]:
    """Draw every state by itself, so that a telephone shows one below the other."""
    found = []
    for i, view in enumerate(plan.views):
        svg = _elevation(plan, view, i)
        if not svg:
            continue  # a body without parts has nothing to draw
        words = f"From the front, {view.state}; to scale."
        found.append(Figure(svg, words, rig.rig_rows(plan) if i == 0 else rig.place_rows(plan)))
    return tuple(found)


def _elevation(plan: RaisingPlan, view: RigView, index: int) -> str:
    """Draw one state, or take the drawing of before where a control did not change it."""
    answer = plan.under_water if view.state == "under water" else plan.in_air
    hook = None if answer is None else answer.hook_load_n
    bags = plan.rig.bags if plan.rig is not None and view.bags else None
    beam = None if plan.rig is None else plan.rig.spreader
    key = (id(plan.weight), view, hook, bags, beam, plan.cell_unit, index)
    held = _drawn.get(key)
    if held is not None and held[0] is plan.weight:
        return held[1]
    try:
        svg = rig.elevation(plan, states=(view.state,), width=DRAWN, key=f"rig-elevation-{index}")
    except DrawingError:
        svg = ""
    _drawn.put(key, (plan.weight, svg))
    return svg


def _bars(plan: RaisingPlan, checks: Sequence[Check], key: str) -> Figure | None:
    if not checks:
        return None
    svg = utilisation.utilisation_bars(
        checks,
        governing=plan.governing,
        cell_unit=plan.cell_unit,
        width=DRAWN,
        across_share=utilisation.width_share(plan.checks),
        key=key,
    )
    rows = utilisation.utilisation_rows(checks, plan.cell_unit)
    return Figure(svg, "Used, of what it bears; the line is 100 %.", rows)


def from_above(plan: RaisingPlan) -> tuple[Figure, ...]:
    """Draw the rig from above in every state, the last with what the lines mean."""
    found = []
    for i, view in enumerate(plan.views):
        last = i == len(plan.views) - 1
        try:
            svg = rig.from_above(plan, states=(view.state,), width=DRAWN, with_legend=last, key=f"rig-above-{i}")
        except DrawingError:
            continue
        found.append(Figure(svg, f"From above, {view.state}.", rig.place_rows(plan)))
    return tuple(found)


def load_figure(plan: RaisingPlan) -> Figure:
    """Draw the hook load as it leaves the water, with the band of the trial lift."""
    svg = hook_load(plan.weight.emergence, trial=plan.trial, cell_unit=plan.cell_unit, width=DRAWN)
    words = "Hook load against height, bags empty; nine in ten draws lie in the band."
    return Figure(svg, words, band_rows(plan.weight.emergence))


def bag_figures(plan: RaisingPlan) -> tuple[Figure, ...]:
    """Draw the rise on bags, and what one failing bag leaves; nothing where there are no bags."""
    if plan.bags is None:
        return ()
    unit = plan.cell_unit
    curves = ascent.ascent_curves(plan.bags, unit)
    drawn = ascent.ascent_drawings(plan.bags, unit, width=DRAWN)
    every = ascent.ascent_rows(plan.bags, unit)
    found = [
        Figure(svg, f"{curve.name[:1].upper()}{curve.name[1:]}.", rows)
        for svg, curve, rows in zip(drawn, curves, every, strict=True)
    ]
    if not plan.bags.failed:
        return tuple(found)
    failed = Figure(
        ascent.failed_bands(plan.bags, unit, width=DRAWN),
        "One bag fails, the others as they are.",
        ascent.failed_rows(plan.bags, unit),
    )
    return (*found, failed)


def turning_figure(answer: TurningAnswer, unit: str) -> Figure | None:
    """Draw the pull against the angle; None where it was not computed."""
    if turning.pull_curve(answer, unit) is None:
        return None
    svg = turning.pull_drawing(answer, unit, width=DRAWN)
    return Figure(svg, "Pull against the angle.", turning.pull_rows(answer, unit))


def sling_tables(plan: RaisingPlan) -> list[tuple[str, tuple[str, ...], Rows]]:
    """Return, for each state, its title, its sentences and its legs."""
    answers = [answer for answer in (plan.under_water, plan.in_air) if answer is not None]
    return [
        (answer.load, tables.sling_lines(answer, plan.cell_unit), tables.sling_rows(answer, plan.cell_unit))
        for answer in answers
    ]
