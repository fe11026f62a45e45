"""The sea in which the first objection appears, against its mean period, and what the skipper is told."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from oakum.draw import svg
from oakum.draw.hatch import hatched
from oakum.draw.plot import KeyLine, grid, hatch_sample, key_lines, letter_sample, lettered, stroke_sample
from oakum.draw.rows import Rows
from oakum.draw.scale import Axis, axis, decimals
from oakum.draw.theme import PAGE, Theme
from oakum.lift.splash import LimitCurve, LimitPoint

_TOLD = "begin in Hs at most, m"
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def sea_limit(
    curve: LimitCurve,
    *,
    hs_m: float | None = None,
    tz_s: float | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    tall: float = 0.58,
    key: str = "sea-limit",
) -> str:
    """Draw the limits of a curve; `hs_m` and `tz_s` are the sea the plan itself asks about, `tall` widths high.

    Between the line and the skipper's value lies the allowance. Raises `DrawingError` where no period was solved.
    """
    points = tuple(sorted(curve.points, key=lambda p: p.tz_s))
    if not points:
        raise svg.DrawingError("; ".join(curve.objections) or "no period was solved")
    across = width or theme.width
    size = theme.text_size
    base = 1.8 * size + tall * across
    y = axis(0.0, _top(points, hs_m), base, 1.8 * size)
    left = theme.text_width(max((y.label(t) for t in y.ticks), key=len)) + 0.8 * size
    first, last = points[0].tz_s, points[-1].tz_s
    if tz_s is not None:
        first, last = min(first, tz_s), max(last, tz_s)
    margin = 0.06 * (last - first) or 0.5
    x = _periods(points, axis(first - margin, last + margin, left, across - 0.4 * size, count=6, tight=True), theme)
    told, below = _told(points, x, base + 4.6 * size, theme)
    letters = {name: _LETTERS[i % 26] for i, name in enumerate(_named(points))}
    drawn_key, bottom = key_lines(_key(points, letters, hs_m, tz_s, theme), below, theme, across)
    return svg.document(
        across,
        bottom + 0.2 * size,
        svg.group(*(_unheld(p, span, x, y, theme) for p, span in _spans(points, x)), class_="unheld"),
        grid(x, y, "mean period of the waves Tz, s", "significant wave height Hs, m", theme, across),
        _allowance(points, x, y, theme),
        _steepest(points, x, y, theme),
        _line(points, x, y, theme),
        svg.group(*(_point(p, letters, x, y, theme) for p in points), class_="limits"),
        _own(hs_m, tz_s, x, y, theme),
        told,
        drawn_key,
        title="Sea in which an objection appears, by period",
        description=" ".join(f"{p.words}." for p in points),
        key=key,
        font=theme.font,
    )


def sea_limit_rows(curve: LimitCurve) -> Rows:
    """Return every period with its limit, the objection, the skipper's value and the steepest sea."""
    lines = []
    for p in sorted(curve.points, key=lambda p: p.tz_s):
        held = "does not hold: " + "; ".join(p.why_not) if p.why_not else "holds"
        lines.append(
            (
                decimals(p.tz_s, 1),
                skipper_words(p),
                "none found" if p.hs_m is None else decimals(p.hs_m, 2),
                p.objection or "none found",
                decimals(p.steepest_m, 2),
                held,
            )
        )
    head = (
        "Tz (s)", "begin in Hs at most (m)", "objection appears at Hs (m)", "objection", "steepest sea, Hs (m)",
        "method",
    )  # fmt: skip
    return Rows("Sea in which an objection appears, by period", head, tuple(lines))


def skipper_words(point: LimitPoint) -> str:
    """Write what is told to the skipper for one period; never a figure where the method does not hold."""
    if point.why_not:
        return "not given"
    if point.skipper_m is None:
        return f"no objection up to {decimals(point.steepest_m, 2)}"
    return "under 0.05" if point.skipper_m < 0.05 else decimals(point.skipper_m, 2)


def _top(points: Sequence[LimitPoint], hs_m: float | None) -> float:
    known = [p.hs_m for p in points if p.hs_m is not None] + ([] if hs_m is None else [hs_m])
    return 1.3 * max(known) if known else max(p.steepest_m for p in points)


def _named(points: Sequence[LimitPoint]) -> list[str]:
    return list(dict.fromkeys(p.objection for p in points if p.objection))


def _spans(points: Sequence[LimitPoint], x: Axis) -> list[tuple[LimitPoint, tuple[float, float]]]:
    """Return the stretch of x that each point stands for: halfway to its neighbours."""
    edges = [x.low, *(0.5 * (a.tz_s + b.tz_s) for a, b in pairwise(points)), x.high]
    return [(p, (edges[i], edges[i + 1])) for i, p in enumerate(points)]


