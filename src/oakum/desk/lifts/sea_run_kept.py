"""Results of many seas, kept in the project folder beside the logbook: they can be computed again at any time.

One file a plan, `computed/seas-FIND-MARK.json`, MARK being the beginning of the fingerprint of what it rests on;
written whole or not at all. The last few of a find are kept.
"""

from __future__ import annotations

import json
import os
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.sea_run import MassRun, NoSeaError, SeaRun
from oakum.lift.splash import Counted, Trace

FOLDER = "computed"
FORMAT = 1
_MOST = 6
_DIGITS = 7

Array = NDArray[np.float64]


def keep_run(project: Path, run: SeaRun) -> Path:
    """Keep a result in a project's folder and return its file. Raises `NoSeaError` where it cannot be written."""
    folder = project / FOLDER
    place = folder / f"{_prefix(run.find_id)}{run.mark[:16]}.json"
    try:
        folder.mkdir(exist_ok=True)
        _write(place, run)
        for old in _files(project, run.find_id)[_MOST:]:
            old.unlink(missing_ok=True)
    except OSError as error:
        raise NoSeaError(f"The result could not be kept in {folder.name}: {error.strerror}.") from error
    return place


def _write(place: Path, run: SeaRun) -> None:
    """Write a result to a file, whole or not at all."""
    handle, name = tempfile.mkstemp(prefix=f".{place.name}.", dir=place.parent)
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(run_text(run))
        os.chmod(name, 0o644)
        os.replace(name, place)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def kept_run(project: Path, plan: PlanAnswer) -> SeaRun | None:
    """Return the result for this plan, else the newest one for its find, else None; see `SeaRun.fits`.

    A file that cannot be read counts as none: it is made again by running again.
    """
    found = [run for place in _files(project, plan.find.id) if (run := _read(place)) is not None]
    return next((run for run in found if run.fits(plan)), found[0] if found else None)


def run_text(run: SeaRun) -> str:
    """Return a result as JSON text."""
    return json.dumps(run_dict(run), ensure_ascii=False, separators=(",", ":"))


def run_dict(run: SeaRun) -> dict[str, Any]:
    """Return a result as JSON holds it."""
    fields = ("find_id", "number", "mark", "hs_m", "tz_s", "depth_m", "members", "hold_s", "seed", "took_s", "version")
    return {
        "format": FORMAT,
        "what": "many seas of a lift, computed; not part of the logbook",
        "at": run.at.isoformat(),
        **{name: getattr(run, name) for name in fields},
        "bears_kg": run.bears_kg,
        "cell_unit": run.cell_unit,
        "masses": [_mass_dict(mass) for mass in run.masses],
    }


def _mass_dict(mass: MassRun) -> dict[str, Any]:
    return {
        "title": mass.title,
        "operations": [
            {
                "what": what,
                "slack": {"seas": odds.count, "of": odds.members, "low": odds.low, "high": odds.high},
                "step_s": found.step_s,
                "line_period_s": found.line_period_s,
                "greatest_n": _short(found.greatest_n),
                "least_n": _short(found.least_n),
                "slack_s": _short(found.slack_s),
                "snaps": found.snaps.tolist(),
            }
            for what, found in mass.operations
            for odds in (found.odds_slack(),)
        ],
        "steps": mass.steps,
        "objections": list(mass.objections),
        "assumptions": list(mass.assumptions),
        "cautions": list(mass.cautions),
        "trace": None if mass.trace is None else _trace_dict(mass.trace),
        "traced_as": mass.traced_as,
    }


def _trace_dict(trace: Trace) -> dict[str, list[float]]:
    names = ("line_n", "height_m", "surface_m", "held_kg")
    return {"time_s": _short(trace.time_s), **{name: _short(getattr(trace, name)[:, 0]) for name in names}}


def _short(values: Array) -> list[float]:
    return [float(f"{value:.{_DIGITS}g}") for value in values]


def run_from(held: dict[str, Any]) -> SeaRun:
    """Return the result that `run_dict` wrote. Raises `KeyError`, `TypeError`, `ValueError` for anything else."""
    if held["format"] != FORMAT:
        raise ValueError(f"format {held['format']} is not {FORMAT}")
    fields = ("find_id", "number", "mark", "hs_m", "tz_s", "depth_m", "members", "hold_s", "seed", "took_s", "version")
    return SeaRun(
        at=datetime.fromisoformat(held["at"]),
        bears_kg=held["bears_kg"],
        cell_unit=held["cell_unit"],
        masses=tuple(_mass_from(mass) for mass in held["masses"]),
        **{name: held[name] for name in fields},
    )


def _mass_from(held: dict[str, Any]) -> MassRun:
    trace = held["trace"]
    return MassRun(
        held["title"],
        tuple((one["what"], _counted(one)) for one in held["operations"]),
        held["steps"],
        tuple(held["objections"]),
        tuple(held["assumptions"]),
        tuple(held["cautions"]),
        None if trace is None else _trace(trace),
        held["traced_as"],
    )


def _counted(one: dict[str, Any]) -> Counted:
    greatest, least, slack = (np.array(one[k], dtype=np.float64) for k in ("greatest_n", "least_n", "slack_s"))
    snaps = np.array(one["snaps"], dtype=np.int64)
    if not len(greatest) == len(least) == len(slack) == len(snaps) or len(snaps) == 0:
        raise ValueError("every sea needs a greatest and a least force, a slack time and its snaps")
    return Counted(greatest, least, slack, snaps, float(one["step_s"]), float(one["line_period_s"]))


def _trace(held: dict[str, Any]) -> Trace:
    time = np.array(held["time_s"], dtype=np.float64)
    columns = [
        np.array(held[name], dtype=np.float64).reshape(len(time), 1)
        for name in ("line_n", "height_m", "surface_m", "held_kg")
    ]
    return Trace(time, *columns)


def _prefix(find_id: str) -> str:
    return f"seas-{find_id[-12:]}-"


def _files(project: Path, find_id: str) -> list[Path]:
    """Return the results of a find, the newest first."""
    found = [(place.stat().st_mtime_ns, place) for place in (project / FOLDER).glob(f"{_prefix(find_id)}*.json")]
    return [place for _, place in sorted(found, reverse=True)]


def _read(place: Path) -> SeaRun | None:
    try:
        return run_from(json.loads(place.read_text(encoding="utf-8")))
    except (OSError, ValueError, KeyError, TypeError):
        return None
