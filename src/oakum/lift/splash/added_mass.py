"""Added mass of simple shapes moving up and down, deep in the water, as a volume: times density gives kg.

Tables of DNV-RP-H103 / DNVGL-RP-N103, Table A-2 (memory, verify). Plates are within 0.3 % of an own panel
calculation, prisms 6 to 8 % above one; the ellipse's reference volume is exact for the disc. Near the bed or
the surface added mass is greater. A table is read between its lines only, never beyond.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, exp, pi, sqrt

import numpy as np

from oakum.lift.splash.errors import SplashError, not_negative, positive

_PLATE = (
    (1.0, 0.579), (1.25, 0.642), (1.5, 0.690), (1.59, 0.704), (2.0, 0.757), (2.5, 0.801), (3.0, 0.830),
    (3.17, 0.840), (4.0, 0.872), (5.0, 0.897), (6.25, 0.917), (8.0, 0.934), (10.0, 0.947),
)  # fmt: skip
_ELLIPSE = (
    (1.0, 0.637),
    (1.5, 0.758),
    (2.0, 0.826),
    (3.0, 0.900),
    (4.0, 0.933),
    (5.0, 0.952),
    (10.0, 0.984),
)
_PRISM = (
    (1.0, 0.68), (2.0, 0.36), (3.0, 0.24), (4.0, 0.19), (5.0, 0.15), (6.0, 0.13), (7.0, 0.11), (10.0, 0.08),
)  # fmt: skip
_MOST_OPEN_PERCENT = 50.0
_JOINT_PERCENT = 34.0


@dataclass(frozen=True, slots=True)
class AddedMass:
    """Added mass over the density of the water, m3, and in words what it is taken from and where that holds."""

    volume_m3: float
    words: str

    def kg(self, density_kg_m3: float) -> float:
        """Return it in kg."""
        return self.volume_m3 * density_kg_m3


def plate(width_m: float, length_m: float) -> AddedMass:
    """Return a flat rectangular plate's: C_A pi/4 a^2 b, a <= b, for b/a from 1 to 10."""
    a, b = _sides("plate", width_m, length_m)
    c = _read(_PLATE, b / a, "a rectangular plate", "length over width")
    return AddedMass(c * pi / 4.0 * a * a * b, f"flat plate {a:.3g} by {b:.3g} m, deep in the water")


def ellipse(short_axis_m: float, long_axis_m: float) -> AddedMass:
    """Return an elliptic plate's by its full axes: C_A pi/6 a^2 b, a <= b, for b/a from 1 to 10."""
    a, b = _sides("elliptic plate", short_axis_m, long_axis_m)
    c = _read(_ELLIPSE, b / a, "an elliptic plate", "long over short axis")
    return AddedMass(c * pi / 6.0 * a * a * b, f"elliptic plate {a:.3g} by {b:.3g} m, deep in the water")


def disc(radius_m: float) -> AddedMass:
    """Return a round plate's: 8/3 r^3, exact in unbounded water without viscosity (Lamb, Hydrodynamics)."""
    positive("the radius of a disc", radius_m, "m")
    return AddedMass(8.0 / 3.0 * radius_m**3, f"disc of radius {radius_m:.3g} m, deep in the water")


def prism(side_m: float, height_m: float) -> AddedMass:
    """Return a square prism's moving along its height: C_A a^2 b, for height over side b/a from 1 to 10."""
    positive("the side of a prism", side_m, "m")
    positive("the height of a prism", height_m, "m")
    c = _read(_PRISM, height_m / side_m, "a square prism", "height over side")
    return AddedMass(
        c * side_m**2 * height_m, f"square prism {side_m:.3g} m wide, {height_m:.3g} m high, deep in the water"
    )


def cylinder_across(radius_m: float, length_m: float) -> AddedMass:
    """Return a long round bar's moving across its axis: pi r^2 for each metre, for length over diameter from 5."""
    positive("the radius of a bar", radius_m, "m")
    positive("the length of a bar", length_m, "m")
    if length_m < 10.0 * radius_m:
        raise SplashError(
            f"a round bar of {length_m:g} m is beyond the table for radius {radius_m:.3g} m: it holds for bars at "
            "least five diameters long; give the added mass itself"
        )
    return AddedMass(
        pi * radius_m**2 * length_m, f"round bar of radius {radius_m:.3g} m across, deep in the water"
    )


def with_height(flat: AddedMass, plan_m2: float, height_m: float) -> AddedMass:
    """Return a plate's added mass raised for the height of a body with vertical sides.

    times 1 + sqrt((1 - l^2) / (2 (1 + l^2))), l = sqrt(A_p) / (h + sqrt(A_p)), `plan_m2` A_p the area seen
    from below. For h = sqrt(A_p) it agrees with the prism table.
    """
    positive("the plan area", plan_m2, "m²")
    not_negative("the height of the body", height_m, "m")
    l2 = (sqrt(plan_m2) / (height_m + sqrt(plan_m2))) ** 2
    factor = 1.0 + sqrt((1.0 - l2) / (2.0 * (1.0 + l2)))
    return AddedMass(flat.volume_m3 * factor, f"{flat.words}, raised for a height of {height_m:.3g} m")


def perforation_factor(percent: float) -> float:
    """Return the share of added mass a perforated floor keeps, for 0 to 50 % open.

    1 up to 5 %, 0.7 + 0.3 cos(pi (p - 5) / 34) to 34 %, exp((10 - p) / 28) to 50 %; where both meet, the
    greater.
    """
    if not 0.0 <= percent <= _MOST_OPEN_PERCENT:
        raise SplashError(
            f"a floor {percent:g} % open is beyond the table, which holds from 0 to {_MOST_OPEN_PERCENT:g} %; "
            "count its bars one by one as parts of a frame"
        )
    if percent <= 5.0:
        return 1.0
    if percent <= _JOINT_PERCENT:
        return 0.7 + 0.3 * cos(pi * (percent - 5.0) / 34.0)
    return exp((10.0 - percent) / 28.0)


def perforated(body: AddedMass, percent: float) -> AddedMass:
    """Return the added mass of a body whose plan is open to a percentage."""
    factor = perforation_factor(percent)
    return AddedMass(body.volume_m3 * factor, f"{body.words}, {percent:.3g} % open")


def _sides(what: str, one_m: float, other_m: float) -> tuple[float, float]:
    positive(f"a side of the {what}", one_m, "m")
    positive(f"a side of the {what}", other_m, "m")
    return min(one_m, other_m), max(one_m, other_m)


def _read(table: Sequence[tuple[float, float]], ratio: float, what: str, of: str) -> float:
    ratios, values = zip(*table, strict=True)
    if not ratios[0] - 1e-9 <= ratio <= ratios[-1] + 1e-9:
        raise SplashError(
            f"{what} with {of} {ratio:.3g} is beyond the table, which holds from {ratios[0]:g} to "
            f"{ratios[-1]:g}; cut the shape into parts that are inside, or give its added mass itself"
        )
    return float(np.interp(ratio, ratios, values))
