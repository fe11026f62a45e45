"""What the sheets in the terminal share: tables of rows, headed lists, one signal style."""

from __future__ import annotations

from collections.abc import Sequence

from rich import box
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from oakum.draw.rows import Rows

SIGNAL = "bold dark_orange3"


def bare_table(title: str) -> Table:
    """Return a table without columns yet."""
    return Table(title=Text(title, style="bold"), title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)


def rows_table(rows: Rows, *, stacked: bool = False) -> Table:
    """Set rows as a table; `stacked` puts a range in brackets under its likely value."""
    table = bare_table(rows.caption)
    for index, head in enumerate(rows.head):
        right = index > 0 and all(_is_figure(line[index]) for line in rows.lines)
        table.add_column(Text(head), justify="right" if right else "left")
    for line in rows.lines:
        table.add_row(*(Text(cell.replace(" (", "\n(") if stacked else cell) for cell in line))
    return table


def headed_lines(console: Console, title: str, lines: Sequence[str]) -> None:
    """Print a heading and its lines, nothing where there are none."""
    if lines:
        console.print()
        console.print(Text(title, style="bold"))
        for line in lines:
            console.print(Padding(Text(line), (0, 0, 0, 2)))


def _is_figure(cell: str) -> bool:
    return cell[:1].isdigit() or cell[:1] == "\u2212"
