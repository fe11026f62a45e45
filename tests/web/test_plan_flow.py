"""A lift from its open question to what happened, over HTTP: settled, briefed, released by two, changed, done."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date, timedelta
from html import unescape
from pathlib import Path

import httpx
import pytest
from starlette.types import ASGIApp

from oakum.desk.demo.project import CAPSTAN, make_demo
from oakum.desk.lifts.plan import plan_find
from oakum.record import Logbook
from oakum.web.app import create_app

GOOD = {"author": "recorder"}
DESPITE = "the boom is set to 3.8 m on the day; no lorry is used"


@dataclass(frozen=True, slots=True)
class Lift:
    """The demo served: a client that was let in, its logbook, the capstan and the people by name."""

    client: httpx.Client
    book: Logbook
    find: str
    people: dict[str, str]

    def get(self, place: str) -> str:
        answer = self.client.get(f"/lifts/{self.find}/{place}")
        assert answer.status_code == 200, answer.text
        return plain(answer.text)

    def move(self, what: str, name: str, **data: str) -> httpx.Response:
        return self.client.post(
            f"/lifts/{self.find}/plan/stage/{what}", data={"author": self.people.get(name, name), **data}
        )


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


@pytest.fixture(scope="module")
def lift(
    running: Callable[[ASGIApp], AbstractContextManager[str]], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Lift]:
    folder: Path = make_demo(tmp_path_factory.mktemp("flow"))
    app = create_app(folder, token="once")
    with running(app) as base, httpx.Client(base_url=base, follow_redirects=True, timeout=60) as client:
        client.get("/enter?token=once")
        client.headers["Sec-Fetch-Site"] = "same-origin"
        book = app.state.house.logbook
        people = {person.name: person.id for person in book.people()}
        yield Lift(client, book, book.find(CAPSTAN).id, people)


def test_an_open_question_on_the_mass_blocks_the_release_until_a_named_person_settles_it(lift: Lift) -> None:
    assert lift.move("brief", "Director").status_code == 200
    blocked = lift.move("release", "Director", despite="in a hurry")
    assert blocked.status_code == 422 and "blocked by 1 open question on mass or gear" in plain(blocked.text)
    key = "reading:hook load:submerged"
    settled = lift.client.post(
        f"/logbook/questions/{lift.find}?key={key}",
        data={"chosen": "0", "reason": "cell 2 out of zero", "author": lift.people["Director"]},
    )
    assert settled.status_code == 200
    verdict = lift.get("plan")
    assert "3 objections. Draft: not briefed, not released." in verdict
    assert "the briefing no longer holds" in verdict


def test_a_lapsed_sling_is_replaced_or_released_with_a_reason(lift: Lift) -> None:
    sling = lift.book.piece("S-03").id
    later = (date.today() + timedelta(days=200)).isoformat()
    for field, value in (
        ("certificate_until", later),
        ("inspected_on", date.today().isoformat()),
        ("inspect_by", later),
    ):
        data = {"value": value, "reason": "tested again", **GOOD}
        assert lift.client.post(f"/gear/{sling}/change/{field}", data=data).status_code == 200
    page = lift.get("plan")
    assert "2 objections. Draft" in page  # the crane at its radius, and the cradle on the lorry
    assert "lapsed" not in page.partition("Objections")[2].partition("Open questions")[0]


def test_a_release_takes_two_different_named_people_after_a_briefing(lift: Lift) -> None:
    unbriefed = lift.move("release", "Director")
    assert unbriefed.status_code == 422 and "brief it first" in plain(unbriefed.text)
    assert "A role is not enough" in plain(lift.move("brief", "director").text).replace("a role", "A role")
    assert lift.move("brief", "Director").status_code == 200
    assert lift.move("brief", "Dive leader").status_code == 422
    objected = lift.move("release", "Director")
    assert objected.status_code == 422 and "say why it is released all the same" in plain(objected.text)
    first = lift.move("release", "Director", despite=DESPITE)
    assert "a second, different person has to" in plain(first.text)
    again = lift.move("release", "Director", despite=DESPITE)
    assert again.status_code == 422 and "You have released this plan already" in plain(again.text)
    assert "Now released" in plain(lift.move("release", "Dive leader", despite=DESPITE).text)


def test_a_change_of_the_gear_withdraws_the_release_and_says_what_changed(lift: Lift) -> None:
    sling = lift.book.piece("S-01").id
    lift.client.post(f"/gear/{sling}/withdraw", data={"why": "sleeve cut", **GOOD})
    page = lift.get("plan")
    assert "the release is withdrawn: gear S-01 changed" in page and "withdrawn: sleeve cut" in page
    assert "the release is withdrawn: gear S-01 changed" in plain(lift.client.get("/").text)
    back = {"passed_by": lift.people["Director"], "reason": "the other sling was meant", **GOOD}
    lift.client.post(f"/gear/{sling}/bring-back", data=back)
    assert "gear S-01 changed" in lift.get("plan")
    assert lift.move("brief", "Director").status_code == 200
    for name in ("Director", "Dive leader"):
        assert lift.move("release", name, despite=DESPITE).status_code == 200
    assert "Plans that no longer hold" not in lift.client.get("/").text


@pytest.mark.parametrize(
    ("data", "field"),
    [
        ({"load": "452"}, "load"),
        ({"load": ""}, "load"),
        ({"height": "a metre"}, "height"),
        ({"clear_for": "soon"}, "clear_for"),
        ({"at": "noon"}, "at"),
        ({"by": ""}, "by"),
    ],
)
def test_a_reading_that_cannot_be_read_is_named_and_kept_in_the_form(
    lift: Lift, data: dict[str, str], field: str
) -> None:
    whole = {"load": "452 ± 5 kg", "at": "2026-07-14T10:20", "by": "diver", "height": "-3 m", **GOOD}
    before = lift.book.count()
    answer = lift.client.post(f"/lifts/{lift.find}/after/reading", data={**whole, "note": "calm", **data})
    assert answer.status_code == 422 and f'id="{field}-wrong"' in answer.text
    assert lift.book.count() == before


def test_what_happened_stands_against_the_bands_and_teaches_the_next_plan(lift: Lift) -> None:
    done = lift.move("done", "Director")
    assert done.status_code == 200 and str(done.url).endswith("?said=done")
    whole = {"at": "2026-07-14T10:20", "by": "recorder", "bags_empty": "yes", **GOOD}
    trial = plan_find(lift.book, lift.find, on=date.today(), with_helps=False).plan.trial
    assert trial is not None and trial.unit == "kg"
    inside = f"{0.5 * (trial.low + trial.high):.0f} ± 5 kg"
    for load, height in ((inside, "-3 m"), ("2.4 t ± 20 kg", "0.2 m")):
        data = {**whole, "load": load, "height": height}
        assert lift.client.post(f"/lifts/{lift.find}/after/reading", data=data).status_code == 200
    for step, taken in (("sling", "85"), ("brief", "20 min")):
        data = {"step": step, "taken": taken, **GOOD}
        assert lift.client.post(f"/lifts/{lift.find}/after/minutes", data=data).status_code == 200
    event = {"text": "Crust came off the upper band.", "step": "trial", **GOOD}
    assert lift.client.post(f"/lifts/{lift.find}/after/event", data=event).status_code == 200
    page = lift.get("after")
    assert "1 of 2 readings inside the plan’s band" in page and "1 reading above the plan's band" in page
    assert "Sling 47 to 81 min 85 min longer" in page and "Crust came off the upper band. Trial lift" in page
    html = lift.client.get(f"/lifts/{lift.find}/after").text
    assert 'class="readings"' in html and "above the band" in html
    wrong = lift.client.post(f"/lifts/{lift.find}/after/minutes", data={"step": "", "taken": "soon", **GOOD})
    assert (
        wrong.status_code == 422 and 'id="minutes-step-wrong"' in wrong.text and 'value="soon"' in wrong.text
    )
    assert lift.client.post(f"/lifts/{lift.find}/after/event", data=GOOD).status_code == 422


def test_a_cells_log_is_kept_read_and_refused_with_what_is_wrong(lift: Lift) -> None:
    lines = ["time,load (kN),height (m)"]
    lines += [f"{2 * i},{0.02 + 0.0001 * i:.4f}," for i in range(30)]
    lines += [f"{200 + 2 * i},{4.75 + 0.0001 * i:.4f},{-3 + 0.01 * i:.2f}" for i in range(60)]
    lines += [f"{400 + 2 * i},{0.05:.4f}," for i in range(30)]
    address = f"/lifts/{lift.find}/after/log"
    files = {"log": ("cell.csv", "\n".join(lines).encode())}
    assert lift.client.post(address, data={"unit": "kN", **GOOD}).status_code == 422
    backwards = lift.client.post(address, data={"unit": "kN", "before": "60 to 0", **GOOD}, files=files)
    assert backwards.status_code == 422 and 'id="log-before-wrong"' in backwards.text
    junk = lift.client.post(address, data={"unit": "kN", **GOOD}, files={"log": ("x.csv", b"a,b\n1,2\n")})
    assert junk.status_code == 422 and "no column" in junk.text
    data = {"unit": "kN", "before": "0 to 58", "after": "400..458", **GOOD}
    page = plain(lift.client.post(address, data=data, files=files).text)
    assert "120 readings over 8 min" in page and "the unloaded cell moved by" in page
    assert "nothing was read from" in page and "lie inside the band" in page


def test_a_trial_is_carried_over_to_another_find_side_by_side(lift: Lift) -> None:
    page = lift.get("after?to=T-0004")
    assert "What scales" in page and "What does not" in page and "it goes by the area buried" in page
    answer = lift.client.get(f"/lifts/{lift.find}/after?to=T-9999")
    assert 'id="to-wrong"' in answer.text


def test_every_page_of_an_invented_project_says_so_and_so_do_its_sheets(lift: Lift) -> None:
    for address in ("/", "/gear", f"/lifts/{lift.find}/plan"):
        assert "The Tolmarren wreck is invented" in lift.client.get(address).text.split("<footer")[1]
    lift.move("abandon", "Director", why="enough for a demonstration")


def test_an_abandoned_plan_says_why_and_a_new_briefing_begins_a_new_one(lift: Lift) -> None:
    assert lift.move("brief", "Director").status_code == 200
    empty = lift.move("abandon", "Director")
    assert empty.status_code == 422 and 'id="why-wrong"' in empty.text
    page = plain(lift.move("abandon", "Director", why="swell at the mooring").text)
    assert "Abandoned" in page and "abandoned: swell at the mooring" in page
    assert "Briefed, not released" in plain(lift.move("brief", "Director").text)
