"""A card for each role of the lift, A5 for waterproof film: what you do, watch, stop for, and where you must not be.

Black only, words of at least 14 points, names and step numbers of at least 20, boxes at least 12 mm.
"""

from __future__ import annotations

import datetime
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from oakum.lift.raising.plan import RaisingPlan, RoleHeld, Step
from oakum.report import phrases
from oakum.report import plan_phrases as say
from oakum.report.deck_sheet import DEMO
from oakum.report.pdf import SheetError, compile_pdf


def role_cards_pdf(
    plan: RaisingPlan,
    *,
    date: datetime.date,
    names: Mapping[str, str],
    roles: Sequence[str] | None = None,
    demo: bool = False,
) -> bytes:
    """Return a card a role, each beginning on a page of its own, `roles` of the plan or all of them.

    `names` are people by id; without a name the card has a line to write it on. Raises `SheetError` where the
    plan has no roles, or none of the name asked for.
    """
    known = card_roles(plan)
    if not known:
        raise SheetError("there are no cards to print: name who does what in the lift first")
    wanted = known if roles is None else tuple(r for r in known if r.role in roles)
    if not wanted:
        raise SheetError(f"no such role; this plan has: {', '.join(r.role for r in known)}")
    data = {
        "title": say.short_title(plan, 46),
        "cards": [_card(plan, role, names) for role in wanted],
        "stage": say.STAGES[plan.stage],
        "governs": phrases.PLANNING_SUPPORT,
        "demo": DEMO if demo else "",
    }
    return compile_pdf("role_card", data, date=date)


def card_roles(plan: RaisingPlan) -> tuple[RoleHeld, ...]:
    """Return the roles of the plan, and those that only its steps or its go/no-go list name."""
    found = {role.role.casefold(): role for role in plan.roles}
    asked = [s.role for s in plan.steps] + [line.by for line in plan.go_no_go]
    for name in asked:
        if name.strip() and name.casefold() not in found:
            missing = RoleHeld(name, "", None, objection=f"{name}: nobody is named")
            found[name.casefold()] = missing
    return tuple(found.values())


def _card(plan: RaisingPlan, role: RoleHeld, names: Mapping[str, str]) -> dict[str, Any]:
    mine = role.role.casefold()
    return {
        "role": role.role,
        "name": say.name_of(role.person, names),
        "duty": role.duty,
        "objection": role.objection or "",
        "steps": [_step(s) for s in plan.steps if s.role.casefold() == mine],
        "never": [say.water_words(role, plan.steps), *say.NEVER],
        "go": [
            {"words": line.words, "now": _now(line.answer, line.why)}
            for line in plan.go_no_go
            if line.by.casefold() == mine
        ],
    }


def _step(step: Step) -> dict[str, str]:
    minutes = "" if step.minutes is None else say.minutes_short(step.minutes)
    return {
        "number": str(step.number),
        "title": step.title,
        "action": step.action,
        "watch": step.watch,
        "abort": step.abort,
        "minutes": ", ".join(filter(None, (minutes, say.divers_words(step)))),
    }


def _now(answer: str, why: str) -> str:
    """Say how a line stands in the plan; what is read on the day stands at nothing yet."""
    if answer == "on the day":
        return ""
    short = textwrap.shorten(why, 90, placeholder=" \u2026")
    return f"in the plan: {answer}" + (f" ({short})" if short else "")
