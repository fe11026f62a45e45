"""The rig in space: the same hook, legs, bags, extents and loads as the elevations and their tables."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from oakum.draw import DrawingError, figure, rig
from oakum.draw.coarser import coarser
from oakum.draw.outline import ELEVATION, PLAN
from oakum.draw.rig_panel import scene as on_paper
from oakum.draw.rig_pose import cloud, pose_of
from oakum.draw.scene import RigScene, SpaceState, rig_scene
from oakum.draw.scene_json import scene_dict
from oakum.draw.scene_water import level_rows
from oakum.ground.solids import Cylinder, submerged
from oakum.lift import Weighing, load_at, parse_body, placed_parts, starting_bodies, weighing_of
from oakum.lift.raising import RaisingPlan
from oakum.lift.seaway import SeaAsked, SeawayAnswer


@pytest.fixture(scope="module")
def weighing() -> Weighing:
    body = parse_body(starting_bodies()["capstan"].toml, name="capstan")
    return weighing_of(body, rng=np.random.default_rng(7), draws=2000, seed=7)


@pytest.fixture(scope="module")
def space(plan: RaisingPlan, weighing: Weighing) -> RigScene:
    return rig_scene(plan, weighing.emergence)


def cells(point: tuple[float, float, float]) -> tuple[str, ...]:
    return tuple(figure(value) for value in point)


def test_legs_hook_hanging_point_and_bags_are_those_of_the_tables(plan: RaisingPlan, space: RigScene) -> None:
    legs = {line[0]: line for line in rig.rig_rows(plan).lines}
    places = {line[0]: line for line in rig.place_rows(plan).lines}
    assert [s.state for s in space.states] == [v.state for v in plan.views]
    for state in space.states:
        assert places[f"hook, {state.state}"][1:4] == cells(state.hook_m)
        hanging = next(p for p in state.points if p.name.startswith("hanging point"))
        assert places[f"hanging point, {state.state}"][1:4] == cells(hanging.at_m)
        for i, leg in enumerate(state.legs):
            line = legs[f"{i + 1} {leg.name}, {state.state}"]
            assert line[1:4] == cells(leg.at_m)
            assert leg.label.startswith(f"{i + 1}: {line[6]} {plan.cell_unit}") and leg.label.endswith(line[7])
        for bag in state.bags:
            line = places[f"mouth of bag {bag.name}, {state.state}"]
            assert line[1:4] == cells(bag.mouth_m)
            assert line[4] == f"{figure(np.pi / 6 * bag.diameter_m**3)} m³"
    assert [len(s.bags) for s in space.states] == [3, 0]


@pytest.mark.parametrize("state", [0, 1])
def test_what_hangs_reaches_as_far_as_in_the_elevation_and_from_above(
    plan: RaisingPlan, space: RigScene, state: int
) -> None:
    shown, view = space.states[state], plan.views[state]
    for look, axes in ((ELEVATION, (0, 2)), (PLAN, (0, 1))):
        drawn = on_paper(plan.weight.body, view, look, plan.rig)
        assert [shown.low_m[a] for a in axes] == pytest.approx(drawn.low, abs=8e-3)  # outlines turn in steps
        assert [shown.high_m[a] for a in axes] == pytest.approx(drawn.high, abs=8e-3)


def test_a_state_is_turned_as_the_elevation_turns_it(plan: RaisingPlan, space: RigScene) -> None:
    for shown, view in zip(space.states, plan.views, strict=True):
        rows, hook = np.array(shown.turn), np.array(shown.hook_m)
        for leg in shown.legs:
            here = rows @ (np.array(leg.at_m) - hook) + hook
            assert here == pytest.approx(pose_of(view).at(np.array(leg.at_m)))


def test_a_cloud_seen_from_the_front_is_the_ellipse_of_the_elevation(
    plan: RaisingPlan, space: RigScene
) -> None:
    view, shown = plan.views[0], space.states[0]
    point = next(p for p in shown.points if p.tag == "U")
    middle, (large, _), _ = cloud(plan.weight.hanging.submerged, pose_of(view), ELEVATION)
    hook, rows = np.array(shown.hook_m), np.array(shown.turn)
    flat = (rows @ (np.array(point.middle_m) - hook) + hook)[[0, 2]]
    assert flat == pytest.approx(middle)
    spread = (rows * np.array(point.half_m) ** 2) @ rows.T
    assert np.sqrt(np.linalg.eigvalsh(spread[np.ix_([0, 2], [0, 2])]).max()) == pytest.approx(large)


def test_water_lines_run_from_submerged_to_clear_with_the_loads_of_the_curve(
    plan: RaisingPlan, space: RigScene
) -> None:
    heights = [level.height_m for level in space.levels]
    assert heights == sorted(heights)
    named = {level.name: level for level in space.levels if level.name}
    assert list(named) == ["submerged", "half in", "just clear"]
    for level in space.levels:
        load = load_at(plan.weight, level.height_m)
        assert (level.p5_kg, level.best_kg, level.p95_kg) == (load.p5_kg, load.best_kg, load.p95_kg)
        state = next(s for s in space.states if s.state == level.state)
        assert level.surface_m == pytest.approx(state.low_m[2] - level.height_m)
        assert (level.state == "in air") == (level.height_m >= 0.0)
    wet = space.states[0]
    assert named["submerged"].surface_m >= wet.high_m[2] - 1e-9 and named["submerged"].under == 1.0
    assert named["just clear"].under == 0.0
    rows = level_rows(space.levels, plan.cell_unit)
    assert [line[0] for line in rows.lines] == list(named) and rows.lines[1][2] == "50 %"


def test_half_in_means_half_of_the_volume(plan: RaisingPlan, space: RigScene) -> None:
    """Against the meshes cut at that height; coats stand in for what they cover, hollows and holes add nothing."""
    level = next(level for level in space.levels if level.name == "half in")
    under = whole = 0.0
    lowest = min(float(p.mesh.vertices[:, 2].min()) for p in placed_parts(plan.weight.body))
    for part in placed_parts(plan.weight.body):
        if part.role in ("trapped water", "sediment", "open hole") or part.part.fill is not None:
            continue
        mesh = part.coat or part.mesh
        under += float(submerged(mesh, np.array([lowest - level.height_m])).volume_m3[0])
        whole += mesh.volume_m3()
    assert under / whole == pytest.approx(0.5, abs=0.06)


def test_a_lower_hook_moves_the_hook_and_no_piece(
    plan: RaisingPlan, weighing: Weighing, space: RigScene
) -> None:
    x, y, z = plan.views[0].hook_m
    lower = replace(plan, views=(replace(plan.views[0], hook_m=(x, y, z - 0.5)), *plan.views[1:]))
    moved = rig_scene(lower, weighing.emergence)
    assert moved.states[0].hook_m == (x, y, z - 0.5) and moved.states[0].legs[0].top_m == (x, y, z - 0.5)
    assert all(a is b for a, b in zip(moved.pieces, space.pieces, strict=True))


def test_waves_are_drawn_as_high_as_the_sea_that_is_asked(plan: RaisingPlan, weighing: Weighing) -> None:
    def at_sea(hs_m: float | None) -> RigScene:
        asked = SeaAsked(hs_m=hs_m)
        sea = SeawayAnswer(asked, "", None, None, (), None, None, "", (), (), (), (), (), ())
        return rig_scene(replace(plan, seaway=sea), weighing.emergence)

    assert rig_scene(replace(plan, seaway=None), weighing.emergence).wave_m is None
    assert at_sea(None).wave_m is None and scene_dict(at_sea(None))["wave"] == ""
    assert at_sea(0.45).wave_m == 0.45 and scene_dict(at_sea(0.45))["wave"] == "Hs 45 cm, crest to trough"


def test_pieces_have_the_tone_of_what_they_are_made_of(space: RigScene) -> None:
    tones = {piece.name: (piece.role, piece.tone) for piece in space.pieces}
    assert tones["drumhead"] == ("object", "wood") and tones["upper band"] == ("object", "metal")
    assert tones["bar holes"] == ("trapped water", "")
    assert all(piece.role != "rigging" for piece in space.pieces)


def test_the_data_is_plain_and_the_pieces_are_sent_once(plan: RaisingPlan, space: RigScene) -> None:
    whole = scene_dict(space)
    assert json.loads(json.dumps(whole, allow_nan=False)) == whole
    drumhead = next(piece for piece in whole["pieces"] if piece["name"] == "drumhead")
    assert {p["label"] for p in whole["pieces"] if p["role"] == "concretion"} == {"", "lump on the east side"}
    assert drumhead["label"] == "drumhead"
    assert len(drumhead["vertices"]) % 3 == 0 and max(drumhead["faces"]) < len(drumhead["vertices"]) // 3
    again = scene_dict(space, have=whole["mark"])
    assert again["pieces"] is None and again["states"] == whole["states"]
    assert scene_dict(space, have="another")["pieces"] == whole["pieces"]


def test_without_a_rig_or_a_part_there_is_nothing_to_draw(
    plan: RaisingPlan, bare_plan: RaisingPlan, weighing: Weighing
) -> None:
    with pytest.raises(DrawingError, match="no rig to draw"):
        rig_scene(bare_plan, weighing.emergence)
    empty = replace(plan.weight, body=replace(plan.weight.body, parts=()))
    with pytest.raises(DrawingError, match="add a part"):
        rig_scene(replace(plan, weight=empty), weighing.emergence)


def test_one_state_alone_serves_for_every_water_line(plan: RaisingPlan, weighing: Weighing) -> None:
    dry = rig_scene(replace(plan, views=plan.views[1:]), weighing.emergence)
    assert {level.state for level in dry.levels} == {"in air"}
    assert isinstance(dry.states[0], SpaceState) and dry.states[0].words.startswith("Legs, their forces and the tilt")


def test_a_fine_mesh_is_made_coarse_within_its_bounds_and_near_its_volume() -> None:
    mesh = Cylinder(0.5, 1.0).to_mesh(facets=3000)
    angles = np.linspace(0.0, 2.0 * np.pi, 400, endpoint=False)
    rings = np.array([(np.cos(a), np.sin(a), z) for z in np.linspace(0.0, 1.0, 60) for a in angles])
    step = np.arange(59 * 400)
    right = step // 400 * 400 + (step + 1) % 400
    halves = [(step, right, right + 400), (step, right + 400, step + 400)]
    faces = np.concatenate([np.column_stack(half) for half in halves])
    points, triangles = coarser(rings, faces, 16_000)
    assert 4_000 < len(triangles) <= 16_000
    assert np.abs(points).max() <= 1.0 + 1e-12 and np.hypot(*points[:, :2].T).min() > 0.98
    assert coarser(mesh.vertices, mesh.faces, 1_000_000)[1] is mesh.faces
