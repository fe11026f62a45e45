"""Sea, vessel and cradle of a lift plan in the terminal: the sentences and figures of the file."""

from __future__ import annotations

from rich.console import Console

from oakum.draw import heel
from oakum.draw.rows import Rows
from oakum.lift.raising.plan import RaisingPlan
from oakum.report import plan_cradle
from oakum.report import plan_sea as say
from oakum.report.console import headed_lines


def render_sea(plan: RaisingPlan, console: Console) -> None:
    """Print what sea, vessel and cradle answer; what is not described is said."""
    sea = plan.seaway
    if sea is None:
        headed_lines(console, "Through the surface", ("not known: the sea of the lift is not described",))
    else:
        crossing = say.crossing_range(plan)
        facts = [f"{name}: {value}" for name, value in say.sea_facts(sea.asked, sea.vessel_title, sea.line_n_m)]
        if crossing is not None:
            facts.append(f"Hook load crossing the surface, {crossing[0]}: {crossing[1]}")
        headed_lines(
            console,
            "Through the surface: where an objection appears, not leave to go",
            (say.skipper_lead(sea), sea.first, *facts, *_told(say.skipper_rows(sea)), *say.limit_words(sea)),
        )
        lines = [f"{name}: {'; '.join(values)}" for name, *values in heel.vessel_rows(sea.vessel, plan.cell_unit).lines]
        states = [f"In this order: {'; '.join(v.state for v in sea.vessel)}."] if len(sea.vessel) > 1 else []
        loss = f"{say.loss_words(say.worst_vessel(sea))}."
        headed_lines(
            console,
            f"Vessel: {sea.vessel_title or say.NOT_KNOWN}",
            (say.book_words(sea), *((*states, *lines, loss) if sea.vessel else ("Not known.",))),
        )
    report = plan.cradle
    if report is None:
        headed_lines(console, "Cradle", (plan_cradle.NONE_PLANNED,))
        return
    rows = plan_cradle.state_rows(report, plan.cell_unit)
    headed_lines(
        console,
        f"Cradle: {report.plan.title}",
        (plan_cradle.cradle_lead(report), *_told(rows), *plan_cradle.touch_lines(report, plan.cell_unit)),
    )


def _told(rows: Rows) -> tuple[str, ...]:
    """Return a table as sentences: the first cell, then each other with its head."""
    return tuple(
        f"{first}: " + "; ".join(f"{head} {cell}" for head, cell in zip(rows.head[1:], cells, strict=True))
        for first, *cells in rows.lines
    )
