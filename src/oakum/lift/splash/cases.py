"""Load cases found from the geometry: where the surface can stand on the body when a wave comes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from oakum.lift.splash.body import Part, SplashBody

CaseKind = Literal["touching", "half in", "just under", "hit from below"]


@dataclass(frozen=True, slots=True)
class Wet:
    """A part as far as it is under water: its share, and how deep the middle of that share is."""

    part: Part
    share: float
    below_m: float


@dataclass(frozen=True, slots=True)
class LoadCase:
    """The body with the still surface at `water_line_m` above its lowest point.

    `part` is the one at the surface. `waterplane_m2` is cut by waves about this line; `slamming_m2` is the
    coefficient times the area hit. "hit from below": just clear, nothing under water, hollows full.
    """

    kind: CaseKind
    part: str
    water_line_m: float
    wet: tuple[Wet, ...]
    waterplane_m2: float
    slamming_m2: float

    @property
    def title(self) -> str:
        """The case in words."""
        if self.kind == "hit from below":
            return "clear of the water and hit from below"
        return {
            "touching": f'"{self.part}" just touching, hit from below',
            "half in": f'"{self.part}" half in',
            "just under": f'"{self.part}" just under',
        }[self.kind]

    def held_m3(self, body: SplashBody) -> tuple[float, float]:
        """Return the water in full hollows below and above the still surface, m3."""
        below = above = 0.0
        for hollow in body.hollows:
            under = min(max(self.water_line_m - hollow.floor_m, 0.0), hollow.height_m)
            if self.kind == "hit from below":
                under = 0.0
            below += hollow.plan_m2 * under
            above += hollow.plan_m2 * (hollow.height_m - under)
        return below, above


def load_cases(body: SplashBody) -> tuple[LoadCase, ...]:
    """Return the cases of a body: just clear, then each part touching, half in and just under, from below up.

    Parts between the same heights are at the surface together and make one case.
    """
    lowest = [p for p in body.parts if p.base_m <= 1e-9]
    first = lowest[0].name if len(lowest) == 1 else "the underside"
    cases = [LoadCase("hit from below", first, 0.0, (), 0.0, sum(p.slamming_m2 for p in lowest))]
    seen: set[tuple[float, float]] = set()
    for part in sorted(body.parts, key=lambda p: (p.base_m, p.top_m)):
        place = (round(part.base_m, 6), round(part.top_m, 6))
        if place in seen:
            continue
        seen.add(place)
        alike = [p for p in body.parts if (round(p.base_m, 6), round(p.top_m, 6)) == place]
        name = alike[0].name if len(alike) == 1 else f"{alike[0].name} and {len(alike) - 1} more"
        slam = sum(p.slamming_m2 for p in alike)
        cases.append(_case("touching", name, part.base_m, body, alike, slam))
        cases.append(_case("half in", name, part.base_m + 0.5 * part.height_m, body, alike, 0.0))
        cases.append(_case("just under", name, part.top_m, body, alike, 0.0))
    return tuple(cases)


def _case(
    kind: CaseKind, name: str, line_m: float, body: SplashBody, at_surface: list[Part], slam: float
) -> LoadCase:
    wet = []
    cut = 0.0
    for part in body.parts:
        share = part.share_under(line_m)
        if share > 0.0:
            middle = part.base_m + 0.5 * share * part.height_m
            wet.append(Wet(part, share, line_m - middle))
        if part in at_surface or part.base_m < line_m < part.top_m:
            cut += part.waterplane_m2
    return LoadCase(kind, name, line_m, tuple(wet), cut, slam)
