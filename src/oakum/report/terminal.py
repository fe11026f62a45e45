"""The weight sheet in the terminal: the same sentences and figures as on paper, in the same order."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from oakum.draw.bars import driver_rows, nothing_drives
from oakum.draw.body import body_rows
from oakum.draw.rows import spread_figures
from oakum.lift.weights.report import WeightReport
from oakum.report import phrases
from oakum.report.console import SIGNAL, bare_table, headed_lines, rows_table
from oakum.report.weight_sheet import part_rows, sum_lines


def render_terminal(report: WeightReport, console: Console, *, demo: bool = False) -> None:
    """Print the weight sheet to a rich console; what the user wrote is never taken as markup."""
    console.print(Text(report.title, style="bold"))
    if demo:
        console.print(Text(phrases.DEMO, style=SIGNAL))
    style = SIGNAL if report.objections else "bold"
    for line in phrases.verdict_lines(report):
        console.print(Text(line, style=style))
    console.print()
    peak = phrases.peak_state(report)
    console.print(Text(f"{peak.title}: {peak.load_kg.words()}."))
    console.print(_states(report))
    headed_lines(console, "Cautions", report.cautions)
    _drivers(console, report)
    headed_lines(console, "Open questions", report.open_questions)
    console.print(rows_table(body_rows(report), stacked=True))
    headed_lines(console, "Where the hook must be", phrases.hanging_words(report))
    headed_lines(console, "Load cell", phrases.conditioning_words(report))
    headed_lines(console, "Breaking out of the bed", (phrases.breakout_words(report),))
    console.print(_parts(report))
    for line in sum_lines(report):
        console.print(Text(line))
    headed_lines(console, "Assumptions", report.assumptions)
    console.print()
    console.print(Text(phrases.origin_words(report), style="dim"))
    console.print(Text(phrases.PLANNING_SUPPORT))


def _states(report: WeightReport) -> Table:
    table = bare_table("Hook load in every state, load-cell reading in kg")
    peak = phrases.peak_state(report)
    for name in ("state", "low, P5", "likely", "high, P95"):
        table.add_column(Text(name), justify="left" if name == "state" else "right", no_wrap=name != "state")
    for state in report.states:
        cells = (state.title, *spread_figures(state.load_kg))
        table.add_row(*(Text(cell) for cell in cells), style="bold" if state is peak else "")
    return table


def _parts(report: WeightReport) -> Table:
    """Set the part list with role, shape and material under the name, so that it fits a narrow terminal."""
    rows = part_rows(report)
    table = bare_table(rows.caption)
    for head in (rows.head[0], *rows.head[3:]):
        table.add_column(Text(head), justify="left" if head == rows.head[0] else "right")
    for name, role, made, *figures in rows.lines:
        cell = Text(name).append(f"\n{role}: {made}", style="dim")
        table.add_row(cell, *(Text(figure) for figure in figures))
    return table


def _drivers(console: Console, report: WeightReport) -> None:
    peak = phrases.peak_state(report)
    if not peak.load_kg.drivers:
        headed_lines(console, "What drives the width", (nothing_drives(peak.load_kg),))
        return
    console.print(rows_table(driver_rows(peak.load_kg, peak.title)))
