"""The season of a dig: volume against diver-hours as measured, and where the rate leads, with its band."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.plot import grid
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import Axis, axis, decimals
from oakum.draw.theme import PAGE, Theme
from oakum.seabed.dig import Season, band_m3

_STEPS = 24
_Z95 = 1.645


def season_drawing(
    season: Season, *, theme: Theme = PAGE, width: float | None = None, key: str = "dig-season"
) -> str:
    """Draw the spits done as points with their range, and onward the band of the forecast to what is planned."""
    size = theme.text_size
    across = width or theme.width
    down = 0.66 * across
    ahead = _ahead(season)
    last = season.hours
    far = max([last, *(h for h, *_ in ahead), 1.0])
    tops = [m.volume_m3 + _Z95 * m.sd_m3 for m in season.milestones] + [high for *_, high in ahead]
    y = axis(0.0, max([*tops, season.planned_m3 or 0.0, 0.1]), down - 3.6 * size, 2.4 * size)
    left = theme.text_width(max((y.label(t) for t in y.ticks), key=len)) + 0.8 * size
    x = axis(0.0, far * 1.03, left, across - 0.8 * size, count=6, tight=True)
    return svg.document(
        across,
        down,
        grid(x, y, "diver-hours", "dug, m\u00b3", theme, across),
        _planned(season, x, y, theme),
        _band(ahead, x, y, theme),
        _measured(season, x, y, theme),
        title="Volume dug against diver-hours",
        description=_words(season),
        key=key,
        font=theme.font,
    )


def season_rows(season: Season) -> Rows:
    """Return the spits done and, where there is a forecast, where the season may stand later."""
    lines = [
        (
            f"{one.on or 'day not known'}: {one.spit} done",
            figure(one.hours),
            decimals(one.area_m2, 1),
            figure(one.volume_m3 - _Z95 * one.sd_m3),
            figure(one.volume_m3),
            figure(one.volume_m3 + _Z95 * one.sd_m3),
        )
        for one in season.milestones
    ]
    for hours, low, best, high in _ahead(season)[4::5]:
        lines.append(("forecast", figure(hours), "", figure(low), figure(best), figure(high)))
    head = (
        "when",
        "diver-hours",
        "area (m\u00b2)",
        "low, P5 (m\u00b3)",
        "likely (m\u00b3)",
        "high, P95 (m\u00b3)",
    )
    return Rows("Volume dug against diver-hours", head, tuple(lines))


def _ahead(season: Season) -> list[tuple[float, float, float, float]]:
    """Hours and low, likely, high volume from now to where the rest is likely done, or half as far again."""
    if season.rate is None:
        return []
    more = (
        season.forecast.best_h if season.forecast is not None and season.forecast.best_h > 0 else season.hours
    )
    if season.forecast is not None and season.forecast.high_h is not None:
        more = min(season.forecast.high_h, 2.0 * more) or more
    found = []
    for step in range(_STEPS + 1):
        hours = more * step / _STEPS
        low, best, _ = band_m3(season.rate, hours) if hours > 0 else (0.0, 0.0, 0.0)
        shift = season.volume_m3
        half = max(best - low, 0.0)
        half = (half**2 + (_Z95 * season.sd_m3) ** 2) ** 0.5
        found.append((season.hours + hours, max(0.0, shift + best - half), shift + best, shift + best + half))
    return found


def _measured(season: Season, x: Axis, y: Axis, theme: Theme) -> str:
    points = [(0.0, 0.0), *((one.hours, one.volume_m3) for one in season.milestones)]
    parts = [
        svg.polyline(
            [(x.at(a), y.at(max(b, 0.0))) for a, b in points],
            fill="none",
            stroke=theme.ink,
            stroke_width=1.5,
            class_="best",
        )
    ]
    for one in season.milestones:
        px = x.at(one.hours)
        low, high = one.volume_m3 - _Z95 * one.sd_m3, one.volume_m3 + _Z95 * one.sd_m3
        parts.append(svg.line(px, y.at(max(low, 0.0)), px, y.at(high), stroke=theme.ink, stroke_width=1.0))
        parts.append(
            svg.element(
                "circle", cx=px, cy=y.at(max(one.volume_m3, 0.0)), r=3.0, fill=theme.paper, stroke=theme.ink
            )
        )
    return svg.group(*parts, class_="measured")


def _band(ahead: list[tuple[float, float, float, float]], x: Axis, y: Axis, theme: Theme) -> str:
    if not ahead:
        return ""
    upper = [(x.at(h), y.at(high)) for h, _, _, high in ahead]
    lower = [(x.at(h), y.at(low)) for h, low, _, _ in ahead]
    best = [(x.at(h), y.at(b)) for h, _, b, _ in ahead]
    return svg.group(
        svg.polyline(upper + lower[::-1], close=True, fill=theme.tone, fill_opacity=0.14, class_="band"),
        svg.paths([upper, lower], fill="none", stroke=theme.soft, stroke_width=0.6, stroke_dasharray="2 2"),
        svg.polyline(best, fill="none", stroke=theme.water, stroke_width=1.4, stroke_dasharray="6 3"),
        haloed(
            best[-1][0],
            best[-1][1] + 1.3 * theme.text_size,
            "forecast",
            theme,
            text_anchor="end",
            fill=theme.water,
            font_size=theme.text_size,
        ),
    )


def _planned(season: Season, x: Axis, y: Axis, theme: Theme) -> str:
    if season.planned_m3 is None:
        return ""
    level = y.at(season.planned_m3)
    words = f"planned: {figure(season.planned_m3)} m\u00b3"
    return svg.group(
        svg.line(x.start, level, x.end, level, stroke=theme.signal, stroke_width=1.1, stroke_dasharray="8 3"),
        haloed(x.start + 4, level - 4, words, theme, fill=theme.signal, font_size=theme.text_size),
    )


def _words(season: Season) -> str:
    said = [
        f"{figure(season.volume_m3)} m\u00b3 dug on {decimals(season.area_m2, 1)} m\u00b2 in {figure(season.hours)} "
        f"diver-hours of {season.dives} {'dive' if season.dives == 1 else 'dives'}."
    ]
    if season.forecast is not None:
        said.append(f"The rest: {season.forecast.words}.")
    elif season.refused:
        said.append(f"No forecast: {season.refused}")
    return " ".join(said)
