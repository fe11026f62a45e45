"""How hard everything is used: one bar a check, the hardest first, against the line of 100 %."""

from __future__ import annotations

from collections.abc import Sequence

from oakum.draw import svg
from oakum.draw.forces import reading, unit_words
from oakum.draw.hatch import hatched
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import decimals
from oakum.draw.theme import PAGE, Theme
from oakum.draw.wrap import wrapped
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check

_LINES = 3
_SHOWN = {
    "deg": ("°", 1.0),
    "1": ("%", 100.0),
    "m2": ("m²", 1.0),
    "m3": ("m³", 1.0),
    "m3/s": ("l/s", 1000.0),
}
_MOST_ACROSS = 2.0
"""The bars end at 200 % of the capacity; what is beyond is broken off and says so."""


def percent_words(check: Check) -> str:
    """Say how much of its capacity a check uses.

    A share over 1 never rounds down to "100 %", nor one under 1 up to it.
    """
    used = check.utilisation
    if used is None:
        return "not known"
    whole = round(100 * used)
    if (used > 1.0 and whole <= 100) or (used < 1.0 and whole >= 100):
        return f"{decimals(100 * used, 1) if abs(used - 1) >= 5e-4 else ('over 100' if used > 1 else 'under 100')} %"
    return f"{decimals(whole, 0)} %"


def amounts_words(check: Check, cell_unit: str) -> str:
    """Say what is asked and what it bears: "412 of 500 kg", loads in the unit of the load cell."""
    if check.unit in ("kg", "N"):
        newton = check.unit == "N"
        scale = 1.0 / G_M_S2 if newton else 1.0
        asked, unit = reading(check.demand * scale, cell_unit), unit_words(cell_unit)
        bears = None if check.capacity is None else reading(check.capacity * scale, cell_unit)
    else:
        unit, factor = _SHOWN.get(check.unit, (check.unit, 1.0))
        if check.unit == "Pa":  # wood and steel in the unit of their tables, what presses on a find in kPa
            hard = max(check.demand, check.capacity or 0.0) >= 1e6
            unit, factor = ("N/mm\u00b2", 1e-6) if hard else ("kPa", 1e-3)
        asked = figure(check.demand * factor)
        bears = None if check.capacity is None else figure(check.capacity * factor)
    tail = unit if unit == "°" or not unit else f" {unit}"
    return f"{asked}{tail} asked, capacity not known" if bears is None else f"{asked} of {bears}{tail}"


def utilisation_bars(
    checks: Sequence[Check],
    *,
    governing: Check | None = None,
    cell_unit: str = "kg",
    theme: Theme = PAGE,
    width: float | None = None,
    across_share: float | None = None,
    with_head: bool = True,
    key: str = "utilisation",
) -> str:
    """Draw the checks in their order; `governing` is named where it stands among them.

    A check whose capacity is not known is a hatched bar; an objection stands under its bar in words. For a
    list in several pieces `across_share` (of `width_share`) keeps one length of bars and `with_head` writes
    the 100 % once.
    """
    across = width or theme.width
    size = theme.text_size
    full = across_share or width_share(checks)
    left, right = 0.0, across - theme.text_width("not known") - 0.8 * size
    line_x = left + (right - left) / full
    top = 2.0 * size if with_head else 0.3 * size
    parts: list[str] = []
    y = top
    for check in checks:
        drawn, tall = _bar(check, y, left, right, full, across, theme, cell_unit, check is governing)
        parts.append(drawn)
        y += tall
    if not checks:
        parts.append(svg.text(0, top + size, "nothing was checked", fill=theme.ink))
        y += 1.6 * size
    head = svg.text(line_x, size, "100 %", text_anchor="middle", font_weight="600", fill=theme.ink)
    said = "; ".join(f"{c.title}: {percent_words(c)}" for c in checks) or "nothing was checked"
    return svg.document(
        across,
        y + 0.2 * size,
        svg.group(*parts, head if with_head else "", font_size=size),
        title="Utilisation: what is asked over what it bears",
        description=f"{said}.",
        key=key,
        font=theme.font,
    )


