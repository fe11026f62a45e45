"""Bodies to begin with: a text to edit for each common kind of find.

Their proportions are invented unless the source says otherwise, and every one of them says so on its sheet.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

ORDER = (
    "gun",
    "anchor",
    "cask",
    "framed_timber",
    "chest",
    "drum",
    "bell",
    "millstone",
    "jar",
    "ingots",
    "capstan_head",
    "rudder",
    "capstan",
)


@dataclass(frozen=True, slots=True)
class StartingBody:
    """A body text to edit. `source` and `mark` say where its proportions come from."""

    key: str
    title: str
    toml: str
    source: str
    mark: str


@cache
def _all() -> tuple[StartingBody, ...]:
    folder = resources.files(__package__)
    found = []
    for key in ORDER:
        text = folder.joinpath(f"{key}.toml").read_text(encoding="utf-8")
        said = tomllib.loads(text)
        found.append(StartingBody(key, said["title"], text, said["source"], said["mark"]))
    return tuple(found)


def starting_bodies() -> dict[str, StartingBody]:
    """Return the starting bodies by key, the commonest first."""
    return {body.key: body for body in _all()}
