"""Through the surface in many seas, step by step in time: long work whose answer is kept while the plan is the same."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, replace

import numpy as np

from oakum.desk.lifts.kept import Kept
from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.plan_solved import solved_for
from oakum.ground.errors import OakumError
from oakum.lift.seaway import SeawayInputs, seaway_question
from oakum.lift.splash import Question, RandomSea, TimeAnswer, Trace, in_time, traced

MEMBERS = 500
_SEED = 20_260_612



class NoSeaError(OakumError):
    """The seas cannot be run through; the text says what is missing."""


@dataclass(frozen=True, slots=True, eq=False)
class Mass:
    """What the seas did to the load by one mass: the answer, and one sea of the hold, of which nothing was left out."""

    title: str
    answer: TimeAnswer
    trace: Trace | None


@dataclass(frozen=True, slots=True, eq=False)
class ManySeas:
    """The answers for the sea of a plan, one, or by the greater and the lesser mass where those are not settled.

    `bears_kg`: what hook and all under it bear at the radius, None: not known.
    """

    hs_m: float
    tz_s: float
    members: int
    bears_kg: float | None
    masses: tuple[Mass, ...]

    @property
    def objections(self) -> tuple[str, ...]:
        """All objections, each once."""
        return tuple(dict.fromkeys(o for mass in self.masses for o in mass.answer.objections))


def seas_of(kept: PlanAnswer) -> ManySeas | None:
    """Return the answer that was found for exactly this plan since the program began, else None."""
    return _found.get(_key(kept))


def run_seas(
    kept: PlanAnswer,
    *,
    members: int = MEMBERS,
    executor: Executor | None = None,
    progress: Callable[[float, str], None] | None = None,
) -> ManySeas:
    """Run the plan's sea through and keep the answer. Raises `NoSeaError`, `SplashError`, `WaveError`."""
    inputs = _inputs(kept)
    hs, tz = inputs.sea.hs_m, inputs.sea.tz_s
    if hs is None or tz is None:
        raise NoSeaError("Give Hs and Tz of the sea in the rig file; without them there is no sea to run through.")
    asked = [("", seaway_question(inputs))]
    if inputs.slack_use is not inputs.hook_use:
        asked = [("by the greater mass", asked[0][1]), ("by the lesser mass", seaway_question(inputs, slack=True))]
    masses = []
    for i, (title, question) in enumerate(asked):
        tell = None if progress is None else _part_of(progress, i, len(asked), title)
        masses.append(_run(title, question, RandomSea(hs, tz), members, executor, tell))
    found = ManySeas(hs, tz, members, asked[0][1].hook_kg, tuple(masses))
    _found.put(_key(kept), found)
    return found


def _run(
    title: str,
    question: Question,
    sea: RandomSea,
    members: int,
    executor: Executor | None,
    progress: Callable[[float], None] | None,
) -> Mass:
    """Run one mass through; its draws are first made as many as the seas, all counting alike."""
    few = replace(question, body=question.body.few(members))
    seeds = np.random.SeedSequence(_SEED)
    answer = in_time(few, sea, seeds, members=members, executor=executor, progress=progress)
    trace = None
    if answer.hold is not None:
        trace = traced(answer.hold.run, 1, np.random.SeedSequence(_SEED + 1))
    return Mass(title, answer, trace)


def _part_of(
    progress: Callable[[float, str], None], index: int, count: int, title: str
) -> Callable[[float], None]:
    words = f"seas run through {title}".strip()
    return lambda share: progress((index + share) / count, words)


def _inputs(kept: PlanAnswer) -> SeawayInputs:
    rig = kept.plan.rig
    if rig is None or rig.sea is None:
        raise NoSeaError("The rig file has no [seaway]: describe the sea of the lift first.")
    inputs = solved_for(kept.weighed.weighing, rig, kept.context, kept.parts).at_sea.inputs
    if inputs is None:
        raise NoSeaError("The sea of this plan could not be asked: see its objections.")
    return inputs


def _key(kept: PlanAnswer) -> tuple[str, str]:
    return kept.find.id, kept.plan.fingerprint


_found: Kept[ManySeas] = Kept(6)
