"""The gear register on a day: every piece with its papers, what it may bear, and why it may not be used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from oakum.lift.raising import GearItem
from oakum.record import GearPiece, Logbook
from oakum.record.gear.words import tag_key

SAID = {
    "wll": "WLL",
    "certificate_until": "end of the certificate",
    "certificate_from": "beginning of the certificate",
    "inspected_on": "last inspection",
    "inspect_by": "next inspection",
    "withdrawn": "withdrawal",
    "kind": "kind",
    "identity": "identity",
}
"""Fields that a plan rests on: where two entries differ in one, somebody must settle it."""


@dataclass(frozen=True, slots=True)
class GearStanding:
    """A piece of the register and how it stands on a day; `objections` is empty where nothing was found."""

    piece: GearPiece
    item: GearItem
    objections: tuple[str, ...]


def gear_standing(logbook: Logbook, on: date) -> tuple[GearStanding, ...]:
    """Return every piece that is not struck out, in order of kind and identity, as it stands on the day `on`."""
    every = logbook.gear()
    kinds: dict[str, set[str]] = {}
    for piece in every:
        kinds.setdefault(tag_key(piece.identity), set()).add(piece.kind)
    return tuple(
        standing_of(piece, on, key=piece.identity if len(kinds[tag_key(piece.identity)]) == 1 else piece.name)
        for piece in every
    )


def gear_register(logbook: Logbook, on: date) -> dict[str, GearItem]:
    """Return the register for a plan on the day `on`, by the identity on the tag: `register_of` all pieces."""
    return register_of(gear_standing(logbook, on))


def register_of(standing: tuple[GearStanding, ...]) -> dict[str, GearItem]:
    """Return pieces by the identity on the tag.

    Where pieces of several kinds carry one identity, each is found by kind and identity ("shackle 12"), and
    the bare identity says so. Two pieces of one kind with one identity are one item with the lesser WLL and
    an objection.
    """
    found: dict[str, GearItem] = {}
    by_tag: dict[str, list[GearStanding]] = {}
    for one in standing:
        by_tag.setdefault(one.piece.identity, []).append(one)
        held = found.get(one.item.key)
        found[one.item.key] = one.item if held is None else _lesser(held, one.item)
    for tag, several in by_tag.items():
        names = sorted({one.piece.name for one in several})
        if len(names) > 1 and tag not in found:
            why = f"{tag} is the identity of {len(names)} pieces; write which is meant: {' or '.join(names)}"
            found[tag] = GearItem(tag, "several pieces", None, "", None, None, None, why)
    return found


def standing_of(piece: GearPiece, on: date, *, key: str = "") -> GearStanding:
    """Return how a piece stands on the day `on`; where entries differ, the worse value with an objection."""
    name = key or piece.identity
    objections = tuple(f"{name}: {said}" for said in _objections(piece, on.isoformat()))
    wll = _least(piece, "wll")
    item = GearItem(
        key=name,
        kind=piece.kind,
        wll_kg=None if wll is None else float(wll["value"]),
        wll_text="" if wll is None else str(wll["text"]),
        certificate_until=_earliest(piece, "certificate_until"),
        inspection_until=_earliest(piece, "inspect_by"),
        where=piece.fields.get("where"),
        objection="; ".join(objections) or None,
    )
    return GearStanding(piece, item, objections)


def _objections(piece: GearPiece, on: str) -> list[str]:
    said = [f"withdrawn: {why}" for why in _said(piece, "withdrawn")]
    if not _said(piece, "wll"):
        said.append("no WLL from a tag; no tag, no rating")
    said += _certificate(piece, on)
    said += _inspection(piece, on)
    if piece.twins:
        said.append(f"{len(piece.twins) + 1} pieces of this kind carry this identity; look at the tags")
    said += [
        f"entries differ about the {words} ({' / '.join(_shown(head.value) for head in piece.heads[field])}); a named "
        "person must settle it"
        for field, words in SAID.items()
        if len({repr(head.value) for head in piece.heads.get(field, ())}) > 1
    ]
    return said


def _certificate(piece: GearPiece, on: str) -> list[str]:
    begins, ends = _latest(piece, "certificate_from"), _earliest(piece, "certificate_until")
    said = []
    if not _said(piece, "certificate") and not _said(piece, "certificate_file"):
        said.append("no certificate is named")
    if ends is None:
        said.append("how long its certificate holds is not known")
    elif begins is not None and ends < begins:
        said.append(f"its certificate ends ({ends}) before it begins ({begins})")
    elif ends < on:
        said.append(f"its certificate lapsed on {ends}")
    if begins is not None and begins > on:
        said.append(f"its certificate begins only on {begins}")
    return said


def _inspection(piece: GearPiece, on: str) -> list[str]:
    done, due = _earliest(piece, "inspected_on"), _earliest(piece, "inspect_by")
    said = []
    if done is None:
        said.append("when it was last inspected is not known")
    elif done > on:
        said.append(f"its inspection ({done}) lies after the day of use")
    if due is None:
        said.append("by when it must be inspected again is not known")
    elif due < on:
        said.append(f"its inspection lapsed on {due}")
    elif done is not None and due < done:
        said.append(f"its next inspection ({due}) is due before the last one ({done})")
    return said


def _said(piece: GearPiece, field: str) -> list[Any]:
    return [head.value for head in piece.heads.get(field, ()) if head.value is not None]


def _earliest(piece: GearPiece, field: str) -> str | None:
    """The earliest of the dates that stand; None where one of them says "not known"."""
    heads = piece.heads.get(field, ())
    values = [head.value for head in heads]
    return None if not values or None in values else min(values)


def _latest(piece: GearPiece, field: str) -> str | None:
    return max(_said(piece, field), default=None)


def _least(piece: GearPiece, field: str) -> dict[str, Any] | None:
    values = [head.value for head in piece.heads.get(field, ())]
    return None if not values or None in values else min(values, key=lambda value: float(value["value"]))


def _lesser(a: GearItem, b: GearItem) -> GearItem:
    """Of two pieces that cannot be told apart, the one that may bear less; not known is least."""
    return min(a, b, key=lambda item: -1.0 if item.wll_kg is None else item.wll_kg)


def _shown(value: Any) -> str:
    if value is None:
        return "not known"
    return str(value["text"] if isinstance(value, dict) else value)
