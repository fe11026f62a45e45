"""Turning on the seabed: the pull against the angle, and where it goes by itself."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.curves import band, band_rows
from oakum.draw.forces import curve_in, load_words
from oakum.draw.rows import Rows
from oakum.draw.scale import Axis
from oakum.draw.theme import PAGE, Theme
from oakum.ground.estimate import Spread
from oakum.lift.raising.plan import TurningAnswer
from oakum.lift.turning import FrameAnswer
from oakum.lift.weights.report import Curve


def pull_curve(answer: TurningAnswer, cell_unit: str) -> Curve | None:
    """Return the pull against the angle of a turning or rolling; None where it could not be computed."""
    if answer.turn is not None:
        return curve_in(answer.turn.force, cell_unit)
    return curve_in(answer.roll.pull, cell_unit) if answer.roll is not None else None


def pull_drawing(
    answer: TurningAnswer,
    cell_unit: str = "kg",
    *,
    at: float | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    height: float | None = None,
    key: str | None = None,
) -> str:
    """Draw the pull against the angle with the band of angles at which it goes by itself.

    Below the zero line it must be held back. Raises `DrawingError` where there is nothing to draw.
    """
    curve = pull_curve(answer, cell_unit)
    if curve is None:
        raise svg.DrawingError(answer.refused or f'"{answer.name}" was not computed')
    balance = (
        answer.turn.balance_deg if answer.turn is not None and answer.turn.goes_by_itself > 0.0 else None
    )
    return band(
        curve,
        at=at,
        theme=theme,
        width=width,
        height=height,
        key=key or f"turning-{answer.name}",
        over=(lambda x, y: _balance(balance, x, y, theme)) if balance is not None else None,
        said=f"It goes by itself at {balance.words()}." if balance is not None else "",
    )


def pull_rows(answer: TurningAnswer, cell_unit: str = "kg", *, most: int = 10) -> Rows:
    """Return pull against angle as a table, empty where it could not be computed."""
    curve = pull_curve(answer, cell_unit)
    if curve is None:
        return Rows(answer.name, ("angle",), ())
    rows = band_rows(curve, most=most)
    return Rows(f"{answer.name}: {rows.caption}", rows.head, rows.lines)


def frame_rows(frame: FrameAnswer, cell_unit: str = "kg") -> Rows:
    """Return which member carries when, and how much at most (P95)."""
    return Rows(
        "Which member carries when",
        ("step", "member", "largest load, P95"),
        tuple((step, member, load_words(load, cell_unit)) for step, member, load in frame.members()),
    )


def _balance(balance: Spread, x: Axis, y: Axis, theme: Theme) -> str:
    """Shade the angles at which it may go by itself, from P5 to P95."""
    low, high = (min(max(v, x.low), x.high) for v in (balance.p5, balance.p95))
    left, right = x.at(low), x.at(high)
    return svg.element(
        "rect",
        x=left,
        y=y.end,
        width=max(right - left, 1.5),
        height=abs(y.start - y.end),
        fill=theme.signal,
        fill_opacity=0.1,
        stroke=theme.signal,
        stroke_width=0.6,
        stroke_dasharray="3 2",
        class_="balance",
    )
