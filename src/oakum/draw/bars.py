"""What drives the width: one bar a driver, with its share of the variance."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.rows import Rows
from oakum.draw.scale import decimals
from oakum.draw.theme import PAGE, Theme
from oakum.ground.estimate import Driver, Spread

LEAST_SHARE = 0.01
"""A driver under 1 % of the variance is not shown by itself."""


def shown_drivers(spread: Spread, most: int = 6) -> tuple[Driver, ...]:
    """Return the greatest drivers, at most `most`, each at least 1 % of the variance, greatest first."""
    ordered = sorted(spread.drivers, key=lambda d: (-d.share, d.label))
    return tuple(d for d in ordered[:most] if d.share >= LEAST_SHARE)


def percent(share: float) -> str:
    """Write a share of one as whole per cent."""
    return f"{decimals(100 * share, 0)} %"


def driver_bars(
    spread: Spread, what: str, *, theme: Theme = PAGE, width: float | None = None, key: str | None = None
) -> str:
    """Draw a bar a driver of `what`, longest first; the label stands above its bar so that long names fit."""
    across = width or theme.width
    size = theme.text_size
    pitch = 2.5 * size
    shown = shown_drivers(spread)
    room = across - theme.text_width("100 %") - size
    parts = []
    for index, driver in enumerate(shown):
        top = index * pitch
        length = max(room * min(max(driver.share, 0.0), 1.0), 1.0)
        parts += [
            svg.text(0, top + size, _shortened(driver.label, across, theme), fill=theme.ink),
            svg.element(
                "rect",
                x=0,
                y=top + 1.35 * size,
                width=room,
                height=0.7 * size,
                fill=theme.rule,
                fill_opacity=0.45,
            ),
            svg.element(
                "rect",
                x=0,
                y=top + 1.35 * size,
                width=length,
                height=0.7 * size,
                fill=theme.water,
                fill_opacity=0.75,
            ),
            svg.text(
                across,
                top + 2.0 * size,
                percent(driver.share),
                text_anchor="end",
                font_weight="600",
                fill=theme.ink,
            ),
        ]
    if not shown:
        parts.append(svg.text(0, size, nothing_drives(spread), fill=theme.ink))
    said = "; ".join(f"{d.label} {percent(d.share)}" for d in shown) or nothing_drives(spread)
    return svg.document(
        across,
        max(len(shown) * pitch, 1.6 * size),
        svg.group(*parts, font_size=size),
        title=f"What drives the width of {what}",
        description=f"Share of the variance: {said}.",
        key=key or f"drivers-{what}",
        font=theme.font,
    )


def driver_rows(spread: Spread, what: str) -> Rows:
    """Return every driver with its share of the variance, greatest first."""
    ordered = sorted(spread.drivers, key=lambda d: (-d.share, d.label))
    return Rows(
        f"What drives the width of {what}",
        ("input", "share of the variance"),
        tuple((d.label, percent(d.share) if d.share >= LEAST_SHARE else "under 1 %") for d in ordered),
    )


def nothing_drives(spread: Spread) -> str:
    """Say why there is no bar."""
    if spread.sd == 0:
        return "every input is given as exact: there is no width"
    return "no single input drives the width by itself"


def _shortened(words: str, across: float, theme: Theme) -> str:
    most = int(across / theme.text_width("x"))
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}\u2026"
