"""Does the answer depend on the step of time? Some members again with half of it."""

from __future__ import annotations

from concurrent.futures import Executor
from dataclasses import dataclass, replace

import numpy as np

from oakum.lift.splash.ensemble import Run, ensemble


@dataclass(frozen=True, slots=True)
class StepCheck:
    """How the greatest line force changes when the step is halved, on the first members of the ensemble.

    Shares of the force: `median_change`, `greatest_change` of single members, `p95_change` of the 95th
    percentile over them. Once a line snaps, single members differ more than the percentile.
    """

    step_s: float
    half_step_s: float
    members: int
    median_change: float
    greatest_change: float
    p95_change: float

    @property
    def words(self) -> str:
        """In a sentence."""
        return (
            f"with half the step ({1000 * self.half_step_s:.3g} ms) the greatest line force of {self.members} seas "
            f"changes by {100 * self.median_change:.2g} % in the middle, {100 * self.greatest_change:.2g} % at most; "
            f"its 95th percentile by {100 * self.p95_change:.2g} %"
        )


def step_check(
    run: Run, seeds: np.random.SeedSequence, members: int = 40, *, executor: Executor | None = None
) -> StepCheck:
    """Return the change under half the step, for the first members of an ensemble by fresh `seeds`."""
    whole = ensemble(run, members, _again(seeds), executor=executor)
    half = ensemble(replace(run, step_s=0.5 * whole.step_s), members, _again(seeds), executor=executor)
    change = np.abs(half.greatest_n / whole.greatest_n - 1.0)
    high = [float(np.quantile(e.greatest_n, 0.95)) for e in (whole, half)]
    return StepCheck(
        whole.step_s,
        half.step_s,
        members,
        float(np.median(change)),
        float(change.max()),
        abs(high[1] / high[0] - 1.0),
    )


def _again(seeds: np.random.SeedSequence) -> np.random.SeedSequence:
    return np.random.SeedSequence(seeds.entropy, spawn_key=seeds.spawn_key)
