"""What a plan rests on, as one number: a release is for this mass, rig, gear, vessel and cradle only."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from hashlib import sha256
from typing import Any

import numpy as np

from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.raising.plan import GearItem
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.vessel.papers import VesselPapers
from oakum.lift.weights.report import CellReading, WeightReport

_LEFT_OUT = frozenset(
    {"line", "notes", "source", "mark", "questions", "assumptions", "title", "where", "used_for"}
)
_OF_THE_RIG = frozenset({"steps", "roles", "weather", "reception", "set_down", "hoist"})
"""How and by whom it is done may be changed without a new release; mass, rig and gear may not."""


def fingerprint(
    report: WeightReport,
    rig: RigPlan,
    gear: Iterable[GearItem],
    readings: Iterable[CellReading],
    vessel: VesselPapers | None = None,
    cradle: CradlePlan | None = None,
) -> str:
    """Return 64 hexadecimal digits over body, readings, rig, gear, vessel and cradle.

    Words, lines and draws are left out.
    """
    used = sorted(
        ({**_plain(item), "objection": item.objection is not None} for item in gear),
        key=lambda item: str(item["key"]),
    )
    rests_on = {
        "body": _plain(report.body),
        "weighed": _plain(report.conditioning.reading) if report.conditioning is not None else None,
        "readings": [_plain(reading) for reading in readings],
        "rig": _plain(rig),
        "gear": used,
        "vessel": _plain(vessel),
        "cradle": _plain(cradle),
    }
    text = json.dumps(rests_on, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return sha256(text.encode("ascii")).hexdigest()


def _plain(value: Any) -> Any:
    """Return a value as JSON can hold it; arrays by their digest, numbers by their shortest exact text."""
    if is_dataclass(value) and not isinstance(value, type):
        return {
            f.name: _plain(getattr(value, f.name))
            for f in fields(value)
            if f.name not in _LEFT_OUT and f.name not in _OF_THE_RIG
        }
    if isinstance(value, np.ndarray):
        return sha256(np.ascontiguousarray(value).tobytes()).hexdigest()
    if isinstance(value, float | np.floating):
        return repr(float(value))
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    if isinstance(value, dict):
        return {str(key): _plain(item) for key, item in value.items()}
    return value
