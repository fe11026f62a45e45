"""Entering and changing pieces of gear from typed text: the one way in for pages and command line."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.finds.measures import measure_of
from oakum.desk.finds.saying import say
from oakum.ground.errors import OakumError
from oakum.ground.quantities import QuantityError
from oakum.record import Entry, GearPiece, Logbook
from oakum.record.files.store import FileStore
from oakum.record.gear.cells import wll_measure
from oakum.record.gear.words import GEAR_KINDS, near_kind
from oakum.record.log.lift_checks import be_day

GEAR_INTAKE = (
    "identity",
    "kind",
    "description",
    "wll",
    "length",
    "diameter",
    "volume",
    "mass",
    "leg_of",
    "maker",
    "owner",
    "certificate",
    "certificate_from",
    "certificate_until",
    "inspected_on",
    "inspect_by",
    "where",
    "note",
)
"""The fields of a piece in the order one reads them off the tag and the papers."""

_DIMENSIONS = {"length": "length", "diameter": "length", "volume": "volume", "mass": "mass"}
_DAYS = ("certificate_from", "certificate_until", "inspected_on", "inspect_by")


class GearError(OakumError):
    """What was asked of a piece of gear cannot be done; the text says why."""


def gear_value(field: str, text: str) -> Any:
    """Return the value of one field from typed text, None for an empty one. Raises an error with what to write."""
    text = text.strip()
    if not text:
        return None
    if field == "wll":
        return wll_measure(text, None)
    if field in _DIMENSIONS:
        return measure_of(text, _DIMENSIONS[field])
    if field in _DAYS:
        if said := be_day(text):
            raise GearError(said)
    elif field == "kind":
        kind = " ".join(text.casefold().split())
        if kind not in GEAR_KINDS:
            raise GearError(f"{text!r} is no kind of gear; {near_kind(text)}")
        return kind
    return text


def gear_values(typed: Mapping[str, str]) -> dict[str, Any]:
    """Return the values of every field that was filled in. Raises `FieldErrors` naming each wrong one."""
    found: dict[str, Any] = {}
    wrong: dict[str, str] = {}
    for field, text in typed.items():
        if field not in GEAR_INTAKE:
            wrong[field] = "there is no such field of a piece of gear"
            continue
        try:
            value = gear_value(field, text)
        except (OakumError, QuantityError, ValueError) as error:
            wrong[field] = str(error)
        else:
            if value is not None:
                found[field] = value
    if wrong:
        raise FieldErrors(wrong)
    return found


def list_piece(
    logbook: Logbook,
    typed: Mapping[str, str],
    *,
    author: str,
    certificate: tuple[str, bytes] | None = None,
) -> GearPiece:
    """List a piece from typed fields; `certificate` is the name and content of a scan of the paper.

    Raises `FieldErrors` for what cannot be read, `FactError` for a second piece with the same identity.
    """
    body = gear_values(typed)
    lacks = {
        field: said
        for field, said in (
            ("identity", "write what stands on the tag; a piece without a tag cannot be told from another"),
            ("kind", f"say what it is: {near_kind('')}"),
        )
        if field not in body
    }
    if lacks:
        raise FieldErrors(lacks)
    if certificate is not None:
        name, content = certificate
        body["certificate_file"] = FileStore(logbook.files_folder).put(content, name=name).sha256
    entry = logbook.append("gear.listed", None, body, author=author)
    return logbook.piece(entry.subject)


def change_piece(
    logbook: Logbook, piece_id: str, field: str, text: str, *, author: str, reason: str = ""
) -> Entry | None:
    """Say something new about one field of a piece, over what stood there. None where nothing changes."""
    value = gear_values({field: text}).get(field)
    if value is None and field in ("identity", "kind"):
        raise FieldErrors({field: "a piece keeps its kind and identity; strike it out if it was listed wrongly"})
    return _say(logbook, piece_id, "gear.described", {field: value}, author, reason)


def attach_certificate(
    logbook: Logbook, piece_id: str, name: str, content: bytes, *, author: str, reason: str = ""
) -> Entry | None:
    """Keep the scan of a certificate and say that it is this piece's."""
    kept = FileStore(logbook.files_folder).put(content, name=name).sha256
    said = reason or "the newest paper"
    return _say(logbook, piece_id, "gear.described", {"certificate_file": kept}, author, said)


def withdraw(logbook: Logbook, piece_id: str, why: str, *, author: str) -> Entry | None:
    """Take a piece out of use, and say why; every plan that uses it objects from now on."""
    if not why.strip():
        raise FieldErrors({"withdrawn": "say what is wrong with it"})
    return _say(logbook, piece_id, "gear.withdrawn", {"withdrawn": why.strip()}, author, why)


def bring_back(logbook: Logbook, piece_id: str, *, passed_by: str, reason: str, author: str) -> Entry:
    """Bring a withdrawn piece back into use: passed by a named person, for a reason."""
    piece = logbook.piece(piece_id)
    heads = piece.heads.get("withdrawn", ())
    if not any(head.value is not None for head in heads):
        raise GearError(f"{piece.name} is not withdrawn; nothing was entered.")
    if not reason.strip():
        raise FieldErrors({"reason": "say what was done, and why it may be used again"})
    body = {"withdrawn": None, "passed_by": passed_by, "reason": reason.strip()}
    over = tuple(dict.fromkeys(head.entry.id for head in (*heads, *piece.heads.get("passed_by", ()))))
    return logbook.append("gear.brought_back", piece.id, body, author=author, over=over)


def _say(
    logbook: Logbook, piece_id: str, kind: str, fields: dict[str, Any], author: str, reason: str
) -> Entry | None:
    piece = logbook.piece(piece_id)
    return say(logbook, kind, piece.id, piece.heads, fields, author=author, reason=reason)
