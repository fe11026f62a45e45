"""At which height it is worst to be held: a short look at several, before the full ten minutes at that one."""

from __future__ import annotations

from concurrent.futures import Executor
from dataclasses import dataclass, replace

import numpy as np

from oakum.lift.splash.ensemble import Progress, Run, ensemble
from oakum.lift.splash.operations import Hold

_LOOK_S = 90.0


@dataclass(frozen=True, slots=True)
class WorstLevel:
    """Levels of the lowest point above the water looked at, m, and what a short hold gave at each.

    `greatest_n` mean over the seas of the greatest line force, `slack_share` of the seas with a slack line.
    `level_m` has the greatest force, `slack_level_m` the most slack (None: none was seen).
    """

    levels_m: tuple[float, ...]
    greatest_n: tuple[float, ...]
    slack_share: tuple[float, ...]
    level_m: float
    slack_level_m: float | None


def worst_level(
    run: Run,
    seeds: np.random.SeedSequence,
    *,
    levels: int = 9,
    members: int = 30,
    executor: Executor | None = None,
    progress: Progress | None = None,
) -> WorstLevel:
    """Return where to hold it: from just under the troughs to just clear of the crests, the same seas at each.

    Only the choice of the height rests on this short look; forces are those of the full ensemble there.
    """
    height = run.model.immersion.height_m
    reach = 0.5 * run.sea.hs_m
    tried = np.linspace(-height - reach, reach, levels)
    force, slack = [], []
    for i, level in enumerate(tried):
        again = np.random.SeedSequence(seeds.entropy, spawn_key=seeds.spawn_key)
        found = ensemble(replace(run, operation=Hold(float(level), _LOOK_S)), members, again, executor=executor)
        force.append(float(found.greatest_n.mean()))
        slack.append(float((found.slack_s > 0.0).mean()))
        if progress is not None:
            progress((i + 1) / levels)
    slackest = int(np.argmax(slack))
    return WorstLevel(
        tuple(float(level) for level in tried),
        tuple(force),
        tuple(slack),
        float(tried[int(np.argmax(force))]),
        float(tried[slackest]) if slack[slackest] > 0.0 else None,
    )
