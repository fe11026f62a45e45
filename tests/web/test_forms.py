"""Every form over HTTP: what is taken, what comes back with 422 and the words as typed, what never runs."""

from __future__ import annotations

import io
import sys
import time
from typing import Any

import pytest
import trimesh
from openpyxl import Workbook
from PIL import Image

GOOD = {"author": "recorder"}


def new_find(client: Any, site: Any, title: str, **fields: str) -> str:
    answer = client.post("/finds", data={"title": title, **GOOD, **fields})
    assert answer.status_code == 200, answer.text
    return str(answer.url.path).removeprefix("/finds/")


def person(site: Any) -> str:
    return str(site.house.logbook.people()[0].id)


def jpeg() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "navy").save(out, "JPEG")
    return out.getvalue()


def test_a_find_keeps_the_text_of_a_measure_and_when_it_was_seen(client: Any, site: Any) -> None:
    seen = {"seen_at": "2026-06-12T10:20", "seen_by": "diver", "seen_from": "slate", "seen_zone": "+01:00"}
    find = site.house.logbook.find(new_find(client, site, "spar", length="4 ft 3 1/2 in", **seen))
    assert find.fields["length"]["text"] == "4 ft 3 1/2 in" and find.fields["length"]["value"] == "1.3081"
    assert find.history[0].seen == {
        "at": "2026-06-12T10:20", "zone": "+01:00", "precision": "minute", "by": "diver", "from": "slate",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"title": ""}, "title"),
        ({"author": ""}, "author"),
        ({"count": "a few"}, "count"),
        ({"length": "2 ton"}, "length"),
        ({"mass": "12 m"}, "mass"),
        ({"seen_at": "12 June"}, "seen_at"),
        ({"seen_at": "2026-02-30"}, "seen_at"),
        ({"seen_at": "2026-06-12"}, "seen_by"),
        ({"number": "T-0001-X"}, "number"),
    ],
)
def test_a_wrong_field_is_named_and_everything_typed_stands(
    client: Any, site: Any, fields: dict[str, str], field: str
) -> None:
    before = site.house.logbook.count()
    typed = {"title": "a <b>plank</b>", "description": "two\nlines & more", **GOOD, **fields}
    answer = client.post("/finds", data=typed)
    assert answer.status_code == 422 and f'id="{field}-wrong"' in answer.text
    if typed["title"]:
        assert 'value="a &lt;b&gt;plank&lt;/b&gt;"' in answer.text
    assert "two\nlines &amp; more" in answer.text and site.house.logbook.count() == before


def test_a_change_needs_a_reason_and_stands_over_the_old_value(client: Any, site: Any) -> None:
    find = new_find(client, site, "plank", material="elm")
    address = f"/finds/{find}/change/material"
    answer = client.post(address, data={"value": "ash", **GOOD})
    assert answer.status_code == 422 and 'id="reason-wrong"' in answer.text and 'value="ash"' in answer.text
    assert client.post(address, data={"value": "elm", "reason": "x", **GOOD}).status_code == 422
    assert client.post(address, data={"value": "ash", "reason": "lens", **GOOD}).status_code == 200
    heads = site.house.logbook.heads(find)["material"]
    assert [head.value for head in heads] == ["ash"] and len(heads[0].entry.over) == 1
    assert client.get(f"/finds/{find}/change/number").status_code == 422


def test_an_entry_is_struck_out_with_a_reason_and_stays_readable(client: Any, site: Any) -> None:
    find = new_find(client, site, "peg")
    data = {"quantity": "mass", "state": "in air", "text": "3 kg", **GOOD}
    assert client.post(f"/finds/{find}/readings", data=data).status_code == 200
    entry = site.house.logbook.entries(find, kind="reading")[0].id
    assert client.post(f"/finds/{find}/strike/{entry}", data=GOOD).status_code == 422
    page = client.post(f"/finds/{find}/strike/{entry}", data={"reason": "wrong find", **GOOD}).text
    assert "Struck out; it no longer counts" in page and site.house.logbook.readings(find) == ()


@pytest.mark.parametrize("missing", ["quantity", "state", "text", "author"])
def test_a_reading_says_what_in_which_state_and_by_whom(client: Any, site: Any, missing: str) -> None:
    data = {"quantity": "mass", "state": "in air", "text": "3 kg", **GOOD, missing: ""}
    answer = client.post(f"/finds/{site.find('T-0004')}/readings", data=data)
    assert answer.status_code == 422 and f'id="{missing}-wrong"' in answer.text


