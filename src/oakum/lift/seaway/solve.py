"""May it come up in this sea, from this vessel? Splash zone, vessel, radius and wind put together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from oakum.ground.errors import OakumError
from oakum.lift.checks import Check
from oakum.lift.seaway.afloat import DYNAMIC, Alongside, alongside, named_checks, vessel_bears, with_the_sea
from oakum.lift.seaway.answer import Limit, SeawayAnswer
from oakum.lift.seaway.both import worse_answer
from oakum.lift.seaway.curve import Bears, curve_periods_s, sea_curve
from oakum.lift.seaway.first import first_to_fail
from oakum.lift.seaway.inputs import Questions, SeawayInputs, line_n_m, seaway_questions
from oakum.lift.seaway.limits import GUSTS, radius_limit, wind_check, wind_limit, wind_objections
from oakum.lift.splash import LimitCurve, Question, SimplifiedAnswer, simplified
from oakum.lift.vessel import VesselAnswer

_DRAWS = 1000
_KEPT = 200  # draws in the answer's body: its drawings need the shape
_CURVE = (
    "limit by period: slack line, hook, load chart and heel; freeboard and what else is asked of the vessel are looked "
    "at in the plan's sea"
)


@dataclass(slots=True)
class _Found:
    """What is collected on the way."""

    objections: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)
    assumptions: list[str] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)

    def refuse(self, error: OakumError) -> None:
        """Keep why something could not be computed; it is an objection too."""
        self.refused.append(str(error))
        self.objections.append(str(error))


def seaway_answer(inputs: SeawayInputs) -> SeawayAnswer:
    """Return everything about a lift in its sea; whatever is not known or cannot be computed is an objection.

    An unsettled mass counts in each check at its worse value: the greater for hook, chart and heel, the lesser for
    slack line and snap. The splash zone takes at most 1,000 draws that stand for all, the limit curve 200.
    """
    sea, found = inputs.sea, _Found()
    _unsaid(inputs, found)
    asked = _questions(inputs, found)
    splash = None if asked is None else _splash(asked, inputs, found)
    beside = None if asked is None else _vessel(inputs, asked, found)
    still = _still(beside, found)
    bears = _bears(inputs, still)
    curve = None if asked is None else _curve(asked, inputs, bears, found)
    g = 1.0 if asked is None else asked.hook.water.g_m_s2
    answers: tuple[VesselAnswer, ...] = ()
    radius = wind = None
    if beside is not None and still:
        answers = named_checks(with_the_sea(beside, splash, g))
        added = _added_kg(beside, splash)
        radius, wind = radius_limit(beside, answers[-1], added), wind_limit(beside, answers[-1], added)
        found.objections += [o for a in answers for o in a.objections]
        found.objections += wind_objections(wind)
        found.assumptions.append(DYNAMIC)
        found.cautions.append(GUSTS)
    checks = _checks(splash, answers, wind)
    found.objections += [c.objection for c in checks if c.objection]
    return SeawayAnswer(
        asked=sea,
        vessel_title="" if inputs.papers is None else inputs.papers.title,
        splash=splash,
        curve=curve,
        vessel=answers,
        radius=radius,
        wind=wind,
        first=first_to_fail(sea, curve, bears, still, _why_no_curve(asked, found)),
        checks=checks,
        objections=_once(found.objections),
        open_questions=_once(found.questions, *(a.open_questions for a in answers)),
        advice=_once(*(a.advice for a in answers)),
        assumptions=_once(
            () if asked is None else asked.shape.assumptions,
            () if splash is None else splash.assumptions,
            found.assumptions,
            *(a.assumptions for a in answers),
        ),
        cautions=_once(
            () if splash is None else splash.cautions, *(a.cautions for a in answers), found.cautions
        ),
        refused=_once(found.refused),
        line_n_m=line_n_m(sea, inputs.slings_n_m),
        papers=inputs.papers,
        body=None if asked is None else asked.hook.body.few(_KEPT),
    )


def _once(*lists: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(line for lines in lists for line in lines))


def _unsaid(inputs: SeawayInputs, found: _Found) -> None:
    """Object to what the lift cannot be asked without, and note what is open."""
    sea = inputs.sea
    missing = [name for name, value in (("Hs", sea.hs_m), ("Tz", sea.tz_s)) if value is None]
    if missing:
        found.objections.append(f"the sea of the plan is not known: {' and '.join(missing)} missing in [seaway]")
    if sea.depth_m is None:
        found.objections.append("the depth of the water at the lift is not known: deep water taken")
    if inputs.papers is None:
        named = f'no papers of the vessel "{sea.vessel}" are known' if sea.vessel else "the vessel is not known"
        found.objections.append(f"{named}: no heel, no load chart, no limit of radius and wind")
    if sea.radius_m is None:
        found.objections.append("the radius of the boom head is not known: no vessel can be asked")
    if sea.hoist_m_s is None:
        found.questions.append("hoist speed not known: 0.5 m/s taken, the rule's value")
    if sea.line_n_m is not None and inputs.slings_n_m is None:
        found.questions.append(
            "stiffness of the slings not known: the hoist line alone is taken, which makes a snap greater; the load "
            "bobs slower than computed"
        )
    if inputs.slack_use is not inputs.hook_use:
        found.assumptions.append(
            "the mass is not settled: hook, load chart and heel take the greater of what it may be, slack line and "
            "snap the lesser"
        )
    if inputs.papers is not None:
        found.questions += [*inputs.papers.questions, *((inputs.papers.mark,) if inputs.papers.mark else ())]


def _questions(inputs: SeawayInputs, found: _Found) -> Questions | None:
    try:
        asked = seaway_questions(inputs)
    except OakumError as error:
        found.refuse(error)
        return None
    found.objections += [*asked.tip.objections, *asked.shape.objections]
    return asked


def _splash(asked: Questions, inputs: SeawayInputs, found: _Found) -> SimplifiedAnswer | None:
    """Return the plan's sea by the simplified method; None while sea or tip motion is not known."""
    sea = inputs.sea
    if sea.hs_m is None or sea.tz_s is None or asked.hook.tip is None:
        return None
    try:
        hook, slack = (simplified(_thin(q), sea.hs_m, sea.tz_s) for q in (asked.hook, asked.slack))
    except OakumError as error:
        found.refuse(error)
        return None
    answer = worse_answer(hook, slack)
    found.objections += answer.objections
    return answer


