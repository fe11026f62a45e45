"""One panel of the rig: load, legs, hook, hanging point, centres and bags in one state, from one side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.draw import svg
from oakum.draw.body_frame import Frame
from oakum.draw.body_lines import bodies
from oakum.draw.body_marks import PointMark, spread_out
from oakum.draw.forces import load_words
from oakum.draw.outline import ELEVATION, View
from oakum.draw.rig_legs import leg_labels, plan_tags
from oakum.draw.rig_pose import Pose, cloud, pose_of, posed_parts
from oakum.draw.theme import Theme
from oakum.draw.wrap import shortened
from oakum.lift.body import Body
from oakum.lift.raising.plan import RigView

Flat = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Bag:
    """A bag on paper: its name, its mouth, its diameter as a ball of its volume, metres."""

    name: str
    mouth: Flat
    diameter_m: float


@dataclass(frozen=True, slots=True)
class Scene:
    """One state from one side, in metres on paper: right and up, turned as it hangs."""

    view: RigView
    look: View
    pose: Pose
    body: Body
    hook: Flat
    ends: tuple[Flat, ...]
    depths: tuple[float, ...]  # of each attachment towards the viewer, over that of the hook
    bags: tuple[Bag, ...]
    low: Flat
    high: Flat


def scene(body: Body, view: RigView, look: View) -> Scene:
    """Return what is drawn of a view, with its bounds."""
    pose = pose_of(view)
    points = np.array([p for _, p in view.attachments], dtype=np.float64).reshape(-1, 3)
    turned = pose.at(points)
    toward = np.asarray(look.toward)
    hook = _flat(np.asarray(view.hook_m), look)
    bags = tuple(
        Bag(name, _flat(pose.at(np.asarray(at)), look), float((6.0 * volume / np.pi) ** (1 / 3)))
        for name, at, volume in view.bags
    )
    pieces = posed_parts(body, pose, look)
    ends = tuple(_flat(p, look) for p in turned)
    spots: list[Flat] = [hook, *ends]
    spots += [o.low for _, o in pieces] + [o.high for _, o in pieces]
    for bag in bags:
        r = bag.diameter_m / 2
        top = 2.2 * r if look is ELEVATION else r
        spots += [(bag.mouth[0] - r, bag.mouth[1] - (0.0 if look is ELEVATION else r))]
        spots += [(bag.mouth[0] + r, bag.mouth[1] + top)]
    return Scene(
        view,
        look,
        pose,
        body,
        hook,
        ends,
        tuple(float((p - np.asarray(view.hook_m)) @ toward) for p in turned),
        bags,
        (min(p[0] for p in spots), min(p[1] for p in spots)),
        (max(p[0] for p in spots), max(p[1] for p in spots)),
    )


def panel(
    shown: Scene,
    frame: Frame,
    left: float,
    wide: float,
    marks: tuple[PointMark, ...],
    unit: str,
    theme: Theme,
) -> tuple[str, float]:
    """Draw a scene into the column from `left`, `wide` across; return it with the y of its lowest word."""
    size = theme.text_size
    pieces = posed_parts(shown.body, shown.pose, shown.look)
    drawn = [bodies(pieces, frame, theme)]
    hook = frame.at(shown.hook)
    if shown.look is ELEVATION:
        drawn.append(_plumb(hook, frame, theme))
    drawn += [_bag(bag, shown, frame, theme) for bag in shown.bags]
    drawn.append(_legs(shown, frame, theme))
    drawn.append(_hook(hook, shown.look, theme))
    if shown.look is ELEVATION:
        drawn.append(leg_labels(shown.view, [frame.at(e) for e in shown.ends], hook, left, wide, unit, theme))
    else:
        drawn.append(plan_tags(shown.view, [frame.at(e) for e in shown.ends], hook, left, wide, theme))
    row = frame.bottom + 1.9 * size
    drawn.append(_centres(shown, marks, frame, left, wide, row, theme))
    return svg.group(*drawn, class_="rig"), row + 0.4 * size


def hook_words(kg: float, unit: str) -> str:
    """Say the hook load of a panel."""
    return f"hook load up to {load_words(kg, unit)} (P95)"


def tilt_words(view: RigView) -> str:
    """Say how far out of level the load hangs."""
    if view.tilt_deg is None:
        return "tilt not known, drawn level"
    if view.tilt_deg < 0.05:
        return "hangs level"
    return f"hangs {view.tilt_deg:.1f}\u00b0 out of level"


def _flat(point: np.ndarray, look: View) -> Flat:
    return float(point[look.right]), float(point[look.up])


def _plumb(hook: svg.Point, frame: Frame, theme: Theme) -> str:
    """Draw the plumb line through the hook, on which the hanging point must lie."""
    return svg.line(
        hook[0],
        hook[1],
        hook[0],
        frame.bottom + 0.4 * theme.text_size,
        stroke=theme.soft,
        stroke_width=0.5,
        stroke_dasharray="8 2 1.5 2",
        class_="plumb",
    )


def _legs(shown: Scene, frame: Frame, theme: Theme) -> str:
    """Draw the legs; the far ones thinner, with their points of attachment."""
    hook = frame.at(shown.hook)
    parts = []
    for end, depth in sorted(zip(shown.ends, shown.depths, strict=True), key=lambda e: e[1]):
        x, y = frame.at(end)
        far = shown.look is ELEVATION and depth < -1e-6
        parts.append(
            svg.line(
                hook[0],
                hook[1],
                x,
                y,
                stroke=theme.ink,
                stroke_width=0.8 if far else 1.8,
                stroke_linecap="round",
            )
        )
        parts.append(
            svg.element(
                "circle",
                cx=x,
                cy=y,
                r=2.6,
                fill=theme.paper if far else theme.ink,
                stroke=theme.ink,
                stroke_width=0.8,
            )
        )
    return svg.group(*parts, class_="legs")


def _hook(hook: svg.Point, look: View, theme: Theme) -> str:
    x, y = hook
    size = theme.text_size
    ring = svg.element("circle", cx=x, cy=y, r=3.6, fill=theme.paper, stroke=theme.ink, stroke_width=1.6)
    if look is not ELEVATION:
        return ring
    rope = svg.line(x, y - 3.6, x, y - 2.4 * size, stroke=theme.ink, stroke_width=1.8)
    return rope + ring


def _bag(bag: Bag, shown: Scene, frame: Frame, theme: Theme) -> str:
    """Draw a bag to size: a ball of its volume over its mouth; from above its circle."""
    x, y = frame.at(bag.mouth)
    r = bag.diameter_m / 2 * frame.k
    size = 0.9 * theme.text_size
    style: dict[str, str | float] = {
        "fill": theme.paper,
        "fill_opacity": 0.75,
        "stroke": theme.ink,
        "stroke_width": 1.0,
    }
    name = shortened(bag.name, max(2 * r, 4 * size), theme, size)
    if shown.look is not ELEVATION:
        return svg.group(
            svg.element("circle", cx=x, cy=y, r=r, stroke_dasharray="5 2", **{**style, "fill": "none"}),
            svg.text(x, y - r - 2, name, text_anchor="middle", font_size=size, fill=theme.ink),
        )
    middle = y - 1.2 * r
    lean, mouth = 0.82, 0.28
    sx, sy = lean * r, middle + (1 - lean**2) ** 0.5 * r
    d = (
        f"M{svg.number(x - mouth * r)} {svg.number(y)}L{svg.number(x - sx)} {svg.number(sy)}"
        f"A{svg.number(r)} {svg.number(r)} 0 1 1 {svg.number(x + sx)} {svg.number(sy)}"
        f"L{svg.number(x + mouth * r)} {svg.number(y)}Z"
    )
    foot = frame.at((0.0, _rope_foot(bag, shown)))[1]
    return svg.group(
        svg.line(x, y, x, max(foot, y), stroke=theme.ink, stroke_width=0.9),
        svg.element("path", d=d, **style),
        svg.text(x, middle + 0.35 * size, name, text_anchor="middle", font_size=size, fill=theme.ink),
        class_="bag",
    )


def _rope_foot(bag: Bag, shown: Scene) -> float:
    """Return the height a bag's strop ends at: the nearest point of attachment below its mouth, or the load's top."""
    near = sorted((abs(e[0] - bag.mouth[0]), e[1]) for e in shown.ends if e[1] <= bag.mouth[1])
    if near and near[0][0] < 0.05:
        return near[0][1]
    tops = [
        o.high[1]
        for _, o in posed_parts(shown.body, shown.pose, shown.look)
        if o.low[0] - 1e-6 <= bag.mouth[0] <= o.high[0] + 1e-6 and o.high[1] <= bag.mouth[1] + 1e-6
    ]
    return max(tops, default=bag.mouth[1])


def _centres(
    shown: Scene,
    marks: tuple[PointMark, ...],
    frame: Frame,
    left: float,
    wide: float,
    row: float,
    theme: Theme,
) -> str:
    """Draw each centre with its cloud and a leader down to its letter."""
    size = theme.text_size
    look = shown.look
    placed = []
    for mark in marks:
        best = shown.pose.at(np.array([mark.centre.x_m.best, mark.centre.y_m.best, mark.centre.z_m.best]))
        placed.append((frame.at(_flat(best, look)), mark))
    inside = [
        (spot, mark)
        for spot, mark in sorted(placed, key=lambda p: p[0][0])
        if left <= spot[0] <= left + wide and frame.top - 6 * size <= spot[1] <= frame.bottom + size
    ]
    columns = spread_out([s[0] for s, _ in inside], 1.8 * size, left + size, left + wide - size)
    parts = []
    for ((x, y), mark), column in zip(inside, columns, strict=True):
        (cx, cy), (a, b), turn = cloud(mark.centre, shown.pose, look)
        px, py = frame.at((cx, cy))
        rx, ry = a * frame.k, b * frame.k
        if 0.5 <= rx <= 0.5 * wide:
            parts.append(
                svg.element(
                    "ellipse",
                    cx=px,
                    cy=py,
                    rx=rx,
                    ry=max(ry, 0.4),
                    transform=f"rotate({svg.number(-turn)} {svg.number(px)} {svg.number(py)})",
                    fill=theme.signal,
                    fill_opacity=0.12,
                    stroke=theme.signal,
                    stroke_width=0.7,
                    stroke_dasharray=mark.dash,
                )
            )
        parts.append(svg.line(column, row - 0.9 * size, x, y, stroke=theme.soft, stroke_width=0.5))
        parts.append(mark.symbol(x, y, theme, 3.6))
        parts.append(
            svg.text(
                column, row, mark.tag, text_anchor="middle", font_weight="600", font_size=size, fill=theme.ink
            )
        )
    return svg.group(*parts, class_="points")
