"""The rig to scale in elevation and plan, under water and in air side by side.

Every leg carries its number, the 95th percentile of the greatest force it may have, as the load cell reads
it, and its angle from the horizontal. The load is turned as it hangs; the dash-dotted line is plumb.
"""

from __future__ import annotations

from collections.abc import Sequence

from oakum.draw import svg
from oakum.draw.body_frame import Frame, scale_bar
from oakum.draw.body_marks import PointMark, legend, point_marks
from oakum.draw.forces import reading_figures, unit_words
from oakum.draw.outline import ELEVATION, PLAN, View
from oakum.draw.parts import shown_parts
from oakum.draw.rig_legs import label_room, sides, stack_bottom, stack_height
from oakum.draw.rig_panel import Scene, hook_words, panel, scene, tilt_words
from oakum.draw.rig_pose import RIGGING
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import POINTS_PER_METRE, print_scale
from oakum.draw.theme import PAGE, Theme
from oakum.draw.wrap import shortened, wrapped
from oakum.ground.gravity import G_M_S2
from oakum.lift.raising.plan import RaisingPlan, RigView

_GUTTER = 1.6  # of the text size, between panels
_TALLEST = 1.1  # of the width of one panel, for the scene without its words
SCALES = (1, 2, 5, 10, 20, 25, 50, 75, 100, 200, 500)
"""Denominators of scale rulers."""

NOTE = (
    "Force: 95th percentile of the greatest the leg may carry, as a load-cell reading; "
    "angle from the horizontal. A thin leg is the far one; dash-dotted is the plumb line of the hook."
)


def elevation(
    plan: RaisingPlan,
    *,
    states: Sequence[str] | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    scale: int | None = None,
    with_legend: bool = True,
    key: str = "rig-elevation",
) -> str:
    """Draw the rig from the front, a panel a state, `states` of the plan's views or all of them.

    `scale` is the denominator of a print scale (one unit is one point); None fills the width. Raises
    `DrawingError` where there is no view, or it does not fit at that scale.
    """
    return _drawing(plan, ELEVATION, states, theme, width, scale, with_legend, key)


def from_above(
    plan: RaisingPlan,
    *,
    states: Sequence[str] | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    scale: int | None = None,
    with_legend: bool = True,
    key: str = "rig-plan",
) -> str:
    """Draw the rig from above; otherwise as `elevation`."""
    return _drawing(plan, PLAN, states, theme, width, scale, with_legend, key)


def rig_scale(plan: RaisingPlan, *, width_pt: float, height_pt: float) -> int:
    """Return the one print scale at which elevation and plan of all views fit side by side, points.

    `height_pt` is the room of the elevation without its words.
    """
    scenes = [_scenes(plan, look, None) for look in (ELEVATION, PLAN)]
    wide = max(2 * _half(s) for found in scenes for s in found)
    tall = max(s.high[1] - s.low[1] for s in scenes[0])
    room = _panel_width(width_pt, len(plan.views), 9.0)
    for denominator in SCALES:
        k = POINTS_PER_METRE / denominator
        if wide * k <= room and tall * k <= height_pt:
            return denominator
    return print_scale(max(wide * height_pt / room, tall), height_pt / POINTS_PER_METRE)


def rig_rows(plan: RaisingPlan) -> Rows:
    """Return every leg in every state: attachment, force from low to high, angle."""
    unit = unit_words(plan.cell_unit)
    lines = []
    for view in plan.views:
        for i, (name, at) in enumerate(view.attachments):
            lines.append(
                (
                    f"{i + 1} {name}, {view.state}",
                    *(figure(v) for v in at),
                    *reading_figures(view.leg_force_kg[i], plan.cell_unit),
                    f"{view.from_horizontal_deg[i]:.0f}\u00b0",
                )
            )
    head = (
        "leg", "x (m)", "y (m)", "z (m)", f"low, P5 ({unit})", f"likely ({unit})", f"high, P95 ({unit})",
        "from the horizontal",
    )  # fmt: skip
    return Rows("Legs: the greatest force each may carry, as a load-cell reading", head, tuple(lines))


