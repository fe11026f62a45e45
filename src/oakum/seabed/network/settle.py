"""From a site to one solution in numbers: start, adjustment, twins, frame; marks that can still move are dropped."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.adjust import Adjusted, adjust, equations, motions_at, movable
from oakum.seabed.network.answer import Twin, UnsolvedMark
from oakum.seabed.network.build import Built, build
from oakum.seabed.network.covariance import SiteCovariance
from oakum.seabed.network.motions import Motions, laid_on
from oakum.seabed.network.names import listed, marks_of
from oakum.seabed.network.reliability import Reliability, reliability
from oakum.seabed.network.rows import Network
from oakum.seabed.network.site import Levels, Site
from oakum.seabed.network.starts import starts
from oakum.seabed.network.twins import ALIKE, turned_to_better, whole_twin
from oakum.seabed.network.vet import Vetted, vet
from oakum.seabed.network.world import runs_anticlockwise

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

FAR = 0.08
"""A start that leaves a greater share of the readings far out may be a wrong one: another is tried."""


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """An adjustment with its covariance and reliability; `blocks` (n, 3, 3) of the marks."""

    adjusted: Adjusted
    motions: Motions
    covariance: SiteCovariance
    blocks: Array
    reliability: Reliability


@dataclass(frozen=True, slots=True, eq=False)
class Settled:
    """A site solved as it stands. `whole` is its mirror twin, where nothing tells the two apart."""

    site: Site
    vetted: Vetted
    built: Built
    measured: Measured
    whole: Twin | None
    dropped: tuple[UnsolvedMark, ...]
    canonical: bool


def measure(adjusted: Adjusted, levels: Levels) -> Measured | None:
    """Covariance and reliability; None where something can still move."""
    found = equations(adjusted)
    if found.factor is None:
        return None
    motions = motions_at(adjusted)
    covariance = SiteCovariance(adjusted, found, motions)
    rel = reliability(adjusted.network, adjusted.state, covariance, levels)
    return Measured(adjusted, motions, covariance, covariance.mark_blocks(), rel)


def without_marks(site: Site, names: set[str]) -> Site:
    """The site without these marks and all that touches them."""
    return replace(
        site,
        observations=tuple(o for o in site.observations if not set(marks_of(o)) & names),
        datums=tuple(d for d in site.datums if d.mark not in names),
        marks=tuple(m for m in site.marks if m.name not in names),
    )


def settle(site: Site) -> tuple[Settled | None, Vetted]:
    """Solve what can be solved; None where nothing can. The vetting is that of the whole site."""
    whole_vetting = vet(site)
    vetted, dropped = whole_vetting, list[UnsolvedMark]()
    for _ in range(len(site.observations) + 1):
        if not vetted.counted:
            return None, whole_vetting
        built = build(site, vetted)
        network = built.network.pick(built.counted)
        adjusted, twin = _best(site, built, network)
        adjusted, canonical = _framed(built, adjusted)
        measured = measure(adjusted, site.levels)
        if measured is not None:
            return Settled(site, vetted, built, measured, twin, tuple(dropped), canonical), whole_vetting
        moving = movable(adjusted, equations(adjusted))
        if not moving.any() or moving.all():
            return None, whole_vetting
        names = [name for name, moves in zip(network.names, moving, strict=True) if moves]
        words = f"{listed(names)} can still move against the rest: the readings fix no place for them"
        dropped.extend(UnsolvedMark(name, words) for name in names)
        site = without_marks(site, set(names))
        vetted = vet(site)
        dropped.extend(vetted.unsolved)
    return None, whole_vetting


def _best(site: Site, built: Built, network: Network) -> tuple[Adjusted, Twin | None]:
    """The least sum of squares over the starts and their twins; the earlier start where two are alike."""
    best: Adjusted | None = None
    for start in starts(built, network, site.anticlockwise):
        tried = turned_to_better(adjust(network, start.state, start.core))
        if best is None or tried.robust < best.robust - ALIKE:
            best = tried
        if best.far < FAR and not start.rival:
            break
    if best is None:
        raise ValueError("there is no start")
    given = bool(np.isfinite(built.place_m).all(axis=1).sum() >= 3)
    both = whole_twin(best)
    if both is None:
        return best, None
    twin, other = both
    if other.robust < best.robust - ALIKE:
        return other, None
    if given:
        return best, None
    n = len(network.names)
    if not runs_anticlockwise(network.names, best.state[: 3 * n].reshape(n, 3), site.anticlockwise):
        best = other
    return best, None if site.anticlockwise else twin


def _framed(built: Built, adjusted: Adjusted) -> tuple[Adjusted, bool]:
    """Laid on the places the marks are thought to have, else in a frame of its own (True)."""
    network, state = adjusted.network, adjusted.state
    if motions_at(adjusted).count == 0:
        return adjusted, False
    n = len(network.names)
    if np.isfinite(built.place_m).any():
        return replace(adjusted, state=laid_on(network, state, built.place_m)), False
    target = own_frame(state[: 3 * n].reshape(n, 3), network, motions_at(adjusted))
    return replace(adjusted, state=laid_on(network, state, target)), True


def own_frame(places: Array, network: Network, motions: Motions) -> Array:
    """Where a free plan is laid: flattest level, the first mark at the origin, the second due east of it.

    Only what nothing holds is changed when the plan is laid on these places.
    """
    shifts = motions.basis[:3]
    tilted = float(np.abs(motions.basis[3:5]).max(initial=0.0)) > 1e-6
    turned = float(np.abs(motions.basis[5]).max(initial=0.0)) > 1e-6
    middle = places.mean(axis=0)
    out = places - middle
    if tilted:
        normal = np.linalg.svd(out)[2][2]
        normal = normal * (1.0 if normal[2] >= 0.0 else -1.0)
        x = np.array([1.0, 0.0, 0.0]) - normal * normal[0]
        x = x / np.linalg.norm(x)
        out = out @ np.vstack([x, np.cross(normal, x), normal]).T
    if turned and len(places) > 1:
        line = out[1, :2] - out[0, :2]
        c, s = line / max(float(np.hypot(*line)), 1e-9)
        out[:, :2] = out[:, :2] @ np.array([[c, s], [-s, c]]).T
    held = network.held[: 3 * len(places)].reshape(-1, 3)
    level = float(np.abs(shifts[:2]).max(initial=0.0)) > 1e-6 and not held[:, :2].any()
    upright = float(np.abs(shifts[2]).max(initial=0.0)) > 1e-6 and not held[:, 2].any()
    out[:, :2] += -out[0, :2] - network.origin_m[:2] if level else middle[:2]
    out[:, 2] += -out[0, 2] - network.origin_m[2] if upright else middle[2]
    return np.asarray(out)
