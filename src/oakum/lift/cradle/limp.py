"""Thin, limp finds: a platter, leather, basketry on the bars of a tray; how near the bars must be, in water and air."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import weighted_quantile
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.cradle import rules
from oakum.lift.cradle.errors import CradleError, positive

Array = NDArray[np.float64]

ComesOut = Literal["in a tub of water", "on its tray", "unsupported"]
"""How it leaves the water; None is not known."""

_POISSON = 0.3


@dataclass(frozen=True, slots=True)
class LimpFind:
    """A sheet of even thickness. `bends`: has stiffness of its own (a platter); False: drapes (leather, basketry).

    `e_pa`, `bears_pa` (stress), `sag_m`: what it is and bears, None: not known.
    """

    name: str
    thickness_m: float
    bends: bool
    e_pa: float | None
    bears_pa: float | None
    sag_m: float | None


@dataclass(frozen=True, slots=True)
class Sagged:
    """Sag (m) and stress (Pa) between two bars under the 95th percentile of the weight; None: not known."""

    load_pa: float
    sag_m: float | None
    stress_pa: float | None
    spacing_m: float | None  # greatest that keeps both limits


@dataclass(frozen=True, slots=True)
class LimpAnswer:
    """In water and in air at the bars' spacing; `air_over_water`: how much heavier it gets."""

    in_water: Sagged
    in_air: Sagged
    air_over_water: float
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


def strip_stress_pa(load_pa: float, spacing_m: float, thickness_m: float) -> float:
    """Return the bending stress of a strip between two bars, free at both: (q s^2 / 8) / (t^2 / 6)."""
    return 0.75 * load_pa * (spacing_m / thickness_m) ** 2


def strip_sag_m(load_pa: float, spacing_m: float, thickness_m: float, e_pa: float) -> float:
    """Return the sag of a strip between two bars, free at both: 5 q s^4 / (384 D), D = E t^3 / (12 (1 - 0.09))."""
    d = e_pa * thickness_m**3 / (12.0 * (1.0 - _POISSON**2))
    return 5.0 * load_pa * spacing_m**4 / (384.0 * d)


def drape_sag_m(load_pa: float, spacing_m: float, thickness_m: float, e_pa: float) -> float:
    """Return the sag of a sheet that only stretches, held at both bars: d^3 = 3 q s^4 / (64 E t), flat arcs."""
    return float(np.cbrt(3.0 * load_pa * spacing_m**4 / (64.0 * e_pa * thickness_m)))


def drape_stress_pa(load_pa: float, spacing_m: float, thickness_m: float, sag_m: float) -> float:
    """Return the stress of a hanging sheet with this sag: q s^2 / (8 d t)."""
    return load_pa * spacing_m**2 / (8.0 * sag_m * thickness_m)


def greatest_spacing_m(find: LimpFind, load_pa: float) -> float | None:
    """Return the greatest spacing of bars that keeps sag and stress; None where one of the limits is not known."""
    if find.e_pa is None or find.bears_pa is None or find.sag_m is None:
        return None
    t, e = find.thickness_m, find.e_pa
    if find.bends:
        by_stress = t * math.sqrt(find.bears_pa / (0.75 * load_pa))
        d = e * t**3 / (12.0 * (1.0 - _POISSON**2))
        return float(min(by_stress, (384.0 * d * find.sag_m / (5.0 * load_pa)) ** 0.25))
    by_sag = (64.0 * e * t * find.sag_m**3 / (3.0 * load_pa)) ** 0.25
    # stress = (q^2 s^2 E / (24 t^2))^(1/3) once the sag is put in
    by_stress = math.sqrt(24.0 * t**2 * find.bears_pa**3 / (load_pa**2 * e))
    return float(min(by_sag, by_stress))