def place_rows(plan: RaisingPlan) -> Rows:
    """Return hook, hanging point, tilt and bags in every state."""
    lines = []
    for view in plan.views:
        tilt = tilt_words(view)
        lines.append(
            (f"hook, {view.state}", *(figure(v) for v in view.hook_m), hook_line(plan, view) or tilt)
        )
        lines.append((f"hanging point, {view.state}", *(figure(v) for v in view.hanging_m), tilt))
        for name, at, volume in view.bags:
            lines.append(
                (f"mouth of bag {name}, {view.state}", *(figure(v) for v in at), f"{figure(volume)} m³")
            )
    return Rows("Hook, hanging point and bags", ("point", "x (m)", "y (m)", "z (m)", "what"), tuple(lines))


def hook_line(plan: RaisingPlan, view: RigView) -> str:
    """Say the hook load of a view, empty where it is not computed."""
    answer = plan.under_water if view.state == "under water" else plan.in_air
    return "" if answer is None else hook_words(answer.hook_load_n.p95 / G_M_S2, plan.cell_unit)


def _scenes(plan: RaisingPlan, look: View, states: Sequence[str] | None) -> list[Scene]:
    views = [v for v in plan.views if states is None or v.state in states]
    if not views:
        raise svg.DrawingError("there is no rig to draw: describe hook and legs in the rig file")
    if not shown_parts(plan.weight.body):
        raise svg.DrawingError("a body without parts cannot be drawn: add a part")
    return [scene(plan.weight.body, view, look, plan.rig) for view in views]


def _units_per_metre(plan: RaisingPlan, states: Sequence[str] | None, wide: float) -> float:
    """Return the one factor with which elevation and plan both fit into a panel."""
    found = [_scenes(plan, look, states) for look in (ELEVATION, PLAN)]
    widest = max(2 * _half(s) for scenes in found for s in scenes)
    tallest = max(s.high[1] for s in found[0]) - min(s.low[1] for s in found[0])
    return min(wide / widest, _TALLEST * wide / tallest)


def _half(shown: Scene) -> float:
    """Return how far a scene reaches from the plumb line of its hook, which stands in the panel's middle."""
    return max(shown.hook[0] - shown.low[0], shown.high[0] - shown.hook[0], 1e-3)


def _panel_width(across: float, count: int, size: float) -> float:
    return (across - (count - 1) * _GUTTER * size) / max(count, 1)


def state_marks(plan: RaisingPlan, state: str) -> tuple[PointMark, ...]:
    """Return the points that belong to a state."""
    in_air = state == "in air"
    return tuple(m for m in point_marks(plan.weight) if ("in air" in m.name) == in_air)


def _head(plan: RaisingPlan, view: RigView) -> list[str]:
    words = {"under water": "Under water", "in air": "In air, clear of the surface"}
    said = [words.get(view.state, view.state), hook_line(plan, view), tilt_words(view)]
    return [line for line in said if line]


def _drawing(
    plan: RaisingPlan,
    look: View,
    states: Sequence[str] | None,
    theme: Theme,
    width: float | None,
    scale: int | None,
    with_legend: bool,
    key: str,
) -> str:
    across, size = width or theme.width, theme.text_size
    scenes = _scenes(plan, look, states)
    wide = _panel_width(across, len(scenes), size)
    over = max(s.high[1] - s.hook[1] for s in scenes)  # bags may stand higher than the hook
    under = max(s.hook[1] - s.low[1] for s in scenes)
    k = POINTS_PER_METRE / scale if scale else _units_per_metre(plan, states, wide)
    widest = max(2 * _half(s) for s in scenes)
    if widest * k > wide + 1.0:
        raise svg.DrawingError(
            f"the rig does not fit at 1:{scale}: {widest:.2f} m across; take a smaller scale"
        )
    heads = [_head(plan, s.view) for s in scenes]
    head = 1.35 * size * max(len(h) for h in heads)
    hook_y = head + max(
        over * k + (0.8 if look is ELEVATION else 1.8) * size, (3.2 if look is ELEVATION else 1.0) * size
    )
    if look is ELEVATION:
        hook_y += _labels_need(scenes, k, wide, hook_y, head, theme, plan.cell_unit)
    body: list[str] = []
    bottom = hook_y
    for index, (shown, said) in enumerate(zip(scenes, heads, strict=True)):
        left = index * (wide + _GUTTER * size)
        frame = Frame(
            k, left + wide / 2 - (shown.hook[0] - shown.low[0]) * k, hook_y - (shown.high[1] - shown.hook[1]) * k,
            shown.low, shown.high,
        )  # fmt: skip
        drawn, low = panel(shown, frame, left, wide, state_marks(plan, shown.view.state), plan.cell_unit, theme)
        if shown.view.state == "under water":
            body.append(_water(left, wide, head + 0.5 * size, hook_y + under * k + 0.5 * size, theme))
        body.append(_titles(said, left, wide, theme))
        body.append(drawn)
        bottom = max(bottom, low)
    bottom = max(bottom, hook_y + under * k + 0.9 * size)
    row = bottom + 0.8 * size
    body.append(scale_bar(k, 0.0, row, across, theme, scale))
    end = row + 1.6 * size
    if with_legend:
        marks = tuple(
            m for m in point_marks(plan.weight) if any(m in state_marks(plan, s.view.state) for s in scenes)
        )
        roles = tuple(dict.fromkeys(p.role for p in shown_parts(plan.weight.body) if p.role != RIGGING))
        words, tall = legend(roles, marks, frozenset(), theme, across, end)
        body += [words, *_note(across, end + tall, theme)]
        end += tall + _note_height(across, theme)
    return svg.document(
        across,
        end,
        *body,
        title=f"{plan.title}: the rig {'from the front' if look is ELEVATION else 'from above'}",
        description=_description(plan, scenes),
        key=key,
        font=theme.font,
    )


