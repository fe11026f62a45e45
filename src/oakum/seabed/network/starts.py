"""Where the adjustment begins: places found from the readings alone, or those the marks are thought to have."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import shortest_path

from oakum.seabed.network.adjust import Adjusted
from oakum.seabed.network.build import Built
from oakum.seabed.network.fit import rigid, scaling
from oakum.seabed.network.growth import Growth
from oakum.seabed.network.heights import first_heights
from oakum.seabed.network.patches import PATCH, Patches
from oakum.seabed.network.rows import FreeProblem, Network
from oakum.seabed.network.sights import Sights, sights_of
from oakum.seabed.network.twins import second_places
from oakum.seabed.network.world import on_the_world
from oakum.seabed.solver.damped import Stop, damped
from oakum.seabed.solver.normal import NormalSteps
from oakum.seabed.solver.robust import Huber

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

FLAT_M = 0.02
"""Shaken out of the plane by this much (seed fixed): in a flat start no tape tells up from down."""

TRIALS, ATTEMPTS = 25, 3
"""So many triangles are tried for the one to begin with, and so many grown from in full where that fails."""


@dataclass(frozen=True, slots=True, eq=False)
class Start:
    """A state to begin from; `core` are the marks placed from tapes, the rest are guesses.

    `rival`: the next start must be tried as well, however well this one fits.
    """

    state: Array
    core: Bools
    rival: bool = False


def starts(built: Built, network: Network, anticlockwise: tuple[str, str, str] | None) -> Iterator[Start]:
    """States worth trying, the likeliest first, each worked out when asked for.

    `network` has only the rows that count. Places thought for every mark are the only start. Otherwise the plan grows
    from its best triangle and is laid on what is known, as it is and mirrored; last it grows from the known marks.
    """
    n = len(network.names)
    heights, state = first_heights(network)
    known = np.where(network.held[: 3 * n].reshape(n, 3), network.given[: 3 * n].reshape(n, 3), np.nan)
    given = np.where(np.isfinite(known), known, built.place_m)
    given[:, 2] = np.where(np.isfinite(given[:, 2]), given[:, 2], heights)
    seeds = np.asarray(np.isfinite(given).all(axis=1))
    if seeds.all():
        yield Start(_with(state, network, given), seeds)
        return
    sights = sights_of(network)
    enough = bool(np.isfinite(heights).sum() >= 0.6 * n)
    used = heights if enough else np.full(n, np.nan)
    if seeds.sum() >= max(3, 0.5 * n):
        yield _from_known(network, state, sights, used, given, seeds)
    patches = Patches(sights, used)
    seeded = _first_triangles(patches)
    for number in seeded[:ATTEMPTS]:
        grown = _grown(network, state, patches, number)
        places = _guessed(sights, grown)
        if not enough:
            places[:, 2] += np.where(
                np.isfinite(given[:, 2]), 0.0, np.random.default_rng(0).normal(0.0, FLAT_M, n)
            )
        images, unclear = on_the_world(network, places, grown.placed, heights, given, anticlockwise)
        for order, laid in enumerate(images):
            yield Start(_with(state, network, laid), grown.placed, unclear and order == 0)
    if not seeded or 2 <= seeds.sum() < max(3, 0.5 * n):
        yield _from_known(network, state, sights, used, given, seeds)


def _from_known(
    network: Network, state: Array, sights: Sights, heights: Array, given: Array, seeds: Bools
) -> Start:
    """Grown from the marks whose places are known or thought, which stay while it grows."""
    growth = Growth(sights, heights)
    for mark in np.flatnonzero(seeds).tolist():
        growth.put(mark, given[mark])
    growth.grow(len(heights), lambda places, placed: _refined(network, state, places, placed, seeds))
    return Start(_with(state, network, _guessed(sights, growth)), growth.placed)


def _with(state: Array, network: Network, places: Array) -> Array:
    out = state.copy()
    out[: places.size] = np.where(network.held[: places.size], network.given[: places.size], places.ravel())
    return out


def _first_triangles(patches: Patches) -> list[int]:
    """Triangles to begin with: those from which most marks grow without a guess, no two of one neighbourhood."""
    n = len(patches.heights)
    trials: list[tuple[float, int]] = []
    used: set[int] = set()
    for number, (_, marks, _) in enumerate(patches.seeds):
        if len(used & set(marks)) > 1 and len(trials) > 2:
            continue
        trial = patches.patch(number)
        count = int(trial.placed.sum())
        trials.append((trial.miss / max(count - 3, 1) - 0.1 * count, number))
        used |= set(marks)
        if len(trials) >= TRIALS or (len(trials) >= 3 and count >= min(n, PATCH)):
            break
    return [number for _, number in sorted(trials)]


def _grown(network: Network, state: Array, patches: Patches, number: int) -> Growth:
    """Grow the whole plan from one triangle."""
    nothing = np.zeros(len(patches.heights), dtype=bool)
    growth = Growth(patches.sights, patches.heights, patches.join)
    _, marks, places = patches.seeds[number]
    for mark, place in zip(marks, places, strict=True):
        growth.put(mark, place)
    growth.grow(len(nothing), lambda now, placed: _refined(network, state, now, placed, nothing))
    return growth


def _refined(
    network: Network, state: Array, places: Array, placed: Bools, held: Bools
) -> tuple[Array, Bools]:
    """Adjust what stands so far among itself, misreadings counting less; places of known marks stay.

    Marks that fit better folded over are folded; those that fit nowhere lose their place.
    """
    n = len(places)
    wanted = np.ones(len(state), dtype=bool)
    wanted[: 3 * n] = np.repeat(placed, 3)
    part = network.pick(network.touches(wanted))
    relative = [g.equation in ("tape", "tie", "depth", "level", "along", "left") for g in part.groups]
    keep = np.concatenate([np.full(len(g.read), r) for g, r in zip(part.groups, relative, strict=True)])
    part = part.pick(keep)
    free = np.flatnonzero(np.repeat(placed & ~held, 3))
    base = state.copy()
    base[: 3 * n] = places.ravel()
    problem = FreeProblem(part, base, free)
    steps = NormalSteps(free // 3, places[:, :2])
    stop = Stop(step=1e-3, fall=1e-4, most=15)
    found = damped(problem, base[free], steps, stop, Huber())
    standing = Adjusted(part, problem.state(found.x), free, found.cost, 0, True, "")
    second = second_places(standing)
    folded = np.flatnonzero((second.rise < -9.0) & placed & ~held)
    if len(folded):
        state = standing.state.copy()
        worst = folded[np.argsort(second.rise[folded])][: max(1, len(folded) // 2)]
        for mark in worst.tolist():
            state[3 * mark : 3 * mark + 3] = second.places[mark]
        again = damped(problem, state[free], NormalSteps(free // 3, places[:, :2]), stop, Huber())
        if again.cost < found.cost:
            found = again
    whole = problem.state(found.x)
    return whole[: 3 * n].reshape(n, 3), placed & ~_misfits(part, whole, held)


def _misfits(part: Network, state: Array, held: Bools) -> Bools:
    """Marks at which more than half of the tapes miss by far: they were put in the wrong place."""
    n = len(held)
    tapes, missed = np.zeros(n), np.zeros(n)
    first = 0
    gaps = np.abs(part.residual(state))
    for group in part.groups:
        own = gaps[first : first + len(group.read)]
        first += len(group.read)
        if group.equation == "tape":
            for end in (group.columns[:, 0] // 3, group.columns[:, 3] // 3):
                tapes += np.bincount(end, minlength=n)
                missed += np.bincount(end, own > np.maximum(0.2, 5.0 * group.sd), minlength=n)
    return np.asarray((missed > 0.5 * tapes) & (tapes > 1) & ~held)


def _guessed(sights: Sights, growth: Growth) -> Array:
    """Places of all marks: those grown, and for the rest scaling of the shortest ways along tapes."""
    places, placed = growth.places.copy(), growth.placed
    n = len(places)
    rest = np.flatnonzero(~placed)
    if len(rest) == 0:
        return places
    pairs = [(a, b, r) for a, sees in sights.tapes.items() for b, r in sees]
    pairs += [(p, end, r) for p, sees in sights.ties.items() for a, b, _, r in sees for end in (a, b)]
    if n <= 1500 and pairs:
        a, b, r = (np.array(v) for v in zip(*pairs, strict=True))
        graph = csr_array((r, (a.astype(np.int64), b.astype(np.int64))), shape=(n, n))
        ways = shortest_path(graph, directed=False)
        far = np.nanmax(np.where(np.isfinite(ways), ways, np.nan))
        laid = scaling(np.where(np.isfinite(ways), ways, far), 3)
        if placed.sum() >= 4:
            fits = [rigid(laid[placed], places[placed], mirror=m) for m in (False, True)]
            gaps = [float(np.abs(laid[placed] @ t.T + s - places[placed]).sum()) for t, s in fits]
            turn, shift = fits[int(np.argmin(gaps))]
            laid = laid @ turn.T + shift
        places[rest] = laid[rest]
    else:
        rng = np.random.default_rng(0)
        middle = places[placed].mean(axis=0) if placed.any() else np.zeros(3)
        places[rest] = middle + rng.normal(0.0, 3.0, (len(rest), 3))
    known = rest[np.isfinite(growth.heights[rest])]
    places[known, 2] = growth.heights[known]
    return places
