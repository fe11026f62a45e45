"""What was taken out of a square between two sets of levels, how well that is known, and what drives the width."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, hypot, sqrt

import numpy as np

from oakum.ground.estimate import Spread
from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.outline import Array, Outline
from oakum.seabed.dig.surface import Level, Surface, surface
from oakum.seabed.dig.unevenness import unevenness_m
from oakum.seabed.dig.width import Part, spread_from

LEAST_COVERED = 0.5
"""A square of which less than this lies between its levels is refused: most of the answer would be invented."""

BEFORE, AFTER = "levels before, each by itself", "levels after, each by itself"
SHARED = "what all levels share (zero of gauge or string, water level)"
EDGE = "edge of the square beyond the levels"
UNEVEN = "bed between the levels, which is not plane"


@dataclass(frozen=True, slots=True)
class Epoch:
    """Levels of one surface; `sd_m` is the random sd of one level, None where nobody said."""

    levels: tuple[Level, ...]
    sd_m: float | None = None


@dataclass(frozen=True, slots=True)
class Rise:
    """A place where the bed came out higher after than before, and by how much."""

    name: str
    rise_m: float


@dataclass(frozen=True, slots=True, eq=False)
class Dug:
    """The answer for one spit.

    `best_m3` is the likely volume; `volume` its spread, None where `why_no_width` says what is missing. `parts`
    are the causes of the width, `covered` the share of the square between the levels of both sets, `depth_m` the
    mean depth dug. `bias_m3_per_cm`: what one centimetre that all levels share makes. `rises`: levels that rose.
    """

    best_m3: float
    area_m2: float
    depth_m: float
    covered: float
    volume: Spread | None
    parts: tuple[Part, ...]
    why_no_width: str
    rises: tuple[Rise, ...]
    open_questions: tuple[str, ...]
    cautions: tuple[str, ...]
    top: Surface
    bottom: Surface

    @property
    def bias_m3_per_cm(self) -> float:
        """Volume that one centimetre shared by all levels of one set makes."""
        return 0.01 * self.area_m2


def dug(where: Outline, before: Epoch, after: Epoch, *, bias_sd_m: float | None) -> Dug:
    """Return what was taken out inside `where` between two sets of levels.

    Each surface is integrated over the square on its own triangles, exactly, so that neither is resampled; where
    both were read at the same places the triangles are the same. `bias_sd_m` is the sd of what the difference of
    the two sets shares: 0 where both hang on one string or one gauge zero, None where nobody knows (then no width
    is given). Raises `DigError` for levels that cannot carry a surface or that leave most of the square uncovered.
    """
    top = surface(before.levels, where, what="levels before")
    bottom = surface(after.levels, where, what="levels after")
    area = where.area_m2
    covered = min(top.covered_m2(where), bottom.covered_m2(where)) / area
    if covered < LEAST_COVERED:
        raise DigError(
            f"the levels cover {100 * covered:.0f} % of the square, and the rest would be invented; read levels at "
            "its corners"
        )
    weights = top.weights_over(where), bottom.weights_over(where)
    best = _integral(top, weights[0]) - _integral(bottom, weights[1])
    depths = _depths(top, bottom)
    parts, missing = [], []
    for epoch, weight, cause in ((before, weights[0], BEFORE), (after, weights[1], AFTER)):
        if epoch.sd_m is None:
            missing.append(f"the sd of the {cause.partition(',')[0]} is not known")
        else:
            parts.append(Part(cause, epoch.sd_m * hypot(*weight)))
    if bias_sd_m is None:
        missing.append("what all levels share is not known (water level, zero of gauge or string)")
    elif bias_sd_m > 0.0:
        parts.append(Part(SHARED, bias_sd_m * area))
    if covered < 1.0 - 1e-9:
        parts.append(Part(EDGE, (1.0 - covered) * area * _sd([d for _, d in depths])))
    uneven = [unevenness_m(one, epoch.sd_m or 0.0) for one, epoch in ((top, before), (bottom, after))]
    known = [value for value in uneven if value is not None]
    if known:
        rough = [value * hypot(*w) for value, w in zip(uneven, weights, strict=True) if value]
        parts.append(Part(UNEVEN, hypot(*rough) if rough else 0.0))
    real = tuple(part for part in parts if part.sd > 0.0)
    return Dug(
        best,
        area,
        best / area,
        covered,
        None if missing else spread_from(best, real, "m3"),
        real,
        "; ".join(missing),
        _rises(depths, before, after),
        _doubles(top, before, "before") + _doubles(bottom, after, "after"),
        _cautions(len(known), covered),
        top,
        bottom,
    )


def _integral(held: Surface, weights: Array) -> float:
    return fsum(float(weight) * level.z_m for weight, level in zip(weights, held.levels, strict=True))


def _depths(top: Surface, bottom: Surface) -> list[tuple[str, float]]:
    """Depth dug at every place of the later levels under the earlier surface."""
    found = []
    places = [(float(x), float(y)) for x, y in bottom.nodes[: bottom.read]]
    for index, above in enumerate(top.heights_m(places)):
        if above is not None:
            name = bottom.levels[bottom.mix[index][0][0]].name
            found.append((name, above - float(bottom.z_m[index])))
    return found


def _rises(depths: Sequence[tuple[str, float]], before: Epoch, after: Epoch) -> tuple[Rise, ...]:
    noise = 2.0 * hypot(before.sd_m or 0.0, after.sd_m or 0.0)
    return tuple(Rise(name, -depth) for name, depth in depths if depth < -max(noise, 1e-9))


def _doubles(held: Surface, epoch: Epoch, when: str) -> tuple[str, ...]:
    """Name places read several times whose levels differ by more than three combined sd."""
    said = []
    for mix in held.mix[: held.read]:
        here = [held.levels[k] for k, _ in mix]
        apart = max(one.z_m for one in here) - min(one.z_m for one in here)
        if len(here) > 1 and apart > (3.0 * sqrt(2.0) * epoch.sd_m if epoch.sd_m else 0.0):
            names = " and ".join(dict.fromkeys(one.name for one in here))
            said.append(
                f"{names}: {len(here)} levels {when} at one place differ by {apart:.3f} m; which holds?"
            )
    return tuple(said)


def _sd(values: Sequence[float]) -> float:
    return float(np.std(values, ddof=1)) if len(values) > 1 else 0.0


def _cautions(known: int, covered: float) -> tuple[str, ...]:
    said = []
    if known < 2:
        said.append(
            "Between the levels the bed is taken as plane. With fewer than three levels inside the square nothing "
            "tells what that costs, and the width leaves it out."
        )
    if covered < 1.0 - 1e-9:
        said.append(
            f"{100 * (1 - covered):.0f} % of the square lies beyond the levels; there the nearest level is carried out."
        )
    said.append(
        "Walls that lean or fell in, and spoil that drifted back, are in the volume as the levels saw them."
    )
    return tuple(said)
