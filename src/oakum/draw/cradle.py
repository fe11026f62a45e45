"""The assembly drawing of a cradle's frame: from above and two elevations to scale, pieces marked, places measured.

The measures run from the low edge of the view to the centre lines of the members, mm; the overall length and height
stand with the scale bar. The same views show how hard each member is used.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from oakum.draw import svg
from oakum.draw.body_frame import Frame as Paper
from oakum.draw.body_frame import below, side_dimension
from oakum.draw.cradle_view import (
    FROM_ABOVE,
    FROM_END,
    FROM_SIDE,
    VIEWS,
    CradleView,
    bounds,
    drawn_members,
    labels,
)
from oakum.draw.rows import Rows
from oakum.draw.scale import POINTS_PER_METRE, length_words, print_scale
from oakum.draw.theme import PAGE, Theme
from oakum.draw.utilisation import percent_words
from oakum.lift.checks import Check
from oakum.lift.cradle import Built, CradleAnswer, CradlePlan, Member, Stand

__all__ = [
    "FROM_ABOVE", "FROM_END", "FROM_SIDE", "VIEWS", "assembly_drawing", "assembly_rows", "frame_use", "hardest_checks",
    "joint_rows", "sheet_scale", "use_rows",
]  # fmt: skip

_TALLEST = 0.85  # of the width
_SIDES = 2.8  # text sizes left for the running measures


def assembly_drawing(
    plan: CradlePlan,
    built: Built,
    view: CradleView,
    *,
    theme: Theme = PAGE,
    width: float | None = None,
    scale: int | None = None,
    key: str = "",
) -> str:
    """Draw the frame in a view with the mark of each piece and the places of its members.

    `scale` is the denominator of a print scale (one unit is one point); None fills the width.
    """
    description = f"{len(built.marks)} members: " + "; ".join(f"{m} {n}" for n, m in built.marks.items())
    return _drawn(plan, view, built.marks, frozenset(), theme, width, scale, key or f"cradle-{view.key}", description)


def frame_use(
    plan: CradlePlan,
    answer: CradleAnswer,
    *,
    theme: Theme = PAGE,
    width: float | None = None,
    key: str = "cradle-use",
) -> str:
    """Draw the frame from above with the use of each member that bends, in the state that is hardest on it."""
    used = hardest_checks(plan, answer)
    words = {name: percent_words(check) for name, check in used.items()}
    over = frozenset(n for n, c in used.items() if c.objection is not None)
    said = "; ".join(f"{n}: {w}" for n, w in words.items())
    return _drawn(plan, FROM_ABOVE, words, over, theme, width, None, key, f"Most used: {said}")


def hardest_checks(plan: CradlePlan, answer: CradleAnswer) -> dict[str, Check]:
    """Return the check that is used most of each member that bends, over all states."""
    assert plan.frame is not None
    found: dict[str, Check] = {}
    for member in plan.frame.members:
        own = [c for s in answer.states for c in s.checks if c.key.startswith(f"{member.name}:")]
        rated = [c for c in own if c.utilisation is not None]
        if rated:
            found[member.name] = max(rated, key=lambda c: c.utilisation or 0.0)
    return found


def use_rows(plan: CradlePlan, answer: CradleAnswer, marks: Mapping[str, str]) -> Rows:
    """Return the use of each member with what governs it."""
    lines = tuple(
        (f"{marks.get(name, '')} {name}".strip(), percent_words(c), c.title.removeprefix(f"{name}, "), c.basis)
        for name, c in hardest_checks(plan, answer).items()
    )
    return Rows("Use of each member, the state hardest on it", ("member", "used", "in", "basis"), lines)


def assembly_rows(built: Built) -> Rows:
    """Return every member with its mark, section, ends in mm from the frame's origin, and length."""
    lines = []
    order = {name: i for i, name in enumerate(built.marks)}
    for member in sorted(built.assembly.members, key=lambda m: order[m.name]):
        ends = [", ".join(f"{1000.0 * v:.0f}" for v in end) for end in (member.start_m, member.end_m)]
        long = sum((a - b) ** 2 for a, b in zip(member.start_m, member.end_m, strict=True)) ** 0.5
        lines.append(
            (built.marks[member.name], member.name, member.kind, member.section, *ends, f"{1000.0 * long:,.0f}")
        )
    head = ("mark", "member", "kind", "section", "from x, y, z (mm)", "to x, y, z (mm)", "along its axis (mm)")
    return Rows("Members, ends of their axes from the origin of the frame", head, tuple(lines))


def joint_rows(built: Built, answer: CradleAnswer | None = None) -> Rows:
    """Return every joint: its members, how they meet, where on each, and the greatest force if it is known."""
    forces: dict[str, tuple[float, str]] = {}
    for state in answer.states if answer is not None else ():
        for name, force in state.joint_n:
            if abs(force) > forces.get(name, (0.0, ""))[0]:
                forces[name] = (abs(force), state.key)
    lines = []
    for joint in built.assembly.joints:
        known = forces.get(joint.name)
        lines.append(
            (
                joint.name,
                f"{built.marks[joint.first]} and {built.marks[joint.second]}",
                joint.how if joint.angle_deg > 89.5 else f"{joint.how}, {joint.angle_deg:.0f}°",
                f"{1000.0 * joint.first_at_m:,.0f} and {1000.0 * joint.second_at_m:,.0f}",
                "not reckoned" if known is None else f"{known[0] / 1000.0:.1f}, {known[1]}",
            )
        )
    head = ("joint", "pieces", "how they meet", "from the start of each (mm)", "greatest force (kN)")
    return Rows("Joints", head, tuple(lines))