def _note(across: float, top: float, theme: Theme) -> list[str]:
    size = 0.92 * theme.text_size
    lines = wrapped(NOTE, across, theme, size)
    return [
        svg.text(0, top + (i + 0.8) * 1.35 * size, line, font_size=size, fill=theme.soft)
        for i, line in enumerate(lines)
    ]


def _note_height(across: float, theme: Theme) -> float:
    size = 0.92 * theme.text_size
    return (len(wrapped(NOTE, across, theme, size)) + 0.4) * 1.35 * size


def _labels_need(
    scenes: Sequence[Scene], k: float, wide: float, hook_y: float, head: float, theme: Theme, unit: str
) -> float:
    """Return how much lower the hooks must stand so that the highest stack of labels has room."""
    need = 0.0
    for shown in scenes:
        hook = (0.0, hook_y)
        lines = [
            (_on_paper(top, shown, k, hook_y), _on_paper(end, shown, k, hook_y))
            for top, end in zip(shown.tops, shown.ends, strict=True)
        ]
        room = label_room(shown.view, unit, wide, theme)
        for which in sides(lines, hook):
            if which:
                bottom = stack_bottom(lines, hook, which, room, wide / 2)
                need = max(need, head + 0.6 * theme.text_size - (bottom - stack_height(len(which), theme)))
    return need


def _on_paper(point: tuple[float, float], shown: Scene, k: float, hook_y: float) -> svg.Point:
    """Return a point as seen from the plumb line of the hook."""
    return (point[0] - shown.hook[0]) * k, hook_y + (shown.hook[1] - point[1]) * k


def _titles(lines: Sequence[str], left: float, wide: float, theme: Theme) -> str:
    size = theme.text_size
    return svg.group(
        *(
            svg.text(
                left,
                size + i * 1.35 * size,
                shortened(line, wide, theme),
                font_weight="600" if i == 0 else None,
                fill=theme.ink if i == 0 else theme.soft,
            )
            for i, line in enumerate(lines)
        ),
        font_size=size,
    )


def _water(left: float, wide: float, top: float, bottom: float, theme: Theme) -> str:
    return svg.element(
        "rect",
        x=left,
        y=top,
        width=wide,
        height=bottom - top,
        fill=theme.water,
        fill_opacity=0.06,
        class_="water",
    )


def _description(plan: RaisingPlan, scenes: Sequence[Scene]) -> str:
    unit = unit_words(plan.cell_unit)
    said = []
    for shown in scenes:
        view = shown.view
        legs = "; ".join(
            f"leg {i + 1} {name} up to {reading_figures(view.leg_force_kg[i], plan.cell_unit)[2]} {unit} at "
            f"{view.from_horizontal_deg[i]:.0f}\u00b0 from the horizontal"
            for i, (name, _) in enumerate(view.attachments)
        )
        bags = f" {len(view.bags)} bags." if view.bags else ""
        said.append(f"{view.state}: {legs}; {tilt_words(view)}.{bags}")
    return " ".join(said)
