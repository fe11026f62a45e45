"""Cross-sections: what bending, shear and weight need. Depth is upright, width level."""

from __future__ import annotations

import math
from dataclasses import dataclass

from oakum.lift.cradle.errors import CradleError, positive


@dataclass(frozen=True, slots=True)
class Section:
    """One section. Areas m2, second moments of area m4, moduli m3, lengths m.

    `inertia_m4`, `modulus_m3`: bending up and down; `side_inertia_m4`, `side_modulus_m3`: sideways. `shear_m2`: shear
    force over it is the greatest shear stress (timber) or the mean over the webs (tubes). `outside_m2` is what
    it displaces with closed ends. `kind`: "solid", "round", "tube", "round tube", "typed".
    """

    kind: str
    words: str
    width_m: float
    depth_m: float
    area_m2: float
    inertia_m4: float
    modulus_m3: float
    side_inertia_m4: float
    side_modulus_m3: float
    shear_m2: float
    outside_m2: float
    thickness_m: float | None = None

    @property
    def is_hollow(self) -> bool:
        """Whether there is an inside that holds air or water."""
        return self.outside_m2 > self.area_m2 * (1.0 + 1e-9)

    @property
    def gyration_m(self) -> float:
        """The least radius of gyration."""
        return math.sqrt(min(self.inertia_m4, self.side_inertia_m4) / self.area_m2)


def _mm(value_m: float) -> str:
    return f"{1000.0 * value_m:g}"


def rectangle(width_m: float, depth_m: float) -> Section:
    """Return a solid rectangle: timber, or a flat. The greatest shear stress is 1.5 V / A."""
    positive("the width of a section", width_m, "m")
    positive("the depth of a section", depth_m, "m")
    area = width_m * depth_m
    return Section(
        "solid", f"{_mm(width_m)} x {_mm(depth_m)} mm", width_m, depth_m, area, width_m * depth_m**3 / 12.0,
        width_m * depth_m**2 / 6.0, depth_m * width_m**3 / 12.0, depth_m * width_m**2 / 6.0, area / 1.5, area,
    )  # fmt: skip


def round_bar(diameter_m: float) -> Section:
    """Return a solid round: a pole or a bar. The greatest shear stress is 4/3 V / A."""
    positive("the diameter of a section", diameter_m, "m")
    area, inertia = math.pi * diameter_m**2 / 4.0, math.pi * diameter_m**4 / 64.0
    modulus = inertia / (diameter_m / 2.0)
    return Section(
        "round", f"{_mm(diameter_m)} mm round", diameter_m, diameter_m, area, inertia, modulus, inertia, modulus,
        area / (4.0 / 3.0), area,
    )  # fmt: skip


def tube(width_m: float, depth_m: float, wall_m: float, corner_m: float | None = None) -> Section:
    """Return a rectangular tube with its rounded corners.

    `corner_m` is the outer radius; None takes that of cold-formed tubes to EN 10219-2: 2 t up to 6 mm wall, 2.5 t to
    10 mm, 3 t above (read, a maker's table). Sharp corners make I several per cent too great. Shear area A h / (b + h),
    EN 1993-1-1 6.2.6 (memory, verify). The formulas of EN 10219-2 annex B are those of a rectangle less corners.
    """
    for what, value in (("width", width_m), ("depth", depth_m), ("wall", wall_m)):
        positive(f"the {what} of a tube", value, "m")
    if corner_m is None:
        corner_m = wall_m * (2.0 if wall_m <= 0.006 + 1e-9 else 2.5 if wall_m <= 0.010 + 1e-9 else 3.0)
    if 2.0 * wall_m >= min(width_m, depth_m) or 2.0 * corner_m > min(width_m, depth_m):
        raise CradleError(
            f"a tube {_mm(width_m)} x {_mm(depth_m)} mm cannot have a wall of {_mm(wall_m)} mm and corners of "
            f"{_mm(corner_m)} mm"
        )
    inner = max(corner_m - wall_m, 0.0)
    outside = _rounded(width_m, depth_m, corner_m)
    inside = _rounded(width_m - 2.0 * wall_m, depth_m - 2.0 * wall_m, inner)
    area, upright, level = (a - b for a, b in zip(outside, inside, strict=True))
    return Section(
        "tube", f"{_mm(width_m)} x {_mm(depth_m)} x {_mm(wall_m)} mm tube", width_m, depth_m, area, upright,
        upright / (depth_m / 2.0), level, level / (width_m / 2.0), area * depth_m / (width_m + depth_m), outside[0],
        wall_m,
    )  # fmt: skip


def _rounded(width_m: float, depth_m: float, radius_m: float) -> tuple[float, float, float]:
    """Return area and second moments (bending upright, level) of a rectangle with rounded corners."""
    r = radius_m
    square = (1.0 - math.pi / 4.0) * r * r  # what is cut off one corner
    centre = r * (10.0 - 3.0 * math.pi) / (12.0 - 3.0 * math.pi)  # its centre from the two outer faces
    own = r**4 * (1.0 / 3.0 - math.pi / 16.0 - 1.0 / (3.0 * (12.0 - 3.0 * math.pi)))
    area = width_m * depth_m - 4.0 * square
    upright = width_m * depth_m**3 / 12.0 - 4.0 * (own + square * (depth_m / 2.0 - centre) ** 2)
    level = depth_m * width_m**3 / 12.0 - 4.0 * (own + square * (width_m / 2.0 - centre) ** 2)
    return area, upright, level


def round_tube(diameter_m: float, wall_m: float) -> Section:
    """Return a round tube. Shear area 2 A / pi, EN 1993-1-1 6.2.6 (memory, verify)."""
    positive("the diameter of a tube", diameter_m, "m")
    positive("the wall of a tube", wall_m, "m")
    bore = diameter_m - 2.0 * wall_m
    if bore <= 0.0:
        raise CradleError(f"a round tube of {_mm(diameter_m)} mm cannot have a wall of {_mm(wall_m)} mm")
    area = math.pi * (diameter_m**2 - bore**2) / 4.0
    inertia = math.pi * (diameter_m**4 - bore**4) / 64.0
    modulus = inertia / (diameter_m / 2.0)
    return Section(
        "round tube", f"{_mm(diameter_m)} x {_mm(wall_m)} mm round tube", diameter_m, diameter_m, area, inertia,
        modulus, inertia, modulus, 2.0 * area / math.pi, math.pi * diameter_m**2 / 4.0, wall_m,
    )  # fmt: skip


def typed_section(
    words: str,
    *,
    width_m: float,
    depth_m: float,
    area_m2: float,
    inertia_m4: float,
    modulus_m3: float,
    side_inertia_m4: float,
    side_modulus_m3: float,
    shear_m2: float,
) -> Section:
    """Return a section by the numbers of its maker's table: angles, channels, beams."""
    for value in (area_m2, inertia_m4, modulus_m3, side_inertia_m4, side_modulus_m3, shear_m2):
        positive(f"each number of the section {words}", value, "")
    return Section(
        "typed", words, width_m, depth_m, area_m2, inertia_m4, modulus_m3, side_inertia_m4, side_modulus_m3, shear_m2,
        area_m2,
    )  # fmt: skip
