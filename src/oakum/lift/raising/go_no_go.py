"""The go/no-go list: what must hold, how it stands now, and who answers it.

After LOLER 1998, regulations 4 to 10, and the Diving at Work Regulations 1997 with their code for scientific and
archaeological diving (memory, verify); wording and order are practice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from oakum.lift.checks import Check
from oakum.lift.cradle.report import CradleReport
from oakum.lift.raising.go_at_sea import lines_at_sea
from oakum.lift.raising.plan import Answer, GearItem, GoLine, Hazard, RoleHeld, Step
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.raising.roles import CELL, CONSERVATOR, DIVE_LEADER, HOIST, LEADER
from oakum.lift.seaway import SeawayAnswer
from oakum.lift.weights.report import WeightReport


@dataclass(frozen=True, slots=True)
class Standing:
    """What the list is read from."""

    rig: RigPlan
    weight: WeightReport
    checks: Sequence[Check]
    refused: Mapping[str, Sequence[str]]  # what could not be computed, by line
    gear: Sequence[GearItem]
    roles: Sequence[RoleHeld]
    hazards: Sequence[Hazard]
    in_situ: str | None
    steps: Sequence[Step]
    blocked_by: Sequence[str]
    seaway: SeawayAnswer | None = None
    cradle: CradleReport | None = None


NOT_COVERED = (
    "Mooring and holding of the vessel, her deck and the foundation of crane or derrick under the load.",
    "Current: its pull on the load, its lines and the divers.",
    "Swing of the load in the air as the vessel moves, and what it may strike.",
    "Waves from two directions at once, and the vessel's shelter or reflection of them.",
    "How the object itself bears its own weight: cracks, joints and crust are judged by the conservator.",
)
"""What a lift meets and no number of this plan answers."""


def go_no_go(s: Standing) -> tuple[GoLine, ...]:
    """Return the list, in the order it is read out."""
    return (*_computed(s), *lines_at_sea(s.seaway, s.cradle), *_answered(s), *_on_the_day(s))


def _line(key: str, words: str, answer: Answer, by: str, why: str = "") -> GoLine:
    return GoLine(key, words, answer, by, why)


def _computed(s: Standing) -> list[GoLine]:
    def stands(key: str, which: Callable[[Check], bool]) -> tuple[Answer, str]:
        found = [c for c in s.checks if which(c)]
        broken = [c.objection for c in found if c.objection]
        over = [c for c in found if c.objection and c.utilisation is not None]
        if over:
            return "not met", broken[0] or ""
        refused = s.refused.get(key, ())
        if refused:
            return "not known", refused[0]
        if broken or not found:
            return "not known", broken[0] if broken and broken[0] else "nothing could be checked"
        return "met", ""

    lines = []
    has_hook = s.rig.hook is not None
    if has_hook:
        answer, why = stands("hook", lambda c: c.key in _HOOK)
        lines.append(_line("hook", "hook load within what hook, runner and hoist bear", answer, HOIST, why))
        answer, why = stands("legs", lambda c: c.key.partition(":")[0] in _HANGING)
        lines.append(
            _line(
                "legs",
                "every leg, shackle, eye and ring within its rating, on the chosen rule",
                answer,
                LEADER,
                why,
            )
        )
    if s.rig.bags is not None:
        answer, why = stands("bags", lambda c: c.key.startswith(_BAGS))
        words = "bags, strops, crown lines, valves and air within their limits"
        lines.append(_line("bags", words, answer, LEADER, why))
    if s.rig.turning or s.rig.rolling:
        answer, why = stands("turning", lambda c: c.key.startswith("turning:"))
        lines.append(
            _line("turning", "every pull, hold and edge of the turning within its limit", answer, LEADER, why)
        )
    weighed = s.weight.conditioning is not None
    lines.append(
        _line(
            "weighed",
            "weighed under water with a load cell",
            "met" if weighed else "on the day",
            CELL,
            "" if weighed else "no usable reading yet: it is weighed before the trial lift",
        )
    )
    return lines


_HOOK = ("hook", "hook-behind", "bag-relief-lost")
_HANGING = ("sling", "shackle", "eye", "angle", "tilt", "top", "spreader")
_BAGS = ("bag-", "strop-", "eye-", "crown-", "valve-")


def _answered(s: Standing) -> list[GoLine]:
    leader = next((r for r in s.roles if r.role == LEADER), None)
    rig = s.rig
    missing = [
        step.title
        for step in s.steps
        if step.divers != "either" and not step.abort and step.key != "wet store"
    ]
    return [
        _by_objections("gear", "every piece with tag, certificate and inspection", s.gear, LEADER),
        _by_objections(
            "hazards",
            "charge, pressure and gas excluded; remains and sacred things authorised",
            s.hazards,
            CONSERVATOR,
        ),
        _line(
            "decision", "decided why it is not left where it is", "met" if s.in_situ else "not known", LEADER
        ),
        _line(
            "in charge",
            "a named, confirmed person leads the lift",
            "met" if leader is not None and leader.objection is None else "not known",
            LEADER,
            leader.objection or "" if leader is not None else "",
        ),
        _by_objections("roles", "every role filled, confirmed and competent", s.roles, LEADER),
        _line(
            "aborts",
            "every step has its abort point",
            "not met" if missing else "met",
            LEADER,
            f"none for: {', '.join(missing)}" if missing else "",
        ),
        _line(
            "settled",
            "no open question on mass or gear",
            "not met" if s.blocked_by else "met",
            LEADER,
            "; ".join(s.blocked_by),
        ),
        _known("set down", "a set-down point is known", rig.work.set_down, DIVE_LEADER, "met"),
        _known(
            "pause",
            "a pause below the surface is planned",
            rig.work.pause_depth_m is not None,
            DIVE_LEADER,
            "met",
        ),
        _line(
            "trial",
            "the trial lift has a band in the load cell's unit",
            "met" if rig.cell_unit and rig.hook is not None else "not known",
            CELL,
            "" if rig.cell_unit else "the unit of the load cell is not known",
        ),
    ]


def _by_objections(key: str, words: str, items: Iterable[GearItem | Hazard | RoleHeld], by: str) -> GoLine:
    found = [item.objection for item in items if item.objection]
    more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
    return _line(key, words, "not met" if found else "met", by, f"{found[0]}{more}" if found else "")


def _known(key: str, words: str, value: object, by: str, answer: Answer) -> GoLine:
    return _line(
        key, words, answer if value else "not known", by, "" if value else "the rig file does not say"
    )


def _on_the_day(s: Standing) -> list[GoLine]:
    weather = s.rig.work.weather
    day: list[tuple[str, str, str]] = [
        ("window", "window at least twice the planned time", LEADER),
        ("current", "current within what divers can work in", DIVE_LEADER),
        ("sight", "enough sight under water to see load and lines", DIVE_LEADER),
        ("clear", "nobody under, over or attached to the load", LEADER),
        ("divers", "all divers out of the water before it crosses the surface", DIVE_LEADER),
        ("moored", "vessel moored; propellers and thrusters isolated", HOIST),
        ("rehearsed", "slack line and lost load rehearsed", LEADER),
        ("taglines", "taglines on, soft edges, no steel on the object", CONSERVATOR),
        ("conservator", "conservator on deck", CONSERVATOR),
    ]
    if s.rig.hook is not None:
        day.append(("cell", "load cell reads zero with the hook empty", CELL))
    lines = [_line(key, words, "on the day", by) for key, words, by in day]
    return [
        _known(
            "weather", "sea, wind and forecast within the limits written down", weather, LEADER, "on the day"
        ),
        _known("reception", "wet, padded reception ready", s.rig.work.reception, CONSERVATOR, "on the day"),
        *lines,
    ]
