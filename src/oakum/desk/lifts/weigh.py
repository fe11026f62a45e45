"""What does it weigh? From a body text alone, or from a find in the logbook with its load-cell readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from oakum.desk.lifts.bodies import mesh_files
from oakum.desk.lifts.kept import Kept
from oakum.ground.errors import OakumError
from oakum.lift import (
    CellReading,
    LevelLoad,
    Part,
    Weighing,
    WeightReport,
    mesh_names,
    parse_body,
    weighing_of,
)
from oakum.lift import load_at as load_of
from oakum.lift.cradle import CradleError, CradlePlan, frame_parts, parse_cradle
from oakum.record import IN_ITS_FRAME, Entry, Find, Head, Logbook, OpenQuestion

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

    Where two descriptions of body or cradle stand, `weighing` is that of the heaviest; `bodies` holds the entries
    of all bodies. `cradle` is the one weighed with the find, None where it has none.
    """

    find: Find
    weighing: Weighing
    toml: str
    bodies: tuple[Entry, ...]
    questions: tuple[OpenQuestion, ...]
    cradle: CradlePlan | None = None

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
    cradle: CradlePlan | None = None,
) -> Weighing:
    """As `weigh_text`, but keep the draws for a level or a plan; the frame of a cradle counts where one is given."""
    body = parse_body(toml, name=name, files=files)

    def weighed(frame: tuple[Part, ...]) -> Weighing:
        rng = np.random.default_rng(seed)
        return weighing_of(body, rng=rng, draws=draws, seed=seed, readings=tuple(readings), frame=frame)

    if cradle is None or cradle.frame is None:
        return weighed(())
    try:
        joined = weighed(frame_parts(cradle.frame, cradle.at_m))
        return _frame_once(joined, [part.name for part in body.parts if part.role == "crate"])
    except (CradleError, ValueError) as error:
        plain = weighed(())
        words = f"the frame of the cradle is not counted in these weights: {error}"
        report = replace(plain.report, objections=(words, *plain.report.objections))
        return replace(plain, report=report)


def _frame_once(joined: Weighing, crates: list[str]) -> Weighing:
    """Ask about parts of the body that are a crate themselves where a cradle is described as well."""
    if not crates:
        return joined
    listed = ", ".join(f'"{name}"' for name in crates)
    words = (
        f"the body itself has {listed} as crate, and the cradle its frame: both count; if they are one thing, take "
        "it out of the body"
    )
    report = joined.report
    return replace(joined, report=replace(report, open_questions=(words, *report.open_questions)))


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
    weighed = [
        (head.value, cradle, _weigh_head(logbook, find, head, cradle, readings, draws, seed))
        for head in heads
        for cradle in find.heads.get("cradle", ()) or (None,)
    ]
    toml, chosen, weighing = max(weighed, key=lambda one: one[2].report.state("clear").load_kg.p95)
    if len({one[0] for one in weighed}) > 1:
        weighing = _with_question(weighing, len({one[0] for one in weighed}))
    questions = logbook.open_questions(find.id)
    bodies = tuple(head.entry for head in heads)
    return LiftAnswer(find, weighing, toml, bodies, questions, _cradle(chosen, find))


def _cradle(head: Head | None, find: Find) -> CradlePlan | None:
    """Return the cradle a head describes, None where it describes none."""
    return None if head is None or head.value is None else _parsed(head.value, find.number or "cradle")


_parsed = lru_cache(maxsize=16)(parse_cradle)


def cell_readings(find: Find) -> tuple[CellReading, ...]:
    """Return the readings of a load cell with the find hanging free under water, with what hung between."""
    return tuple(
        CellReading(one.value, one.net_sd, one.text, one.gear or 0.0, one.frame)
        for one in find.readings
        if one.quantity == HOOK_LOAD
        and one.state.removesuffix(IN_ITS_FRAME) == UNDER_WATER
        and one.unit == "kg"
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
    logbook: Logbook,
    find: Find,
    head: Head,
    cradle: Head | None,
    readings: tuple[CellReading, ...],
    draws: int,
    seed: int,
) -> Weighing:
    """Weigh one description of the body, or take it from the newest ones; entries never change, so ids are keys."""
    linked = tuple(entry.id for entry in find.files) if mesh_names(head.value) else ()
    carried = None if cradle is None or cradle.value is None else cradle.entry.id
    key = (str(logbook.path), head.entry.id, carried, linked, readings, draws, seed)
    found = _kept.get(key)
    if found is None:
        files = mesh_files(logbook, find, head.value) if linked else {}
        found = weighing_text(
            head.value,
            name=find.number or find.title,
            files=files,
            readings=readings,
            draws=draws,
            seed=seed,
            cradle=_cradle(cradle, find),
        )
        _kept.put(key, found)
    return found
