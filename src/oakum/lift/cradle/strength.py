"""What one member bears: bending, shear, thrust, bearing; timber by the stricter edition, steel elastically."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.lift.checks import Check, Rule
from oakum.lift.cradle.sections import Section
from oakum.lift.cradle.steel import SteelGrade, chi
from oakum.lift.cradle.timber import (
    Duration,
    ServiceClass,
    TimberGrade,
    TimberRow,
    design_pa,
    factor,
    k_c,
    k_h,
)


@dataclass(frozen=True, slots=True)
class Forces:
    """Design forces in one member, load factors in them: N and N m, by size.

    `thrust_n` along it with `buckling_m` between points that hold it sideways; `bearing_n` across the grain on a
    length `bearing_m` of it.
    """

    moment_nm: float
    shear_n: float
    side_moment_nm: float = 0.0
    thrust_n: float = 0.0
    buckling_m: float = 0.0
    bearing_n: float = 0.0
    bearing_m: float = 0.0


Material = TimberGrade | SteelGrade

_WORDS = {
    "bending": "bending",
    "shear": "shear",
    "thrust": "thrust with bending",
    "bearing": "bearing across the grain",
}


def timber_stresses(
    section: Section, row: TimberRow, service_class: ServiceClass, duration: Duration, forces: Forces
) -> dict[str, tuple[float, float]]:
    """Return (stress, design strength) in Pa of each check for one edition; thrust with bending as shares of 1."""
    bending = forces.moment_nm / section.modulus_m3
    f_m = design_pa(row.f_m_pa, service_class, duration) * k_h(section.depth_m, row.rho_k_kg_m3)
    found = {
        "bending": (bending, f_m),
        "shear": (
            forces.shear_n / (row.k_cr * section.shear_m2),
            design_pa(row.f_v_pa, service_class, duration),
        ),
    }
    side = forces.side_moment_nm / section.side_modulus_m3
    f_side = design_pa(row.f_m_pa, service_class, duration) * k_h(section.width_m, row.rho_k_kg_m3)
    if forces.thrust_n > 0.0 or forces.side_moment_nm > 0.0:
        f_c = design_pa(row.f_c0_pa, service_class, duration) * k_c(
            forces.buckling_m, section.gyration_m, row
        )
        share = forces.thrust_n / section.area_m2 / f_c + bending / f_m + side / f_side
        found["thrust"] = (share, 1.0)
    if forces.bearing_n > 0.0:
        found["bearing"] = (
            forces.bearing_n / (section.width_m * forces.bearing_m),
            design_pa(row.f_c90_pa, service_class, duration),
        )
    return found


def steel_stresses(section: Section, grade: SteelGrade, forces: Forces) -> dict[str, tuple[float, float]]:
    """Return (stress, design strength) in Pa of each check; thrust with bending as shares of 1."""
    f_y = grade.f_y_pa / factor("gamma_m0_steel")
    bending = forces.moment_nm / section.modulus_m3
    found = {"bending": (bending, f_y), "shear": (forces.shear_n / section.shear_m2, f_y / 3.0**0.5)}
    if forces.thrust_n > 0.0 or forces.side_moment_nm > 0.0:
        f_c = chi(forces.buckling_m, section.gyration_m, grade) * grade.f_y_pa / factor("gamma_m1_steel")
        side = forces.side_moment_nm / section.side_modulus_m3
        found["thrust"] = (forces.thrust_n / section.area_m2 / f_c + bending / f_y + side / f_y, 1.0)
    return found


def strength_checks(
    name: str,
    section: Section,
    material: Material,
    service_class: ServiceClass,
    duration: Duration,
    forces: Forces,
    basis: str,
) -> tuple[Check, ...]:
    """Return the checks of a member; for timber each from the edition with the greater use."""
    if isinstance(material, SteelGrade):
        found = [(steel_stresses(section, material, forces), material.rule)]
    else:
        found = [
            (timber_stresses(section, row, service_class, duration, forces), row.rule)
            for row in material.editions
        ]
    checks = []
    for key in found[0][0]:
        stress, strength, rule = max(((*each[key], rule) for each, rule in found), key=lambda e: e[0] / e[1])
        checks.append(_check(name, key, stress, strength, rule, basis))
    if isinstance(material, SteelGrade) and (section.thickness_m or 0.0) > material.up_to_m:
        thick = 1000.0 * (section.thickness_m or 0.0)
        most = 1000.0 * material.up_to_m
        objection = f"{name}: a wall of {thick:g} mm is beyond the {most:g} mm its yield stress is for"
        key, title = f"{name}:wall", f"{name}, wall"
        checks.append(Check(key, title, thick, most, "mm", basis, material.rule, objection))
    return tuple(checks)


def _check(name: str, key: str, stress: float, strength: float, rule: Rule, basis: str) -> Check:
    unit = "1" if key == "thrust" else "Pa"
    objection = None
    if stress > strength * (1.0 + 1e-9):
        shown = (
            f"{stress:.2f} of 1"
            if key == "thrust"
            else f"{stress / 1e6:.1f} against {strength / 1e6:.1f} N/mm²"
        )
        objection = f"{name}, {_WORDS[key]}: {shown}"
    return Check(f"{name}:{key}", f"{name}, {_WORDS[key]}", stress, strength, unit, basis, rule, objection)
