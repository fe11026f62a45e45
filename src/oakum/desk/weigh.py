"""What does it weigh? From a body text alone, or from a find in the logbook with its load-cell readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from oakum.ground.errors import OakumError
from oakum.lift import Weighing, load_at, parse_body, report_of, weighing_of
from oakum.lift.weight_report import CellReading, StateWeight, WeightReport
from oakum.record import Entry, Find, Logbook, OpenQuestion, Reading

HOOK_LOAD = "hook load"
UNDER_WATER = "submerged"
DRAWS = 20_000
SEED = 1670


class NoBodyError(OakumError):
    """The find has no body to weigh yet."""


@dataclass(frozen=True, slots=True)
class LiftAnswer:
    """A weighed find: the report, the body text it rests on, and what is open about it."""

    find: Find
    report: WeightReport
    weighing: Weighing
    toml: str
    body_entries: tuple[Entry, ...]
    questions: tuple[OpenQuestion, ...]


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
    return report_of(weigh_body_text(toml, name=name, files=files, readings=readings, draws=draws, seed=seed))


def weigh_body_text(
    toml: str,
    *,
    name: str = "body",
    files: Mapping[str, bytes] | None = None,
    readings: Sequence[CellReading] = (),
    draws: int = DRAWS,
    seed: int = SEED,
) -> Weighing:
    """As `weigh_text`, but keep the draws, so that a load at any water level can be asked for."""
    body = parse_body(toml, name=name, files=files)
    return weighing_of(
        body, rng=np.random.default_rng(seed), draws=draws, seed=seed, readings=tuple(readings)
    )
