"""What an entry of each kind may say.

Two sorts of kinds. A *field* kind sets fields of its subject; a later entry `over` an earlier one replaces it
in the fields it sets. An *item* kind stands side by side with others of its kind (readings, photographs,
notes) and is never replaced, only struck out.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from oakum.record import fact_checks as must
from oakum.record.errors import FactError

RESERVED = frozenset({"seen", "reason"})
Check = Callable[[Any], str | None]


@dataclass(frozen=True, slots=True)
class Kind:
    """The rules of one kind of entry."""

    name: str
    words: str
    needs: Mapping[str, Check] = field(default_factory=dict)
    may: Mapping[str, Check] = field(default_factory=dict)
    is_item: bool = False
    fields: Mapping[str, Check] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "fields", {**self.needs, **self.may})


FIND_FIELDS: dict[str, Check] = {
    "title": must.be_text,
    "material": must.be_text,
    "kind": must.be_text,
    "count": must.be_count,
    "place": must.be_text,
    "found_on": must.be_text,
    "found_by": must.be_author,
    "context": must.be_text,
    "description": must.be_text,
    "condition": must.be_text,
    "period": must.be_text,
    "marks": must.be_text,
    "kept_at": must.be_text,
    "position": must.be_text,
    "status": must.be_text,
    "note": must.be_text,
    "length": must.be_measure,
    "width": must.be_measure,
    "height": must.be_measure,
    "diameter": must.be_measure,
    "thickness": must.be_measure,
    "depth": must.be_measure,
    "mass": must.be_measure,
    "earlier_numbers": must.be_texts,
    "extra": must.be_pairs,
    "imported_from": must.be_text,
}

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("project.opened", "the project was opened", {"title": must.be_text}, {"note": must.be_text}),
        Kind("station.opened", "a station was opened", {"title": must.be_text}, {"note": must.be_text}),
        Kind(
            "block.given",
            "a block of find numbers was given to a station",
            {"prefix": must.be_text, "first": must.be_count, "last": must.be_count},
            is_item=True,
        ),
        Kind("find.entered", "a find was entered", {}, {"number": must.be_text, **FIND_FIELDS}),
        Kind("find.described", "a find was described", {}, FIND_FIELDS),
        Kind("find.part_of", "a find is part of another", {"parent": must.be_id_or_none}),
        Kind(
            "find.joined",
            "a find was joined to another",
            {"other": must.be_id},
            {"note": must.be_text},
            is_item=True,
        ),
        Kind(
            "find.sample",
            "a sample was taken from a find",
            {"of": must.be_id, "sample": must.be_count, "number": must.be_text},
            {"title": must.be_text, "material": must.be_text, "purpose": must.be_text, "note": must.be_text},
        ),
        Kind(
            "reading",
            "a reading was taken",
            {
                "quantity": must.be_text,
                "state": must.be_text,
                "text": must.be_text,
                "value": must.be_decimal,
                "unit": must.be_si_unit,
            },
            {
                "sd": must.be_spread,
                "instrument": must.be_text,
                "covers": must.be_cover,
                "note": must.be_text,
            },
            is_item=True,
        ),
        Kind(
            "photo.linked",
            "a photograph was linked",
            {"sha256": must.be_sha256, "name": must.be_text},
            {
                "size": must.be_count,
                "media_type": must.be_text,
                "caption": must.be_text,
                "scale": must.be_measure,
                "taken_at": must.be_text,
                "width_px": must.be_count,
                "height_px": must.be_count,
                "thumbnail": must.be_sha256,
            },
            is_item=True,
        ),
        Kind(
            "file.linked",
            "a file was linked",
            {"sha256": must.be_sha256, "name": must.be_text},
            {"size": must.be_size, "media_type": must.be_text, "caption": must.be_text},
            is_item=True,
        ),
        Kind(
            "body.described",
            "the body of a lift was described",
            {"toml": must.be_long_text},
            {"title": must.be_text, "note": must.be_text},
        ),
        Kind("note", "a note was made", {"text": must.be_long_text}, is_item=True),
        Kind("struck", "entries were struck out"),
        Kind(
            "settled",
            "an open question was settled",
            {},
            {"fields": must.be_fields, "reading": must.be_settled},
        ),
        Kind(
            "import.accepted",
            "an imported register was accepted",
            {"name": must.be_text, "sha256": must.be_sha256, "rows": must.be_size},
            {"sheet": must.be_text, "note": must.be_text},
            is_item=True,
        ),
        Kind(
            "restored",
            "a backup was restored as a new station",
            {"from_station": must.be_text},
            {"note": must.be_text},
            is_item=True,
        ),
    )
}

CHANGES = {"struck", "settled"}


def kind_named(name: str) -> Kind:
    """Return the rules of a kind, or raise `FactError` with the nearest kind there is."""
    kind = KINDS.get(name)
    if kind is None:
        near = difflib.get_close_matches(str(name), KINDS, 1)
        hint = f" Did you mean {near[0]!r}?" if near else f" Expected one of: {', '.join(sorted(KINDS))}."
        raise FactError(f"There is no kind of entry called {name!r}.{hint}")
    return kind


def check_fact(name: str, body: Mapping[str, Any], over: tuple[str, ...]) -> None:
    """Raise `FactError`, naming every wrong field, unless an entry of this kind may carry the body."""
    kind = KINDS.get(name) or kind_named(name)
    wrong: list[str] = []
    checks, needs = kind.fields, kind.needs
    for key, value in body.items():
        check = checks.get(key)
        if check is not None:
            said = check(value)
            if said and (value is not None or key in needs):  # null takes a field back: "not known"
                wrong.append(f"{key}: {said}")
        elif key not in RESERVED:
            wrong.append(_unknown(key, kind))
    wrong += [f"{key}: missing" for key in kind.needs if key not in body]
    if "seen" in body and (said := must.be_seen(body["seen"])):
        wrong.append(said)
    if (over or name in CHANGES or "reason" in body) and must.be_text(body.get("reason", "")):
        wrong.append("reason: a correction, a strike-out or a settled question needs a reason in words")
    if over and kind.is_item:
        wrong.append(
            f"over: entries of kind {name!r} stand side by side; strike out the wrong one with a reason and "
            "enter it again"
        )
    if name in CHANGES and not over:
        wrong.append("over: name the entries this is about")
    if name == "settled" and ("fields" in body) == ("reading" in body):
        wrong.append("settled: give either the fields or the reading that shall hold")
    if wrong:
        raise FactError(f"{kind.words.capitalize()} ({name}): " + "; ".join(wrong) + ".")


def _unknown(key: str, kind: Kind) -> str:
    near = difflib.get_close_matches(key, kind.fields, 1)
    hint = f"did you mean {near[0]!r}?" if near else f"expected {', '.join(kind.fields) or 'only a reason'}"
    return f"{key}: not a field of this kind; {hint}"
