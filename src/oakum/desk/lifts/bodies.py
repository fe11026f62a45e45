"""The bodies of the finds: which finds have one, and keeping a new text over the old."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.errors import OakumError
from oakum.lift import mesh_names, parse_body
from oakum.record import Entry, Find, Logbook
from oakum.record.files.store import FileStore


class BodyError(OakumError):
    """The body cannot be kept; the text says why."""


@dataclass(frozen=True, slots=True)
class FindWithBody:
    """A find whose body is described, and the entry that described it last."""

    find: Find
    entry: Entry


def finds_with_body(logbook: Logbook) -> tuple[FindWithBody, ...]:
    """Return every find that has a body, the one described last first."""
    found: dict[str, FindWithBody] = {}
    for entry in logbook.entries(kind="body.described", newest_first=True):
        if entry.subject in found:
            continue
        try:
            find = logbook.find(entry.subject)
        except OakumError:
            continue  # a body that belongs to no find of the register
        if find.fields.get("toml") is not None and not find.is_struck:
            found[entry.subject] = FindWithBody(find, entry)
    return tuple(found.values())


def mesh_files(logbook: Logbook, find: Find, toml: str) -> dict[str, bytes]:
    """Return the meshes a body text names, from the files linked to the find; a name without a file is left out."""
    wanted = set(mesh_names(toml))
    linked = {
        entry.body["name"]: entry.body["sha256"] for entry in find.files if entry.body["name"] in wanted
    }
    store = FileStore(logbook.files_folder)
    return {name: store.get(sha256) for name, sha256 in linked.items()}


def keep_body(logbook: Logbook, find: Find, toml: str, *, author: str, reason: str = "") -> Entry:
    """Enter a body text, over the one that stands. The text must describe a body that can be weighed.

    Raises `BodyFileError` with every problem, its line and key; `BodyError` where a change has no reason or
    changes nothing.
    """
    parse_body(toml, name=find.number or "body", files=mesh_files(logbook, find, toml))
    heads = find.heads.get("toml", ())
    if heads and all(head.value == toml for head in heads):
        raise BodyError("This is the body the logbook holds already; nothing was entered.")
    over = tuple(dict.fromkeys(head.entry.id for head in heads))
    body = {"toml": toml}
    if over:
        if not reason.strip():
            raise BodyError("Say why the body changes; the earlier one stays in the logbook.")
        body["reason"] = reason.strip()
    return logbook.append("body.described", find.id, body, author=author, over=over)
