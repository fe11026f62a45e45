"""Cradles to begin with: texts to edit. Invented, and every one of them says so."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import resources

from oakum.lift.cradle.errors import CradleError


@dataclass(frozen=True, slots=True)
class StartingCradle:
    """A text to begin with: its key, and what it is in a line."""

    key: str
    title: str
    words: str


STARTING_CRADLES = (
    StartingCradle("frame", "A timber frame", "nineteen members under and round a heavy find of about 1.5 t"),
    StartingCradle("tray", "A tray", "nine members with bars under a thin plate, carried in a tub of water"),
)


@cache
def starting_cradle(key: str) -> str:
    """Return the TOML text of a starting cradle. `CradleError` for a key there is not."""
    if key not in {one.key for one in STARTING_CRADLES}:
        known = ", ".join(one.key for one in STARTING_CRADLES)
        raise CradleError(f'there is no starting cradle "{key}"; there are {known}')
    return resources.files(__package__).joinpath(f"{key}.toml").read_text(encoding="utf-8")
