"""Sentences of a lift plan that deck sheet, cards, file and terminal share."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import replace

from oakum.draw.forces import in_unit, load_words, reading, unit_words
from oakum.draw.hook_load import trial_figure
from oakum.draw.rows import figure
from oakum.draw.utilisation import percent_words
from oakum.ground.estimate import Spread
from oakum.lift.raising.afterwards import rigging_kg
from oakum.lift.raising.plan import Help, RaisingPlan, RoleHeld, Stage, Step, TrialLift
from oakum.lift.raising.roles import NO_COMPETENCE
from oakum.lift.slings import SlingAnswer
from oakum.report import phrases

NOT_KNOWN = "not known"
STAGES: Mapping[Stage, str] = {
    "draft": "draft: not briefed, not released",
    "briefed": "briefed, not released",
    "released": "released",
    "done": "done",
    "abandoned": "abandoned",
}
NEVER = (
    "under the load, or over it in the water",
    "between the load and anything it can swing against",
    "in the line of a sling, a tagline or a hoist rope under load",
    "with a hand between sling and load",
)
"""Where nobody must be (practice, no source)."""


def verdict_lines(plan: RaisingPlan) -> tuple[str, ...]:
    """Return the verdict, an objection a line."""
    if plan.objections:
        return tuple(f"objection: {_bare(words)}" for words in plan.objections)
    return (plan.verdict,)


def stage_words(plan: RaisingPlan) -> str:
    """Say which state the plan is in, and why an earlier release no longer holds."""
    said = STAGES[plan.stage]
    return f"{said}; an earlier release no longer holds: {plan.withdrawn}" if plan.withdrawn else said


def headline(plan: RaisingPlan) -> str:
    """Write number and title."""
    return f"{plan.number}  {plan.title}" if plan.number else plan.title


def short_title(plan: RaisingPlan, most: int = 60) -> str:
    """Write number and title in at most `most` characters."""
    return textwrap.shorten(headline(plan), most, placeholder=" \u2026")


def name_of(person: str | None, names: Mapping[str, str]) -> str:
    """Return the name of a person, the id where none is given, empty where nobody is named."""
    return "" if person is None else names.get(person, person)


def hook_lines(plan: RaisingPlan) -> tuple[tuple[str, str], ...]:
    """Return (state, range) of the hook load under water and in air, as the load cell reads it.

    The range is P5 to P95: what the crew sees nine times in ten.
    """
    found = []
    for state, answer, key in (
        ("under water", plan.under_water, "submerged"),
        ("in air", plan.in_air, "clear"),
    ):
        found.append((state, range_words(hook_load_kg(plan, answer, key), plan.cell_unit)))
    return tuple(found)


def hook_load_kg(plan: RaisingPlan, answer: SlingAnswer | None, state: str) -> Spread:
    """Return the hook load of a state: that of the slings, else that of the weighing with the rigging."""
    if answer is not None:
        return in_unit(answer.hook_load_n, "kg")
    load, more = plan.weight.state(state).load_kg, rigging_kg(plan)
    return replace(load, p5=load.p5 + more, best=load.best + more, p95=load.p95 + more, mean=load.mean + more)


def range_words(load_kg: Spread, unit: str) -> str:
    """Write a range of loads: "433 to 558 kg"."""
    low, high = reading(load_kg.p5, unit), reading(load_kg.p95, unit)
    return f"{high} {unit_words(unit)}" if low == high else f"{low} to {high} {unit_words(unit)}"


def height_words(trial: TrialLift) -> str:
    """Write how high the trial lift goes."""
    low, high = trial.height_m
    return f"{low:g} m" if low == high else f"{low:g} to {high:g} m"


def trial_expected(trial: TrialLift) -> str:
    """Write the band of the trial lift in the cell's unit."""
    return f"{trial_figure(trial.low)} to {trial_figure(trial.high)} {trial.unit}"


def trial_sentence(trial: TrialLift | None) -> str:
    """Say the trial lift in one sentence."""
    if trial is None:
        return "No trial lift is planned: the unit of the load cell or the hook is not known."
    return (
        f"Trial lift {height_words(trial)}: expect {trial_expected(trial)}, hold {trial.hold_min:g} min; "
        f"{trial.above}; {trial.below}."
    )