def _unheld(point: LimitPoint, span: tuple[float, float], x: Axis, y: Axis, theme: Theme) -> str:
    if not point.why_not:
        return ""
    left, right = x.at(span[0]), x.at(span[1])
    return hatched(left, y.end, right - left, y.start - y.end, stroke=theme.rule, pitch=7.0, weight=0.9)


def _allowance(points: Sequence[LimitPoint], x: Axis, y: Axis, theme: Theme) -> str:
    """Shade, period by period, what lies between the objection and the skipper's value."""
    parts = []
    for a, b in pairwise(points):
        ends = [(p.tz_s, p.hs_m, p.skipper_m) for p in (a, b)]
        if any(hs is None or skipper is None for _, hs, skipper in ends):
            continue
        upper = [(x.at(tz), y.at(hs or 0.0)) for tz, hs, _ in ends]
        lower = [(x.at(tz), y.at(skipper or 0.0)) for tz, _, skipper in reversed(ends)]
        parts.append(svg.polyline(upper + lower, close=True, fill=theme.tone, fill_opacity=0.14))
    return svg.group(*parts, class_="allowance")


def _steepest(points: Sequence[LimitPoint], x: Axis, y: Axis, theme: Theme) -> str:
    """Draw the steepest sea of each period as far as it lies in the drawing."""
    runs: list[list[tuple[float, float]]] = []
    for a, b in pairwise(points):
        ends = [(a.tz_s, a.steepest_m), (b.tz_s, b.steepest_m)]
        if ends[0][1] > y.high and ends[1][1] > y.high:
            continue
        run = []
        for tz, hs in ends:
            if hs > y.high:
                share = (y.high - ends[0][1]) / (ends[1][1] - ends[0][1])
                tz, hs = ends[0][0] + share * (ends[1][0] - ends[0][0]), y.high
            run.append((x.at(tz), y.at(hs)))
        runs.append(run)
    if not runs:
        return ""
    return svg.paths(runs, fill="none", stroke=theme.soft, stroke_width=1.0, stroke_dasharray="7 2 1.5 2")


def _line(points: Sequence[LimitPoint], x: Axis, y: Axis, theme: Theme) -> str:
    """Join the solved heights, broken where the method does not hold at one of the two."""
    parts = []
    for a, b in pairwise(points):
        if a.hs_m is not None and b.hs_m is not None:
            dash = "2 3" if a.why_not or b.why_not else None
            parts.append(
                svg.line(x.at(a.tz_s), y.at(a.hs_m), x.at(b.tz_s), y.at(b.hs_m), stroke_dasharray=dash)
            )
    return svg.group(*parts, stroke=theme.ink, stroke_width=1.6, class_="limit")


def _point(point: LimitPoint, letters: dict[str, str], x: Axis, y: Axis, theme: Theme) -> str:
    size = theme.text_size
    place = x.at(point.tz_s)
    if point.hs_m is None:
        if point.why_not:
            return ""
        top = y.at(min(point.steepest_m, y.high))
        mark = [(place - 0.4 * size, top + 0.8 * size), (place, top), (place + 0.4 * size, top + 0.8 * size)]
        return svg.polyline(mark, close=True, fill=theme.paper, stroke=theme.ink, stroke_width=1.1)
    parts = [lettered(place, y.at(point.hs_m), letters.get(point.objection or "", "?"), theme)]
    if point.skipper_m is not None and point.skipper_m >= 0.05:
        low = y.at(point.skipper_m)
        parts.append(
            svg.line(place - size, low, place + size, low, stroke=theme.signal, stroke_width=2.4, class_="skipper")
        )
    return svg.group(*parts)


def _periods(points: Sequence[LimitPoint], x: Axis, theme: Theme) -> Axis:
    """Return the axis with the solved periods as its ticks, as many as have room."""
    ticks: list[float] = []
    for p in points:
        if not ticks or x.at(p.tz_s) - x.at(ticks[-1]) > 2.4 * theme.text_size:
            ticks.append(p.tz_s)
    whole = all(abs(t - round(t)) < 1e-9 for t in ticks)
    return replace(x, ticks=tuple(ticks), step=1.0 if whole else 0.1)


