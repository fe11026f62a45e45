"""Is there an objection in time: hoisted through the surface, and held ten minutes at the worst height?"""

from __future__ import annotations

from concurrent.futures import Executor
from dataclasses import dataclass
from functools import partial

import numpy as np

from oakum.ground.waves import check_sea
from oakum.lift.checks import Check, Rule, verdict_words
from oakum.lift.splash import rules
from oakum.lift.splash.drive import RandomSea, SeaState
from oakum.lift.splash.ensemble import CHUNK, Ensemble, Progress, Run, ensemble
from oakum.lift.splash.model import SplashModel
from oakum.lift.splash.operations import Hoist, Hold, through_the_surface
from oakum.lift.splash.simplified import Question
from oakum.lift.splash.step_check import StepCheck, step_check
from oakum.lift.splash.tip import TipMotion
from oakum.lift.splash.validity import LINE_UNKNOWN, TIP_UNKNOWN
from oakum.lift.splash.wording import CAUTIONS
from oakum.lift.splash.worst_level import WorstLevel, worst_level


@dataclass(frozen=True, slots=True, eq=False)
class TimeAnswer:
    """What the seas did to the line. Ensembles are None where tip or line is not known, which is an objection.

    `hold` is at the height with the greatest force; `hold_slack` at the one with the most slack, None where
    none was seen or it is the same height.
    """

    hoist: Ensemble | None
    hold: Ensemble | None
    hold_slack: Ensemble | None
    worst: WorstLevel | None
    steps: StepCheck | None
    checks: tuple[Check, ...]
    rules: tuple[Rule, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def operations(self) -> tuple[tuple[str, Ensemble], ...]:
        """What was done, each in words with its seas."""
        return tuple((operation_words(e), e) for e in (self.hoist, self.hold, self.hold_slack) if e is not None)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)


def in_time(
    asked: Question,
    sea: SeaState,
    seeds: np.random.SeedSequence,
    *,
    members: int = 1000,
    hold_s: float = 600.0,
    executor: Executor | None = None,
    progress: Progress | None = None,
    chunk: int = CHUNK,
) -> TimeAnswer:
    """Return the answer for one sea state by `members` seas an operation, `chunk` of them stepped together.

    `progress` is told the share done; what it raises ends the work.
    Raises `WaveError` for a sea that cannot be, `SplashError` where the tip motion does not reach to it.
    """
    if isinstance(sea, RandomSea):
        check_sea(sea.hs_m, sea.tz_s, asked.water.depth_m, asked.water.g_m_s2)
    said = [w for w, known in ((TIP_UNKNOWN, asked.tip), (LINE_UNKNOWN, asked.line)) if known is None]
    if asked.tip is None or asked.line is None:
        return TimeAnswer(None, None, None, None, None, (), (), tuple(said), _assumptions(asked), CAUTIONS)
    model = SplashModel.of(asked.body, asked.line, asked.water)
    up = through_the_surface(
        model.immersion.height_m, sea.hs_m, tip_reach_m(asked.tip, sea), asked.speed_m_s
    )
    look, hoist_seeds, hold_seeds, slack_seeds = seeds.spawn(4)
    share = _Shares(progress)
    many = partial(ensemble, executor=executor, chunk=chunk)
    hoisting = Run(model, sea, asked.tip, up, asked.water.depth_m)
    worst = worst_level(hoisting, look, executor=executor, progress=share.of(0.0, 0.2))
    held = Run(model, sea, asked.tip, Hold(worst.level_m, hold_s), asked.water.depth_m)
    hoist = many(hoisting, members, hoist_seeds, progress=share.of(0.2, 0.35))
    hold = many(held, members, hold_seeds, progress=share.of(0.35, 0.65))
    slackest = None
    if worst.slack_level_m is not None and worst.slack_level_m != worst.level_m:
        there = Run(model, sea, asked.tip, Hold(worst.slack_level_m, hold_s), asked.water.depth_m)
        slackest = many(there, members, slack_seeds, progress=share.of(0.65, 0.95))
    steps = step_check(held, hold_seeds, min(members, 40), executor=executor)
    share.of(0.95, 1.0)(1.0)
    done = [hoist, hold] if slackest is None else [hoist, hold, slackest]
    checks = tuple(c for found in done for c in _checks(asked, operation_words(found), found))
    return TimeAnswer(
        hoist,
        hold,
        slackest,
        worst,
        steps,
        checks,
        (rules.TIME_SLACK, rules.TIME_HOOK),
        tuple(dict.fromkeys(c.objection for c in checks if c.objection)),
        _assumptions(asked),
        CAUTIONS,
    )


def tip_reach_m(tip: TipMotion, sea: SeaState) -> float:
    """Return the greatest motion of the tip in a sea, m."""
    if isinstance(sea, RandomSea):
        return float(tip.amplitudes(np.array([sea.hs_m]), sea.tz_s).motion_m[0])
    drive = tip.drive(np.array([2.0 * np.pi / sea.period_s]), sea.hs_m, sea.tz_s)
    return float(abs(drive.transfer[0])) * sea.amplitude_m + sum(a for a, _ in drive.swings)


class _Shares:
    """Cuts one progress into parts."""

    def __init__(self, progress: Progress | None) -> None:
        self.progress = progress

    def of(self, low: float, high: float) -> Progress:
        def tell(share: float) -> None:
            if self.progress is not None:
                self.progress(low + share * (high - low))

        return tell


def operation_words(found: Ensemble) -> str:
    """Return in words what was done with the body."""
    operation = found.run.operation
    if isinstance(operation, Hoist):
        return "hoisted through the surface"
    level = operation.from_level_m
    where = "at" if abs(level) < 0.005 else f"{abs(level):.2f} m {'above' if level > 0 else 'below'}"
    return f"held {operation.counted_s / 60:.3g} min with its lowest point {where} the water"


def _checks(asked: Question, title: str, found: Ensemble) -> list[Check]:
    slack = found.odds_slack()
    spread = found.greatest
    g = asked.water.g_m_s2
    demand = spread.p95 / g
    over = None
    if asked.hook_kg is None:
        over = "not known what the hook bears at this radius"
    elif demand > asked.hook_kg:
        odds = found.odds_over(asked.hook_kg * g)
        over = f"{title}: line force over the {asked.hook_kg:,.0f} kg the hook bears {odds.words}"
    loose = f"{title}: the line goes slack {slack.words}" if slack.count else None
    basis = f"95th percentile over {found.members:,} seas"
    return [
        Check("splash-time-slack", title, slack.share, 0.0, "1", slack.words, rules.TIME_SLACK, loose),
        Check("splash-time-hook", title, demand, asked.hook_kg, "kg", basis, rules.TIME_HOOK, over),
    ]


def _assumptions(asked: Question) -> tuple[str, ...]:
    said = [
        "one degree of freedom: the load goes up and down under the boom head",
        "linear waves; their motion at the depth of the middle of the submerged height in still water",
        "added mass, volume and drag of a part grow evenly over its height as it goes under",
        "water entering takes up momentum of the growing added mass; leaving gives none back",
        "deep water" if asked.water.depth_m is None else f"water {asked.water.depth_m:g} m deep",
    ]
    if asked.hoist_m_s is None:
        said.append("hoist speed not known: 0.5 m/s taken")
    if asked.tip is not None:
        said.append(asked.tip.words)
    if asked.line is not None and asked.line.damping_ratio is None:
        said.append("damping of the line not known: none taken")
    if asked.body.hollows:
        said.append("hollows start full and drain by the orifice law; one of another shape counts as a prism")
    return tuple(said)
