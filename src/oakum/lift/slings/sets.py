"""Code ratings of sets of legs: a multiple of the WLL of one leg, for loads that hang evenly."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oakum.lift.checks import Rule
from oakum.lift.slings import rules
from oakum.lift.slings.errors import SlingError

Array = NDArray[np.float64]

EVEN_DEG = 15.0
EVEN_SHARE = 0.8
"""Up to this share of its rating a set counts as evenly loaded (EN 818-6, as printed in a maker's manual: read)."""

_EU = {2: ((45.0, 1.4), (60.0, 1.0)), 3: ((45.0, 2.1), (60.0, 1.5))}
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class SetFactor:
    """A set's rating over the WLL of one leg, the legs counted, and the rule."""

    value: float
    legs_counted: int
    words: str
    rule: Rule


def set_factor(
    book: Literal["set EU", "set US"], legs: int, flattest_deg: float, *, one_longer: bool = False
) -> SetFactor | None:
    """Return the factor of a set of 2, 3 or 4 legs, None where a leg is flatter than 30 degrees.

    `flattest_deg`: angle from the horizontal of the flattest leg. Four legs are rated as three; where one leg
    is longer than the others, two are counted.
    """
    if legs not in (2, 3, 4):
        raise SlingError(f"a set has two, three or four legs, got {legs}")
    counted = 2 if one_longer else min(legs, 3)
    rule = rules.SET_EU if book == "set EU" else rules.SET_US
    words = f"{counted} of {legs} legs counted, flattest at {flattest_deg:.0f}° from the horizontal"
    if flattest_deg < 30.0 - _SLACK:
        return None
    if book == "set US":
        return SetFactor(counted * math.sin(math.radians(flattest_deg)), counted, words, rule)
    step = next(value for upto, value in _EU[counted] if 90.0 - flattest_deg <= upto + _SLACK)
    return SetFactor(step, counted, words, rule)


def one_longer(length_m: Array, misfit_m: Array) -> bool:
    """Return whether legs (k,) are out of their lengths by more than sets are made to.

    10 mm between longest and shortest up to 2 m, 5 mm a metre beyond (Certex, technical description of chain
    slings: read).
    """
    allowed = np.maximum(0.010, 0.005 * length_m)
    return bool(np.ptp(misfit_m) > allowed.min())


def uneven(from_horizontal_deg: Array, directions: Array) -> tuple[str, ...]:
    """Return why legs are no even set: too steep, unlike, or unevenly spaced in plan.

    `from_horizontal_deg` (k,), `directions` (k, 3) from attachment to hook. Four legs compare opposite gaps in
    plan, three all gaps, two must be opposite.
    """
    found = []
    if from_horizontal_deg.max() > 90.0 - EVEN_DEG:
        found.append("a leg is nearer than 15° to the vertical")
    if np.ptp(from_horizontal_deg) > EVEN_DEG:
        found.append("the legs differ by more than 15° in steepness")
    bearing = np.sort(np.degrees(np.arctan2(directions[:, 1], directions[:, 0])))
    gap = np.diff(np.append(bearing, bearing[0] + 360.0))
    if len(gap) == 4:
        spaced = max(abs(gap[0] - gap[2]), abs(gap[1] - gap[3])) <= EVEN_DEG
    else:
        spaced = float(np.ptp(gap)) <= (2.0 if len(gap) == 2 else 1.0) * EVEN_DEG
    if not spaced:
        found.append("the legs are unevenly spaced in plan by more than 15°")
    return tuple(found)
