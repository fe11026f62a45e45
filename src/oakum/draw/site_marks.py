"""The marks of a plan: signs told apart by shape, ellipses at true scale and exaggerated, names, twins as ghosts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from oakum.desk.seabed.plan_items import PlanItems, PlanMark
from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.site_labels import Room, place
from oakum.draw.site_view import SiteView
from oakum.draw.theme import Theme
from oakum.seabed.network import SiteSolution, SolvedMark

SIGN = 5.0
"""How far a sign reaches from its middle, in units."""
TOUCH = 23.0
"""Radius of what answers a finger: 12 mm across at 96 units to the inch."""
_FARTHEST = 20_000.0
_ORDER = {"find": 0, "datum": 1, "detail": 2}


@dataclass(frozen=True, slots=True)
class Placed:
    """A mark on the drawing."""

    solved: SolvedMark
    item: PlanMark
    x: float
    y: float


def placed_marks(solution: SiteSolution, items: PlanItems, view: SiteView, shown: Iterable[str]) -> list[Placed]:
    """Return the marks of the kinds shown that lie in the window or near it, the most telling first."""
    kinds = set(shown)
    found = []
    for solved in solution.marks:
        item = items.of(solved.name)
        x, y = view.at(solved.x_m, solved.y_m)
        if f"{item.what}s" in kinds and view.sees(x, y, 0.6):
            found.append(Placed(solved, item, x, y))
    return sorted(found, key=lambda one: (_ORDER[one.item.what], one.item.name))


def sign(what: str, x: float, y: float, theme: Theme, *, held: bool = False, weak: bool = False) -> str:
    """Draw a mark by its kind: datum a triangle, find a square, detail a ring.

    One that is held stands on a bar; one that is barely known has a dotted ring round it.
    """
    style: dict[str, str | float | None] = {"fill": theme.paper, "stroke": theme.ink, "stroke_width": 1.4}
    if what == "datum":
        corners = ((x, y - SIGN - 0.5), (x + SIGN, y + 0.7 * SIGN), (x - SIGN, y + 0.7 * SIGN))
        drawn = svg.polyline(corners, close=True, **{**style, "fill": theme.ink})
    elif what == "find":
        drawn = svg.element("rect", x=x - 4.2, y=y - 4.2, width=8.4, height=8.4, **style)
        drawn += svg.element("circle", cx=x, cy=y, r=1.2, fill=theme.ink)
    else:
        drawn = svg.element("circle", cx=x, cy=y, r=3.4, **style)
    if held:
        drawn += svg.line(x - SIGN - 2, y + SIGN + 1, x + SIGN + 2, y + SIGN + 1, stroke=theme.ink, stroke_width=1.6)
    if weak:
        ring: dict[str, str | float | None] = {"stroke": theme.signal, "stroke_width": 1.6, "stroke_dasharray": "1.5 3"}
        drawn += svg.element("circle", cx=x, cy=y, r=SIGN + 4, fill="none", **ring)
    return drawn


def ghost(x: float, y: float, theme: Theme) -> str:
    """Draw the sign of a second place."""
    style: dict[str, str | float | None] = {"stroke": theme.signal, "stroke_width": 1.4, "stroke_dasharray": "3 2"}
    return svg.element("circle", cx=x, cy=y, r=6, fill=theme.paper, **style)


def ellipses(placed: Iterable[Placed], view: SiteView, theme: Theme, inside: float, factor: float) -> str:
    """Draw the ellipses that hold each mark; factor 1 is true scale (filled), else exaggerated (dashed)."""
    drawn = []
    for one in placed:
        shape = one.solved.ellipse(inside)
        rx, ry = (min(half * view.per_m * factor, _FARTHEST) for half in (shape.major_m, shape.minor_m))
        if rx < 0.3:
            continue
        at = f"translate({svg.number(one.x)} {svg.number(one.y)}) rotate({svg.number(shape.bearing_deg - 90.0)})"
        if factor == 1.0:
            style: dict[str, str | float | None] = {"fill": theme.tone, "fill_opacity": 0.22, "stroke_width": 1.0}
        else:
            style = {"fill": "none", "stroke_width": 0.9, "stroke_dasharray": "4 2.5"}
        drawn.append(
            svg.element("ellipse", rx=rx, ry=max(ry, 0.2), transform=at, stroke=theme.water, **style)
        )
    return "".join(drawn)


def ghosts(solution: SiteSolution, view: SiteView, theme: Theme) -> str:
    """Draw the second place of every mark that fits at two: a dashed ring, tied to the first place."""
    drawn = []
    places = {mark.name: mark for mark in solution.marks}
    for twin in solution.twins:
        if twin.place_m is None or twin.mark not in places:
            continue
        x, y = view.at(twin.place_m[0], twin.place_m[1])
        first = view.at(places[twin.mark].x_m, places[twin.mark].y_m)
        drawn.append(
            svg.line(*first, x, y, stroke=theme.signal, stroke_width=1.0, stroke_dasharray="1.5 3")
            + ghost(x, y, theme)
            + haloed(x + 9, y + 4, f"{twin.mark} or here?", theme, font_size=theme.text_size, font_style="italic")
        )
    return "".join(drawn)


def names(placed: Iterable[Placed], room: Room, theme: Theme, mark: str) -> tuple[str, int]:
    """Set the names beside their marks, farther from the one looked at; also tells how many found no room."""
    drawn, without = [], 0
    marks_on = Counter(one.item.find for one in placed)
    for one in placed:
        alone = one.item.number and marks_on[one.item.find] == 1
        words = one.item.number if alone else one.item.name
        off = SIGN + (13 if one.item.name == mark else 1)
        where = place(room, one.x, one.y, theme.text_width(words), theme.text_size, off)
        if where is None:
            without += 0 <= one.x <= room.width and 0 <= one.y <= room.height
            continue
        bold = "600" if one.item.what == "find" else None
        drawn.append(haloed(*where, words, theme, font_size=theme.text_size, font_weight=bold))
    return "".join(drawn), without


def chosen(one: Placed, theme: Theme) -> str:
    """Draw the ring and the four ticks round the mark that is looked at."""
    x, y = one.x, one.y
    ring = svg.element("circle", cx=x, cy=y, r=12, fill="none", stroke=theme.signal, stroke_width=2.2)
    ticks = "".join(
        svg.line(x + 12 * a, y + 12 * b, x + 19 * a, y + 19 * b, stroke=theme.signal, stroke_width=2.2)
        for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1))
    )
    return ring + ticks


def links(placed: Iterable[Placed], address: Callable[[str], str]) -> str:
    """Lay a link over every mark, as large as a finger; the most telling mark on top."""
    drawn = []
    for one in reversed(list(placed)):
        drawn.append(
            svg.element(
                "a",
                svg.element("circle", cx=one.x, cy=one.y, r=TOUCH, fill="none", pointer_events="all"),
                href=address(one.item.name),
                tabindex="-1",
                aria_label=one.item.words,
                data_mark=one.item.name,
                data_x=one.x,
                data_y=one.y,
            )
        )
    return "".join(drawn)