def utilisation_rows(checks: Sequence[Check], cell_unit: str = "kg") -> Rows:
    """Return every check with its utilisation, amounts, basis, rule and objection."""
    return Rows(
        "Utilisation, the hardest first",
        ("check", "used", "asked of what it bears", "basis", "rule", "objection"),
        tuple(
            (
                c.title,
                percent_words(c),
                amounts_words(c, cell_unit),
                c.basis,
                rule_words(c),
                c.objection or "none found",
            )
            for c in checks
        ),
    )


def rule_words(check: Check) -> str:
    """Say the rule with its source, country and mark."""
    rule = check.rule
    where = f" ({rule.country})" if rule.country else ""
    return f"{rule.words}; {rule.source}{where}: {rule.mark}"


def width_share(checks: Sequence[Check]) -> float:
    """Return the share of capacity that the whole width stands for."""
    most = max((c.utilisation or 0.0 for c in checks), default=0.0)
    return min(max(1.15, 1.05 * most), _MOST_ACROSS)


def _bar(
    check: Check,
    y: float,
    left: float,
    right: float,
    full: float,
    across: float,
    theme: Theme,
    unit: str,
    governs: bool,
) -> tuple[str, float]:
    size = theme.text_size
    used = check.utilisation
    title = f"governs: {check.title}" if governs else check.title
    amounts = amounts_words(check, unit)
    room = across - theme.text_width(amounts) - size
    lines = wrapped(title, room, theme, most=_LINES)
    weight = "600" if governs else None
    parts = [
        svg.text(left, y + size + i * 1.25 * size, line, fill=theme.ink, font_weight=weight)
        for i, line in enumerate(lines)
    ]
    parts.append(svg.text(across, y + size, amounts, text_anchor="end", fill=theme.soft))
    bar_y = y + size + (len(lines) - 1) * 1.25 * size + 0.45 * size
    bar_h = 0.8 * size
    unit_w = (right - left) / full
    mark = svg.line(
        left + unit_w, bar_y - 3, left + unit_w, bar_y + bar_h + 3, stroke=theme.ink, stroke_width=1.2
    )
    if used is None:
        parts.append(hatched(left, bar_y, unit_w, bar_h, stroke=theme.soft))
        parts.append(_box(left, bar_y, unit_w, bar_h, theme, fill="none", dash="3 2"))
    else:
        parts.append(_filled(used, left, right, bar_y, bar_h, unit_w, theme))
    parts.append(mark)
    parts.append(
        svg.text(
            across,
            bar_y + 0.78 * size,
            percent_words(check),
            text_anchor="end",
            font_weight="600",
            fill=theme.ink,
        )
    )
    bottom = bar_y + bar_h
    if check.objection:
        for line in wrapped(f"objection: {check.objection}", across, theme, most=_LINES):
            bottom += 1.25 * size
            parts.append(svg.text(left, bottom, line, fill=theme.signal, font_weight="600"))
        bottom += 0.2 * size
    return svg.group(*parts, class_="check"), bottom - y + 0.85 * size


def _filled(
    used: float, left: float, right: float, y: float, height: float, unit_w: float, theme: Theme
) -> str:
    """Draw the part up to 100 % plain, the part beyond crossed, and a break where it leaves the drawing."""
    end = min(left + used * unit_w, right)
    inside = min(end, left + unit_w)
    parts = [
        _box(left, y, unit_w, height, theme, fill="none"),
        svg.element(
            "rect",
            x=left,
            y=y,
            width=max(inside - left, 1.0),
            height=height,
            fill=theme.water,
            fill_opacity=0.7 if theme.name == "page" else 0.55,
        ),
    ]
    if used > 1.0:
        parts.append(_box(inside, y, max(end - inside, 1.5), height, theme, fill=theme.signal, dash=None))
    if left + used * unit_w > right + 1e-6:
        nick = 0.3 * height
        parts.append(
            svg.polyline(
                [
                    (end - 2 * nick, y - 2),
                    (end - nick, y + height / 2),
                    (end - 2 * nick, y + height / 2),
                    (end - nick, y + height + 2),
                ],
                fill="none",
                stroke=theme.paper,
                stroke_width=2.0,
            )
        )
    return svg.group(*parts)


def _box(
    x: float, y: float, width: float, height: float, theme: Theme, *, fill: str, dash: str | None = None
) -> str:
    return svg.element(
        "rect",
        x=x,
        y=y,
        width=width,
        height=height,
        fill=fill,
        stroke=theme.soft,
        stroke_width=0.6,
        stroke_dasharray=dash,
    )
