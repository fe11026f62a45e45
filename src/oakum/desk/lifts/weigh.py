"""What does it weigh? From a body text alone, or from a find in the logbook with its load-cell readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from oakum.desk.lifts.bodies import mesh_files
from oakum.desk.lifts.kept import Kept
from oakum.ground.errors import OakumError
from oakum.lift import CellReading, LevelLoad, Weighing, WeightReport, mesh_names, parse_body, weighing_of
from oakum.lift import load_at as load_of
from oakum.record import Entry, Find, Head, Logbook, OpenQuestion

HOOK_LOAD = "hook load"
UNDER_WATER = "submerged"
DRAWS = 20_000
SEED = 1670

_KEPT = 8


class NoBodyError(OakumError):
    """The find has no body to weigh yet."""


@dataclass(frozen=True, slots=True)
class LiftAnswer:
    """A weighed find: the weighing, the body text it rests on, and what is open about it.

    Where two descriptions of the body stand, `weighing` is that of the heavier one; `bodies` holds the entries
    of all of them.
    """

    find: Find
    weighing: Weighing
    toml: str
    bodies: tuple[Entry, ...]
    questions: tuple[OpenQuestion, ...]

    @property
    def report(self) -> WeightReport:
        """The weight report."""
        return self.weighing.report


def weigh_text(
    toml: str,
    *,
    name: str = "body",
    files: Mapping[str, bytes] | None = None,
    readings: Sequence[CellReading] = (),
    draws: int = DRAWS,
    seed: int = SEED,
) -> WeightReport:
    """Weigh the body a TOML text describes. Raises `BodyFileError` with every problem, its line and key."""
    return weighing_text(toml, name=name, files=files, readings=readings, draws=draws, seed=seed).report


def weighing_text(
    toml: str,
    *,
    name: str = "body",
    files: Mapping[str, bytes] | None = None,
    readings: Sequence[CellReading] = (),
    draws: int = DRAWS,
    seed: int = SEED,
) -> Weighing:
    """As `weigh_text`, but keep the draws for a level or a plan."""
    body = parse_body(toml, name=name, files=files)
    return weighing_of(
        body, rng=np.random.default_rng(seed), draws=draws, seed=seed, readings=tuple(readings)
    )


def weigh_find(logbook: Logbook, number_or_id: str, *, draws: int = DRAWS, seed: int = SEED) -> LiftAnswer:
    """Weigh a find of the logbook with its load-cell readings.

    Raises `NoBodyError` where it has no body, `BodyFileError` where its text cannot be weighed.
    """
    find = logbook.find(number_or_id)
    heads = [head for head in find.heads.get("toml", ()) if head.value is not None]
    if not heads:
        raise NoBodyError(
            f"{find.number or find.title} has no body yet: describe its parts on its Lifts page, "
            "or start from one of the starting bodies."
        )
    readings = cell_readings(find)
    weighed = {head.value: _weigh_head(logbook, find, head, readings, draws, seed) for head in heads}
    toml, weighing = max(weighed.items(), key=lambda item: item[1].report.state("clear").load_kg.p95)
    if len(weighed) > 1:
        weighing = _with_question(weighing, len(weighed))
    questions = logbook.open_questions(find.id)
    return LiftAnswer(find, weighing, toml, tuple(head.entry for head in heads), questions)


def cell_readings(find: Find) -> tuple[CellReading, ...]:
    """Return the readings of a load cell with the find hanging free under water, with what hung between."""
    return tuple(
        CellReading(one.value, one.net_sd, one.text, one.gear or 0.0)
        for one in find.readings
        if one.quantity == HOOK_LOAD and one.state == UNDER_WATER and one.unit == "kg"
    )


def load_at(logbook: Logbook, number_or_id: str, height_m: float) -> LevelLoad:
    """Return the hook load with the lowest point of the find at this height above the water (negative: below)."""
    return load_of(weigh_find(logbook, number_or_id).weighing, height_m)


def _with_question(weighing: Weighing, count: int) -> Weighing:
    words = (
        f"{count} descriptions of this body stand beside each other: the heavier is shown until it is settled"
    )
    report = weighing.report
    return replace(weighing, report=replace(report, open_questions=(words, *report.open_questions)))


_kept: Kept[Weighing] = Kept(_KEPT)


def _weigh_head(
    logbook: Logbook, find: Find, head: Head, readings: tuple[CellReading, ...], draws: int, seed: int
) -> Weighing:
    """Weigh one description of the body, or take it from the newest ones; entries never change, so ids are keys."""
    linked = tuple(entry.id for entry in find.files) if mesh_names(head.value) else ()
    key = (str(logbook.path), head.entry.id, linked, readings, draws, seed)
    found = _kept.get(key)
    if found is None:
        files = mesh_files(logbook, find, head.value) if linked else {}
        name = find.number or find.title
        found = weighing_text(head.value, name=name, files=files, readings=readings, draws=draws, seed=seed)
        _kept.put(key, found)
    return found
