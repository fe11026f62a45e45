"""Drawings laid on the plan, the site in the world, and the files and sheets of the survey, from the pages."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect
from pyproj import Transformer

from oakum.desk.seabed.survey import survey_of
from oakum.record import Logbook

PER_M = 80.0


def sheet(book: Logbook, *names: str) -> tuple[bytes, str]:
    """Draw marks as they lie, 80 units a metre, and say where each is seen."""
    places = {mark.name: mark for mark in survey_of(book).solution.marks}
    image = Image.new("RGB", (1400, 900), "#eeeeee")
    lines = []
    for name in names:
        u, v = 100 + PER_M * (places[name].x_m - 2), 800 - PER_M * (places[name].y_m - 2)
        ImageDraw.Draw(image).ellipse((u - 6, v - 6, u + 6, v + 6), fill="black")
        lines.append(f"{name} {u:.1f} {v:.1f}")
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue(), "\n".join(lines)


@pytest.fixture
def book(surveyed: Any) -> Logbook:
    return surveyed[3].logbook


def test_a_drawing_is_brought_looked_at_laid_and_seen_under_the_plan(
    plan: Callable[..., Page], book: Logbook, tmp_path: Path
) -> None:
    content, control = sheet(book, "P1", "P2", "P3", "P5")
    (tmp_path / "frame 3.png").write_bytes(content)
    count = book.count()
    page = plan("/seabed/drawings", viewport={"width": 1250, "height": 900})
    page.locator("input[name=file]").set_input_files(tmp_path / "frame 3.png")
    page.get_by_role("button", name="Look at it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("frame 3")
    list_ = page.locator("textarea[name=control]")
    list_.fill(control.replace("P3 ", "P3 0"))  # a slip of the pen: 0 before the number is no harm, a letter is
    list_.fill(control.replace("P3 ", "P3 x"))
    page.get_by_role("button", name="Look at the fit").click()
    assert "Line 3" in page.locator(".lead").inner_text()
    page.locator("textarea[name=control]").fill(control)
    page.get_by_role("button", name="Look at the fit").click()
    assert "Laid on 4 marks, rms 0 mm" in page.locator(".lead").inner_text()
    assert book.count() == count
    page.get_by_role("combobox", name="Written by").select_option("recorder")
    page.get_by_role("button", name="Lay it on the plan").click()
    expect(page.locator(".said")).to_contain_text("Laid on the plan")
    page.get_by_role("link", name="See it on the plan").click()
    page.wait_for_load_state("networkidle")
    picture = page.locator("#site-plan-drawings image")
    expect(picture).to_have_count(1)
    address = picture.get_attribute("href") or ""
    seen = page.request.get(address)
    assert seen.ok and seen.body().startswith(b"\x89PNG")
    assert float(picture.get_attribute("width") or 0) / float(
        page.locator("#plan-sight").get_attribute("data-plan-per") or 1
    ) == pytest.approx(1400 / PER_M, rel=2e-3)


def test_a_touch_on_the_picture_writes_its_place(plan: Callable[..., Page], book: Logbook, tmp_path: Path) -> None:
    (tmp_path / "f.png").write_bytes(sheet(book, "P1")[0])
    page = plan("/seabed/drawings", viewport={"width": 1250, "height": 900})
    page.locator("input[name=file]").set_input_files(tmp_path / "f.png")
    page.get_by_role("button", name="Look at it").click()
    page.locator("textarea[name=control]").fill("P1")
    picture = page.locator("figure.control svg")
    picture.scroll_into_view_if_needed()
    page.evaluate("scrollTo(0, 0)")
    box = picture.bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 4)
    name, u, v = page.locator("textarea[name=control]").input_value().split()
    assert name == "P1" and int(u) == pytest.approx(700, abs=4) and int(v) == pytest.approx(225, abs=4)


def test_a_file_that_is_no_picture_and_a_mirrored_sheet_are_refused(surveyed: Any, book: Logbook) -> None:
    client = surveyed[2]
    own = {"Sec-Fetch-Site": "same-origin"}
    answer = client.post("/seabed/drawings", files={"file": ("a.png", b"nothing")}, headers=own)
    assert answer.status_code == 422 and "no picture" in answer.text
    content, control = sheet(book, "P1", "P2", "P3", "P5")
    brought = client.post("/seabed/drawings", files={"file": ("a.png", content)}, headers=own)
    here = brought.headers["location"]
    turned = "\n".join(f"{n} {1400 - float(u)} {v}" for n, u, v in (line.split() for line in control.splitlines()))
    form = {"name": "a", "control": turned, "fit": "similarity", "author": "recorder", "do": "keep"}
    count = book.count()
    answer = client.post(here, data=form, headers=own)
    assert answer.status_code == 422 and "mirror image" in answer.text and book.count() == count
    assert client.get("/seabed/drawings/new/gone").status_code == 404
    assert client.get("/seabed/drawings/nothing").status_code == 404


def test_files_and_sheets_are_given_in_the_local_grid(surveyed: Any) -> None:
    client = surveyed[2]
    for key, head in (("marks", b"mark,"), ("readings", b"reading,"), ("svg", b"<?xml"), ("gpkg", b"SQLite format 3")):
        answer = client.get(f"/seabed/files/{key}")
        assert answer.status_code == 200 and answer.content.startswith(head), key
        assert 'filename="Tolmarren_' in answer.headers["content-disposition"]
    assert b"SECTION" in client.get("/seabed/files/dxf").content[:40]
    assert client.get("/seabed/files/kml").status_code == 404
    for path in ("plan-A4.pdf", "plan-A3.pdf?scale=100", "plan-A4.pdf?x=5&y=5&w=10&scale=50"):
        assert client.get(f"/seabed/sheet/{path}").content[:5] == b"%PDF-"
    refused = client.get("/seabed/sheet/plan-A4.pdf?scale=37")
    assert refused.status_code == 404 and "no scale of a sheet" in refused.text
    assert "none is set out yet" in client.get("/seabed/sheet/square.pdf?name=B2").text


def test_positions_are_given_only_by_a_named_person_who_says_why(
    plan: Callable[..., Page], surveyed: Any, book: Logbook
) -> None:
    director = book.add_person("Director", "directs the excavation").id
    page = plan("/seabed/release", viewport={"width": 1250, "height": 900})
    assert page.get_by_text("Release positions").count() == 0
    e, n = Transformer.from_crs(4326, 32629, always_xy=True).transform(-11.9, 49.6)
    places = {mark.name: mark for mark in survey_of(book).solution.marks}
    control = "\n".join(f"{m} {e + places[m].x_m:.3f} {n + places[m].y_m:.3f}" for m in ("A", "C", "E"))
    page.locator("input[name=epsg]").fill("27700")
    page.locator("textarea[name=control]").fill(control)
    page.get_by_role("combobox", name="Written by").select_option("recorder")
    page.get_by_role("button", name="Tie it").click()
    expect(page.locator(".errors")).to_contain_text("27700")
    page.locator("input[name=epsg]").fill("32629")
    page.get_by_role("button", name="Tie it").click()
    expect(page.locator(".said")).to_contain_text("tied to the map grid")
    said = page.locator("main").inner_text()
    assert "UTM zone 29N" in said and "50\u00b0 N, 12\u00b0 W" in said
    assert page.locator('a[href*="geojson"]').count() == 0
    page.get_by_text("Release positions", exact=True).click()
    page.get_by_label("To whom").fill("county archive")
    page.get_by_label("datums").check()
    page.get_by_label("Released by").select_option(director)
    page.get_by_role("button", name="Release them").click()
    expect(page.locator(".errors")).to_contain_text("Say why")
    assert page.get_by_label("To whom").input_value() == "county archive" and page.get_by_label("datums").is_checked()
    page.locator("textarea[name=because]").fill("their register asks for it")
    page.get_by_role("button", name="Release them").click()
    link = page.get_by_role("link", name=re.compile("Fetch the positions"))
    given = page.request.get(link.get_attribute("href") or "").json()
    assert {f["properties"]["what"] for f in given["features"]} == {"datum"} and len(given["features"]) == 6
    assert given["features"][0]["geometry"]["coordinates"] == pytest.approx([-11.9, 49.6], abs=1e-3)
    for key in ("marks", "svg", "dxf", "gpkg"):
        data = surveyed[2].get(f"/seabed/files/{key}").content
        assert b"-11.9000" not in data and f"{e:.0f}".encode() not in data and f"{n:.0f}".encode() not in data
    assert surveyed[2].get("/seabed/release/nothing/positions.geojson").status_code == 404


@pytest.mark.parametrize("path", ["/seabed/drawings", "/seabed/release"])
def test_axe_finds_nothing_and_nothing_scrolls_sideways(plan: Callable[..., Page], path: str) -> None:
    page = plan(path, viewport={"width": 380, "height": 800})
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    result = Axe().run(page, options={"resultTypes": ["violations"]})
    assert result.violations_count == 0, result.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= 380
    for one in page.locator("a.row").all()[:1]:
        one.click()
        page.wait_for_load_state("networkidle")
        result = Axe().run(page, options={"resultTypes": ["violations"]})
        assert result.violations_count == 0, result.generate_report()
        assert page.evaluate("document.documentElement.scrollWidth") <= 380
