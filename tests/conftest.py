"""A small surveyed site for the tests of every face: true places, tapes and depths with known trouble."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from oakum.record import Draft, Logbook, decimal_text

PLACES = {
    "A": (0.0, 0.0, -13.0), "B": (10.0, -1.0, -13.4), "C": (20.0, 0.0, -13.1), "D": (21.0, 12.0, -13.6),
    "E": (10.0, 13.0, -13.2), "F": (-1.0, 12.0, -13.5), "P1": (6.0, 5.0, -14.0), "P2": (8.5, 5.4, -13.9),
    "P3": (12.0, 7.0, -13.7), "P4": (15.0, 4.0, -14.1), "P5": (4.0, 9.0, -13.8), "P6": (17.0, 8.5, -13.9),
}  # fmt: skip
MISREAD = ("B", "E")
LONE = ("M", (10.0, 3.0, -13.5), ("B", "P3"))
SD_M = 0.015


@pytest.fixture(scope="session")
def survey_into() -> Callable[..., None]:
    """Return what enters the site: a misread metre, a mark with two places, a find on two marks."""

    def enter(logbook: Logbook, *, find: str | None = None, author: str = "recorder", trouble: bool = True) -> None:
        rng = np.random.default_rng(11)
        logbook.append("site.named", "site", {"name": "Tolmarren", "anticlockwise": ["A", "C", "E"]}, author=author)
        logbook.append("site.north", "site", {"declination": "-2.5", "turn": "12"}, author=author)
        named = []
        for name in PLACES:
            body = {"name": name, "what": "datum" if name in "ABCDEF" else "detail"}
            if find and name in ("P1", "P2"):
                body |= {"what": "find", "find": find}
            named.append(Draft("mark.named", None, body, author))
        marks = {entry.body["name"]: entry.subject for entry in logbook.append_many(named)}
        held = [Draft("site.held", marks["A"], {"x": "0", "y": "0", "z": "-13"}, author)]
        held.append(Draft("site.held", marks["C"], {"x": "20", "y": "0", "sd": "0.02"}, author))
        logbook.append_many(held)
        names, drafts = list(PLACES), []
        for i, a in enumerate(names):
            for b in names[i + 1 :]:
                long = math.dist(PLACES[a], PLACES[b])
                if long < 14.5:
                    read = long + rng.normal(0, SD_M) + (1.0 if trouble and (a, b) == MISREAD else 0.0)
                    drafts.append(Draft("survey.read", None, _tape(a, b, read), author))
        for name, place in PLACES.items():
            drafts.append(Draft("survey.read", None, _depth(name, -place[2] + rng.normal(0, 0.02)), author))
        if trouble:
            name, place, ends = LONE
            long = {end: math.dist(place, PLACES[end]) for end in ends}
            drafts += [Draft("survey.read", None, _tape(name, end, long[end]), author) for end in ends]
            drafts.append(Draft("survey.read", None, _depth(name, -place[2]), author))
        logbook.append_many(drafts)

    return enter


def _tape(a: str, b: str, metres: float) -> dict[str, object]:
    value = decimal_text(round(metres, 3))
    return {
        "what": "tape", "marks": [a, b], "text": f"{value} m", "value": value, "unit": "m", "sd": "0.015",
        "instrument": "tape 1", "dive": "7",
    }  # fmt: skip


def _depth(mark: str, metres: float) -> dict[str, object]:
    value = decimal_text(round(metres, 2))
    return {
        "what": "depth", "marks": [mark], "text": f"{value} m", "value": value, "unit": "m", "sd": "0.02",
        "instrument": "gauge 1", "dive": "7",
    }  # fmt: skip
