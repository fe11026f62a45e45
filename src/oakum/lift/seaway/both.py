"""One answer of two: the hook by the greater of what the load may weigh, the slack line by the lesser."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from oakum.lift.checks import Check
from oakum.lift.splash import CaseLine, LimitCurve, LimitPoint, PeriodLine, SimplifiedAnswer

LINE_KEYS = ("splash-snap", "splash-hook")


def worse_answer(hook: SimplifiedAnswer, slack: SimplifiedAnswer) -> SimplifiedAnswer:
    """Return the worse of two answers for one sea and one shape, check by check."""
    checks = _checks(hook.checks, slack.checks)
    own = {c.objection for c in (*hook.checks, *slack.checks)}
    others = [o for o in (*hook.objections, *slack.objections) if o not in own]
    said = [*others, *(c.objection for c in checks if c.objection)]
    known = hook.hook_kg is not None and slack.hook_kg is not None
    return replace(
        hook,
        periods=tuple(_period(a, b) for a, b in zip(hook.periods, slack.periods, strict=True)),
        cases=tuple(_case(a, b) for a, b in zip(hook.cases, slack.cases, strict=True)),
        hook_kg=max(hook.hook_kg or 0.0, slack.hook_kg or 0.0) if known else None,
        checks=checks,
        objections=tuple(dict.fromkeys(said)),
        assumptions=tuple(dict.fromkeys((*hook.assumptions, *slack.assumptions))),
    )


def _checks(hook: Sequence[Check], slack: Sequence[Check]) -> tuple[Check, ...]:
    found: dict[tuple[str, str], Check] = {}
    for check in (*slack, *hook):
        key = (check.key, "" if check.key in LINE_KEYS else check.title)
        found[key] = max(found.get(key, check), check, key=lambda c: (c.objection is not None, c.demand))
    order = {"splash-slack": 0, "splash-snap": 1, "splash-hook": 2}
    return tuple(sorted(found.values(), key=lambda c: (order.get(c.key, 3), -c.demand)))


def _period(a: PeriodLine, b: PeriodLine) -> PeriodLine:
    return PeriodLine(
        a.tz_s,
        tuple(dict.fromkeys((*a.why_not, *b.why_not))),
        _greater(a.slack_ratio, b.slack_ratio),
        _greater(a.greatest_n, b.greatest_n),
    )


def _case(a: CaseLine, b: CaseLine) -> CaseLine:
    return CaseLine(
        title=a.title,
        kind=a.kind,
        tz_s=a.tz_s,
        water_line_m=a.water_line_m,
        static_least_n=min(a.static_least_n, b.static_least_n),
        static_most_n=max(a.static_most_n, b.static_most_n),
        drag_n=max(a.drag_n, b.drag_n),
        slam_n=max(a.slam_n, b.slam_n),
        mass_n=max(a.mass_n, b.mass_n),
        buoyancy_n=max(a.buoyancy_n, b.buoyancy_n),
        hydro_n=max(a.hydro_n, b.hydro_n),
        slack_ratio=max(a.slack_ratio, b.slack_ratio),
        greatest_n=max(a.greatest_n, b.greatest_n),
        snap_n=_greater(a.snap_n, b.snap_n),
    )


def _greater(a: float | None, b: float | None) -> float | None:
    known = [v for v in (a, b) if v is not None]
    return max(known, default=None)


def worse_curve(hook: LimitCurve, slack: LimitCurve) -> LimitCurve:
    """Return the lower of two limits at every period; the method holds only where it does for both."""
    return replace(
        hook,
        points=tuple(_point(a, b) for a, b in zip(hook.points, slack.points, strict=True)),
        objections=tuple(dict.fromkeys((*hook.objections, *slack.objections))),
    )


def _point(a: LimitPoint, b: LimitPoint) -> LimitPoint:
    lower = min((a, b), key=lambda p: float("inf") if p.hs_m is None else p.hs_m)
    against = tuple(dict.fromkeys((*a.why_not, *b.why_not)))
    return replace(lower, why_not=against, skipper_m=None if against else lower.skipper_m)
