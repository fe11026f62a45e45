"""Mirror twins: marks, or a whole plan, that fit a second place as well."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.adjust import Adjusted, adjust
from oakum.seabed.network.alone import Alone, mirrored
from oakum.seabed.network.answer import Twin
from oakum.seabed.network.motions import in_words, unnoticed

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

ALIKE = 3.84
"""Rise of the sum of squares below which two places cannot be told apart (chi-square, 1 degree, 95 %)."""

LEAST_APART_M = 0.05

IN_LINE_M = 0.5
"""Known marks that leave their common line by less than this do not settle which side is which."""


@dataclass(frozen=True, slots=True, eq=False)
class Second:
    """Second places of marks (n, 3) and what each adds to the mark's own sum of squares (n,); nan: none."""

    places: Array
    rise: Array


def second_places(adjusted: Adjusted) -> Second:
    """Reflect every mark, solve it alone from there, and compare; local coordinates."""
    network, state = adjusted.network, adjusted.state
    n = len(network.names)
    places = state[: 3 * n].reshape(n, 3)
    alone = Alone(network, state)
    base = alone.capped(places)
    best: Array = np.full((n, 3), np.nan)
    rise: Array = np.full(n, np.nan)
    held = network.held[: 3 * n].reshape(n, 3)
    for reflected in mirrored(network, places):
        start = np.where(held, places, reflected)
        usable: Bools = np.asarray(np.isfinite(start).all(axis=1))
        if not usable.any():
            continue
        ended = alone.solve(np.where(usable[:, None], start, places))
        apart = np.linalg.norm(ended - places, axis=1)
        gain = alone.capped(ended) - base
        least = np.where(np.isfinite(rise), rise, np.inf)
        for mark in np.flatnonzero(usable & (apart > LEAST_APART_M) & (gain < least)).tolist():
            best[mark], rise[mark] = ended[mark], gain[mark]
    return Second(best, rise)


def turned_to_better(adjusted: Adjusted, rounds: int = 4) -> Adjusted:
    """Put marks into second places that fit better and adjust again, while that lowers the capped sum of squares.

    Looked for where Huber's loss is least: least squares is drawn aside by misreadings, and neighbours with it.
    """
    for _ in range(rounds):
        standing = adjusted.state if adjusted.standing is None else adjusted.standing
        second = second_places(replace(adjusted, state=standing))
        lower = np.flatnonzero((second.rise < -0.5) & ~_wrong(adjusted, second.places))
        turned = np.flatnonzero(
            (second.rise < ALIKE) & _wrong(adjusted, None) & ~_wrong(adjusted, second.places)
        )
        order = np.union1d(lower, turned)
        order = order[np.argsort(second.rise[order])]
        if len(order) == 0:
            break
        state = standing.copy()
        taken: set[int] = set()
        links = _neighbours(adjusted)
        for mark in order.tolist():
            if not links.get(mark, set()) & taken:
                state[3 * mark : 3 * mark + 3] = second.places[mark]
                taken.add(mark)
        state[adjusted.network.held] = standing[adjusted.network.held]
        again = adjust(adjusted.network, state)
        if again.robust >= adjusted.robust + (2.0 * ALIKE if len(turned) else -1e-6):
            break
        adjusted = again
    return adjusted


def _wrong(adjusted: Adjusted, places: Array | None) -> Bools:
    """Marks that lie, or would lie at these places, on the other side of a baseline than they were seen."""
    n = len(adjusted.network.names)
    standing = adjusted.state[: 3 * n].reshape(n, 3)
    put = standing if places is None else places
    wrong = np.zeros(n, dtype=bool)
    for mark in {side[0] for side in adjusted.network.sides}:
        wrong[mark] = adjusted.network.on_wrong_side(standing, mark, put[mark])
    return wrong


def _neighbours(adjusted: Adjusted) -> dict[int, set[int]]:
    links: dict[int, set[int]] = {}
    n = len(adjusted.network.names)
    for g in adjusted.network.groups:
        if g.equation in ("tape", "tie"):
            for row in (g.columns // 3).tolist():
                marks = {m for m in row if m < n}
                for m in marks:
                    links.setdefault(m, set()).update(marks)
    return links


def twins(adjusted: Adjusted, blocks: Array) -> tuple[Twin, ...]:
    """Marks with a second place that fits as well and lies beyond three sd; what is needed to settle it."""
    n = len(adjusted.network.names)
    places = adjusted.state[: 3 * n].reshape(n, 3)
    second = second_places(adjusted)
    found: list[Twin] = []
    for mark in np.flatnonzero((second.rise < ALIKE) & ~_wrong(adjusted, second.places)).tolist():
        way = second.places[mark] - places[mark]
        apart = float(np.linalg.norm(way))
        u = way / apart
        if apart > 3.0 * float(np.sqrt(max(u @ blocks[mark] @ u, 0.0))):
            name = adjusted.network.names[mark]
            need = "a depth or a level" if abs(u[2]) > 0.7 else "a tape to a mark on one side of the others"
            words = f"{name} fits a second place, {apart:.2f} m away, as well: {need} settles which"
            x, y, z = (float(v) for v in second.places[mark] + adjusted.network.origin_m)
            found.append(Twin(name, (x, y, z), apart, float(max(second.rise[mark], 0.0)), words))
    return tuple(found)


def _line_through(level: Array, known: int) -> tuple[Array, Array, float]:
    """A point on the line through known marks, the direction across it, and how far the marks leave it."""
    middle = level.mean(axis=0)
    if known < 2:
        return (level[0] if known else middle), np.array([1.0, 0.0]), 0.0
    across = np.linalg.svd(level - middle)[2][1]
    return middle, across, float(np.abs((level - middle) @ across).max())


def whole_twin(adjusted: Adjusted) -> tuple[Twin, Adjusted] | None:
    """The plan turned over as a whole, where it fits as well or better; None where it does not.

    Tried only where fewer than three marks, or marks in a line, are known in x and y and there are few bearings or
    offsets: then the image is that in the line through the known marks.
    """
    network, state = adjusted.network, adjusted.state
    n = len(network.names)
    if n < 3:
        return None
    handed = [g for g in network.groups if g.equation in ("left", "bearing")]
    known = set((np.flatnonzero(network.held[: 3 * n].reshape(n, 3)[:, :2].any(axis=1))).tolist())
    for g in network.groups:
        if g.equation == "coordinate":
            known |= {int(c) // 3 for c in g.columns[:, 0] if c < 3 * n and c % 3 < 2}
    places = state[: 3 * n].reshape(n, 3)
    foot, axis, off_line = _line_through(places[sorted(known), :2] if known else places[:, :2], len(known))
    if off_line > IN_LINE_M or any(len(g.read) > 3 for g in handed):
        return None
    flipped = state.copy()
    gap = (places[:, :2] - foot) @ axis
    level = places[:, :2] - 2.0 * gap[:, None] * axis
    flipped[: 3 * n] = np.column_stack([level, places[:, 2]]).ravel()
    flipped[network.held] = state[network.held]
    other = adjust(network, flipped)
    rise = other.robust - adjusted.robust
    if rise >= ALIKE:
        return None
    no_heights = any("tilt" in words for words in in_words(unnoticed(network, state)))
    words = (
        "the whole plan fits its mirror image as well: say which way round three marks run, seen from above"
    )
    if no_heights:
        words += ", and take a depth: without one the relief may be upside down"
    return Twin("", None, 2.0 * float(np.abs(gap).max()), float(max(rise, 0.0)), words), other
