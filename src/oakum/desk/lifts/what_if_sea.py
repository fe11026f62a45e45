"""What if the sea were another: height, period, heading, depth of the water, radius of the boom."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from oakum.desk.lifts.knobs import Knobs, WhatIfError
from oakum.desk.lifts.toml_rows import with_value
from oakum.ground.waves import WaveError, check_sea
from oakum.lift.body.lines import key_lines
from oakum.lift.raising import RigPlan
from oakum.lift.seaway import SeaAsked

SEAWAY = ("seaway",)


@dataclass(frozen=True, slots=True)
class _Turned:
    """One knob of the sea: its field, its key in the rig file, what it is called, its unit, what counts as the same."""

    field: str
    key: str
    words: str
    unit: str
    same: float


_NUMBERS = (
    _Turned("hs_m", "hs", "Hs", "m", 2e-3),
    _Turned("tz_s", "tz", "Tz", "s", 5e-3),
    _Turned("depth_m", "depth", "depth of the water", "m", 5e-3),
    _Turned("radius_m", "radius", "radius", "m", 5e-3),
)


def sea_with(rig: RigPlan, asked: Knobs) -> tuple[RigPlan, tuple[str, ...]]:
    """Return the rig in the sea that is asked for, and what differs, in words.

    Raises `WhatIfError` for a sea that cannot be.
    """
    sea, changes = rig.sea or SeaAsked(), []
    for one in _turned(rig, asked):
        value, now = getattr(asked, one.field), getattr(sea, one.field)
        if not (math.isfinite(value) and value > 0.0):
            raise WhatIfError(f"{one.words} must be above 0 {one.unit}, got {value:g}.")
        was = "not known" if now is None else f"{now:g} {one.unit}"
        changes.append(f"{one.words} {value:g} {one.unit} instead of {was}")
        sea = replace(sea, **{one.field: round(value, 4)})
    if asked.heading and _other_heading(rig, asked):
        changes.append(f"heading {asked.heading} instead of {sea.heading or 'not known'}")
        sea = replace(sea, heading=asked.heading)
    if not changes:
        return rig, ()
    if sea.hs_m is not None and sea.tz_s is not None:
        try:
            check_sea(sea.hs_m, sea.tz_s, sea.depth_m)
        except WaveError as error:
            raise WhatIfError(str(error)) from None
    return replace(rig, sea=sea), tuple(changes)


def text_with_sea(toml: str, rig: RigPlan, asked: Knobs) -> str:
    """Return the rig text with the sea that is asked for, everything else as typed; `rig` is what it says now."""
    wanted: list[tuple[str, str]] = [
        (one.key, f"{round(getattr(asked, one.field), 4):g} {one.unit}") for one in _turned(rig, asked)
    ]
    if asked.heading and _other_heading(rig, asked):
        wanted.append(("heading", asked.heading))
    if wanted and SEAWAY not in key_lines(toml):
        toml = f"{toml.rstrip()}\n\n[seaway]\n"
    for key, value in reversed(wanted):
        toml = with_value(toml, SEAWAY, key, value)
    return toml


def _turned(rig: RigPlan, asked: Knobs) -> list[_Turned]:
    """Return the knobs that are asked for and stand otherwise."""
    sea = rig.sea or SeaAsked()
    found = []
    for one in _NUMBERS:
        value, now = getattr(asked, one.field), getattr(sea, one.field)
        if value is not None and (now is None or not abs(value - now) <= one.same):
            found.append(one)
    return found


def _other_heading(rig: RigPlan, asked: Knobs) -> bool:
    return bool(asked.heading) and asked.heading != (rig.sea.heading if rig.sea is not None else "")