def _thin(asked: Question) -> Question:
    return replace(asked, body=asked.body.few(_DRAWS))


def _vessel(inputs: SeawayInputs, asked: Questions, found: _Found) -> Alongside | None:
    papers, radius = inputs.papers, inputs.sea.radius_m
    if papers is None or radius is None:
        return None
    try:
        return alongside(inputs, papers, papers.head(radius), asked.shape.water_kg_m3)
    except OakumError as error:
        found.refuse(error)
        return None


def _still(beside: Alongside | None, found: _Found) -> tuple[VesselAnswer, ...]:
    """Return the vessel in air without the forces of the sea, nothing where she cannot be computed."""
    if beside is None:
        return ()
    try:
        return (beside.answer("in air"),)
    except OakumError as error:
        found.refuse(error)
        return ()


def _bears(inputs: SeawayInputs, still: tuple[VesselAnswer, ...]) -> tuple[Bears, ...]:
    hook = () if inputs.hook_kg is None else (Bears(inputs.hook_kg, "the hook", "hook load over what it bears"),)
    return (*hook, *(vessel_bears(still[-1]) if still else ()))


def _curve(
    asked: Questions, inputs: SeawayInputs, bears: tuple[Bears, ...], found: _Found
) -> LimitCurve | None:
    """Return the limits by period; None, with the objection said already, where the tip motion is not known."""
    sea = inputs.sea
    if asked.hook.tip is None:
        return None
    try:
        curve = sea_curve(asked, curve_periods_s(asked, sea.periods_s, sea.tz_s), bears, inputs.points)
    except OakumError as error:
        found.refuse(error)
        return None
    found.assumptions.append(_CURVE)
    if not curve.points:
        found.objections.append("the simplified method holds at no mean period from 2 to 13 s: no limit is given")
    if inputs.hook_kg is None:
        found.objections.append("not known what the hook bears at this radius")
    return curve


def _why_no_curve(asked: Questions | None, found: _Found) -> str:
    tip = () if asked is None else asked.tip.objections
    return next(iter((*tip, *found.refused)), "")


def _added_kg(beside: Alongside, splash: SimplifiedAnswer | None) -> float:
    if splash is None or splash.hook_kg is None:
        return 0.0
    return max(splash.hook_kg - beside.p95_kg("in air"), 0.0)


def _checks(
    splash: SimplifiedAnswer | None, answers: tuple[VesselAnswer, ...], wind: Limit | None
) -> tuple[Check, ...]:
    blow = None if wind is None else wind_check(wind)
    return (
        *(() if splash is None else splash.checks),
        *(c for a in answers for c in a.checks),
        *(() if blow is None else (blow,)),
    )
