import time

import numpy as np
import pytest
import trimesh

from oakum.ground.solids import SolidError
from oakum.ground.solids import mesh_file as reader
from oakum.ground.solids.mesh_file import FILETYPES, read_mesh


def as_bytes(shape, filetype="stl"):
    data = shape.export(file_type=filetype)
    return data if isinstance(data, bytes) else data.encode()


def box(x=2.0, y=1.0, z=0.5):
    return trimesh.creation.box((x, y, z))


@pytest.mark.parametrize("filetype", FILETYPES)
def test_every_file_type_gives_the_same_solid(filetype):
    mesh = read_mesh(as_bytes(box(), filetype), filetype, "m")
    assert mesh.volume_m3() == pytest.approx(1.0, rel=1e-6)
    assert len(mesh.vertices) == 8
    assert len(mesh.faces) == 12


@pytest.mark.parametrize(
    ("unit", "metres"), [("m", 1.0), ("cm", 0.01), ("mm", 0.001), ("in", 0.0254), ("ft", 0.3048)]
)
def test_the_unit_of_the_file_is_obeyed(unit, metres):
    mesh = read_mesh(as_bytes(box(10.0, 8.0, 6.0), "ply"), "ply", unit)
    assert mesh.volume_m3() == pytest.approx(480.0 * metres**3, rel=1e-6)


def test_text_stl_and_a_type_with_a_dot_are_taken():
    mesh = read_mesh(as_bytes(box(), "stl_ascii"), ".STL", "m")
    assert mesh.volume_m3() == pytest.approx(1.0)


def test_a_scan_of_a_hundred_thousand_triangles_is_read_and_agrees_with_the_library(record_property):
    shape = trimesh.creation.torus(1.0, 0.4, major_sections=320, minor_sections=160)
    data = as_bytes(shape)
    began = time.process_time()
    mesh = read_mesh(data, "stl", "m")
    took = time.process_time() - began
    record_property("read_seconds", took)
    assert took < 3.0
    assert len(mesh.faces) == 102_400
    assert len(mesh.vertices) == 51_200
    assert mesh.volume_m3() == pytest.approx(shape.volume, rel=1e-6)
    assert mesh.area_m2() == pytest.approx(shape.area, rel=1e-6)
    assert mesh.centroid_m() == pytest.approx(shape.center_mass, abs=1e-6)


def test_several_closed_bodies_are_added_up():
    two = trimesh.util.concatenate([box(), box().apply_translation((5.0, 0.0, 0.0))])
    assert read_mesh(as_bytes(two), "stl", "m").volume_m3() == pytest.approx(2.0)


def test_objects_of_a_scene_stand_in_their_places():
    scene = trimesh.Scene()
    scene.add_geometry(box(), transform=trimesh.transformations.translation_matrix((5.0, 0.0, 0.0)))
    scene.add_geometry(box())
    mesh = read_mesh(scene.export(file_type="glb"), "glb", "m")
    assert mesh.volume_m3() == pytest.approx(2.0)
    assert mesh.centroid_m()[0] == pytest.approx(2.5)


def test_a_hollow_is_taken_away_and_a_find_inside_the_hollow_added():
    hollow = box(1.0, 1.0, 1.0)
    hollow.invert()
    cast = trimesh.util.concatenate([box(2.0, 2.0, 2.0), hollow])
    assert read_mesh(as_bytes(cast), "stl", "m").volume_m3() == pytest.approx(7.0)
    rattle = trimesh.util.concatenate([cast, box(0.5, 0.5, 0.5)])
    assert read_mesh(as_bytes(rattle), "stl", "m").volume_m3() == pytest.approx(7.125)


def refusal(data, filetype="stl", unit="m", **kw):
    with pytest.raises(SolidError) as caught:
        read_mesh(data, filetype, unit, **kw)
    return str(caught.value)


def test_a_missing_or_unknown_unit_is_asked_for():
    assert "Write the unit of its coordinates, one of m, cm, mm, ft, in." in refusal(
        as_bytes(box()), unit=None
    )
    assert 'if it is, write unit "m"' in refusal(as_bytes(box(), "glb"), "glb", None)
    assert "unit 'yd' is not known" in refusal(as_bytes(box()), unit="yd")


