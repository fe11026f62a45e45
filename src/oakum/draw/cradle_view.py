"""A frame seen from above, from the long side and from the end: its members as outlines, the nearest last."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.draw import svg
from oakum.draw.body_frame import Frame as Paper
from oakum.draw.halo import haloed
from oakum.draw.theme import Theme
from oakum.lift.cradle import Member

Array = NDArray[np.float64]
Box = tuple[float, float, float, float]

_ALONG = (0.5, 0.36, 0.64, 0.24, 0.76, 0.14, 0.86, 0.06, 0.94)
_AROUND = [(r, a) for r in (1.8, 2.8, 3.8, 5.0, 6.5) for a in range(0, 360, 30)]


@dataclass(frozen=True, slots=True)
class CradleView:
    """A way of looking: which axes run right and up on paper, and which one, with its sign, comes nearer."""

    key: str
    words: str
    right: int
    up: int
    near: int
    sign: float


FROM_ABOVE = CradleView("above", "from above", 0, 1, 2, 1.0)
FROM_SIDE = CradleView("side", "from the side", 0, 2, 1, -1.0)
FROM_END = CradleView("end", "from the end", 1, 2, 0, 1.0)
VIEWS = (FROM_ABOVE, FROM_SIDE, FROM_END)


def outline(member: Member, view: CradleView) -> list[tuple[float, float]]:
    """Return the outline of a member in a view, metres, counter-clockwise."""
    depth, side = member.axes()
    half = (0.5 * member.section.depth_m * depth, 0.5 * member.section.width_m * side)
    points = [
        np.asarray(end) + a * half[0] + b * half[1]
        for end in (member.start_m, member.end_m)
        for a in (-1, 1)
        for b in (-1, 1)
    ]
    return _hull([(round(float(p[view.right]), 9), round(float(p[view.up]), 9)) for p in points])


def bounds(members: tuple[Member, ...], view: CradleView) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the low and high corners of all members in a view, metres."""
    corners = np.array([c for m in members for c in outline(m, view)])
    low, high = corners.min(axis=0), corners.max(axis=0)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def nearest_last(members: tuple[Member, ...], view: CradleView) -> list[Member]:
    """Return the members in the order to draw them: what hides another comes after it."""

    def nearness(member: Member) -> float:
        middle = 0.5 * (member.start_m[view.near] + member.end_m[view.near])
        return round(view.sign * middle, 6)

    return sorted(members, key=nearness)


def drawn_members(
    members: tuple[Member, ...], view: CradleView, paper: Paper, theme: Theme, over: frozenset[str] = frozenset()
) -> str:
    """Draw all members; those named in `over` hatched by a strong outline."""
    parts = []
    for member in nearest_last(members, view):
        wooden = member.section.kind in ("solid", "round")
        strong = member.name in over
        parts.append(
            svg.polyline(
                [paper.at(p) for p in outline(member, view)],
                close=True,
                fill=theme.paper,
                stroke=theme.signal if strong else theme.ink,
                stroke_width=2.4 if strong else 0.9 if member.bends else 0.6,
                stroke_dasharray=None if wooden or strong else "6 1.5",
            )
        )
    return svg.group(*parts, stroke_linejoin="round", class_="members")


def labels(
    members: tuple[Member, ...], view: CradleView, paper: Paper, theme: Theme, words: Mapping[str, str], room: Box
) -> str:
    """Write the words of each member on it where it is seen, else beside it with a line; without room it is left out."""
    size = theme.text_size
    shown = nearest_last(members, view)
    shapes = [np.array([paper.at(p) for p in outline(m, view)]) for m in shown]
    taken: list[Box] = []
    parts = []
    for k in reversed(range(len(shown))):
        member = shown[k]
        if member.name not in words:
            continue
        said = words[member.name]
        half = 0.5 * theme.text_width(said) + 1.5, 0.5 * size + 0.5
        start, end = (
            np.array(paper.at((p[view.right], p[view.up]))) for p in (member.start_m, member.end_m)
        )
        across = _across(member, view) * paper.k
        seen = [
            point
            for side in (0.0, 0.42, -0.42)
            for point in (start + t * (end - start) + side * across for t in _ALONG)
            if not any(_inside(point, s) for s in shapes[k + 1 :])
        ]
        if not seen:
            continue
        place, leads = _free(seen, half, taken, room, size)
        if place is None:
            continue
        box = (place[0] - half[0], place[1] - half[1], place[0] + half[0], place[1] + half[1])
        taken.append(box)
        if leads:
            parts.append(svg.polyline([(float(seen[0][0]), float(seen[0][1])), place], fill="none", stroke=theme.soft, stroke_width=0.5))
            parts.append(svg.element("circle", cx=float(seen[0][0]), cy=float(seen[0][1]), r=1.3, fill=theme.ink))
        parts.append(
            haloed(place[0], place[1] + 0.36 * size, said, theme, text_anchor="middle", font_weight="600")
        )
    return svg.group(*parts, font_size=size, class_="marks")


def _across(member: Member, view: CradleView) -> Array:
    """Return what goes across a member in a view, on paper (down is positive), one metre a unit."""
    depth, side = member.axes()
    both = [(d, size) for d, size in ((depth, member.section.depth_m), (side, member.section.width_m))]
    flat = [np.array([d[view.right], -d[view.up]]) * size for d, size in both]
    return max(flat, key=lambda v: float(np.hypot(*v)))


def _free(
    seen: list[Array], half: tuple[float, float], taken: list[Box], room: Box, size: float
) -> tuple[tuple[float, float] | None, bool]:
    """Return the first free place on the member, else beside it, and whether it needs a line."""
    places = [((float(p[0]), float(p[1])), False) for p in seen]
    at = seen[0]
    for reach, angle in _AROUND:
        turn = np.radians(angle)
        x = float(at[0] + reach * size * np.cos(turn))
        places.append(((x, float(at[1] + reach * size * np.sin(turn))), True))
    for place, leads in places:
        box = (place[0] - half[0], place[1] - half[1], place[0] + half[0], place[1] + half[1])
        fits = box[0] >= room[0] and box[1] >= room[1] and box[2] <= room[2] and box[3] <= room[3]
        if fits and not any(_meet(box, other) for other in taken):
            return place, leads
    return None, False


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _inside(point: Array, ring: Array) -> bool:
    ahead = np.roll(ring, -1, axis=0)
    cross = (ahead - ring)[:, 0] * (point - ring)[:, 1] - (ahead - ring)[:, 1] * (point - ring)[:, 0]
    return bool(np.all(cross >= -1e-6) or np.all(cross <= 1e-6))


def _hull(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    ordered = sorted(set(points))

    def half(chain_of: list[tuple[float, float]]) -> list[tuple[float, float]]:
        chain: list[tuple[float, float]] = []
        for p in chain_of:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 1e-12:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