def sheet_scale(plan: CradlePlan, *, width_pt: float, height_pt: float) -> int:
    """Return the one print scale at which each of the three views fits into the room, points."""
    assert plan.frame is not None
    sizes = [bounds(plan.frame.members, view) for view in VIEWS]
    wide = max(high[0] - low[0] for low, high in sizes)
    tall = max(high[1] - low[1] for low, high in sizes)
    by_width = print_scale(wide, width_pt / POINTS_PER_METRE)
    return max(by_width, print_scale(tall, height_pt / POINTS_PER_METRE))


def _drawn(
    plan: CradlePlan,
    view: CradleView,
    words: Mapping[str, str],
    over: frozenset[str],
    theme: Theme,
    width: float | None,
    scale: int | None,
    key: str,
    description: str,
) -> str:
    if plan.frame is None:
        raise svg.DrawingError("a cradle without members cannot be drawn: add a member")
    members = plan.frame.members
    low, high = bounds(members, view)
    across, size = width or theme.width, theme.text_size
    left, top = 3.2 * size, (_SIDES + 1.0) * size
    room = across - left - (_SIDES + 1.2) * size
    span = max(high[0] - low[0], 1e-6), max(high[1] - low[1], 1e-6)
    k = POINTS_PER_METRE / scale if scale else min(room / span[0], _TALLEST * across / span[1])
    if span[0] * k > room + 1.0:
        fits = print_scale(span[0], room / POINTS_PER_METRE)
        raise svg.DrawingError(f"{length_words(span[0])} do not fit at 1:{scale}; take 1:{fits}")
    paper = Paper(k, left + max(0.0, (room - span[0] * k) / 2), top, low, high)
    under = paper.bottom + 2.2 * size
    bar, bar_height = below(paper, theme, under, across, scale)
    box = (left - 0.5 * size, _SIDES * size, across, paper.bottom + 2.0 * size)
    return svg.document(
        across,
        under + bar_height,
        _on_top(_places(members, view.right, view), paper, theme),
        _on_right(_places(members, view.up, view), paper, theme),
        drawn_members(members, view, paper, theme, over),
        _stands(plan, view, paper, theme),
        labels(members, view, paper, theme, words, box),
        side_dimension(paper, theme),
        bar,
        title=f"{plan.title}: {view.words}",
        description=description,
        key=key,
        font=theme.font,
    )


def _places(members: Sequence[Member], axis: int, view: CradleView) -> list[float]:
    """Return where members lie along an axis of the view: centre lines of those that keep one place on it."""
    found = {round(m.start_m[axis], 3) for m in members if abs(m.start_m[axis] - m.end_m[axis]) < 1e-6}
    return sorted(found)


def _spread(places: list[float], gap: float, least: float, most: float) -> list[float]:
    """Return label places with at least `gap` between them, moved as little as a single pass allows."""
    found: list[float] = []
    for place in places:
        found.append(max(place, found[-1] + gap) if found else max(place, least))
    beyond = (found[-1] - most) if found else 0.0
    if beyond > 0.0:
        found[-1] = most
        for i in range(len(found) - 2, -1, -1):
            found[i] = min(found[i], found[i + 1] - gap)
    return found


def _on_top(places: list[float], paper: Paper, theme: Theme) -> str:
    size = theme.text_size
    base = paper.top - 0.4 * size
    xs = [paper.at((p, paper.high[1]))[0] for p in places]
    shown = _spread(xs, 1.05 * size, 0.6 * size, paper.left + paper.width + 2.0 * size)
    parts = []
    for place, x, at in zip(places, xs, shown, strict=True):
        said = f"{1000.0 * (place - paper.low[0]):.0f}"
        parts.append(svg.polyline([(x, base), (x, base - 0.4 * size), (at, base - 0.9 * size)], fill="none"))
        parts.append(
            svg.element(
                "text",
                svg.clean(said),
                fill=theme.ink,
                stroke="none",
                font_size=0.92 * size,
                transform=f"translate({svg.number(at + 0.33 * size)} {svg.number(base - 1.0 * size)}) rotate(-90)",
            )
        )
    return svg.group(*parts, stroke=theme.soft, stroke_width=0.5, class_="places")


def _on_right(places: list[float], paper: Paper, theme: Theme) -> str:
    size = theme.text_size
    base = paper.left + paper.width + 0.4 * size
    ys = [paper.at((paper.low[0], p))[1] for p in reversed(places)]
    shown = _spread(ys, 1.05 * size, paper.top - 1.5 * size, paper.bottom + 1.5 * size)
    parts = []
    for place, y, at in zip(reversed(places), ys, shown, strict=True):
        said = f"{1000.0 * (place - paper.low[1]):.0f}"
        parts.append(svg.polyline([(base, y), (base + 0.4 * size, y), (base + 0.9 * size, at)], fill="none"))
        parts.append(
            svg.text(
                base + 1.0 * size, at + 0.33 * size, said, fill=theme.ink, stroke="none", font_size=0.92 * size
            )
        )
    return svg.group(*parts, stroke=theme.soft, stroke_width=0.5, class_="places")


def _stands(plan: CradlePlan, view: CradleView, paper: Paper, theme: Theme) -> str:
    """Draw lifting points as rings and what the frame stands on as crosses; from above only."""
    if view is not FROM_ABOVE:
        return ""
    stands: dict[str, Stand] = {s.name: s for state in plan.states for s in state.stands}
    parts = []
    for stand in stands.values():
        x, y = paper.at(stand.at_m)
        r = 0.45 * theme.text_size
        if stand.lifts:
            parts.append(svg.element("circle", cx=x, cy=y, r=r, fill=theme.paper))
        else:
            parts.append(svg.line(x - r, y - r, x + r, y + r))
            parts.append(svg.line(x - r, y + r, x + r, y - r))
    return svg.group(*parts, stroke=theme.ink, stroke_width=1.3, class_="stands")
