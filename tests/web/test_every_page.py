"""What must hold on every page: readable by everyone, on a phone, in light and dark, offline, under the policy."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

PHONE = {"width": 380, "height": 800}
TOUCH_PX = 12 / 25.4 * 96  # 12 mm at the browser's 96 pixels to the inch

EVERY_PIECE = {
    "today", "capstan", "lift", "what if", "rig", "after", "blocked release", "hazards", "people", "piece",
    "gear list rows", "take over rows", "entry", "job",
}  # fmt: skip
"""Pages that together hold every kind of piece: dark and light differ in their palette only."""

SAME_PIECES = {"plan", "refused what if", "rig taken over"}
"""Pages whose every piece stands on another page of the list as well: axe takes seconds for a large drawing."""

SMALL_TARGETS = """() => [...document.querySelectorAll(
    'button:not(.unseen), select, summary, textarea, nav a, a.button, a.row, .act a, .links a, .adds a, '
    + 'input:not([type=hidden], [type=checkbox], [type=radio])')]
  .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < %f)
  .map(e => e.outerHTML.slice(0, 120))"""


@pytest.mark.parametrize("half", [0, 1])  # two halves, for two workers
def test_axe_finds_no_violation_on_any_page_in_light_or_dark(
    site: Any, opened: Callable[..., Any], half: int
) -> None:
    page, axe = opened(), Axe()
    found: dict[tuple[str, str], str] = {}
    for name, path in list(site.pages().items())[half::2]:
        if name in SAME_PIECES:
            continue
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        if name in EVERY_PIECE:
            page.emulate_media(color_scheme="dark")
            result = axe.run(page, options={"resultTypes": ["violations"], "runOnly": ["color-contrast"]})
            if result.violations_count:
                found[name, "dark"] = result.generate_report()
        page.emulate_media(color_scheme="light")
        result = axe.run(page, options={"resultTypes": ["violations"]})
        if result.violations_count:
            found[name, "light"] = result.generate_report()
    assert found == {}


def test_no_page_scrolls_sideways_at_380_px_and_every_target_is_12_mm(site: Any, opened: Callable[..., Any]) -> None:
    page, wide, small = opened(viewport=PHONE), {}, {}
    for name, path in site.pages().items():
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > PHONE["width"]:
            wide[name] = width
        if targets := page.evaluate(SMALL_TARGETS % (TOUCH_PX - 0.5)):
            small[name] = targets
    assert (wide, small) == ({}, {})


def test_every_page_has_one_heading_a_title_a_skip_link_and_says_who_governs(site: Any, client: Any) -> None:
    for name, path in site.pages().items():
        text = client.get(path).text
        assert text.count("<h1>") == 1 and text.count(" · Tolmarren · Oakum</title>") == 1, name
        assert '<a class="skip" href="#main">' in text and '<html lang="en">' in text, name
        assert "competent persons govern" in text.split("<footer")[1], name


@pytest.mark.parametrize(("path", "least"), [("", 5), ("/plan", 6), ("/after", 1)])
def test_every_drawing_offers_its_numbers(site: Any, opened: Callable[..., Any], path: str, least: int) -> None:
    page = opened(f"/lifts/{site.find('T-0001')}{path}")
    drawings = page.locator("figure:has(svg)")
    assert drawings.count() >= least
    for i in range(drawings.count()):
        figure = drawings.nth(i)
        assert figure.locator("svg > title").count() == 1 and figure.locator("svg > desc").count() == 1
        assert figure.locator("details table tbody tr").count() >= 1
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map(e => e.id)")
    assert len(ids) == len(set(ids))


def test_pages_work_without_a_script(site: Any, opened: Callable[..., Any]) -> None:
    page = opened("/finds", java_script_enabled=False)
    page.get_by_role("link", name="Show more finds").click()
    assert page.locator("a.row").count() >= 10
    page.get_by_label("Search").fill("drumhead")
    page.get_by_role("button", name="Search").click()
    assert page.locator("a.row").count() == 1
    page.goto(f"/lifts/{site.find('T-0001')}?level=-2")
    before = page.locator("#level-value").inner_text()
    page.get_by_role("button", name="Raise by 0.1 m").click()
    page.goto(f"/lifts/{site.find('T-0001')}?level=0.2")
    assert page.locator("#level-value").inner_text() != before


def test_fonts_scripts_and_styles_come_from_the_package_and_may_be_kept(client: Any) -> None:
    page = client.get("/").text
    for name in ("oakum.css", "oakum.js", "vendor/htmx-4.0.1.min.js", "oakum.svg"):
        address = page.split(f'"/static/{name}?v=')[1].split('"')[0]
        answer = client.get(f"/static/{name}?v={address}")
        assert answer.status_code == 200 and "immutable" in answer.headers["cache-control"]
    assert client.get("/static/fonts/vollkorn-regular.woff2").status_code == 200
