"""Kinds of entries about the project, its finds and what belongs to them."""

from __future__ import annotations

from oakum.record.log import fact_checks as must
from oakum.record.log import lift_checks as lift
from oakum.record.log.kinds import Check, Kind

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

PROJECT_AND_FIND_KINDS = (
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
            "gear": must.be_mass,
            "frame": lift.be_flag,
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
    Kind("note", "a note was made", {"text": must.be_long_text}, is_item=True),
    Kind("struck", "entries were struck out", changes=True),
    Kind(
        "settled",
        "an open question was settled",
        {},
        {"fields": must.be_fields, "reading": must.be_settled},
        changes=True,
    ),
    Kind(
        "import.accepted",
        "an imported list was accepted",
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
