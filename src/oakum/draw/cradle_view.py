"""A frame seen from above, from the long side and from the end: its members as outlines, the nearest last."""

from __future__ import annotations

import math
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
_AROUND = [(r, a) for r in (2.4, 3.4, 4.4, 5.6, 7.0) for a in range(-60, 300, 30)]


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
    """Write the words of each member on it where its middle line is seen, else beside it with a line.

    Members that lie behind each other share their words, the nearest first; what has no room is left out.
    """
    size = theme.text_size
    shown = nearest_last(members, view)
    shapes = [np.array([paper.at(p) for p in outline(m, view)]) for m in shown]
    taken: list[Box] = []
    parts = []
    said: set[str] = set()
    for k in reversed(range(len(shown))):
        behind = [i for i in range(k, -1, -1) if _same(shapes[i], shapes[k])]
        names = [shown[i].name for i in behind if shown[i].name in words and shown[i].name not in said]
        on_line, beside = _seen(shown[k], view, paper, shapes[k + 1 :])
        if shown[k].name not in names or not (on_line or beside):
            continue
        said |= set(names)
        together = ", ".join(words[n] for n in names)
        half = 0.5 * theme.text_width(together) + 1.5, 0.5 * size + 0.5
        place, leads = _free(on_line, (on_line or beside)[0], half, taken, room, size)
        if place is None:
            continue
        taken.append(_box(place, half))
        if leads is not None:
            parts.append(svg.polyline([leads, place], fill="none", stroke=theme.soft, stroke_width=0.5))
            parts.append(svg.element("circle", cx=leads[0], cy=leads[1], r=1.4, fill=theme.ink))
        parts.append(
            haloed(place[0], place[1] + 0.36 * size, together, theme, text_anchor="middle", font_weight="600")
        )
    return svg.group(*parts, font_size=size, class_="marks")


def _across(member: Member, view: CradleView) -> Array:
    """Return what goes across a member in a view, on paper (down is positive), one metre a unit."""
    depth, side = member.axes()
    both = [(d, size) for d, size in ((depth, member.section.depth_m), (side, member.section.width_m))]
    flat = [np.array([d[view.right], -d[view.up]]) * size for d, size in both]
    return max(flat, key=lambda v: float(np.hypot(*v)))


def _seen(
    member: Member, view: CradleView, paper: Paper, nearer: list[Array]
) -> tuple[list[svg.Point], list[svg.Point]]:
    """Return points of a member that nothing nearer hides: on its middle line, and along its sides."""
    start, end = (np.array(paper.at((p[view.right], p[view.up]))) for p in (member.start_m, member.end_m))
    across = _across(member, view) * paper.k

    def clear(side: float) -> list[svg.Point]:
        points = [start + t * (end - start) + side * across for t in _ALONG]
        return [(float(p[0]), float(p[1])) for p in points if not any(_inside(p, s) for s in nearer)]

    return clear(0.0), clear(0.42) + clear(-0.42)


def _free(
    on_line: list[svg.Point],
    at: svg.Point,
    half: tuple[float, float],
    taken: list[Box],
    room: Box,
    size: float,
) -> tuple[svg.Point | None, svg.Point | None]:
    """Return the first free place on the member, else one beside it and where its line begins."""
    places: list[tuple[svg.Point, svg.Point | None]] = [(p, None) for p in on_line]
    for reach, angle in _AROUND:
        turn = math.radians(angle)
        places.append(((at[0] + reach * size * math.cos(turn), at[1] + reach * size * math.sin(turn)), at))
    for place, leads in places:
        box = _box(place, half)
        fits = box[0] >= room[0] and box[1] >= room[1] and box[2] <= room[2] and box[3] <= room[3]
        if fits and not any(_meet(box, other) for other in taken):
            return place, leads
    return None, None


def _box(place: svg.Point, half: tuple[float, float]) -> Box:
    return place[0] - half[0], place[1] - half[1], place[0] + half[0], place[1] + half[1]


def _same(a: Array, b: Array) -> bool:
    return a.shape == b.shape and bool(np.allclose(a, b, atol=0.5))


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
