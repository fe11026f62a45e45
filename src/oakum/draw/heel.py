"""The vessel in section, heeled by the load at her boom head: low corner, radius, and the load itself."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from oakum.draw import svg
from oakum.draw.forces import in_unit, load_words
from oakum.draw.plot import KeyLine, key_lines, letter_sample, lettered
from oakum.draw.rows import Rows, figure, spread_figures
from oakum.draw.theme import PAGE, Theme
from oakum.ground.estimate import Spread
from oakum.lift.vessel import Head, Vessel, VesselAnswer

Flat = tuple[float, float]
_BILGE = 0.25  # of the lesser of draught and half beam
_LOAD_M = 0.9
NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class _Turn:
    """Turns and sinks points (from the centreline, above the still water) as the vessel heels towards the load."""

    heel_rad: float
    lift_m: float

    def at(self, y: float, z: float) -> Flat:
        cos, sin = math.cos(self.heel_rad), math.sin(self.heel_rad)
        return y * cos + z * sin, z * cos - y * sin + self.lift_m


def heel(
    answer: VesselAnswer,
    vessel: Vessel,
    head: Head,
    *,
    cell_unit: str = "kg",
    theme: Theme = PAGE,
    width: float | None = None,
    tallest: float = 1.0,
    key: str = "heel",
) -> str:
    """Draw the section to scale at its likely heel, and thin at the 95th percentile; at most `tallest` widths high.

    Raises `DrawingError` where heel, beam, draught or freeboard is not known.
    """
    beam, draught, board = vessel.beam_m, vessel.draught_m, vessel.freeboard_m
    if answer.heel_deg is None or beam is None or draught is None or board is None:
        raise svg.DrawingError("heel, beam, draught and freeboard must be known to draw the section")
    across, size = width or theme.width, theme.text_size
    likely = _turn(answer.heel_deg.best, answer.freeboard_m.best if answer.freeboard_m else None, beam, board)
    most = _turn(answer.heel_deg.p95, answer.freeboard_m.p5 if answer.freeboard_m else None, beam, board)
    tip = likely.at(head.y_m, head.height_m - draught)
    low = min(*(t.at(beam / 2, -draught)[1] for t in (likely, most)), -1.6 * _LOAD_M) - 0.1 * draught
    high = max(tip[1], likely.at(-beam / 2, board)[1], board)
    left = -0.62 * beam
    right = max(tip[0] + 0.9 * _LOAD_M, 0.62 * beam)
    scale = min((across - 2 * size) / (right - left), tallest * across / (high - low))
    start = (across - scale * (right - left)) / 2

    def at(point: Flat) -> Flat:
        return start + scale * (point[0] - left), 2.6 * size + scale * (high - point[1])

    bottom = at((0.0, low))[1]
    drawn_key, end = key_lines(_key(answer, cell_unit, theme), bottom + 1.0 * size, theme, across)
    return svg.document(
        across,
        end + 0.2 * size,
        _sea(at, across, bottom, theme),
        _hull(at, most, beam, draught, board, fill="none", stroke=theme.soft, stroke_width=0.8, stroke_dasharray="3 2"),
        _hull(at, likely, beam, draught, board, fill=theme.paper, stroke=theme.ink, stroke_width=1.6),
        _boom(at, likely, head, draught, tip, theme),
        _load(at, tip, answer.state, theme),
        _low_corner(at, likely, beam, board, theme),
        _radius(at, likely, head, draught, tip, theme),
        _angle(at, likely, board, theme),
        drawn_key,
        title=f"The vessel heeled by the load {answer.state}",
        description=" ".join(f"{line}." for line in heel_lines(answer, cell_unit)),
        key=key,
        font=theme.font,
    )


def heel_lines(answer: VesselAnswer, cell_unit: str = "kg") -> tuple[str, ...]:
    """Say heel, freeboard, radius and what the chart allows, each with its spread."""
    said = [f"heel {_words(answer.heel_deg)}"]
    if answer.heel_limit_deg is not None:
        said[0] += f"; an objection appears over {answer.heel_limit_deg:g}°"
    said.append(f"freeboard at the low corner {_words(answer.freeboard_m)}")
    radius = f"radius {_words(answer.radius_m)} with the heel"
    if answer.upright_m is not None:
        radius += f", {answer.upright_m:.2f} m upright"
    said.append(radius)
    allows = "not known" if answer.chart_kg is None else load_words(answer.chart_kg, cell_unit)
    said.append(f"the chart allows {allows} there; hook load {_in_cell(answer.load_kg, cell_unit)}")
    return tuple(said)


def vessel_rows(answers: Sequence[VesselAnswer], cell_unit: str = "kg") -> Rows:
    """Return what is known of the vessel, a column a state."""
    made: tuple[tuple[str, Callable[[VesselAnswer], str]], ...] = (
        ("hook load", lambda a: _in_cell(a.load_kg, cell_unit)),
        ("heel", lambda a: _words(a.heel_deg)),
        ("heel, wall-sided formula", lambda a: _words(a.wall_sided_deg)),
        ("heel at which an objection appears", lambda a: _one(a.heel_limit_deg, "°")),
        ("load at which that heel is reached", lambda a: _load_or(a.heel_load_kg, cell_unit)),
        ("GM before the load", lambda a: _words(a.gm_before_m)),
        ("GM with the load", lambda a: _words(a.gm_m)),
        ("freeboard at the low corner", lambda a: _words(a.freeboard_m)),
        ("radius upright", lambda a: _one(a.upright_m, " m")),
        ("radius with the heel", lambda a: _words(a.radius_m)),
        ("chart allows there", lambda a: _load_or(a.chart_kg, cell_unit)),
        ("greatest load by chart, own heel counted", lambda a: _load_or(a.chart_load_kg, cell_unit)),
        ("first roll after a sudden loss of the load", lambda a: _words(a.first_roll_deg)),
    )
    return Rows(
        "The vessel with the load; likely, with 9 in 10 between",
        ("what", *(a.state for a in answers)),
        tuple((name, *(write(a) for a in answers)) for name, write in made),
    )


def _words(spread: Spread | None) -> str:
    """Write a spread short: likely value with P5 to P95."""
    if spread is None:
        return NOT_KNOWN
    low, best, high = spread_figures(spread)
    unit = "°" if spread.unit == "deg" else f" {spread.unit}"
    return f"{best}{unit}" if low == high else f"{best}{unit} ({low} to {high})"


def _in_cell(load: Spread, cell_unit: str) -> str:
    return _words(in_unit(load, cell_unit))


def _one(value: float | None, unit: str) -> str:
    return NOT_KNOWN if value is None else f"{figure(value)}{unit}"


def _load_or(load_kg: float | None, cell_unit: str) -> str:
    return NOT_KNOWN if load_kg is None else load_words(load_kg, cell_unit)


def _turn(heel_deg: float, freeboard_m: float | None, beam: float, board: float) -> _Turn:
    """Return how the section lies; sunk or lifted so that its low corner has the freeboard of the answer."""
    rad = math.radians(heel_deg)
    corner = _Turn(rad, 0.0).at(math.copysign(beam / 2, rad), board)[1]
    return _Turn(rad, 0.0 if freeboard_m is None else freeboard_m - corner)


def _hull(
    at: Callable[[Flat], Flat], turn: _Turn, beam: float, draught: float, board: float, **style: str | float | None
) -> str:
    """Draw a section with flat floor, round bilges and plumb sides: the form the formulas stand for."""
    half, r = beam / 2, _BILGE * min(2 * draught, beam)
    bilge = [math.radians(a) for a in range(0, 91, 15)]
    right = [(half - r + r * math.cos(a), -draught + r - r * math.sin(a)) for a in bilge]
    chain = [(half, board), *right, *((-y, z) for y, z in reversed(right)), (-half, board)]
    ways = " ".join(f"{svg.number(x)},{svg.number(y)}" for x, y in (at(turn.at(*q)) for q in chain))
    return svg.element("path", d=f"M{ways}Z", stroke_linejoin="round", **style)


def _sea(at: Callable[[Flat], Flat], across: float, bottom: float, theme: Theme) -> str:
    level = at((0.0, 0.0))[1]
    return svg.group(
        svg.element("rect", x=0, y=level, width=across, height=bottom - level, fill=theme.water, fill_opacity=0.08),
        svg.line(0, level, across, level, stroke=theme.water, stroke_width=1.2),
        class_="sea",
    )


def _boom(at: Callable[[Flat], Flat], turn: _Turn, head: Head, draught: float, tip: Flat, theme: Theme) -> str:
    if head.foot_y_m is None or head.foot_height_m is None:
        return ""
    foot = at(turn.at(head.foot_y_m, head.foot_height_m - draught))
    end = at(tip)
    return svg.group(
        svg.line(foot[0], foot[1], end[0], end[1], stroke=theme.ink, stroke_width=2.2, stroke_linecap="round"),
        svg.element("circle", cx=foot[0], cy=foot[1], r=3, fill=theme.paper, stroke=theme.ink, stroke_width=1.4),
        class_="boom",
    )


def _load(at: Callable[[Flat], Flat], tip: Flat, state: str, theme: Theme) -> str:
    """Hang the load plumb under the head, below the surface or clear of it."""
    middle = -1.0 * _LOAD_M if state == "under water" else 0.7 * _LOAD_M
    x, top = at((tip[0], middle + _LOAD_M / 2))
    _, low = at((tip[0], middle - _LOAD_M / 2))
    half = (low - top) / 2
    end = at(tip)
    return svg.group(
        svg.line(end[0], end[1], x, top, stroke=theme.ink, stroke_width=1.1),
        svg.element(
            "rect", x=x - half, y=top, width=2 * half, height=low - top, fill=theme.paper, stroke=theme.ink,
            stroke_width=1.4,
        ),
        class_="load",
    )  # fmt: skip


def _low_corner(at: Callable[[Flat], Flat], turn: _Turn, beam: float, board: float, theme: Theme) -> str:
    side = math.copysign(beam / 2, turn.heel_rad)
    x, top = at(turn.at(side, board))
    level = at((0.0, 0.0))[1]
    out = x + math.copysign(1.0 * theme.text_size, side)
    return svg.group(
        svg.line(x, top, out + math.copysign(4, side), top, stroke=theme.signal, stroke_width=0.8),
        svg.line(out, top, out, level, stroke=theme.signal, stroke_width=1.6),
        lettered(out + math.copysign(1.1 * theme.text_size, side), (top + level) / 2, "b", theme),
    )


def _radius(at: Callable[[Flat], Flat], turn: _Turn, head: Head, draught: float, tip: Flat, theme: Theme) -> str:
    if head.foot_y_m is None or head.foot_height_m is None:
        return ""
    foot = at(turn.at(head.foot_y_m, head.foot_height_m - draught))
    end = at(tip)
    row = 1.2 * theme.text_size
    return svg.group(
        *(svg.line(x, row - 4, x, y, stroke=theme.soft, stroke_width=0.7, stroke_dasharray="2 2")
          for x, y in (foot, end)),
        svg.line(foot[0], row, end[0], row, stroke=theme.signal, stroke_width=1.6),
        lettered((foot[0] + end[0]) / 2, row, "c", theme),
        class_="radius",
    )  # fmt: skip


def _angle(at: Callable[[Flat], Flat], turn: _Turn, board: float, theme: Theme) -> str:
    """Mark plumb and the vessel's own centreline over the deck."""
    foot = at(turn.at(0.0, 0.0))
    upper = at(turn.at(0.0, 2.2 * board))
    top = foot[1] - math.hypot(upper[0] - foot[0], upper[1] - foot[1])
    return svg.group(
        svg.line(foot[0], foot[1], foot[0], top, stroke=theme.soft, stroke_width=0.8, stroke_dasharray="2 2"),
        svg.line(foot[0], foot[1], upper[0], upper[1], stroke=theme.signal, stroke_width=1.2),
        lettered((foot[0] + upper[0]) / 2, top - 0.8 * theme.text_size, "a", theme),
        class_="angle",
    )


def _key(answer: VesselAnswer, cell_unit: str, theme: Theme) -> list[KeyLine]:
    said = heel_lines(answer, cell_unit)
    found = [KeyLine(words, letter_sample(letter, theme)) for words, letter in zip(said, "abc", strict=False)]
    found.append(KeyLine(said[3], _box_sample(theme)))
    found.append(
        KeyLine(
            "the section at the 95th percentile of the heel",
            lambda x0, x1, y: svg.line(x0, y, x1, y, stroke=theme.soft, stroke_width=0.8, stroke_dasharray="3 2"),
        )
    )
    return found


def _box_sample(theme: Theme) -> Callable[[float, float, float], str]:
    half = 0.45 * theme.text_size
    return lambda x0, x1, y: svg.element(
        "rect", x=(x0 + x1) / 2 - half, y=y - half, width=2 * half, height=2 * half, fill=theme.paper, stroke=theme.ink,
        stroke_width=1.2,
    )  # fmt: skip
