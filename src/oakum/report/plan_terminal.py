"""The lift plan in the terminal, 80 columns: the same sentences and figures as in the file, in the same order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from oakum.draw import ascent, rig
from oakum.draw.hook_load import LoadPoint, plan_curve, reading_rows
from oakum.draw.rows import Rows
from oakum.draw.utilisation import amounts_words, percent_words
from oakum.lift.checks import Check
from oakum.lift.raising.plan import RaisingPlan
from oakum.report import phrases
from oakum.report import plan_phrases as say
from oakum.report import plan_tables as tables
from oakum.report.console import SIGNAL, headed_lines, rows_table
from oakum.report.plan_terminal_sea import render_sea

_FULL = 24  # cells of a bar up to 100 %
_MOST = 36


def render_plan(
    plan: RaisingPlan,
    console: Console,
    *,
    names: Mapping[str, str],
    points: Sequence[LoadPoint] = (),
    demo: bool = False,
) -> None:
    """Print a lift plan to a rich console; what people wrote is never taken as markup."""
    _head(plan, console, demo=demo)
    _utilisation(plan, console)
    if plan.views:
        _items(console, rig.rig_rows(plan), ("x", "y", "z", "low", "likely", "high", ""))
        _items(console, rig.place_rows(plan), ("x", "y", "z", ""))
    if points:
        console.print(rows_table(reading_rows(plan_curve(plan), points, plan.cell_unit)))
    for answer in (plan.under_water, plan.in_air):
        if answer is not None:
            headed_lines(console, f"Slings {answer.load}", tables.sling_lines(answer, plan.cell_unit))
    for state, beam in plan.spreaders:
        headed_lines(console, f"Spreader {state}", tables.spreader_lines(beam, plan.cell_unit))
    if plan.bags is not None:
        headed_lines(console, "Bags", tables.bag_lines(plan.bags, plan.cell_unit))
        _items(console, ascent.failed_rows(plan.bags, plan.cell_unit), ("low", "likely", "high", ""))
    for turning in plan.turning:
        headed_lines(console, f"Turning: {turning.name}", tables.turning_lines(turning, plan.cell_unit))
    render_sea(plan, console)
    _items(
        console,
        tables.gear_rows(plan),
        ("", "WLL", "certificate until", "inspected until", "kept:", "used for:", "objection:"),
    )
    _items(console, tables.step_rows(plan), ("", "who:", "min:", "divers:", "watch:", "abort:"))
    console.print(Text(say.total_words(plan)))
    _items(console, tables.go_rows(plan), ("now:", "by:", ""))
    headed_lines(
        console, "Why it is not left where it is", (plan.in_situ or "not known: no decision is recorded",)
    )
    _items(console, tables.hazard_rows(plan, names), ("", "said by", "on", "objection:"))
    _items(console, tables.role_rows(plan, names), ("", "", "", "asks for", "objection:"))
    _items(console, tables.help_rows(plan), ("", "cost:"))
    headed_lines(console, "Open questions", plan.open_questions)
    headed_lines(console, "Advice", plan.advice)
    headed_lines(console, "Not covered by this plan", plan.not_covered)
    headed_lines(console, "Cautions", plan.cautions)
    headed_lines(console, "Assumptions", plan.assumptions)
    console.print()
    console.print(Text(say.origin_words(plan), style="dim"))
    console.print(Text(phrases.PLANNING_SUPPORT))


def _head(plan: RaisingPlan, console: Console, *, demo: bool) -> None:
    console.print(Text(say.headline(plan), style="bold"))
    if demo:
        console.print(Text(phrases.DEMO, style=SIGNAL))
    console.print(Text(f"Stage: {say.stage_words(plan)}."))
    for line in say.verdict_lines(plan):
        console.print(Text(line, style=SIGNAL if plan.objections else "bold"))
    headed_lines(console, "Blocked until settled", plan.blocked_by)
    console.print()
    for state, words in say.hook_lines(plan):
        console.print(Text(f"Hook load {state}: {words}."))
    console.print(Text(say.trial_sentence(plan.trial), style="bold"))
    console.print(Text(say.governing_words(plan)))


def _utilisation(plan: RaisingPlan, console: Console) -> None:
    console.print()
    console.print(Text("Utilisation, the hardest first; | is 100 %, / is not known", style="bold"))
    for check in plan.checks:
        console.print(Text(check.title, style="bold" if check is plan.governing else ""))
        console.print(Text(f"  {bar(check)} {percent_words(check)}, {amounts_words(check, plan.cell_unit)}"))
        if check.objection:
            console.print(Padding(Text(f"objection: {check.objection}", style=SIGNAL), (0, 0, 0, 2)))
    if not plan.checks:
        console.print(Text("  nothing was checked"))


def bar(check: Check) -> str:
    """Draw a bar of characters: up to 24 cells are 100 %, beyond that the bar goes on behind its mark."""
    used = check.utilisation
    if used is None:
        return "/" * _FULL + "|"
    cells = max(0, round(_FULL * min(used, _MOST / _FULL)))
    over = max(cells - _FULL, 1 if used > 1.0 else 0)
    inside = min(cells, _FULL)
    return "=" * inside + " " * (_FULL - inside) + "|" + "=" * over


def _items(console: Console, rows: Rows, words: Sequence[str]) -> None:
    """Print wide rows as items: the first cell, and under it the others with a word before each."""
    console.print()
    console.print(Text(rows.caption, style="bold"))
    if not rows.lines:
        console.print(Text("  not known"))
    for first, *cells in rows.lines:
        console.print(Padding(Text(first, style="bold"), (0, 0, 0, 2)))
        said = [f"{word} {cell.rstrip('.')}".strip() for word, cell in zip(words, cells, strict=True) if cell]
        console.print(Padding(Text("; ".join(said)), (0, 0, 0, 4)))
