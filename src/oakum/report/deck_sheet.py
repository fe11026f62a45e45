"""The deck sheet: one A4 page for waterproof film with what is done on deck, in order, and what stops it.

Where the sea of the lift is described, its back says in which sea to begin: for the skipper, in large type.
Black only, words of at least 14 points, numbers read against an instrument of at least 20, boxes at least
12 mm. What is done under water stands in its place as a line without a box; its steps are on the divers'
cards. A plan that does not fit is set closer: the abort points collected below the steps, then two columns;
one that still does not fit is refused.
"""

from __future__ import annotations

import datetime
import textwrap
from collections.abc import Sequence
from itertools import groupby
from typing import Any

from oakum.lift.raising.plan import RaisingPlan, Step
from oakum.report import phrases
from oakum.report import plan_phrases as say
from oakum.report.deck_back import back_data
from oakum.report.pdf import SheetError, compile_pdf
from oakum.report.plan_sea import crossing_range

DEMO = "Invented figures: practice only."
_TOO_LONG = "the deck sheet is longer than one page"
_LONG_TITLE = 42
_LONG_ABORT = 70


def deck_sheet_pdf(plan: RaisingPlan, *, date: datetime.date, demo: bool = False) -> bytes:
    """Return the deck sheet: one A4 page, and a back where the sea is described. `date` is that of the print.

    Raises `SheetError` where there are no steps, or where they do not fit on one page: the text then says
    what to shorten.
    """
    if not plan.steps:
        raise SheetError(
            "a deck sheet needs steps: describe hook or bags in the rig file, the plan makes them"
        )
    try:
        return compile_pdf("deck_sheet", deck_data(plan, demo=demo), date=date)
    except SheetError as error:
        if _TOO_LONG not in str(error):
            raise
        over = str(error).rpartition(" by ")[2]
        raise SheetError(_what_to_shorten(plan, over)) from error


def deck_data(plan: RaisingPlan, *, demo: bool = False) -> dict[str, Any]:
    """Return everything the deck sheet says, in the order it is set."""
    return {
        "number": plan.number,
        "title": textwrap.shorten(plan.title, 60, placeholder=" \u2026"),
        "stage": say.STAGES[plan.stage],
        "withdrawn": f"release withdrawn: {plan.withdrawn}" if plan.withdrawn else "",
        "objections": [textwrap.shorten(o, 120, placeholder=" \u2026") for o in plan.objections],
        "verdict": plan.verdict if not plan.objections else "",
        "hook": [list(line) for line in say.hook_lines(plan)],
        "trial": _trial(plan),
        "crossing": list(crossing_range(plan) or ()),
        "sea": back_data(plan),
        "steps": _lines(plan),
        "stops": [{"steps": numbers, "words": words} for numbers, words in _stops(deck_steps(plan))],
        "total": say.total_words(plan),
        "governs": phrases.PLANNING_SUPPORT,
        "demo": DEMO if demo else "",
    }


def deck_steps(plan: RaisingPlan) -> tuple[Step, ...]:
    """Return the steps done on deck: all but those of roles that are in the water."""
    wet = {role.role.casefold() for role in plan.roles if role.in_water is True}
    return tuple(s for s in plan.steps if s.role.casefold() not in wet)


def _trial(plan: RaisingPlan) -> dict[str, str] | None:
    trial = plan.trial
    if trial is None:
        return None
    return {
        "height": say.height_words(trial),
        "expect": say.trial_expected(trial),
        "hold": f"{trial.hold_min:g} min",
        "above": trial.above,
        "below": trial.below,
    }


def _lines(plan: RaisingPlan) -> list[dict[str, Any]]:
    """Return a line a step on deck, and one for each run of steps under water."""
    on_deck = {s.number for s in deck_steps(plan)}
    found: list[dict[str, Any]] = []
    for is_deck, run in groupby(plan.steps, key=lambda s: s.number in on_deck):
        steps = list(run)
        if is_deck:
            found += [_line(s) for s in steps]
            continue
        numbers = _run_words([s.number for s in steps])
        said = "; ".join(f"{s.title} ({s.role})" for s in steps)
        found.append(
            {
                "deck": False,
                "number": numbers,
                "title": f"under water: {said}",
                "divers": say.divers_words(steps[0]),
            }
        )
    return found


def _line(step: Step) -> dict[str, Any]:
    return {
        "deck": True,
        "number": str(step.number),
        "title": step.title,
        "who": step.role or "nobody named",
        "minutes": "" if step.minutes is None else say.minutes_short(step.minutes),
        "divers": say.divers_words(step),
        "abort": step.abort,
    }


def _stops(steps: Sequence[Step]) -> list[tuple[str, str]]:
    """Return every abort point once, with the numbers of its steps."""
    found: dict[str, list[int]] = {}
    for step in steps:
        if step.abort:
            found.setdefault(step.abort, []).append(step.number)
    return [(_run_words(numbers), words) for words, numbers in found.items()]


def _run_words(numbers: Sequence[int]) -> str:
    """Write step numbers: "4", "4, 6", "4 to 7"."""
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]} to {numbers[-1]}"
    return ", ".join(str(n) for n in numbers)


def _what_to_shorten(plan: RaisingPlan, over: str) -> str:
    steps = deck_steps(plan)
    titles = [s.number for s in steps if len(s.title) > _LONG_TITLE]
    aborts = [s.number for s in steps if len(s.abort) > _LONG_ABORT]
    said = [f"the deck sheet must fit on one page, and its {len(steps)} steps are {over} too long"]
    if titles:
        said.append(f"shorten the titles of steps {_run_words(titles)} to {_LONG_TITLE} characters")
    if aborts:
        said.append(f"shorten the abort points of steps {_run_words(aborts)} to {_LONG_ABORT} characters")
    if not titles and not aborts:
        said.append("join steps that one role does one after the other, or plan them as two lifts")
    return "; ".join(said)
