"""The invented lifts of the Tolmarren wreck: rigs, gear with its papers, people in their roles, hazards, readings.

The trouble is meant: one sling has lapsed, two load cells disagree about the capstan, and nobody competent has
excluded a charge in the small gun. Days of papers are counted from the day the demo is made, so that what has
lapsed has lapsed whenever that is.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from importlib.resources import files
from typing import Any

from oakum.desk.finds.measures import reading_of
from oakum.desk.gear.entering import gear_values
from oakum.desk.lifts.hazards import ASKS_FOR
from oakum.desk.lifts.vessels import enter_vessel
from oakum.desk.lifts.weigh import HOOK_LOAD, UNDER_WATER
from oakum.lift.cradle import starting_cradle
from oakum.lift.vessel import example_vessel
from oakum.record import HAZARDS, Draft, Logbook
from oakum.record.log.kinds_lift import HAZARD_PREFIX, role_field

LAPSED_SLING = "S-03"
CAPSTAN_READINGS = (
    ("420 ± 12 kg", "load cell 1"),
    ("500 ± 12 kg", "load cell 2"),
)
"""As read, with the gear of `BELOW_THE_CELL` in it: they differ by more than three of their own spreads."""

BELOW_THE_CELL = "22 ± 2 kg"


@dataclass(frozen=True, slots=True)
class _Hand:
    """Somebody of the crew: name (a role, nobody is real), what they do, competences with the days they still hold."""

    name: str
    does: str
    competences: Mapping[str, int]
    lifts_as: str = ""
    in_water: bool = False


_DIRECTOR: Mapping[str, int] = {"appointed person for lifting": 400}
_CONSERVATOR: Mapping[str, int] = {"conservator": 900}
_CREW = (
    _Hand("Dive leader", "leads the diving", {"diving supervisor": 500, "diver": 200}, "dive leader"),
    _Hand("Hoist operator", "vessel's crew", {"hoist operator": 240}, "hoist operator"),
    _Hand("Slinging diver", "club diver", {"slinger": 320, "diver": 25}, "slinging diver", True),
    _Hand("Bag diver", "club diver", {"diver": 130}, "bag diver", True),
    _Hand("Cell reader", "club, on deck", {}, "load-cell reader"),
    _Hand("Deck hand", "club, on deck", {}, "deck hand"),
    _Hand("Explosives adviser", "county", {"explosives": 600, "pressure containers": 600, "gas testing": 210}),
)
_GUN_WITHOUT = "bag diver"  # its lift has no bags


def enter_lifts(
    logbook: Logbook, ids: Mapping[str, str], director: str, conservator: str, *, on: date
) -> None:
    """Enter everything the lifts of capstan and small gun need, and what stands against them."""
    people = _people(logbook, director, conservator, on)
    _enter_gear(logbook, on)
    vessel, tables = example_vessel()
    enter_vessel(logbook, measured(vessel), tables, author=director)
    cradle = measured(starting_cradle("frame"))
    day = (on - timedelta(days=12)).isoformat()
    adviser = people["Explosives adviser"]
    nothing = {HAZARD_PREFIX + key: _answer("does not apply", adviser, day) for key in HAZARDS}
    charge = HAZARD_PREFIX + "charge"
    logbook.append_many(
        [
            Draft("rig.described", ids["capstan"], {"rig": _text("capstan_rig.toml")}, director),
            Draft("rig.described", ids["gun"], {"rig": _text("gun_rig.toml")}, director),
            Draft("cradle.described", ids["capstan"], {"cradle": cradle}, director),
            Draft("cradle.described", ids["gun"], {"cradle": _text("gun_cradle.toml")}, director),
            Draft("find.hazard", ids["capstan"], nothing, "recorder"),
            Draft(
                "find.hazard",
                ids["gun"],
                {key: said for key, said in nothing.items() if key != charge}
                | {charge: {"answer": "not known", "note": "bore plugged by crust; nobody has looked in"}},
                "recorder",
            ),
            *(
                Draft("decision.in_situ", ids[key], _decision(why, instead, director, day), director)
                for key, why, instead in _DECISIONS
            ),
            Draft("role.confirmed", ids["capstan"], _roles(people), "recorder"),
            Draft("role.confirmed", ids["gun"], _roles(people, without=_GUN_WITHOUT), "recorder"),
            *(Draft("reading", ids["capstan"], _reading(text, cell), "recorder") for text, cell in CAPSTAN_READINGS),
        ]
    )


_DECISIONS = (
    (
        "capstan",
        "It stands proud of the bed; shipworm has taken a finger's width of the drumhead since last year, and "
        "anchor chains drag across the site.",
        "Covering with sand bags was tried and washed off twice in a winter.",
    ),
    (
        "gun",
        "It lies loose on the slope and rolls in every gale, over the stern timbers.",
        "Chocking it where it lies: the slope does not hold the chocks.",
    ),
)


def measured(toml: str) -> str:
    """Return a text to begin with as if it had been measured: without the mark that asks for editing."""
    return "".join(line for line in toml.splitlines(keepends=True) if not line.startswith("mark = "))


def _people(logbook: Logbook, director: str, conservator: str, on: date) -> dict[str, str]:
    """Register the crew with their competences and return the ids by name, and by the role they hold."""
    found = {"lift leader": director, "conservator": conservator}
    for person, held in ((director, _DIRECTOR), (conservator, _CONSERVATOR)):
        _competences(logbook, person, held, on)
    for hand in _CREW:
        person = logbook.add_person(hand.name, hand.does).id
        _competences(logbook, person, hand.competences, on)
        found[hand.name] = person
        if hand.lifts_as:
            found[hand.lifts_as] = person
    assert set(ASKS_FOR.values()) <= {name for hand in _CREW for name in hand.competences}
    return found


def _competences(logbook: Logbook, person: str, held: Mapping[str, int], on: date) -> None:
    for name, days in held.items():
        until = (on + timedelta(days=days)).isoformat()
        logbook.set_competence(person, name, until=until, evidence="copy in the hut's folder")


def _roles(people: Mapping[str, str], *, without: str = "") -> dict[str, Any]:
    wet = {hand.lifts_as for hand in _CREW if hand.in_water}
    roles = ["lift leader", "conservator", *(hand.lifts_as for hand in _CREW if hand.lifts_as)]
    return {
        role_field(role): {
            "role": role,
            "person": people[role],
            "confirmed": True,
            "in_water": role in wet,
        }
        for role in roles
        if role != without
    }


def _enter_gear(logbook: Logbook, on: date) -> None:
    """List every piece of the table; the mark of a row says what is wrong with its papers."""
    rows = csv.DictReader(_text("gear.csv").splitlines())
    logbook.append_many(
        Draft("gear.listed", None, gear_values(_typed(row, number, on)), "recorder")
        for number, row in enumerate(rows, 1)
    )


def _typed(row: Mapping[str, str], number: int, on: date) -> dict[str, str]:
    """Return the fields of a piece as somebody would type them from its tag and papers."""
    lapsed, soon = row["mark"] == "lapsed", row["mark"] == "soon"
    begins, ends = (-385, -20) if lapsed else (-200, 165)
    seen, again = (-190, -8) if lapsed else (-150, 14) if soon else (-40, 140)
    days = (
        ("certificate_from", begins),
        ("certificate_until", ends),
        ("inspected_on", seen),
        ("inspect_by", again),
    )
    return {
        "identity": row["identity"],
        "kind": row["kind"],
        "description": row["description"],
        "wll": row["wll"],
        "owner": "hired" if row["kind"] in ("hoist", "ring", "shackle") else "club",
        "certificate": f"TOL-{number:03d}",
        "where": "vessel" if row["kind"] == "hoist" else "gear store in the hut",
        **{field: (on + timedelta(days=offset)).isoformat() for field, offset in days},
    }


def _reading(text: str, instrument: str) -> dict[str, Any]:
    body = reading_of(
        text, "mass", quantity=HOOK_LOAD, state=UNDER_WATER, instrument=instrument, gear=BELOW_THE_CELL, frame=False
    )
    return body | {"covers": "alone"}


def _answer(answer: str, by: str, on: str) -> dict[str, str]:
    return {"answer": answer, "by": by, "on": on}


def _decision(why: str, instead: str, by: str, on: str) -> dict[str, str]:
    return {
        "raise_because": why,
        "raise_alternatives": instead,
        "raise_decided_by": by,
        "raise_decided_on": on,
    }


def _text(name: str) -> str:
    return files("oakum.desk.demo").joinpath(f"tolmarren/{name}").read_text("utf-8")
