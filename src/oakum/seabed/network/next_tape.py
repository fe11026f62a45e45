"""Which tape to measure next: what each unmeasured pair would gain for each minute of a diver's time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.answer import SiteSolution
from oakum.seabed.network.handle import Handle
from oakum.seabed.network.names import natural

Array = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Structure:
    """Something no tape goes through: an upright box over a plan polygon (x, y in m), from `low_m` to `high_m`."""

    name: str
    outline_m: tuple[tuple[float, float], ...]
    low_m: float = -math.inf
    high_m: float = math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Diver:
    """What a tape costs: minutes to read one, and to swim one metre between pairs.

    One tape a minute is half the best rate published (162 tapes in 86 min, Green 2004; read).
    """

    minutes_a_tape: float = 1.0
    minutes_a_m: float = 0.02


@dataclass(frozen=True, slots=True)
class NextTape:
    """A pair worth measuring. `gain_m2` is the fall of the trace of covariance over the chosen marks.

    `before_m` and `after_m` are root mean variances of the chosen marks before and after it, all earlier pairs of
    the list measured. `redundancy` is that of the new tape: near nothing, no other reading checks it.
    """

    a: str
    b: str
    length_m: float
    gain_m2: float
    minutes: float
    before_m: float
    after_m: float
    redundancy: float
    words: str


@dataclass(frozen=True, slots=True)
class Skipped:
    """A pair left out, and why."""

    a: str
    b: str
    why: str


@dataclass(frozen=True, slots=True)
class TapePlan:
    """Tomorrow's tapes in the order of their worth; `skipped` are pairs among the near ones that cannot be taped."""

    tapes: tuple[NextTape, ...]
    skipped: tuple[Skipped, ...]
    words: str


def crosses(a: Array, b: Array, structure: Structure) -> bool:
    """Whether the straight line from a to b passes through a structure (touching its rim does not count)."""
    outline = np.array(structure.outline_m, dtype=np.float64)
    cuts = {0.0, 1.0}
    way = b - a
    for p, q in zip(outline, np.roll(outline, -1, axis=0), strict=True):
        side = q - p
        area = way[0] * side[1] - way[1] * side[0]
        if abs(area) > 1e-12:
            t = ((p[0] - a[0]) * side[1] - (p[1] - a[1]) * side[0]) / area
            s = ((p[0] - a[0]) * way[1] - (p[1] - a[1]) * way[0]) / area
            if 0.0 < t < 1.0 and -1e-9 <= s <= 1.0 + 1e-9:
                cuts.add(float(t))
    if abs(way[2]) > 1e-12:
        cuts |= {
            t for t in ((structure.low_m - a[2]) / way[2], (structure.high_m - a[2]) / way[2]) if 0 < t < 1
        }
    edges = sorted(cuts)
    return any(_inside(a + 0.5 * (t + u) * way, outline, structure) for t, u in pairwise(edges))


def _inside(p: Array, outline: Array, structure: Structure) -> bool:
    if not structure.low_m < p[2] < structure.high_m:
        return False
    x, y = outline[:, 0], outline[:, 1]
    xn, yn = np.roll(x, -1), np.roll(y, -1)
    spans = (y > p[1]) != (yn > p[1])
    at = x + (p[1] - y) * (xn - x) / np.where(spans, yn - y, 1.0)
    return bool((spans & (p[0] < at)).sum() % 2)


def pairs_within(
    handle: Handle, longest_m: float, structures: Sequence[Structure]
) -> tuple[Ints, Array, tuple[Skipped, ...]]:
    """Pairs (k, 2) not yet taped that a diver can tape, their lengths, and near ones that cannot be taped.

    Pairs much too long (over 1.5 times the limit) are left out without a word.
    """
    places, names = handle.places_m, handle.names
    a, b = np.triu_indices(len(names), 1)
    lengths = np.linalg.norm(places[b] - places[a], axis=1)
    kept: list[tuple[int, int]] = []
    kept_lengths: list[float] = []
    skipped: list[Skipped] = []
    for i, j, length in zip(a.tolist(), b.tolist(), lengths.tolist(), strict=True):
        pair = (min(names[i], names[j]), max(names[i], names[j]))
        if length > 1.5 * longest_m or pair in handle.taped:
            continue
        if length > longest_m:
            skipped.append(Skipped(names[i], names[j], f"{length:.1f} m is longer than {longest_m:g} m"))
            continue
        through = [s.name for s in structures if crosses(places[i], places[j], s)]
        if through:
            skipped.append(Skipped(names[i], names[j], f"runs through {through[0]}"))
        elif length > 0.05:
            kept.append((i, j))
            kept_lengths.append(length)
    return np.array(kept, dtype=np.int64).reshape(-1, 2), np.array(kept_lengths), tuple(skipped)


