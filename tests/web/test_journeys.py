"""Whole pieces of work in a real browser, as a person at the table does them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect


def press_until(page: Any, selector: str, key: str = "Tab", most: int = 80) -> None:
    """Press a key until the focus stands on an element."""
    for _ in range(most):
        if page.evaluate("s => document.activeElement?.matches(s)", selector):
            return
        page.keyboard.press(key)
    raise AssertionError(f"the keyboard does not reach {selector}")


def test_a_find_is_entered_opened_and_corrected_by_keyboard_alone(opened: Callable[..., Any]) -> None:
    page = opened("/finds")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the page"
    press_until(page, "a[href='/finds/new']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/finds/new")
    for selector, words in (("#title", "deadeye"), ("#material", "elm"), ("#length", "21 cm")):
        press_until(page, selector)
        page.keyboard.type(words)
    press_until(page, "#author")
    page.keyboard.type("recorder")
    page.keyboard.press("Enter") if page.locator("#author:open").count() else None
    press_until(page, "button.main")
    page.keyboard.press("Enter")
    page.get_by_role("status").wait_for()
    assert page.locator("h1").inner_text() == "deadeye"
    press_until(page, "a[href$='/change/material']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/change/material")
    press_until(page, "#value")
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("ash")
    press_until(page, "#reason")
    page.keyboard.type("ring-porous under the lens")
    press_until(page, "button.main")
    page.keyboard.press("Enter")
    page.get_by_role("status").wait_for()
    known = page.locator(".facts > div", has_text="Material")
    assert "ash" in known.inner_text()
    history = page.locator("#history ~ .body").inner_text()
    assert "elm" in history and "Reason: ring-porous under the lens" in history


def test_the_slider_asks_the_server_and_the_load_and_the_water_follow(site: Any, opened: Callable[..., Any]) -> None:
    page = opened(f"/lifts/{site.find('T-0001')}")
    value, slider, exact = page.locator("#level-value"), page.locator("#level-slide"), page.locator("#level-exact")
    there = value.inner_text()
    with page.expect_response("**/level?*"):
        slider.fill("-2")
    expect(value).not_to_have_text(there)
    below = value.inner_text()
    assert exact.input_value() == "-2" and "2.00 m below the water" in page.locator("#level").inner_text()
    with page.expect_response("**/level?*"):
        page.get_by_role("button", name="Raise by 0.1 m").click()
    expect(page.locator("#level")).to_contain_text("1.90 m below")
    assert exact.input_value() == slider.input_value() == "-1.9"
    with page.expect_response("**/level?*"):
        exact.fill("0")
    expect(value).to_have_text(there)
    assert below != there


def test_the_search_answers_while_typing_and_more_finds_follow(opened: Callable[..., Any]) -> None:
    page = opened("/finds")
    rows = page.locator("a.row")
    assert rows.count() == 50
    with page.expect_response("**/finds?*after=*"):
        page.get_by_role("link", name="Show more finds").click()
    expect(rows).not_to_have_count(50)
    assert rows.count() > 60
    with page.expect_response("**/finds?q=*"):
        page.get_by_label("Search").press_sequentially("TOL/26/004", delay=5)
    expect(rows).to_have_count(1)
    assert "small gun" in rows.inner_text()


def test_a_wrong_entry_comes_back_with_everything_as_typed(opened: Callable[..., Any]) -> None:
    page = opened("/finds/new")
    page.get_by_label("What it is").fill("  jar, stoneware ")
    page.get_by_label("Length").fill("2 ton")
    page.get_by_label("Description").fill("Line one\nline <two> & \"three\"")
    page.get_by_role("button", name="Enter the find").click()
    page.get_by_role("alert").wait_for()
    assert page.evaluate("document.activeElement.classList.contains('errors')")
    assert page.get_by_label("What it is").input_value() == "  jar, stoneware "
    assert page.get_by_label("Length").input_value() == "2 ton"
    assert page.get_by_label("Description").input_value() == "Line one\nline <two> & \"three\""
    assert page.locator("#length-wrong").count() == 0
    assert "Choose who writes" in page.locator("#author-wrong").inner_text()
    page.get_by_label("Written by").select_option("recorder")
    page.get_by_role("button", name="Enter the find").click()
    page.get_by_role("alert").wait_for()
    assert page.get_by_label("Length").get_attribute("aria-invalid") == "true"
    assert page.locator("#length-wrong").inner_text().strip()


def test_a_body_is_begun_changed_by_its_part_form_and_kept(site: Any, opened: Callable[..., Any]) -> None:
    find = site.find("T-0003")
    page = opened(f"/lifts/{find}/body")
    page.get_by_role("link", name="Stack of lead ingots").click()
    assert "Not kept yet" in page.locator(".lead").inner_text()
    before = page.locator(".big").inner_text()
    page.get_by_role("button", name="Change").first.click()
    page.locator("#part-form").wait_for()
    page.locator("#length").fill("9 furlongs")
    page.get_by_role("button", name="Put the part into the body").click()
    assert page.locator("#length").input_value() == "9 furlongs" and page.locator("#length-wrong").inner_text()
    page.locator("#length").fill("1.2 \u00b1 0.01 m")
    page.get_by_role("button", name="Put the part into the body").click()
    page.locator("#part-form").wait_for(state="detached")
    assert page.locator(".big").inner_text() != before and "1.2 \u00b1 0.01 m" in page.locator("#toml").input_value()
    page.get_by_label("Written by").select_option("recorder")
    page.get_by_role("button", name="Keep this body").click()
    page.get_by_role("status").wait_for()
    assert page.url.split("?")[0].endswith(f"/lifts/{find}")
    assert site.house.logbook.heads(find)["toml"][0].entry.author == "recorder"


def test_another_shape_asks_for_its_own_measures(site: Any, opened: Callable[..., Any]) -> None:
    page = opened(f"/lifts/{site.find('T-0004')}/body?start=empty")
    page.get_by_role("button", name="Add a part").click()
    page.locator("#name").fill("bag of nails")
    page.locator("#shape").select_option("barrel")
    page.locator("#bulge_diameter").wait_for()
    page.locator("#shape").select_option("lump")
    page.locator("#mass").wait_for()
    assert page.locator("#bulge_diameter").count() == 0 and page.locator("#name").input_value() == "bag of nails"
    page.get_by_role("button", name="Put the part into the body").click()
    page.get_by_role("alert").wait_for()
    assert Axe().run(page).violations_count == 0


def test_long_work_is_left_and_found_again(opened: Callable[..., Any]) -> None:
    page = opened("/logbook")
    page.get_by_role("button", name="Check the chain").click()
    page.wait_for_url("**/jobs/*")
    page.get_by_text("The chain is whole").wait_for()
    page.goto("/")
    page.get_by_role("link", name="Check the chain").first.click()
    assert "every hash and link as it was written" in page.locator("#job").inner_text()
