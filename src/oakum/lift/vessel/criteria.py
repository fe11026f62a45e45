"""Published stability criteria as data: chosen by the class of vessel, each with country, source and mark."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Literal

from oakum.lift.checks import Check, Rule
from oakum.lift.vessel.errors import VesselError


@dataclass(frozen=True, slots=True)
class Criterion:
    """One line of the table: `quantity` must be at "most" or at "least" `value` in `unit`."""

    key: str
    words: str
    country: str
    vessel_class: str
    quantity: str
    sense: Literal["most", "least"]
    value: float
    unit: str
    source: str
    mark: str

    @property
    def rule(self) -> Rule:
        """The rule a check names."""
        return Rule(f"vessel-{self.key}", self.words, self.source, self.country, self.mark)


@cache
def criteria() -> tuple[Criterion, ...]:
    """Return every criterion of the table that comes with the program."""
    text = resources.files(__package__).joinpath("criteria.csv").read_text(encoding="utf-8")
    return tuple(
        Criterion(
            row["id"],
            row["words"],
            row["country"],
            row["vessel_class"],
            row["quantity"],
            "most" if row["sense"] == "most" else "least",
            float(row["value"]),
            row["unit"],
            row["source"],
            row["mark"],
        )
        for row in csv.DictReader(text.splitlines())
    )


def vessel_classes() -> tuple[str, ...]:
    """Return the classes of vessel there are criteria for."""
    return tuple(dict.fromkeys(c.vessel_class for c in criteria()))


def criteria_for(vessel_class: str) -> tuple[Criterion, ...]:
    """Return the criteria of a class. `VesselError` for a class that is not in the table."""
    found = tuple(c for c in criteria() if c.vessel_class == vessel_class)
    if not found:
        raise VesselError(
            f'there are no criteria for the class "{vessel_class}"; choose one of {", ".join(vessel_classes())}, or '
            "give the limits of the vessel's own stability book"
        )
    return found


@dataclass(frozen=True, slots=True)
class Measured:
    """A quantity as computed: its worse end, and in words which end that is."""

    value: float | None
    basis: str
    why_not: str = ""


def judged(criterion: Criterion, measures: Mapping[str, Measured]) -> tuple[Check | None, str | None]:
    """Return the check of a criterion and its objection; no check where the quantity could not be computed."""
    found = measures.get(criterion.quantity, Measured(None, ""))
    if found.value is None:
        why = found.why_not or "the vessel's own righting curve for this condition is not given"
        return None, f"cannot be checked: {criterion.words} ({why})"
    value, limit = found.value, criterion.value
    shown, asked = (
        _shown(found.value, criterion.unit, criterion.sense),
        _shown(limit, criterion.unit, "least"),
    )
    if criterion.sense == "most":
        fails, demand, capacity = value > limit, value, limit
        said = f"{criterion.words}: {shown} against {asked} ({found.basis})"
    else:
        fails, demand, capacity = value < limit, limit, value
        said = f"{criterion.words}: {shown} there, {asked} asked ({found.basis})"
    objection = said if fails else None
    check = Check(
        criterion.key,
        criterion.words,
        demand,
        capacity,
        criterion.unit,
        found.basis,
        criterion.rule,
        objection,
    )
    return check, objection


def _shown(value: float, unit: str, sense: str) -> str:
    if unit == "deg":
        return f"{value:.1f}°"
    return f"{value:.2f}" if unit == "1" else f"{value:.3f} {unit}"


def least_gm_fishing_m(
    beam_m: float, freeboard_m: float, depth_m: float, superstructure_m: float, length_m: float
) -> float:
    """Return the least GM of a decked fishing vessel under 30 m, the approximate formula of the IS Code.

    0.53 + 2 B (0.075 - 0.37 f/B + 0.82 (f/B)^2 - 0.014 B/D - 0.032 ls/L): memory, verify. `VesselError` outside f/B
    0.02 to 0.20, ls/L under 0.6, B/D 1.75 to 2.15 (ranges read).
    """
    low, house, wide = freeboard_m / beam_m, superstructure_m / length_m, beam_m / depth_m
    if not (0.02 <= low <= 0.20 and 0.0 <= house < 0.6 and 1.75 <= wide <= 2.15 and length_m < 30.0):
        raise VesselError(
            f"the formula for fishing vessels under 30 m holds for f/B 0.02 to 0.20, superstructure under 0.6 of the "
            f"length and B/D 1.75 to 2.15; here they are {low:.3f}, {house:.2f} and {wide:.2f}: use the stability book"
        )
    return 0.53 + 2.0 * beam_m * (0.075 - 0.37 * low + 0.82 * low**2 - 0.014 * wide - 0.032 * house)