def next_tapes(
    solution: SiteSolution,
    *,
    count: int = 10,
    marks: Sequence[str] = (),
    longest_m: float = 15.0,
    structures: Sequence[Structure] = (),
    sd_m: float = 0.025,
    sd_per_m: float = 0.0,
    diver: Diver | None = None,
) -> TapePlan:
    """Rank unmeasured pairs by the fall of variance at the chosen marks (all where none are named) for each minute.

    The best is taken as measured (C - C a a'C / (sd2 + a'C a), no new adjustment) and the rest ranked again, and so
    on. The gain does not depend on what will be read. Swimming is counted from the pair before. Raises KeyError for a
    mark that is not solved.
    """
    handle, diver = solution.handle, diver or Diver()
    if handle is None or not solution.marks:
        return TapePlan((), (), "nothing is solved yet: tape the first marks to each other")
    chosen = np.array([handle.index(m) for m in marks] or range(len(handle.names)), dtype=np.int64)
    pairs, lengths, skipped = pairs_within(handle, longest_m, structures)
    if len(pairs) == 0:
        return TapePlan((), skipped, "no pair is left that a diver can tape")
    places = handle.places_m
    along = (places[pairs[:, 1]] - places[pairs[:, 0]]) / lengths[:, None]
    variance = sd_m**2 + (sd_per_m * lengths) ** 2
    covariance = handle.columns_of(np.arange(len(handle.names), dtype=np.int64))
    chosen_rows = (3 * chosen[:, None] + np.arange(3)).ravel()
    middle = 0.5 * (places[pairs[:, 0]] + places[pairs[:, 1]])
    found: list[NextTape] = []
    open_pairs = np.ones(len(pairs), dtype=bool)
    here: Array | None = None
    for _ in range(min(count, len(pairs))):
        columns = _effect(covariance, pairs, along)
        q = _own(columns, pairs, along)
        gain = (columns[chosen_rows] ** 2).sum(axis=0) / (variance + q)
        swim = np.zeros(len(pairs)) if here is None else np.linalg.norm(middle - here, axis=1)
        minutes = diver.minutes_a_tape + diver.minutes_a_m * swim
        worth = np.where(open_pairs, gain / minutes, -1.0)
        best = int(np.argmax(worth))
        if gain[best] <= 0.0:
            break
        trace = float(covariance[chosen_rows, chosen_rows].sum())
        column = columns[:, best]
        covariance = covariance - np.outer(column, column) / (variance[best] + q[best])
        open_pairs[best], here = False, middle[best]
        found.append(
            _line(
                handle,
                pairs[best],
                lengths[best],
                gain[best],
                minutes[best],
                trace,
                len(chosen),
                variance[best],
                q[best],
            )
        )
    left = len(pairs) - len(found)
    words = f"{len(found)} tapes, {sum(t.minutes for t in found):.0f} diver-minutes; {left} more pairs could be taped"
    return TapePlan(tuple(found), skipped, words)


def _effect(matrix: Array, pairs: Ints, along: Array) -> Array:
    """Matrix times the derivative of each tape: columns of covariance with the reading."""
    out = np.zeros((matrix.shape[0], len(pairs)))
    for k in range(3):
        out += along[:, k] * (matrix[:, 3 * pairs[:, 1] + k] - matrix[:, 3 * pairs[:, 0] + k])
    return out


def _own(columns: Array, pairs: Ints, along: Array) -> Array:
    """Variance of each tape's predicted length."""
    every = np.arange(len(pairs))
    ends = [columns[3 * pairs[:, 1] + k, every] - columns[3 * pairs[:, 0] + k, every] for k in range(3)]
    return np.asarray(sum(along[:, k] * ends[k] for k in range(3)))


def _line(
    handle: Handle,
    pair: Ints,
    length: float,
    gain: float,
    minutes: float,
    trace: float,
    marks: int,
    var: float,
    q: float,
) -> NextTape:
    a, b = sorted((handle.names[pair[0]], handle.names[pair[1]]), key=natural)
    before, after = math.sqrt(trace / marks), math.sqrt(max(trace - gain, 0.0) / marks)
    redundancy = float(var / (var + q))
    words = f"{a} to {b}, about {length:.2f} m: {1000 * before:.0f} to {1000 * after:.0f} mm"
    if redundancy < 0.3:
        words += "; little else checks it, so read it twice or tape a second line there"
    return NextTape(a, b, float(length), float(gain), float(minutes), before, after, redundancy, words)
