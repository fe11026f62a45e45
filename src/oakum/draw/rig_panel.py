"""One panel of the rig: load, legs, hook, hanging point, centres and bags in one state, from one side."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from oakum.draw import svg
from oakum.draw.body_frame import Frame
from oakum.draw.body_lines import bodies
from oakum.draw.body_marks import PointMark, spread_out
from oakum.draw.forces import load_words
from oakum.draw.halo import haloed
from oakum.draw.outline import ELEVATION, View
from oakum.draw.rig_legs import leg_labels, plan_tags
from oakum.draw.rig_pose import Array, Point3, Pose, cloud, pose_of, posed_parts
from oakum.draw.theme import Theme
from oakum.draw.wrap import shortened
from oakum.lift.body.model import Body
from oakum.lift.raising.plan import RigView
from oakum.lift.raising.rig_plan import RigPlan

Flat = tuple[float, float]
_TOGETHER_M = 0.1


@dataclass(frozen=True, slots=True)
class Bag:
    """A bag on paper: its name, its mouth, where its strop ends, its diameter as a ball of its volume, metres."""

    name: str
    mouth: Flat
    foot: Flat | None
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
    tops: tuple[Flat, ...]  # where each leg ends above: the hook, or its end of a spreader
    depths: tuple[float, ...]  # of each attachment towards the viewer, over that of the hook
    bags: tuple[Bag, ...]
    low: Flat
    high: Flat


def scene(body: Body, view: RigView, look: View, rig: RigPlan | None = None) -> Scene:
    """Return what is drawn of a view, with its bounds; `rig` knows of a spreader and where bags are made fast."""
    pose = pose_of(view)
    points = np.array([p for _, p in view.attachments], dtype=np.float64).reshape(-1, 3)
    turned = pose.at(points)
    hook = _flat(np.asarray(view.hook_m), look)
    ends = tuple(_flat(p, look) for p in turned)
    tops = tuple(_flat(pose.at(p), look) for p in tops_m(view, points, rig))
    bags = tuple(_placed(bag, pose, look, rig) for bag in view.bags)
    pieces = posed_parts(body, pose, look)
    spots: list[Flat] = [hook, *ends, *tops]
    spots += [o.low for _, o in pieces] + [o.high for _, o in pieces]
    for bag in bags:
        r = bag.diameter_m / 2
        low, high = (0.0, 2.2 * r) if look is ELEVATION else (r, r)
        spots += [(bag.mouth[0] - r, bag.mouth[1] - low), (bag.mouth[0] + r, bag.mouth[1] + high)]
    depths = (turned - np.asarray(view.hook_m)) @ np.asarray(look.toward)
    return Scene(
        view,
        look,
        pose,
        body,
        hook,
        ends,
        tops,
        tuple(float(d) for d in depths),
        bags,
        (min(p[0] for p in spots), min(p[1] for p in spots)),
        (max(p[0] for p in spots), max(p[1] for p in spots)),
    )


def tops_m(view: RigView, points: Array, rig: RigPlan | None) -> list[Array]:
    """Return the upper end of every leg, body frame: the hook, or the ends of a spreader under it."""
    hook = np.asarray(view.hook_m)
    if rig is None or rig.spreader is None or len(points) != 2:
        return [hook] * len(points)
    beam = rig.spreader.beam
    along = points[1] - points[0]
    along = np.array([along[0], along[1], 0.0])
    along = along / max(float(np.linalg.norm(along)), 1e-9)
    middle = hook - np.array([0.0, 0.0, beam.hook_height_m])
    return [middle - 0.5 * beam.length_m * along, middle + 0.5 * beam.length_m * along]


def _placed(bag: tuple[str, Point3, float], pose: Pose, look: View, rig: RigPlan | None) -> Bag:
    name, mouth, volume = bag
    fast = made_fast_m(name, rig)
    foot = None if fast is None else _flat(pose.at(np.asarray(fast)), look)
    return Bag(name, _flat(pose.at(np.asarray(mouth)), look), foot, ball_m(volume))


def made_fast_m(name: str, rig: RigPlan | None) -> Point3 | None:
    """Return where the strop of a bag is made fast, body frame; None where the rig does not say."""
    bags = () if rig is None or rig.bags is None else rig.bags.bags
    return next((bag.at_m for bag in bags if bag.name == name and bag.at_m is not None), None)


def ball_m(volume_m3: float) -> float:
    """Return the diameter of a ball of this volume."""
    return float((6.0 * volume_m3 / np.pi) ** (1 / 3))


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
    drawn += [_bag(bag, words, shown, frame, theme) for bag, words in named(shown.bags, shown.look)]
    drawn.append(_legs(shown, frame, theme))
    drawn.append(_hook(hook, shown.look, theme))
    lines = [(frame.at(t), frame.at(e)) for t, e in zip(shown.tops, shown.ends, strict=True)]
    if shown.look is ELEVATION:
        drawn.append(leg_labels(shown.view, lines, hook, left, wide, unit, theme))
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


def _flat(point: Array, look: View) -> Flat:
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
    """Draw the legs with their points of attachment, the far ones thinner; a spreader with its top legs."""
    hook = frame.at(shown.hook)
    parts = []
    tops = [frame.at(t) for t in shown.tops]
    if any(t != hook for t in tops):
        parts += [svg.line(*hook, *t, stroke=theme.ink, stroke_width=1.4) for t in tops]
        parts.append(svg.line(*tops[0], *tops[-1], stroke=theme.ink, stroke_width=4.0, class_="spreader"))
    for top, end, depth in sorted(zip(tops, shown.ends, shown.depths, strict=True), key=lambda e: e[2]):
        x, y = frame.at(end)
        far = shown.look is ELEVATION and depth < -1e-6
        parts.append(
            svg.line(*top, x, y, stroke=theme.ink, stroke_width=0.8 if far else 1.8, stroke_linecap="round")
        )
        ground = theme.paper if far else theme.ink
        parts.append(
            svg.element("circle", cx=x, cy=y, r=2.6, fill=ground, stroke=theme.ink, stroke_width=0.8)
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


def named(bags: tuple[Bag, ...], look: View) -> list[tuple[Bag, str]]:
    """Return every bag with its name; from above, bags over each other have theirs together."""
    if look is ELEVATION:
        return [(bag, bag.name) for bag in bags]
    places: list[list[Bag]] = []
    for bag in bags:
        near = [p for p in places if math.dist(p[0].mouth, bag.mouth) < _TOGETHER_M]
        if near:
            near[0].append(bag)
        else:
            places.append([bag])
    found = []
    for together in places:
        widest = max(together, key=lambda b: b.diameter_m)
        found += [(bag, "; ".join(b.name for b in together) if bag is widest else "") for bag in together]
    return found


def _bag(bag: Bag, words: str, shown: Scene, frame: Frame, theme: Theme) -> str:
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
    name = shortened(words, max(2 * r, 6.5 * size), theme, size)
    if shown.look is not ELEVATION:
        return svg.group(
            svg.element("circle", cx=x, cy=y, r=r, stroke_dasharray="5 2", **{**style, "fill": "none"}),
            haloed(x, y - r - 2, name, theme, text_anchor="middle", font_size=size) if name else "",
        )
    middle = y - 1.2 * r
    lean, mouth = 0.82, 0.28
    sx, sy = lean * r, middle + (1 - lean**2) ** 0.5 * r
    d = (
        f"M{svg.number(x - mouth * r)} {svg.number(y)}L{svg.number(x - sx)} {svg.number(sy)}"
        f"A{svg.number(r)} {svg.number(r)} 0 1 1 {svg.number(x + sx)} {svg.number(sy)}"
        f"L{svg.number(x + mouth * r)} {svg.number(y)}Z"
    )
    return svg.group(
        svg.line(x, y, *frame.at(bag.foot or bag.mouth), stroke=theme.ink, stroke_width=0.9),
        svg.element("path", d=d, **style),
        haloed(x, middle + 0.35 * size, name, theme, text_anchor="middle", font_size=size),
        class_="bag",
    )


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
