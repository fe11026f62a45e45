"""The survey in the terminal: places with ellipses, what holds them, what to doubt, what is open."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from oakum.desk.seabed.proposals import SurveyProposal
from oakum.desk.seabed.survey import SurveyAnswer
from oakum.report.console import SIGNAL, bare_table, headed_lines
from oakum.seabed.network import SolvedMark
from oakum.seabed.network.names import natural
from oakum.seabed.network.next_tape import TapePlan

_SHOWN = 12


def render_survey(answer: SurveyAnswer, console: Console) -> None:
    """Print the survey as it stands to a rich console; what people typed is never taken as markup."""
    solution = answer.solution
    for words in answer.objections:
        console.print(Text(f"objection: {words}", style=SIGNAL))
    if solution.marks:
        table = bare_table("Places in metres of the site; the ellipse holds a mark 19 times in 20")
        for head in ("mark", "x", "y", "z", "ellipse", "z ±", "readings", ""):
            table.add_column(head, justify="right" if head in ("x", "y", "z", "z ±", "readings") else "left")
        for mark in sorted(solution.marks, key=lambda one: natural(one.name)):
            table.add_row(*(Text(cell) for cell in _cells(mark)))
        console.print(table)
    headed_lines(console, "Not placed", tuple(mark.why for mark in solution.unsolved))
    headed_lines(console, "What holds the plan", solution.datum)
    console.print()
    console.print(Text(_sentence(solution.whole.words)))
    suspects = tuple(f"{at}. {_sentence(one.words)}" for at, one in enumerate(solution.suspects, 1))
    headed_lines(console, "Readings in doubt, in order; reject one at a time: oakum survey reject ID WHY", suspects)
    headed_lines(console, "Two places fit", tuple(twin.words for twin in solution.twins))
    further = tuple(
        f"{one.what}{' of ' + one.name if one.name else ''}: {one.value:.4g} {one.unit} (sd {one.sd:.2g})"
        for one in solution.further
    )
    headed_lines(console, "Also solved", further)
    rejected = [one for one in answer.entries.values() if one.rejected is not None]
    lines = tuple(f"{one.id}  {'–'.join(one.marks)}  {one.text}: {one.rejected}" for one in rejected)
    headed_lines(console, "Rejected", lines)
    headed_lines(console, "Open questions", tuple(one.words() for one in answer.open_questions))
    headed_lines(console, "Taken as true", (*solution.assumptions, *solution.cautions))


def _cells(mark: SolvedMark) -> tuple[str, ...]:
    ellipse = mark.ellipse()
    held = "held" if mark.held == "xyz" else f"{mark.held} held" if mark.held else ""
    size = f"{1000 * ellipse.major_m:.0f} × {1000 * ellipse.minor_m:.0f} mm, {ellipse.bearing_deg:.0f}°"
    return (
        mark.name,
        *(f"{round(value, 3) + 0.0:.3f}" for value in mark.place),
        "" if mark.held == "xyz" else size,
        "" if "z" in mark.held else f"{1.96 * mark.sd_m[2]:.3f}",
        str(mark.readings),
        "; ".join(words for words in (held, mark.weak) if words),
    )


def render_proposal(proposal: SurveyProposal, console: Console, *, unit: str = "row") -> None:
    """Print what was read, a message a row; rows without one are only counted."""
    for row in proposal.rows:
        if row.messages or len(proposal.rows) <= _SHOWN:
            said = "; ".join(row.messages) or row.value_words
            marks = "–".join(row.marks)
            console.print(Text(f"{unit} {row.key}: {row.status}: {marks}{' ' if marks else ''}{said}"))
    for words in proposal.left_out:
        console.print(Text(f"left out: {words}"))
    for words in proposal.notes:
        console.print(Text(words))
    for group in proposal.two_names:
        console.print(Text(f"{len(group)} names for one mark? {', '.join(group)}", style=SIGNAL))
    console.print(Text(proposal.words()))


def render_next(plan: TapePlan, console: Console) -> None:
    """Print which tapes to take."""
    if plan.tapes:
        table = bare_table("Tapes by what they gain a diver-minute; each counts those above it as taken")
        for head in ("pair", "about", "minutes", "sd before", "sd after", "checked"):
            table.add_column(head, justify="left" if head == "pair" else "right")
        for one in plan.tapes:
            table.add_row(
                Text(f"{one.a}–{one.b}"),
                f"{one.length_m:.1f} m",
                f"{one.minutes:.1f}",
                f"{1000 * one.before_m:.0f} mm",
                f"{1000 * one.after_m:.0f} mm",
                f"{one.redundancy:.2f}",
            )
        console.print(table)
    headed_lines(console, "Left out", tuple(f"{one.a}–{one.b}: {one.why}" for one in plan.skipped[:_SHOWN]))
    console.print(Text(_sentence(plan.words)))


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
