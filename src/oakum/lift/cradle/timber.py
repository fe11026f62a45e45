"""Timber by strength class, with what wetness and time take from it. The editions stand side by side."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Literal

from oakum.lift.checks import Rule
from oakum.lift.cradle.errors import CradleError, positive

ServiceClass = Literal[1, 2, 3]
"""EN 1995-1-1: 1 indoors, 2 under a roof, 3 wet or in the weather."""

Duration = Literal["permanent", "long", "medium", "short", "instantaneous"]

DURATIONS: tuple[Duration, ...] = ("permanent", "long", "medium", "short", "instantaneous")

_MPA = 1e6


@dataclass(frozen=True, slots=True)
class TimberRow:
    """A strength class in one edition of EN 338: characteristic strengths and moduli in Pa, densities kg/m3."""

    grade: str
    edition: str
    f_m_pa: float
    f_t0_pa: float
    f_c0_pa: float
    f_c90_pa: float
    f_v_pa: float
    k_cr: float
    e_mean_pa: float
    e_05_pa: float
    g_mean_pa: float
    rho_k_kg_m3: float
    rho_mean_kg_m3: float
    source: str
    mark: str

    @property
    def rule(self) -> Rule:
        """The rule a check names."""
        words = f"EN 1995-1-1 with the {self.edition} edition of EN 338, class {self.grade}"
        return Rule(f"timber-{self.grade}-{self.edition}", words, self.source, "EU", self.mark)


def _read(name: str) -> list[dict[str, str]]:
    text = resources.files(__package__).joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def timber_table() -> tuple[TimberRow, ...]:
    """Return every class of every edition."""
    return tuple(_timber_row(row) for row in _read("timber.csv"))


def _timber_row(row: dict[str, str]) -> TimberRow:
    def pa(key: str, times: float = _MPA) -> float:
        return float(row[key]) * times

    return TimberRow(
        grade=row["grade"],
        edition=row["edition"],
        f_m_pa=pa("f_m"),
        f_t0_pa=pa("f_t0"),
        f_c0_pa=pa("f_c0"),
        f_c90_pa=pa("f_c90"),
        f_v_pa=pa("f_v"),
        k_cr=float(row["k_cr"]),
        e_mean_pa=pa("e_mean", 1e3 * _MPA),
        e_05_pa=pa("e_05", 1e3 * _MPA),
        g_mean_pa=pa("g_mean", 1e3 * _MPA),
        rho_k_kg_m3=float(row["rho_k"]),
        rho_mean_kg_m3=float(row["rho_mean"]),
        source=row["source"],
        mark=row["mark"],
    )


@dataclass(frozen=True, slots=True)
class TimberGrade:
    """A strength class with all its editions; checks take the one that gives the stricter answer."""

    name: str
    editions: tuple[TimberRow, ...]

    @property
    def e_mean_pa(self) -> float:
        """The least mean modulus of the editions, for deflection."""
        return min(row.e_mean_pa for row in self.editions)


def timber_grade(name: str) -> TimberGrade:
    """Return a strength class by its name. `CradleError` for an unknown one, with those there are."""
    rows = tuple(row for row in timber_table() if row.grade == name.strip().upper())
    if not rows:
        known = ", ".join(dict.fromkeys(row.grade for row in timber_table()))
        raise CradleError(
            f'"{name}" is not a strength class of timber known here; there are {known}. Ungraded wood has no class: '
            "have it graded, or take the lowest that a competent person puts his name to"
        )
    return TimberGrade(rows[0].grade, rows)


@cache
def k_mod(service_class: ServiceClass, duration: Duration) -> float:
    """Return the factor for wetness and load duration of solid timber."""
    for row in _read("k_mod.csv"):
        if row["service_class"] == str(service_class) and row["duration"] == duration:
            return float(row["k_mod"])
    raise CradleError(
        f'there is no factor for service class "{service_class}" and duration "{duration}": classes are 1, 2 and 3, '
        f"durations {', '.join(DURATIONS)}"
    )


@cache
def factor(key: str) -> float:
    """Return a factor of the table by its key, such as "gamma_m_timber" or "load_factor"."""
    return float(next(row for row in _read("factors.csv") if row["key"] == key)["value"])


@cache
def factor_rule(key: str) -> Rule:
    """Return a factor of the table as a rule with its source and mark."""
    row = next(row for row in _read("factors.csv") if row["key"] == key)
    return Rule(key.replace("_", "-"), f"{row['words']}: {row['value']}", row["source"], "", row["mark"])


def k_def(service_class: ServiceClass) -> float:
    """Return the creep factor: the part of a lasting deflection that comes on top with time."""
    return factor(f"k_def_{service_class}")


def k_h(depth_m: float, rho_k_kg_m3: float = 350.0) -> float:
    """Return the size factor of bending and tension: min((150 / h)^0.2, 1.3) for h under 150 mm, else 1.

    EN 1995-1-1, 3.2, for characteristic density up to 700 kg/m3 (read, in open libraries for structures).
    """
    positive("the depth of a member", depth_m, "m")
    if depth_m >= 0.150 or rho_k_kg_m3 > 700.0:
        return 1.0
    return float(min((0.150 / depth_m) ** 0.2, 1.3))


def design_pa(strength_pa: float, service_class: ServiceClass, duration: Duration) -> float:
    """Return k_mod f_k / gamma_M."""
    return k_mod(service_class, duration) * strength_pa / factor("gamma_m_timber")


def k_c(length_m: float, gyration_m: float, row: TimberRow) -> float:
    """Return the buckling factor of a pin-ended timber strut, EN 1995-1-1 6.3.2, beta_c 0.2 (memory, verify)."""
    slender = length_m / gyration_m / math.pi * math.sqrt(row.f_c0_pa / row.e_05_pa)
    if slender <= 0.3:
        return 1.0
    k = 0.5 * (1.0 + 0.2 * (slender - 0.3) + slender**2)
    return 1.0 / (k + math.sqrt(k * k - slender**2))