def test_relations_are_entered_by_number_and_an_unknown_number_is_told(client: Any, site: Any) -> None:
    lump, nail, half, other = (new_find(client, site, title) for title in ("lump", "nail", "half", "other half"))
    numbers = {find: site.house.logbook.find(find).number for find in (lump, half, other)}
    answer = client.post(f"/finds/{nail}/parent", data={"parent": "T-9999", **GOOD})
    assert answer.status_code == 422 and 'id="parent-wrong"' in answer.text
    assert client.post(f"/finds/{nail}/parent", data={"parent": numbers[lump], **GOOD}).status_code == 200
    assert client.post(f"/finds/{half}/joins", data={"other": numbers[other], **GOOD}).status_code == 200
    assert client.post(f"/finds/{half}/joins", data={"other": numbers[half], **GOOD}).status_code == 422
    assert client.post(f"/finds/{lump}/samples", data={"title": "crust", **GOOD}).status_code == 200
    page = client.get(f"/finds/{lump}").text
    assert "nail" in page and "/S1" in page
    assert numbers[half] in client.get(f"/finds/{other}").text


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("notes.jpg", b"this is no picture", "no picture"),
        ("drawing.svg", b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', "SVG"),
        ("page.png", b"<!doctype html><script>alert(1)</script>", "web page"),
        ("half.jpg", jpeg()[:300], "damaged"),
        ("empty.jpg", b" ", "picture"),
    ],
)
def test_what_is_no_picture_is_refused_as_a_picture(
    client: Any, site: Any, name: str, content: bytes, words: str
) -> None:
    find, before = site.find("T-0002"), site.house.logbook.count()
    form = {"caption": "muzzle", **GOOD}
    answer = client.post(f"/finds/{find}/photos", data=form, files={"photo": (name, content)})
    assert answer.status_code == 422 and words in answer.text and name in answer.text
    assert 'value="muzzle"' in answer.text and site.house.logbook.count() == before


def test_a_photograph_is_kept_as_sent_and_shown_as_a_fresh_small_copy(client: Any, site: Any) -> None:
    find, data = site.find("T-0002"), jpeg()
    form = {"scale": "20 cm", **GOOD}
    page = client.post(f"/finds/{find}/photos", data=form, files={"photo": ("a b.jpg", data)})
    assert page.status_code == 200 and "scale bar 20 cm" in page.text
    photo = site.house.logbook.find(find).photographs[-1].body
    kept = client.get(f"/files/{photo['sha256']}/a%20b.jpg")
    assert kept.content == data and kept.headers["content-type"] == "application/octet-stream"
    assert kept.headers["content-disposition"].startswith("attachment") and "sandbox" in kept.headers[
        "content-security-policy"
    ]
    small = client.get(f"/thumbs/{photo['thumbnail']}")
    assert small.headers["content-type"] == "image/jpeg" and small.headers["x-content-type-options"] == "nosniff"


