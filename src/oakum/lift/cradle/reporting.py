"""From a cradle and the find's weight to the report: every part asked, what could not be said with why."""

from __future__ import annotations

from dataclasses import dataclass, field

from oakum.ground.estimate import spread_of
from oakum.lift.checks import Check
from oakum.lift.cradle import rules
from oakum.lift.cradle.advice import advice
from oakum.lift.cradle.frame_answer import CradleAnswer
from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.cradle.report import CradleLoads, CradleReport
from oakum.lift.cradle.report_parts import (
    Refused,
    bearing_part,
    frame_checks,
    frame_part,
    pads_part,
    straps_part,
    tray_part,
)


@dataclass(slots=True)
class _Said:
    objections: list[str] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)
    refused: Refused = field(default_factory=list)


def cradle_report(plan: CradlePlan, loads: CradleLoads) -> CradleReport:
    """Return what a cradle bears under its find, in every state that is described.

    A part that cannot be answered is refused with its reason, which is an objection; the rest is answered.
    """
    said = _Said()
    frame = frame_part(plan, loads, said.refused)
    _frame_said(plan, frame, said)
    straps = straps_part(plan, loads, said.refused)
    bearings = bearing_part(plan, loads, said.objections, said.questions)
    pads = pads_part(plan, loads, said.objections, said.refused)
    tray = tray_part(plan.tray, loads.water_kg_m3, said.refused)
    checks = [] if frame is None else frame_checks(frame)
    checks += [c for s in straps for c in s.answer.checks]
    checks += bearings
    if tray is not None:
        checks += tray.checks
        said.objections += tray.objections
    said.objections += [o for s in straps for o in s.answer.objections]
    said.objections += [c.objection for c in bearings if c.objection is not None]
    said.objections += [f"{part}: {why}" for part, why in said.refused]
    if plan.mark:
        said.questions.append(f"the cradle is marked: {plan.mark}")
    answers = [a for a in (frame, tray, *(s.answer for s in straps)) if a is not None]
    assumptions = [a for one in answers for a in one.assumptions]
    assumptions += [a for p in pads if p.depth is not None for a in p.depth.assumptions]
    return CradleReport(
        plan=plan,
        frame=frame,
        straps=straps,
        pads=pads,
        bearings=bearings,
        tray=tray,
        checks=tuple(sorted(checks, key=_hardest)),
        objections=tuple(dict.fromkeys(said.objections)),
        open_questions=tuple(dict.fromkeys(said.questions)),
        assumptions=tuple(dict.fromkeys(assumptions)),
        cautions=tuple(dict.fromkeys([*rules.CAUTIONS, *(c for one in answers for c in one.cautions)])),
        refused=tuple(said.refused),
        advice=advice(plan, loads, frame, straps, bearings),
        water_n=spread_of(loads.water_n, "N", loads.weights),
        air_n=spread_of(loads.air_n, "N", loads.weights),
    )


def _hardest(check: Check) -> tuple[bool, float]:
    return check.utilisation is None, -(check.utilisation or 0.0)


def _frame_said(plan: CradlePlan, frame: CradleAnswer | None, said: _Said) -> None:
    """Note the frame's objections, and the states that nobody described."""
    if plan.frame is None:
        return
    said.objections += [] if frame is None else list(frame.objections)
    tub = plan.tray is not None and plan.tray.comes_out == "in a tub of water"
    for key, words in (("in water", "hanging under water"), ("clear", "hanging clear of the water")):
        if key == "clear" and tub:
            continue
        if plan.state(key) is None:  # type: ignore[arg-type]
            said.objections.append(f'the frame {words} is not described: write a [[state]] "{key}"')
    for key in ("on deck", "on lorry"):
        if plan.state(key) is None and not tub:  # type: ignore[arg-type]
            said.questions.append(f'how the frame stands {key} is not described: a [[state]] "{key}"')
