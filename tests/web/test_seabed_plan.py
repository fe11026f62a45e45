"""The plan of the site in a browser: moves by hand, by keys, by buttons and without a script."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from oakum.record import Logbook

TOUCH_PX = 12 / 25.4 * 96


def window(page: Page) -> tuple[float, float, float]:
    at = page.locator("#plan-sight")
    return tuple(float(at.get_attribute(f"data-plan-{k}") or "nan") for k in ("x", "y", "per"))  # type: ignore[return-value]


def drawn_anew(page: Page, act: Callable[[], Any]) -> None:
    """Do something, and wait until the server has drawn the window again."""
    with page.expect_response(lambda answer: "/seabed/plan?" in answer.url):
        act()
    page.wait_for_function("!document.querySelector('#plan-sight [id$=-world]').hasAttribute('transform')")


def settled(page: Page) -> None:
    page.wait_for_load_state("networkidle")


def test_the_page_tells_what_is_wrong_and_what_holds_the_plan(surveyed: Any) -> None:
    text = surveyed[2].get("/seabed").text
    assert "a reading is wrong" in text and "misread by 1 m" in text
    assert "fits a second place" in text and "M or here?" in text
    assert "held at A" in text and "/seabed/suspects" in text and "/seabed/next" in text
    for link in ("/seabed/readings", "/seabed/enter", "/seabed/import", "/seabed/release"):
        assert f'href="{link}"' in text
    assert "fits" in surveyed[2].get("/seabed?drawn=without").text.split("left out")[0]
    assert "Drawn without the readings in doubt" in surveyed[2].get("/seabed?drawn=without").text


def test_dragging_the_plan_moves_it_by_as_much_as_the_hand(plan: Callable[..., Page]) -> None:
    page = plan(viewport={"width": 1250, "height": 900})
    settled(page)
    page.locator("#plan-sight").scroll_into_view_if_needed()
    x, y, per = window(page)
    box = page.locator("#plan-sight svg").bounding_box()
    assert box is not None
    units = float(page.locator("#plan-sight svg").get_attribute("width")) / box["width"]
    page.mouse.move(box["x"] + 300, box["y"] + 120)
    page.mouse.down()
    page.mouse.move(box["x"] + 340, box["y"] + 100, steps=4)
    drawn_anew(page, page.mouse.up)
    nx, ny, nper = window(page)
    assert nx - x == pytest.approx(-40 * units / per, abs=0.02)
    assert ny - y == pytest.approx(-20 * units / per, abs=0.02) and nper == pytest.approx(per, rel=1e-3)


def test_the_wheel_goes_nearer_and_keeps_the_place_under_the_pointer(plan: Callable[..., Page]) -> None:
    page = plan(viewport={"width": 1250, "height": 900})
    settled(page)
    page.locator("#plan-sight").scroll_into_view_if_needed()
    box = page.locator("#plan-sight svg").bounding_box()
    assert box is not None
    x, y, per = window(page)
    bar = page.locator("#site-plan-furniture").inner_html()
    page.mouse.move(box["x"] + 200, box["y"] + 100)
    drawn_anew(page, lambda: page.mouse.wheel(0, -240))
    nx, ny, nper = window(page)
    assert nper > 1.5 * per

    def under(x: float, y: float, per: float) -> tuple[float, float]:
        return x + (200 - box["width"] / 2) / per, y - (100 - box["height"] / 2) / per

    assert under(nx, ny, nper) == pytest.approx(under(x, y, per), abs=0.05)
    assert page.locator("#site-plan-furniture").inner_html() != bar


def test_keys_and_buttons_move_the_plan_and_the_address_keeps_up(plan: Callable[..., Page]) -> None:
    page = plan(viewport={"width": 1250, "height": 900})
    settled(page)
    x, y, per = window(page)
    page.locator("[data-plan-stage]").focus()
    drawn_anew(page, lambda: page.keyboard.press("ArrowRight"))
    assert window(page)[0] > x
    drawn_anew(page, lambda: page.keyboard.press("+"))
    assert window(page)[2] == pytest.approx(1.5 * per, rel=1e-3)
    drawn_anew(page, lambda: page.get_by_role("button", name="Farther").click())
    assert window(page)[2] == pytest.approx(per, rel=1e-3)
    kept = window(page)
    page.reload()
    settled(page)
    assert window(page) == pytest.approx(kept, abs=0.01)
    drawn_anew(page, lambda: page.get_by_role("button", name="Whole site").click())
    assert window(page)[:2] == pytest.approx((x, y), abs=0.01)


def test_a_touched_mark_shows_its_find_its_ellipse_and_its_readings(plan: Callable[..., Page]) -> None:
    page = plan(viewport={"width": 1250, "height": 900})
    settled(page)
    page.locator("#plan-sight").scroll_into_view_if_needed()
    drawn_anew(page, lambda: page.locator('#plan-sight a[data-mark="P1"]').click(position={"x": 20, "y": 26}))
    beside = page.locator("#beside")
    expect(beside.get_by_role("link", name=re.compile("capstan"))).to_be_visible()
    assert "ellipse" in beside.inner_text() and "tape" in beside.inner_text()
    assert page.locator("#site-plan-chosen").count() == 1
    assert page.locator("#mark").input_value() == "P1"
    drawn_anew(page, lambda: page.get_by_label("Look at a mark").select_option("B"))
    assert "in doubt, 1 in order" in beside.inner_text()


def test_layers_can_be_left_out_and_stay_out(plan: Callable[..., Page]) -> None:
    page = plan(viewport={"width": 1250, "height": 900})
    settled(page)
    assert page.locator("#site-plan-tapes").count() == 1
    drawn_anew(page, lambda: page.get_by_label("Tapes").uncheck())
    assert page.locator("#site-plan-tapes").count() == 0 and page.locator("#site-plan-doubt").count() == 1
    page.reload()
    assert page.locator("#site-plan-tapes").count() == 0 and not page.get_by_label("Tapes").is_checked()


def test_without_a_script_buttons_links_and_choices_do_the_same(plan: Callable[..., Page]) -> None:
    page = plan(java_script_enabled=False)
    x, _, per = window(page)
    page.get_by_role("button", name="Nearer").click()
    assert window(page)[2] == pytest.approx(1.5 * per, rel=1e-3)
    page.get_by_role("button", name="East").click()
    assert window(page)[0] > x
    page.get_by_label("Width of the window").select_option("5")
    page.get_by_label("Names").uncheck()
    page.get_by_label("Look at a mark").select_option("P3")
    page.get_by_role("button", name="Show").click()
    at = page.locator("#plan-sight svg")
    assert float(at.get_attribute("width") or 0) / window(page)[2] == pytest.approx(5.0, rel=1e-3)
    assert page.locator("#site-plan-names").count() == 0
    assert page.locator("#beside h2").inner_text().startswith("P3")
    page.goto("/seabed")
    page.locator('#plan-sight a[data-mark="F"] circle').click()
    assert page.locator("#beside h2").inner_text().startswith("F")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_on_a_phone_or_a_desk(plan: Callable[..., Page], scheme: str) -> None:
    width = 380 if scheme == "dark" else 1250
    page = plan("/seabed?mark=M", viewport={"width": width, "height": 900}, color_scheme=scheme)
    settled(page)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    result = Axe().run(page, options={"resultTypes": ["violations"]})
    assert result.violations_count == 0, result.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        f"[...document.querySelectorAll('main button, main select, main summary, main label.tick, main .button')]"
        f".filter(e => e.checkVisibility() && e.getBoundingClientRect().height < {TOUCH_PX - 0.5}).length"
    )
    assert small == 0
    assert float(page.locator("#plan-sight svg").get_attribute("width") or 0) < width


def test_an_empty_project_says_what_to_do_first(client: Any) -> None:
    text = client.get("/seabed").text
    assert "What to do first" in text and 'href="/seabed/enter"' in text


def test_nonsense_in_the_address_is_no_error(surveyed: Any) -> None:
    client = surveyed[2]
    for query in ("x=nan&w=-3", "w=1e308", "px=9999999&py=0", "f=7", "layer=none&sent=1", "mark=%3Cb%3E", "go=away"):
        answer = client.get(f"/seabed?{query}")
        assert answer.status_code == 200 and "<b>" not in answer.text
    assert client.get("/seabed?mark=nowhere").text.count("nowhere has no place in this plan") == 1
    assert client.get("/seabed/plan?w=2").text.startswith("<div") or "plan-sight" in client.get("/seabed/plan?w=2").text


def test_the_logbook_of_the_tests_is_in_order(survey_into: Any, tmp_path: Path) -> None:
    with Logbook.create(tmp_path, "Tolmarren", author="director") as book:
        survey_into(book)
        assert book.check().ok
