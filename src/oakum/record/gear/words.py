"""What the pieces of gear are called, and when two identities are one and the same."""

from __future__ import annotations

import difflib

GEAR_KINDS = (
    "shackle",
    "webbing sling",
    "round sling",
    "wire rope sling",
    "chain sling",
    "rope sling",
    "strop",
    "hook",
    "ring",
    "swivel",
    "eyebolt",
    "rigging screw",
    "clamp",
    "spreader beam",
    "lifting frame",
    "lifting bag",
    "load cell",
    "winch",
    "hoist",
    "crane",
    "line",
    "anchor",
    "other",
)
"""Kinds a piece of gear may have; what fits none is "other", with a description."""


def near_kind(text: str) -> str:
    """Return what to write instead of an unknown kind."""
    near = difflib.get_close_matches(text.casefold(), GEAR_KINDS, 1, cutoff=0.75)
    return f"did you mean {near[0]!r}?" if near else f"expected one of {', '.join(GEAR_KINDS)}"


def identity_key(kind: str, identity: str) -> str:
    """Return what two writings of one identity share: case and spaces do not matter, the kind does."""
    return f"{kind.casefold()} {tag_key(identity)}"


def tag_key(identity: str) -> str:
    """Return the identity without spaces, in small letters: ``SH 12`` and ``sh12`` share it."""
    return "".join(identity.split()).casefold()
