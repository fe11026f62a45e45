"""Drawings kept and laid on the marks; the site tied to a map grid; positions only by a named release."""

from __future__ import annotations

import io
import json
import math
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import pytest
import shapely
from PIL import Image, ImageDraw
from pyproj import Transformer

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.seabed.exports import site_export
from oakum.desk.seabed.geo import WorldError, enter_frame, frame_of, map_grid, release, released, releases
from oakum.desk.seabed.plan_items import plan_items
from oakum.desk.seabed.registering import (
    change_drawing,
    drawing_of,
    drawings_of,
    keep_drawing,
    strike_drawing,
)
from oakum.desk.seabed.survey import survey_of
from oakum.desk.seabed.warping import laid_picture
from oakum.ground.errors import OakumError
from oakum.record import Logbook, RecordError
from oakum.record.files.pictures import NotAPicture
from oakum.report.site_files.geojson import site_geojson

ON = date(2026, 6, 14)
UTM = 32629
PER_M, TURN = 90.0, math.radians(20.0)
SEEN = ("P1", "P2", "P3", "P5")


@pytest.fixture
def book(survey_into: Any, tmp_path: Path) -> Iterator[Logbook]:
    with Logbook.create(tmp_path, "Tolmarren", author="director", prefix="T") as logbook:
        survey_into(logbook)
        yield logbook


def at(place: tuple[float, float]) -> tuple[float, float]:
    """Where a place of the site is seen in the picture."""
    x, y = place[0] - 2.0, place[1] - 3.0
    return (
        150 + PER_M * (x * math.cos(TURN) + y * math.sin(TURN)),
        900 - PER_M * (-x * math.sin(TURN) + y * math.cos(TURN)),
    )


def sheet(logbook: Logbook, *, mirrored: bool = False) -> tuple[bytes, str]:
    """Draw a picture of the marks as they lie, a red dot on P3, and write its control marks."""
    places = {m.name: (m.x_m, m.y_m) for m in survey_of(logbook).solution.marks}
    image = Image.new("RGB", (1300, 1000), "white")
    lines = []
    for name in SEEN:
        u, v = at(places[name])
        colour = "red" if name == "P3" else "black"
        ImageDraw.Draw(image).ellipse((u - 9, v - 9, u + 9, v + 9), fill=colour)
        lines.append(f"{name} {1300 - u if mirrored else u:.2f}, {v:.2f}")
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue(), "\n".join(lines)


def typed(control: str, **more: str) -> dict[str, str]:
    return {"name": "Frame 3", "control": control, "fit": "similarity", **more}


def test_a_drawing_is_kept_laid_and_seen_where_the_marks_are(book: Logbook) -> None:
    content, control = sheet(book)
    entry = keep_drawing(book, content, typed(control, square="B2"), author="recorder")
    one = drawing_of(book, entry.subject)
    assert one.registration is not None and one.registration.rms_m == pytest.approx(0, abs=1e-4)
    assert one.size == (1300, 1000) and one.square == "B2"
    png = Image.open(io.BytesIO(laid_picture(book, one)))
    west, south, east, north = one.box
    pixels = np.asarray(png.convert("RGB")).astype(int)
    red = np.argwhere((pixels[..., 0] > 200) & (pixels[..., 1] < 80) & (pixels[..., 2] < 80))
    row, column = red.mean(axis=0) + 0.5
    x = west + column / png.width * (east - west)
    y = north - row / png.height * (north - south)
    mark = survey_of(book).solution.mark("P3")
    assert (x, y) == pytest.approx((mark.x_m, mark.y_m), abs=0.02)
    items = plan_items(book, survey_of(book))
    assert [p.name for p in items.pictures] == ["Frame 3"] and len(items.drawings[0].points) == 4
    assert book.check().ok and book.check_files().whole


def test_a_drawing_moves_with_its_marks_and_says_when_one_is_gone(book: Logbook) -> None:
    content, control = sheet(book)
    subject = keep_drawing(book, content, typed(control), author="recorder").subject
    survey = survey_of(book)
    other = survey.solution.without_suspects
    assert other is not None
    (before,), (after,) = drawings_of(book, survey.solution), drawings_of(book, other)
    assert before.registration is not None and after.registration is not None
    assert not np.allclose(before.registration.matrix, after.registration.matrix)
    for reading in survey.entries.values():
        if "P5" in reading.marks:
            gone = {"reason": "label lost"}
            book.append("struck", reading.subject, gone, author="director", over=[reading.entry.id])
    one = drawing_of(book, subject)
    assert one.registration is None and "P5: no such mark" in one.why_not
    assert plan_items(book, survey_of(book)).pictures == ()


