"""What is written at the legs: number, name, force and angle from the horizontal."""

from __future__ import annotations

from collections.abc import Sequence

from oakum.draw import svg
from oakum.draw.forces import load_words
from oakum.draw.halo import haloed
from oakum.draw.theme import Theme
from oakum.draw.wrap import shortened
from oakum.lift.raising.plan import RigView

_GAP = 5.0
_NEAREST = 0.16  # of a leg, from its upper end: nearer to it the legs lie too close together
Line = tuple[svg.Point, svg.Point]
"""A leg on paper: its upper end and its point of attachment."""


def force_words(view: RigView, index: int, unit: str) -> str:
    """Say the force and the angle of a leg."""
    angle = f"{view.from_horizontal_deg[index]:.0f}\u00b0"
    return f"{load_words(view.leg_force_kg[index].p95, unit)}, {angle}"


def sides(lines: Sequence[Line], hook: svg.Point) -> tuple[list[int], list[int]]:
    """Return the legs labelled at the left and at the right, each from the innermost at the top outward."""
    out = [end[0] - hook[0] for _, end in lines]
    left = [i for i, x in enumerate(out) if x < -1.0]
    right = [i for i, x in enumerate(out) if x > 1.0]
    for i, x in enumerate(out):
        if abs(x) <= 1.0:
            (left if len(left) <= len(right) else right).append(i)
    return sorted(left, key=lambda i: (abs(out[i]), i)), sorted(right, key=lambda i: (abs(out[i]), i))


def stack_height(count: int, theme: Theme) -> float:
    """Return the height of labels one above the other."""
    return count * 2.7 * theme.text_size


def stack_bottom(
    lines: Sequence[Line], hook: svg.Point, which: Sequence[int], room: float, reach: float
) -> float:
    """Return the lowest y at which labels `room` wide still clear the outermost leg of their side.

    `reach` is the clear width from the panel's edge to the plumb line of the hook.
    """
    free = max(reach - room - _GAP, 0.0)
    return min(_leaves(hook, *lines[i], free) for i in which)


def _leaves(hook: svg.Point, top: svg.Point, end: svg.Point, free: float) -> float:
    """Return the y at which the run hook, top, end is `free` away from the plumb line, its end where it never is."""
    for a, b in ((hook, top), (top, end)):
        near, far = abs(a[0] - hook[0]), abs(b[0] - hook[0])
        if far > free:
            return a[1] + (b[1] - a[1]) * max(free - near, 0.0) / max(far - near, 1e-9)
    return end[1]


def label_room(view: RigView, unit: str, wide: float, theme: Theme) -> float:
    """Return how wide the labels of a panel are: their forces whole, names as far as there is room."""
    count = len(view.leg_force_kg)
    force = max((theme.text_width(force_words(view, i, unit)) for i in range(count)), default=0.0)
    names = max((theme.text_width(f"{i + 1} {n}") for i, (n, _) in enumerate(view.attachments)), default=0.0)
    return min(max(force, min(names, 0.36 * wide)), 0.47 * wide)


def leg_labels(
    view: RigView,
    lines: Sequence[Line],
    hook: svg.Point,
    left: float,
    wide: float,
    unit: str,
    theme: Theme,
) -> str:
    """Write every leg's label beside the legs, with a leader to a dot on its leg."""
    size = theme.text_size
    room = label_room(view, unit, wide, theme)
    parts: list[str] = []
    for which, is_left in zip(sides(lines, hook), (True, False), strict=True):
        if not which:
            continue
        reach = hook[0] - left if is_left else left + wide - hook[0]
        bottom = stack_bottom(lines, hook, which, room, reach)
        level = min(t[1] + _NEAREST * (e[1] - t[1]) for t, e in (lines[i] for i in which)) - 1.85 * size
        top = min(bottom - stack_height(len(which), theme), max(level, hook[1] + 0.6 * size))
        for place, i in enumerate(which):
            y = top + place * 2.7 * size
            x = left if is_left else left + wide
            anchor = "start" if is_left else "end"
            name = shortened(f"{i + 1} {view.attachments[i][0]}", room + 0.5 * size, theme)
            force = force_words(view, i, unit)
            parts.append(haloed(x, y + size, name, theme, text_anchor=anchor))
            parts.append(haloed(x, y + 2.2 * size, force, theme, text_anchor=anchor, font_weight="600"))
            start = x + (theme.text_width(force) + 1) * (1 if is_left else -1)
            parts.append(_leader((start, y + 1.85 * size), *lines[i], theme))
    return svg.group(*parts, font_size=size, class_="leg-labels")


def _leader(start: svg.Point, top: svg.Point, end: svg.Point, theme: Theme) -> str:
    """Draw from a label to its leg, level where it can be."""
    drop = end[1] - top[1]
    t = min(max((start[1] - top[1]) / drop if drop > 1.0 else 0.5, _NEAREST), 0.86)
    x, y = top[0] + t * (end[0] - top[0]), top[1] + t * drop
    return svg.line(*start, x, y, stroke=theme.soft, stroke_width=0.5) + svg.element(
        "circle", cx=x, cy=y, r=1.6, fill=theme.ink
    )


def plan_tags(
    view: RigView, ends: Sequence[svg.Point], hook: svg.Point, left: float, wide: float, theme: Theme
) -> str:
    """Write each leg's number at its attachment, outward from the hook, clear of each other."""
    size = theme.text_size
    taken: list[svg.Point] = []
    parts: list[str] = []
    for i, (x, y) in enumerate(ends):
        out = -1.0 if x < hook[0] else 1.0
        tx = min(max(x + out * 1.1 * size, left + 0.6 * size), left + wide - 0.6 * size)
        ty = y + 0.35 * size + (-0.7 if y < hook[1] else 0.7) * size
        while any(abs(tx - a) < 1.3 * size and abs(ty - b) < 1.2 * size for a, b in taken):
            ty += 1.25 * size
        taken.append((tx, ty))
        parts.append(haloed(tx, ty, str(i + 1), theme, text_anchor="middle"))
    return svg.group(*parts, font_size=size, font_weight="600", class_="leg-numbers")
