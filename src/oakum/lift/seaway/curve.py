"""In which Hs the first objection appears: slack line, hook, load chart or heel, whichever is first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from oakum.ground.waves import LONGEST_TZ_S
from oakum.lift.seaway.both import worse_curve
from oakum.lift.seaway.inputs import Questions
from oakum.lift.splash import LimitCurve, LimitPoint, Question, limit_curve, why_not

SHORTEST_S, MOST_PERIODS = 2, 6
"""Unasked, the curve has six whole seconds from the first on, 2 s at least, at which the method holds."""

_DRAWS = 200
_LEAST_KG = 1e-3
_HOOK = "hook load over what it bears"


@dataclass(frozen=True, slots=True)
class Bears:
    """Something that bears the hook load up to `kg`; `over` is what is said beyond it, `name` who fails."""

    kg: float
    name: str
    over: str


def curve_periods_s(asked: Questions, given: Sequence[float], tz_s: float | None) -> tuple[float, ...]:
    """Return the mean periods of the curve: those asked for, else six at which the method holds; the plan's with them.

    The method holds where the body is small against the wave, the line adds little, and the motion of the boom head is
    known; none of the whole seconds up to 13 s may be so.
    """
    found = list(given)
    if not given:
        q = _few(asked.hook)
        whole = (float(t) for t in range(SHORTEST_S, int(LONGEST_TZ_S) + 1))
        found = [t for t in whole if not why_not(q.body, q.line, q.water, t, q.tip)][:MOST_PERIODS]
    return tuple(sorted({*found, *(() if tz_s is None else (tz_s,))}))


def sea_curve(
    asked: Questions, periods_s: Sequence[float], bears: Sequence[Bears], known: Sequence[LimitPoint] = ()
) -> LimitCurve:
    """Return the limits, by the least of all that bears the hook load and by the slack line.

    The hook is asked with the greater mass of an unsettled reading, the slack line with the lesser, each at 200 draws
    that stand for all. `known` are points of the same question, which are not asked again.
    """
    kept = {p.tz_s: p for p in known}
    curve = _asked(asked, [tz for tz in periods_s if tz not in kept], bears)
    found = kept | {p.tz_s: p for p in curve.points}
    if asked.hook.tip is None:
        return curve
    points = tuple(found[tz] for tz in periods_s)
    against = [f"Tz {p.tz_s:g} s: method does not hold: {w}" for p in points for w in p.why_not]
    others = [o for o in curve.objections if not o.startswith("Tz ")]
    return replace(curve, points=points, objections=tuple(dict.fromkeys((*against, *others))))


def _asked(asked: Questions, periods_s: Sequence[float], bears: Sequence[Bears]) -> LimitCurve:
    least = min(bears, key=lambda b: b.kg, default=None)
    kg = None if least is None else max(least.kg, _LEAST_KG)
    hook, slack = (
        limit_curve(replace(_few(q), hook_kg=kg), periods_s) for q in (asked.hook, asked.slack)
    )
    both = worse_curve(hook, slack)
    if least is None:
        return both
    return replace(both, points=tuple(_named(p, least) for p in both.points))


def _few(asked: Question) -> Question:
    return replace(asked, body=asked.body.few(_DRAWS))


def _named(point: LimitPoint, least: Bears) -> LimitPoint:
    """Return a point whose objection names what bears the least."""
    if point.objection is None or not point.objection.startswith(_HOOK):
        return point
    return replace(point, objection=least.over + point.objection.removeprefix(_HOOK))
