"""Gear with its papers, people in their roles, hazards of the object: what objects, in which words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from oakum.lift.raising import GearItem, Hazard, RoleHeld, example_rig, gear_uses, parse_rig, roles_needed
from oakum.lift.raising.gear_use import gear_items, wll_kg, wll_questions
from oakum.lift.raising.hazards import hazards_asked
from oakum.lift.raising.rig_plan import Piece
from oakum.lift.raising.roles import roles_held, two_places

DAY = "2026-07-01"
RIG = parse_rig(example_rig())
GOOD = GearItem("S-01", "round sling", 1000.0, "1 t", "2027-06-01", "2027-03-01", "vessel", None)


def objection(**changes: object) -> str | None:
    found = replace(GOOD, **changes)  # type: ignore[arg-type]
    uses = tuple(use for use in gear_uses(RIG) if use.piece.key == "S-01")
    (only,) = gear_items(uses, {"S-01": found}, DAY)
    assert only.used_for == ('leg "north-west"',)
    return only.objection


def test_a_piece_with_all_its_papers_has_no_objection() -> None:
    assert objection() is None


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (
            {"certificate_until": "2026-06-30"},
            "its certificate lapsed on 2026-06-30, before the lift on 2026-07-01",
        ),
        ({"inspection_until": "2026-06-30"}, "its inspection lapsed"),
        ({"certificate_until": None}, "not known how long its certificate holds"),
        ({"inspection_until": None}, "not known how long its inspection holds"),
        ({"certificate_until": "next June"}, "no date; write it as 2027-06-30"),
        ({"wll_kg": None}, "no tag, no rating"),
        ({"objection": "withdrawn on 2026-05-02: cut strand"}, "withdrawn"),
    ],
)
def test_a_piece_is_objected_to(changes: dict[str, object], says: str) -> None:
    assert says in (objection(**changes) or "")


def test_papers_that_end_on_the_day_still_hold() -> None:
    assert objection(certificate_until=DAY, inspection_until=DAY) is None


def test_a_bag_needs_no_wll_because_its_lift_stands_in_the_rig_file() -> None:
    uses = tuple(use for use in gear_uses(RIG) if use.piece.key == "B-01")
    (bag,) = gear_items(uses, {"B-01": replace(GOOD, key="B-01", wll_kg=None)}, DAY)
    assert bag.objection is None


def test_a_piece_that_is_not_in_the_register_has_no_papers() -> None:
    found = gear_items(gear_uses(RIG), {}, DAY)
    assert all("not in the gear register" in (g.objection or "") for g in found)


def test_two_shackles_with_one_identity_are_an_objection_legs_of_one_sling_are_not() -> None:
    legs = tuple(replace(leg, piece=Piece("S-01")) for leg in RIG.legs)
    twice = gear_items(gear_uses(replace(RIG, legs=legs)), {"S-01": GOOD}, DAY)
    assert "two pieces carry one identity" in (next(g for g in twice if g.key == "S-01").objection or "")
    one = gear_items(gear_uses(replace(RIG, legs=legs, one_sling=True)), {"S-01": GOOD}, DAY)
    assert next(g for g in one if g.key == "S-01").objection is None
    shackles = tuple(
        replace(leg, shackle=replace(leg.shackle, piece=Piece("K-01"))) for leg in RIG.legs[:2] if leg.shackle
    )
    both = gear_items(gear_uses(replace(RIG, legs=shackles)), {"K-01": replace(GOOD, key="K-01")}, DAY)
    assert "one of the tags is wrong" in (next(g for g in both if g.key == "K-01").objection or "")


def test_the_hook_and_the_line_that_follows_the_bags_may_be_one_piece() -> None:
    found = gear_items(gear_uses(RIG), {"H-01": replace(GOOD, key="H-01")}, DAY)
    hook = next(g for g in found if g.key == "H-01")
    assert hook.objection is None and len(hook.used_for) == 2


def test_of_two_ratings_the_lesser_counts_and_is_asked_about() -> None:
    gear = {"S-01": GOOD}
    assert wll_kg(Piece("S-01", 800.0), gear) == 800.0
    assert wll_kg(Piece("S-01", 1200.0), gear) == 1000.0
    assert wll_kg(Piece("", 1200.0), gear) == 1200.0
    assert wll_kg(Piece(), gear) is None
    legs = (replace(RIG.legs[0], piece=Piece("S-01", 800.0)),)
    asked = wll_questions(gear_uses(replace(RIG, legs=legs)), gear)
    assert any("S-01" in q and "the lesser is taken" in q for q in asked)


def held(**changes: object) -> RoleHeld:
    role = RoleHeld("hoist operator", "", "p-00000001", ("hoist operator",), "2027-01-01", True, False)
    (found,) = (
        r
        for r in roles_held(RIG, (replace(role, **changes),), DAY)
        if r.role == "hoist operator"  # type: ignore[arg-type]
    )
    return found


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"person": None}, "nobody is named"),
        ({"confirmed": None}, "not confirmed"),
        ({"confirmed": False}, "declined"),
        ({"holds_until": "2026-06-30"}, "a competence lapsed on 2026-06-30"),
        ({"holds_until": None}, "not known how long the competences"),
        ({"holds_until": "soon"}, "no date"),
        ({"objection": "left the project"}, "left the project"),
    ],
)
def test_a_role_is_objected_to(changes: dict[str, object], says: str) -> None:
    assert held().objection is None
    assert says in (held(**changes).objection or "")


def test_a_role_that_says_nothing_of_competence_is_an_objection_one_that_asks_for_none_is_not() -> None:
    bare = replace(RIG, work=replace(RIG.work, roles=()))
    deck = RoleHeld("deck hand", "", "p-00000002", (), None, True, False)
    found = {r.role: r.objection for r in roles_held(bare, (deck,), DAY)}
    assert "which competences it asks for is not said" in (found["deck hand"] or "")
    found = {r.role: r.objection for r in roles_held(RIG, (deck,), DAY)}
    assert found["deck hand"] is None


def test_every_role_is_asked_for_and_no_more_than_the_rig_needs() -> None:
    assert {"bag diver", "hoist operator", "load-cell reader"} <= {r.role for r in roles_needed(RIG)}
    bare = replace(RIG, bags=None, work=replace(RIG.work, roles=()))
    assert "bag diver" not in {r.role for r in roles_needed(bare)}
    assert all(r.objection for r in roles_held(RIG, (), DAY))
    extra = RoleHeld("photographer", "Looks on.", "p-00000003", ("none",), None, True, None)
    found = {r.role: r for r in roles_held(RIG, (extra,), DAY)}
    assert "in the water when the load crosses" in (found["photographer"].objection or "")


def test_nobody_is_in_the_water_and_on_deck() -> None:
    wet = RoleHeld("slinging diver", "", "p-00000001", in_water=True)
    dry = RoleHeld("hoist operator", "", "p-00000001", in_water=False)
    assert len(two_places((wet, dry))) == 1
    assert two_places((wet, dry)) == two_places((replace(wet, in_water=None), dry))
    assert two_places((wet, replace(dry, person="p-00000002"))) == ()
    assert two_places((dry, replace(dry, role="load-cell reader"))) == ()


def test_every_hazard_is_asked_about_and_not_known_is_an_objection() -> None:
    found = hazards_asked(())
    assert {h.key for h in found} == {"charge", "pressure", "gas", "remains", "venerated"}
    assert all(h.objection for h in found)
    assert "no lift, no drill, no heat, no current" in (found[0].objection or "")


@pytest.mark.parametrize(
    ("key", "answer", "person", "objects"),
    [
        ("charge", "excluded", "p-00000001", False),
        ("charge", "excluded", None, True),
        ("charge", "does not apply", None, True),
        ("charge", "present", "p-00000001", True),
        ("charge", "authorised", "p-00000001", True),
        ("charge", "not known", "p-00000001", True),
        ("remains", "authorised", "p-00000001", False),
        ("remains", "authorised", None, True),
        ("remains", "present", "p-00000001", True),
        ("remains", "does not apply", "p-00000001", False),
        ("venerated", "excluded", None, True),
        ("venerated", "not known", None, True),
    ],
)
def test_a_hazard_is_answered_by_a_named_person(
    key: str, answer: str, person: str | None, objects: bool
) -> None:
    hazard = Hazard(key, key, answer, person, DAY, None)  # type: ignore[arg-type]
    found = next(h for h in hazards_asked((hazard,)) if h.key == key)
    assert (found.objection is not None) is objects


def test_an_objection_of_the_logbook_to_a_hazard_is_kept() -> None:
    hazard = Hazard("charge", "a charge", "excluded", "p-00000001", DAY, "her competence has lapsed")
    found = next(h for h in hazards_asked((hazard,)) if h.key == "charge")
    assert found.objection == "her competence has lapsed"
