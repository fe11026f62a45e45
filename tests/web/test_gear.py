"""Gear over HTTP: listed, changed, withdrawn, brought back, struck out; a hire firm's list row by row."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

GOOD = {"author": "recorder"}
NEXT_YEAR = (date.today() + timedelta(days=300)).isoformat()
PAPERS = {
    "certificate": "C-1",
    "certificate_until": NEXT_YEAR,
    "inspected_on": "2026-01-05",
    "inspect_by": NEXT_YEAR,
}


def listed(client: Any, identity: str, **fields: str) -> str:
    typed = {"identity": identity, "kind": "shackle", "wll": "2 t", **PAPERS, **GOOD, **fields}
    answer = client.post("/gear/new", data=typed)
    assert answer.status_code == 200, answer.text
    return str(answer.url.path).removeprefix("/gear/")


def person(site: Any) -> str:
    return str(site.house.logbook.people()[0].id)


def test_a_piece_with_tag_and_papers_has_no_objection_and_keeps_its_texts(client: Any, site: Any) -> None:
    piece = site.house.logbook.piece(listed(client, "W-1", wll="20 kN"))
    assert piece.fields["wll"]["text"] == "20 kN" and float(piece.fields["wll"]["value"]) == pytest.approx(
        2039.4, abs=0.1
    )
    assert "No objection found today" in client.get(f"/gear/{piece.id}").text


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"identity": ""}, "identity"),
        ({"kind": ""}, "kind"),
        ({"wll": "2 ton"}, "wll"),
        ({"wll": "1..2 t"}, "wll"),
        ({"certificate_until": "next May"}, "certificate_until"),
        ({"author": ""}, "author"),
    ],
)
def test_a_wrong_field_is_named_and_everything_typed_stands(
    client: Any, site: Any, fields: dict[str, str], field: str
) -> None:
    before = site.house.logbook.count()
    typed = {"identity": "W-2", "kind": "shackle", "description": "a <b>pin</b>", **GOOD, **fields}
    answer = client.post("/gear/new", data=typed)
    assert answer.status_code == 422 and f'id="{field}-wrong"' in answer.text
    assert "a &lt;b&gt;pin&lt;/b&gt;" in answer.text and site.house.logbook.count() == before


def test_a_second_piece_with_the_same_identity_and_a_certificate_that_ends_before_it_begins_are_refused(
    client: Any,
) -> None:
    listed(client, "W-3")
    again = client.post("/gear/new", data={"identity": "w -3", "kind": "shackle", **GOOD})
    assert again.status_code == 422 and 'id="identity-wrong"' in again.text
    backwards = {
        "identity": "W-4",
        "kind": "shackle",
        "certificate_from": "2027-01-01",
        "certificate_until": "2026-01-01",
    }
    answer = client.post("/gear/new", data={**backwards, **GOOD})
    assert answer.status_code == 422 and "ends (2026-01-01) before it begins (2027-01-01)" in answer.text


def test_a_lapsed_paper_and_an_unknown_one_are_objections_in_the_register(client: Any) -> None:
    listed(client, "W-5", certificate_until="2020-03-31", inspect_by="", inspected_on="")
    page = client.get("/gear?q=w-5").text
    assert "objection: W-5: its certificate lapsed on 2020-03-31" in page
    assert "when it was last inspected is not known" in page
    assert (
        "W-5" in client.get("/gear?objected=yes").text
        and "W-1" not in client.get("/gear?objected=yes&q=w-5").text
    )


def test_a_change_needs_a_reason_and_the_earlier_value_stays_in_the_history(client: Any, site: Any) -> None:
    piece = listed(client, "W-6")
    address = f"/gear/{piece}/change/wll"
    assert 'value="2 t"' in client.get(address).text
    answer = client.post(address, data={"value": "1.5 t", **GOOD})
    assert answer.status_code == 422 and 'id="reason-wrong"' in answer.text and 'value="1.5 t"' in answer.text
    assert client.post(address, data={"value": "2 t", "reason": "x", **GOOD}).status_code == 422
    page = client.post(address, data={"value": "1.5 t", "reason": "tag read again", **GOOD}).text
    assert "WLL 1.5 t" in page and "Reason: tag read again" in page and "WLL</span> 2 t" in page
    assert client.get(f"/gear/{piece}/change/identity").status_code == 422
    assert client.get("/gear/trebuchet").status_code == 404


def test_a_withdrawn_piece_comes_back_only_by_a_named_person_with_a_reason(client: Any, site: Any) -> None:
    piece = listed(client, "W-7")
    assert client.post(f"/gear/{piece}/withdraw", data=GOOD).status_code == 422
    page = client.post(f"/gear/{piece}/withdraw", data={"why": "pin bent", **GOOD}).text
    assert "withdrawn: pin bent" in page and "Bring it back" in page
    refused = client.post(f"/gear/{piece}/bring-back", data={"reason": "new pin", "passed_by": "", **GOOD})
    assert (
        refused.status_code == 422
        and 'id="back-passed_by-wrong"' in refused.text
        and 'value="new pin"' in refused.text
    )
    page = client.post(
        f"/gear/{piece}/bring-back", data={"reason": "new pin", "passed_by": person(site), **GOOD}
    ).text
    assert "It may be named in a rig" in page and "No objection found today" in page


def test_a_scan_is_kept_with_the_piece_and_given_out_to_save(client: Any, site: Any) -> None:
    piece = listed(client, "W-8")
    assert client.post(f"/gear/{piece}/certificate", data=GOOD).status_code == 422
    page = client.post(
        f"/gear/{piece}/certificate", data=GOOD, files={"scan": ("c.pdf", b"%PDF-1.7 paper")}
    ).text
    address = page.split('href="/files/')[1].split('"')[0]
    got = client.get(f"/files/{address}")
    assert got.content == b"%PDF-1.7 paper" and got.headers["content-disposition"].startswith("attachment")


def test_a_piece_listed_by_mistake_is_struck_out_with_a_reason(client: Any, site: Any) -> None:
    piece = listed(client, "W-9")
    entry = site.house.logbook.piece(piece).history[0].id
    assert client.post(f"/gear/{piece}/strike/{entry}", data=GOOD).status_code == 422
    page = client.post(f"/gear/{piece}/strike/{entry}", data={"reason": "hired by others", **GOOD}).text
    assert (
        "This piece no longer counts" in page and "W-9" not in client.get("/gear?q=w-9").text.split("<ol")[-1]
    )


def test_a_hire_firms_list_is_shown_row_by_row_and_only_accepted_rows_are_listed(
    client: Any, site: Any
) -> None:
    data = (
        "Serial no;Type;WLL;Certificate no;Valid until;Last inspection;Next inspection\n"
        f"HZ 1;webbing sling;2 t;A1;{NEXT_YEAR};2026-01-05;{NEXT_YEAR}\n"
        f"HZ 2;webbing sling;2 ton;A2;{NEXT_YEAR};2026-01-05;{NEXT_YEAR}\n"
        "HZ 3;bow shackle;4.75 t;A3;2020-01-31;2019-01-05;2020-01-31\n"
        ";hook;3 t;A4;2030-01-31;;\n"
    ).encode()
    before = site.house.logbook.count()
    assert client.post("/gear/list", data={}).status_code == 422
    assert client.post("/gear/list", files={"list": ("notes.txt", b"no table at all")}).status_code == 422
    look = client.post("/gear/list", files={"list": ("hired.csv", data)})
    assert look.status_code == 200 and site.house.logbook.count() == before
    for words in ("has more than one meaning", "lapsed on 2020-01-31", "refused"):
        assert words in look.text, words
    address = str(look.url.path)
    none = client.post(address, data={"which": "ticked", **GOOD})
    assert none.status_code == 422 and "tick at least one row" in none.text
    taken = client.post(address, data={"which": "both", **GOOD})
    assert taken.status_code == 200 and taken.url.path == "/gear"
    held = {piece.identity: piece for piece in site.house.logbook.gear() if piece.identity.startswith("HZ")}
    assert set(held) == {"HZ 1", "HZ 2", "HZ 3"} and "wll" not in held["HZ 2"].fields
    assert client.get(address).status_code == 404


def test_a_competence_stands_beside_the_name_with_its_end_and_can_be_forgotten(
    client: Any, site: Any
) -> None:
    someone = site.house.logbook.add_person("Winch hand", "club").id
    before = site.house.logbook.count()
    address = "/logbook/people/competence"
    wrong = client.post(address, data={"person": someone, "competence": "hoist operator", "until": "May"})
    assert wrong.status_code == 422 and 'id="until-wrong"' in wrong.text and 'value="May"' in wrong.text
    page = client.post(
        address, data={"person": someone, "competence": "hoist operator", "until": "2020-05-31"}
    ).text
    assert "hoist operator: lapsed on 2020-05-31" in page and site.house.logbook.count() == before
    assert "Winch hand, club: hoist operator lapsed on 2020-05-31" in client.get("/").text
    data = {"person": someone, "competence": "Hoist operator", "do": "forget"}
    assert "hoist operator: lapsed" not in client.post(address, data=data).text
    assert client.post(address, data=data).status_code == 422
