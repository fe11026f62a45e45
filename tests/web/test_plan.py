"""The plan of a lift as a page: what it says, what its controls answer, its sheets, its rig, and bad input."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pypdfium2
import pytest
from playwright.sync_api import expect

from oakum.desk.lifts.plan import plan_find
from oakum.lift.raising import example_rig

GOOD = {"author": "recorder"}


@pytest.fixture
def capstan(site: Any) -> str:
    return str(site.find("T-0001"))


@pytest.fixture
def gun(site: Any) -> str:
    return str(site.find("T-0002"))


def pages_of(pdf: bytes) -> list[str]:
    """Return the text of every page."""
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


def said(html: str, heading: str) -> str:
    """Return the text of the section with this id."""
    part = html.split(f'id="{heading}"')[1].split("</section>")[0]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", part))


def test_the_page_says_every_objection_and_names_people_not_ids(client: Any, site: Any, capstan: str) -> None:
    plan = plan_find(site.house.logbook, capstan, on=date.today()).plan
    html = client.get(f"/lifts/{capstan}/plan").text
    verdict = said(html, "verdict")
    assert f"{len(plan.objections)} objections" in verdict and "S-03: its certificate lapsed on" in verdict
    assert "to be settled by the lift leader (Director, directs the excavation)" in verdict
    assert not re.search(r"\bp-[0-9a-z]{8}\b", re.sub(r"<[^>]+>", " ", html))
    assert "The release is blocked by 1 open question" in said(html, "stage")
    for part in (
        "trial",
        "steps",
        "go",
        "roles",
        "gear",
        "hazards",
        "situ",
        "helps",
        "cautions",
        "open",
        "assumed",
    ):
        assert len(said(html, part)) > 40, part
    assert "hold 10 min" in said(html, "trial") and "on the day" in said(html, "go")
    assert not re.search(r"\b(is|are) safe\b", html)


def test_papers_are_looked_at_for_the_day_that_is_asked(client: Any, capstan: str) -> None:
    later = (date.today() + timedelta(days=400)).isoformat()
    verdict = said(client.get(f"/lifts/{capstan}/plan?on={later}").text, "verdict")
    assert "S-01: its certificate lapsed on" in verdict
    assert client.get(f"/lifts/{capstan}/plan?on=someday").status_code == 422


def test_a_find_without_body_or_rig_is_sent_where_it_is_described(client: Any, site: Any) -> None:
    jar = site.find("T-0006")
    assert client.get(f"/lifts/{jar}/plan").url.path == f"/lifts/{jar}/body"
    refused = client.get(f"/lifts/{jar}/plan/deck.pdf")
    assert refused.status_code == 404 and "has no body yet" in refused.text


def test_what_is_tried_is_shown_as_tried_and_nothing_is_entered(client: Any, site: Any, capstan: str) -> None:
    before = site.house.logbook.count()
    html = client.get(f"/lifts/{capstan}/plan/try?bags=4&hook=4.2").text
    assert "What if:" in html and "4 bags instead of 3; hook 4.20 m up instead of 3.60 m" in html
    assert "with all bags full they may take" in html and "Nothing of this is in the logbook" in html
    assert (
        'data-bags="4"' in html
        and 'data-hook="4.20"' in html
        and f'href="/lifts/{capstan}/rig?bags=4&amp;hook=4.2"' in html
    )
    assert "What if:" not in client.get(f"/lifts/{capstan}/plan/try?bags=3&hook=3.6").text
    assert site.house.logbook.count() == before


def test_of_hook_and_legs_the_one_that_was_moved_counts(client: Any, capstan: str) -> None:
    html = client.get(f"/lifts/{capstan}/plan/try?hook=3.6&shown_hook=3.6&legs=5&shown_legs=3.83").text
    assert "legs 5.00 m long in the mean instead of" in html and 'data-legs="5.00"' in html
    hook = float(re.findall(r'data-hook="([\d.]+)"', html)[0])
    html = client.get(f"/lifts/{capstan}/plan/try?hook={hook}&shown_hook=3.6&legs=3.83&shown_legs=3.83").text
    assert f"hook {hook:.2f} m up" in html and 'data-legs="5.00"' in html
    html = client.get(f"/lifts/{capstan}/plan?step=bags:more&bags=3&hook=3.6").text
    assert "4 bags instead of 3" in html


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("bags=0", "Between 1 and 12 bags"),
        ("bags=99", "Between 1 and 12 bags"),
        ("legs=0.5&hook=3.6&shown_hook=3.6", "legs so short"),
    ],
)
def test_what_cannot_be_tried_says_why_and_shows_the_kept_rig(
    client: Any, capstan: str, query: str, words: str
) -> None:
    answer = client.get(f"/lifts/{capstan}/plan/try?{query}")
    assert answer.status_code == 200 and "Not possible:" in answer.text and words in answer.text
    assert 'data-hook="3.60"' in answer.text


@pytest.mark.parametrize("query", ["hook=-1", "hook=abc", "legs=nan", "bags=two"])
def test_an_address_that_is_no_number_is_refused(client: Any, capstan: str, query: str) -> None:
    assert client.get(f"/lifts/{capstan}/plan/try?{query}").status_code == 422


def test_the_controls_answer_in_place_and_follow_each_other(
    site: Any, opened: Callable[..., Any], capstan: str
) -> None:
    page = opened(f"/lifts/{capstan}/plan")
    hook, legs = page.locator("#knob-hook"), page.locator("#knob-legs")
    legs_before = legs.input_value()
    with page.expect_response("**/plan/try?*"):
        page.get_by_role("button", name="Hook over the topmost eye, m: more").click()
    tried = page.locator("#try .whatif")
    expect(tried).to_contain_text("hook 3.70 m up instead of 3.60 m")
    expect(legs).not_to_have_value(legs_before)
    assert hook.input_value() == "3.70"
    with page.expect_response("**/plan/try?*"):
        page.locator("#knob-bags").fill("2")
    expect(tried).to_contain_text("2 bags instead of 3; hook 3.70 m up")
    with page.expect_response("**/plan/try?*"):
        page.get_by_label("Legs, mean length, m", exact=True).last.fill("6")
    expect(tried).to_contain_text("legs 6.00 m long")
    assert hook.input_value() != "3.70"
    page.get_by_role("link", name="Take it over into the rig").click()
    page.wait_for_url("**/rig?*")
    assert "Not kept yet" in page.locator(".lead").inner_text()
    assert "2 bags instead of 3" in page.locator("#reason").input_value()


def test_the_controls_work_without_a_script(opened: Callable[..., Any], capstan: str) -> None:
    page = opened(f"/lifts/{capstan}/plan", java_script_enabled=False)
    page.get_by_role("button", name="Bags: less").click()
    assert "2 bags instead of 3" in page.locator("#try .whatif").inner_text()
    assert page.locator("#knob-bags").input_value() == "2"


def test_the_sheets_are_pdfs_that_say_what_the_page_says(client: Any, capstan: str) -> None:
    deck = client.get(f"/lifts/{capstan}/plan/deck.pdf")
    assert (
        deck.headers["content-type"] == "application/pdf"
        and "attachment" in deck.headers["content-disposition"]
    )
    on_deck, back = pages_of(deck.content)
    assert "back of the deck sheet" in back
    cards = pages_of(client.get(f"/lifts/{capstan}/plan/cards.pdf").content)
    whole = " ".join(pages_of(client.get(f"/lifts/{capstan}/plan/file.pdf").content))
    assert "S-03: its certificate lapsed" in re.sub(r"\s+", " ", whole) and len(cards) >= 8
    assert "practice only" not in on_deck.lower()
    one = pages_of(client.get(f"/lifts/{capstan}/plan/cards.pdf?role=bag diver").content)
    assert len(one) < len(cards) and "bag diver" in one[0].lower()
    assert client.get(f"/lifts/{capstan}/plan/cards.pdf?role=helmsman").status_code == 422


def test_the_plan_as_json_has_units_in_its_keys(client: Any, capstan: str) -> None:
    data = client.get(f"/lifts/{capstan}/plan/plan.json").json()
    assert data["verdict"].startswith("objection: ") and data["stage"] == "draft"
    assert data["trial"]["unit"] == "kg" and data["governing"] == data["checks"][0]["key"]


def test_a_rig_is_kept_over_the_old_one_with_a_reason_and_refused_line_by_line(
    client: Any, site: Any, gun: str
) -> None:
    address = f"/lifts/{gun}/rig"
    toml = str(site.house.logbook.find(gun).fields["rig"])
    same = client.post(address, data={"do": "keep", "toml": toml, "reason": "x", **GOOD})
    assert same.status_code == 422 and "holds already" in same.text
    broken = toml.replace('height = "1.8 m"', 'height = "1.8"').replace(
        'kind = "polyester"', 'kind = "hemp"', 1
    )
    refused = client.post(address, data={"do": "keep", "toml": broken, "reason": "x", **GOOD})
    assert refused.status_code == 422 and "2 to put right in the text" in refused.text
    assert "height" in said(refused.text, "wrong") and "hemp" in said(refused.text, "wrong")
    assert "1.8&#34;" in refused.text or '"1.8"' in refused.text
    higher = toml.replace('height = "1.8 m"', 'height = "2.1 m"')
    without = client.post(address, data={"do": "keep", "toml": higher, **GOOD})
    assert without.status_code == 422 and 'id="reason-wrong"' in without.text
    kept = client.post(address, data={"do": "keep", "toml": higher, "reason": "more headroom", **GOOD})
    assert kept.status_code == 200 and kept.url.path == f"/lifts/{gun}/plan"
    assert site.house.logbook.find(gun).fields["rig"] == higher
    client.post(address, data={"do": "keep", "toml": toml, "reason": "as before", **GOOD})


def test_a_leg_is_changed_added_and_removed_by_the_short_form(client: Any, site: Any, gun: str) -> None:
    address, toml = f"/lifts/{gun}/rig", str(site.house.logbook.find(gun).fields["rig"])
    form = client.post(address, data={"do": "change:leg:0", "toml": toml}).text
    assert 'value="breech"' in form and 'value="S-05"' in form and 'value="K-05"' in form
    row = {
        "name": "breech",
        "x": "0.5 m",
        "y": "0 m",
        "z": "0.48 m",
        "gear": "S-05",
        "kind": "polyester",
        "hitch": "straight",
    }
    put = client.post(
        address,
        data={
            "do": "put:leg",
            "row_index": "0",
            "toml": toml,
            **row,
            "shackle": "K-05",
            "eye": "F-07",
            "eye_kind": "welded eye",
        },
    )
    assert put.status_code == 200 and "at x 0.5 m" in put.text and "Makes this plan" in put.text
    wrong = client.post(
        address, data={"do": "put:leg", "row_index": "0", "toml": toml, **row, "x": "half a metre"}
    )
    assert wrong.status_code == 422 and 'id="x-wrong"' in wrong.text and 'value="half a metre"' in wrong.text
    nameless = client.post(
        address, data={"do": "put:leg", "row_index": "-1", "toml": toml, **row, "name": ""}
    )
    assert nameless.status_code == 422 and 'id="name-wrong"' in nameless.text
    fewer = client.post(address, data={"do": "remove:leg:1", "toml": toml})
    assert "a hook takes two, three or four legs here, got 1" in fewer.text
    assert client.post(address, data={"do": "remove:leg:7", "toml": toml}).status_code == 200
    assert client.post(address, data={"do": "try", "toml": "not = toml = at all"}).status_code == 200


def test_the_example_rig_and_an_empty_one_begin_a_find_that_has_none(client: Any, site: Any) -> None:
    made = client.post("/finds", data={"title": "windlass", **GOOD})
    windlass = made.url.path.removeprefix("/finds/")
    assert "Begin with a hook" in client.get(f"/lifts/{windlass}/rig").text
    assert "nothing lifts" in client.get(f"/lifts/{windlass}/rig?start=empty").text
    page = client.get(f"/lifts/{windlass}/rig?start=example").text
    assert "has no body yet" in page and "south-east" in page
    kept = client.post(f"/lifts/{windlass}/rig", data={"do": "keep", "toml": example_rig(), **GOOD})
    assert kept.status_code == 200 and kept.url.path == f"/lifts/{windlass}/body"


def test_a_role_is_given_to_a_named_person_and_another_needs_a_reason(
    client: Any, site: Any, capstan: str
) -> None:
    address = f"/lifts/{capstan}/plan/role"
    people = {person.name: person.id for person in site.house.logbook.people()}
    data = {"role": "deck hand", "confirmed": "yes", "in_water": "no", **GOOD}
    assert "Known to have it" in client.get(f"{address}?role=bag%20diver").text
    nobody = client.post(address, data={**data, "person": ""})
    assert nobody.status_code == 422 and 'id="person-wrong"' in nobody.text
    role_only = client.post(address, data={**data, "person": "recorder"})
    assert role_only.status_code == 422 and 'id="person-wrong"' in role_only.text
    other = client.post(address, data={**data, "person": people["Bag diver"]})
    assert other.status_code == 422 and 'id="reason-wrong"' in other.text
    given = client.post(
        address, data={**data, "person": people["Bag diver"], "reason": "the other one is ill"}
    )
    assert (
        "one person is bag diver and deck hand" in said(given.text, "verdict")
        or "deck hand and bag diver" in given.text
    )
    back = client.post(address, data={**data, "person": people["Deck hand"], "reason": "well again"})
    assert back.status_code == 200 and "Deck hand, club, on deck" in said(back.text, "roles")


def test_a_hazard_is_excluded_only_by_a_named_person_competent_on_that_day(
    client: Any, site: Any, gun: str
) -> None:
    people = {person.name: person.id for person in site.house.logbook.people()}
    address, day = f"/finds/{gun}/hazards/charge", date.today().isoformat()
    unsaid = client.post(address, data={"answer": "excluded", "reason": "looked at", **GOOD})
    assert unsaid.status_code == 422 and 'id="by-wrong"' in unsaid.text and 'id="on-wrong"' in unsaid.text
    assert (
        client.post(
            address, data={"answer": "harmless", "by": people["Director"], "on": day, **GOOD}
        ).status_code
        == 422
    )
    data = {"answer": "excluded", "on": day, "reason": "bore probed", **GOOD}
    layman = client.post(address, data={**data, "by": people["Deck hand"]})
    assert "no competence &#34;explosives&#34; is known" in said(layman.text, "verdict")
    files = {"paper": ("report.pdf", b"%PDF-1.7 probed")}
    adviser = client.post(address, data={**data, "by": people["Explosives adviser"]}, files=files)
    assert adviser.url.path == f"/lifts/{gun}/plan" and "a charge" not in said(adviser.text, "verdict")
    again = {"answer": "not known", "reason": "crust grew over it", **GOOD}
    assert "not excluded" in client.post(address, data=again).text
    assert client.get(f"/finds/{gun}/hazards/boredom").status_code == 404


def test_human_remains_need_an_authorisation_that_holds(client: Any, site: Any) -> None:
    jar, person = site.find("T-0006"), site.house.logbook.people()[0].id
    address, day = f"/finds/{jar}/hazards/remains", date.today().isoformat()
    said_so = {"answer": "authorised", "by": person, "on": day, **GOOD}
    assert client.post(address, data=said_so).url.path == f"/finds/{jar}/hazards"
    assert "no authorisation that holds on" in client.get(address).text
    link = f"/finds/{jar}/authorisations/remains"
    assert client.post(link, data=GOOD).status_code == 422
    late = client.post(link, data={"authority": "county", "auth_on": "soon", **GOOD})
    assert late.status_code == 422 and 'id="auth-auth_on-wrong"' in late.text
    page = client.post(link, data={"authority": "county", "auth_on": day, "number": "7/26", **GOOD}).text
    assert "county, 7/26: from" in page and "no authorisation that holds" not in page
    assert (
        client.post(
            f"/finds/{jar}/authorisations/charge", data={"authority": "x", "auth_on": day, **GOOD}
        ).status_code
        == 422
    )


def test_the_decision_to_raise_names_who_decided_and_why(client: Any, site: Any) -> None:
    jar, person = site.find("T-0006"), site.house.logbook.people()[0].id
    address = f"/finds/{jar}/decision"
    empty = client.post(address, data=GOOD)
    assert empty.status_code == 422
    for field in ("because", "by", "on"):
        assert f'id="{field}-wrong"' in empty.text
    data = {"because": "anchors drag over it", "by": person, "on": "2026-07-01", **GOOD}
    assert client.post(address, data={**data, "on": "in July"}).status_code == 422
    assert "anchors drag over it" in client.post(address, data=data).text
    assert client.post(address, data=data).status_code == 422
