"""What somebody can turn on a plan to try it otherwise."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.errors import OakumError


class WhatIfError(OakumError):
    """What was asked for cannot be tried; the text says why."""


@dataclass(frozen=True, slots=True)
class Knobs:
    """What somebody can turn: None leaves it, or in an answer, this rig has no such thing.

    `hook_m` is the height of the hook over the topmost attachment (over the beam of a spreader), `legs_m` the
    mean length of the legs. Where the legs are cut to fit the hook, one moves the other; both given, the legs
    are taken. `hs_m`, `tz_s`, `heading`, `depth_m` of the water and `radius_m` of the boom are those of `[seaway]`;
    what the rig file does not say can be set.
    """

    bags: int | None = None
    hook_m: float | None = None
    legs_m: float | None = None
    hs_m: float | None = None
    tz_s: float | None = None
    heading: str | None = None
    depth_m: float | None = None
    radius_m: float | None = None
