"""What a plan rests on, part by part, so that a release that no longer holds can say what has changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from oakum.desk.gear.standing import SAID, GearStanding
from oakum.desk.lifts.vessels import KeptVessel
from oakum.record import Find, Head
from oakum.record.log.canonical import canonical, sha256_hex

Parts = tuple[tuple[str, str], ...]

BODY, RIG, CRADLE, VESSEL = "body", "rig", "cradle", "vessel"
DESCRIBED = (BODY, RIG, CRADLE, VESSEL)
"""Parts that are a text: what counts of it is in the fingerprint, its words may change without a new release."""

_READING, _GEAR = "reading ", "gear "
_OF_A_PIECE = (*SAID, "certificate", "certificate_file", "length", "diameter", "volume")


def parts_of(
    find: Find, used: Mapping[str, tuple[GearStanding, ...]], vessel: KeptVessel | None = None
) -> Parts:
    """Return (part, SHA-256) of body, each reading of mass, rig, cradle, vessel and each piece the rig uses.

    A piece is known by the entries that say what it may bear: one that was withdrawn and brought back is not
    the same as before, even where every figure is.
    """
    found = [(BODY, _texts(find, "toml")), (RIG, _texts(find, "rig"))]
    if find.heads.get("cradle"):
        found.append((CRADLE, _texts(find, "cradle")))
    if vessel is not None:
        found.append((VESSEL, _digest([vessel.title, vessel.toml, sorted(vessel.files.items())])))
    found += [
        (f"{_READING}{one.text} ({one.quantity}, {one.state}; {one.entry.id[-12:]})", _digest(one.entry.id))
        for one in find.readings
        if one.unit == "kg"
    ]
    found += [
        (_GEAR + key, _digest([[one.piece.id, _heads(one.piece.heads), list(one.objections)] for one in pieces]))
        for key, pieces in sorted(used.items())
    ]
    return tuple(found)


def changed(before: Iterable[Iterable[str]], now: Parts, *, also: Iterable[str] = ()) -> tuple[str, ...]:
    """Return in words what differs between the parts a release rested on and those of now.

    A text that changed counts only if its part is in `also`: its words may change without a new release.
    """
    old = {str(part): str(digest) for part, digest in before}
    new = dict(now)
    told = []
    for part in dict.fromkeys([*old, *new]):
        if old.get(part) == new.get(part):
            continue
        if part in DESCRIBED:
            if part in also:
                told.append(
                    f"the {part} was described anew" if part in new else f"there is no {part} any more"
                )
        elif part not in old:
            told.append(f"{part} is new")
        elif part not in new:
            told.append(f"{part} no longer counts")
        else:
            told.append(f"{part} changed")
    return tuple(told)


def _texts(find: Find, field: str) -> str:
    said = sorted(str(head.value) for head in find.heads.get(field, ()))
    files = sorted(entry.body["sha256"] for entry in find.files) if field == "toml" else []
    return _digest([said, files])


def _heads(heads: Mapping[str, tuple[Head, ...]]) -> list[list[str]]:
    return [[field, *sorted(head.entry.id for head in heads.get(field, ()))] for field in _OF_A_PIECE]


def _digest(value: Any) -> str:
    return sha256_hex(canonical(value))
