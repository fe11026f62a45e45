"""Rigs to begin with: a text to edit. Invented, and every one of them says so."""

from __future__ import annotations

from functools import cache
from importlib import resources


@cache
def example_rig(key: str = "capstan") -> str:
    """Return the TOML text of an example rig: "capstan"."""
    return resources.files(__package__).joinpath(f"{key}_rig.toml").read_text(encoding="utf-8")
