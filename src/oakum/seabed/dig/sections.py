"""Volume from the areas of sections along a trench: average ends, trapezoid, Simpson, prismoid, frustum.

Areas in m2, spacings and lengths in metres, volumes in m3. Every rule but the frustum is linear in the areas, so
that the width of a volume follows exactly from the sd of the areas.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, isfinite, sqrt

from oakum.ground.estimate import Spread
from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.width import Part, spread_from


def trapezoid(areas_m2: Sequence[float], spacing_m: float) -> float:
    """Return h [(A0 + An) / 2 + A1 + ... + An-1]; overstates a trench whose sections taper to a point."""
    return _sum(trapezoid_weights(len(_areas(areas_m2, 2)), spacing_m), areas_m2)


def simpson(areas_m2: Sequence[float], spacing_m: float) -> float:
    """Return Simpson's rule, h/3 [A0 + An + 4 odd + 2 even]; an odd last interval is taken by the trapezoid."""
    return _sum(simpson_weights(len(_areas(areas_m2, 3)), spacing_m), areas_m2)


def prismoid(first_m2: float, middle_m2: float, last_m2: float, length_m: float) -> float:
    """Return h/6 (A1 + 4 Am + A2), exact where the area is at most a cubic of the length.

    `middle_m2` is the section measured or constructed half way, never the mean of the ends: with that it would be
    the trapezoid again.
    """
    _areas((first_m2, middle_m2, last_m2), 3)
    return _length(length_m) / 6.0 * (first_m2 + 4.0 * middle_m2 + last_m2)


def frustum(first_m2: float, last_m2: float, length_m: float) -> float:
    """Return h/3 (A1 + A2 + sqrt(A1 A2)), exact for a cone or pyramid cut off square: ends of one shape."""
    _areas((first_m2, last_m2), 2)
    return _length(length_m) / 3.0 * (first_m2 + last_m2 + sqrt(first_m2 * last_m2))


def trapezoid_weights(count: int, spacing_m: float) -> tuple[float, ...]:
    """Return what each of `count` sections counts in the trapezoid rule, in metres."""
    h = _length(spacing_m)
    return (0.5 * h, *([h] * (count - 2)), 0.5 * h)


def simpson_weights(count: int, spacing_m: float) -> tuple[float, ...]:
    """Return what each of `count` sections counts in Simpson's rule, in metres."""
    h = _length(spacing_m)
    even = count if count % 2 else count - 1
    found = [h / 3.0, *(h * (4.0 if i % 2 else 2.0) / 3.0 for i in range(1, even - 1)), h / 3.0]
    if even < count:
        found[-1] += 0.5 * h
        found.append(0.5 * h)
    return tuple(found)


def section_spread(
    weights_m: Sequence[float],
    areas_m2: Sequence[float],
    *,
    area_sd_m2: float,
    widths_m: Sequence[float] = (),
    bias_sd_m: float = 0.0,
) -> Spread:
    """Return a volume by section weights with its width.

    `area_sd_m2` is the random sd of each section's area. `bias_sd_m` is the sd of what all levels share: it shifts
    every section by its own width (`widths_m`) at once and does not average out.
    """
    if bias_sd_m > 0.0 and len(widths_m) != len(areas_m2):
        raise DigError("a common bias of the levels needs the width of every section")
    parts = [Part("areas of the sections, each by itself", area_sd_m2 * hypot(*weights_m))]
    if bias_sd_m > 0.0:
        parts.append(Part("what all levels share", bias_sd_m * abs(_sum(weights_m, widths_m))))
    return spread_from(_sum(weights_m, areas_m2), parts, "m3")


def _sum(weights: Sequence[float], values: Sequence[float]) -> float:
    return sum(w * v for w, v in zip(weights, values, strict=True))


def _areas(areas_m2: Sequence[float], least: int) -> Sequence[float]:
    if len(areas_m2) < least:
        raise DigError(f"this rule needs at least {least} sections, not {len(areas_m2)}")
    if not all(isfinite(a) and a >= 0.0 for a in areas_m2):
        raise DigError("the area of a section is a number of m2 that is not negative")
    return areas_m2


def _length(length_m: float) -> float:
    if not (isfinite(length_m) and length_m > 0.0):
        raise DigError("the distance between sections is a length greater than nothing")
    return length_m
