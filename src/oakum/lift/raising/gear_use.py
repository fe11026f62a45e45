"""Which pieces of gear the rig uses, what each may bear, and why one may not be used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from oakum.lift.raising.plan import GearItem
from oakum.lift.raising.rig_plan import Piece, RigPlan

_APART = 0.005  # share by which register and rig file may differ in a WLL: rounding between units


@dataclass(frozen=True, slots=True)
class Use:
    """A piece and what it is used for. Uses of one `set_name` may share one identity."""

    piece: Piece
    used_for: str
    set_name: str = ""
    needs_wll: bool = True  # a bag has a lift instead, which the rig file gives


def gear_uses(rig: RigPlan) -> tuple[Use, ...]:
    """Return every piece of gear the rig needs, named or not, in the order of the rig file."""
    found: list[Use] = []
    if rig.hook is not None:
        found.append(Use(rig.hook.piece, "hook", "hook"))
        if rig.hook.top is not None:
            found.append(Use(rig.hook.top.piece, f"{rig.hook.top.kind} at the hook"))
    for leg in rig.legs:
        found.append(Use(leg.piece, f'leg "{leg.name}"', "legs" if rig.one_sling else ""))
        if leg.shackle is not None:
            found.append(Use(leg.shackle.piece, f'{leg.shackle.kind} of leg "{leg.name}"'))
        if leg.eye is not None:
            found.append(Use(leg.eye.piece, f'{leg.eye.kind} of leg "{leg.name}"'))
    if rig.spreader is not None:
        found.append(Use(rig.spreader.top, "top legs of the spreader"))
        found.append(Use(rig.spreader.drop, "drops of the spreader"))
    found += _bag_uses(rig)
    for turning in rig.turning:
        for what, pull in (("pull", turning.pull), ("hold", turning.hold)):
            if pull is not None and pull.way == "line":
                found.append(Use(pull.piece, f'{what} of turning "{turning.name}"', "turning"))
    for rolling in rig.rolling:
        found.append(Use(rolling.piece, f'line of rolling "{rolling.name}"', "turning"))
    return tuple(found)


def _bag_uses(rig: RigPlan) -> list[Use]:
    if rig.bags is None:
        return []
    found = []
    for bag in rig.bags.bags:
        found.append(Use(bag.piece, f'bag "{bag.name}"', needs_wll=False))
        found.append(Use(bag.strop, f'strop of bag "{bag.name}"'))
        if bag.crown is not None:
            found.append(Use(bag.crown.piece, f'crown line of bag "{bag.name}"'))
    found += [Use(piece, f'eye "{name}"') for name, piece in rig.bags.eyes]
    if rig.bags.hook_line is not None:
        found.append(Use(rig.bags.hook_line, "line of the hook that follows the bags", "hook"))
    return found


def wll_kg(piece: Piece, gear: Mapping[str, GearItem]) -> float | None:
    """Return what a piece may bear: the lesser of register and typed tag, None where neither says."""
    item = gear.get(piece.key) if piece.key else None
    known = [w for w in (piece.wll_kg, None if item is None else item.wll_kg) if w is not None]
    return min(known) if known else None


def gear_items(uses: tuple[Use, ...], gear: Mapping[str, GearItem], on: str) -> tuple[GearItem, ...]:
    """Return every piece with what it is used for and the objections to it on the day `on`."""
    keys: dict[str, list[Use]] = {}
    for use in uses:
        keys.setdefault(use.piece.key or f"(not named) {use.used_for}", []).append(use)
    return tuple(_item(key, together, gear, on) for key, together in keys.items())


def wll_questions(uses: tuple[Use, ...], gear: Mapping[str, GearItem]) -> tuple[str, ...]:
    """Return where rig file and register name two WLL for one piece: the lesser is taken until it is settled."""
    found = []
    for use in uses:
        item = gear.get(use.piece.key) if use.piece.key else None
        typed, listed = use.piece.wll_kg, None if item is None else item.wll_kg
        if typed is not None and listed is not None and abs(typed - listed) > _APART * max(typed, listed):
            found.append(
                f"{use.piece.key} ({use.used_for}): the rig says WLL {typed:,.0f} kg, the register {listed:,.0f} kg; "
                "the lesser is taken until the tag has been read again"
            )
    return tuple(dict.fromkeys(found))


def _item(key: str, uses: list[Use], gear: Mapping[str, GearItem], on: str) -> GearItem:
    used_for = tuple(use.used_for for use in uses)
    piece = uses[0].piece
    item = gear.get(piece.key) if piece.key else None
    if item is None:
        tag = "" if piece.wll_kg is None else f"{piece.wll_kg:,.0f} kg, typed from the tag"
        why = (
            f"{piece.key} ({used_for[0]}) is not in the gear register: certificate and inspection are not known"
            if piece.key
            else f"no piece of the gear register is named for {used_for[0]}: its papers are not known"
        )
        item = GearItem(key, "not in the register", piece.wll_kg, tag, None, None, None, why)
    found = [item.objection] if item.objection else []
    found += [] if found else paper_objections(item, on, needs_wll=any(use.needs_wll for use in uses))
    twice = _two_with_one_identity(key, uses)
    return replace(item, objection="; ".join([*found, *twice]) or None, used_for=used_for)


def paper_objections(item: GearItem, on: str, *, needs_wll: bool = True) -> list[str]:
    """Return what is wrong with the papers of a piece on a day; what is not known is wrong."""
    found = []
    if item.wll_kg is None and needs_wll:
        found.append(f"{item.key}: no WLL; no tag, no rating")
    for what, until in (("certificate", item.certificate_until), ("inspection", item.inspection_until)):
        if until is None:
            found.append(f"{item.key}: not known how long its {what} holds")
            continue
        end, day = _day(until), _day(on)
        if end is None or day is None:
            found.append(f'{item.key}: its {what} ends "{until}", which is no date; write it as 2027-06-30')
        elif end < day:
            found.append(f"{item.key}: its {what} lapsed on {until}, before the lift on {on}")
    return found


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _two_with_one_identity(key: str, uses: list[Use]) -> list[str]:
    sets = {use.set_name for use in uses}
    if len(uses) < 2 or (len(sets) == 1 and "" not in sets):
        return []
    where = " and ".join(use.used_for for use in uses)
    return [f"two pieces carry one identity: {key} is used for {where}; one of the tags is wrong"]
