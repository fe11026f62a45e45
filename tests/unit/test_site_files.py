"""The files of a survey, each read back by a library that did not write it."""

from __future__ import annotations

import csv
import io
import math
import sqlite3
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import pytest
import shapely
from lxml import etree

from oakum.desk.seabed.exports import LOCAL, NothingToGiveError, SiteExport, site_export
from oakum.desk.seabed.survey import survey_of
from oakum.record import Logbook
from oakum.report.site_files import FILE_KINDS

ON = date(2026, 6, 14)
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def book(survey_into: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    with Logbook.create(tmp_path_factory.mktemp("files"), "Tolmarren", author="director", prefix="T") as logbook:
        find = logbook.append("find.entered", None, {"title": "cap\u017ftan \"oak\""}, author="recorder").subject
        survey_into(logbook, find=find)
        ring = (("a", "0", "0"), ("b", "5", "0"), ("c", "5", "5"), ("d", "0", "5"))
        corners = [{"name": n, "x": x, "y": y} for n, x, y in ring]
        logbook.append("dig.square", None, {"name": "1", "corners": corners}, author="director")
        yield logbook


@pytest.fixture(scope="module")
def export(book: Logbook) -> SiteExport:
    return site_export(book, on=ON)


@pytest.fixture(scope="module")
def truth(book: Logbook) -> dict[str, tuple[float, float, float]]:
    return {mark.name: mark.place for mark in survey_of(book).solution.marks}


def about(words: str) -> None:
    known = ("Tolmarren", "2026-06-14", LOCAL, "held at A", "least squares", "readings scatter", "95 %", "surveyor")
    for part in known:
        assert part in words, part


def test_the_tables_hold_every_mark_and_every_reading_as_written(
    export: SiteExport, truth: dict[str, Any], book: Logbook
) -> None:
    table = FILE_KINDS["marks"].write(export).decode("utf-8")
    said = FILE_KINDS["about"].write(export).decode("utf-8")
    rows = {row["mark"]: row for row in csv.DictReader(io.StringIO(table))}
    assert rows.keys() == truth.keys()
    for name, place in truth.items():
        assert [float(rows[name][k]) for k in ("x_m", "y_m", "z_m")] == pytest.approx(place, abs=6e-5)
    assert rows["P1"]["title"] == "cap\u017ftan \"oak\"" and rows["A"]["what"] == "datum"
    assert "second place" in rows["M"]["remark"] and rows["M"]["grid"] == "local"
    about(said)
    solution = survey_of(book).solution
    read = list(csv.DictReader(io.StringIO(FILE_KINDS["readings"].write(export).decode())))
    assert [r["as_written"] for r in read] == [r.text for r in solution.readings]
    assert [r["reading"] for r in read if r["doubt"]] == [s.id for s in solution.suspects]


def test_a_cell_cannot_become_a_formula(export: SiteExport) -> None:
    from dataclasses import replace

    evil = replace(export.marks[0], title="=1+1", remark="-see note", name="@x")
    text = FILE_KINDS["marks"].write(replace(export, marks=(evil,))).decode()
    row = next(csv.DictReader(io.StringIO(text)))
    assert (row["title"], row["remark"], row["mark"]) == ("'=1+1", "'-see note", "'@x")
    assert float(row["z_m"]) == pytest.approx(evil.place_m[2], abs=1e-4)


def test_the_svg_is_in_metres_with_north_up_and_says_what_it_is(export: SiteExport, truth: dict[str, Any]) -> None:
    root = etree.fromstring(FILE_KINDS["svg"].write(export))
    west, top, wide, high = map(float, root.get("viewBox").split())
    for x, y, _ in truth.values():
        assert west < x < west + wide and top < -y < top + high
    scale = int(root.find(f"{SVG}title").text.rpartition("1:")[2])
    assert float(root.get("width").removesuffix("mm")) == pytest.approx(1000 * wide / scale, abs=0.01)
    about(" ".join(root.find(f"{SVG}metadata").itertext()) + " ")
    groups = {g.get("id") for g in root.iter(f"{SVG}g")}
    wanted = {"grid", "tapes", "ellipses", "datums", "details", "finds", "squares", "second-places", "scale-bar"}
    assert wanted <= groups
    mark = next(g for g in root.iter(f"{SVG}g") if g.get("data-name") == "P3")
    dot = mark.findall(f"{SVG}circle")[-1]
    assert (float(dot.get("cx")), -float(dot.get("cy"))) == pytest.approx(truth["P3"][:2], abs=1e-4)
    ellipse = next(e for e in root.iter(f"{SVG}ellipse") if e[0].text.startswith("P3:"))
    wanted = next(m.ellipse for m in export.marks if m.name == "P3")
    assert float(ellipse.get("rx")) == pytest.approx(wanted.major_m, abs=1e-5)


def test_gdal_reads_the_dxf_with_layers_heights_names_and_ellipses(
    export: SiteExport, truth: dict[str, Any], tmp_path: Path
) -> None:
    file = tmp_path / "plan.dxf"
    file.write_bytes(FILE_KINDS["dxf"].write(export))
    meta, _, geometry, fields = pyogrio.raw.read(file, layer="entities")
    columns = dict(zip(meta["fields"], fields, strict=True))
    shapes = shapely.from_wkb(geometry)
    layers = columns["Layer"]
    points = [s for s, name in zip(shapes, layers, strict=True) if name in ("DATUMS", "DETAILS", "FINDS")]
    places = sorted((p.x, p.y, p.z) for p in points)
    assert np.ravel(places) == pytest.approx(np.ravel(sorted(truth.values())), abs=1e-9)
    texts = zip(shapes, columns["Text"], layers, strict=True)
    named = {text: (s.x - 0.12, s.y, s.z) for s, text, name in texts if name == "NAMES"}
    assert named["P3"] == pytest.approx(truth["P3"], abs=1e-9)
    tapes = [r for r in export.readings if r.kind == "tape"]
    lines = [s for s, name in zip(shapes, layers, strict=True) if name.startswith("TAPES")]
    assert len(lines) == len(tapes) and list(layers).count("TAPES_DOUBTED") == sum(bool(r.doubt) for r in tapes)
    assert lines[0].has_z
    rings = [s for s, name in zip(shapes, layers, strict=True) if name == "ELLIPSES"]
    by_place = {(round(r.centroid.x, 3), round(r.centroid.y, 3)): r for r in rings}
    shape = next(m for m in export.marks if m.name == "P3")
    ring = min(by_place.items(), key=lambda item: math.dist(item[0], shape.place_m[:2]))[1]
    far = [math.dist(c[:2], shape.place_m[:2]) for c in ring.coords]
    assert (max(far), min(far)) == pytest.approx((shape.ellipse.major_m, shape.ellipse.minor_m), rel=2e-3)
    corner = ring.coords[int(np.argmax(far))]
    bearing = math.degrees(math.atan2(corner[0] - shape.place_m[0], corner[1] - shape.place_m[1])) % 180
    assert abs((bearing - shape.ellipse.bearing_deg + 90) % 180 - 90) < 3
    said = " ".join(str(t) for t, name in zip(columns["Text"], layers, strict=True) if name == "ABOUT")
    assert "local grid" in said and "held at A" in said
    head = file.read_text("utf-8")
    assert "$INSUNITS\n 70\n6\n" in head


def test_sqlite_and_shapely_read_the_geopackage(export: SiteExport, truth: dict[str, Any], tmp_path: Path) -> None:
    file = tmp_path / "plan.gpkg"
    file.write_bytes(FILE_KINDS["gpkg"].write(export))
    with sqlite3.connect(file) as held:
        assert held.execute("PRAGMA application_id").fetchone() == (0x47504B47,)
        assert held.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert held.execute("PRAGMA foreign_key_check").fetchall() == []
        systems = dict(held.execute("SELECT srs_id, organization FROM gpkg_spatial_ref_sys"))
        assert systems == {-1: "NONE", 0: "NONE", 4326: "EPSG"}
        assert {row[0] for row in held.execute("SELECT srs_id FROM gpkg_geometry_columns")} == {-1}
        found = {}
        for name, blob in held.execute("SELECT name, geom FROM marks"):
            assert blob[:4] == b"GP\0\1" and int.from_bytes(blob[4:8], "little", signed=True) == -1
            shape = shapely.from_wkb(blob[8:])
            found[name] = (shape.x, shape.y, shape.z)
        assert found.keys() == truth.keys() and all(found[n] == pytest.approx(truth[n]) for n in found)
        counts = {"ellipses": None, "tapes": None, "areas": 1, "lines": 1, "second_places": len(export.twins)}
        for table, count in counts.items():
            rows = held.execute(f"SELECT geom FROM {table}").fetchall()
            assert rows and (count is None or len(rows) == count), table
            for (blob,) in rows:
                at = 8 if table == "second_places" else 40
                assert shapely.from_wkb(blob[at:]).is_valid
                if at == 40:
                    box = np.frombuffer(blob[8:40], "<f8")
                    x0, y0, x1, y1 = shapely.from_wkb(blob[40:]).bounds
                    assert box.tolist() == [x0, x1, y0, y1]
        wanted = next(m for m in export.marks if m.name == "P3").ellipse
        ring = shapely.from_wkb(held.execute("SELECT geom FROM ellipses WHERE name = 'P3'").fetchone()[0][40:])
        assert ring.area == pytest.approx(math.pi * wanted.major_m * wanted.minor_m, rel=2e-3)
        about(" ".join(row[0] for row in held.execute("SELECT words FROM about")))


def test_gdal_opens_the_geopackage_too(export: SiteExport, truth: dict[str, Any], tmp_path: Path) -> None:
    file = tmp_path / "plan.gpkg"
    file.write_bytes(FILE_KINDS["gpkg"].write(export))
    names = {str(row[0]) for row in pyogrio.list_layers(file)}
    assert {"marks", "ellipses", "tapes", "areas", "lines", "second_places", "about"} <= names
    meta, _, geometry, _ = pyogrio.raw.read(file, layer="marks")
    assert meta["geometry_type"] == "Point Z" or "Point" in meta["geometry_type"]
    places = sorted((p.x, p.y, p.z) for p in shapely.from_wkb(geometry))
    assert np.ravel(places) == pytest.approx(np.ravel(sorted(truth.values())))


def test_no_file_says_where_the_site_lies(export: SiteExport, book: Logbook) -> None:
    fixed = (("A", "412345.67", "6543210.98"), ("C", "412365.60", "6543210.90"))
    control = [{"mark": m, "e": e, "n": n} for m, e, n in fixed]
    book.append("site.crs", "site", {"epsg": 32629, "control": control}, author="director")
    again = site_export(book, on=ON)
    for kind in FILE_KINDS.values():
        data = kind.write(again)
        assert b"412345" not in data and b"6543210" not in data and b"32629" not in data, kind.key


def test_an_empty_survey_gives_nothing_and_says_so(tmp_path: Path) -> None:
    with Logbook.create(tmp_path, "Empty", author="director") as logbook, pytest.raises(NothingToGiveError) as said:
        site_export(logbook, on=ON)
    assert "enter readings first" in str(said.value)
