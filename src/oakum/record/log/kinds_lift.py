"""Kinds of entries about the lift of a find: body, rig, cradle, hazards, roles, states of its plan, what happened.

One field a hazard (``hazard_charge``) and one a role (``role_lift_supervisor``), so that each is corrected, and
questioned, by itself.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from oakum.record.log import fact_checks as must
from oakum.record.log import lift_checks as lift
from oakum.record.log.kinds import Check, Kind

HAZARD_PREFIX, ROLE_PREFIX = "hazard_", "role_"
PLAN_KINDS = ("plan.briefed", "plan.released", "plan.done", "plan.abandoned")

_HAZARD_FIELDS: dict[str, Check] = {
    HAZARD_PREFIX + key: lift.be_hazard if key in lift.MAY_BE_AUTHORISED else lift.be_unauthorisable
    for key in lift.HAZARDS
}


def role_field(role: str) -> str:
    """Return the name of the field that holds a role: "Lift supervisor" gives ``role_lift_supervisor``."""
    return (ROLE_PREFIX + re.sub(r"[^a-z0-9]+", "_", role.lower()).strip("_"))[:40]


def _says_something(body: Mapping[str, Any]) -> str | None:
    return None if any(key not in ("seen", "reason") for key in body) else "nothing is said; name one at least"


def _roles_fit(body: Mapping[str, Any]) -> str | None:
    for name, held in body.items():
        role = held.get("role") if name.startswith(ROLE_PREFIX) and isinstance(held, dict) else None
        if isinstance(role, str) and name != role_field(role):
            return f"{name}: holds the role {role!r}, whose field is {role_field(role)}"
    return _says_something(body)


def _when(body: Mapping[str, Any]) -> str | None:
    return None if "seen" in body else "seen: say when it was read, and by whom"


_PLAN_RESTS: dict[str, Check] = {"fingerprint": must.be_sha256, "rests_on": lift.be_parts}
_PLAN_MAY: dict[str, Check] = {"after": lift.be_ids, "note": must.be_text}

LIFT_KINDS = (
    Kind(
        "body.described",
        "the body of a lift was described",
        {"toml": must.be_long_text},
        {"title": must.be_text, "note": must.be_text},
    ),
    Kind("rig.described", "the rig of a lift was described", {"rig": must.be_long_text}),
    Kind("cradle.described", "the cradle of a lift was described", {"cradle": must.be_long_text}),
    Kind("find.hazard", "a hazard of a find was answered", {}, _HAZARD_FIELDS, whole=_says_something),
    Kind(
        "authorisation.linked",
        "an authorisation was linked",
        {"hazard": must.be_text, "authority": must.be_text, "on": lift.be_day},
        {
            "number": must.be_text,
            "until": lift.be_day,
            "sha256": must.be_sha256,
            "name": must.be_text,
            "note": must.be_text,
        },
        is_item=True,
    ),
    Kind(
        "decision.in_situ",
        "it was decided why the find is not left where it is",
        {"raise_because": must.be_text, "raise_decided_by": lift.be_person, "raise_decided_on": lift.be_day},
        {"raise_alternatives": must.be_text},
    ),
    Kind(
        "role.confirmed",
        "a role of the lift was given",
        each=(ROLE_PREFIX, lift.be_role_held),
        whole=_roles_fit,
    ),
    Kind("plan.briefed", "a plan was briefed", _PLAN_RESTS, _PLAN_MAY, is_item=True),
    Kind(
        "plan.released",
        "a plan was released",
        _PLAN_RESTS,
        {**_PLAN_MAY, "despite": must.be_text, "objections": must.be_texts},
        is_item=True,
    ),
    Kind("plan.done", "a lift was done", {"fingerprint": must.be_sha256}, _PLAN_MAY, is_item=True),
    Kind(
        "plan.abandoned",
        "a lift was abandoned",
        {"why": must.be_text},
        {"fingerprint": must.be_sha256, **_PLAN_MAY},
        is_item=True,
    ),
    Kind(
        "lift.reading",
        "the load cell was read during a lift",
        {"load": must.be_mass},
        {
            "height": lift.be_length,
            "clear_for": lift.be_duration,
            "bags_empty": lift.be_flag,
            "step": must.be_text,
            "instrument": must.be_text,
            "note": must.be_text,
        },
        is_item=True,
        whole=_when,
    ),
    Kind(
        "lift.event",
        "something happened during a lift",
        {"text": must.be_long_text},
        {"step": must.be_text, "gear": must.be_text},
        is_item=True,
    ),
    Kind(
        "lift.minutes",
        "the time of a step was taken",
        {"step": must.be_text, "taken": lift.be_duration},
        {"note": must.be_text},
        is_item=True,
    ),
    Kind(
        "lift.log",
        "a log of the load cell was kept",
        {
            "sha256": must.be_sha256,
            "name": must.be_text,
            "unit": must.be_text,
            "samples": must.be_count,
            "lasted": lift.be_duration,
            "least": must.be_mass,
            "greatest": must.be_mass,
        },
        {
            "unloaded_before": lift.be_stretch,
            "unloaded_after": lift.be_stretch,
            "drift": must.be_mass,
            "gaps": lift.be_gaps,
            "left_out": must.be_size,
            "instrument": must.be_text,
            "note": must.be_text,
        },
        is_item=True,
    ),
)
