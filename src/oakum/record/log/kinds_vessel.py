"""The kind of entry about a vessel: its text, and the tables that came beside it, linked by their content."""

from __future__ import annotations

from typing import Any

from oakum.record.log import fact_checks as must
from oakum.record.log.kinds import Kind

MOST_FILES = 40


def be_files(value: Any) -> str | None:
    """A list of {name, sha256}, each name once; it may be empty."""
    if not isinstance(value, list | tuple) or len(value) > MOST_FILES:
        return "expected a list of {name, sha256}"
    for one in value:
        if not isinstance(one, dict) or set(one) != {"name", "sha256"}:
            return "expected a list of {name, sha256}"
        if said := must.be_text(one["name"]) or must.be_sha256(one["sha256"]):
            return said
    names = [one["name"] for one in value]
    twice = next((name for name in names if names.count(name) > 1), None)
    return None if twice is None else f"two files are called {twice!r}; each needs its own name"


VESSEL_KINDS = (
    Kind(
        "vessel.described",
        "a vessel was described",
        {"title": must.be_text, "toml": must.be_long_text, "files": be_files},
        {"note": must.be_text},
    ),
)
