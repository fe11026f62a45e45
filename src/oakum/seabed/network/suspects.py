"""Which readings to doubt: the largest |w| first, taken out one at a time in each part of the site, and again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.adjust import adjust
from oakum.seabed.network.answer import Cause, Suspect
from oakum.seabed.network.causes import other_causes, tape_causes
from oakum.seabed.network.reliability import correlated, critical_w, predicted, s0_bounds
from oakum.seabed.network.rows import Label, Network
from oakum.seabed.network.settle import Measured, measure
from oakum.seabed.network.site import Levels
from oakum.seabed.network.twins import turned_to_better

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

MOST_SHARE = 0.3
"""The hunt ends when this share of the rows is doubted: then the sds are wrong, not the readings."""


@dataclass(frozen=True, slots=True)
class _Doubt:
    """A reading taken out: its row among all, w then, rows that could not be told from it."""

    row: int
    w: float
    others: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Hunt:
    """What the hunt found; `clean` is the solution without the suspects (None where there are none)."""

    suspects: tuple[Suspect, ...]
    clean: Measured | None
    counted: Bools


def hunt(whole: Network, counted: Bools, measured: Measured, levels: Levels) -> Hunt:
    """Data snooping, twice where more than one reading is doubted.

    Once the reading with the largest |w| goes first, once the one that stands out most under Huber's loss: least
    squares smears two errors at one mark over their neighbours, Huber's loss may follow a weakly checked one. The
    hunt that explains all with fewer readings is right more often.
    """
    first = _hunt(whole, counted, measured, levels, robust=False)
    if len(first.suspects) < 2 or first.clean is None:
        return first
    other = _hunt(whole, counted, measured, levels, robust=True)
    if other.clean is None:
        return first

    def unexplained(one: Hunt) -> tuple[bool, int, float]:
        assert one.clean is not None
        freedom = max(len(one.clean.reliability.sd) - len(one.clean.adjusted.free), 1)
        scatter = one.clean.adjusted.phi / freedom
        return scatter > s0_bounds(freedom, levels.reading)[1] ** 2, len(one.suspects), scatter

    return min(first, other, key=unexplained)


def _hunt(whole: Network, counted: Bools, measured: Measured, levels: Levels, robust: bool) -> Hunt:
    """One hunt over the rows of `whole` that count.

    In each round one reading with |w| above the limit is taken out, and with it others as bad that share no mark, nor
    a neighbour, with one taken out already; then all is adjusted anew. At the end each is tried again against the
    clean solution and comes back where it fits.
    """
    limit, labels = critical_w(levels), whole.labels
    keep, now = counted.copy(), measured
    doubts: list[_Doubt] = []
    while (counted & ~keep).sum() <= MOST_SHARE * counted.sum():
        rows = np.flatnonzero(keep)
        picked = _round(now, rows, labels, limit, robust)
        if not picked:
            break
        trial = keep.copy()
        for doubt in picked:
            trial &= np.array([label.id != labels[doubt.row].id for label in labels])
        again = _again(whole, trial, now, levels)
        if again is None:
            break
        keep, now = trial, again
        doubts.extend(picked)
    if not doubts:
        return Hunt((), None, counted)
    back = _fitting(whole, counted & ~keep, now, limit)
    if back.any():
        again = _again(whole, keep | back, now, levels)
        if again is not None:
            keep, now = keep | back, again
            doubts = [d for d in doubts if not back[d.row]]
    if not doubts:
        return Hunt((), None, counted)
    suspects = tuple(_suspect(whole, d, now) for d in doubts)
    return Hunt(suspects, now, keep)


def _again(whole: Network, keep: Bools, now: Measured, levels: Levels) -> Measured | None:
    start = now.adjusted.state if now.adjusted.standing is None else now.adjusted.standing
    adjusted = turned_to_better(adjust(whole.pick(keep), start), rounds=2)
    return measure(adjusted, levels)


def _round(
    now: Measured, rows: NDArray[np.int64], labels: tuple[Label, ...], limit: float, robust: bool
) -> list[_Doubt]:
    w = np.where(np.isfinite(now.reliability.w), np.abs(now.reliability.w), 0.0)
    network = now.adjusted.network
    own = [labels[r].kind != "instrument" for r in rows]
    w = np.where(own, w, 0.0)
    bad = np.flatnonzero(w > limit)
    standing = w
    if robust and now.adjusted.bold is not None:
        standing = np.abs(now.adjusted.bold) / np.sqrt(np.maximum(now.reliability.redundancy, 0.05))
    bad = bad[np.argsort(-standing[bad], kind="stable")]
    if len(bad) == 0:
        return []
    near: dict[str, set[str]] = {}
    for label in network.labels:
        for mark in label.marks:
            near.setdefault(mark, set()).update(label.marks)
    picked: list[_Doubt] = []
    taken: set[str] = set()
    for k in bad.tolist():
        label = labels[rows[k]]
        around = set(label.marks).union(*(near[m] for m in label.marks))
        if around & taken or (picked and standing[k] < 0.3 * standing[bad[0]]):
            continue
        taken |= set(label.marks)
        alike = correlated(network, now.adjusted.state, now.covariance, now.reliability, k)
        others = [labels[rows[j]].id for j in alike if labels[rows[j]].id != label.id and own[j]]
        signed = float(now.reliability.w[k])
        picked.append(_Doubt(int(rows[k]), signed, tuple(dict.fromkeys(others))))
    return picked


def _fitting(whole: Network, out: Bools, now: Measured, limit: float) -> Bools:
    """Rows taken out that fit the clean solution; every row of the reading must."""
    residual, sd = predicted(whole.pick(out), now.adjusted.state, now.covariance)
    rows, labels = np.flatnonzero(out), whole.labels
    bad = {labels[r].id for r, gap, s in zip(rows, residual, sd, strict=True) if abs(gap) > limit * s}
    back = np.zeros_like(out)
    for r in rows:
        back[r] = labels[r].id not in bad
    return back


def _suspect(whole: Network, doubt: _Doubt, now: Measured) -> Suspect:
    only = np.zeros(len(whole.labels), dtype=bool)
    only[doubt.row] = True
    row = whole.pick(only)
    residual, sd = predicted(row, now.adjusted.state, now.covariance)
    label, value = row.labels[0], float(row.read[0])
    error, error_sd = -float(residual[0]), float(sd[0])
    causes: tuple[Cause, ...]
    if label.kind in ("tape", "tie"):
        causes = tape_causes(value, error, error_sd, label.text, _ends(label, now))
    else:
        causes = other_causes(label.kind, value, error, error_sd, label.text)
    size = f"{abs(error):.2f} m" if label.unit == "m" else f"{abs(error):.1f} degrees"
    who = f"{label.kind} {label.id} ({' to '.join(label.marks[:2])})"
    words = f"{who} reads {size} too {'much' if error > 0 else 'little'}: {causes[0].words}"
    if doubt.others:
        words = (
            f"an error is there but cannot be placed: it is in {who} or in {', '.join(doubt.others[:4])}; "
            "one more reading at these marks would tell"
        )
    return Suspect(
        label.id, label.part, label.text, doubt.w, label.unit, error, error_sd, causes, doubt.others, words
    )


def _ends(label: Label, now: Measured) -> list[tuple[str, str, float]]:
    """Distances from each end to every other mark: (end given instead, other mark, distance)."""
    network, n = now.adjusted.network, len(now.adjusted.network.names)
    places = now.adjusted.state[: 3 * n].reshape(n, 3)
    found: list[tuple[str, str, float]] = []
    if label.kind != "tape":
        return found
    index = {name: i for i, name in enumerate(network.names)}
    for kept, given in (label.marks, label.marks[::-1]):
        far = np.linalg.norm(places - places[index[kept]], axis=1)
        order = np.argsort(far)
        found.extend(
            (given, network.names[i], float(far[i])) for i in order if network.names[i] not in label.marks
        )
    return found
