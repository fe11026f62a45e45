"""The sea in which the first objection appears, by mean period, and what is printed for the skipper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

import numpy as np
from numpy.typing import NDArray

from oakum.ground.waves import steepest_hs_m
from oakum.lift.checks import Rule
from oakum.lift.splash import rules
from oakum.lift.splash.cases import LoadCase, load_cases
from oakum.lift.splash.errors import SplashError, positive
from oakum.lift.splash.first_root import first_crossing
from oakum.lift.splash.forces import case_forces, wave_motion
from oakum.lift.splash.simplified import Question, slack_words, snap_n
from oakum.lift.splash.validity import TIP_UNKNOWN, why_not

Array = NDArray[np.float64]

_DRAWS = 200
_POINTS = 161


@dataclass(frozen=True, slots=True)
class LimitPoint:
    """One mean period.

    `hs_m` is the smallest significant height at which `objection` appears; None: none up to `steepest_m`, the
    highest sea this period can have. `skipper_m`: 0.7 of `hs_m` rounded down to 0.05 m, given only where the
    method holds, that is `why_not` is empty.
    """

    tz_s: float
    hs_m: float | None
    objection: str | None
    skipper_m: float | None
    steepest_m: float
    why_not: tuple[str, ...]

    @property
    def words(self) -> str:
        """The point in a sentence."""
        if self.why_not:
            return f"Tz {self.tz_s:g} s: method does not hold: {'; '.join(self.why_not)}"
        if self.hs_m is None or self.skipper_m is None:
            return (
                f"Tz {self.tz_s:g} s: no objection found up to Hs {self.steepest_m:.2f} m, the steepest sea of "
                "this period"
            )
        return (
            f"Tz {self.tz_s:g} s: an objection appears at Hs {self.hs_m:.2f} m ({self.objection}); "
            f"begin in Hs {self.skipper_m:.2f} m at most"
        )


@dataclass(frozen=True, slots=True)
class LimitCurve:
    """The points by period; empty, with the objection, where the tip motion is not known."""

    points: tuple[LimitPoint, ...]
    objections: tuple[str, ...]
    rules: tuple[Rule, ...] = (rules.SLACK, rules.HOOK, rules.DESIGN_SHARE)


def skipper_value_m(hs_m: float) -> float:
    """Return 0.7 of a solved height, rounded down to 0.05 m.

    >>> skipper_value_m(0.2309)
    0.15
    """
    steps = floor(rules.SKIPPER_SHARE * hs_m / rules.SKIPPER_STEP_M + 1e-9)
    return round(steps * rules.SKIPPER_STEP_M, 2)


def limit_curve(
    asked: Question, tz_s: Sequence[float], cases: tuple[LoadCase, ...] | None = None
) -> LimitCurve:
    """Return the limits at mean periods, by all load cases or by the ones given.

    Heights are scanned from a millimetre to the steepest sea and the first bracket is halved. At most 200
    draws that stand for all are used.
    """
    if asked.tip is None:
        return LimitCurve((), (f"no limit can be given: {TIP_UNKNOWN}",))
    few = Question(
        asked.body.few(_DRAWS), asked.water, asked.tip, asked.line, asked.hoist_m_s, asked.hook_kg
    )
    looked_at = load_cases(few.body) if cases is None else cases
    points = tuple(_point(few, looked_at, tz) for tz in tz_s)
    said = [f"Tz {p.tz_s:g} s: method does not hold: {w}" for p in points for w in p.why_not]
    if asked.hook_kg is None:
        said.append("not known what the hook bears at this radius: only the slack line limits the sea")
    return LimitCurve(points, tuple(said))


def _point(asked: Question, cases: tuple[LoadCase, ...], tz_s: float) -> LimitPoint:
    positive("the mean period Tz", tz_s, "s")
    steepest = steepest_hs_m(tz_s, asked.water.depth_m, asked.water.g_m_s2)
    against = why_not(asked.body, asked.line, asked.water, tz_s, asked.tip)
    try:
        found = first_crossing(
            lambda hs: _excess(asked, cases, hs, tz_s).max(axis=0), 1e-3, steepest, _POINTS
        )
    except SplashError:
        return LimitPoint(tz_s, None, None, None, steepest, against)
    if found is None:
        return LimitPoint(tz_s, None, None, None, steepest, against)
    each = _excess(asked, cases, np.array([found * (1.0 + 1e-5)]), tz_s)[:, 0]
    name = _names(cases)[int(np.argmax(each > 0.0))]
    return LimitPoint(tz_s, found, name, None if against else skipper_value_m(found), steepest, against)


def _names(cases: tuple[LoadCase, ...]) -> list[str]:
    return [slack_words(c.title) for c in cases] + [
        f"hook load over what it bears, {c.title}" for c in cases
    ]


def _excess(asked: Question, cases: tuple[LoadCase, ...], hs_m: Array, tz_s: float) -> Array:
    """Return (2 cases, k): share by which slack line and hook of each case are over, at heights (k,)."""
    assert asked.tip is not None  # asked by the caller
    tip = asked.tip.amplitudes(hs_m[:, None], tz_s)
    wave = wave_motion(hs_m[:, None], tz_s, asked.water)
    n, k = len(asked.body.mass_kg), len(hs_m)
    slack, hook = [], []
    for case in cases:
        forces = case_forces(case, asked.body, tip, wave, asked.water, asked.speed_m_s)
        slackness = forces.slack_ratio
        ratio = asked.body.high_of_rows(np.broadcast_to(slackness, (k, n)))
        slack.append(ratio / rules.SLACK_SHARE - 1.0)
        if asked.hook_kg is None:
            hook.append(np.full(k, -1.0))
            continue
        pull = forces.greatest_n
        if asked.line is not None:
            snaps = slackness > rules.SLACK_SHARE
            if snaps.any():
                pull = np.where(snaps, np.maximum(pull, snap_n(asked, forces)), pull)
        high = asked.body.high_of_rows(np.broadcast_to(pull, (k, n)))
        hook.append(high / (asked.hook_kg * asked.water.g_m_s2) - 1.0)
    return np.array([*slack, *hook])
