"""The rig on paper: to scale, hung as statics hangs it, every leg with its force and angle."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from oakum.draw import PAGE, PRINT, DrawingError, rig
from oakum.draw.forces import load_words
from oakum.draw.outline import ELEVATION, PLAN
from oakum.draw.rig_panel import named, scene, tilt_words
from oakum.draw.rig_pose import cloud, pose_of, posed_parts
from oakum.draw.scale import POINTS_PER_METRE
from oakum.draw.svg import NAMESPACE
from oakum.ground.estimate import Spread
from oakum.lift.raising import RaisingPlan, RigView
from oakum.lift.weights.report import Centre

DOWN_M = 1.9


def tilted(view: RigView, tilt_deg: float) -> RigView:
    """A view whose hanging point is off by the tilt, towards (0.6, 0.8)."""
    away = DOWN_M * math.tan(math.radians(tilt_deg))
    x, y, z = view.hook_m
    return replace(view, hanging_m=(x + 0.6 * away, y + 0.8 * away, z - DOWN_M), tilt_deg=tilt_deg)


def texts(drawing: str) -> list[str]:
    return [t.text or "" for t in ElementTree.fromstring(drawing).iter(f"{{{NAMESPACE}}}text")]


def legs(drawing: str) -> list[tuple[float, float, float, float]]:
    """The lines of all legs, panel by panel: hook end, then attachment."""
    found = []
    for group in ElementTree.fromstring(drawing).iter(f"{{{NAMESPACE}}}g"):
        if group.attrib.get("class") == "legs":
            for line in group.findall(f"{{{NAMESPACE}}}line"):
                found.append(tuple(float(line.attrib[k]) for k in ("x1", "y1", "x2", "y2")))
    return found  # type: ignore[return-value]


@pytest.mark.parametrize("tilt_deg", [0.5, 4.0, 12.0])
def test_the_load_hangs_with_its_hanging_point_plumb_under_the_hook(
    plan: RaisingPlan, tilt_deg: float
) -> None:
    view = tilted(plan.views[1], tilt_deg)
    hung = pose_of(view).at(np.array(view.hanging_m))
    assert hung[:2] == pytest.approx(view.hook_m[:2], abs=1e-9)
    assert view.hook_m[2] - hung[2] == pytest.approx(DOWN_M / math.cos(math.radians(tilt_deg)))


def test_turning_keeps_every_length(plan: RaisingPlan) -> None:
    view = tilted(plan.views[1], 9.0)
    points = np.array([p for _, p in view.attachments])
    moved = pose_of(view).at(points)
    assert np.linalg.norm(moved - view.hook_m, axis=1) == pytest.approx(
        np.linalg.norm(points - view.hook_m, axis=1)
    )
    rows = np.array(pose_of(view).rows)
    assert rows @ rows.T == pytest.approx(np.eye(3), abs=1e-12) and np.linalg.det(rows) == pytest.approx(1.0)


def test_without_a_tilt_the_load_is_drawn_level_and_the_drawing_says_so(plan: RaisingPlan) -> None:
    view = replace(plan.views[0], tilt_deg=None)
    assert pose_of(view).is_level and "not known" in tilt_words(view)
    assert pose_of(replace(view, tilt_deg=5.0, hanging_m=(*view.hook_m[:2], 0.0))).is_level


def test_a_leg_on_paper_is_as_long_as_its_scale_says(plan: RaisingPlan) -> None:
    scale = rig.rig_scale(plan, width_pt=PRINT.width, height_pt=330.0)
    drawing = rig.elevation(plan, theme=PRINT, scale=scale)
    assert f"scale 1:{scale} on A4" in drawing
    view = plan.views[0]
    moved = pose_of(view).at(np.array([p for _, p in view.attachments]))
    wanted = sorted(math.hypot(p[0] - view.hook_m[0], p[2] - view.hook_m[2]) for p in moved)
    found = sorted(math.hypot(c - a, d - b) for a, b, c, d in legs(drawing)[: len(view.attachments)])
    assert found == pytest.approx([w * POINTS_PER_METRE / scale for w in wanted], abs=0.05)


def test_elevation_and_plan_have_one_scale_on_the_page(plan: RaisingPlan) -> None:
    view = plan.views[0]
    moved = pose_of(view).at(np.array([p for _, p in view.attachments]))
    for drawing, up in ((rig.elevation(plan), 2), (rig.from_above(plan), 1)):
        a, b, c, d = legs(drawing)[0]
        far = [math.hypot(p[0] - view.hook_m[0], p[up] - view.hook_m[up]) for p in moved]
        factors = [math.hypot(c - a, d - b) / f for f in far]
        assert any(f == pytest.approx(_factor(plan), rel=2e-3) for f in factors)


def _factor(plan: RaisingPlan) -> float:
    """Units to a metre, from the scale bar of the elevation."""
    drawing = rig.elevation(plan)
    cells = [
        float(w) for w in re.findall(r'<rect x="[\d.]+" y="[\d.]+" width="([\d.]+)" height="5"', drawing)
    ]
    label = next(t for t in texts(drawing) if re.fullmatch(r"[\d.]+ m", t))
    return 4 * cells[-1] / float(label.removesuffix(" m"))


def test_every_leg_carries_its_force_as_the_cell_reads_it_and_its_angle(plan: RaisingPlan) -> None:
    for unit in ("kg", "kN"):
        said = texts(rig.elevation(replace(plan, cell_unit=unit)))
        for view in plan.views:
            for i, (name, _) in enumerate(view.attachments):
                force = load_words(view.leg_force_kg[i].p95, unit)
                assert f"{force}, {view.from_horizontal_deg[i]:.0f}\u00b0" in said
                assert f"{i + 1} {name}" in said


def test_both_states_stand_side_by_side_or_one_alone(plan: RaisingPlan) -> None:
    both = rig.elevation(plan)
    assert "Under water" in both and "In air, clear of the surface" in both
    one = rig.elevation(plan, states=("in air",), key="air")
    assert "Under water" not in texts(one) and "In air, clear of the surface" in texts(one)
    assert len(legs(both)) == 2 * len(legs(one)) == 8
    hooks = {(round(a, 1), round(b, 1)) for a, b, _, _ in legs(both)}
    assert len(hooks) == 2 and len({y for _, y in hooks}) == 1  # at one height


def test_bags_are_drawn_to_size_under_water_only(plan: RaisingPlan) -> None:
    drawn = scene(plan.weight.body, plan.views[0], ELEVATION, plan.rig)
    assert [b.name for b in drawn.bags] == ["north", "south", "north, second"]
    for bag in drawn.bags:
        assert math.pi * bag.diameter_m**3 / 6 == pytest.approx(0.080, rel=0.02)
        assert bag.foot is not None and bag.foot[1] < bag.mouth[1]
    assert not scene(plan.weight.body, plan.views[1], ELEVATION, plan.rig).bags
    above = scene(plan.weight.body, plan.views[0], PLAN, plan.rig)
    assert [words for _, words in named(above.bags, PLAN)].count("") == 1  # two over each other, named once


def test_the_body_is_turned_with_its_hook(plan: RaisingPlan) -> None:
    view = tilted(plan.views[1], 10.0)
    level = posed_parts(plan.weight.body, pose_of(plan.views[0]), PLAN)
    turned = posed_parts(plan.weight.body, pose_of(view), PLAN)
    assert len(level) == len(turned) and all(p.role != "rigging" for p, _ in turned)
    assert any(a.low != pytest.approx(b.low, abs=0.05) for (_, a), (_, b) in zip(level, turned, strict=True))


def test_a_cloud_turns_with_the_load(plan: RaisingPlan) -> None:
    wide, none = Spread(-0.3, 0.0, 0.3, 0.0, 0.2, "m"), Spread(0, 0, 0, 0, 0, "m")
    x, y, z = plan.views[1].hook_m
    view = replace(plan.views[1], hanging_m=(x + DOWN_M, y, z - DOWN_M), tilt_deg=45.0)
    _, (long, short), turn = cloud(Centre("g", wide, none, none), pose_of(view), ELEVATION)
    assert (long, short) == pytest.approx((0.3, 0.0), abs=1e-9) and abs(turn) % 90 == pytest.approx(45.0)


def test_a_spreader_is_drawn_with_upright_drops(plan: RaisingPlan) -> None:
    from oakum.lift.raising.rig_plan import Piece, RigSpreader
    from oakum.lift.slings import Spreader

    assert plan.rig is not None
    ends = ((-0.6, 0.0, 1.4), (0.6, 0.0, 1.4))
    beam = Spreader("beam", 1.2, 0.9, None, None, None)
    with_beam = replace(plan.rig, spreader=RigSpreader(beam, ends, Piece(), Piece()), legs=())
    force = plan.views[0].leg_force_kg[0]
    view = RigView(
        "in air", (0.0, 0.0, 3.0), tuple(zip(("first drop", "second drop"), ends, strict=True)),
        (force, force), (90.0, 90.0), (0.0, 0.0, 0.5), 0.0,
    )  # fmt: skip
    odd = replace(plan, views=(view,), rig=with_beam)
    drawing = rig.elevation(odd)
    assert 'class="spreader"' in drawing
    upright = [line for line in legs(drawing) if abs(line[0] - line[2]) < 0.01]
    assert len(upright) == 2 and "90\u00b0" in drawing


@pytest.mark.parametrize("look", [rig.elevation, rig.from_above])
def test_the_drawing_is_announced_and_escaped(plan: RaisingPlan, look: object) -> None:
    view = plan.views[0]
    hostile = replace(view, attachments=tuple(('<b>"&', at) for _, at in view.attachments))
    drawing = look(replace(plan, views=(hostile,), title="<script>"))  # type: ignore[operator]
    root = ElementTree.fromstring(drawing)
    assert root.attrib["role"] == "img" and "<script>" not in drawing
    described = root.find(f"{{{NAMESPACE}}}desc")
    assert described is not None and "from the horizontal" in (described.text or "")


def test_its_numbers_come_as_tables(plan: RaisingPlan) -> None:
    rows = rig.rig_rows(plan)
    assert len(rows.lines) == 8 and all(len(line) == len(rows.head) for line in rows.lines)
    assert rows.head[4:7] == ("low, P5 (kg)", "likely (kg)", "high, P95 (kg)")
    assert rows.lines[0][0] == "1 north-west, under water" and rows.lines[0][-1].endswith("\u00b0")
    places = rig.place_rows(plan)
    assert len(places.lines) == 2 * 2 + 3 and any("bag south" in line[0] for line in places.lines)


def test_no_view_or_a_scale_too_large_is_refused_in_words(plan: RaisingPlan, bare_plan: RaisingPlan) -> None:
    with pytest.raises(DrawingError, match="no rig to draw"):
        rig.elevation(bare_plan)
    with pytest.raises(DrawingError, match="does not fit at 1:5"):
        rig.elevation(plan, theme=PRINT, scale=5)


def test_no_label_leaves_the_drawing(plan: RaisingPlan) -> None:
    long = tuple(
        (f"corner of the frame with a very long name {i}", at)
        for i, (_, at) in enumerate(plan.views[0].attachments)
    )
    odd = replace(plan, views=tuple(replace(v, attachments=long) for v in plan.views))
    for drawing in (
        rig.elevation(odd, width=900),
        rig.elevation(odd, theme=PRINT),
        rig.elevation(odd, states=("in air",)),
    ):
        root = ElementTree.fromstring(drawing)
        wide, tall = float(root.attrib["width"]), float(root.attrib["height"])
        for text in root.iter(f"{{{NAMESPACE}}}text"):
            x, y = float(text.attrib["x"]), float(text.attrib["y"])
            reach = PAGE.text_width(text.text or "", 0.85 * (12.5 if wide in (900, 480) else 9.0))
            left = {"start": x, "end": x - reach, "middle": x - reach / 2}[
                text.attrib.get("text-anchor", "start")
            ]
            assert left >= -1.0 and left + reach <= wide + 1.0 and 0 <= y <= tall, text.text
