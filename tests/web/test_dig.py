"""The dig over HTTP and in a real browser: squares, levels, hours entered, shown, refused; the size of an airlift."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from oakum.desk.seabed.dig import dig_of
from oakum.desk.seabed.dig_entering import enter_hours, enter_levels, enter_square

PHONE = {"width": 380, "height": 800}
BY = {"author": "recorder"}
CORNERS = "A 0 0\nB 2 0\nC 2 2\nD 0 2"
BEFORE = "A 1.20\nB 1.22\nC 1.25\nD 1.18\nmiddle 1.21\n0.5, 0.5 1.2\n1.5, 1.4 1.23"
AFTER = "A 1.40\nB 1.43\nC 1.44\nD 1.38\nmiddle 1.46\n0.5, 0.5 1.38\n1.5, 1.4 1.47"
SLATE = {"spit": "1", "from": "string 1", "sd": "1 cm"}


@pytest.fixture(scope="module")
def square(site: Any) -> str:
    """A square with one spit, three dives, and one level that rose in a second spit."""
    book = site.house.logbook
    enter_square(book, {"name": "W1", "corners": CORNERS, "planned_depth": "60 cm"}, author="recorder")
    for stage, text in (("top", BEFORE), ("bottom", AFTER)):
        enter_levels(
            book, SLATE | {"square": "W1", "stage": stage, "levels": text, "on": "2026-06-14"}, author="diver"
        )
    second = {"square": "W1", "stage": "bottom", "levels": AFTER.replace("C 1.44", "C 1.30"), "spit": "2"}
    enter_levels(book, SLATE | second, author="diver")
    for name in "123":
        typed = {"on": "2026-06-12", "dive": name, "square": "W1", "spit": "1", "hours": "1.5", "buckets": f"4{name}"}
        enter_hours(book, typed, author="diver")
    found = dig_of(book).square("W1")
    assert found is not None
    return found.kept.id


def test_the_dig_shows_squares_season_open_questions_and_the_same_as_data(client: Any, square: str) -> None:
    page = client.get("/seabed/dig").text
    for words in ("W1", "m² in", "Volume dug against diver-hours", "At C the bed rose by 0.14 m", "litres in place"):
        assert words in page, words
    data = client.get("/seabed/dig.json").json()
    mine = next(one for one in data["squares"] if one["name"] == "W1")
    assert mine["area_m2"] == 4.0 and mine["volume_m3"]["low_p5"] < mine["best_m3"] < mine["volume_m3"]["high_p95"]
    assert "/seabed/dig" in client.get("/seabed").text


def test_a_square_shows_plan_section_spits_and_what_drives_the_width(client: Any, square: str) -> None:
    page = client.get(f"/seabed/dig/square/{square}").text
    assert page.count('class="drawing"') == 2 and "Contours of the bed after spit 2, every" in page
    for words in ("9 in 10 within", "What drives the width", "hang on string 1", "The numbers of this drawing"):
        assert words in page, words
    drawn = client.get(
        f"/seabed/dig/square/{square}", params={"every": "10 cm", "start": "A", "end": "C", "near": "5 cm"}
    )
    assert "every 0.1 m" in drawn.text and "From A to C, with the levels within 0.05 m" in drawn.text
    fine = client.get(f"/seabed/dig/square/{square}", params={"every": "1 cm"}).text
    assert "finer than the levels can tell" in fine
    wrong = client.get(f"/seabed/dig/square/{square}", params={"start": "Q", "near": "near"}).text
    assert "no corner and no mark is called so" in wrong and 'value="Q"' in wrong
    assert client.get("/seabed/dig/square/nowhere").status_code == 404


def test_a_square_is_set_out_changed_with_a_reason_and_refused_beside_its_field(client: Any, site: Any) -> None:
    address = "/seabed/dig/enter/square"
    before = site.house.logbook.count()
    line = client.post(address, data={**BY, "name": "W2", "corners": "A 0 0\nB 1 0\nC 2 0\nD 1 2"})
    assert line.status_code == 422 and 'id="corners-wrong"' in line.text and "lie on one line" in line.text
    assert "B 1 0" in line.text and site.house.logbook.count() == before
    answer = client.post(address, data={**BY, "name": "W2", "corners": CORNERS.replace("2", "3")})
    assert answer.status_code == 200 and "Square W2" in answer.text and "9.00 m²" in answer.text
    kept = dig_of(site.house.logbook).square("W2")
    assert kept is not None and f"square={kept.kept.id}" in answer.text
    assert "B 3 0" in client.get(f"{address}?square={kept.kept.id}").text
    again = {**BY, "name": "W2", "corners": CORNERS}
    assert client.post(address, data=again).status_code == 422
    assert "4.00 m²" in client.post(address, data={**again, "reason": "taped again"}).text


def test_levels_are_refused_beside_their_field_and_keep_what_was_typed(client: Any, site: Any, square: str) -> None:
    address = "/seabed/dig/enter/levels"
    before = site.house.logbook.count()
    typed = {**BY, **SLATE, "square": "W1", "stage": "bottom", "levels": "A 1.0\nB 1.0\nC 1.0\nD 1.0"}
    swapped = client.post(address, data=typed)
    assert swapped.status_code == 422 and "above its top" in swapped.text and "A 1.0" in swapped.text
    above = client.post(address, data={**typed, "from": "water", "spit": "7", "levels": "A -1 m\nB 1\nC 1"})
    assert above.status_code == 422 and "is above the surface" in above.text
    markup = client.post(address, data={**typed, "levels": "<b>x</b> 1"})
    assert markup.status_code == 422 and "<b>x</b>" not in markup.text
    assert site.house.logbook.count() == before
    form = client.get(address, params={"square": square, "spit": "1", "stage": "bottom"}).text
    assert "middle 1.46" in form and 'value="string 1"' in form


def test_hours_are_entered_once_and_a_spit_needs_its_square(client: Any, site: Any, square: str) -> None:
    address = "/seabed/dig/enter/hours"
    typed = {**BY, "on": "2026-06-20", "dive": "w9", "square": "W1", "spit": "1", "hours": "80 min", "buckets": "30"}
    answer = client.post(address, data=typed)
    assert answer.status_code == 200 and answer.url.path == "/seabed/dig" and "2026-06-20, w9" in answer.text
    again = client.post(address, data=typed)
    assert again.status_code == 422 and 'id="dive-wrong"' in again.text and "already" in again.text
    lost = client.post(address, data={**typed, "square": "", "dive": "w10"})
    assert lost.status_code == 422 and "A spit belongs to a square" in lost.text


def test_an_entry_is_struck_out_with_a_reason(client: Any, site: Any, square: str) -> None:
    typed = {"on": "2026-06-21", "dive": "wrong", "hours": "1"}
    entry = enter_hours(site.house.logbook, typed, author="diver")
    address = f"/seabed/dig/strike/{entry.id}"
    assert address in client.get("/seabed/dig").text and "Strike out an entry" in client.get(address).text
    refused = client.post(address, data=BY)
    assert refused.status_code == 422 and 'id="reason-wrong"' in refused.text
    gone = client.post(address, data={**BY, "reason": "typed twice"})
    assert gone.status_code == 200 and "2026-06-21" not in gone.text
    assert client.get(address).status_code == 422 and client.get("/seabed/dig/strike/nothing").status_code == 404
    other = site.house.logbook.entries(kind="find.entered")[0]
    assert "none of the dig" in client.get(f"/seabed/dig/strike/{other.id}").text
    assert f"/seabed/dig/strike/{dig_of(site.house.logbook).square('W1').spits[0].kept.history[0].id}" in client.get(
        f"/seabed/dig/square/{square}"
    ).text


def test_an_airlift_is_sized_with_its_cautions_and_refused_without_a_unit(client: Any) -> None:
    asked = {"what": "airlift", "bore": "150 mm", "depth": "2 m", "freeboard": "0.5 m"}
    page = client.get("/seabed/dig/tools", params=asked)
    assert page.status_code == 200 and "works poorly" in page.text and "buoyant missile" in page.text
    assert "practice, no source" in page.text and "Orders of magnitude only" in page.text
    wrong = client.get("/seabed/dig/tools", params={**asked, "bore": "150"})
    assert wrong.status_code == 422 and 'id="airlift-bore-wrong"' in wrong.text and 'value="150"' in wrong.text
    dredge = {"what": "dredge", "bore": "100 mm", "hose": "20 m", "rise": "1 m", "pump": "6 bar"}
    assert "pump at the nozzle" in client.get("/seabed/dig/tools", params=dredge).text
    assert client.get("/seabed/dig/tools").status_code == 200


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_of_the_dig_reads_on_a_phone_and_to_a_screen_reader(
    opened: Callable[..., Any], square: str, scheme: str
) -> None:
    page = opened("/seabed/dig", viewport=PHONE, color_scheme=scheme)
    addresses = [
        "/seabed/dig",
        f"/seabed/dig/square/{square}",
        "/seabed/dig/enter/square",
        f"/seabed/dig/enter/levels?square={square}&spit=1&stage=top",
        "/seabed/dig/enter/hours",
        "/seabed/dig/tools?what=airlift&bore=150+mm&depth=2+m",
    ]
    for address in addresses:
        page.goto(address)
        wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, address
        found = Axe().run(page)
        assert found.violations_count == 0, f"{address}: {found.generate_report()}"


def test_a_recorder_enters_a_slate_in_the_browser(opened: Callable[..., Any], square: str) -> None:
    page = opened(f"/seabed/dig/square/{square}")
    page.get_by_role("link", name="Enter levels").click()
    page.locator("#spit").fill("3")
    page.locator("#stage").select_option("bottom")
    page.locator("#from").fill("string 1")
    page.locator("#sd").fill("1 cm")
    page.locator("#levels").fill(AFTER.replace("1.4", "1.6").replace("1.3", "1.6").replace("D 1.6", "Z 1.6"))
    page.locator("#author").select_option("recorder")
    page.get_by_role("button", name="Keep the levels").click()
    assert "no corner and no mark is called Z" in page.locator("#levels-wrong").inner_text()
    text = page.locator("#levels")
    text.fill(text.input_value().replace("Z 1.6", "D 1.6"))
    page.get_by_role("button", name="Keep the levels").click()
    page.wait_for_url("**/seabed/dig/square/*said=linked")
    assert page.get_by_role("heading", name="Spit 3").is_visible()
