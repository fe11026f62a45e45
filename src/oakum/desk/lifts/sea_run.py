"""The plan's sea run through many times, step by step in time: long work whose result is kept with the project.

`run_seas` does the work on an executor, `sea_run_kept` keeps and finds results. A result rests on the plan's
fingerprint: it is shown later with when and for which sea it was run, and says when it no longer fits the plan.
"""

from __future__ import annotations

import multiprocessing
import os
import time
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import UTC, datetime

import numpy as np

from oakum import __version__
from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.plan_solved import solved_for
from oakum.ground.errors import OakumError
from oakum.lift.seaway import SeawayInputs, seaway_question
from oakum.lift.splash import Counted, Question, RandomSea, TimeAnswer, Trace, in_time, traced

MEMBERS, FEWEST, MOST = 500, 20, 10_000
HOLD_S = 600.0
SEED = 20_260_612
_STEPPED = 250  # members stepped together at most; fewer let the progress be seen
_PARTS = 4  # parts for each worker
_DRAWN = 900  # moments of the followed sea that are kept

Progress = Callable[[float, str], None]


class NoSeaError(OakumError):
    """The seas cannot be run through; the text says what is missing."""


@dataclass(frozen=True, slots=True, eq=False)
class MassRun:
    """What the seas did to the load by one mass.

    `title` is empty where the mass is settled. `operations`: what was done, in words, with its seas.
    `steps`: what half the step of time changes. `trace`: one sea of the hold followed at a few hundred
    moments; `traced_as` says which.
    """

    title: str
    operations: tuple[tuple[str, Counted], ...]
    steps: str
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    trace: Trace | None
    traced_as: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class SeaRun:
    """Many seas for one plan: when, for which sea, from which seed, and what came of it, mass by mass.

    `mark` is the fingerprint of the plan it was run for, `at` the time in UTC. `bears_kg`: what hook and all
    under it bear, None: not known. `depth_m` None: deep water.
    """

    find_id: str
    number: str
    mark: str
    at: datetime
    hs_m: float
    tz_s: float
    depth_m: float | None
    members: int
    hold_s: float
    seed: int
    took_s: float
    version: str
    bears_kg: float | None
    cell_unit: str
    masses: tuple[MassRun, ...]

    @property
    def objections(self) -> tuple[str, ...]:
        """All objections, each once."""
        return tuple(dict.fromkeys(o for mass in self.masses for o in mass.objections))

    @property
    def sea_words(self) -> str:
        """The sea it was run for."""
        depth = "deep water" if self.depth_m is None else f"{self.depth_m:g} m of water"
        return f"Hs {self.hs_m:g} m, Tz {self.tz_s:g} s, {depth}"

    @property
    def words(self) -> str:
        """When and how it was run."""
        return (
            f"{self.members:,} seas an operation of {self.sea_words}, held {self.hold_s / 60:.3g} min, seed "
            f"{self.seed}, run on {self.at:%Y-%m-%d at %H:%M} UTC in {self.took_s:.0f} s by version {self.version}"
        )

    def fits(self, plan: PlanAnswer) -> bool:
        """Whether it was run for exactly this plan."""
        return self.find_id == plan.find.id and self.mark == plan.plan.fingerprint


