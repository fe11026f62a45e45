"""Steel by grade: yield stress, modulus, and the buckling of a strut."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib import resources

from oakum.lift.checks import Rule
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.timber import factor

IMPERFECTION = 0.49
"""Buckling curve c, for cold-formed tubes: EN 1993-1-1, table 6.2 (memory, verify); stricter than a and b."""


@dataclass(frozen=True, slots=True)
class SteelGrade:
    """A grade: yield stress in Pa for walls up to `up_to_m`, from the table."""

    name: str
    f_y_pa: float
    up_to_m: float
    source: str
    mark: str

    @property
    def e_pa(self) -> float:
        """Young's modulus."""
        return factor("e_steel") * 1e6

    @property
    def rule(self) -> Rule:
        """The rule a check names."""
        return Rule(
            f"steel-{self.name}", f"EN 1993-1-1, elastic, grade {self.name}", self.source, "EU", self.mark
        )


@cache
def steel_grade(name: str) -> SteelGrade:
    """Return a grade by its name. `CradleError` for an unknown one."""
    text = resources.files(__package__).joinpath("steel.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    for row in rows:
        if row["grade"] == name.strip().upper():
            return SteelGrade(
                row["grade"],
                float(row["f_y"]) * 1e6,
                float(row["up_to_mm"]) / 1e3,
                row["source"],
                row["mark"],
            )
    known = ", ".join(row["grade"] for row in rows)
    raise CradleError(
        f'"{name}" is not a grade of steel known here; there are {known}. For scrap without papers take the lowest'
    )


def chi(length_m: float, gyration_m: float, grade: SteelGrade) -> float:
    """Return the buckling factor of a pin-ended steel strut, EN 1993-1-1 6.3.1.2, curve c (memory, verify)."""
    slender = length_m / gyration_m / math.pi * math.sqrt(grade.f_y_pa / grade.e_pa)
    if slender <= 0.2:
        return 1.0
    phi = 0.5 * (1.0 + IMPERFECTION * (slender - 0.2) + slender**2)
    return min(1.0, 1.0 / (phi + math.sqrt(phi**2 - slender**2)))