def limp_answer(
    find: LimpFind,
    density_kg_m3: Array,
    water_kg_m3: float,
    spacing_m: float,
    comes_out: ComesOut | None,
    weights: Array | None = None,
) -> LimpAnswer:
    """Return what a thin find does on bars `spacing_m` apart, for draws (n,) of its saturated density.

    The check is for the state it leaves the water in: in a tub it stays under water. `CradleError` for measures
    that cannot be, or a find lighter than water.
    """
    positive(f'the thickness of "{find.name}"', find.thickness_m, "m")
    positive("the spacing of the bars", spacing_m, "m")
    for what, value in (
        ("modulus", find.e_pa),
        ("stress it bears", find.bears_pa),
        ("sag it bears", find.sag_m),
    ):
        if value is not None:
            positive(f'the {what} of "{find.name}"', value, "")
    density = float(weighted_quantile(np.asarray(density_kg_m3, dtype=np.float64), 0.95, weights))
    if density <= water_kg_m3:
        raise CradleError(
            f'"{find.name}" is lighter than the water and floats off its tray: hold it down under a net, and check its '
            "density"
        )
    air = _sagged(find, density * G_M_S2 * find.thickness_m, spacing_m)
    water = _sagged(find, (density - water_kg_m3) * G_M_S2 * find.thickness_m, spacing_m)
    objections = list(_manner(find, comes_out))
    state = water if comes_out == "in a tub of water" else air
    words = "under water" if state is water else "in air"
    checks = tuple(_checks(find, state, words))
    objections += [c.objection for c in checks if c.objection is not None]
    if state.sag_m is None:
        objections.append(
            f'"{find.name}": not known how stiff it is; bars at any distance are a guess: lay it on a closed bed all '
            "over"
        )
    return LimpAnswer(
        water,
        air,
        density / (density - water_kg_m3),
        checks,
        tuple(dict.fromkeys(objections)),
        (
            "The find is even in thickness and saturated; strips between bars are free at both ends (stricter than "
            "continuous)."
            if find.bends
            else "The find drapes: it only stretches between two bars that hold it, in flat arcs.",
        ),
        (
            "Carry it under water from bed to tub; what is limp is never lifted out unsupported.",
            "Tilt the tray only while it is under water: water running off takes a thin find with it.",
            *rules.CAUTIONS[2:3],
        ),
    )


def _sagged(find: LimpFind, load_pa: float, spacing_m: float) -> Sagged:
    sag = stress = None
    t = find.thickness_m
    if find.bends:
        stress = strip_stress_pa(load_pa, spacing_m, t)
    if find.e_pa is not None:
        shape = strip_sag_m if find.bends else drape_sag_m
        sag = shape(load_pa, spacing_m, t, find.e_pa)
        if not find.bends:
            stress = drape_stress_pa(load_pa, spacing_m, t, sag)
    return Sagged(load_pa, sag, stress, greatest_spacing_m(find, load_pa))


def _manner(find: LimpFind, comes_out: ComesOut | None) -> list[str]:
    if comes_out is None:
        return [f'not said how "{find.name}" leaves the water: in a tub of water, or on its tray']
    if comes_out == "unsupported":
        return [
            f'"{find.name}" is limp and is never lifted out unsupported: bring it up on its tray, best in a tub'
        ]
    return []


def _checks(find: LimpFind, state: Sagged, words: str) -> list[Check]:
    found = []
    for key, title, value, limit, unit, rule, shown in (
        ("sag", "sag between the bars", state.sag_m, find.sag_m, "m", rules.SAG, 1000.0),
        ("stress", "stress between the bars", state.stress_pa, find.bears_pa, "Pa", rules.STRIP, 1e-3),
    ):
        if value is None:
            continue
        small = "mm" if unit == "m" else "kPa"
        objection = None
        if limit is None:
            objection = (
                f'"{find.name}", {title} {words}: {value * shown:.1f} {small}; not known what it bears'
            )
        elif value > limit:
            objection = (
                f'"{find.name}", {title} {words}: {value * shown:.1f} {small}, {limit * shown:.1f} allowed'
            )
        basis = f"95th percentile of the density, {words}"
        found.append(Check(f"limp-{key}", f"{title} {words}", value, limit, unit, basis, rule, objection))
    return found