def run_seas(
    plan: PlanAnswer,
    *,
    members: int = MEMBERS,
    hold_s: float = HOLD_S,
    seed: int = SEED,
    executor: Executor | None = None,
    workers: int = 1,
    progress: Progress | None = None,
) -> SeaRun:
    """Hoist the load through the surface and hold it at its worst height in `members` seas each.

    The same seed gives the same seas on any executor. By the greater and by the lesser mass where it is not
    settled. `workers` the executor has; what `progress` raises ends the work. Raises `NoSeaError`,
    `SplashError`, `WaveError`.
    """
    if not FEWEST <= members <= MOST:
        raise NoSeaError(f"Between {FEWEST} and {MOST:,} seas can be run through; {members:,} were asked for.")
    began = time.monotonic()
    inputs = _inputs(plan)
    sea = inputs.sea
    if sea.hs_m is None or sea.tz_s is None:
        raise NoSeaError("Give Hs and Tz of the sea in the rig; without them there is no sea to run through.")
    asked = [("", seaway_question(inputs))]
    if inputs.slack_use is not inputs.hook_use:
        lesser = seaway_question(inputs, slack=True)
        asked = [("by the greater mass", asked[0][1]), ("by the lesser mass", lesser)]
    waves = RandomSea(sea.hs_m, sea.tz_s)
    chunk = max(1, min(_STEPPED, -(-members // (_PARTS * workers))))
    masses = []
    for i, (title, question) in enumerate(asked):
        tell = None if progress is None else _part_of(progress, i, len(asked), title)
        few = _shuffled(question, members, seed)
        found = in_time(
            few,
            waves,
            np.random.SeedSequence(seed),
            members=members,
            hold_s=hold_s,
            executor=executor,
            progress=tell,
            chunk=chunk,
        )
        masses.append(_mass(title, found, executor))
    return SeaRun(
        find_id=plan.find.id,
        number=plan.find.number or plan.find.title,
        mark=plan.plan.fingerprint,
        at=datetime.now(UTC).replace(microsecond=0),
        hs_m=sea.hs_m,
        tz_s=sea.tz_s,
        depth_m=asked[0][1].water.depth_m,
        members=members,
        hold_s=hold_s,
        seed=seed,
        took_s=round(time.monotonic() - began, 1),
        version=__version__,
        bears_kg=asked[0][1].hook_kg,
        cell_unit=plan.plan.cell_unit,
        masses=tuple(masses),
    )


def cannot_run(plan: PlanAnswer) -> str | None:
    """Return why the seas of a plan cannot be run through yet, or None."""
    try:
        inputs = _inputs(plan)
        question = seaway_question(inputs)
    except OakumError as error:
        return str(error)
    lacks = [
        what
        for what, value in (
            ("Hs", inputs.sea.hs_m),
            ("Tz", inputs.sea.tz_s),
            ("the motion of the boom head", question.tip),
            ("the stiffness of the hoist line", question.line),
        )
        if value is None
    ]
    return f"Not known yet: {', '.join(lacks)}. Say it under the sea of the rig." if lacks else None


def cores() -> int:
    """Return how many processes the work may take: one core is left to everything else."""
    return max(1, (os.cpu_count() or 2) - 1)


def process_pool() -> ProcessPoolExecutor:
    """Return a pool of processes for the seas, begun afresh: it may be made while other threads run.

    Each works on one thread; several on one core would wait for one another.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # read by processes that begin from now on
    return ProcessPoolExecutor(cores(), mp_context=multiprocessing.get_context("spawn"))


def _inputs(plan: PlanAnswer) -> SeawayInputs:
    rig = plan.plan.rig
    if rig is None or rig.sea is None:
        raise NoSeaError("The rig says nothing of a sea yet: describe the sea of the lift first.")
    at_sea = solved_for(plan.weighed.weighing, rig, plan.context, plan.parts).at_sea
    if at_sea.inputs is None:
        raise NoSeaError("The sea of this plan could not be asked: see its objections.")
    return at_sea.inputs


def _shuffled(asked: Question, members: int, seed: int) -> Question:
    """Return the question with draws of the mass that all count alike, as many as the seas, in no order."""
    body = asked.body.few(members)
    if body.weights is not None or body.is_range:
        return replace(asked, body=body)
    order = np.random.default_rng(seed).permutation(len(body.mass_kg))
    return replace(
        asked, body=replace(body, mass_kg=body.mass_kg[order], volume_share=body.volume_share[order])
    )


def _mass(title: str, found: TimeAnswer, executor: Executor | None) -> MassRun:
    trace, traced_as = None, ""
    if found.hold is not None:
        asked = (found.hold.run, 1, np.random.SeedSequence(SEED + 1))
        trace = _few(traced(*asked) if executor is None else executor.submit(traced, *asked).result())
        traced_as = f"one sea more, {found.operations[1][0]}"
    return MassRun(
        title,
        found.operations,
        "" if found.steps is None else found.steps.words,
        found.objections,
        found.assumptions,
        found.cautions,
        trace,
        traced_as,
    )


def _few(trace: Trace) -> Trace:
    """Return the moments of a trace that a drawing can show: of each short stretch the least and the greatest pull."""
    stretches = np.array_split(np.arange(len(trace.time_s)), _DRAWN // 2)
    line = trace.line_n[:, 0]
    kept = sorted({int(s[f(line[s])]) for s in stretches if len(s) for f in (np.argmin, np.argmax)})
    return Trace(
        trace.time_s[kept],
        trace.line_n[kept, :1],
        trace.height_m[kept, :1],
        trace.surface_m[kept, :1],
        trace.held_kg[kept, :1],
    )


def _part_of(progress: Progress, index: int, count: int, title: str) -> Callable[[float], None]:
    words = f"seas run through {title}".strip()
    return lambda share: progress((index + share) / count, words)
