"""What would help a cradle most: each piece of advice is found by asking again with one thing changed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial

from oakum.lift.checks import Check
from oakum.lift.cradle.frame import Frame, Member
from oakum.lift.cradle.frame_answer import CradleAnswer
from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.cradle.report import CradleLoads, StrapsIn
from oakum.lift.cradle.report_parts import frame_part, greatest_bars_m
from oakum.lift.cradle.sections import rectangle
from oakum.lift.cradle.timber import TimberGrade

_MORE_M = (0.025, 0.05, 0.075, 0.1)
_STOUTER = tuple((0.0, d) for d in _MORE_M) + tuple((w, d) for w in _MORE_M[:2] for d in (0.0, *_MORE_M[:2]))
"""What is tried of width and depth, the deeper first: wider helps where a member presses across the grain."""


def advice(
    plan: CradlePlan,
    loads: CradleLoads,
    frame: CradleAnswer | None,
    straps: tuple[StrapsIn, ...],
    bearings: tuple[Check, ...],
) -> tuple[str, ...]:
    """Return what would take an objection away, in the order of the report."""
    found: list[str] = []
    if frame is not None:
        found += _stouter(plan, loads, frame)
    found += _more_straps(plan, straps)
    for check in bearings:
        if check.capacity is not None and check.demand > check.capacity:
            area = next(b.area_m2 for b in plan.bearings if check.key == f"bearing:{b.name}")
            needed = area * check.demand / check.capacity
            found.append(f"{check.title}: {_up(needed)} m² instead of {area:g} m² would keep the pressure allowed")
    if plan.tray is not None:
        most = greatest_bars_m(plan.tray, loads.water_kg_m3)
        spacing = plan.tray.spacing_m
        if most is not None and (spacing is None or spacing > most):
            found.append(
                f'"{plan.tray.find.name}": bars at most {math.floor(1000.0 * most):d} mm apart keep its sag and stress'
            )
    return tuple(found)


def _up(value: float) -> str:
    return f"{math.ceil(100.0 * value) / 100.0:g}"


def _more_straps(plan: CradlePlan, straps: tuple[StrapsIn, ...]) -> list[str]:
    if plan.straps is None:
        return []
    over = [s for s in straps if any(c.objection and c.capacity is not None for c in s.answer.checks)]
    needed = [s.answer.needed for s in over]
    if not over:
        return []
    if None in needed:
        return ["no number of straps keeps the pressure allowed: use a bed that bears all along it"]
    most = max(n for n in needed if n is not None)
    return [f"{most} straps instead of {plan.straps.count} would keep the pressure under the worst one allowed"]


def _over(answer: CradleAnswer) -> set[str]:
    """Return the names of members that bend and are used beyond what they bear."""
    return {m.name for s in answer.states for m in s.members if m.utilisation > 1.0 + 1e-9}


def _stouter(plan: CradlePlan, loads: CradleLoads, answer: CradleAnswer) -> list[str]:
    """Try stouter timber for every section of which a member is used too much, the others left as they are."""
    assert plan.frame is not None
    found = []
    over = _over(answer)
    hard = frozenset(s.key for s in answer.states if any(m.name in over for m in s.members if m.utilisation > 1.0))
    for words in dict.fromkeys(m.section.words for m in plan.frame.members if m.name in over):
        same = [m.name for m in plan.frame.members if m.section.words == words]
        for wider, deeper in _STOUTER:
            tried = _changed(plan.frame, same, partial(_grown, wider_m=wider, deeper_m=deeper))
            if tried is None:
                break
            again = frame_part(replace(plan, frame=tried), loads, [], hard)
            if again is not None and not _over(again) & set(same):
                now = tried.member(same[0]).section.words
                found.append(f"{now} instead of {words} ({', '.join(same)}) would bear it")
                break
    return found


def _changed(frame: Frame, names: list[str], change: Callable[[Member], Member | None]) -> Frame | None:
    """Return the frame with some members changed; None where one of them cannot be."""
    made = []
    for member in frame.members:
        one = change(member) if member.name in names else member
        if one is None:
            return None
        made.append(one)
    return replace(frame, members=tuple(made))


def _grown(member: Member, wider_m: float, deeper_m: float) -> Member | None:
    """Return a timber member that is wider or deeper, its axis left where it is."""
    section = member.section
    if section.kind != "solid" or not isinstance(member.material, TimberGrade):
        return None
    return replace(member, section=rectangle(section.width_m + wider_m, section.depth_m + deeper_m))