def test_a_heic_photograph_is_kept_even_where_nothing_here_reads_it(
    client: Any, site: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pillow_heif", None)
    find = new_find(client, site, "block")
    heic = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(200)
    page = client.post(f"/finds/{find}/photos", data=GOOD, files={"photo": ("dive.heic", heic)})
    assert page.status_code == 200 and "No small copy" in page.text
    kept = site.house.logbook.find(find).photographs[0].body
    assert client.get(f"/files/{kept['sha256']}/dive.heic").content == heic and "thumbnail" not in kept


def test_good_photographs_beside_a_bad_one_are_kept_and_the_page_says_so(client: Any, site: Any) -> None:
    find = new_find(client, site, "sheave")
    both = [("photo", ("good.jpg", jpeg())), ("photo", ("bad.jpg", b"no"))]
    page = client.post(f"/finds/{find}/photos", data=GOOD, files=both)
    assert page.status_code == 422 and "Some of it is kept" in page.text and "1 of 2 photographs" in page.text
    assert len(site.house.logbook.find(find).photographs) == 1


def test_any_file_is_kept_but_never_opened_in_the_page(client: Any, site: Any) -> None:
    find = site.find("T-0002")
    evil = b"<script>alert(1)</script>"
    assert client.post(f"/finds/{find}/files", data=GOOD, files={"file": ("x.html", evil)}).status_code == 200
    linked = site.house.logbook.find(find).files[-1].body
    answer = client.get(f"/files/{linked['sha256']}/x.html")
    assert answer.content == evil and answer.headers["content-type"] == "application/octet-stream"
    assert client.get(f"/thumbs/{linked['sha256']}").status_code == 404
    assert client.get("/files/" + "0" * 64 + "/x").status_code == 404
    assert client.get("/files/..%2Flogbook.sqlite/x").status_code == 404
    assert client.post(f"/finds/{find}/files", data=GOOD).status_code == 422


def test_a_load_cell_reading_needs_its_spread_and_moves_the_weights(client: Any, site: Any) -> None:
    find = site.find("T-0002")
    form = {"reading": "900 kg", "covers": "alone", **GOOD}
    answer = client.post(f"/lifts/{find}/cell", data=form)
    assert answer.status_code == 422 and 'id="reading-wrong"' in answer.text and 'value="900 kg"' in answer.text
    before = client.get(f"/lifts/{find}/report.json").json()
    likely = next(s for s in before["states"] if s["key"] == "submerged")["load_kg"]["best"]
    assert client.post(f"/lifts/{find}/cell", data={**form, "reading": f"{likely:.0f} \u00b1 9 kg"}).status_code == 200
    after = client.get(f"/lifts/{find}/report.json").json()
    assert after["conditioning"] is not None and before["conditioning"] is None


@pytest.mark.parametrize(("said", "kept"), [("with", True), ("without", False), ("", None)])
def test_a_load_cell_reading_says_whether_the_frame_hung_there(
    client: Any, site: Any, said: str, kept: bool | None
) -> None:
    find = site.find("T-0002")
    form = {"reading": "900 \u00b1 9 kg", "covers": "alone", "frame": said, **GOOD}
    assert client.post(f"/lifts/{find}/cell", data=form).status_code == 200
    assert site.house.logbook.find(find).readings[-1].frame is kept


def test_a_body_with_errors_comes_back_with_each_line_and_nothing_is_kept(client: Any, site: Any) -> None:
    find, before = site.find("T-0004"), site.house.logbook.count()
    toml = 'title = "nails"\nwater = "sea"\n\n[[part]]\nname = "bag"\nshape = "bx"\nmaterial = "iorn"\n'
    answer = client.post(f"/lifts/{find}/body", data={"toml": toml, "do": "keep", **GOOD})
    assert answer.status_code == 422 and "line 6" in answer.text and "line 7" in answer.text
    assert "shape = &#34;bx&#34;" in answer.text and site.house.logbook.count() == before
    broken = client.post(f"/lifts/{find}/body", data={"toml": "title = ", "do": "try", **GOOD})
    assert "TOML" in broken.text


def test_a_body_with_a_mesh_is_weighed_as_long_work_and_then_opens_at_once(client: Any, site: Any) -> None:
    find = new_find(client, site, "lump")
    mesh = trimesh.creation.icosphere(subdivisions=3, radius=300).export(file_type="stl")
    toml = (
        'title = "lump"\nwater = "sea"\n\n[[part]]\nname = "lump"\nshape = "mesh"\nfile = "lump.stl"\n'
        'unit = "mm"\nmaterial = "cast iron"\n'
    )
    form = {"toml": toml, "do": "keep", **GOOD}
    missing = client.post(f"/lifts/{find}/body", data=form)
    assert missing.status_code == 422 and "lump.stl" in missing.text
    assert client.post(f"/finds/{find}/files", data=GOOD, files={"file": ("lump.stl", mesh)}).status_code == 200
    job = client.post(f"/lifts/{find}/body", data=form)
    until = time.monotonic() + 20
    while "is weighed" not in job.text and time.monotonic() < until:
        job = client.get(job.url)
    assert "lump is weighed" in job.text and "Greatest on the hook" in client.get(f"/lifts/{find}").text


def test_the_sheet_and_the_numbers_are_given_to_save(client: Any, site: Any) -> None:
    find = site.find("T-0001")
    sheet = client.get(f"/lifts/{find}/sheet.pdf")
    assert sheet.content.startswith(b"%PDF") and "weights_T-0001" in sheet.headers["content-disposition"]
    assert client.get(f"/lifts/{find}/report.json").json()["title"]
    assert client.get(f"/lifts/{site.find('T-0008')}/sheet.pdf").status_code == 404


@pytest.mark.parametrize("level", ["nan", "1e9", "high", "-inf"])
def test_a_height_that_is_none_is_refused(client: Any, site: Any, level: str) -> None:
    assert client.get(f"/lifts/{site.find('T-0001')}/level?level={level}").status_code == 422


def test_an_open_question_is_settled_by_a_named_person_only(client: Any, site: Any) -> None:
    find = new_find(client, site, "ingot")
    for text in ("61.4 \u00b1 0.3 kg", "64.9 \u00b1 0.3 kg"):
        client.post(f"/finds/{find}/readings", data={"quantity": "mass", "state": "in air", "text": text, **GOOD})
    address = f"/logbook/questions/{find}?key=reading:mass:in air"
    assert client.post(address, data={"chosen": "0", "reason": "r", **GOOD}).status_code == 422
    assert client.post(address, data={"reason": "r", "author": person(site)}).status_code == 422
    wrong = client.post(address, data={"chosen": "other", "other": "9 m", "reason": "r", "author": person(site)})
    assert wrong.status_code == 422 and 'id="other-wrong"' in wrong.text
    assert client.post(address, data={"chosen": "1", "reason": "r", "author": person(site)}).status_code == 200
    assert [reading.text for reading in site.house.logbook.readings(find)] == ["64.9 \u00b1 0.3 kg"]
    assert client.get(address).status_code == 404


def test_a_register_is_shown_row_by_row_and_only_accepted_rows_enter(client: Any, site: Any) -> None:
    register = b"Find no;Object;Length (mm)\nX/1;sole;245\nX/2;shot;about a foot\nX/3;=1+1;2\n"
    shown = client.post("/finds/take-over", files={"register": ("club.csv", register)})
    before = site.house.logbook.count()
    assert shown.status_code == 200 and "X/2" in shown.text and "Nothing has been entered yet" in shown.text
    assert client.post(str(shown.url.path), data=GOOD).status_code == 422
    assert client.post(str(shown.url.path), data={"which": "ticked", **GOOD}).status_code == 422
    assert site.house.logbook.count() == before
    job = client.post(str(shown.url.path), data={"which": "ticked", "row": "2", **GOOD})
    until = time.monotonic() + 10
    while "1 find entered" not in job.text and time.monotonic() < until:
        job = client.get(job.url)
    assert "1 find entered from club.csv" in job.text
    assert site.house.logbook.find("X/1").title == "sole" and not site.house.logbook.finds("X/2").lines
    assert client.get(str(shown.url.path)).status_code == 404


def test_a_workbook_with_two_sheets_asks_which_one(client: Any) -> None:
    book, out = Workbook(), io.BytesIO()
    book.active.title = "Boats"
    book.active.append(["Find no", "Object"])
    book.active.append(["B/1", "oar"])
    book.create_sheet("Finds").append(["Find no", "Object"])
    book["Finds"].append(["F/1", "block"])
    book.save(out)
    asked = client.post("/finds/take-over", files={"register": ("club.xlsx", out.getvalue())})
    assert "Which sheet" in asked.text and "Boats" in asked.text
    assert client.post(f"{asked.url.path}/sheet").status_code == 422
    assert "F/1" in client.post(f"{asked.url.path}/sheet", data={"sheet": "Finds"}).text
    assert client.post("/finds/take-over", files={"register": ("x.pdf", b"%PDF-1.7")}).status_code == 422
    assert client.post("/finds/take-over").status_code == 422


def test_a_person_is_added_and_the_name_can_be_erased(client: Any, site: Any) -> None:
    assert client.post("/logbook/people", data={"name": "Diver 9"}).status_code == 422
    assert client.post("/logbook/people", data={"name": "Diver 9", "role": "diver"}).status_code == 200
    nine = next(p for p in site.house.logbook.people() if p.name == "Diver 9")
    assert client.post(f"/logbook/people/{nine.id}/erase").status_code == 422
    assert "Diver 9" not in client.post(f"/logbook/people/{nine.id}/erase", data={"sure": "yes"}).text


def test_the_logbook_is_filtered_by_find_and_kind(client: Any, site: Any) -> None:
    answer = client.get("/logbook?about=T-0002&kind=note")
    assert "Charge not excluded" in answer.text and answer.text.count('class="entry"') == 1
    assert 'id="about-wrong"' in client.get("/logbook?about=T-9999").text
    assert "Show older entries" in client.get("/logbook").text


@pytest.mark.parametrize("path", ["/finds/no", "/lifts/no", "/logbook/entry/no", "/jobs/no", "/finds/take-over/no"])
def test_what_is_not_there_says_so_in_words(client: Any, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404 and "<h1>Not here</h1>" in answer.text