def test_a_change_needs_a_reason_and_a_drawing_can_be_taken_off(book: Logbook) -> None:
    content, control = sheet(book)
    subject = keep_drawing(book, content, typed(control), author="recorder").subject
    with pytest.raises(FieldErrors) as asked:
        change_drawing(book, subject, typed(control, fit="affine"), author="recorder", reason="")
    assert "reason" in asked.value.wrong
    change_drawing(book, subject, typed(control, fit="affine"), author="recorder", reason="wet paper")
    assert drawing_of(book, subject).fit == "affine"
    with pytest.raises(OakumError, match="lies like this already"):
        change_drawing(book, subject, typed(control, fit="affine"), author="recorder", reason="again")
    strike_drawing(book, subject, "wrong sheet", author="recorder")
    assert drawings_of(book, survey_of(book).solution) == ()


@pytest.mark.parametrize(
    ("control", "words"),
    [
        ("P1 10", "Line 1"),
        ("P1 ten 20", "write the mark, then u and v"),
        ("P1 10 20\nNOWHERE 30 40", "NOWHERE: no such mark"),
        ("P1 10 20", "needs 2 marks"),
        ("P1 10 20\nP1 30 40", "named twice"),
        ("P1 100 200\nP2 99999 40", "far outside the picture"),
    ],
)
def test_control_marks_that_cannot_be_used_are_refused_and_nothing_is_kept(
    book: Logbook, control: str, words: str
) -> None:
    content, _ = sheet(book)
    count = book.count()
    with pytest.raises(FieldErrors) as said:
        keep_drawing(book, content, typed(control), author="recorder")
    assert words in said.value.wrong["control"]
    assert book.count() == count and not any(path.is_file() for path in book.files_folder.rglob("*"))


def test_a_mirrored_sheet_and_a_file_that_is_no_picture_are_refused(book: Logbook) -> None:
    content, control = sheet(book, mirrored=True)
    with pytest.raises(FieldErrors, match="mirror image of this drawing"):
        keep_drawing(book, content, typed(control), author="recorder")
    with pytest.raises(NotAPicture):
        keep_drawing(book, b"no picture", typed(sheet(book)[1]), author="recorder")


# The world. Coordinates lie in open sea west of 9 degrees west; nothing is there.

ORIGIN = (-11.9, 49.6)


def map_control(logbook: Logbook, epsg: int = UTM, names: tuple[str, ...] = ("A", "C", "E")) -> str:
    """Give marks the map coordinates they would have with site north 30 degrees east of grid north."""
    to_map = Transformer.from_crs(4326, epsg, always_xy=True)
    e0, n0 = to_map.transform(*ORIGIN)
    k, turn = map_grid(epsg).factors(*ORIGIN)[0], math.radians(-30.0)
    found = []
    for name in names:
        mark = survey_of(logbook).solution.mark(name)
        e = e0 + k * (mark.x_m * math.cos(turn) - mark.y_m * math.sin(turn))
        n = n0 + k * (mark.x_m * math.sin(turn) + mark.y_m * math.cos(turn))
        found.append(f"{name} {e:.4f} {n:.4f}")
    return "\n".join(found)


def test_the_tie_gives_scale_turn_and_true_north(book: Logbook) -> None:
    enter_frame(book, {"epsg": "EPSG:32629", "control": map_control(book), "fit": "held"}, author="director")
    frame = frame_of(book)
    assert frame is not None and frame.fit.rms_m == pytest.approx(0, abs=1e-3)
    assert frame.fit.turn_deg == pytest.approx(30.0, abs=0.01)
    lon, lat = frame.lon_lat(0.0, 0.0)
    assert (lon, lat) == pytest.approx(ORIGIN, abs=1e-7)
    # closed forms of the transverse Mercator: k near 0.9996 (1 + x2 / 2R2), convergence near dlon sin(lat)
    assert frame.convergence_deg == pytest.approx((ORIGIN[0] + 9) * math.sin(math.radians(ORIGIN[1])), abs=2e-3)
    x = (ORIGIN[0] + 9) * math.pi / 180 * 6_378_137 * math.cos(math.radians(ORIGIN[1]))
    assert frame.k == pytest.approx(0.9996 * (1 + x**2 / (2 * 6_380_000**2)), abs=3e-6)
    assert frame.site_north_true_deg == pytest.approx(30.0 + frame.convergence_deg, abs=0.01)


