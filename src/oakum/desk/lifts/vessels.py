"""The vessels a lift may be made from: entering one with its tables, and what the logbook knows of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.ground.errors import OakumError
from oakum.lift.vessel import VesselPapers, parse_vessel, vessel_files
from oakum.record import Entry, Head, Logbook, OpenQuestion
from oakum.record.files.store import FileStore

_FIELDS = ("title", "toml", "files")


class VesselUnknownError(OakumError):
    """There is no such vessel, or there are two; the text says what to do."""


@dataclass(frozen=True, slots=True)
class KeptVessel:
    """A vessel as the logbook has it: the newest text, the digest of each table by name, who described it last.

    `history` has every entry about it, the newest last.
    """

    id: str
    title: str
    toml: str
    files: Mapping[str, str]
    entry: Entry
    heads: Mapping[str, tuple[Head, ...]]
    history: tuple[Entry, ...]


def vessels(logbook: Logbook) -> tuple[KeptVessel, ...]:
    """Return every vessel that is not struck out, in the order of their titles."""
    subjects = dict.fromkeys(entry.subject for entry in logbook.entries(kind="vessel.described"))
    found = [_kept(logbook, subject) for subject in subjects]
    return tuple(sorted((one for one in found if one is not None), key=lambda one: one.title.casefold()))


def _kept(logbook: Logbook, subject: str) -> KeptVessel | None:
    heads = logbook.heads(subject)
    held = [heads.get(field, ()) for field in _FIELDS]
    if not all(held):
        return None  # struck out
    title, toml, files = (several[-1].value for several in held)
    names = {row["name"]: row["sha256"] for row in files or ()}
    history = tuple(logbook.entries(subject))
    return KeptVessel(subject, title, toml, names, held[1][-1].entry, heads, history)


def vessel_named(logbook: Logbook, name_or_id: str) -> KeptVessel:
    """Return the vessel somebody means by its title, capitals aside, or by its id."""
    wanted = " ".join(name_or_id.split()).casefold()
    every = vessels(logbook)
    found = [one for one in every if one.id == name_or_id or one.title.casefold() == wanted]
    if not found:
        known = ", ".join(f'"{one.title}"' for one in every)
        raise VesselUnknownError(
            f'There is no vessel "{name_or_id}" in the logbook. '
            + (f"There are {known}." if known else "Enter its papers under Lifts, Vessels.")
        )
    if len(found) > 1:
        raise VesselUnknownError(
            f'Two vessels are called "{found[0].title}". Strike out the one that was entered twice, or give one '
            "of them another title."
        )
    return found[0]


def papers_of(logbook: Logbook, name_or_id: str) -> VesselPapers:
    """Return what the papers of a vessel say. Where two entries differ, the newest: see `vessel_questions`.

    Raises `VesselUnknownError`; `VesselFileError` where the text no longer reads; `FileStoreError` for a lost table.
    """
    kept = vessel_named(logbook, name_or_id)
    return _parsed(kept.toml, tuple(tables_of(logbook, kept).items()), kept.title)


def vessel_questions(logbook: Logbook, name_or_id: str) -> tuple[OpenQuestion, ...]:
    """Return the open questions about a vessel: each blocks the plans that lift from it."""
    return logbook.open_questions(vessel_named(logbook, name_or_id).id)


def tables_of(logbook: Logbook, kept: KeptVessel) -> dict[str, bytes]:
    """Return the tables of a vessel by name, each checked against its digest."""
    said = {(entry.body.get("toml"), _row_key(entry.body.get("files"))) for entry in kept.history}
    if (kept.toml, tuple(sorted(kept.files.items()))) not in said:
        raise OakumError(
            f"The text and the tables of {kept.title} come from two different entries. Enter its papers again, with "
            "the tables that belong to them."
        )
    store = FileStore(logbook.files_folder)
    return {name: store.get(digest) for name, digest in kept.files.items()}


def _row_key(files: Any) -> tuple[tuple[str, str], ...]:
    return tuple(sorted((row["name"], row["sha256"]) for row in files or ()))


@lru_cache(maxsize=16)
def _parsed(toml: str, files: tuple[tuple[str, bytes], ...], name: str) -> VesselPapers:
    return parse_vessel(toml, dict(files), name)


def enter_vessel(
    logbook: Logbook,
    toml: str,
    files: Mapping[str, bytes],
    *,
    author: str,
    reason: str = "",
    over: str | None = None,
) -> Entry:
    """Enter the papers of a vessel, or with `over`, the id or title of one, correct them.

    Of a vessel that is known, a table that is not sent again is the one that was kept. Nothing is stored unless all
    of it reads: `VesselFileError` with every problem, its line and key; `FieldErrors` for a change without a reason, a
    table that the text does not name, a title that is taken, or a change that changes nothing.
    """
    kept = vessel_named(logbook, over) if over is not None else None
    wanted = vessel_files(toml)
    spare = [name for name in files if name not in wanted]
    held = tables_of(logbook, kept) if kept is not None and set(wanted) - set(files) else {}
    used = {name: data for name in wanted if (data := files.get(name, held.get(name))) is not None}
    papers = parse_vessel(toml, used, kept.title if kept is not None else "vessel")
    if spare:
        raise FieldErrors(
            {
                "files": f'"{spare[0]}" is named nowhere in the text: write file = "{spare[0]}", or leave it out'
            }
        )
    twin = next((one for one in vessels(logbook) if one.title.casefold() == papers.title.casefold()), None)
    if twin is not None and (kept is None or twin.id != kept.id):
        raise FieldErrors(
            {"toml": f'there is a vessel "{twin.title}" already; change its papers, or choose another title'}
        )
    store = FileStore(logbook.files_folder)
    if kept is not None and not reason.strip():
        raise FieldErrors({"reason": "say why the papers change; the earlier ones stay in the logbook"})
    rows = [{"name": name, "sha256": store.put(data, name=name).sha256} for name, data in used.items()]
    body: dict[str, Any] = {"title": papers.title, "toml": toml, "files": rows}
    if kept is None:
        return logbook.append("vessel.described", None, body, author=author)
    if all(head.value == body[field] for field in _FIELDS for head in kept.heads.get(field, ())):
        raise FieldErrors({"toml": "these are the papers the logbook holds already; nothing was entered"})
    heads = [head for field in _FIELDS for head in kept.heads.get(field, ())]
    return logbook.append(
        "vessel.described",
        kept.id,
        body | {"reason": reason.strip()},
        author=author,
        over=tuple(dict.fromkeys(head.entry.id for head in heads)),
    )


def strike_vessel(logbook: Logbook, vessel_id: str, reason: str, *, author: str) -> Entry:
    """Strike out everything said about a vessel, such as one that was entered twice; its history stays.

    Raises `FieldErrors` without a reason.
    """
    if not reason.strip():
        raise FieldErrors({"reason": "say why she is struck out; her papers stay in the logbook"})
    kept = vessel_named(logbook, vessel_id)
    over = tuple(entry.id for entry in kept.history if entry.kind in ("vessel.described", "settled"))
    return logbook.append("struck", kept.id, {"reason": reason.strip()}, author=author, over=over)
