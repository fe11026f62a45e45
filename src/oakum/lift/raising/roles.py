"""Who does what: the roles this lift needs, who holds them, and who may be in the water when."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from oakum.lift.raising.plan import RoleHeld
from oakum.lift.raising.rig_plan import RigPlan, RigRole

NO_COMPETENCE = "none"
"""Written in `needs` to say that a role asks for no competence."""

LEADER = "lift leader"
DIVE_LEADER = "dive leader"
HOIST = "hoist operator"
CELL = "load-cell reader"
SLINGER = "slinging diver"
BAGS = "bag diver"
CONSERVATOR = "conservator"
DECK = "deck hand"

_DUTIES = {
    LEADER: "Gives every order of the lift and calls every stop; nobody else does, but anybody may shout stop.",
    DIVE_LEADER: "Decides who dives; counts divers out, aloud, before the load crosses the surface.",
    HOIST: "Hoists and lowers on the lift leader's orders only; stops at once on anybody's stop.",
    CELL: "Reads the load cell aloud and writes height, time and reading; says so when it leaves the band.",
    SLINGER: "Makes the legs fast as drawn, protects edges, and looks from up-current, clear of the load.",
    BAGS: "Fills and vents the bags in their order, from an arm's length, clear of every line.",
    CONSERVATOR: "Watches the object; stops the lift for its sake; keeps it wet from the surface on.",
    DECK: "Holds the taglines, keeps everybody from under the load, guides it onto its cradle.",
}
_IN_WATER = (SLINGER, BAGS)


def roles_needed(rig: RigPlan) -> tuple[RigRole, ...]:
    """Return the roles a lift with this rig needs, and those the rig file adds."""
    names = [LEADER, DIVE_LEADER, SLINGER, CONSERVATOR, DECK]
    if rig.hook is not None:
        names += [HOIST, CELL]
    if rig.bags is not None:
        names.append(BAGS)
    own = {role.role.casefold(): role for role in rig.work.roles}
    found = []
    for name in names:
        said = own.pop(name, None)
        in_water = name in _IN_WATER if said is None or said.in_water is None else said.in_water
        found.append(
            RigRole(name, (said.duty if said else "") or _DUTIES[name], said.needs if said else (), in_water)
        )
    return (*found, *own.values())


def roles_held(rig: RigPlan, known: tuple[RoleHeld, ...], on: str) -> tuple[RoleHeld, ...]:
    """Return every role with who holds it and what stands against that on the day `on`.

    Roles that the logbook names and this rig does not ask for stay in the list as they are.
    """
    by_name: dict[str, RoleHeld] = {}
    for role in known:
        by_name.setdefault(role.role.casefold(), role)
    found = []
    for needed in roles_needed(rig):
        held = by_name.pop(needed.role.casefold(), None) or RoleHeld(needed.role, needed.duty, None)
        merged = replace(
            held,
            role=needed.role,
            duty=needed.duty or held.duty,
            needs=tuple(dict.fromkeys((*needed.needs, *held.needs))),
            in_water=held.in_water if needed.in_water is None else needed.in_water,
        )
        found.append(_objected(merged, on))
    found += [_objected(role, on) for role in by_name.values()]
    return tuple(found)


def two_places(roles: tuple[RoleHeld, ...]) -> tuple[str, ...]:
    """Return the objections to one person in roles that are not known to be in one place."""
    found = []
    for i, first in enumerate(roles):
        for second in roles[:i]:
            one_place = first.in_water is not None and first.in_water == second.in_water
            if first.person is not None and first.person == second.person and not one_place:
                found.append(
                    f"one person is {second.role} and {first.role}: one of them may be in the water and the other "
                    "on deck; nobody is in both places"
                )
    return tuple(found)


def _objected(role: RoleHeld, on: str) -> RoleHeld:
    found = [role.objection] if role.objection else []
    if role.person is None:
        found.append(f"{role.role}: nobody is named")
    elif role.confirmed is None:
        found.append(f"{role.role}: not confirmed by who is to hold it")
    elif role.confirmed is False:
        found.append(f"{role.role}: declined by who was to hold it")
    if role.in_water is None:
        found.append(f"{role.role}: not known whether in the water when the load crosses the surface")
    found += _competence(role, on) if role.person is not None else []
    return replace(role, objection="; ".join(dict.fromkeys(found)) or None)


def _competence(role: RoleHeld, on: str) -> list[str]:
    if role.needs == (NO_COMPETENCE,):
        return []
    if not role.needs:
        return [f"{role.role}: which competences it asks for is not said"]
    if role.holds_until is None:
        return [f"{role.role}: not known how long the competences ({', '.join(role.needs)}) hold"]
    try:
        lapsed = date.fromisoformat(role.holds_until) < date.fromisoformat(on)
    except ValueError:
        return [
            f'{role.role}: its competence ends "{role.holds_until}", which is no date; write it as 2027-06-30'
        ]
    if lapsed:
        return [f"{role.role}: a competence lapsed on {role.holds_until}, before the lift on {on}"]
    return []
