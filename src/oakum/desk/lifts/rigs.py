"""The rigs of the finds: keeping a new text over the old."""

from __future__ import annotations

from oakum.desk.finds.saying import say
from oakum.ground.errors import OakumError
from oakum.lift.raising import parse_rig
from oakum.record import Entry, Logbook


class RigError(OakumError):
    """The rig cannot be kept; the text says why."""


def keep_rig(logbook: Logbook, find_id: str, toml: str, *, author: str, reason: str = "") -> Entry:
    """Enter a rig text for a find, over the one that stands.

    Raises `RigFileError` with every problem, its line and key, `FieldErrors` where a change has no reason, and
    `RigError` where it changes nothing.
    """
    find = logbook.find(find_id)
    parse_rig(toml, name=find.number or "rig")
    entry = say(
        logbook, "rig.described", find.id, find.heads, {"rig": toml}, author=author, reason=reason
    )
    if entry is None:
        raise RigError("This is the rig the logbook holds already; nothing was entered.")
    return entry
