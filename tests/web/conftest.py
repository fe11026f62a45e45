"""A small invented project, a real server on a real socket, and a real browser, for the tests of the pages."""

from __future__ import annotations

import io
import os
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import httpx
import pytest
import uvicorn
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from starlette.types import ASGIApp

from oakum.desk.demo.lifts import enter_lifts
from oakum.desk.finds.attach import attach_file, attach_photo
from oakum.desk.finds.measures import reading_of
from oakum.desk.finds.register_import import propose
from oakum.desk.gear.list_import import propose_gear
from oakum.lift import starting_bodies
from oakum.record import Draft, Entry, Logbook, restore
from oakum.web.app import create_app
from oakum.web.house import House
from oakum.web.jobs import Outcome
from oakum.web.serve import loopback_socket

Running = Callable[[ASGIApp], AbstractContextManager[str]]
FLAGS = (
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--disable-3d-apis",  # test_scene.py has browsers of its own with and without WebGL; drawn in software it is slow
)
EXPECTED = "Failed to load resource: the server responded with a status of 4"  # a form sent back, a page not there
READING_BACK = "GPU stall due to ReadPixels"  # a canvas drawn without a graphics card


@dataclass(frozen=True, slots=True)
class Site:
    """A served project: its address, what the application holds, and the cookies of a browser that was let in."""

    base: str
    house: House
    cookies: Any

    def find(self, number: str) -> str:
        """Return the id of a find."""
        return self.house.logbook.find(number).id

    def pages(self) -> dict[str, str]:
        """Return the address of every page, each by a name."""
        capstan, ingot, jar = self.find("T-0001"), self.find("T-0003"), self.find("T-0006")
        book = self.house.logbook
        asked = {f"question {q.key}": f"/logbook/questions/{q.subject}?key={q.key}" for q in book.open_questions()}
        job = self.house.jobs.start("Count", lambda progress: Outcome("Counted."))
        tray = self.house.trays.put("register.csv", REGISTER, propose(book, REGISTER, "register.csv"))
        choice = self.house.trays.put("register.xlsx", b"", None, ("Finds 2025", "Finds 2026"))
        first = book.entries(capstan)[0].id
        return {
            "today": "/",
            "finds": "/finds",
            "search": "/finds?q=oak",
            "search without a hit": "/finds?q=porcelain",
            "new find": "/finds/new",
            "capstan": f"/finds/{capstan}",
            "ingot": f"/finds/{ingot}",
            "jar": f"/finds/{jar}",
            "change": f"/finds/{capstan}/change/material",
            "strike": f"/finds/{capstan}/strike/{first}",
            "take over": "/finds/take-over",
            "take over rows": f"/finds/take-over/{tray.key}",
            "take over sheets": f"/finds/take-over/{choice.key}",
            "lifts": "/lifts",
            "lift": f"/lifts/{capstan}",
            "body": f"/lifts/{capstan}/body",
            "starting bodies": f"/lifts/{ingot}/body",
            **self._plans(capstan, self.find("T-0002"), jar),
            **self._gear(),
            "logbook": "/logbook",
            "entry": f"/logbook/entry/{first}",
            "questions": "/logbook/questions",
            **asked,
            "people": "/logbook/people",
            "job": f"/jobs/{job.id}",
            "not there": "/sea",
        }


    def _plans(self, capstan: str, gun: str, jar: str) -> dict[str, str]:
        """Return the pages of a lift's plan."""
        return {
            "plan": f"/lifts/{capstan}/plan",
            "what if": f"/lifts/{capstan}/plan?bags=4&hook=4.2",
            "refused what if": f"/lifts/{capstan}/plan?bags=99",
            "plan of the gun": f"/lifts/{gun}/plan",
            "rig": f"/lifts/{capstan}/rig",
            "rig taken over": f"/lifts/{capstan}/rig?bags=2",
            "rig to begin with": f"/lifts/{capstan}/rig?start=empty",
            "role": f"/lifts/{capstan}/plan/role?role=bag%20diver",
            "brief": f"/lifts/{capstan}/plan/stage/brief",
            "release": f"/lifts/{gun}/plan/stage/release",
            "blocked release": f"/lifts/{capstan}/plan/stage/release",
            "done": f"/lifts/{gun}/plan/stage/done",
            "abandon": f"/lifts/{gun}/plan/stage/abandon",
            "after": f"/lifts/{capstan}/after?to=T-0002",
            "hazards": f"/finds/{jar}/hazards",
            "charge": f"/finds/{gun}/hazards/charge",
            "remains": f"/finds/{gun}/hazards/remains",
            "decision": f"/finds/{gun}/decision",
        }

    def _gear(self) -> dict[str, str]:
        """Return the pages of the gear register."""
        book = self.house.logbook
        sling = book.piece("S-03")
        proposal = propose_gear(book, HIRED, "hired.csv", on=date.today())
        tray = self.house.gear_trays.put("hired.csv", HIRED, proposal)
        choice = self.house.gear_trays.put("hired.xlsx", b"", None, ("Slings", "Shackles"))
        return {
            "gear": "/gear",
            "gear, a search": "/gear?q=shackle",
            "gear, a search without a hit": "/gear?q=trebuchet",
            "new piece": "/gear/new",
            "piece": f"/gear/{sling.id}",
            "change a piece": f"/gear/{sling.id}/change/wll",
            "strike a piece": f"/gear/{sling.id}/strike/{sling.history[0].id}",
            "gear list": "/gear/list",
            "gear list rows": f"/gear/list/{tray.key}",
            "gear list sheets": f"/gear/list/{choice.key}",
        }


