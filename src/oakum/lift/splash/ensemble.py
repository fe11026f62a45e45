"""Many seas for one operation, in chunks on any executor, with the same result on all of them."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor, as_completed
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.waves import check_sea
from oakum.lift.splash.drive import RandomSea, SeaState, driven
from oakum.lift.splash.errors import SplashError
from oakum.lift.splash.march import Marched, Trace, march
from oakum.lift.splash.model import SplashModel
from oakum.lift.splash.odds import Odds, clopper_pearson
from oakum.lift.splash.operations import Operation, highest_level_m
from oakum.lift.splash.tip import TipMotion

Array = NDArray[np.float64]
Progress = Callable[[float], None]

CHUNK = 500
"""Members stepped together: as many as fill the processor, whatever the executor."""

_FADE_PERIODS = 4.0


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """Body, sea, tip and operation of an ensemble; `tip` None is not known and refused.

    `depth_m` None is deep water. `step_s` None: the longest step allowed.
    """

    model: SplashModel
    sea: SeaState
    tip: TipMotion | None
    operation: Operation
    depth_m: float | None = None
    step_s: float | None = None

    @property
    def used_step_s(self) -> float:
        """The step used. `SplashError` where the one asked for is too long for the line."""
        return self.model.step_s(highest_level_m(self.operation), self.step_s)

    @property
    def fade_s(self) -> float:
        """Time in which waves and hoist come up before anything is counted: four periods of sea and line."""
        heaviest = np.max(self.model.mass_kg) + self.model.density_kg_m3 * self.model.immersion.added_m3[-1]
        return _FADE_PERIODS * max(self.sea.tz_s, float(self.model.line.period_s(heaviest)))


@dataclass(frozen=True, slots=True, eq=False)
class Counted:
    """What came of each member (n,): greatest and least line force, N, slack time, s, snaps.

    `line_period_s` is the shortest period on the line, a fiftieth of which bounds `step_s`.
    """

    greatest_n: Array
    least_n: Array
    slack_s: Array
    snaps: NDArray[np.int64]
    step_s: float
    line_period_s: float

    @property
    def members(self) -> int:
        """How many seas."""
        return len(self.greatest_n)

    @property
    def greatest(self) -> Spread:
        """Spread of the greatest line force over the seas, N."""
        return spread_of(self.greatest_n, "N")

    @property
    def least(self) -> Spread:
        """Spread of the least line force over the seas, N."""
        return spread_of(self.least_n, "N")

    def odds_over(self, limit_n: float, confidence: float = 0.95) -> Odds:
        """Return the odds that the line force of one operation exceeds a limit."""
        return clopper_pearson(int((self.greatest_n > limit_n).sum()), self.members, confidence)

    def odds_slack(self, confidence: float = 0.95) -> Odds:
        """Return the odds that the line goes slack during one operation."""
        return clopper_pearson(int((self.slack_s > 0.0).sum()), self.members, confidence)


@dataclass(frozen=True, slots=True, eq=False)
class Ensemble(Counted):
    """What came of each member, and the run it came of."""

    run: Run


def ensemble(
    run: Run,
    members: int,
    seeds: np.random.SeedSequence,
    *,
    executor: Executor | None = None,
    progress: Progress | None = None,
    chunk: int = CHUNK,
) -> Ensemble:
    """Return what the line carries in `members` seas.

    Each member has a generator of its own, spawned from `seeds`, and takes the draws of mass and volume in
    turn, so that neither executor nor order of work changes a result; `chunk` may change last digits.
    `progress` is told the share done, from this thread. Raises `SplashError` for a step too long for the
    line, an unknown tip motion or too few members, `WaveError` for a sea that cannot be.
    """
    if members < 1 or chunk < 1:
        raise SplashError(f"an ensemble needs at least one member; got {members}")
    if run.tip is None:
        raise SplashError(
            "the motion of the boom head is not known: give a response table, or amplitude and period"
        )
    if isinstance(run.sea, RandomSea):
        check_sea(run.sea.hs_m, run.sea.tz_s, run.depth_m, run.model.g_m_s2)
    step = run.used_step_s
    children = seeds.spawn(members)
    starts = range(0, members, chunk)
    parts = [(run, first, children[first : first + chunk]) for first in starts]
    done = _here(parts, progress) if executor is None else _elsewhere(parts, executor, progress)
    return Ensemble(
        np.concatenate([d.greatest_n for d in done]),
        np.concatenate([d.least_n for d in done]),
        np.concatenate([d.slack_s for d in done]),
        np.concatenate([d.snaps for d in done]),
        step,
        float(np.min(run.model.line.period_s(run.model.mass_kg))),
        run,
    )


Part = tuple[Run, int, list[np.random.SeedSequence]]


def _here(parts: list[Part], progress: Progress | None) -> list[Marched]:
    done = []
    for i, part in enumerate(parts):
        before = i
        tell = None if progress is None else _telling(progress, before, len(parts))
        done.append(_chunk(part, tell))
    return done


def _telling(progress: Progress, before: int, total: int) -> Progress:
    return lambda share: progress((before + share) / total)


def _elsewhere(parts: list[Part], executor: Executor, progress: Progress | None) -> list[Marched]:
    futures = [executor.submit(_chunk, part) for part in parts]
    try:
        for count, future in enumerate(as_completed(futures), 1):
            future.result()
            if progress is not None:
                progress(count / len(futures))
    except BaseException:
        for future in futures:
            future.cancel()
        raise
    return [future.result() for future in futures]


def _chunk(part: Part, progress: Progress | None = None) -> Marched:
    return _marched(part, progress, trace=False)[0]


def _marched(part: Part, progress: Progress | None, trace: bool) -> tuple[Marched, Trace | None]:
    run, first, children = part
    assert run.tip is not None  # asked before
    generators = [np.random.default_rng(child) for child in children]
    draws = (first + np.arange(len(children))) % len(run.model.mass_kg)
    return march(
        run.model,
        driven(run.sea, run.tip, generators, run.depth_m, run.model.g_m_s2),
        run.operation,
        run.model.mass_kg[draws],
        run.model.volume_share[draws],
        run.used_step_s,
        fade_s=run.fade_s,
        progress=progress,
        trace=trace,
    )


def traced(run: Run, members: int, seeds: np.random.SeedSequence) -> Trace:
    """Return the run of a few members, the first of an ensemble by the same seeds, step by step."""
    if run.tip is None:
        raise SplashError("the motion of the boom head is not known")
    _, trace = _marched((run, 0, seeds.spawn(members)), None, trace=True)
    assert trace is not None  # asked for
    return trace
