"""The rig from all sides: drawn where there is WebGL, and no hole in the page where there is none."""

from __future__ import annotations

import io
import os
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image, ImageChops
from playwright.sync_api import Browser, Page, expect

from oakum.desk.lifts.plan import plan_find
from oakum.draw.scene import rig_scene
from oakum.draw.scene_json import scene_dict

TOUCH_PX = 12 / 25.4 * 96
SOFTWARE = ("--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist")
SMALL = {"width": 720, "height": 700}  # drawn in software: every pixel costs
WITHOUT = ("--disable-gpu", "--disable-3d-apis")
READING_BACK = "GPU stall due to ReadPixels"  # what taking a picture of a canvas costs
Open = Callable[..., Page]


@pytest.fixture(scope="module")
def capstan(site: Any) -> str:
    return str(site.find("T-0001"))


def _opener(browser: Browser, site: Any, flags: tuple[str, ...]) -> Iterator[Open]:
    """Open pages in a browser with these flags; no error and no other host may have been seen at the end."""
    root = ["--no-sandbox"] if hasattr(os, "getuid") and os.getuid() == 0 else []
    path, kept = os.environ["OAKUM_BROWSER"], ("--disable-quic", "--disable-background-networking", "--no-first-run")
    own = browser.browser_type.launch(executable_path=path, args=[*kept, *flags, *root])
    seen: list[str] = []
    asked: list[str] = []

    def open_page(path: str, **options: Any) -> Page:
        context = own.new_context(base_url=site.base, **{"reduced_motion": "reduce", "viewport": SMALL, **options})
        context.add_cookies(site.cookies)
        page = context.new_page()
        page.set_default_timeout(30_000)
        page.on("console", lambda m: seen.append(m.text) if m.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: seen.append(str(error)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path)
        return page

    yield open_page
    own.close()
    assert [text for text in seen if READING_BACK not in text] == []
    assert asked and all(url.startswith((site.base, "data:", "blob:")) for url in asked)


@pytest.fixture
def with_webgl(browser: Browser, site: Any) -> Iterator[Open]:
    yield from _opener(browser, site, SOFTWARE)


@pytest.fixture
def without_webgl(browser: Browser, site: Any) -> Iterator[Open]:
    yield from _opener(browser, site, WITHOUT)


def drawn(page: Page) -> int:
    """Wait for the view and return how often it has drawn."""
    stage = page.locator("[data-scene-stage][data-drawn]")
    expect(stage).to_be_visible()
    return int(stage.get_attribute("data-drawn") or 0)


def wait_drawn(page: Page, more_than: int) -> None:
    page.wait_for_function("n => Number(document.querySelector('[data-drawn]').dataset.drawn) > n", arg=more_than)


def picture(page: Page) -> Image.Image:
    return Image.open(io.BytesIO(page.locator(".scene .sight").screenshot())).convert("RGB")


def differs(one: Image.Image, other: Image.Image) -> bool:
    """Whether two pictures show something else, beyond how a browser smooths an edge at another scroll."""
    mask = ImageChops.difference(one, other).convert("L").point(lambda v: 255 if v > 40 else 0)
    return mask.histogram()[255] > 150


def press(page: Page, name: str) -> None:
    before = drawn(page)
    page.locator(".scene").get_by_role("button", name=name, exact=True).click()
    wait_drawn(page, before)


def test_the_view_draws_body_legs_and_water_and_says_the_numbers_of_the_plan(
    with_webgl: Open, site: Any, capstan: str
) -> None:
    answer = plan_find(site.house.logbook, capstan, on=date.today())
    scene = scene_dict(rig_scene(answer.plan, answer.weighed.weighing.emergence))
    page = with_webgl(f"/lifts/{capstan}/plan")
    drawn(page)
    half_in = next(level for level in scene["levels"] if level["name"] == "half in")
    reads = page.locator("[data-scene-reads]")
    expect(reads).to_have_text(f"{half_in['words']} {scene['states'][0]['words']}")
    labels = page.locator("[data-scene-labels] span").all_inner_texts()
    assert {leg["label"] for leg in scene["states"][0]["legs"]} <= set(labels)
    assert {"hook", "U", "water line, half in", scene["bar"]} <= set(labels)
    colours = picture(page).quantize(64).convert("RGB").getcolors(100_000) or []
    assert len(colours) > 20
    canvas = page.locator(".scene canvas")
    assert canvas.get_attribute("role") == "img" and "water line" in (canvas.get_attribute("aria-label") or "")
    table = page.locator(".scene table tbody tr")
    assert [row.split("\t")[0].strip() for row in table.all_inner_texts()] == ["submerged", "half in", "just clear"]


def test_buttons_and_keys_turn_tilt_move_and_raise_the_water(with_webgl: Open, capstan: str) -> None:
    page = with_webgl(f"/lifts/{capstan}/plan")
    drawn(page)
    was = picture(page)
    for name in ("Front", "Side", "Top", "Corner", "Turn left", "Tilt up", "Nearer", "Names"):
        press(page, name)
        now = picture(page)
        assert differs(now, was), name
        was = now
    stage = page.locator("[data-scene-stage]")
    press(page, "Just clear")
    expect(stage).to_have_attribute("data-state", "in air")
    expect(page.get_by_role("button", name="Just clear")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("button", name="Half in")).to_have_attribute("aria-pressed", "false")
    press(page, "Water up")
    expect(stage).to_have_attribute("data-state", "under water")
    level = stage.get_attribute("data-level")
    for key, then in (("PageUp", False), ("PageDown", True), ("ArrowLeft", True), ("+", True), ("t", True)):
        before, was = drawn(page), picture(page)
        page.locator(".scene canvas").press(key)
        wait_drawn(page, before)
        assert differs(picture(page), was), key
        assert (stage.get_attribute("data-level") == level) is then, key


def test_a_drag_turns_it_and_the_wheel_is_left_to_the_page_until_it_has_the_focus(
    with_webgl: Open, capstan: str
) -> None:
    page = with_webgl(f"/lifts/{capstan}/plan")
    drawn(page)
    canvas = page.locator(".scene canvas")
    canvas.scroll_into_view_if_needed()
    box = canvas.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    still, before = picture(page), drawn(page)
    top = page.evaluate("scrollY")
    page.mouse.move(x, y)
    page.mouse.wheel(0, 40)
    page.wait_for_function("top => scrollY !== top", arg=top)
    assert drawn(page) == before and not differs(picture(page), still)
    canvas.scroll_into_view_if_needed()
    box = canvas.bounding_box()
    assert box is not None
    x, y, before = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2, drawn(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 60, y + 20, steps=3)
    page.mouse.up()
    wait_drawn(page, before)
    turned, before, top = picture(page), drawn(page), page.evaluate("scrollY")
    assert differs(turned, still)
    page.mouse.wheel(0, -120)
    wait_drawn(page, before)
    assert differs(picture(page), turned) and page.evaluate("scrollY") == top


def test_a_turned_control_brings_the_new_numbers_into_the_same_view(with_webgl: Open, capstan: str) -> None:
    page = with_webgl(f"/lifts/{capstan}/plan")
    drawn(page)
    press(page, "Just clear")
    page.evaluate("document.querySelector('.scene canvas').dataset.same = 'yes'")
    before, labels = drawn(page), page.locator("[data-scene-labels] .of-leg").all_inner_texts()
    with page.expect_response(lambda r: "scene.json" in r.url) as asked:
        page.locator("#knob-hook").fill("3.10")
    answer = asked.value.json()
    assert "hook=3.1" in asked.value.url and answer["pieces"] is None
    wait_drawn(page, before)
    new = [leg["label"] for leg in answer["states"][1]["legs"]]
    expect(page.locator("[data-scene-labels] .of-leg").first).to_have_text(new[0])
    assert sorted(page.locator("[data-scene-labels] .of-leg").all_inner_texts()) == sorted(new) != sorted(labels)
    canvas = page.locator(".scene canvas")
    expect(canvas).to_have_count(1)
    expect(canvas).to_have_attribute("data-same", "yes")
    expect(page.locator("[data-scene-stage]")).to_have_attribute("data-level", "just clear")
    with page.expect_response(lambda r: "scene.json" in r.url) as asked:  # waves turned further down the page
        page.evaluate(
            """() => {
              document.querySelector("[data-scene-sea]")?.remove();
              document.body.insertAdjacentHTML("beforeend", "<span hidden data-scene-sea='tz=6&hs=0.45'></span>");
              document.dispatchEvent(new CustomEvent("htmx:after:swap"));
            }"""
        )
    assert asked.value.url.endswith("&hs=0.45&have=" + answer["mark"]) and "hook=3.1" in asked.value.url


def test_nothing_moves_by_itself_and_where_less_motion_is_asked_for_a_turn_is_one_step(
    with_webgl: Open, capstan: str
) -> None:
    page = with_webgl(f"/lifts/{capstan}/plan")
    drawn(page)
    page.wait_for_timeout(300)
    before = drawn(page)
    page.wait_for_timeout(400)
    assert drawn(page) == before
    press(page, "Side")
    page.wait_for_timeout(400)
    assert drawn(page) == before + 1
    page.emulate_media(reduced_motion="no-preference")
    press(page, "Top")
    wait_drawn(page, before + 2)  # it glides
    page.wait_for_timeout(800)
    after = drawn(page)
    page.wait_for_timeout(400)
    assert drawn(page) == after


def test_on_a_telephone_it_fits_its_targets_are_12_mm_and_axe_finds_nothing_in_light_and_dark(
    with_webgl: Open, capstan: str
) -> None:
    page = with_webgl(f"/lifts/{capstan}/plan", viewport={"width": 360, "height": 740})
    drawn(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    sizes = page.evaluate(
        "[...document.querySelectorAll('.scene button')].map(b => b.getBoundingClientRect())"
        ".map(r => Math.min(r.width, r.height))"
    )
    assert len(sizes) == 16 and min(sizes) >= TOUCH_PX
    light = picture(page)
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        result = Axe().run(page, context=".scene", options={"resultTypes": ["violations"]})
        assert result.violations_count == 0, result.generate_report()
    dark = picture(page)
    assert light.getpixel((4, 4)) == (255, 253, 248) and dark.getpixel((4, 4)) == (27, 27, 25)


def test_a_lost_view_leaves_a_sentence_and_the_elevations(with_webgl: Open, capstan: str) -> None:
    page = with_webgl(f"/lifts/{capstan}/plan")
    drawn(page)
    page.evaluate(
        "document.querySelector('.scene canvas').getContext('webgl2').getExtension('WEBGL_lose_context').loseContext()"
    )
    expect(page.locator("[data-scene-without]")).to_have_text(
        "The browser has stopped drawing in three dimensions. The elevations show the same rig."
    )
    expect(page.locator("[data-scene-stage]")).to_be_hidden()
    expect(page.locator("#try figure svg").first).to_be_visible()


@pytest.mark.parametrize("scripted", [True, False])
def test_without_webgl_or_script_the_elevations_stand_alone_and_nothing_is_fetched(
    without_webgl: Open, capstan: str, scripted: bool
) -> None:
    page = without_webgl("/", java_script_enabled=scripted)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"/lifts/{capstan}/plan", wait_until="networkidle")
    assert not [url for url in asked if "view3d" in url or "scene.json" in url or "scene.css" in url]
    expect(page.locator("#try figure svg").first).to_be_visible()
    fold = page.locator("details.scene")
    assert fold.get_attribute("open") is None
    box = fold.bounding_box()
    assert box is not None and box["height"] < 60  # one line, no hole
    sentence = page.locator("[data-scene-without]")
    expect(sentence).to_be_hidden()
    fold.locator("summary").click()
    expect(sentence).to_be_visible()
    expect(page.locator("[data-scene-stage]")).to_be_hidden()
    expect(fold.locator("tbody tr")).to_have_count(3)


def test_the_numbers_are_one_address_with_the_controls_and_the_pieces_only_once(client: Any, capstan: str) -> None:
    address = f"/lifts/{capstan}/plan/scene.json"
    kept = client.get(address).json()
    higher = client.get(address, params={"hook": "4.5", "have": kept["mark"]}).json()
    assert kept["pieces"] and higher["pieces"] is None and higher["mark"] == kept["mark"]
    assert higher["states"][0]["hook_m"][2] > kept["states"][0]["hook_m"][2]
    fewer = client.get(address, params={"bags": "1"}).json()
    assert [len(s["bags"]) for s in fewer["states"]] == [1, 0]
    refused = client.get(address, params={"bags": "99"}).json()
    assert refused["states"] == kept["states"]


def test_a_find_without_a_body_or_rig_answers_with_a_sentence(client: Any, site: Any) -> None:
    for number, words in (("T-0006", "has no body yet"), ("T-0003", "has no body yet")):
        answer = client.get(f"/lifts/{site.find(number)}/plan/scene.json")
        assert answer.status_code == 404 and words in answer.text
