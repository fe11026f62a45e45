"""A spreader beam: two top legs to the hook, a vertical drop at each end, so that nothing squeezes the crate.

With the hook h over the beam, the hanging point e off the middle and d below the eyes of the load (drops of equal
length), the whole turns until tan(a) = e / (h + d); each end then carries W/2 (1 ± 2 e h / ((h + d) L)).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.slings import rules
from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.legs import Array
from oakum.lift.slings.words import weighed_p95

BUCKLING = 3.0
"""Euler's force over the allowed compression (practice, no source)."""

YIELDING = 1.5
"""Yield force over the allowed compression (practice, no source)."""


@dataclass(frozen=True, slots=True)
class Spreader:
    """A beam of length `length_m` between its end pins, the hook `hook_height_m` over their line.

    `inertia_m4`: least second moment of area, `modulus_pa`: Young's modulus; None: not known. `area_m2` and
    `yield_pa` ask for the check against yield as well. `mass_kg`: apparent mass of the beam, None: not known.
    """

    name: str
    length_m: float
    hook_height_m: float
    inertia_m4: float | None
    modulus_pa: float | None
    mass_kg: float | None
    area_m2: float | None = None
    yield_pa: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class SpreaderForces:
    """Forces over the draws: `top_n`, `drop_n` (n, 2), `compression_n`, `tilt_deg` (n,).

    `from_horizontal_deg`: of the top legs with the beam level.
    """

    top_n: NDArray[np.float64]
    drop_n: NDArray[np.float64]
    compression_n: NDArray[np.float64]
    tilt_deg: NDArray[np.float64]
    from_horizontal_deg: float


@dataclass(frozen=True, slots=True)
class SpreaderAnswer:
    """What a spreader carries: forces as spreads, checks, objections, what was assumed and what is open."""

    top_n: tuple[Spread, Spread]
    drop_n: tuple[Spread, Spread]
    compression_n: Spread
    tilt_deg: Spread
    from_horizontal_deg: float
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    open_questions: tuple[str, ...]


def spreader_forces(
    weight_n: Array, offset_m: Array, depth_m: Array | float, beam: Spreader
) -> SpreaderForces:
    """Return the forces of a load under a spreader.

    `weight_n` (n,); `offset_m` (n,): hanging point off the middle towards the second end; `depth_m`: hanging
    point below the eyes the drops are made fast to. Raises `SlingError` where the load would turn over or an
    end would lift.
    """
    length, height = (
        _positive(beam, "length", beam.length_m),
        _positive(beam, "hook height", beam.hook_height_m),
    )
    arm = height + np.asarray(depth_m, dtype=np.float64)
    if np.any(arm <= 0.0):
        raise SlingError(
            f'spreader "{beam.name}": the hanging point is above the eyes by more than the hook is above the beam; '
            "the load would turn over"
        )
    slope = np.asarray(offset_m) / arm
    uneven = 2.0 * height * slope / length
    if np.any(np.abs(uneven) > 1.0):
        raise SlingError(f'spreader "{beam.name}": the load hangs outside its ends; the far drop would push')
    drop = 0.5 * np.asarray(weight_n)[:, None] * np.column_stack((1.0 - uneven, 1.0 + uneven))
    own = 0.5 * (beam.mass_kg or 0.0) * G_M_S2
    half = 0.5 * length
    cosine, sine = 1.0 / np.hypot(1.0, slope), slope / np.hypot(1.0, slope)
    ends = drop + own
    top = ends * (cosine * math.hypot(half, height) / height)[:, None]
    pressed = ends[:, 0] * (cosine * half / height + sine)
    pressed = np.maximum(pressed, ends[:, 1] * (cosine * half / height - sine))
    tilt = np.degrees(np.abs(np.arctan(slope)))
    return SpreaderForces(top, drop, pressed, tilt, math.degrees(math.atan2(height, half)))


def euler_n(inertia_m4: float, modulus_pa: float, length_m: float) -> float:
    """Return Euler's buckling force of a pin-ended beam, pi^2 E I / L^2, newtons."""
    return math.pi**2 * modulus_pa * inertia_m4 / length_m**2


def spreader_answer(
    weight_n: Array, offset_m: Array, depth_m: Array | float, beam: Spreader, use_weights: Array | None = None
) -> SpreaderAnswer:
    """Return what a spreader carries, checked against buckling on the 95th percentile of its compression."""
    found = spreader_forces(weight_n, offset_m, depth_m, beam)
    demand = weighed_p95(found.compression_n, use_weights)
    basis = "95th percentile of the compression"
    capacity = None
    if beam.inertia_m4 is not None and beam.modulus_pa is not None:
        inertia = _positive(beam, "second moment of area", beam.inertia_m4)
        modulus = _positive(beam, "Young's modulus", beam.modulus_pa)
        capacity = euler_n(inertia, modulus, beam.length_m) / BUCKLING
    title = f'spreader "{beam.name}"'
    checks = [_check("buckling", f"{title}, buckling", demand, capacity, basis)]
    if beam.area_m2 is not None and beam.yield_pa is not None:
        crushed = _positive(beam, "area", beam.area_m2) * _positive(beam, "yield stress", beam.yield_pa)
        checks.append(_check("yield", f"{title}, yield", demand, crushed / YIELDING, basis))
    objections = [c.objection for c in checks if c.objection]
    if found.from_horizontal_deg < 30.0:
        objections.append(
            f"{title}: its top legs stand at {found.from_horizontal_deg:.0f}°, flatter than 30°"
        )
    questions = [] if beam.mass_kg is not None else [f"{title}: its mass is not known; it is left out"]
    top_a, top_b = (spread_of(found.top_n[:, i], "N", use_weights) for i in (0, 1))
    drop_a, drop_b = (spread_of(found.drop_n[:, i], "N", use_weights) for i in (0, 1))
    return SpreaderAnswer(
        (top_a, top_b),
        (drop_a, drop_b),
        spread_of(found.compression_n, "N", use_weights),
        spread_of(found.tilt_deg, "deg", use_weights),
        found.from_horizontal_deg,
        tuple(checks),
        tuple(objections),
        (
            f"{title}: pin-ended, straight, pushed along its axis; drops hang plumb and are of one length",
            f"{title}: bending by its own weight is left out",
        ),
        tuple(questions),
    )


def _check(key: str, title: str, demand: float, capacity: float | None, basis: str) -> Check:
    rule = rules.EULER if key == "buckling" else rules.YIELD
    objection = None
    if capacity is None:
        objection = f"{title}: not known; type its second moment of area and Young's modulus"
    elif demand > capacity:
        objection = f"{title}: {demand / 1000:,.1f} kN against {capacity / 1000:,.1f} kN allowed"
    return Check(f"spreader:{key}", title, demand, capacity, "N", basis, rule, objection)


def _positive(beam: Spreader, what: str, value: float) -> float:
    if not (math.isfinite(value) and value > 0.0):
        raise SlingError(f'spreader "{beam.name}": its {what} must be greater than zero, got {value:g}')
    return value
