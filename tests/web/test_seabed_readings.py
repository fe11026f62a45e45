"""Readings in the pages: four fields and Enter, doubts beside the field, sheets brought, suspects, tomorrow's tapes."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx
import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from oakum.desk.seabed.bringing import accept, bring_page, bring_sheet
from oakum.desk.seabed.rejecting import reject
from oakum.desk.seabed.survey import survey_of
from oakum.desk.seabed.typed import Slate
from oakum.record import Logbook
from oakum.web.app import create_app

CLUB = Path(__file__).resolve().parents[2] / "docs/examples/club-tapes.csv"
PHONE = {"width": 380, "height": 800}
SAME_PIECES = {"enter depth", "enter offset", "enter fix", "a search", "rejected reading", "page rows", "refused next"}
"""Pages whose every piece stands on another page of the list as well."""

EXPECTED = "Failed to load resource: the server responded with a status of 4"
SMALL = """() => [...document.querySelectorAll('button, select, summary, textarea, a.button, a.row, .links a,'
    + 'input:not([type=hidden], [type=checkbox], [type=radio])')]
  .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 44.8).map(e => e.outerHTML.slice(0, 120))"""


@dataclass(frozen=True)
class Seabed:
    """A served project with a survey, a browser page that was let in, and the same without a browser."""

    base: str
    logbook: Logbook
    app: Any
    client: httpx.Client
    person: str

    def pages(self) -> dict[str, str]:
        """Every page about readings, each by a name."""
        entries = list(survey_of(self.logbook).entries.values())
        trays = self.app.state.house.survey_trays
        data = CLUB.read_bytes()
        sheet = trays.put("club.csv", data, bring_sheet(self.logbook, data, "club.csv", Slate()))
        page = trays.put("page", b"", bring_page(self.logbook, "A B 3\nA B nothing\na P1 4", Slate()))
        choice = trays.put("club.xlsx", b"", None, ("June", "July"))
        rejected = next(one for one in entries if one.rejected)
        return {
            "enter": "/seabed/enter",
            **{f"enter {what}": f"/seabed/enter?what={what}" for what in ("depth", "offset", "fix")},
            "readings": "/seabed/readings",
            "a search": "/seabed/readings?what=depth&q=P1",
            "reading": f"/seabed/readings/{entries[0].subject}",
            "rejected reading": f"/seabed/readings/{rejected.subject}",
            "import": "/seabed/import",
            "import rows": f"/seabed/import/{sheet.key}",
            "page rows": f"/seabed/import/{page.key}",
            "import sheets": f"/seabed/import/{choice.key}",
            "suspects": "/seabed/suspects",
            "next": "/seabed/next?mark=P1",
            "refused next": "/seabed/next?count=many&longest=-3",
            "marks": "/seabed/marks",
        }


@pytest.fixture(scope="module")
def seabed(
    running: Any, tmp_path_factory: pytest.TempPathFactory, survey_into: Callable[..., None]
) -> Iterator[Seabed]:
    with Logbook.create(tmp_path_factory.mktemp("seabed"), "Tolmarren") as logbook:
        person = logbook.add_person("Director", "directs the excavation").id
        survey_into(logbook)
        accept(logbook, bring_page(logbook, "a P1 7.9", Slate()), author="recorder", sure=True)
        last = list(survey_of(logbook).entries)[-1]
        reject(logbook, last, "a name nobody knows", author=person)
        app = create_app(logbook.folder, token="one-time")
        own = {"Sec-Fetch-Site": "same-origin"}
        with running(app) as base, httpx.Client(base_url=base, headers=own, timeout=60) as client:
            client.get("/enter?token=one-time")
            yield Seabed(base, logbook, app, client, person)


@pytest.fixture
def opened(browser: Browser, seabed: Seabed) -> Iterator[Callable[..., Page]]:
    seen: list[str] = []
    contexts = []

    def open_page(path: str, **options: Any) -> Page:
        context = browser.new_context(base_url=seabed.base, **options)
        contexts.append(context)
        host = seabed.base.removeprefix("http://").partition(":")[0]
        for name, value in seabed.client.cookies.items():
            context.add_cookies([{"name": name, "value": value, "domain": host, "path": "/"}])
        page = context.new_page()
        page.set_default_timeout(30_000)
        page.on("console", lambda m: seen.append(m.text) if m.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: seen.append(str(error)))
        page.goto(path)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert [text for text in seen if not text.startswith(EXPECTED)] == []


def count(seabed: Seabed) -> int:
    return len(survey_of(seabed.logbook).entries)


def test_axe_finds_no_violation_and_every_page_fits_a_phone(seabed: Seabed, opened: Callable[..., Page]) -> None:
    page, axe = opened("/seabed/readings", viewport=PHONE), Axe()
    wrong: dict[str, Any] = {}
    for name, path in seabed.pages().items():
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        if name not in SAME_PIECES:
            found = axe.run(page, options={"resultTypes": ["violations"]})
            if found.violations_count:
                wrong[name] = found.generate_report()
        if (width := page.evaluate("document.documentElement.scrollWidth")) > PHONE["width"]:
            wrong[name, "wide"] = width
        if small := page.evaluate(SMALL):
            wrong[name, "small"] = small
        if name in ("suspects", "import rows"):
            page.emulate_media(color_scheme="dark")
            dark = axe.run(page, options={"resultTypes": ["violations"], "runOnly": ["color-contrast"]})
            if dark.violations_count:
                wrong[name, "dark"] = dark.generate_report()
            page.emulate_media(color_scheme="light")
        ids = page.evaluate("[...document.querySelectorAll('[id]')].map(e => e.id)")
        if len(ids) != len(set(ids)):
            wrong[name, "ids"] = sorted(one for one in set(ids) if ids.count(one) > 1)
    assert wrong == {}


def test_readings_are_typed_by_keyboard_alone_and_enter_goes_on_to_the_next(
    seabed: Seabed, opened: Callable[..., Page]
) -> None:
    page = opened("/seabed/enter")
    before = count(seabed)
    page.get_by_label("Written by").select_option("recorder")
    page.get_by_label("Dive").fill("12")
    page.focus("#from")
    for text in ("A", "B", "10.06"):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.type("T9")
    page.keyboard.press("Enter")
    page.locator("[role=status]", has_text="Entered A to B, 10.060 m.").wait_for(state="attached")
    assert page.evaluate("document.activeElement.id") == "from"
    assert [page.input_value(f"#{key}") for key in ("from", "to", "value", "with")] == ["", "", "", "T9"]
    page.keyboard.type("A")
    page.keyboard.press("Tab")
    page.keyboard.type("C")
    page.keyboard.press("Tab")
    page.keyboard.type("20.01")
    page.keyboard.press("Enter")
    page.locator("[role=status]", has_text="Entered A to C").wait_for(state="attached")
    assert count(seabed) == before + 2
    kept = list(survey_of(seabed.logbook).entries.values())[-2]
    assert (kept.text, kept.word("instrument"), kept.word("dive"), kept.seen and kept.seen["by"]) == (
        "10.06 m", "T9", "12", "diver"
    )  # fmt: skip


def test_a_doubtful_value_is_asked_beside_its_field_and_entered_only_when_meant(
    seabed: Seabed, opened: Callable[..., Page]
) -> None:
    page = opened("/seabed/enter")
    before = count(seabed)
    page.get_by_label("Written by").select_option("recorder")
    page.fill("#from", "A")
    page.fill("#to", "P1")
    page.fill("#value", "17.9")
    page.press("#value", "Tab")
    page.locator("#asked .asked", has_text="A–P1 is 17.90 m, but").wait_for()  # at once, before anything is sent
    assert count(seabed) == before
    page.press("#value", "Enter")
    page.locator("#value-asked .asked", has_text="A–P1 is 17.90 m, but it was read as").wait_for()
    assert count(seabed) == before
    assert page.evaluate("document.activeElement.id") == "value" and page.input_value("#value") == "17.9"
    page.fill("#value", "17.8")
    page.press("#value", "Enter")  # another value is asked about anew
    page.locator("#value-asked .asked", has_text="A–P1 is 17.80 m").wait_for()
    assert count(seabed) == before
    page.press("#value", "Enter")
    page.locator("[role=status]", has_text="Entered A to P1, 17.800 m.").wait_for(state="attached")
    kept = list(survey_of(seabed.logbook).entries.values())[-1]
    assert count(seabed) == before + 1 and kept.word("doubt").startswith("A–P1 is 17.80 m, but")
    page.fill("#from", "A")
    page.fill("#to", "A")
    page.fill("#value", "3")
    page.press("#value", "Enter")
    page.locator("#to-asked .wrong", has_text="A twice").wait_for()
    assert count(seabed) == before + 1
    reject(seabed.logbook, kept.id, "a test of the eye", author=seabed.person)


def test_readings_are_entered_without_a_script(seabed: Seabed, opened: Callable[..., Page]) -> None:
    page = opened("/seabed/enter?what=depth", java_script_enabled=False)
    page.get_by_label("Written by").select_option("recorder")
    page.fill("#mark", "P1")
    page.fill("#value", "33.0")
    page.fill("#time", "10:42")
    page.get_by_role("button", name="Enter", exact=True).click()
    assert page.locator("#value-asked .asked").count() == 1
    page.fill("#value", "14.0")
    page.get_by_role("button", name="Enter it as read").click()
    assert page.url.endswith("/seabed/enter?what=depth")
    kept = list(survey_of(seabed.logbook).entries.values())[-1]
    assert (kept.what, kept.marks, kept.seen and kept.seen["at"][10:]) == ("depth", ("P1",), "T10:42")


def test_the_pairs_of_a_printed_sheet_are_filled_in_one_after_the_other(
    seabed: Seabed, opened: Callable[..., Page]
) -> None:
    page = opened("/seabed/enter?pairs=B to D; C to F")
    page.get_by_label("Written by").select_option("recorder")
    assert page.input_value("#from") == "B" and page.evaluate("document.activeElement.id") == "value"
    page.keyboard.type("17.03")
    page.keyboard.press("Enter")
    page.locator("[role=status]", has_text="Entered B to D").wait_for(state="attached")
    assert (page.input_value("#from"), page.input_value("#to")) == ("C", "F")
    assert page.evaluate("document.activeElement.id") == "value"


def test_a_page_of_lines_is_shown_and_only_accepted_lines_enter(seabed: Seabed, opened: Callable[..., Page]) -> None:
    page = opened("/seabed/enter")
    before = count(seabed)
    page.fill("#lines", "A P3 14.1\n13,9 p2-c\nhello\nB P5 12.1")
    page.get_by_role("button", name="Read the lines").click()
    page.get_by_text("p2 is not a mark yet, but P2 is").wait_for()
    assert page.get_by_text("No number was found").count() == 1 and count(seabed) == before
    page.get_by_label("one mark, called P2", exact=True).check()
    page.get_by_role("button", name="Read it again so").click()
    page.get_by_text("p2 is P2").wait_for()
    page.get_by_label("Only the ones ticked below").check()
    page.get_by_role("checkbox").first.check()
    page.get_by_label("Written by").select_option("recorder")
    page.get_by_role("button", name="Enter these readings").click()
    page.get_by_text("The accepted readings have been entered.").wait_for()
    assert count(seabed) == before + 1


def test_the_clubs_sheet_is_previewed_and_entered_when_accepted(seabed: Seabed, opened: Callable[..., Page]) -> None:
    page = opened("/seabed/import")
    page.get_by_role("button", name="Read it").click()
    page.locator(".errors a", has_text="Choose the file of the readings").wait_for()
    page.set_input_files("#sheet", CLUB)
    page.get_by_role("button", name="Read it").click()
    page.get_by_text("Nothing has been entered yet").wait_for()
    assert page.get_by_text("A2 twice").count() == 1 and page.get_by_text("Distance (ft)").count() == 1
    page.get_by_role("button", name="Enter these readings").click()
    page.locator(".errors", has_text="Say which readings to enter").wait_for()


def test_a_suspect_is_rejected_by_a_named_person_and_stays_struck_through(
    seabed: Seabed, opened: Callable[..., Page]
) -> None:
    page = opened("/seabed/suspects")
    first = survey_of(seabed.logbook).solution.suspects[0]
    assert set(survey_of(seabed.logbook).entries[first.id].marks) == {"B", "E"}
    page.get_by_role("link", name="B–E", exact=True).wait_for()
    form = page.locator("ol.doubtful > li").first
    form.get_by_role("button", name="Reject this reading").click()
    page.locator(".errors", has_text="Choose who decides").wait_for()
    page.goto("/seabed/suspects")
    form.get_by_label("Why").fill("the slate says a metre less")
    form.get_by_label("Decided by").select_option(label="Director, directs the excavation")
    form.get_by_role("button", name="Reject this reading").click()
    page.get_by_text("no longer counts").wait_for()
    assert page.url.endswith("/seabed/suspects?said=rejected")
    page.goto("/seabed/readings?q=B+E")
    line = page.locator("a.row", has_text="the slate says a metre less")
    struck = line.locator(".rejected").evaluate("e => getComputedStyle(e).textDecorationLine")
    assert struck == "line-through"
    line.click()
    page.get_by_label("Why").first.fill("it was right after all")
    page.get_by_label("Decided by").select_option(label="Director, directs the excavation")
    page.get_by_role("button", name="Take it back in").click()
    page.get_by_text("The reading counts again.").wait_for()
    assert survey_of(seabed.logbook).entries[first.id].rejected is None


def test_a_typing_slip_is_corrected_with_a_reason(seabed: Seabed) -> None:
    one = next(iter(survey_of(seabed.logbook).entries.values()))
    typed = {"from": "A", "to": "B", "value": "10.061", "with": "", "author": "recorder"}
    refused = seabed.client.post(f"/seabed/readings/{one.subject}/correct", data=typed)
    assert refused.status_code == 422 and "Say why it is corrected" in refused.text
    taken = seabed.client.post(f"/seabed/readings/{one.subject}/correct", data={**typed, "reason": "slate"})
    assert taken.status_code == 303
    assert survey_of(seabed.logbook).entries[one.id].number("value") == 10.061


def test_tomorrows_tapes_are_ranked_for_chosen_marks_and_printed(seabed: Seabed) -> None:
    page = seabed.client.get("/seabed/next?mark=P1&count=3&longest=25").text
    pairs = re.findall(r'<th scope="row">(\w+)–(\w+)</th>', page)
    assert len(pairs) == 3
    pdf = seabed.client.get("/seabed/sheets/tape.pdf?mark=P1&count=3&longest=25")
    assert pdf.headers["content-type"] == "application/pdf"
    text = pypdfium2.PdfDocument(pdf.content)[0].get_textpage().get_text_range()
    assert all(a in text and b in text for a, b in pairs)
    depth = seabed.client.get("/seabed/sheets/depth.pdf?mark=P1&mark=P2&bench=A")
    text = pypdfium2.PdfDocument(depth.content)[0].get_textpage().get_text_range()
    assert text.count("A") >= 2 and "P2" in text
    wrong = seabed.client.get("/seabed/next?count=many")
    assert wrong.status_code == 422 and "is no number of tapes" in wrong.text
    assert seabed.client.get("/seabed/sheets/tape.pdf?count=999").status_code == 422


def test_two_spellings_become_one_mark_and_the_site_is_described(seabed: Seabed) -> None:
    page = seabed.client.get("/seabed/marks").text
    assert "2 names for one mark?" in page
    answer = seabed.client.post("/seabed/marks/one", data={"name": ["A", "a"], "chosen": "A", "author": "recorder"})
    assert answer.status_code == 303 and "2 names for one mark? A" not in seabed.client.get("/seabed/marks").text
    for act, data in {
        "hold": {"name": "B", "x": "10", "sd": "5 cm"},
        "instrument": {"name": "T1", "kind": "tape", "longest": "30 m"},
        "bench": {"name": "A"},
        "levels": {"levels": "2026-06-12 10:00 0.3\n2026-06-12 10:30 0.4"},
        "name": {"name": "P9", "also": "p 9"},
    }.items():
        answer = seabed.client.post(f"/seabed/marks/{act}", data={**data, "author": "recorder"})
        assert answer.status_code == 303, answer.text
    for act, data, said in (
        ("hold", {"name": "B", "y": "1"}, "say why it changes"),
        ("north", {"declination": "west"}, "is no number"),
        ("way-round", {"three": "A B"}, "three different marks"),
        ("levels", {"levels": "noon"}, "Line 1: write time and height"),
        ("instrument", {"name": "T1"}, "Choose what it is"),
    ):
        refused = seabed.client.post(f"/seabed/marks/{act}", data={**data, "author": "recorder"})
        assert refused.status_code == 422 and said in refused.text, act


def test_pages_that_are_not_there_say_so(seabed: Seabed) -> None:
    for path in ("/seabed/readings/nothing", "/seabed/enter?what=laser", "/seabed/import/gone"):
        assert seabed.client.get(path).status_code == 404, path
