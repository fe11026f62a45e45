"""After the lift: what was read, broke and took how long, against what the plan said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from oakum.ground.estimate import Spread
from oakum.lift.raising.cell_log import CellLog
from oakum.lift.raising.plan import RaisingPlan
from oakum.lift.weights.report import Curve

Verdict = Literal["inside", "above", "below", "not compared"]


@dataclass(frozen=True, slots=True)
class LoadRead:
    """One reading of the load cell during the lift.

    `height_m` is that of the lowest point over the water, negative below it; `clear_s` the time since it was
    clear, where it hung to drain; both None is not known. `sd_kg` what the cell may be out by. The plan's
    bands are for empty bags: a reading with air in them (`bags_empty` False) is not compared.
    """

    reading_kg: float
    height_m: float | None = None
    clear_s: float | None = None
    time: str = ""
    by: str | None = None
    sd_kg: float | None = None
    bags_empty: bool | None = None


@dataclass(frozen=True, slots=True)
class Broke:
    """What broke or went otherwise, at which step, told by whom."""

    what: str
    step: str = ""
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Happened:
    """What happened: readings, minutes taken by step key, what broke, and the cell's log."""

    readings: tuple[LoadRead, ...] = ()
    minutes: Mapping[str, float] = field(default_factory=dict)
    broke: tuple[Broke, ...] = ()
    log: CellLog | None = None


@dataclass(frozen=True, slots=True)
class ReadRow:
    """One reading beside the plan's band of 9 in 10, kg."""

    read: LoadRead
    low_kg: float | None
    best_kg: float | None
    high_kg: float | None
    verdict: Verdict
    why: str = ""

    def words(self) -> str:
        """Return the row as a sentence."""
        height = self.read.height_m
        where = "height not known" if height is None else f"at {height:+.2f} m"
        band = (
            ""
            if self.low_kg is None or self.high_kg is None
            else f", plan {self.low_kg:,.0f} to {self.high_kg:,.0f} kg"
        )
        why = f" ({self.why})" if self.why else ""
        return f"{self.read.reading_kg:,.0f} kg {where}{band}: {self.verdict}{why}"


@dataclass(frozen=True, slots=True)
class MinutesRow:
    """Minutes taken beside minutes planned, both None where not known."""

    key: str
    title: str
    planned: Spread | None
    taken: float | None
    verdict: Literal["inside", "longer", "shorter", "not compared"]

    def words(self) -> str:
        """Return the row as a sentence."""
        planned = "not known" if self.planned is None else self.planned.words()
        taken = "not taken" if self.taken is None else f"{self.taken:,.0f} min"
        return f"{self.title}: {taken}, planned {planned}: {self.verdict}"


@dataclass(frozen=True, slots=True)
class Comparison:
    """What happened against the plan.

    `over_likely` is the median of reading over likely load, over the readings that could be compared: 1.05
    means that the plan was 5 % too light. `log_inside` is the share of the log's readings with a height that
    fell inside the band.
    """

    readings: tuple[ReadRow, ...]
    minutes: tuple[MinutesRow, ...]
    broke: tuple[Broke, ...]
    over_likely: float | None
    log_inside: float | None
    log_notes: tuple[str, ...]
    questions: tuple[str, ...]

    @property
    def inside(self) -> int:
        """How many readings fell inside the plan's band."""
        return sum(row.verdict == "inside" for row in self.readings)


def compare(plan: RaisingPlan, happened: Happened) -> Comparison:
    """Return what happened against the plan's bands."""
    rows = tuple(_row(plan, read) for read in happened.readings)
    ratios = [r.read.reading_kg / r.best_kg for r in rows if r.best_kg is not None and r.best_kg > 0.0]
    minutes = _minutes(plan, happened.minutes)
    log_inside = None if happened.log is None else _log_inside(plan, happened.log)
    return Comparison(
        readings=rows,
        minutes=minutes,
        broke=happened.broke,
        over_likely=float(np.median(ratios)) if ratios else None,
        log_inside=log_inside,
        log_notes=() if happened.log is None else log_notes(happened.log),
        questions=_questions(rows, minutes, happened),
    )