def test_millimetres_taken_as_metres_are_noticed_and_the_reverse():
    mm = as_bytes(box(1200.0, 800.0, 500.0))
    message = refusal(mm)
    assert "longest side would be 1,200 m" in message
    assert 'looks like millimetres read as metres: if so, write unit "mm"' in message
    assert read_mesh(mm, "stl", "mm").volume_m3() == pytest.approx(0.48, rel=1e-5)
    assert 'metres read as millimetres: if so, write unit "m"' in refusal(
        as_bytes(box(1.2, 0.8, 0.5)), unit="mm"
    )
    assert "with one of these units it would be plausible: cm, mm." in refusal(
        as_bytes(box(2500, 800, 500)), unit="in"
    )
    assert "whatever the unit: check the file's scale" in refusal(as_bytes(box(1e7, 1e7, 1e7)))


def test_an_open_mesh_is_refused_with_its_open_edges():
    shape = box()
    shape.update_faces(np.arange(len(shape.faces)) != 3)
    assert "the mesh is open: 3 edges belong to one triangle only, around x" in refusal(as_bytes(shape))


def test_an_inverted_mesh_is_refused_and_read_when_turned():
    shape = box()
    shape.invert()
    assert "inside out" in refusal(as_bytes(shape))
    assert "turned=True" in refusal(as_bytes(shape))
    assert read_mesh(as_bytes(shape), "stl", "m", turned=True).volume_m3() == pytest.approx(1.0)


def test_one_turned_triangle_is_refused():
    shape = box()
    faces = shape.faces.copy()
    faces[4] = faces[4, ::-1]
    turned = trimesh.Trimesh(shape.vertices, faces, process=False)
    assert "turned against their neighbours along 3 edges" in refusal(as_bytes(turned))


def test_a_piece_turned_inside_out_beside_the_others_is_named():
    odd = box(0.5, 0.5, 0.5).apply_translation((5.0, 0.0, 0.0))
    odd.invert()
    assert "piece 2 of 2 (at x 4.75" in refusal(as_bytes(trimesh.util.concatenate([box(), odd])))


def test_a_piece_inside_another_would_count_twice_and_dust_is_refused():
    nested = trimesh.util.concatenate([box(2.0, 2.0, 2.0), box(1.0, 1.0, 1.0)])
    assert "lies inside another and would be counted twice" in refusal(as_bytes(nested))
    dust = trimesh.util.concatenate(
        [box(0.01, 0.01, 0.01).apply_translation((0.02 * i, 0, 0)) for i in range(201)]
    )
    assert "201 separate pieces" in refusal(as_bytes(dust))


@pytest.mark.parametrize(
    ("data", "filetype", "named"),
    [
        (b"", "stl", "the file is empty"),
        (b"hello, this is a letter", "stl", "no triangles found"),
        (b"xx", "glb", "not a readable glb file"),
        (b"OFF\n3 1", "off", "not a readable off file"),
        (b"ply\nformat ascii 1.0\nelement vertex 999999999999\n", "ply", "not a readable ply file"),
        (b"# nothing in it\n", "obj", "no triangles found"),
        (b"v 0 0 0\nv 1 0 0\nv 0 1 0\n", "obj", "no triangles found"),
        (
            b"v 0 0 0\nv 1 0 0\nv 0 nan 0\nf 1 2 3\n",
            "obj",
            "1 vertices have coordinates that are not numbers",
        ),
        (b"v 1 1 1\nv 1 1 1\nv 1 1 1\nf 1 2 3\n", "obj", "all its points lie in one place"),
        (b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n", "obj", "at least four triangles"),
        (b"%PDF-1.7", "pdf", "save the mesh as one of stl, ply, obj, glb, off"),
    ],
)
def test_a_file_that_is_no_mesh_gets_a_sentence(data, filetype, named):
    assert named in refusal(data, filetype)


def test_files_and_meshes_beyond_the_limits_are_refused_before_they_are_worked_on(monkeypatch):
    monkeypatch.setattr(reader, "LARGEST_BYTES", 500)
    assert "more than the" in refusal(as_bytes(box()))
    monkeypatch.setattr(reader, "LARGEST_BYTES", 200_000_000)
    monkeypatch.setattr(reader, "LARGEST_TRIANGLES", 10)
    assert "12 triangles are more than 10" in refusal(as_bytes(box()))
