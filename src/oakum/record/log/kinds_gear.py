"""Kinds of entries about a piece of gear: what stands on its tag and in its papers, and whether it is in use."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from oakum.record.log import fact_checks as must
from oakum.record.log import lift_checks as lift
from oakum.record.log.kinds import Check, Kind

GEAR_FIELDS: dict[str, Check] = {
    "identity": must.be_text,
    "kind": lift.be_gear_kind,
    "description": must.be_text,
    "wll": lift.be_wll,
    "length": lift.be_length,
    "diameter": lift.be_length,
    "volume": lift.be_volume,
    "mass": must.be_mass,
    "leg_of": must.be_text,
    "maker": must.be_text,
    "owner": must.be_text,
    "certificate": must.be_text,
    "certificate_from": lift.be_day,
    "certificate_until": lift.be_day,
    "certificate_file": must.be_sha256,
    "inspected_on": lift.be_day,
    "inspect_by": lift.be_day,
    "where": must.be_text,
    "note": must.be_text,
    "extra": must.be_pairs,
    "imported_from": must.be_text,
}


def papers_in_order(body: Mapping[str, Any]) -> str | None:
    """Say which paper ends before it begins, or return None."""
    begins, ends = body.get("certificate_from"), body.get("certificate_until")
    if isinstance(begins, str) and isinstance(ends, str) and ends < begins:
        return f"the certificate ends ({ends}) before it begins ({begins}); look at the paper again"
    done, due = body.get("inspected_on"), body.get("inspect_by")
    if isinstance(done, str) and isinstance(due, str) and due < done:
        return f"the next inspection ({due}) is due before the last one ({done}); look at the paper again"
    return None


GEAR_KINDS_OF_ENTRY = (
    Kind(
        "gear.listed",
        "a piece of gear was listed",
        {"identity": must.be_text, "kind": lift.be_gear_kind},
        {name: check for name, check in GEAR_FIELDS.items() if name not in ("identity", "kind")},
        whole=papers_in_order,
    ),
    Kind("gear.described", "a piece of gear was described", {}, GEAR_FIELDS, whole=papers_in_order),
    Kind("gear.withdrawn", "a piece of gear was withdrawn", {"withdrawn": must.be_text}),
    Kind(
        "gear.brought_back",
        "a piece of gear was brought back into use",
        {"withdrawn": must.be_nothing},
        {"passed_by": lift.be_person},
        changes=True,
    ),
)
