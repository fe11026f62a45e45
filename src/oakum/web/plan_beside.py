"""What stands beside the plan: the mark looked at, and the story the adjustment tells."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.desk.seabed.plan_items import PlanItems, PlanMark
from oakum.draw.rows import Rows
from oakum.draw.scale import decimals
from oakum.draw.site_readings import suspects_in_order
from oakum.seabed.network import ReadingResult, SiteSolution, SolvedMark, Suspect


@dataclass(frozen=True, slots=True)
class MarkShown:
    """A mark beside the plan: facts by name, its readings, and what else to know of it in sentences."""

    item: PlanMark
    facts: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...]
    readings: Rows


@dataclass(frozen=True, slots=True)
class SuspectShown:
    """A doubtful reading in its order, with the likely causes in words."""

    number: int
    suspect: Suspect
    marks: tuple[str, ...]


def mark_shown(solution: SiteSolution, items: PlanItems, name: str, inside: float) -> MarkShown | None:
    """Return what is known of a mark; None where it is not solved."""
    try:
        mark = solution.mark(name)
    except KeyError:
        return None
    twins = [twin.words for twin in solution.twins if twin.mark == name]
    return MarkShown(
        items.of(name),
        _facts(mark, inside),
        (*((mark.weak,) if mark.weak else ()), *twins),
        reading_rows(solution, name),
    )


def _facts(mark: SolvedMark, inside: float) -> tuple[tuple[str, str], ...]:
    shape = mark.ellipse(inside)
    sd = ", ".join(decimals(1000 * value, 0) for value in mark.sd_m)
    found = [
        ("East, north", f"{decimals(mark.x_m, 3)} m, {decimals(mark.y_m, 3)} m"),
        ("Height", f"{decimals(mark.z_m, 3)} m, up from the datum of heights"),
        ("Sd of x, y, z", f"{sd} mm"),
        (
            f"{100 * inside:g} % ellipse",
            f"half axes {decimals(1000 * shape.major_m, 0)} and {decimals(1000 * shape.minor_m, 0)} mm, "
            f"the longer towards {shape.bearing_deg:.0f}\u00b0 from site north",
        ),
    ]
    if mark.held:
        found.append(("Held as known", ", ".join(mark.held)))
    return tuple(found)


def reading_rows(solution: SiteSolution, name: str) -> Rows:
    """Return every reading at a mark with what it did in the adjustment, the least fitting first."""
    order = suspects_in_order(solution)
    rows = [row for row in solution.readings if name in row.marks]
    rows.sort(key=lambda row: -abs(row.w or 0.0))
    lines = tuple(
        (
            f"{row.kind} {' to '.join(row.marks)}" + (f", {row.part}" if row.part else ""),
            row.text,
            _in_unit(row, row.residual),
            "\u2013" if row.w is None else decimals(row.w, 1),
            _said(row, order),
        )
        for row in rows
    )
    head = ("reading", "as written", "plan less reading", "w", "remark")
    return Rows(f"{len(lines)} readings at {name}, the least fitting first", head, lines)


def _in_unit(row: ReadingResult, value: float) -> str:
    return f"{decimals(value, 2)}\u00b0" if row.unit == "deg" else f"{decimals(1000 * value, 0)} mm"


def _said(row: ReadingResult, order: dict[str, int]) -> str:
    if not row.counted:
        return "set aside"
    if row.id in order:
        return f"in doubt, {order[row.id]} in order" if order[row.id] else "cannot be told from a doubtful one"
    if row.w is None:
        return "nothing checks it"
    return "\u2013"


def suspects_shown(solution: SiteSolution) -> tuple[SuspectShown, ...]:
    """Return the doubtful readings in their order."""
    order = suspects_in_order(solution)
    marks = {row.id: row.marks for row in solution.readings}
    return tuple(
        SuspectShown(order[one.id], one, tuple(dict.fromkeys(marks.get(one.id, ())))) for one in solution.suspects
    )
