"""A cradle in the terminal: what to saw and how it goes together, and what it bears under its find."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from oakum.draw.cradle import use_rows
from oakum.draw.utilisation import amounts_words, percent_words
from oakum.lift.cradle import CradlePlan, CradleReport, built, frame_numbers
from oakum.report import phrases
from oakum.report.console import SIGNAL, headed_lines, rows_table
from oakum.report.cradle_sheet import NOT_WEIGHED, buy_lines, cut_lines, step_lines
from oakum.report.plan_cradle import state_rows, touch_lines

_SHOWN = 10
SEA_WATER_KG_M3 = 1027.0
"""What the frame alone is weighed in here; a report takes the water of its find."""


def render_cradle(
    plan: CradlePlan, report: CradleReport | None, console: Console, *, demo: bool = False, why_not: str = ""
) -> None:
    """Print a cradle to a rich console; what the user wrote is never taken as markup."""
    console.print(Text(plan.title, style="bold"))
    if demo:
        console.print(Text(phrases.DEMO, style=SIGNAL))
    if report is None:
        console.print(Text(why_not or NOT_WEIGHED, style=SIGNAL))
    else:
        for words in report.objections:
            console.print(Text(f"objection: {words}", style=SIGNAL))
        if not report.objections:
            console.print(Text(report.verdict, style="bold"))
        headed_lines(console, "Cautions", report.cautions)
    _frame(plan, console)
    if report is not None:
        _bears(plan, report, console)
    console.print()
    console.print(Text(phrases.PLANNING_SUPPORT))


def _frame(plan: CradlePlan, console: Console) -> None:
    if plan.frame is None:
        return
    made = built(plan)
    sums = frame_numbers(plan.frame, SEA_WATER_KG_M3)
    low, high = sums.mass_kg
    wet_low, wet_high = sums.submerged_kg
    headed_lines(
        console,
        "The frame",
        (
            f"{len(plan.frame.members)} members, {len(made.assembly.joints)} joints; weighs {low:,.0f} to "
            f"{high:,.0f} kg in air, {wet_low:,.0f} to {wet_high:,.0f} kg in sea water of "
            f"{SEA_WATER_KG_M3:,.0f} kg/m\u00b3.",
        ),
    )
    headed_lines(
        console,
        "Cutting list, mm over the long points",
        tuple(
            f"{c['letter']}: {c['count']} \u00d7 {c['section']} {c['material']}, {c['length']}, {c['ends']} "
            f"({c['marks']}: {c['members']})"
            for c in cut_lines(made)
        ),
    )
    headed_lines(console, "To buy", (*buy_lines(made), *(f"objection: {o}" for o in made.cutting.objections)))
    steps = tuple(
        f"{i}. {s['words']}: {s['marks']}" + (f"; {s['joints']}" if s["joints"] else "")
        for i, s in enumerate(step_lines(made), 1)
    )
    headed_lines(console, "Order of assembly", steps)


def _bears(plan: CradlePlan, report: CradleReport, console: Console) -> None:
    if report.frame is not None:
        console.print(rows_table(state_rows(report, "kg"), stacked=True))
        console.print(rows_table(use_rows(plan, report.frame, built(plan).marks), stacked=True))
    headed_lines(console, "What touches the find", touch_lines(report, "kg"))
    headed_lines(
        console,
        f"Used most, of {len(report.checks)} checks",
        tuple(f"{percent_words(c)}  {c.title}: {amounts_words(c, 'kg')}" for c in report.checks[:_SHOWN]),
    )
    headed_lines(console, "What would help", report.advice)
    headed_lines(console, "Open questions", report.open_questions)
    headed_lines(console, "Assumptions", report.assumptions)