def minutes_short(minutes: Spread | None) -> str:
    """Write planned minutes for a line of the deck: "12 min", or that they are not known."""
    return "min not known" if minutes is None else f"{max(1, round(minutes.best))} min"


def minutes_words(minutes: Spread | None) -> str:
    """Write planned minutes with their range."""
    if minutes is None:
        return NOT_KNOWN
    low, best, high = (f"{v:,.0f}" for v in (minutes.p5, minutes.best, minutes.p95))
    return f"{best} min" if low == high else f"{best} min ({low} to {high})"


def total_words(plan: RaisingPlan) -> str:
    """Say how long the whole lift takes."""
    total = plan.minutes
    if total is None:
        known = [s for s in plan.steps if s.minutes is not None]
        open_ = [str(s.number) for s in plan.steps if s.minutes is None]
        if not known:
            return "Time of the whole lift not known: no step has minutes."
        return f"Time of the whole lift not known: no minutes for step {', '.join(open_)}."
    return f"Whole lift: {minutes_words(total)}."


def divers_words(step: Step) -> str:
    """Say where the divers are during a step; empty where it does not matter."""
    return {"in": "divers in", "out": "DIVERS OUT", "either": ""}[step.divers]


def governing_words(plan: RaisingPlan) -> str:
    """Name the governing check."""
    check = plan.governing
    return "Nothing was checked." if check is None else f"Governs: {check.title}, {percent_words(check)}."


def help_words(item: Help) -> tuple[str, str]:
    """Return what a help gains, or why it could not be solved, and what it costs the object."""
    if item.refused:
        return f"{item.measure}, {_measure(item.before, item.unit)} now: could not be solved: {item.refused}", item.cost
    gain = f"{item.measure}: {_measure(item.before, item.unit)} becomes {_measure(item.after, item.unit)}"
    if item.gain is not None and item.gain <= 0.0 and not item.removes:
        gain += ": no help here"
    if item.removes:
        gain += f"; takes away: {'; '.join(item.removes)}"
    return gain, item.cost


def role_state(role: RoleHeld) -> str:
    """Say whether a role is confirmed, and until when its competences hold."""
    confirmed = {True: "confirmed", False: "declined", None: "not confirmed"}[role.confirmed]
    until = f"competences until {role.holds_until}" if role.holds_until else "competences: end not known"
    return confirmed if role.needs in ((), (NO_COMPETENCE,)) else f"{confirmed}; {until}"


def water_words(role: RoleHeld, steps: Sequence[Step]) -> str:
    """Say when the holder of a role may be in the water."""
    first = next(
        (s for s in steps if s.divers == "out" and any(t.divers == "in" for t in steps[: steps.index(s)])),
        None,
    )
    until = (
        f' from step {first.number}, "{first.title}", on'
        if first is not None
        else " when the load crosses the surface"
    )
    if role.in_water is False:
        return "in the water at any time during the lift"
    if role.in_water is True:
        return f"in the water{until}"
    return f"in the water{until}; whether you dive at all is not known: ask before you begin"


def fingerprint_words(plan: RaisingPlan) -> str:
    """Say what the plan rests on."""
    return f"Fingerprint of mass, rig and gear: {plan.fingerprint}. Oakum {plan.version}."


def origin_words(plan: RaisingPlan) -> str:
    """Say what the figures rest on, so that they can be computed again."""
    return f"{phrases.origin_words(plan.weight)} {fingerprint_words(plan)}"


def wll_words(wll_kg: float | None, text: str, unit: str) -> str:
    """Write a WLL as on the tag, with its value in the plan's unit."""
    if wll_kg is None:
        return f"{text} (not read as a mass)" if text else NOT_KNOWN
    value = load_words(wll_kg, unit)
    return value if not text or text == value else f"{text} ({value})"


def _measure(value: float | None, unit: str) -> str:
    if value is None:
        return NOT_KNOWN
    if unit in ("1", "%"):
        return f"{100 * value if unit == '1' else value:,.0f} %"
    shown = figure(value) if value else "0"
    return f"{shown}{'' if unit in ('deg', '°') else ' '}{'°' if unit == 'deg' else unit}".rstrip()


def _bare(words: str) -> str:
    return words.removeprefix("objection: ").rstrip(".")
