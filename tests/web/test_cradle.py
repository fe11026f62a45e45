"""The page of a cradle: begun from a text to edit, corrected by line and key, kept, drawn, read and printed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Any

import httpx
import pytest
from axe_playwright_python.sync_playwright import Axe

from oakum.lift import starting_bodies
from oakum.lift.cradle import starting_cradle
from oakum.record import Logbook
from oakum.web.app import create_app

Running = Callable[[Any], AbstractContextManager[str]]


@dataclass(frozen=True)
class Yard:
    """A served project with a capstan that has a body, and a plate that has none."""

    base: str
    capstan: str
    plate: str
    client: httpx.Client
    author: str

    def post(self, find: str, **fields: str) -> httpx.Response:
        return self.client.post(f"/lifts/{find}/cradle/edit", data={"author": self.author, **fields})


@pytest.fixture(scope="module")
def yard(running: Running, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Yard]:
    with Logbook.create(tmp_path_factory.mktemp("yard"), "Sound", station="hut", author="director", prefix="S") as book:
        author = book.add_person("Director", "directs").id
        capstan, plate = (
            book.append("find.entered", None, {"title": title}, author=author).subject for title in ("capstan", "plate")
        )
        book.append("body.described", capstan, {"toml": starting_bodies()["capstan"].toml}, author=author)
        folder = book.folder
    with running(create_app(folder, token="one-time")) as base:
        own = {"Sec-Fetch-Site": "same-origin"}
        with httpx.Client(base_url=base, headers=own, follow_redirects=True, timeout=60) as client:
            client.get("/enter?token=one-time")
            yield Yard(base, capstan, plate, client, author)


def test_a_find_without_a_cradle_offers_two_texts_to_edit(yard: Yard) -> None:
    page = yard.client.get(f"/lifts/{yard.plate}/cradle").text
    assert "cradle/edit?start=frame" in page and "cradle/edit?start=tray" in page
    text = yard.client.get(f"/lifts/{yard.plate}/cradle/edit?start=tray").text
    assert "Not kept yet" in text and "edit" in text and "no body yet" in text
    assert yard.client.get(f"/lifts/{yard.plate}/cradle/edit?start=boat").status_code == 404
    assert yard.client.get(f"/lifts/{yard.plate}/cradle/sheet.pdf").status_code == 404


def test_a_text_with_mistakes_is_kept_in_the_form_and_each_stands_with_its_line(yard: Yard) -> None:
    wrong = starting_cradle("frame").replace('"C24"', '"C25"', 1).replace('sag = "5 mm"', 'sagg = "5 mm"')
    answer = yard.post(yard.plate, toml=wrong, do="keep")
    assert answer.status_code == 422
    assert "line 14, grade of section" in answer.text and "did you mean" in answer.text
    assert "2 to put right" in answer.text and "sagg = &#34;5 mm&#34;" in answer.text
    tried = yard.post(yard.plate, toml=wrong, do="try")
    assert tried.status_code == 200 and "line 14, grade of section" in tried.text
    nobody = yard.client.post(f"/lifts/{yard.plate}/cradle/edit", data={"toml": starting_cradle("frame"), "do": "keep"})
    assert nobody.status_code == 422 and "Choose who writes" in nobody.text


def test_looking_at_a_text_enters_nothing(yard: Yard) -> None:
    tried = yard.post(yard.capstan, toml=starting_cradle("frame"), do="try").text
    assert "Bears this" in tried and "it tips" in tried and tried.count('class="drawing"') == 3
    assert "cradle/edit?start=frame" in yard.client.get(f"/lifts/{yard.plate}/cradle").text


def test_a_kept_cradle_is_shown_drawn_and_printed_and_changed_with_a_reason(
    yard: Yard, browser: Any
) -> None:
    shown = yard.post(yard.capstan, toml=starting_cradle("frame"), do="keep")
    assert shown.status_code == 200 and "The cradle is kept." in shown.text
    for words in ("Cutting list", "1,600", "Order of assembly", "B1 to B5", "Used most, of 1", "What touches the find"):
        assert words in shown.text, words
    pdf = yard.client.get(f"/lifts/{yard.capstan}/cradle/sheet.pdf")
    assert pdf.content.startswith(b"%PDF") and 'filename="cradle_' in pdf.headers["content-disposition"]
    again = yard.post(yard.capstan, toml=starting_cradle("frame"), do="keep")
    assert again.status_code == 422 and "holds already" in again.text
    other = starting_cradle("frame").replace('"5 mm"', '"4 mm"')
    unsaid = yard.post(yard.capstan, toml=other, do="keep")
    assert unsaid.status_code == 422 and "say why the old value no longer holds" in unsaid.text
    assert yard.post(yard.capstan, toml=other, do="keep", reason="said by the conservator").status_code == 200
    assert f"/lifts/{yard.capstan}/cradle" in yard.client.get(f"/lifts/{yard.capstan}").text
    _is_readable(yard, browser)


def _is_readable(yard: Yard, browser: Any) -> None:
    """Axe finds nothing in light and dark, nothing scrolls sideways, and every drawing offers its numbers."""
    host = yard.base.removeprefix("http://").partition(":")[0]
    cookies = [{"name": n, "value": v, "domain": host, "path": "/"} for n, v in yard.client.cookies.items()]
    context = browser.new_context(base_url=yard.base, viewport={"width": 380, "height": 800})
    context.add_cookies(cookies)
    page, axe = context.new_page(), Axe()
    paths = (f"/lifts/{yard.capstan}/cradle", f"/lifts/{yard.capstan}/cradle/edit", f"/lifts/{yard.plate}/cradle")
    for path in paths:
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth") <= 380, path
        figures = page.locator("figure:has(svg)")
        assert all(figures.nth(i).locator("table").count() == 1 for i in range(figures.count())), path
    assert page.goto(paths[0]) and page.locator("figure:has(svg)").count() == 5
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        result = axe.run(page, options={"resultTypes": ["violations"]})
        assert result.violations_count == 0, result.generate_report()
    page.set_viewport_size({"width": 1280, "height": 900})
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert page.evaluate("document.documentElement.scrollWidth") <= 1280
    context.close()
