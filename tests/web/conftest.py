"""A small invented project, a real server on a real socket, and a real browser, for the tests of the pages."""

from __future__ import annotations

import io
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest
import uvicorn
from PIL import Image
from starlette.types import ASGIApp

from oakum.desk.attach import attach_file, attach_photo
from oakum.desk.measures import reading_of
from oakum.desk.weigh import HOOK_LOAD, UNDER_WATER
from oakum.lift import starting_bodies
from oakum.record import Draft, Entry, Logbook, restore
from oakum.web.serve import loopback_socket

Running = Callable[[ASGIApp], AbstractContextManager[str]]


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
        cell = reading_of("445 \u00b1 12 kg", "mass", quantity=HOOK_LOAD, state=UNDER_WATER, instrument="load cell 1")
        inside = logbook.append("find.entered", None, {"title": "buckle"}, author="conservator").subject
        logbook.append_many(
            [
                Draft("body.described", ids[0], {"toml": bodies["capstan"].toml}, director),
                Draft("body.described", ids[1], {"toml": bodies["gun"].toml}, director),
                Draft("reading", ids[0], cell, "recorder"),
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
