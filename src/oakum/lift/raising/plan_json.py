"""The plan as plain dicts, lists, texts and numbers, with the unit in every key, for JSON."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np

from oakum.ground.estimate import Spread
from oakum.lift.checks import Check
from oakum.lift.raising.plan import RaisingPlan
from oakum.lift.seaway import SeawayAnswer
from oakum.lift.weights.report_json import report_dict

_APART = frozenset({"weight", "rig", "checks"})
_DRAWN_FROM = ("papers", "body")  # of a sea's answer: all draws of the load, and papers that have their own file


def plan_dict(plan: RaisingPlan) -> dict[str, Any]:
    """Return the plan; keys are stable, and None stands for what is not known.

    The weight report is as `report_dict` gives it; the rig is left out, its file is the rig.
    """
    found = {f.name: plain(getattr(plan, f.name)) for f in fields(plan) if f.name not in _APART}
    governing = plan.governing
    return {
        "title": plan.title,
        "number": plan.number,
        "verdict": plan.verdict,
        "weight": report_dict(plan.weight),
        "checks": [_check(c) for c in plan.checks],
        "governing": None if governing is None else governing.key,
        "minutes": plain(plan.minutes),
        **{key: value for key, value in found.items() if key not in ("title", "number")},
    }


def _check(check: Check) -> dict[str, Any]:
    return {**_fields(check), "utilisation": check.utilisation}


def plain(value: Any) -> Any:
    """Return a value as JSON can hold it: dataclasses as dicts, spreads with their words, NaN and inf as None."""
    if isinstance(value, Spread):
        return {**_fields(value), "words": value.words()}
    if isinstance(value, Check):
        return _check(value)
    if is_dataclass(value) and not isinstance(value, type):
        return _fields(value)
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, np.ndarray):
        return plain(value.tolist())
    if isinstance(value, bool | np.bool_):
        return bool(value)
    if isinstance(value, float | np.floating):
        return float(value) if np.isfinite(value) else None
    return value


def _fields(value: Any) -> dict[str, Any]:
    left_out = _DRAWN_FROM if isinstance(value, SeawayAnswer) else ()
    return {f.name: plain(getattr(value, f.name)) for f in fields(value) if f.name not in left_out}
