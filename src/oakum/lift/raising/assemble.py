"""The whole plan: weights, rig, gear, people, hazards and steps put together into one object."""

from __future__ import annotations

from collections.abc import Iterable

from oakum import __version__
from oakum.ground.estimate import spread_of
from oakum.lift.raising.at_sea import AtSea, at_sea
from oakum.lift.raising.context import PlanContext
from oakum.lift.raising.fingerprint import fingerprint
from oakum.lift.raising.gear_use import gear_items, gear_uses, wll_questions
from oakum.lift.raising.go_no_go import NOT_COVERED, Standing, go_no_go
from oakum.lift.raising.hazards import hazards_asked
from oakum.lift.raising.helps import helps, ranked_helps
from oakum.lift.raising.helps_sea import helps_at_sea
from oakum.lift.raising.loads import Draw, drawn_loads
from oakum.lift.raising.plan import GearItem, Hazard, RaisingPlan, RoleHeld, Step, TurningAnswer
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.raising.roles import roles_held, two_places
from oakum.lift.raising.sea_words import crossing_words
from oakum.lift.raising.solved import Asked, Before, Solved, ranked, solve, solve_again
from oakum.lift.raising.steps import build_steps, steps_left_out
from oakum.lift.raising.trial import trial_lift
from oakum.lift.raising.turned import turned_on_the_bed, turning_checks, turning_objections
from oakum.lift.raising.views import views
from oakum.lift.weights.weighing import Weighing


def raising_plan(
    weighing: Weighing,
    rig: RigPlan,
    context: PlanContext,
    *,
    with_helps: bool = True,
    before: Before | None = None,
) -> RaisingPlan:
    """Return the plan of a lift.

    The hook and the slings are checked on the 95th percentile, the bags on the median with a margin to vent,
    the centre of gravity is the cloud of all draws. `with_helps` False leaves out what would help, which is
    most of the work: for a slider. `before`, of `solved_before` with the same weighing, context and weight of
    rigging, saves solving again what this rig has in common with that one. Nothing that is not known counts as
    answered; it is an objection.
    """
    asked = _asked(weighing, rig, context) if before is None else before.asked
    solved = solve(rig, asked) if before is None else solve_again(rig, before)
    turning = turned_on_the_bed(rig, asked.draw, context.gear)
    uses = gear_uses(rig)
    gear = gear_items(uses, context.gear, context.on)
    roles = roles_held(rig, context.roles, context.on)
    hazards = hazards_asked(context.hazards)
    trial = trial_lift(rig, asked.draw, asked.light)
    sea = at_sea(weighing, rig, context, solved.hung, None if before is None else before.at_sea)
    steps = build_steps(
        rig,
        weighing,
        trial,
        context.minutes,
        relief=_relief(rig, solved, asked.draw),
        sea=crossing_words(sea.seaway),
    )
    checks = ranked((*solved.checks, *turning_checks(turning), *sea.checks))
    standing = Standing(
        rig=rig,
        weight=weighing.report,
        checks=checks,
        refused=_refusals(solved, turning),
        gear=gear,
        roles=roles,
        hazards=hazards,
        in_situ=context.in_situ,
        steps=steps,
        blocked_by=context.blocked_by,
        seaway=sea.seaway,
        cradle=sea.cradle,
    )
    return RaisingPlan(
        title=weighing.report.title,
        number=context.number,
        weight=weighing.report,
        cell_unit=rig.cell_unit,
        under_water=solved.hung.answers.get("under water"),
        in_air=solved.hung.answers.get("in air"),
        bags=solved.bagged.answer,
        turning=turning,
        views=views(rig, solved, asked.draw),
        checks=checks,
        gear=gear,
        roles=roles,
        hazards=hazards,
        in_situ=context.in_situ,
        steps=steps,
        go_no_go=go_no_go(standing),
        trial=trial,
        helps=ranked_helps((*helps(rig, asked, weighing), *helps_at_sea(sea, weighing))) if with_helps else (),
        stage=context.stage,
        objections=_objections(weighing, rig, context, solved, turning, sea, gear, roles, hazards),
        open_questions=_once(
            (rig.mark,) if rig.mark else (),
            weighing.report.open_questions,
            solved.hung.open_questions,
            solved.beamed.open_questions,
            solved.bagged.open_questions,
            _turning_questions(turning),
            sea.said("open_questions"),
            wll_questions(uses, context.gear),
            steps_left_out(rig, steps),
            context.open_questions,
            _no_minutes(steps),
        ),
        assumptions=_once(
            weighing.report.assumptions,
            solved.hung.assumptions,
            solved.beamed.assumptions,
            () if solved.bagged.answer is None else solved.bagged.answer.assumptions,
            _turning_said(turning, "assumptions"),
            sea.said("assumptions"),
            (f"Rig: {rig.source}.",) if rig.source else (),
            _rigging_words(weighing, rig),
        ),
        cautions=_once(
            weighing.report.cautions,
            () if solved.bagged.answer is None else solved.bagged.answer.cautions,
            _turning_said(turning, "cautions"),
            sea.said("cautions"),
        ),
        not_covered=NOT_COVERED,
        fingerprint=fingerprint(
            weighing.report, rig, gear, context.readings, context.vessel, context.cradle
        ),
        version=__version__,
        withdrawn=context.withdrawn,
        blocked_by=context.blocked_by,
        spreaders=solved.beamed.answers,
        rig=rig,
        advice=_once(solved.hung.advice, sea.said("advice")),
        seaway=sea.seaway,
        cradle=sea.cradle,
    )


