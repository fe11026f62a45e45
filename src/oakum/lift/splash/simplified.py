"""Is there an objection to lifting this body through the surface in this sea, by the simplified method?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.waves import check_sea
from oakum.lift.checks import Check, Rule, verdict_words
from oakum.lift.splash import rules
from oakum.lift.splash.body import SplashBody
from oakum.lift.splash.cases import LoadCase, load_cases
from oakum.lift.splash.errors import SplashError, positive
from oakum.lift.splash.forces import CaseForces, Water, case_forces, wave_motion
from oakum.lift.splash.line import Line
from oakum.lift.splash.snap import fall_speed_m_s, snap_peak_n, snap_speed_m_s
from oakum.lift.splash.tip import TipMotion
from oakum.lift.splash.validity import periods_s, why_not
from oakum.lift.splash.wording import CAUTIONS, assumptions

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Question:
    """Everything the simplified method needs besides the sea.

    `hoist_m_s` None is not known and taken as 0.5 m/s, the rule's value; `hook_kg` is the WLL of the hook and
    all under it at the radius used, None is not known. `tip` and `line` None are not known.
    """

    body: SplashBody
    water: Water
    tip: TipMotion | None
    line: Line | None
    hoist_m_s: float | None
    hook_kg: float | None

    def __post_init__(self) -> None:
        if self.hoist_m_s is not None:
            positive("the hoist speed", self.hoist_m_s, "m/s")
        if self.hook_kg is not None:
            positive("the WLL of the hook", self.hook_kg, "kg")

    @property
    def speed_m_s(self) -> float:
        """Hoist speed, 0.5 m/s where it is not known."""
        return 0.5 if self.hoist_m_s is None else self.hoist_m_s


@dataclass(frozen=True, slots=True)
class CaseLine:
    """One load case at the period that is worst for it; forces in N, ends of their spread as the checks take them.

    `slack_ratio` is hydrodynamic over least static force; `snap_n` the exact peak where the line goes slack,
    None where it does not or the line is not known.
    """

    title: str
    kind: str
    tz_s: float
    water_line_m: float
    static_least_n: float
    static_most_n: float
    drag_n: float
    slam_n: float
    mass_n: float
    buoyancy_n: float
    hydro_n: float
    slack_ratio: float
    greatest_n: float
    snap_n: float | None


@dataclass(frozen=True, slots=True)
class PeriodLine:
    """One period of the scan: whether the method holds, and the worst over the load cases."""

    tz_s: float
    why_not: tuple[str, ...]
    slack_ratio: float | None
    greatest_n: float | None

    @property
    def holds(self) -> bool:
        """Whether the simplified method holds at this period."""
        return not self.why_not


@dataclass(frozen=True, slots=True)
class SimplifiedAnswer:
    """What the simplified method says of one significant height.

    `cases` are in the order the body comes out; `hook_kg` is the greatest pull with any snap as a load-cell
    reading, None where no period could be computed or a slack line's stiffness is not known.
    """

    hs_m: float
    periods: tuple[PeriodLine, ...]
    cases: tuple[CaseLine, ...]
    hook_kg: float | None
    checks: tuple[Check, ...]
    rules: tuple[Rule, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether the method holds at every period of the scan."""
        return all(p.holds for p in self.periods)

    @property
    def governing(self) -> CaseLine | None:
        """The case with the greatest slack ratio."""
        return max(self.cases, key=lambda c: c.slack_ratio, default=None)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)


def simplified(asked: Question, hs_m: float, tz_s: float | None = None) -> SimplifiedAnswer:
    """Return the answer for a sea: for all periods the rule scans, or for one that is known.

    Raises `WaveError` for a sea that cannot be, `SplashError` where no period is left.
    """
    water = asked.water
    if tz_s is not None:
        check_sea(hs_m, tz_s, water.depth_m, water.g_m_s2)
    else:
        positive("the significant wave height Hs", hs_m, "m")
    scanned = (tz_s,) if tz_s is not None else periods_s(hs_m, water)
    cases = load_cases(asked.body)
    lines: list[list[CaseLine]] = [[] for _ in cases]
    periods = []
    for tz in scanned:
        against = why_not(asked.body, asked.line, water, tz, asked.tip)
        found = case_lines(asked, cases, hs_m, tz)
        for kept, line in zip(lines, found, strict=False):
            kept.append(line)
        periods.append(
            PeriodLine(
                tz,
                against,
                max((c.slack_ratio for c in found), default=None),
                max((max(c.greatest_n, c.snap_n or 0.0) for c in found), default=None),
            )
        )
    worst = tuple(max(kept, key=lambda c: (c.slack_ratio, c.greatest_n)) for kept in lines if kept)
    highest = max((p.greatest_n for p in periods if p.greatest_n is not None), default=None)
    slack = any(c.slack_ratio > rules.SLACK_SHARE for c in worst)
    known = highest is not None and (not slack or asked.line is not None)
    hook = highest / water.g_m_s2 if known and highest is not None else None
    checks = _checks(asked, worst, hook)
    said = [*_does_not_hold(periods), *(c.objection for c in checks if c.objection)]
    return SimplifiedAnswer(
        hs_m=hs_m,
        periods=tuple(periods),
        cases=worst,
        hook_kg=hook,
        checks=checks,
        rules=(rules.PERIODS, rules.FORCES, rules.SMALL_BODY, rules.NO_RESONANCE),
        objections=tuple(dict.fromkeys(said)),
        assumptions=assumptions(asked.body, asked.tip, asked.line, asked.hoist_m_s, water.depth_m),
        cautions=CAUTIONS,
    )


