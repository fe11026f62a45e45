"""The window through which the plan of a site is seen: a place in the middle, a scale, the size of the drawing."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from oakum.desk.seabed.plan_items import PlanItems
from oakum.draw.scale import POINTS_PER_METRE
from oakum.seabed.network import SiteSolution

Flat = tuple[float, float]
STEP = 0.25
"""A step to the side, as part of the window."""
NEARER = 1.5
"""A step nearer or farther, as a factor."""
_MARGIN = 1.16
_LEAST_M = 0.05
_MOST_M = 50_000.0


@dataclass(frozen=True, slots=True)
class SiteView:
    """The middle of the window in site metres, units of the drawing in a metre, and the drawing's size in units."""

    x_m: float
    y_m: float
    per_m: float
    width: float
    height: float

    def at(self, x_m: float, y_m: float) -> Flat:
        """Return where a place of the site lies on the drawing; site north is up."""
        return (
            self.width / 2 + (x_m - self.x_m) * self.per_m,
            self.height / 2 - (y_m - self.y_m) * self.per_m,
        )

    @property
    def across_m(self) -> float:
        """How many metres the window is wide."""
        return self.width / self.per_m

    @property
    def bounds_m(self) -> tuple[float, float, float, float]:
        """West, south, east and north edge of the window in site metres."""
        dx, dy = self.width / self.per_m / 2, self.height / self.per_m / 2
        return (self.x_m - dx, self.y_m - dy, self.x_m + dx, self.y_m + dy)

    def sees(self, x: float, y: float, beyond: float = 0.0) -> bool:
        """Whether a place of the drawing lies in the window, or no more than `beyond` windows outside."""
        return (
            -beyond * self.width <= x <= (1 + beyond) * self.width
            and -beyond * self.height <= y <= (1 + beyond) * self.height
        )

    def moved(self, how: str) -> SiteView:
        """Return the window after one step: in, out, left, right, up, down; another word changes nothing."""
        if how in ("in", "out"):
            return self.nearer(NEARER if how == "in" else 1 / NEARER)
        dx, dy = {"left": (-1, 0), "right": (1, 0), "up": (0, 1), "down": (0, -1)}.get(how, (0, 0))
        return replace(
            self,
            x_m=self.x_m + dx * STEP * self.width / self.per_m,
            y_m=self.y_m + dy * STEP * self.height / self.per_m,
        )

    def nearer(self, factor: float) -> SiteView:
        """Return the window at another scale, within what a plan of a site can need."""
        across = min(max(self.across_m / factor, _LEAST_M), _MOST_M)
        return replace(self, per_m=self.width / across)


def places_of(solution: SiteSolution, items: PlanItems) -> list[Flat]:
    """Return every place that the whole plan must hold."""
    found: list[Flat] = [(mark.x_m, mark.y_m) for mark in solution.marks]
    found += [(twin.place_m[0], twin.place_m[1]) for twin in solution.twins if twin.place_m is not None]
    for outline in (*items.squares, *items.timbers, *items.drawings):
        found += outline.points
    return found


def whole_view(places: Iterable[Flat], width: float, height: float) -> SiteView:
    """Return the window that holds every place with a margin; 10 m round the origin where there is none."""
    held = [place for place in places if math.isfinite(place[0]) and math.isfinite(place[1])]
    if not held:
        return SiteView(0.0, 0.0, width / 10.0, width, height)
    west, east = min(p[0] for p in held), max(p[0] for p in held)
    south, north = min(p[1] for p in held), max(p[1] for p in held)
    across = max((east - west) * _MARGIN, (north - south) * _MARGIN * width / height, 1.0)
    return SiteView((west + east) / 2, (south + north) / 2, width / across, width, height)


def sheet_view(x_m: float, y_m: float, denominator: int, width_pt: float, height_pt: float) -> SiteView:
    """Return the window of a drawing in points that is printed at 1:denominator."""
    return SiteView(x_m, y_m, POINTS_PER_METRE / denominator, width_pt, height_pt)