@pytest.mark.parametrize(
    ("epsg", "field", "words"),
    [
        ("29", "epsg", "no code that is known"),
        ("utm", "epsg", "as a number"),
        ("4326", "epsg", "no projected grid"),
        ("2263", "epsg", "in metres"),
        ("32633", "control", "far from the site"),
        ("27700", "control", "far from the site"),
    ],
)
def test_a_grid_that_is_none_or_far_from_the_site_is_refused(
    book: Logbook, epsg: str, field: str, words: str
) -> None:
    control = map_control(book)
    if epsg == "32633":  # the same place in coordinates of a zone 24 degrees away
        control = map_control_far(book)
    with pytest.raises(FieldErrors) as said:
        enter_frame(book, {"epsg": epsg, "control": control}, author="director")
    assert words in said.value.wrong[field]
    assert frame_of(book) is None


def map_control_far(logbook: Logbook) -> str:
    east, north = Transformer.from_crs(4326, 32633, always_xy=True).transform(*ORIGIN)
    places = {n: survey_of(logbook).solution.mark(n) for n in ("A", "C", "E")}
    return "\n".join(f"{n} {east + m.x_m:.3f} {north + m.y_m:.3f}" for n, m in places.items())


def test_swapped_east_and_north_are_refused(book: Logbook) -> None:
    swapped = "\n".join(" ".join((n, b, a)) for n, a, b in (line.split() for line in map_control(book).splitlines()))
    with pytest.raises(FieldErrors, match="swapped"):
        enter_frame(book, {"epsg": str(UTM), "control": swapped}, author="director")


def test_positions_leave_only_by_a_release_of_a_named_person_and_gdal_reads_them(
    book: Logbook, tmp_path: Path
) -> None:
    asked = {"to": "county archive", "because": "their register asks for it", "until": "2026-06-30"}
    with pytest.raises(FieldErrors, match="not tied"):
        release(book, asked, ["datums"], author="director")
    enter_frame(book, {"epsg": str(UTM), "control": map_control(book), "vertical": "bench mark"}, author="director")
    with pytest.raises(FieldErrors) as said:
        release(book, {"until": "soon"}, [], author="director")
    assert set(said.value.wrong) == {"to", "because", "what", "until"}
    with pytest.raises(RecordError, match="named person"):
        release(book, asked, ["datums"], author="director")
    person = book.add_person("Director", "directs the excavation").id
    entry = release(book, asked, ["datums"], author=person)
    one, frame = released(book, entry.id, ON)
    file = tmp_path / "positions.geojson"
    file.write_bytes(site_geojson(site_export(book, on=ON), frame, one))
    meta, _, geometry, fields = pyogrio.raw.read(file)
    assert meta["crs"] == "EPSG:4326" and meta["geometry_type"] == "Point"
    names = list(fields[list(meta["fields"]).index("name")])
    assert sorted(names) == list("ABCDEF")
    points = dict(zip(names, shapely.from_wkb(geometry), strict=True))
    to_map = Transformer.from_crs(4326, UTM, always_xy=True)
    for name, point in points.items():
        mark = survey_of(book).solution.mark(name)
        wanted = frame.fit.to_grid(mark.x_m, mark.y_m)
        assert to_map.transform(point.x, point.y) == pytest.approx(wanted, abs=0.002)
    held = json.loads(file.read_bytes())
    assert "crs" not in held and held["about"]["released to"] == "county archive"
    assert all(len(f["geometry"]["coordinates"]) == 2 for f in held["features"])
    with pytest.raises(WorldError, match="ended on 2026-06-30"):
        released(book, entry.id, date(2026, 7, 1))
    book.append("struck", "site", {"reason": "withdrawn"}, author=person, over=[entry.id])
    assert releases(book) == ()
    with pytest.raises(WorldError, match="no such release"):
        released(book, entry.id, ON)
