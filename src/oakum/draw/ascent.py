"""The rise on bags: force and speed against depth, and what one failing bag leaves."""

from __future__ import annotations

from collections.abc import Callable

from oakum.draw import svg
from oakum.draw.curves import band, band_rows
from oakum.draw.forces import curve_in, in_unit, load_words, per_kg, unit_words
from oakum.draw.halo import haloed
from oakum.draw.rows import Rows, spread_figures
from oakum.draw.scale import axis
from oakum.draw.theme import PAGE, Theme
from oakum.draw.wrap import wrapped
from oakum.lift.bags import BagAnswer, FailedBag
from oakum.lift.bags.wording import in_ten
from oakum.lift.weights.report import Curve

_NO_CASE = "The bags alone do not lift the load: nothing rises on them."


def ascent_curves(bags: BagAnswer, cell_unit: str) -> tuple[Curve, ...]:
    """Return what is drawn of a rise: the force away from balance, then the speed if nobody vents.

    Nothing where the bags never lift the load, as when they only relieve a hook.
    """
    rises = [a.speed for a in (bags.just_lifting, bags.all_full) if a is not None and a.speed is not None]
    neutral = (curve_in(bags.neutral, cell_unit),) if bags.lifts > 0.0 else ()
    return (*neutral, *rises)


def ascent_drawings(
    bags: BagAnswer,
    cell_unit: str = "kg",
    *,
    theme: Theme = PAGE,
    width: float | None = None,
    height: float | None = None,
) -> tuple[str, ...]:
    """Draw each of `ascent_curves`."""
    return tuple(
        band(c, theme=theme, width=width, height=height, key=f"ascent-{i}")
        for i, c in enumerate(ascent_curves(bags, cell_unit))
    )


def ascent_rows(bags: BagAnswer, cell_unit: str = "kg", *, most: int = 9) -> tuple[Rows, ...]:
    """Return the numbers of each of `ascent_curves`."""
    return tuple(band_rows(c, most=most) for c in ascent_curves(bags, cell_unit))


def failed_bands(
    bags: BagAnswer,
    cell_unit: str = "kg",
    *,
    theme: Theme = PAGE,
    width: float | None = None,
    key: str = "failed-bags",
) -> str:
    """Draw, a row a bag that fails, the band of the force that the others leave on the load, down or up."""
    across, size = width or theme.width, theme.text_size
    factor = per_kg(cell_unit)
    values = [v * factor for case in bags.failed for v in (case.rest_kg.p5, case.rest_kg.p95)]
    x = axis(min([0.0, *values]), max([0.0, *values]), 0.6 * size, across - 0.6 * size, count=6)
    said = [wrapped(f'"{c.name}" fails: {outcome_words(c, cell_unit)}', across, theme) for c in bags.failed]
    tops = [1.8 * size]
    for lines in said:
        tops.append(tops[-1] + (1.75 + 1.25 * len(lines)) * size)
    top, base = tops[0], max(tops[-1], tops[0] + 1.6 * size)
    parts = [
        svg.text(max(x.at(0.0) - 4, 0.0), size, "sinks: force down", text_anchor="end", fill=theme.soft)
        if x.at(0.0) > theme.text_width("sinks: force down")
        else svg.text(0, size, "minus: force down, it sinks", fill=theme.soft),
        svg.text(x.at(0.0) + 4, size, "goes on rising", fill=theme.soft)
        if across - x.at(0.0) > theme.text_width("goes on rising")
        else "",
        svg.line(x.at(0.0), 1.2 * size, x.at(0.0), base, stroke=theme.ink, stroke_width=0.9),
    ]
    for case, lines, y in zip(bags.failed, said, tops, strict=False):
        parts.append(_case(case, lines, y, x.at(0.0), lambda v: x.at(v * factor), theme))
    if not bags.failed:
        parts.append(svg.text(0, top + size, _NO_CASE, fill=theme.ink))
    for tick in x.ticks:
        half = theme.text_width(x.label(tick)) / 2
        parts.append(svg.line(x.at(tick), base, x.at(tick), base + 3, stroke=theme.ink, stroke_width=0.7))
        place = min(max(x.at(tick), half), across - half)
        parts.append(svg.text(place, base + 1.4 * size, x.label(tick), text_anchor="middle"))
    parts.append(svg.line(x.start, base, x.end, base, stroke=theme.ink, stroke_width=0.7))
    unit = unit_words(cell_unit)
    parts.append(
        svg.text(
            across, base + 2.7 * size, f"force left on the load, {unit}", text_anchor="end", fill=theme.soft
        )
    )
    return svg.document(
        across,
        base + 3.1 * size,
        svg.group(*parts, font_size=size, fill=theme.ink),
        title="One bag fails: the force that is left on the load",
        description=" ".join(f"{case.words}." for case in bags.failed)
        or "No case: the bags alone do not lift the load.",
        key=key,
        font=theme.font,
    )


def failed_rows(bags: BagAnswer, cell_unit: str = "kg") -> Rows:
    """Return each case with its band and what happens, in words."""
    unit = unit_words(cell_unit)
    return Rows(
        "One bag fails, the others as they are",
        ("bag", f"low, P5 ({unit})", f"likely ({unit})", f"high, P95 ({unit})", "what happens"),
        tuple((c.name, *spread_figures(in_unit(c.rest_kg, cell_unit)), c.words) for c in bags.failed),
    )


def outcome_words(case: FailedBag, cell_unit: str) -> str:
    """Say in a line what the load does."""
    if case.hangs > 0.0 and case.hook_kg is not None:
        return f"hangs on the hook {in_ten(case.hangs)}, at first up to {load_words(case.hook_kg.p95, cell_unit)}"
    if case.sinks > 0.0:
        return f"sinks {in_ten(case.sinks)}"
    return "still carried in all cases"


def _case(
    case: FailedBag, lines: list[str], y: float, zero: float, at: Callable[[float], float], theme: Theme
) -> str:
    size = theme.text_size
    low, best, high = at(case.rest_kg.p5), at(case.rest_kg.best), at(case.rest_kg.p95)
    bar = y + (0.2 + 1.25 * len(lines)) * size
    return svg.group(
        *(haloed(0, y + (1 + 1.25 * i) * size, line, theme) for i, line in enumerate(lines)),
        svg.line(zero, bar + 0.4 * size, best, bar + 0.4 * size, stroke=theme.soft, stroke_width=0.6),
        svg.element(
            "rect",
            x=low,
            y=bar,
            width=max(high - low, 1.0),
            height=0.8 * size,
            fill=theme.tone,
            fill_opacity=0.2,
            stroke=theme.soft,
            stroke_width=0.6,
            stroke_dasharray="2 2",
        ),
        svg.line(best, bar - 1.5, best, bar + 0.8 * size + 1.5, stroke=theme.ink, stroke_width=1.8),
        class_="case",
    )
