"""From numbers to the answer: rows of marks and readings, the test of the whole, what holds the plan."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.adjust import Adjusted
from oakum.seabed.network.answer import ReadingResult, Solved, SolvedMark, Whole
from oakum.seabed.network.motions import in_words
from oakum.seabed.network.names import listed
from oakum.seabed.network.reliability import noncentrality, predicted, s0_bounds
from oakum.seabed.network.rows import Label, Network
from oakum.seabed.network.settle import Measured
from oakum.seabed.network.site import Levels

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

WEAK_M = 0.3
"""A coordinate with a greater sd than this, and much greater than the others, is said to be barely known."""


def solved_marks(measured: Measured) -> tuple[SolvedMark, ...]:
    """The marks, in the order of their names."""
    network, state = measured.adjusted.network, measured.adjusted.state
    n = len(network.names)
    places = state[: 3 * n].reshape(n, 3) + network.origin_m
    held = network.held[: 3 * n].reshape(n, 3)
    counts: dict[str, int] = {}
    for label in network.labels:
        for mark in label.marks:
            counts[mark] = counts.get(mark, 0) + 1
    found = []
    for i, name in enumerate(network.names):
        sd = np.sqrt(np.maximum(np.diag(measured.blocks[i]), 0.0))
        weak = [
            f"its {axis} is barely known: sd {sd[k]:.2f} m"
            for k, axis in ((0, "x"), (1, "y"), (2, "height"))
            if sd[k] > WEAK_M and sd[k] > 3.0 * float(np.median(np.sqrt(measured.blocks[:, k, k].clip(0.0))))
        ]
        if not weak and sd[2] > WEAK_M and sd[2] > 3.0 * max(float(sd[0]), float(sd[1])):
            weak = [f"its height is barely known: sd {sd[2]:.2f} m; take a depth"]
        x, y, z = (float(v) for v in places[i])
        axes = "".join(a for a, yes in zip("xyz", held[i], strict=True) if yes)
        found.append(
            SolvedMark(name, x, y, z, measured.blocks[i], axes, counts.get(name, 0), "; ".join(weak))
        )
    return tuple(found)


def _shift(label: Label, column: int, network: Network) -> float:
    """What is added to a local value to show it: places of fixes and datums are told in the site's frame."""
    return float(network.origin_m[column % 3]) if label.kind in ("fix", "datum") else 0.0


def reading_results(
    measured: Measured, whole: Network, counted: Bools, order: dict[str, int], levels: Levels
) -> tuple[ReadingResult, ...]:
    """All readings in the order they came, those that do not count with their predictions."""
    network, rel = measured.adjusted.network, measured.reliability
    freedom, s0 = freedom_of(measured)
    found: list[ReadingResult] = []
    columns = np.concatenate([g.columns[:, 0] for g in network.groups])
    for i, (label, read) in enumerate(zip(network.labels, network.read, strict=True)):
        checked = bool(np.isfinite(rel.w[i]))
        shift = _shift(label, int(columns[i]), network)
        residual, sd = float(rel.residual[i]), float(rel.sd[i])
        tau = float(rel.w[i]) / s0 if checked and s0 and freedom > 0 else None
        found.append(
            ReadingResult(
                label.id,
                label.text,
                label.kind,
                label.part,
                label.marks,
                label.unit,
                float(read) + shift,
                float(read) + shift + residual,
                sd,
                residual,
                float(rel.redundancy[i]),
                float(rel.w[i]) if checked else None,
                tau,
                float(rel.error[i]) if checked else None,
                float(rel.mdb[i]) if checked else None,
                float(rel.moves_m[i]) if checked else None,
                float(rel.moves_z_m[i]) if checked else None,
                network.names[int(rel.moved[i])] if checked and rel.moved[i] >= 0 else "",
            )
        )
    found.extend(_aside(measured, whole.pick(~counted), levels))
    parts = {part: i for i, part in enumerate(("", "x", "y", "z", "along", "left"))}
    last = len(order)
    return tuple(sorted(found, key=lambda r: (order.get(r.id, last), r.id, parts.get(r.part, 9))))


