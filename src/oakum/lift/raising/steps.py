"""The steps of this lift, in order, built from its rig; minutes only where typed or learnt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from oakum.ground.estimate import Spread, spread_of
from oakum.lift.raising.minutes import minutes_of
from oakum.lift.raising.plan import Step, TrialLift
from oakum.lift.raising.rig_plan import RigPlan, RigStep
from oakum.lift.raising.roles import (
    BAGS,
    CELL,
    CONSERVATOR,
    DECK,
    DIVE_LEADER,
    HOIST,
    LEADER,
    SLINGER,
    roles_needed,
)
from oakum.lift.raising.trial import HEIGHT_M, HOLD_S, trial_words
from oakum.lift.weights.weighing import Weighing

LONGEST_MIN = 120.0
"""Nobody hangs a load on a hook longer than this to drain it (practice, no source)."""

STOPPED = "stop; lower to the bed or the last depth where it hung still; the lift leader decides"


@dataclass(frozen=True, slots=True)
class Draining:
    """How long trapped water takes to run out: `minutes` computed, None where nothing says how it runs out."""

    minutes: Spread | None
    words: str


def draining(weighing: Weighing) -> Draining:
    """Return how long the body hangs to drain, from its own holes and floors; water without a way out stays."""
    waters = [w for w in weighing.sums.waters if float(np.max(w.clear_kg)) > 0.0]
    if not waters:
        return Draining(None, "it holds no water that would run out; let it drip")
    running = [w for w in waters if w.rate is not None and float(np.max(w.head_m)) > 0.0]
    kept = [f'"{w.term.name}"' for w in waters if w not in running]
    stays = f"; {', '.join(kept)} keeps its water until it is let out" if kept else ""
    if not running:
        return Draining(None, f"no opening lets its water out{stays}")
    full = weighing.sums.drawn.full
    times = np.max([full(w.empty_s()) for w in running], axis=0)
    spread = spread_of(times / 60.0, "min", weighing.use.weights)
    if spread.p95 > LONGEST_MIN:
        return Draining(None, f"it may not run out within {LONGEST_MIN:g} min: open more{stays}")
    return Draining(spread, f"runs out in: {spread.words()}{stays}")


def build_steps(
    rig: RigPlan,
    weighing: Weighing,
    trial: TrialLift | None,
    learnt: Mapping[str, Spread],
    *,
    relief: str = "",
    sea: str = "",
) -> tuple[Step, ...]:
    """Return the steps with the rig file's words and minutes put in, numbered from 1.

    `learnt` are minutes of earlier lifts, by key; what the rig file says goes before them. `relief` is what
    the load cell shows with relieving bags full, `sea` what the sea may be at the crossing, in words.
    """
    drained = draining(weighing)
    made = _before(rig, trial) + _up(rig, relief) + _through(rig, drained, sea)
    said = {step.key: step for step in rig.work.steps}
    steps = [_said(step, said.get(step.key), learnt) for step in made]
    keys = {step.key for step in steps}
    for own in rig.work.steps:
        if own.after:
            at = next((i for i, step in enumerate(steps) if step.key == own.after), None)
            new = _said(
                Step(
                    0,
                    own.title,
                    own.action,
                    own.role,
                    None,
                    own.watch,
                    own.abort,
                    own.divers or "either",
                    own.key,
                ),
                own,
                learnt,
            )
            steps.insert(len(steps) if at is None else at + 1, new)
            keys.add(own.key)
    return tuple(replace(step, number=i) for i, step in enumerate(steps, 1))


def steps_left_out(rig: RigPlan, steps: tuple[Step, ...]) -> tuple[str, ...]:
    """Return what the rig file says of steps that this lift does not have."""
    keys = {step.key for step in steps}
    return tuple(
        f'the rig file speaks of the step "{step.key}", which this lift does not have'
        for step in rig.work.steps
        if step.key not in keys
    )


def _step(
    key: str,
    title: str,
    action: str,
    role: str,
    watch: str = "",
    abort: str = "",
    divers: Literal["in", "out", "either"] = "either",
    minutes: Spread | None = None,
) -> Step:
    return Step(0, title, action, role, minutes, watch, abort, divers, key)


def _before(rig: RigPlan, trial: TrialLift | None) -> list[Step]:
    made = [
        _step(
            "brief",
            "Brief",
            "Read the plan aloud; everybody says their role, the stop signal, what they do when the load falls "
            "back or the line goes slack.",
            LEADER,
            "everybody has their card; who dives is named",
            "a role that is not filled stops the lift",
            "out",
        ),
        _step(
            "check gear",
            "Check gear",
            "Read every tag against the list; look at every sling, shackle, strop and crown fitting.",
            LEADER,
            "key, WLL, dates; cuts, kinks, open mousings",
            "a piece without its tag or with damage is laid aside and the plan is made again",
            "out",
        ),
    ]
    for name in [t.name for t in rig.turning] + [r.name for r in rig.rolling]:
        made.append(
            _step(
                "turn",
                f"Turn: {name}",
                "As drawn: pull slowly, stop at the balance, let it come over on what holds it.",
                DIVE_LEADER,
                "the angle at which it goes by itself; the edge sliding",
                "let the pull go slack on its side of the balance",
                "in",
            )
        )
    return made + _slung(rig, trial)


def _slung(rig: RigPlan, trial: TrialLift | None) -> list[Step]:
    height, hold = rig.work.trial_height_m or HEIGHT_M, (rig.work.trial_hold_s or HOLD_S) / 60.0
    plain = f"Lift {height[0]:g} to {height[1]:g} m and hang {hold:g} min"
    band = trial_words(trial) if trial is not None else "no band: hook or unit of the load cell not known"
    made = [
        _step(
            "sling",
            "Sling",
            "Dig and undercut until nothing holds; gear as drawn, soft edges, no steel on the object; taglines.",
            SLINGER,
            "each leg and strop on its point, none twisted, shackle pins moused",
            "anything that does not fit the drawing: up, and tell",
            "in",
        )
    ]
    if rig.hook is not None:
        made.append(
            _step(
                "weigh",
                "Weigh under water",
                "Bags empty; take the weight until it just hangs free; read the load cell at rest.",
                CELL,
                band,
                "outside the band: down again, find out why",
                "in",
            )
        )
    return [
        *made,
        _step(
            "trim",
            "Trim",
            "Set down; change legs or bags until it hangs level.",
            SLINGER,
            _tilt(rig),
            "more tilt than that: down again",
            "in",
        ),
        _step(
            "trial",
            "Trial lift",
            f"Lift and hang: {band}." if trial is not None else f"{plain}; {band}.",
            LEADER,
            "reading steady; tilt; cracks; crust or parts dropping; bags empty where a hook lifts",
            STOPPED,
            "in",
        ),
        _step(
            "set down again",
            "Set-down point",
            f"Set it down where it may come back to: {rig.work.set_down or 'not known'}.",
            LEADER,
            "it stands level there and nothing is under it",
            "no such place, no lift",
            "in",
        ),
    ]


def _tilt(rig: RigPlan) -> str:
    limit = None if rig.hook is None else rig.hook.tilt_limit_deg
    return "level to the eye" if limit is None else f"no more than {limit:g}° out of level"


def _up(rig: RigPlan, relief: str) -> list[Step]:
    made = []
    relieves = rig.bags is not None and rig.bags.used_for == "relieve"
    if rig.bags is not None:
        until = "the last one trims. Stop when it lifts."
        if relieves:
            until = "the hook holds the load all the time. Stop when the load cell shows what it is to keep."
        order = ", ".join(f'"{bag.name}"' for bag in rig.bags.bags)
        made.append(
            _step(
                "fill bags",
                "Fill the bags",
                f"One after the other: {order}; {until}",
                BAGS,
                relief or "every bag straight, nothing under a line, dump lines free",
                "vent the last bag; a bag that fouls is emptied",
                "in",
            )
        )
    depth = rig.work.pause_depth_m
    pause = "not known" if depth is None else f"{depth:g} m"
    rise = None if rig.bags is None else rig.bags.rise_m_s
    speed = "" if rise is None else f" at {rise:g} m/s, venting"
    made += [
        _step(
            "ascend",
            "Ascend",
            f"Up to the pause{speed}; divers beside and below its level, up-current, never over or under it.",
            LEADER,
            "depth called every metre; reading in the band",
            STOPPED,
            "in",
        ),
        _step(
            "pause",
            "Pause below the surface",
            f"Stop at {pause} under the surface and look: legs, tilt, load, sea.",
            LEADER,
            "swell, tilt, reading steady for a minute",
            "sea or reading not as planned: back down to the set-down point",
            "in",
        ),
    ]
    if rig.bags is not None and rig.hook is not None:
        made.append(
            _step(
                "take over",
                "Hook takes all",
                "The hook takes from the bags what they carry, bag by bag; every bag vented empty.",
                HOIST,
                "reading rises to the band under water; every bag slack",
                "line slack again or reading out of the band: stop, vent, lower",
                "in",
            )
        )
    return made


def _through(rig: RigPlan, drained: Draining, sea: str) -> list[Step]:
    wet = ", ".join(role.role for role in roles_needed(rig) if role.in_water is not False)
    reception = rig.work.reception or "not known"
    end = [
        _step(
            "divers out",
            "Divers out",
            f"Everybody out of the water and counted aloud: {wet}.",
            DIVE_LEADER,
            "number out equals number in; nobody in the water within reach of the load",
            "one missing: nothing moves",
            "out",
        )
    ]
    if rig.hook is None:
        return [*end, _wet(reception)]
    return [
        *end,
        _step(
            "through the surface",
            "Through the surface",
            "One steady hoist, without a stop between the water and clear of it; taglines held.",
            HOIST,
            f"hook load against height; slack line; pendulum{'; ' + sea if sea else ''}",
            "before the top breaks the surface: lower to the pause; after it: go on, never stop half out",
            "out",
        ),
        _step(
            "drain",
            "Hang and drain",
            "Hang just clear until the water has run out; nobody under it; keep it sprayed.",
            CONSERVATOR,
            f"{drained.words}; nothing washing out of it",
            "pieces or fill washing out: down into a tank or back under water",
            "out",
            drained.minutes,
        ),
        _step(
            "land",
            "Set down on the cradle",
            "Down onto the level cradle, wetted and padded; slack off when the conservator says so.",
            DECK,
            "cradle level, every bed bearing, no leg crushing an edge",
            "it does not sit: up a hand's breadth and again",
            "out",
        ),
        _wet(reception),
    ]


def _wet(reception: str) -> Step:
    return _step(
        "wet store",
        "Into the wet",
        f"Covered, sprayed, into its wet reception: {reception}.",
        CONSERVATOR,
        "never dry, not even for the photograph",
        "",
        "out",
    )


def _said(step: Step, own: RigStep | None, learnt: Mapping[str, Spread]) -> Step:
    """Return a step with the rig file's words in it, and its minutes: typed, else learnt, else computed."""
    minutes = learnt.get(step.key, step.minutes)
    if own is None:
        return replace(step, minutes=minutes)
    return replace(
        step,
        title=own.title or step.title,
        action=own.action or step.action,
        role=own.role or step.role,
        watch=own.watch or step.watch,
        abort=own.abort or step.abort,
        divers=own.divers or step.divers,
        minutes=minutes_of(own.minutes) if own.minutes is not None else minutes,
    )