HIRED = b"""Serial no;Type;WLL (t);Certificate no;Valid until
GX 12;bow shackle;4.75;C-881;2031-04-30
GX 13;bow shackle;4.75;C-882;2020-04-30
;webbing sling;3;C-883;2031-04-30
"""
REGISTER = b"""Find no;Object;Material;Qty;Length (mm)
TOL/98/014;Shoe sole;leather;1;245
14;Bar shot;iron;2;about a foot
"""


@contextmanager
def _running(app: ASGIApp) -> Iterator[str]:
    listener = loopback_socket()
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="on"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    until = time.monotonic() + 20
    while not server.started:
        assert thread.is_alive() and time.monotonic() < until, "the server did not start"
        time.sleep(0.005)
    try:
        yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    finally:
        server.should_exit = True
        thread.join(20)
        listener.close()


@pytest.fixture(scope="session")
def running() -> Running:
    """Serve an application on a free port of 127.0.0.1; gives its address without a slash at the end."""
    return _running


@pytest.fixture(scope="session")
def site(running: Running, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """Serve the project of `make_project`, with one browser let in by the link."""
    app = create_app(make_project(tmp_path_factory.mktemp("web")), token="one-time")
    with running(app) as base:
        host = base.removeprefix("http://").partition(":")[0]
        with httpx.Client(base_url=base) as client:
            client.get("/enter?token=one-time")
            cookies = [
                {"name": name, "value": value, "domain": host, "path": "/", "sameSite": "Strict", "httpOnly": True}
                for name, value in client.cookies.items()
            ]
        yield Site(base, app.state.house, cookies)


@pytest.fixture(scope="session")
def client(site: Site) -> Iterator[httpx.Client]:
    """Ask the site without a browser, as one of its own pages would."""
    jar = {cookie["name"]: cookie["value"] for cookie in site.cookies}
    own = {"Sec-Fetch-Site": "same-origin"}
    with httpx.Client(base_url=site.base, cookies=jar, headers=own, follow_redirects=True, timeout=60) as client:
        yield client


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Start the browser that OAKUM_BROWSER names; a missing one fails, it never skips."""
    path = os.environ.get("OAKUM_BROWSER", "")
    if not os.path.isfile(path):
        pytest.fail("OAKUM_BROWSER must name a Chromium; `python3 dev.py test` finds or installs one.")
    root = ["--no-sandbox"] if hasattr(os, "getuid") and os.getuid() == 0 else []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=[*FLAGS, *root])
        yield browser
        browser.close()


@pytest.fixture
def opened(browser: Browser, site: Site) -> Iterator[Callable[..., Page]]:
    """Open pages of the site; at the end no console error, no broken policy and no other host may have been seen."""
    contexts: list[BrowserContext] = []
    seen: list[str] = []
    asked: list[str] = []

    def open_page(path: str = "/", **options: Any) -> Page:
        context = browser.new_context(base_url=site.base, **options)
        contexts.append(context)
        context.add_cookies(site.cookies)
        page = context.new_page()
        page.set_default_timeout(30_000)
        page.on("console", lambda m: seen.append(m.text) if m.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: seen.append(str(error)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert [text for text in seen if not text.startswith(EXPECTED) and READING_BACK not in text] == []
    assert asked and all(url.startswith((site.base, "data:", "blob:")) for url in asked)


def make_project(folder: Path) -> Path:
    """Make a project with every kind of thing a page shows, and give its folder."""
    with Logbook.create(folder, "Tolmarren", station="hut", author="director", prefix="T") as logbook:
        director = logbook.add_person("Director", "directs the excavation").id
        seen = {"at": "2026-06-12T10:20", "zone": "+01:00", "precision": "minute", "by": "diver", "from": "slate"}
        rows = (
            ("capstan", "oak, iron", 1, "Drumhead and barrel of oak with iron bands", "TOL/26/001"),
            ("small gun", "cast iron", 1, "Iron gun in concretion, muzzle plugged", "TOL/26/004"),
            ("lead ingot", "lead", 1, "Boat-shaped, three strokes", "14"),
            ("nails", "iron", 40, "Square shank, mostly concretion casts", "F.10"),
            ("concretion", "concretion", 1, "Lump with a hollow that rattles", "TOL/26/019"),
            ("jar sherd", "stoneware", 1, "Rim with part of a handle", "TOL/26/015"),
            ("jar sherd", "stoneware", 1, "Handle and shoulder", "TOL/26/016"),
            ("deadeye", "elm", 1, "Three holes, strop gone", "TOL/26/021"),
        )
        first = logbook.append_many(
            Draft(
                "find.entered",
                None,
                {"title": title, "material": material, "count": count, "description": words, "earlier_numbers": [no]},
                "recorder",
                seen=seen,
            )
            for title, material, count, words, no in rows
        )
        ids = [entry.subject for entry in first]
        logbook.append_many(
            Draft("find.entered", None, {"title": f"treenail {i}", "material": "oak"}, "recorder") for i in range(60)
        )
        bodies = starting_bodies()
        inside = logbook.append("find.entered", None, {"title": "buckle"}, author="conservator").subject
        logbook.append_many(
            [
                Draft("body.described", ids[0], {"toml": bodies["capstan"].toml}, director),
                Draft("body.described", ids[1], {"toml": bodies["gun"].toml}, director),
                *(
                    Draft("reading", ids[2], reading_of(text, "mass", quantity="mass", state="in air"), "recorder")
                    for text in ("61.4 \u00b1 0.3 kg", "64.9 \u00b1 0.3 kg")
                ),
                Draft("reading", ids[4], reading_of("2.1 kg", "mass", quantity="mass", state="in air"), "recorder"),
                Draft("find.part_of", inside, {"parent": ids[4]}, "conservator"),
                Draft("find.joined", ids[5], {"other": ids[6], "note": "fresh break"}, "conservator"),
                Draft("find.sample", None, {"of": ids[7], "title": "slice"}, "conservator"),
                Draft("note", ids[1], {"text": "Charge not excluded: nobody drills or heats it."}, director),
            ]
        )
        conservator = logbook.add_person("Conservator", "county laboratory").id
        enter_lifts(logbook, {"capstan": ids[0], "gun": ids[1]}, director, conservator, on=date.today())
        _disagree(logbook, folder, first[7])
        picture = io.BytesIO()
        Image.linear_gradient("L").resize((640, 480)).save(picture, "JPEG")
        attach_photo(logbook, ids[0], "capstan.jpg", picture.getvalue(), author=director, scale="50 cm")
        attach_file(logbook, ids[0], "notes.txt", b"slate 7", author=director, caption="Slate of dive 7")
        return logbook.folder


def _disagree(logbook: Logbook, folder: Path, entry: Entry) -> None:
    """Let the hut and a copy of the project at the laboratory correct the same fact, and bring them together."""
    with restore(logbook.backup(folder / "copy"), folder / "laboratory") as other:
        for book, material in ((logbook, "ash"), (other, "oak")):
            body = {"material": material, "reason": "under the lens"}
            book.append("find.described", entry.subject, body, author="conservator", over=[entry.id])
        logbook.receive(other.entries())


@pytest.fixture(scope="module")
def surveyed(running: Any, survey_into: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """Serve the surveyed site; gives its address, cookies of a browser, a client, and what the application holds."""
    with Logbook.create(tmp_path_factory.mktemp("survey"), "Tolmarren", author="director", prefix="T") as book:
        find = book.append("find.entered", None, {"title": "capstan"}, author="recorder").subject
        survey_into(book, find=find)
        folder = book.folder
    app = create_app(folder, token="one-time")
    with running(app) as base, httpx.Client(base_url=base, timeout=60) as client:
        client.get("/enter?token=one-time")
        jar = [{"name": n, "value": v, "url": base, "sameSite": "Strict"} for n, v in client.cookies.items()]
        yield base, jar, client, app.state.house


@pytest.fixture
def plan(browser: Browser, surveyed: Any) -> Iterator[Callable[..., Page]]:
    base, jar, *_ = surveyed
    contexts: list[Any] = []
    seen: list[str] = []

    def opened(path: str = "/seabed", **options: Any) -> Page:
        context = browser.new_context(base_url=base, **options)
        contexts.append(context)
        context.add_cookies(jar)
        page = context.new_page()
        page.set_default_timeout(10_000)
        page.on("console", lambda m: seen.append(m.text) if m.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: seen.append(str(error)))
        page.on("request", lambda request: seen.append(request.url) if not request.url.startswith(base) else None)
        page.goto(path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert [text for text in seen if not text.startswith(EXPECTED)] == []
