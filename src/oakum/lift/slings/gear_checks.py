"""The lines of the utilisation list: every leg, shackle, eye and ring, every angle, and the tilt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check, Rule
from oakum.lift.slings import rules
from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.geometry import Geometry
from oakum.lift.slings.legs import Fitting, Rig
from oakum.lift.slings.ratings import Rating, fitting_rating, leg_rating
from oakum.lift.slings.sharing import Demand
from oakum.lift.slings.words import Counted

Array = NDArray[np.float64]

FLATTEST_DEG = 30.0


@dataclass(frozen=True, slots=True)
class GearChecks:
    """Checks, the rating of each leg, what stands against the rig, and what is to be asked or advised."""

    checks: tuple[Check, ...]
    ratings: tuple[Rating, ...]
    objections: tuple[str, ...]
    questions: tuple[str, ...]
    advice: tuple[str, ...]


def gear_checks(
    rig: Rig, shape: Geometry, governing: Demand, hook_load_n: Array, counted: Counted
) -> GearChecks:
    """Return the checks of a rig: legs and fittings on the governing force, the ring on the hook load."""
    found = _Found()
    ratings = []
    for i, leg in enumerate(rig.legs):
        load_kg = governing.force_n[i] / G_M_S2
        rating = leg_rating(leg, rig.ruling.hitches)
        ratings.append(rating)
        found.rated(f"sling:{leg.name}", f'sling "{leg.name}"', load_kg, rating, governing.basis)
        for kind, fitting in (("shackle", leg.shackle), ("eye", leg.eye)):
            if fitting is not None:
                off = off_line_deg(fitting, shape.unit[:, i], counted)
                title = f'{fitting.kind} "{fitting.name}" of leg "{leg.name}"'
                found.rated(
                    f"{kind}:{leg.name}", title, load_kg, fitting_rating(fitting, off), governing.basis
                )
        found.angle(leg.name, shape.sine[:, i], counted)
    if rig.top is None:
        found.questions.append("the ring or shackle that gathers the legs is not named; it is not checked")
    else:
        basis = "95th percentile of the hook load"
        rating = fitting_rating(rig.top, off_line_deg(rig.top, shape.up, counted))
        load_kg = counted.p95(hook_load_n) / G_M_S2
        found.rated("top", f'{rig.top.kind} "{rig.top.name}" at the hook', load_kg, rating, basis)
    found.tilt(rig.tilt_limit_deg, counted.p95(shape.tilt_deg))
    return GearChecks(
        tuple(sorted(found.checks, key=_hardest)),
        tuple(ratings),
        tuple(found.objections),
        tuple(found.questions),
        tuple(found.advice),
    )


def off_line_deg(fitting: Fitting, pull: Array, counted: Counted) -> float | None:
    """Return how far a fitting is pulled out of its line, degrees: typed, or the 95th percentile over the draws.

    `pull` (m, 3): unit vectors of the pull on it.
    """
    if fitting.off_line_deg is not None or fitting.axis is None:
        return fitting.off_line_deg
    axis = np.asarray(fitting.axis, dtype=np.float64)
    size = float(np.linalg.norm(axis))
    if not size > 0.0:
        raise SlingError(
            f'{fitting.kind} "{fitting.name}": its axis has no direction; type one, as 0, 0, 1 for up'
        )
    cosine = np.clip(pull @ axis / size, -1.0, 1.0)
    return counted.p95(np.degrees(np.arccos(cosine)))


def _hardest(check: Check) -> tuple[bool, float]:
    used = check.utilisation
    return used is not None, -(used or 0.0)


class _Found:
    """Collects checks and sentences."""

    def __init__(self) -> None:
        self.checks: list[Check] = []
        self.objections: list[str] = []
        self.questions: list[str] = []
        self.advice: list[str] = []

    def rated(self, key: str, title: str, load_kg: float, rating: Rating, basis: str) -> None:
        objection = rating.objections[0] if rating.objections else None
        self.objections += rating.objections
        if rating.capacity_kg is not None and load_kg > rating.capacity_kg:
            over = f"{title}: {load_kg:,.0f} kg against {rating.capacity_kg:,.0f} kg"
            objection = objection or over
            self.objections.append(over)
        self.questions += rating.questions
        text = f"{basis}; {rating.words}"
        self.checks.append(Check(key, title, load_kg, rating.capacity_kg, "kg", text, rating.rule, objection))

    def angle(self, name: str, sine: Array, counted: Counted) -> None:
        steepness = np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0)))
        leaning = counted.p95(90.0 - steepness)
        flattest = 90.0 - leaning
        objection = None
        if flattest < FLATTEST_DEG:
            objection = f'leg "{name}" may be as flat as {flattest:.0f}° from the horizontal, less than 30°'
            self.objections.append(objection)
        for limit, words in ((45.0, "45° is recommended"), (60.0, "60° is best")):
            if FLATTEST_DEG <= flattest < limit:
                self.advice.append(
                    f'leg "{name}" may be as flat as {flattest:.0f}° from the horizontal; {words}'
                )
                break
        self._limit(
            f"angle:{name}",
            f'angle of leg "{name}" from the vertical',
            leaning,
            60.0,
            "95th percentile of the angle from the vertical",
            rules.ANGLE_30,
            objection,
        )

    def tilt(self, limit_deg: float | None, tilt_deg: float) -> None:
        objection = None
        if limit_deg is None:
            objection = (
                f"how far the load may hang out of level was not said; it may hang {tilt_deg:.1f}° out"
            )
        elif tilt_deg > limit_deg:
            objection = (
                f"the load may hang {tilt_deg:.1f}° out of level, more than the {limit_deg:g}° allowed"
            )
        if objection is not None:
            self.objections.append(objection)
        self._limit(
            "tilt",
            "tilt of the load",
            tilt_deg,
            limit_deg,
            "95th percentile of the tilt",
            rules.TILT,
            objection,
        )

    def _limit(
        self,
        key: str,
        title: str,
        asked: float,
        limit: float | None,
        basis: str,
        rule: Rule,
        objection: str | None,
    ) -> None:
        self.checks.append(Check(key, title, asked, limit, "deg", basis, rule, objection))


def rules_used(checks: Sequence[Check], ratings: Sequence[Rating], governing: Demand) -> tuple[Rule, ...]:
    """Return every rule that had a say, each once, by its key."""
    every = [governing.rule, *(c.rule for c in checks), *(f.rule for r in ratings for f in r.factors)]
    return tuple(sorted({rule.key: rule for rule in every}.values(), key=lambda rule: rule.key))
