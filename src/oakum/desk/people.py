"""People of a lift: who holds which role, confirmed or not, and whether their competence holds on the day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.finds.saying import say
from oakum.lift.raising import RigPlan, RoleHeld
from oakum.lift.raising.roles import NO_COMPETENCE
from oakum.record import NEVER_LAPSES, Competence, Entry, Find, Head, Logbook, Person
from oakum.record.log.kinds_lift import ROLE_PREFIX, role_field


def enter_competence(
    logbook: Logbook, person: str, competence: str, *, until: str, evidence: str = ""
) -> Competence:
    """Keep what a person is qualified or fit for. `until` is a day, "does not lapse", or empty: not known.

    Only "fit until" is kept of anything medical, never a finding. Raises `FactError`, `UnknownSubjectError`.
    """
    return logbook.set_competence(person, competence, until=until.strip() or None, evidence=evidence)


def give_role(
    logbook: Logbook,
    find_id: str,
    role: str,
    person: str,
    *,
    author: str,
    confirmed: bool | None = None,
    in_water: bool | None = None,
    reason: str = "",
) -> Entry | None:
    """Say who holds a role of a find's lift. None of `confirmed` and `in_water` is "not known", which objects.

    Giving the role to somebody else, or a person taking their word back, needs a reason.
    """
    if not role.strip():
        raise FieldErrors({"role": "say which role, such as lift leader"})
    held: dict[str, Any] = {"role": " ".join(role.split()), "person": person}
    held |= {
        key: said for key, said in (("confirmed", confirmed), ("in_water", in_water)) if said is not None
    }
    find = logbook.find(find_id)
    field = role_field(role)
    return say(
        logbook,
        "role.confirmed",
        find.id,
        find.heads,
        {field: held},
        author=author,
        reason=reason or _same_person(find.heads.get(field, ()), held),
    )


def _same_person(heads: tuple[Head, ...], held: Mapping[str, Any]) -> str:
    """A role that is only confirmed by who holds it needs no reason typed."""
    before = [head.value for head in heads if head.value is not None]
    confirmed = held.get("confirmed") is True and all(one.get("confirmed") is not False for one in before)
    return "confirmed" if confirmed and all(one["person"] == held["person"] for one in before) else ""


def roles_of(find: Find, people: Mapping[str, Person], rig: RigPlan | None, on: date) -> tuple[RoleHeld, ...]:
    """Return every role the logbook gives to somebody, with what stands against it on the day `on`.

    The competences a role needs are those the rig file names for it.
    """
    needs = {} if rig is None else {role.role.casefold(): role.needs for role in rig.work.roles}
    found = []
    for field in sorted(find.heads):
        if field.startswith(ROLE_PREFIX):
            said = [head.value for head in find.heads[field] if head.value is not None]
            if said:
                found.append(_held(said, needs.get(str(said[-1]["role"]).casefold(), ()), people, on))
    return tuple(found)


def _held(
    said: list[dict[str, Any]], needs: tuple[str, ...], people: Mapping[str, Person], on: date
) -> RoleHeld:
    newest = said[-1]
    role, person = str(newest["role"]), people.get(newest["person"])
    wrong = []
    if any(one != newest for one in said):
        wrong.append("entries differ about who holds it; a named person must settle it")
    if person is None:
        wrong.append("who holds it is not registered here")
        holds_until = None
    else:
        holds_until, lacks = holds(person, needs, on)
        # The plan says by itself that a role's competence lacks; which of several it is, only this knows.
        wrong += lacks if len(needs) > 1 else []
    return RoleHeld(
        role=role,
        duty="",
        person=newest["person"],
        needs=needs,
        holds_until=holds_until,
        confirmed=newest.get("confirmed"),
        in_water=newest.get("in_water"),
        objection="; ".join(f"{role}: {one}" for one in wrong) or None,
    )


def holds(person: Person, needs: tuple[str, ...], on: date) -> tuple[str | None, list[str]]:
    """Return until when all competences in `needs` hold (None: not known), and what is missing or has lapsed."""
    asked = tuple(one for one in needs if one != NO_COMPETENCE)
    ends: list[str | None] = []
    wrong = []
    for name in asked:
        held = person.competence(name)
        until = None if held is None else held.until
        ends.append(date.max.isoformat() if until == NEVER_LAPSES else until)
        if held is None:
            wrong.append(f'no competence "{name}" is known of who holds it')
        elif until is None:
            wrong.append(f'until when the competence "{name}" holds is not known')
        elif not held.holds_on(on.isoformat()):
            wrong.append(f'the competence "{name}" of who holds it lapsed on {until}')
    known = [end for end in ends if end is not None]
    return (min(known) if known and len(known) == len(ends) else None), wrong
