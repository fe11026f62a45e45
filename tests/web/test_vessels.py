"""Vessels over HTTP and in a real browser: entered with their tables, shown, corrected, struck out, or refused."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from oakum.desk.lifts.vessels import enter_vessel, vessel_named
from oakum.lift.vessel import example_vessel

GOOD = {"author": "recorder", "do": "keep"}
TOML, TABLES = example_vessel()
TITLE = "Workboat Tolmarren Girl"
PHONE = {"width": 380, "height": 800}


def named(title: str) -> str:
    return TOML.replace(TITLE, title)


def typed(tables: dict[str, bytes] = TABLES) -> dict[str, Any]:
    names = list(tables)
    return {"table_name": names, **{f"table-{i}": tables[name].decode() for i, name in enumerate(names)}}


@pytest.fixture(scope="module")
def boat(site: Any) -> str:
    return enter_vessel(site.house.logbook, named("Auk"), TABLES, author="recorder").subject


def test_a_vessel_is_entered_from_its_text_and_files_and_shown_with_gaps_footnotes_and_page(
    client: Any, site: Any
) -> None:
    files = [("files", (name, data, "text/csv")) for name, data in TABLES.items()]
    answer = client.post("/lifts/vessels/new", data={"toml": named("Puffin"), **GOOD}, files=files)
    assert answer.status_code == 200 and "The papers of the vessel are kept" in answer.text
    kept = vessel_named(site.house.logbook, "Puffin")
    assert answer.url.path == f"/lifts/vessels/{kept.id}"
    for words in (
        "Stability information booklet, rev. C, page 14",
        "hook block of 40 kg",
        "no load given",
        "Rows of the sheet",
    ):
        assert words in answer.text, words
    assert "Puffin" in client.get("/lifts/vessels").text and "/lifts/vessels" in client.get("/lifts").text
    address = answer.text.split('href="/files/')[1].split('"')[0]
    assert client.get(f"/files/{address}").content == TABLES["crane-sheet.csv"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('km = "3.70 ± 0.05 m"', 'km = "3.7"', "line 9, km: "),
        (
            'km = "3.70 ± 0.05 m"',
            'km = "3.70 m"\nkg = "3.9 m"',
            "line 10, kg: KG 3.90 m is not below KM 3.70 m",
        ),
        ('column = "Harbour"', 'column = "Haven"', "column of chart "),
        ('file = "beam-seas.csv"', 'file = "waves.csv"', "did not come with the text"),
    ],
)
def test_what_is_wrong_stands_with_line_and_key_and_the_text_and_tables_stay(
    client: Any, site: Any, old: str, new: str, said: str
) -> None:
    before = site.house.logbook.count()
    toml = named("Gannet <b>").replace(old, new)
    answer = client.post("/lifts/vessels/new", data={"toml": toml, **typed(), **GOOD})
    assert answer.status_code == 422 and said in answer.text and 'id="toml-wrong"' in answer.text
    assert "Gannet &lt;b&gt;" in answer.text and "hook block of 40 kg is part of the load" in answer.text
    assert site.house.logbook.count() == before


def test_a_chart_that_rises_names_its_file_and_rows_and_a_file_that_is_no_table_its_field(
    client: Any, site: Any
) -> None:
    rising = TABLES | {"crane-sheet.csv": TABLES["crane-sheet.csv"].replace(b"1600 kg", b"2600 kg")}
    answer = client.post("/lifts/vessels/new", data={"toml": named("Skua"), **typed(rising), **GOOD})
    assert answer.status_code == 422 and "crane-sheet.csv" in answer.text and "(row 9)" in answer.text
    book = [("files", ("crane-sheet.csv", b"PK\x03\x04", "text/csv"))]
    answer = client.post("/lifts/vessels/new", data={"toml": named("Skua"), **typed(), **GOOD}, files=book)
    assert answer.status_code == 422 and 'id="files-wrong"' in answer.text and "is a workbook" in answer.text
    spare = [("files", ("spare.csv", b"radius (m),load (t)\n1,2\n2,1\n", "text/csv"))]
    answer = client.post("/lifts/vessels/new", data={"toml": named("Skua"), **typed(), **GOOD}, files=spare)
    assert answer.status_code == 422 and "is named nowhere in the text" in answer.text


def test_looking_stores_nothing_and_shows_what_the_papers_say(client: Any, site: Any) -> None:
    before = site.house.logbook.count()
    answer = client.post("/lifts/vessels/new", data={"toml": named("Tern"), **typed(), "do": "look"})
    assert answer.status_code == 200 and answer.text.count('class="drawing"') == 3
    bare = client.post("/lifts/vessels/new", data={"toml": 'title = "Tern"', "do": "look"})
    assert "objections to every lift from her" in bare.text and "no load chart" in bare.text
    assert site.house.logbook.count() == before
    assert 'title = &#34;&#34;' in client.get("/lifts/vessels/new?start=empty").text


def test_a_correction_needs_a_reason_and_stands_over_the_old(client: Any, site: Any, boat: str) -> None:
    address = f"/lifts/vessels/{boat}/change"
    form = client.get(address).text
    assert "At sea (t),Remarks" in form and "title = &#34;Auk&#34;" in form
    new = named("Auk").replace('floods_at = "22 deg"', 'floods_at = "18 deg"')
    answer = client.post(address, data={"toml": new, **typed(), **GOOD})
    assert answer.status_code == 422 and 'id="reason-wrong"' in answer.text
    answer = client.post(address, data={"toml": new, **typed(), **GOOD, "reason": "hatch measured"})
    assert answer.status_code == 200 and "18°" in answer.text and "Reason: hatch measured" in answer.text
    assert len(vessel_named(site.house.logbook, boat).history) == 2
    assert client.get("/lifts/vessels/nobody").status_code == 404
    entry = vessel_named(site.house.logbook, boat).entry.id
    page = client.get(f"/logbook/entry/{entry}").text
    assert "The vessel file" in page and "crane-sheet.csv" in page


def test_the_charts_are_read_at_a_radius_and_nothing_outside(client: Any, boat: str) -> None:
    address = f"/lifts/vessels/{boat}"
    page = client.get(address, params={"radius": "15 ft"}).text
    assert "1,839 kg straight between two radii, 1,700 kg at the next one" in page
    assert "at 4.57 m, chart 1,839 kg" in page and "keel there; a heel makes the radius longer" in page
    assert "without a load" in client.get(address, params={"radius": "5.5 m"}).text
    assert "is outside the chart" in client.get(address, params={"radius": "12 m"}).text
    wrong = client.get(address, params={"radius": "5"})
    assert wrong.status_code == 422 and 'id="radius-wrong"' in wrong.text and 'value="5"' in wrong.text


def test_a_vessel_entered_by_mistake_is_struck_out_with_a_reason(client: Any, site: Any) -> None:
    toml = 'title = "Twice"\n'
    client.post("/lifts/vessels/new", data={"toml": toml, **GOOD})
    again = client.post("/lifts/vessels/new", data={"toml": toml, **GOOD})
    assert again.status_code == 422 and "there is a vessel" in again.text
    address = f"/lifts/vessels/{vessel_named(site.house.logbook, 'Twice').id}"
    refused = client.post(f"{address}/strike", data={"author": "recorder"})
    assert refused.status_code == 422 and 'id="strike-reason-wrong"' in refused.text
    gone = client.post(f"{address}/strike", data={"author": "recorder", "reason": "entered twice"})
    assert gone.url.path == "/lifts/vessels" and "Twice" not in gone.text
    assert client.get(address).status_code == 404


def test_a_skipper_enters_a_vessel_in_the_browser_and_puts_right_what_was_wrong(
    opened: Callable[..., Any],
) -> None:
    page = opened("/lifts/vessels")
    page.get_by_role("link", name="Begin with an example to edit").click()
    text = page.locator("#toml")
    text.fill(named("Razorbill").replace('beam = "21 ft 4 in"', 'beam = "21 ft 4"'))
    page.locator("#table-0").fill("Radius (m);Load\n3;2,9 t\n5;1,8 t\n")
    page.locator("#author").select_option("recorder")
    page.get_by_role("button", name="Keep these papers").click()
    wrong = page.locator("#wrong + .body")
    assert "line 10, beam" in wrong.inner_text() and "Harbour" in wrong.inner_text()
    assert "Razorbill" in text.input_value() and "5;1,8 t" in page.locator("#table-0").input_value()
    text.fill(named("Razorbill").replace('column = "Harbour"\n', "").replace('column = "At sea (t)"\n', ""))
    page.get_by_role("button", name="Keep these papers").click()
    page.wait_for_url("**/lifts/vessels/*said=vessel")
    assert page.get_by_role("heading", level=1).inner_text() == "Razorbill"
    assert page.locator("figure svg.drawing").count() == 3
    page.get_by_role("textbox", name="Radius").fill("4 m")
    page.get_by_role("button", name="Read").click()
    assert "2,350 kg straight between two radii" in page.locator("main").inner_text()


@pytest.mark.parametrize("path", ["", "/new", "/{}", "/{}/change"])
def test_its_pages_hold_for_everyone_on_a_phone_in_light_and_dark(
    opened: Callable[..., Any], boat: str, path: str
) -> None:
    page, axe = opened("/lifts/vessels" + path.format(boat), viewport=PHONE), Axe()
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        result = axe.run(page, options={"resultTypes": ["violations"]})
        assert result.violations_count == 0, result.generate_report()
    small = page.evaluate(
        "() => [...document.querySelectorAll('button:not(.unseen), select, summary, textarea, a.button, a.row')]"
        ".filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 44.8).map(e => e.outerHTML)"
    )
    assert small == []
