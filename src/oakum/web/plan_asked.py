"""What the address of the plan asks for: window, layers, how ellipses are drawn, the mark looked at."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Annotated
from urllib.parse import urlencode

from fastapi import Depends, Query

from oakum.draw.site_plan import FACTORS, LAYERS
from oakum.draw.site_view import SiteView, whole_view

WIDTH, HEIGHT = 760.0, 570.0
ACROSS_M = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0)
"""Widths of the window to choose from where no script turns the wheel into steps."""
_SIDE = (280.0, 1600.0)

Number = Annotated[str, Query(max_length=40)]
Words = Annotated[str, Query(max_length=120)]


@dataclass(frozen=True, slots=True)
class PlanAsked:
    """A question to the plan. None for a number is: the whole site, or what the program finds good to see."""

    x_m: float | None = None
    y_m: float | None = None
    across_m: float | None = None
    width: float = WIDTH
    height: float = HEIGHT
    layers: tuple[str, ...] = tuple(LAYERS)
    factor: float | None = None
    mark: str = ""
    go: str = ""
    without_suspects: bool = False

    def view(self, places: list[tuple[float, float]]) -> SiteView:
        """Return the window: that of the address after the step it asks for, or one that holds every place."""
        whole = whole_view(places, self.width, self.height)
        if self.go == "whole" or self.across_m is None:
            return whole
        x = whole.x_m if self.x_m is None else self.x_m
        y = whole.y_m if self.y_m is None else self.y_m
        view = SiteView(x, y, self.width / self.across_m, self.width, self.height)
        return view.nearer(1.0).moved(self.go)

    def query(self, view: SiteView | None = None, **changes: str) -> str:
        """Return the address's words for this question, seen through `view`; `mark=""` leaves one out."""
        asked = self if view is None else self.seen(view)
        held: list[tuple[str, str]] = []
        if asked.across_m is not None and asked.x_m is not None and asked.y_m is not None:
            held += [("x", f"{asked.x_m:.4g}" if abs(asked.x_m) < 1e-9 else f"{asked.x_m:.3f}")]
            held += [("y", f"{asked.y_m:.3f}"), ("w", f"{asked.across_m:.4f}")]
        if (asked.width, asked.height) != (WIDTH, HEIGHT):
            held += [("px", f"{asked.width:.0f}"), ("py", f"{asked.height:.0f}")]
        if asked.layers != tuple(LAYERS):
            held += [("sent", "1"), *(("layer", name) for name in asked.layers)]
        held += [("f", f"{asked.factor:g}")] if asked.factor is not None else []
        held += [("drawn", "without")] if asked.without_suspects else []
        held += [("mark", asked.mark)] if asked.mark else []
        held = [(name, value) for name, value in held if name not in changes]
        return urlencode([*held, *((name, value) for name, value in changes.items() if value)])

    def seen(self, view: SiteView) -> PlanAsked:
        """Return the question that asks for this window as it stands."""
        return replace(self, x_m=view.x_m, y_m=view.y_m, across_m=view.across_m, go="")


def read_asked(
    x: Number = "",
    y: Number = "",
    w: Number = "",
    across: Number = "",
    px: Number = "",
    py: Number = "",
    f: Number = "",
    sent: Number = "",
    layer: Annotated[list[str] | None, Query(max_length=20)] = None,
    mark: Words = "",
    go: Words = "",
    drawn: Words = "",
) -> PlanAsked:
    """Read the address; what is no number, or not finite, counts as not asked for."""
    width, height = _number(px), _number(py)
    factor = _number(f)
    wide = _number(across) or _number(w)
    return PlanAsked(
        _number(x),
        _number(y),
        wide if wide is not None and wide > 0 else None,
        WIDTH if width is None else min(max(width, _SIDE[0]), _SIDE[1]),
        HEIGHT if height is None else min(max(height, _SIDE[0]), _SIDE[1]),
        tuple(name for name in LAYERS if name in (layer or ())) if sent else tuple(LAYERS),
        factor if factor in FACTORS else None,
        mark,
        go,
        drawn == "without",
    )


Asked = Annotated[PlanAsked, Depends(read_asked)]


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) and abs(value) < 1e7 else None
