"""Starting bodies and bodies from notes, lumps and meshes: each parses, weighs and says what it rests on."""

from __future__ import annotations

import io
import math
import time

import numpy as np
import pytest
import trimesh

from oakum.lift import (
    BodyFileError,
    StartingBody,
    load_at,
    mesh_names,
    parse_body,
    placed_parts,
    starting_bodies,
    weigh,
    weighing_of,
)
from oakum.lift.body.model import Body

STARTS = starting_bodies()


@pytest.mark.parametrize("start", STARTS.values(), ids=STARTS.keys())
def test_every_starting_body_parses_weighs_and_asks_to_be_edited(start: StartingBody) -> None:
    report = weigh(parse_body(start.toml, start.key), rng=np.random.default_rng(0), draws=1000)
    numbers = [v for s in report.states for v in (s.load_kg.p5, s.load_kg.best, s.load_kg.p95)]
    assert all(math.isfinite(v) and v > 0 for v in numbers)
    assert "starting body: edit" in report.open_questions
    assert start.mark == "starting body: edit" and start.source
    assert any(start.source in a for a in report.assumptions)


def test_a_dozen_starting_bodies_the_four_commonest_first() -> None:
    assert len(STARTS) >= 12
    assert list(STARTS)[:4] == ["gun", "anchor", "cask", "framed_timber"]
    assert len({s.title for s in STARTS.values()}) == len(STARTS)


def capstan() -> Body:
    return parse_body(STARTS["capstan"].toml, "capstan.toml")


def test_the_capstan_is_described_in_the_words_of_a_diver() -> None:
    body, text = capstan(), STARTS["capstan"].toml
    assert body.title == "Capstan (invented)" and len(body.parts) >= 12
    assert body.part("whelps").count == 8
    assert {p.role for p in body.parts} >= {"object", "concretion", "sediment", "crate", "rigging", "trapped water"}
    for word in ("ft", "1/2 in", "long cwt", "lb", "..", "±", "ft3"):
        assert word in text


def test_the_capstan_comes_to_between_one_and_two_tonnes() -> None:
    report = weigh(capstan(), rng=np.random.default_rng(0), draws=5000)
    clear = report.state("clear").load_kg
    assert 1200 < clear.p5 < clear.p95 < 2000
    assert report.state("submerged").load_kg.best < 0.4 * clear.best
    assert report.draining is not None and report.breakout_kg is not None
    assert report.hanging.tilt_deg is not None and report.verdict == "no objection found under these assumptions"


def test_a_level_is_answered_fast_enough_for_a_slider() -> None:
    weighing = weighing_of(capstan(), rng=np.random.default_rng(0), draws=20_000)
    load_at(weighing, -1.0)
    times = []
    for level in np.linspace(-2.0, 0.0, 12):
        begin = time.perf_counter()
        load_at(weighing, float(level))
        times.append(time.perf_counter() - begin)
    assert np.median(times) < 0.1  # 0.03 on a quiet machine: bench/weights.py


def test_all_parts_can_be_placed_for_a_drawing() -> None:
    placed = placed_parts(capstan())
    assert len(placed) == len(capstan().parts)
    assert all(p.mesh.volume_m3() > 0 for p in placed)
    assert sum(p.coat is not None for p in placed) == 4


MESH = """
title = "Scanned stone"
water = "1000 kg/m3"
[[part]]
name = "stone"
shape = "mesh"
file = "stone.stl"
unit = "mm"
scale = "±1 %"
material = "granite"
"""


def sphere(subdivisions: int, radius: float) -> bytes:
    shape = trimesh.creation.icosphere(subdivisions=subdivisions, radius=radius)
    return bytes(shape.export(file_type="stl"))


def test_a_mesh_of_eighty_thousand_triangles_weighs_as_a_sphere() -> None:
    body = parse_body(MESH, files={"stone.stl": sphere(6, 250.0)})
    assert mesh_names(MESH) == ("stone.stl",)
    report = weigh(body, rng=np.random.default_rng(0), draws=5000)
    volume = 4 / 3 * math.pi * 0.25**3
    assert report.volume_m3.best == pytest.approx(volume, rel=2e-3)
    assert report.volume_m3.sd / report.volume_m3.mean == pytest.approx(0.03, rel=0.1)
    assert report.mass_kg.best == pytest.approx(2650 * volume, rel=5e-3)
    half = np.interp(-0.25, report.emergence.x, report.emergence.best)
    assert half == pytest.approx(report.mass_kg.best - 500 * volume, rel=5e-3)


def test_a_crust_on_a_mesh_is_its_area_times_thickness() -> None:
    text = MESH + 'coat = { density = "2000 kg/m3", material = "crust", thickness = "5 mm", covers = "100 %" }\n'
    report = weigh(parse_body(text, files={"stone.stl": sphere(4, 250.0)}), rng=np.random.default_rng(0), draws=500)
    coat = next(p for p in report.parts if p.role == "concretion")
    assert coat.volume_m3.best == pytest.approx(4 * math.pi * 0.25**2 * 0.005, rel=0.05)


def test_a_mesh_that_was_not_given_is_named() -> None:
    with pytest.raises(BodyFileError, match=r'line 7, file of stone: "stone.stl" was not given with the body'):
        parse_body(MESH)


@pytest.mark.parametrize(
    ("data", "unit", "says"),
    [
        (sphere(2, 250.0), "m", "millimetres"),
        (sphere(2, 250.0), "furlong", "unit"),
        (b"solid nothing", "mm", "file"),
    ],
)
def test_a_mesh_that_cannot_be_is_refused_with_its_line(data: bytes, unit: str, says: str) -> None:
    with pytest.raises(BodyFileError) as caught:
        parse_body(MESH.replace('unit = "mm"', f'unit = "{unit}"'), files={"stone.stl": data})
    assert says in str(caught.value) and "line 7, file of stone" in str(caught.value)


def test_an_open_and_an_inverted_mesh_are_refused() -> None:
    whole = trimesh.creation.icosphere(subdivisions=2, radius=250.0)
    inside_out = trimesh.Trimesh(whole.vertices, whole.faces[:, ::-1], process=False)
    holed = trimesh.Trimesh(whole.vertices, whole.faces[1:], process=False)
    for shape, says in ((inside_out, "inside out"), (holed, "open")):
        buffer = io.BytesIO(shape.export(file_type="stl"))
        with pytest.raises(BodyFileError, match=says):
            parse_body(MESH, files={"stone.stl": buffer.getvalue()})
    turned = MESH.replace('scale = "±1 %"', "turned = true")
    body = parse_body(turned, files={"stone.stl": inside_out.export(file_type="stl")})
    assert any("no stated scale error" in q for q in body.questions)