def solved_before(weighing: Weighing, rig: RigPlan, context: PlanContext) -> Before:
    """Return a rig solved, so that changes of it are solved sooner."""
    asked = _asked(weighing, rig, context)
    solved = solve(rig, asked)
    return Before(rig, asked, solved, at_sea(weighing, rig, context, solved.hung))


def _asked(weighing: Weighing, rig: RigPlan, context: PlanContext) -> Asked:
    rigging = None if rig.hook is None else rig.hook.rigging_kg
    use = None if weighing.slack is weighing.use else weighing.slack
    return Asked(
        draw=drawn_loads(weighing.sums, weighing.use, rigging),
        light=None if use is None else drawn_loads(weighing.sums, use, rigging),
        water_kg_m3=weighing.report.water_density_kg_m3.best,
        gear=context.gear,
        light_use=use,
    )


def _once(*lists: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(line for lines in lists for line in lines))


def _refusals(solved: Solved, turning: tuple[TurningAnswer, ...]) -> dict[str, tuple[str, ...]]:
    """Return why something could not be computed at all, by the line of the go/no-go list it belongs to."""
    return {
        "legs": (*solved.hung.refused, *solved.beamed.refused),
        "bags": () if solved.bagged.answer is not None else solved.bagged.objections,
        "turning": tuple(a.refused for a in turning if a.refused),
    }


def _objections(
    weighing: Weighing,
    rig: RigPlan,
    context: PlanContext,
    solved: Solved,
    turning: tuple[TurningAnswer, ...],
    sea: AtSea,
    gear: tuple[GearItem, ...],
    roles: tuple[RoleHeld, ...],
    hazards: tuple[Hazard, ...],
) -> tuple[str, ...]:
    return _once(
        (f"open question: {q}" for q in context.blocked_by),
        (h.objection for h in hazards if h.objection),
        () if context.in_situ else ("no decision is recorded why it is not left where it is",),
        weighing.report.objections,
        solved.objections,
        turning_objections(turning),
        sea.objections,
        (item.objection for item in gear if item.objection),
        (role.objection for role in roles if role.objection),
        two_places(roles),
        _unsaid(rig),
    )


def _unsaid(rig: RigPlan) -> list[str]:
    """Return what the rig file leaves out and the lift cannot do without."""
    found = []
    if rig.hook is None:
        found.append(
            "no hook is described: the load cannot be weighed under water nor taken through the surface"
        )
    elif not rig.legs and rig.spreader is None:
        found.append("nothing is described between hook and load")
    for said, words in (
        (rig.cell_unit, "the unit of the load cell is not known: no band for the trial lift"),
        (rig.work.pause_depth_m, "no depth is given for the pause below the surface"),
        (rig.work.set_down, "no set-down point is known"),
        (rig.work.reception, "no wet reception is described"),
        (rig.work.weather, "the limits of sea, wind and forecast are not written down"),
    ):
        if not said:
            found.append(words)
    return found


def _relief(rig: RigPlan, solved: Solved, draw: Draw) -> str:
    """Return what the load cell shows with relieving bags full, in words."""
    bags = solved.bagged.answer
    if bags is None or rig.bags is None or rig.bags.used_for != "relieve":
        return ""
    left = spread_of(draw.hook_water_kg, "kg", draw.weights)
    low, high = left.p5 - bags.lift_full_kg, left.p95 - bags.lift_counted_kg
    return f"with all bags full the hook keeps {max(low, 0.0):,.0f} to {high:,.0f} kg"


def _turning_said(turning: tuple[TurningAnswer, ...], what: str) -> list[str]:
    parts = (part for answer in turning for part in (answer.turn, answer.frame, answer.roll))
    return [line for part in parts if part is not None for line in getattr(part, what)]


def _turning_questions(turning: tuple[TurningAnswer, ...]) -> list[str]:
    return [f'turning "{a.name}": {q}' for a in turning if a.turn is not None for q in a.turn.open_questions]


def _no_minutes(steps: tuple[Step, ...]) -> tuple[str, ...]:
    missing = [step.title.lower() for step in steps if step.minutes is None]
    if not missing:
        return ()
    return (f"not known how long it takes: no minutes for {', '.join(missing)}",)


def _rigging_words(weighing: Weighing, rig: RigPlan) -> list[str]:
    has_own = any(t.role == "rigging" for t in weighing.sums.solids)
    typed = rig.hook is not None and rig.hook.rigging_kg is not None
    if has_own and typed:
        return ["Rigging: body and rig file both say what it weighs; the greater is taken in each draw."]
    if has_own or typed:
        return [f"Rigging: its weight is taken from the {'body' if has_own else 'rig file'}."]
    return []