def _aside(measured: Measured, aside: Network, levels: Levels) -> list[ReadingResult]:
    """Readings that do not count, against what the others say."""
    if not aside.groups:
        return []
    residual, spread = predicted(aside, measured.adjusted.state, measured.covariance)
    columns = np.concatenate([g.columns[:, 0] for g in aside.groups])
    made = []
    for label, read, sd, gap, both, column in zip(
        aside.labels, aside.read, aside.sd, residual, spread, columns, strict=True
    ):
        shift = _shift(label, int(column), aside)
        made.append(
            ReadingResult(
                label.id,
                label.text,
                label.kind,
                label.part,
                label.marks,
                label.unit,
                float(read) + shift,
                float(read) + shift + float(gap),
                float(sd),
                float(gap),
                float(sd**2 / both**2),
                float(gap / both),
                None,
                -float(gap),
                noncentrality(levels) * float(both),
                None,
                None,
                "",
                False,
            )
        )
    return made


def freedom_of(measured: Measured) -> tuple[int, float | None]:
    """Spare readings and the estimated over the stated sd (None without any spare)."""
    adjusted = measured.adjusted
    freedom = len(adjusted.network.read) - len(adjusted.free)
    if freedom <= 0:
        return 0, None
    return freedom, math.sqrt(adjusted.phi / freedom)


def whole_test(measured: Measured, levels: Levels) -> Whole:
    """The test of the variance factor, and the factor of each kind of reading."""
    phi = measured.adjusted.phi
    freedom, s0 = freedom_of(measured)
    if s0 is None:
        return Whole(phi, 0, None, None, None, None, "no reading is spare: nothing checks anything")
    low, high = s0_bounds(freedom, levels.whole)
    passed = low <= s0 <= high
    words = f"readings scatter {s0:.2f} times as much as their sds say; between {low:.2f} and {high:.2f} is expected: "
    if passed:
        words += "no objection found"
    else:
        words += "a reading is wrong, or the sds are too small" if s0 > high else "the sds are too great"
    kinds = np.array([label.kind for label in measured.adjusted.network.labels])
    rel = measured.reliability
    groups = []
    for kind in sorted(set(kinds.tolist())):
        own = kinds == kind
        spare = float(rel.redundancy[own].sum())
        if spare > 0.5:
            scatter = float(((rel.residual[own] / rel.sd[own]) ** 2).sum())
            groups.append((kind, math.sqrt(scatter / spare), spare))
    return Whole(phi, freedom, s0, low, high, passed, words, tuple(groups))


def further_results(measured: Measured) -> tuple[Solved, ...]:
    """Tapes' errors, water levels and compass turns that were solved, with their sds."""
    network, state = measured.adjusted.network, measured.adjusted.state
    first = 3 * len(network.names)
    slots = np.arange(first, first + len(network.further), dtype=np.int64)
    variance = measured.covariance.pairs(slots, slots)
    made = []
    for k, unknown in enumerate(network.further):
        value = unknown.known + float(state[first + k])
        if unknown.what == "water level":
            value += float(network.origin_m[2])
        sd = math.sqrt(max(float(variance[k]), 0.0))
        made.append(Solved(unknown.what, unknown.name, value, sd, unknown.unit))
    return tuple(made)


def datum_words(measured: Measured, canonical: bool) -> tuple[str, ...]:
    """What holds the plan, what nothing holds, and where it was laid then."""
    adjusted: Adjusted = measured.adjusted
    network = adjusted.network
    n = len(network.names)
    held = network.held[: 3 * n].reshape(n, 3)
    words: list[str] = []
    by_axes: dict[str, list[str]] = {}
    for name, axes in zip(network.names, held, strict=True):
        if axes.any():
            by_axes.setdefault(", ".join(a for a, yes in zip("xyz", axes, strict=True) if yes), []).append(
                name
            )
    words.extend(f"{axes} held at {listed(names)}" for axes, names in by_axes.items())
    for kind, what in (
        ("datum", "places known with an sd"),
        ("fix", "position fixes"),
        ("bearing", "bearings"),
    ):
        count = sum(1 for label in network.labels if label.kind == kind)
        if count:
            words.append(f"{what}: {count} numbers")
    loose = in_words(measured.motions)
    words.extend(loose)
    if loose and canonical:
        words.append(
            f"so the plan lies in a frame of its own: {network.names[0]} at the origin, "
            f"{network.names[min(1, n - 1)]} due east of it, as far as nothing else says"
        )
    if loose:
        words.append("ellipses are those of inner constraints: seen from the middle of all marks")
    return tuple(words)
