"""The tapes of a plan, and whatever is in doubt: suspects numbered in their order, readings set aside crossed out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from oakum.draw import svg
from oakum.draw.site_view import SiteView
from oakum.draw.theme import Theme
from oakum.seabed.network import ReadingResult, SiteSolution

Flat = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Lines:
    """The readings between marks, apart: tapes that count, suspects by their order, those set aside."""

    tapes: tuple[tuple[Flat, Flat], ...]
    suspects: tuple[tuple[int, Flat, Flat], ...]
    aside: tuple[tuple[Flat, Flat], ...]


def lines_of(solution: SiteSolution, view: SiteView, suspects: Mapping[str, int]) -> Lines:
    """Sort the readings between two marks; `suspects` gives the order of the doubtful ones by id."""
    where = {mark.name: view.at(mark.x_m, mark.y_m) for mark in solution.marks}
    tapes: list[tuple[Flat, Flat]] = []
    doubtful: list[tuple[int, Flat, Flat]] = []
    aside: list[tuple[Flat, Flat]] = []
    seen: set[str] = set()
    for row in solution.readings:
        ends = _ends(row, where)
        if ends is None or row.id in seen:
            continue
        seen.add(row.id)
        if row.id in suspects:
            doubtful.append((suspects[row.id], *ends))
        elif not row.counted:
            aside.append(ends)
        elif row.kind == "tape":
            tapes.append(ends)
    return Lines(tuple(tapes), tuple(sorted(doubtful)), tuple(aside))


def _ends(row: ReadingResult, where: Mapping[str, Flat]) -> tuple[Flat, Flat] | None:
    if len(row.marks) != 2 or any(name not in where for name in row.marks):
        return None
    return where[row.marks[0]], where[row.marks[1]]


def tape_lines(lines: Lines, theme: Theme) -> str:
    """Draw the tapes that count as one thin path."""
    if not lines.tapes:
        return ""
    return svg.paths(lines.tapes, fill="none", stroke=theme.soft, stroke_width=0.7, stroke_opacity=0.75)


def aside_lines(lines: Lines, theme: Theme) -> str:
    """Draw the readings set aside."""
    return "".join(aside_line(a, b, theme) for a, b in lines.aside)


def aside_line(a: Flat, b: Flat, theme: Theme) -> str:
    """Draw one reading that was set aside: dotted, with a cross in the middle."""
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    cross = (((x - 3.5, y - 3.5), (x + 3.5, y + 3.5)), ((x - 3.5, y + 3.5), (x + 3.5, y - 3.5)))
    dotted = svg.line(*a, *b, stroke=theme.soft, stroke_width=1.0, stroke_dasharray="1 3")
    return dotted + svg.paths(cross, fill="none", stroke=theme.ink, stroke_width=1.2)


def suspect_lines(lines: Lines, theme: Theme) -> str:
    """Draw the doubtful readings, the first in doubt on top."""
    return "".join(suspect_line(number, a, b, theme) for number, a, b in reversed(lines.suspects))


def suspect_line(number: int, a: Flat, b: Flat, theme: Theme) -> str:
    """Draw one doubtful reading: heavy and dashed, its order in a ring in the middle; 0, thinner, has no order."""
    if not number:
        return svg.line(*a, *b, stroke=theme.signal, stroke_width=1.4, stroke_dasharray="2 4")
    x, y, size = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, 0.9 * theme.text_size
    words: dict[str, str | float | None] = {"text_anchor": "middle", "font_weight": "600", "fill": theme.ink}
    ring: dict[str, str | float | None] = {"fill": theme.paper, "stroke": theme.signal, "stroke_width": 1.4}
    return (
        svg.line(*a, *b, stroke=theme.signal, stroke_width=2.2, stroke_dasharray="8 3")
        + svg.element("circle", cx=x, cy=y, r=0.75 * size, **ring)
        + svg.text(x, y + 0.35 * size, str(number), font_size=size, **words)
    )


def suspects_in_order(solution: SiteSolution) -> dict[str, int]:
    """Return the ids in doubt with their place in the order, from 1; those that cannot be told from them have 0."""
    found: dict[str, int] = {}
    for suspect in solution.suspects:
        if suspect.id not in found or not found[suspect.id]:
            found[suspect.id] = 1 + len({i for i, n in found.items() if n})
    for suspect in solution.suspects:
        for other in suspect.others:
            found.setdefault(other, 0)
    return found
