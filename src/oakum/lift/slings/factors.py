"""Factors on the WLL of a leg or a fitting: hitch, bend, wetness, pull out of line. Each names its rule.

Between the angles of a table the next worse line is taken; nothing is interpolated.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from oakum.lift.checks import Rule
from oakum.lift.slings import rules
from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.ruling import Hitches


@dataclass(frozen=True, slots=True)
class Factor:
    """A number the WLL is multiplied with, in words, by which rule."""

    value: float
    words: str
    rule: Rule


CHOKE_ANGLES = ((30.0, 0.49), (60.0, 0.62), (90.0, 0.74))
"""Below this angle of choke, degrees, this share of the choke rating; up to and at 120 degrees 0.87, over it 1."""

SHACKLE_ANGLES = ((5.0, 1.0), (45.0, 0.7), (90.0, 0.5))
"""Up to this angle off line, degrees, this share of the WLL of a shackle; not beyond."""

EYEBOLT_ANGLES = ((5.0, 1.0), (15.0, 0.8), (30.0, 0.65), (45.0, 0.3), (90.0, 0.25))
"""Up to this angle off its axis, degrees, this share of the WLL of a shoulder eyebolt; not beyond."""

BASKET_EU = ((7.0, 2.0), (45.0, 1.4), (60.0, 1.0))
"""Up to this angle of the parts from the pull, degrees, this multiple of the straight pull."""

WET_POLYAMIDE = 0.85
PLAIN_EYE_DEG = 5.0
_SLACK = 1e-9


def choke_angle(angle_deg: float) -> Factor:
    """Return the factor on the choke rating for an angle of choke, 0 to 180 degrees."""
    if not 0.0 <= angle_deg <= 180.0:
        raise SlingError(f"an angle of choke lies between 0 and 180 degrees, got {angle_deg:g}")
    value = 1.0 if angle_deg > 120.0 else 0.87
    for below, share in reversed(CHOKE_ANGLES):
        if angle_deg < below:
            value = share
    return Factor(value, f"angle of choke {angle_deg:.0f}°", rules.CHOKE_ANGLE)


def choke(book: Hitches) -> Factor:
    """Return the factor of a choke hitch on the straight pull."""
    if book == "EU":
        return Factor(0.8, "choke hitch", rules.CHOKE_EU)
    return Factor(0.75, "choke hitch", rules.CHOKE_US)


def basket(angle_deg: float, book: Hitches) -> Factor | None:
    """Return the factor of a basket hitch on the straight pull, None where the parts are too flat.

    `angle_deg`: of each part from the line at right angles to the pull, 90 = parallel. Two parts carry twice
    the sine; the European steps are never taken above that.
    """
    if not 0.0 < angle_deg <= 90.0:
        raise SlingError(f"a basket's parts stand at more than 0 and at most 90 degrees, got {angle_deg:g}")
    if angle_deg < 30.0:
        return None
    exact = 2.0 * math.sin(math.radians(angle_deg))
    words = f"basket hitch, parts at {angle_deg:.0f}°"
    if book == "US":
        return Factor(exact, words, rules.BASKET_US)
    step = _step(BASKET_EU, 90.0 - angle_deg)
    return None if step is None else Factor(min(step, exact), words, rules.BASKET_EU)


def bend(bend_diameter_m: float, rope_diameter_m: float) -> Factor | None:
    """Return the factor of a wire rope bent over a diameter, None where it is less than the rope's own.

    1 - 0.5 / sqrt(D/d): GL Noble Denton 0027/ND rev 11.2, 7.8 (read). Steel wire rope only.
    """
    if not (bend_diameter_m > 0.0 and rope_diameter_m > 0.0):
        raise SlingError("a bend needs the diameters of pin and rope, both greater than zero")
    ratio = bend_diameter_m / rope_diameter_m
    if ratio < 1.0 - _SLACK:
        return None
    return Factor(1.0 - 0.5 / math.sqrt(max(ratio, 1.0)), f"bent over {ratio:.1f} diameters", rules.BEND)


def wet_polyamide() -> Factor:
    """Return the factor of polyamide under water or dripping."""
    return Factor(WET_POLYAMIDE, "wet polyamide", rules.WET)


def shackle(off_line_deg: float) -> Factor | None:
    """Return the factor of a shackle pulled out of line, None beyond 90 degrees."""
    value = _step(SHACKLE_ANGLES, _off(off_line_deg))
    return None if value is None else Factor(value, f"pulled {off_line_deg:.0f}° out of line", rules.SHACKLE)


def shoulder_eyebolt(off_axis_deg: float) -> Factor | None:
    """Return the factor of a shoulder eyebolt pulled off its axis, None beyond 90 degrees."""
    value = _step(EYEBOLT_ANGLES, _off(off_axis_deg))
    return None if value is None else Factor(value, f"pulled {off_axis_deg:.0f}° off its axis", rules.EYEBOLT)


def plain_eyebolt(off_axis_deg: float) -> Factor | None:
    """Return the factor of an eyebolt without shoulder, None where it is pulled off its axis."""
    if _off(off_axis_deg) > PLAIN_EYE_DEG:
        return None
    return Factor(1.0, "pulled along its axis", rules.PLAIN_EYE)


def swivel_eye(off_axis_deg: float) -> Factor | None:
    """Return the factor of a swivel eye, None beyond 90 degrees."""
    if _off(off_axis_deg) > 90.0:
        return None
    return Factor(1.0, "turns to the pull", rules.SWIVEL)


def _off(angle_deg: float) -> float:
    if not 0.0 <= angle_deg <= 180.0:
        raise SlingError(f"an angle out of line lies between 0 and 180 degrees, got {angle_deg:g}")
    return angle_deg


def _step(table: tuple[tuple[float, float], ...], angle_deg: float) -> float | None:
    return next((value for upto, value in table if angle_deg <= upto + _SLACK), None)
