"""A vessel to begin with: a text to edit and its tables, typed as a skipper would send them. Invented."""

from __future__ import annotations

from functools import cache
from importlib import resources


@cache
def example_vessel() -> tuple[str, dict[str, bytes]]:
    """Return the TOML text of an example vessel, and its tables by name."""
    here = resources.files(__package__)
    tables = ("crane-sheet.csv", "beam-seas.csv")
    return (
        here.joinpath("workboat.toml").read_text(encoding="utf-8"),
        {name: here.joinpath(name).read_bytes() for name in tables},
    )