def log_notes(log: CellLog) -> tuple[str, ...]:
    """Return what is to be said of a log: drift, gaps, lines left out."""
    said = list(log.notes)
    if log.drift is not None:
        d = log.drift
        moved = d.after_kg - d.before_kg
        said.append(
            f"the unloaded cell moved by {moved:+,.1f} kg ({d.per_hour_kg:+,.1f} kg an hour, noise "
            f"{d.noise_kg:,.1f} kg); it is taken off, evenly in time"
        )
    for gap in log.gaps:
        said.append(
            f"nothing was read from {gap.from_s:,.0f} s to {gap.to_s:,.0f} s ({gap.to_s - gap.from_s:,.0f} s)"
        )
    said += [f"line {line}" for line in log.left_out]
    return tuple(said)


def _row(plan: RaisingPlan, read: LoadRead) -> ReadRow:
    if read.clear_s is not None:
        curve, what = plan.weight.draining, "no curve of draining: it holds no water that runs out"
    else:
        curve, what = plan.weight.emergence, "the height at which it was read is not known"
    x = read.height_m if read.clear_s is None else read.clear_s
    if read.bags_empty is False:
        return ReadRow(read, None, None, None, "not compared", "bags lifted: the band is for empty bags")
    if curve is None or x is None:
        return ReadRow(read, None, None, None, "not compared", what)
    low, best, high = (v + rigging_kg(plan) for v in band_at(curve, x))
    spare = 2.0 * (read.sd_kg or 0.0)
    verdict: Verdict = "inside"
    if read.reading_kg > high + spare:
        verdict = "above"
    elif read.reading_kg < low - spare:
        verdict = "below"
    return ReadRow(
        read, low, best, high, verdict, "" if read.sd_kg else "what the cell may be out by is not known"
    )


def rigging_kg(plan: RaisingPlan) -> float:
    """Return what the plan's curves lack: the rigging of the rig file, where the body has none of its own."""
    has_own = any(part.role == "rigging" for part in plan.weight.body.parts)
    hook = None if plan.rig is None else plan.rig.hook
    return 0.0 if has_own or hook is None else hook.rigging_kg or 0.0


def band_at(curve: Curve, x: float) -> tuple[float, float, float]:
    """Return P5, median and P95 of a curve at a place; beyond its ends the value at the end."""
    low, best, high = (float(np.interp(x, curve.x, y)) for y in (curve.p5, curve.best, curve.p95))
    return low, best, high


def _log_inside(plan: RaisingPlan, log: CellLog) -> float | None:
    known = np.isfinite(log.height_m)
    if not known.any():
        return None
    curve = plan.weight.emergence
    low, high = (np.interp(log.height_m[known], curve.x, y) for y in (curve.p5, curve.p95))
    noise = 0.0 if log.drift is None else 2.0 * log.drift.noise_kg
    load = log.load_kg[known] - rigging_kg(plan)
    return float(np.mean((load >= low - noise) & (load <= high + noise)))


def _minutes(plan: RaisingPlan, taken: Mapping[str, float]) -> tuple[MinutesRow, ...]:
    rows = []
    for step in plan.steps:
        took = taken.get(step.key)
        if took is None or step.minutes is None:
            verdict: Literal["inside", "longer", "shorter", "not compared"] = "not compared"
        elif took > step.minutes.p95:
            verdict = "longer"
        else:
            verdict = "shorter" if took < step.minutes.p5 else "inside"
        rows.append(MinutesRow(step.key, step.title, step.minutes, took, verdict))
    return tuple(rows)


def _questions(
    rows: tuple[ReadRow, ...], minutes: tuple[MinutesRow, ...], happened: Happened
) -> tuple[str, ...]:
    said = []
    for verdict, why in (
        ("above", "held by the bed, or heavier than thought"),
        ("below", "a part left behind, or a bag lifting"),
    ):
        found = [row for row in rows if row.verdict == verdict]
        if found:
            many = "1 reading" if len(found) == 1 else f"{len(found)} readings"
            said.append(f"{many} {verdict} the plan's band: {why}? Weigh again before the next lift")
    unknown = sorted(set(happened.minutes) - {row.key for row in minutes})
    if unknown:
        said.append(f"minutes of steps the plan does not have: {', '.join(unknown)}")
    return tuple(said)
