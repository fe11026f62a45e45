"""Sea, vessel and cradle on a plan's page: shown with their numbers, turned in place and without a script, edited."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from html import unescape
from typing import Any

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.plan_kept import plan_as_kept
from oakum.desk.lifts.sea_run import MassRun, SeaRun
from oakum.desk.lifts.sea_run_kept import FOLDER, keep_run, kept_run
from oakum.lift.splash import (
    Hold,
    Line,
    Part,
    RandomSea,
    Run,
    SplashBody,
    SplashModel,
    TipStill,
    Water,
    ensemble,
    traced,
)
from oakum.web.pages import plan_seas

TOUCH_PX = 12 / 25.4 * 96


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


@pytest.fixture(scope="module")
def capstan(site: Any) -> str:
    return site.find("T-0001")


@pytest.fixture(scope="module")
def page_text(client: Any, capstan: str) -> str:
    return plain(client.get(f"/lifts/{capstan}/plan").text)


def part_of(html: str, name: str) -> str:
    found = re.search(rf'<section class="part" aria-labelledby="{name}">.*?</section>', html, re.DOTALL)
    assert found is not None
    return found.group()


def test_the_page_says_in_which_sea_an_objection_appears_and_which_fails_first(client: Any, capstan: str) -> None:
    sea = part_of(client.get(f"/lifts/{capstan}/plan").text, "sea")
    said = plain(sea)
    assert "where an objection appears, not leave to go" in said
    assert "begin in Hs at most, m" in said and "Hook load crossing the surface, Hs" in said
    assert re.search(r"At Tz [\d.]+ s[^.]*fails? first|nothing fails|no objection found", said)
    assert "Radius of the boom head" in said and "Wind abeam" in said
    assert sea.count("<svg") == 2 and sea.count("The numbers of this drawing") == 2
    assert "No diver in the water while the load goes through the surface" in said


def test_the_vessels_own_book_is_quoted_by_page_with_heel_freeboard_radius_and_chart(client: Any, capstan: str) -> None:
    vessel = part_of(client.get(f"/lifts/{capstan}/plan").text, "vessel")
    said = plain(vessel)
    assert "The vessel's own stability book governs: Stability information booklet, rev. C, page 14" in said
    for row in ("freeboard at the low corner", "radius with the heel", "chart allows there", "GM with the load"):
        assert row in said
    assert "Sudden loss of the load" in said and vessel.count("<svg") == 2


def test_the_cradle_is_shown_state_by_state_and_its_build_linked(client: Any, capstan: str) -> None:
    cradle = part_of(client.get(f"/lifts/{capstan}/plan").text, "cradle")
    said = plain(cradle)
    for state in ("in the water", "clear of the water", "on deck", "on the lorry"):
        assert state in said
    assert "thinner at depth" in said and f'href="/lifts/{capstan}/cradle"' in cradle


def test_a_plan_without_sea_and_cradle_says_so_and_leads_to_where_they_are_described(client: Any, site: Any) -> None:
    gun = site.find("T-0002")
    html = client.get(f"/lifts/{gun}/plan").text
    if "knob-hs" not in html:
        assert "The sea of this lift is not described" in plain(html)
        assert f'href="/lifts/{gun}/rig#sea"' in html
    assert "No cradle is described" in plain(html) or "Used most" in plain(html)


def test_another_sea_is_tried_and_nothing_entered(client: Any, site: Any, capstan: str) -> None:
    entries = len(site.house.logbook.entries())
    answer = client.get(f"/lifts/{capstan}/plan/sea/try?hs=1.2&tz=6&radius=4.5")
    said = plain(answer.text)
    assert "Hs 1.2 m instead of" in said and "radius 4.5 m instead of" in said
    assert "Nothing of this is in the logbook" in said
    assert '<div id="vessel-try" hx-swap-oob="innerHTML">' in answer.text
    assert "rig?" in answer.text and "hs=1.2" in answer.text
    assert len(site.house.logbook.entries()) == entries


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("hs=3&tz=3", "Not possible"),
        ("hs=high", "Hs must be above 0 m"),
        ("radius=-1", "radius must be above 0 m"),
    ],
)
def test_a_sea_that_cannot_be_is_refused_in_a_sentence(client: Any, capstan: str, query: str, said: str) -> None:
    answer = client.get(f"/lifts/{capstan}/plan/sea/try?{query}")
    assert answer.status_code == 200
    assert said in plain(answer.text) and "Shown is the sea in the logbook" in plain(answer.text)


def test_an_empty_field_leaves_what_stands(client: Any, capstan: str) -> None:
    said = plain(client.get(f"/lifts/{capstan}/plan/sea/try?hs=&tz=&depth=&radius=&heading=").text)
    assert "What if" not in said and "Not possible" not in said


def test_the_controls_of_the_sea_answer_in_place(opened: Callable[..., Any], client: Any, capstan: str) -> None:
    page = opened(f"/lifts/{capstan}/plan")
    height = page.locator("#knob-hs")
    before = float(height.input_value())
    with page.expect_response("**/plan/sea/try?*"):
        page.get_by_role("button", name="Significant height Hs, m: more").click()
    assert float(height.input_value()) == pytest.approx(before + 0.05)
    expect(page.locator("#sea-try .whatif")).to_contain_text(f"Hs {before + 0.05:g} m instead of {before:g} m")
    with page.expect_response("**/plan/sea/try?*"):
        page.locator("#knob-radius").fill("2.6")
    expect(page.locator("#sea-try .whatif")).to_contain_text("radius 2.6 m instead of")
    expect(page.locator("#vessel-try")).to_contain_text("2.60 m")
    assert page.locator("#sea-try #vessel-try").count() == 0  # the vessel went to its own place
    taken = page.locator("#sea-try").get_by_role("link", name="Take it over into the rig").get_attribute("href")
    rig = client.get(taken).text
    assert "radius = &#34;2.6 m&#34;" in rig and "Not kept yet" in rig


def test_the_controls_of_the_sea_work_without_a_script(opened: Callable[..., Any], capstan: str) -> None:
    page = opened(f"/lifts/{capstan}/plan", java_script_enabled=False)
    before = float(page.locator("#knob-tz").input_value())
    page.get_by_role("button", name="Mean period Tz, s: more").click()
    assert f"Tz {before + 0.5:g} s instead of {before:g} s" in page.locator("#sea-try .whatif").inner_text()
    assert float(page.locator("#knob-tz").input_value()) == before + 0.5


def test_sea_vessel_and_cradle_are_readable_by_everyone_and_targets_are_12_mm(
    opened: Callable[..., Any], capstan: str
) -> None:
    page = opened(f"/lifts/{capstan}/plan?hs=0.9", viewport={"width": 380, "height": 800})
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert page.evaluate("document.documentElement.scrollWidth") <= 380
    for name in ("sea", "vessel", "cradle"):
        part = f"section[aria-labelledby={name}]"
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            result = Axe().run(page, context=part, options={"resultTypes": ["violations"]})
            assert result.violations_count == 0, (name, scheme, result.generate_report())
        heights = page.locator(f"{part} :is(button, select, summary, a.button, input:not([type=hidden]))").evaluate_all(
            "all => all.filter(e => e.checkVisibility()).map(e => e.getBoundingClientRect().height)"
        )
        assert heights and min(heights) >= TOUCH_PX


def test_the_sea_of_a_rig_is_changed_in_short_fields(client: Any, capstan: str) -> None:
    here = f"/lifts/{capstan}/rig"
    toml = unescape(re.search(r'<textarea id="toml".*?>\n?(.*?)</textarea>', client.get(here).text, re.DOTALL).group(1))
    opened_form = client.post(here, data={"toml": toml, "do": "sea"}).text
    fields = dict(re.findall(r'<input id="(\w+)" name="\1" type="text" value="([^"]*)"', opened_form))
    sent = {k: unescape(fields[k]) for k in ("vessel", "heading", "hs", "tz", "depth", "radius", "wind", "hoist_speed")}
    wrong = client.post(here, data={"toml": toml, "do": "put:sea", **sent, "waters": "open", "hs": "knee high"})
    assert wrong.status_code == 422 and "knee high" in wrong.text and 'id="hs-wrong"' in wrong.text
    put = client.post(here, data={"toml": toml, "do": "put:sea", **sent, "waters": "open", "hs": "0.25 m", "wind": ""})
    text = unescape(re.search(r'<textarea id="toml".*?>\n?(.*?)</textarea>', put.text, re.DOTALL).group(1))
    assert put.status_code == 200
    assert 'hs = "0.25 m"' in text and 'wind = "not known"' in text
    new = [line for line in text.splitlines() if line not in toml.splitlines()]
    assert new == ['hs = "0.25 m"', 'wind = "not known"']


def test_a_rig_without_a_sea_gets_one(client: Any, capstan: str) -> None:
    here = f"/lifts/{capstan}/rig"
    bare = 'title = "Rig"\ncell_unit = "kg"\n'
    assert "Describe the sea" in client.post(here, data={"toml": bare, "do": "try"}).text
    put = client.post(here, data={"toml": bare, "do": "put:sea", "vessel": "Girl", "hs": "0.3 m", "waters": ""})
    text = unescape(re.search(r'<textarea id="toml".*?>\n?(.*?)</textarea>', put.text, re.DOTALL).group(1))
    assert text == bare + '\n[seaway]\nvessel = "Girl"\nhs = "0.3 m"\n'


def test_the_json_of_the_plan_has_the_same_limits(client: Any, capstan: str, page_text: str) -> None:
    plan = client.get(f"/lifts/{capstan}/plan/plan.json").json()
    points = plan["seaway"]["curve"]["points"]
    assert points
    for point in points:
        if point["skipper_m"] is not None and point["skipper_m"] >= 0.05 and not point["why_not"]:
            assert f"{point['skipper_m']:.2f}" in page_text


def _few_seas(answer: PlanAnswer, **_: Any) -> SeaRun:
    """Give what a handful of short seas did to a crate, as the long work would."""
    crate = SplashBody((Part("crate", 0.0, 1.0, 0.6, 1.5, 1.8, 1.2),), np.array([1400.0]), np.ones(1), 2.0)
    run = Run(SplashModel.of(crate, Line(4e5), Water(1025.0)), RandomSea(0.4, 4.0), TipStill(), Hold(-0.5, 5.0))
    held = ensemble(run, 6, np.random.SeedSequence(1))
    mass = MassRun(
        "by the greater mass", (("held 5 s", held),), "half the step changes 0.1 %", ("the line goes slack",),
        ("deep water",), ("no diver",), traced(run, 1, np.random.SeedSequence(2)), "one sea more",
    )  # fmt: skip
    return SeaRun(
        answer.find.id, "T-0001", answer.plan.fingerprint, datetime(2026, 5, 20, tzinfo=UTC), 0.4, 4.0, None, 6, 5.0,
        1, 1.0, "0", 2000.0, "kg", (mass,),
    )  # fmt: skip


class _NoPool:
    """Stands where processes would be begun."""

    def __enter__(self) -> _NoPool:
        return self

    def __exit__(self, *_: object) -> None:
        pass


def test_many_seas_are_run_through_as_work_that_can_be_left_and_found_again(
    client: Any, capstan: str, monkeypatch: pytest.MonkeyPatch, opened: Callable[..., Any]
) -> None:
    here = f"/lifts/{capstan}/plan/seas"
    assert "Not run through for this plan yet" in plain(client.get(here).text)
    monkeypatch.setattr(plan_seas, "run_seas", _few_seas)
    monkeypatch.setattr(plan_seas, "process_pool", _NoPool)
    begun = client.post(here, data={"members": "20", "seed": "1"})
    assert "/jobs/" in str(begun.url)
    for _ in range(200):
        card = client.get(f"{begun.url}/card").text
        if "progress" not in card:
            break
        time.sleep(0.05)
    assert "Objection: the line goes slack." in plain(card) and here in card
    page = opened(here, viewport={"width": 380, "height": 800})
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    said = page.locator("main").inner_text()
    assert "6 seas an operation of Hs 0.4 m, Tz 4 s, deep water" in said and "by the greater mass" in said
    assert "odds between" in said and "lowest point, m" in said.lower()
    assert page.evaluate("document.documentElement.scrollWidth") <= 380
    result = Axe().run(page, options={"resultTypes": ["violations"]})
    assert result.violations_count == 0, result.generate_report()


def test_a_result_for_another_sea_says_that_the_plan_has_changed_since(
    client: Any, site: Any, capstan: str
) -> None:
    answer = plan_as_kept(site.house.logbook, capstan, on=date.today())
    keep_run(site.house.logbook.folder, replace(_few_seas(answer), mark="0" * 64))
    fitting = "The plan has changed since" not in plain(client.get(f"/lifts/{capstan}/plan/seas").text)
    kept = kept_run(site.house.logbook.folder, answer)
    assert kept is not None and kept.fits(answer) is fitting
    for place in (site.house.logbook.folder / FOLDER).glob("seas-*.json"):
        place.unlink()
    keep_run(site.house.logbook.folder, replace(_few_seas(answer), mark="0" * 64))
    assert "The plan has changed since" in plain(client.get(f"/lifts/{capstan}/plan/seas").text)


def test_a_plan_without_a_sea_has_none_to_run_through(client: Any, site: Any) -> None:
    gun = site.find("T-0002")
    if "knob-hs" not in client.get(f"/lifts/{gun}/plan").text:
        said = plain(client.get(f"/lifts/{gun}/plan/seas").text)
        assert "describe the sea of the lift first" in said and "Run through" not in said