def _told(points: Sequence[LimitPoint], x: Axis, y: float, theme: Theme) -> tuple[str, float]:
    """Write the skipper's values in a row under their periods, in two rows where they stand close."""
    size = theme.text_size
    parts = [svg.text(0, y, _TOLD, fill=theme.signal)]
    ends = [-1e9, -1e9]
    used = 0
    for p in points:
        words = _bar_words(p)
        half = theme.text_width(words) / 2
        place = min(max(x.at(p.tz_s), half), x.end - half)
        row = 0 if place - half > ends[0] + 3 else 1
        used = max(used, row)
        ends[row] = place + half
        parts.append(
            svg.text(
                place, y + (1.45 + 1.3 * row) * size, words, text_anchor="middle", font_weight="600", fill=theme.signal
            )
        )
    return svg.group(*parts, font_size=size, class_="told"), y + (2.3 + 1.3 * used) * size


def _bar_words(point: LimitPoint) -> str:
    """Write the skipper's value short: a dash where none is given."""
    if point.skipper_m is None:
        return "\u2013"
    return decimals(point.skipper_m, 2) if point.skipper_m >= 0.05 else "< 0.05"


def _own(hs_m: float | None, tz_s: float | None, x: Axis, y: Axis, theme: Theme) -> str:
    """Mark the sea the plan asks about: a cross in a ring, a line where only one of the two is known."""
    if hs_m is None and tz_s is None:
        return ""
    if hs_m is not None and tz_s is not None:
        return _cross(x.at(tz_s), y.at(hs_m), theme)
    at_y = None if hs_m is None else y.at(hs_m)
    at_x = None if tz_s is None else x.at(tz_s)
    ends = (x.start, at_y, x.end, at_y) if at_y is not None else (at_x, y.start, at_x, y.end)
    x1, y1, x2, y2 = (0.0 if end is None else end for end in ends)
    return svg.line(x1, y1, x2, y2, stroke=theme.signal, stroke_width=1.4, stroke_dasharray="2 2", class_="own-sea")


def _cross(x: float, y: float, theme: Theme) -> str:
    size = theme.text_size
    arm = 0.75 * size
    return svg.group(
        svg.line(x - arm, y, x + arm, y),
        svg.line(x, y - arm, x, y + arm),
        svg.element("circle", cx=x, cy=y, r=0.42 * size, fill="none"),
        stroke=theme.signal,
        stroke_width=1.5,
        class_="own-sea",
    )


def _own_line(hs_m: float | None, tz_s: float | None, theme: Theme) -> KeyLine:
    hs = "Hs not known" if hs_m is None else f"Hs {hs_m:.2f} m"
    tz = "Tz not known" if tz_s is None else f"Tz {tz_s:g} s"
    if hs_m is None or tz_s is None:
        sample = stroke_sample(stroke=theme.signal, stroke_width=1.4, stroke_dasharray="2 2")
    else:
        sample = _cross_sample(theme)
    return KeyLine(f"the sea of this plan: {hs}, {tz}", sample)


def _cross_sample(theme: Theme) -> Callable[[float, float, float], str]:
    return lambda x0, x1, y: _cross((x0 + x1) / 2, y, theme)


def _key(
    points: Sequence[LimitPoint], letters: dict[str, str], hs_m: float | None, tz_s: float | None, theme: Theme
) -> list[KeyLine]:
    found = [] if hs_m is None and tz_s is None else [_own_line(hs_m, tz_s, theme)]
    found += [KeyLine(f"objection: {name}", letter_sample(letter, theme)) for name, letter in letters.items()]
    size = theme.text_size
    if any(p.skipper_m is not None for p in points):
        found.append(
            KeyLine(
                "begin in at most this: 0.7 of where an objection appears, rounded down to 0.05 m",
                stroke_sample(stroke=theme.signal, stroke_width=2.4),
            )
        )
    if any(p.hs_m is None and not p.why_not for p in points):
        found.append(
            KeyLine(
                "no objection found up to the steepest sea",
                lambda x0, x1, y: svg.polyline(
                    [((x0 + x1) / 2 - 0.4 * size, y + 0.4 * size), ((x0 + x1) / 2, y - 0.4 * size),
                     ((x0 + x1) / 2 + 0.4 * size, y + 0.4 * size)],
                    close=True, fill=theme.paper, stroke=theme.ink, stroke_width=1.1,
                ),
            )
        )  # fmt: skip
    if any(p.steepest_m <= _top(points, None) for p in points):
        found.append(
            KeyLine(
                "steepest sea of the period",
                stroke_sample(stroke=theme.soft, stroke_width=1.0, stroke_dasharray="7 2 1.5 2"),
            )
        )
    for reason in dict.fromkeys("; ".join(p.why_not) for p in points if p.why_not):
        found.append(KeyLine(f"method does not hold: {reason}", hatch_sample(theme)))
    return found
