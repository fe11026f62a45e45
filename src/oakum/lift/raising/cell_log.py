"""A load cell's log as CSV: times and readings, its drift between two times unloaded, its gaps."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from oakum.lift.raising.cell import CELL_UNITS, from_cell_unit
from oakum.lift.raising.errors import RaisingError

Array = NDArray[np.float64]

GAP = 3.0
"""A pause longer than this many median intervals is a gap."""

_MAD_TO_SD = 1.4826
_NAMES = {
    "time": ("time", "t", "zeit", "elapsed", "clock"),
    "load": ("load", "reading", "force", "hook load", "weight", "value"),
    "height": ("height", "level", "height above water"),
}
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?")
_DAY_S = 86_400.0


@dataclass(frozen=True, slots=True)
class Drift:
    """How far the unloaded cell moved: medians before and after, kg; `per_hour_kg`; noise of one reading, kg."""

    before_kg: float
    after_kg: float
    per_hour_kg: float
    noise_kg: float


@dataclass(frozen=True, slots=True)
class Gap:
    """Nothing was read between two times, seconds from the start of the log."""

    from_s: float
    to_s: float


@dataclass(frozen=True, slots=True, eq=False)
class CellLog:
    """A log: seconds from its first line, load in kg, height of the lowest point over the water in m (or NaN).

    `left_out` names lines that could not be read, with why.
    """

    time_s: Array
    load_kg: Array
    height_m: Array
    gaps: tuple[Gap, ...]
    drift: Drift | None
    left_out: tuple[str, ...]
    notes: tuple[str, ...] = ()


def read_cell_log(
    text: str,
    unit: str,
    *,
    unloaded_before_s: tuple[float, float] | None = None,
    unloaded_after_s: tuple[float, float] | None = None,
) -> CellLog:
    """Return the log in a CSV text.

    The first line names the columns: time, load, and, if there is one, height in metres. Times are seconds,
    hh:mm:ss or ISO 8601; loads are in `unit`, or in the unit the column names in brackets. Between the two
    stretches of time in which the cell hung unloaded its zero is taken to have moved evenly, and is taken off
    every reading; without them no drift can be known and nothing is taken off. Raises `RaisingError`.
    """
    rows = _rows(text)
    columns = _columns(rows[0])
    load_unit = columns.unit or unit
    if load_unit not in CELL_UNITS:
        raise RaisingError(
            f'the loads of the log are in "{load_unit}": write one of {", ".join(CELL_UNITS)} in the heading, as in '
            '"load (kN)", or give the unit of the cell'
        )
    times, loads, heights, left_out = _read(rows[1:], columns)
    if len(times) < 2:
        why = f"; line {left_out[0]}" if left_out else ""
        raise RaisingError(f"the log has fewer than two lines that could be read{why}")
    time = np.array(times) - times[0]
    load = np.array([from_cell_unit(v, load_unit) for v in loads])
    order = np.argsort(time, kind="stable")
    notes = [] if np.all(np.diff(time) >= 0.0) else ["lines were not in the order of time and were sorted"]
    time, load, height = time[order] - time[order][0], load[order], np.array(heights)[order]
    drift = _drift(time, load, unloaded_before_s, unloaded_after_s)
    if drift is None:
        notes.append(
            "not known how far the cell drifts: no stretch before and after with the cell unloaded is given"
        )
    else:
        load = load - _zero(time, drift, unloaded_before_s, unloaded_after_s)
    return CellLog(time, load, height, gaps(time), drift, tuple(left_out), tuple(notes))


def gaps(time_s: Array) -> tuple[Gap, ...]:
    """Return where nothing was read for longer than three median intervals; `time_s` (n,) rising."""
    steps = np.diff(time_s)
    usual = float(np.median(steps[steps > 0.0])) if np.any(steps > 0.0) else 0.0
    if usual <= 0.0:
        return ()
    wide = np.flatnonzero(steps > GAP * usual * (1.0 + 1e-9))
    return tuple(Gap(float(time_s[i]), float(time_s[i + 1])) for i in wide)


@dataclass(frozen=True, slots=True)
class _Columns:
    time: int
    load: int
    height: int | None
    unit: str


def _rows(text: str) -> list[list[str]]:
    clean = text.lstrip("\ufeff")
    first = clean.splitlines()[0] if clean.strip() else ""
    if not first:
        raise RaisingError("the log is empty: a heading and one line a reading are expected")
    separator = max(";\t,", key=first.count)
    rows = [r for r in csv.reader(io.StringIO(clean), delimiter=separator) if any(c.strip() for c in r)]
    return rows


def _columns(heading: list[str]) -> _Columns:
    plain = [re.sub(r"\s*[\(\[].*$", "", name).strip().lower().replace("_", " ") for name in heading]
    units = [
        m.group(1).strip() if (m := re.search(r"[\(\[]([^\)\]]*)[\)\]]", name)) else "" for name in heading
    ]
    found: dict[str, int] = {}
    for what, names in _NAMES.items():
        at = [i for i, name in enumerate(plain) if name in names]
        if at:
            found[what] = at[0]
    for what in ("time", "load"):
        if what not in found:
            raise RaisingError(
                f'the log has no column "{what}": its first line must name its columns, such as '
                f"time,load (kg),height (m); it says {', '.join(heading)}"
            )
    height = found.get("height")
    if height is not None and units[height] not in ("", "m"):
        raise RaisingError(f'heights are in metres; the column says "{units[height]}"')
    return _Columns(found["time"], found["load"], height, units[found["load"]])


def _read(
    rows: list[list[str]], columns: _Columns
) -> tuple[list[float], list[float], list[float], list[str]]:
    times: list[float] = []
    loads: list[float] = []
    heights: list[float] = []
    left_out: list[str] = []
    midnight = 0.0
    for number, row in enumerate(rows, 2):
        try:
            clock = _seconds(row[columns.time])
            load = _number(row[columns.load])
            height = np.nan
            if columns.height is not None and row[columns.height].strip():
                height = _number(row[columns.height])
        except (IndexError, ValueError) as error:
            left_out.append(
                f"{number}: {error}" if not isinstance(error, IndexError) else f"{number}: too short"
            )
            continue
        if times and clock + midnight < times[-1] - 0.5 * _DAY_S:
            midnight += _DAY_S
        times.append(clock + midnight)
        loads.append(load)
        heights.append(float(height))
    return times, loads, heights, left_out


def _number(text: str) -> float:
    clean = text.strip().replace("\N{MINUS SIGN}", "-")
    if "," in clean and "." not in clean:
        clean = clean.replace(",", ".")
    try:
        value = float(clean)
    except ValueError:
        raise ValueError(f'"{text.strip()}" is no number') from None
    if not np.isfinite(value):
        raise ValueError(f'"{text.strip()}" is no number')
    return value


def _seconds(text: str) -> float:
    clean = text.strip()
    found = _CLOCK.fullmatch(clean)
    if found:
        return 3600.0 * int(found[1]) + 60.0 * int(found[2]) + float((found[3] or "0").replace(",", "."))
    try:
        return _number(clean)
    except ValueError:
        pass
    try:
        moment = datetime.fromisoformat(clean)
    except ValueError:
        raise ValueError(f'"{clean}" is no time: write seconds, 09:15:30 or 2026-07-01T09:15:30') from None
    return (moment.replace(tzinfo=None) - datetime(2000, 1, 1)).total_seconds()


def _within(time: Array, stretch: tuple[float, float]) -> NDArray[np.bool_]:
    return np.asarray((time >= stretch[0]) & (time <= stretch[1]))


def _drift(
    time: Array, load: Array, before: tuple[float, float] | None, after: tuple[float, float] | None
) -> Drift | None:
    if before is None or after is None:
        return None
    first, last = _within(time, before), _within(time, after)
    for which, name, stretch in ((first, "before", before), (last, "after", after)):
        if which.sum() < 3:
            raise RaisingError(
                f"the stretch {name} the lift, {stretch[0]:g} to {stretch[1]:g} s, holds fewer than three readings"
            )
    zero = [float(np.median(load[which])) for which in (first, last)]
    middle = [float(np.median(time[which])) for which in (first, last)]
    if middle[1] <= middle[0]:
        raise RaisingError("the unloaded stretch after the lift must come later than the one before it")
    rest = np.concatenate([load[first] - zero[0], load[last] - zero[1]])
    noise = _MAD_TO_SD * float(np.median(np.abs(rest)))
    return Drift(zero[0], zero[1], 3600.0 * (zero[1] - zero[0]) / (middle[1] - middle[0]), noise)


def _zero(
    time: Array, drift: Drift, before: tuple[float, float] | None, after: tuple[float, float] | None
) -> Array:
    """Return the zero of the cell (n,), evenly between the middles of the two stretches."""
    assert before is not None and after is not None  # there is no drift without them
    middles = [float(np.median(time[_within(time, stretch)])) for stretch in (before, after)]
    return np.asarray(np.interp(time, middles, [drift.before_kg, drift.after_kg]))
