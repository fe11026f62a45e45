"""What the drawings of a square show: its surfaces from the top down, contours of the newest, a section."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.desk.seabed.dig import SquareAnswer
from oakum.desk.seabed.dig_facts import STAGES, Marks, levels_of, place_named
from oakum.seabed.dig import (
    Contour,
    DigError,
    Level,
    Point,
    Section,
    Surface,
    contours,
    finest_interval_m,
    section,
    surface,
)


@dataclass(frozen=True, slots=True, eq=False)
class Bed:
    """One surface of a square: what it is in words, its levels, its triangles, the sd of a level where known."""

    title: str
    levels: tuple[Level, ...]
    held: Surface | None
    sd_m: float | None


def beds_of(square: SquareAnswer, marks: Marks) -> tuple[Bed, ...]:
    """Return the surfaces that were levelled, the highest first; levels that carry none are there without one."""
    if square.where is None:
        return ()
    found = []
    for spit in square.spits:
        for stage, words in zip(STAGES, ("before", "after"), strict=True):
            if not spit.kept.fields.get(stage):
                continue
            try:
                levels = levels_of(spit.kept, stage, square.where, marks)
            except DigError:
                continue  # the spit's answer says why
            try:
                held: Surface | None = surface(levels, square.where)
            except DigError:
                held = None
            found.append(Bed(f"{words} spit {spit.name}", levels, held, spit.kept.number("sd")))
    return tuple(found)


def zero_of(square: SquareAnswer) -> str:
    """Name what the heights of a square count from."""
    named, known = set(), False
    for spit in square.spits:
        for stage in STAGES:
            if spit.kept.fields.get(stage):
                known |= spit.kept.number(f"{stage}_zero") is not None
                if spit.kept.number(f"{stage}_zero") is None:
                    named.add(spit.kept.word(f"{stage}_from") or "a zero that is not known")
    if not named:
        return "the site's zero"
    return " and ".join(sorted(named)) + (" and the site's zero, mixed" if known else "")


def contours_of(bed: Bed, square: SquareAnswer, every_m: float | None) -> tuple[tuple[Contour, ...], str]:
    """Return the contours of a bed and a sentence on them: their distance, or why there are none."""
    if bed.held is None or square.where is None:
        return (), "No contours: the levels carry no surface."
    if bed.sd_m is None:
        return (), "No contours: the sd of the levels is not known, so nothing says how fine they may be."
    step = _readable_m(bed.held, bed.sd_m) if every_m is None else every_m
    try:
        found = contours(bed.held, step, sd_m=bed.sd_m, where=square.where)
    except DigError as error:
        return (), f"No contours: {error}."
    if not found:
        return (), f"No contour: the bed {bed.title} is flatter than {step:g} m."
    return found, f"Contours of the bed {bed.title}, every {step:g} m (levels have an sd of {bed.sd_m:g} m)."


def _readable_m(held: Surface, sd_m: float) -> float:
    """The finest interval the levels allow, or a greater round one where more than ten lines would come of it."""
    span = float(held.z_m.max() - held.z_m.min())
    return finest_interval_m(max(sd_m, 0.05 * span))


def section_of(
    square: SquareAnswer, beds: tuple[Bed, ...], marks: Marks, start: str, end: str, tolerance_m: float | None
) -> tuple[Section, str, str]:
    """Return a section and the names of its ends; empty names take the line across the middle of two sides.

    Raises `DigError` for a place nobody knows.
    """
    if square.where is None:
        raise DigError(square.refused)
    names = square.where.names
    far = len(names) // 2
    first = start or f"{names[-1]}{names[0]}"
    last = end or (f"{names[far - 1]}{names[far]}" if len(names) > 3 else names[1])
    ends: list[Point] = []
    for name in (first, last):
        place = place_named(name, square.where, marks)
        if place is None:
            raise DigError(
                f"{name}: no corner and no mark is called so; write a corner, middle, two corners of a side, or a mark"
            )
        ends.append(place)
    length = ((ends[1][0] - ends[0][0]) ** 2 + (ends[1][1] - ends[0][1]) ** 2) ** 0.5
    near = max(0.05, round(0.1 * length, 2)) if tolerance_m is None else tolerance_m
    return section(ends[0], ends[1], [(bed.title, bed.levels, bed.held) for bed in beds], near), first, last