def _does_not_hold(periods: list[PeriodLine]) -> list[str]:
    """Return one sentence for all periods at which the method does not hold, with the reasons at the first."""
    against = [p for p in periods if not p.holds]
    if not against:
        return []
    at = ", ".join(f"{p.tz_s:.3g}" for p in against)
    return [f"the simplified method does not hold at Tz {at} s: {'; '.join(against[0].why_not)}"]


def case_lines(
    asked: Question, cases: tuple[LoadCase, ...], hs_m: float, tz_s: float
) -> tuple[CaseLine, ...]:
    """Return all cases at one height and period; nothing where the tip motion is not known."""
    if asked.tip is None:
        return ()
    try:
        tip = asked.tip.amplitudes(np.array([[hs_m]]), tz_s)
    except SplashError:
        return ()
    wave = wave_motion(np.array([[hs_m]]), tz_s, asked.water)
    found = []
    for case in cases:
        forces = case_forces(case, asked.body, tip, wave, asked.water, asked.speed_m_s)
        found.append(_line(asked, case, forces, tz_s))
    return tuple(found)


def snap_n(asked: Question, forces: CaseForces) -> Array:
    """Return the exact peak of a snap in a case, N; the line must be known."""
    if asked.line is None:
        raise SplashError("a snap needs the stiffness of the line")
    fall = fall_speed_m_s(forces.most_n, asked.body.drag_m2, asked.water.density_kg_m3)
    against = np.maximum(forces.relative_m_s, forces.slam_m_s)
    speed = snap_speed_m_s(fall, against)
    return snap_peak_n(forces.most_n, speed, asked.line.stiffness_n_m, forces.moving_kg)


def _line(asked: Question, case: LoadCase, forces: CaseForces, tz_s: float) -> CaseLine:
    body = asked.body

    def high(values: Array) -> float:
        return body.high(np.broadcast_to(values, (1, len(body.mass_kg)))[0])

    ratio = high(forces.slack_ratio)
    snaps = ratio > rules.SLACK_SHARE and asked.line is not None
    return CaseLine(
        title=case.title,
        kind=case.kind,
        tz_s=tz_s,
        water_line_m=case.water_line_m,
        static_least_n=body.low(np.broadcast_to(forces.least_n, (len(body.mass_kg),))),
        static_most_n=high(forces.most_n),
        drag_n=high(forces.drag_n),
        slam_n=high(forces.slam_n),
        mass_n=high(forces.mass_n),
        buoyancy_n=high(forces.buoyancy_n),
        hydro_n=high(np.maximum(forces.hydro_n, forces.hydro_drained_n)),
        slack_ratio=ratio,
        greatest_n=high(forces.greatest_n),
        snap_n=high(snap_n(asked, forces)) if snaps else None,
    )


def _checks(asked: Question, cases: tuple[CaseLine, ...], hook_kg: float | None) -> tuple[Check, ...]:
    if not cases:
        return ()
    basis = asked.body.basis
    made = []
    for case in sorted(cases, key=lambda c: -c.slack_ratio):
        slack = case.slack_ratio > rules.SLACK_SHARE
        made.append(
            Check(
                "splash-slack",
                f"slack line, {case.title}, Tz {case.tz_s:.3g} s",
                case.slack_ratio,
                rules.SLACK_SHARE,
                "1",
                f"{basis} of hydrodynamic over least static force",
                rules.SLACK,
                slack_words(case.title) if slack else None,
            )
        )
    snaps = [c for c in cases if c.snap_n is not None]
    g = asked.water.g_m_s2
    if snaps:
        worst = max(snaps, key=lambda c: c.snap_n or 0.0)
        demand = (worst.snap_n or 0.0) / g
        made.append(
            Check("splash-snap", f"snap, {worst.title}", demand, asked.hook_kg, "kg", basis, rules.SNAP, None)
        )
    made.append(
        Check(
            "splash-hook",
            "hook load through the surface",
            hook_kg if hook_kg is not None else max(c.greatest_n for c in cases) / g,
            asked.hook_kg,
            "kg",
            basis,
            rules.HOOK,
            _hook_words(asked, hook_kg),
        )
    )
    return tuple(made)


def slack_words(title: str) -> str:
    """Return the objection of a line that goes slack in a case."""
    return f"the line may go slack with {title}" if title.startswith('"') else f"the line may go slack {title}"


def _hook_words(asked: Question, hook_kg: float | None) -> str | None:
    if asked.hook_kg is None:
        return "not known what the hook bears at this radius"
    if hook_kg is None:
        return "the line may go slack and its stiffness is not known: the hook load cannot be given"
    if hook_kg > asked.hook_kg:
        return f"hook load through the surface up to {hook_kg:,.0f} kg, over the {asked.hook_kg:,.0f} kg it bears"
    return None
