"""The plan of the invented capstan: what it checks, what objects, what would help, and that it hangs together."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from oakum.ground.estimate import Spread
from oakum.ground.gravity import G_M_S2
from oakum.lift import CellReading, Weighing, parse_body, starting_bodies, weighing_of
from oakum.lift.raising import (
    GearItem,
    Hazard,
    PlanContext,
    RaisingPlan,
    RigPlan,
    RoleHeld,
    example_rig,
    gear_uses,
    parse_rig,
    plan_dict,
    raising_plan,
    roles_needed,
    trial_words,
    with_bags,
    with_hook_height,
    with_longer_legs,
)
from oakum.lift.raising.at_sea import NO_CRADLE, NO_SEA
from oakum.lift.raising.rig_plan import RigLeg

DAY = "2026-07-01"
WLL_KG = {"S": 1000, "K": 2000, "F": 1500, "H": 2500, "R": 4000, "P": 250, "C": 250, "B": 75, "W": 400}
RIG = parse_rig(example_rig())


@cache
def weighed(reading_kg: float | None = None, sd_kg: float = 10.0) -> Weighing:
    body = parse_body(starting_bodies()["capstan"].toml)
    readings = () if reading_kg is None else (CellReading(reading_kg, sd_kg, f"{reading_kg} kg", 21.0),)
    return weighing_of(body, rng=np.random.default_rng(1670), draws=4000, seed=1670, readings=readings)


def item(key: str, **changes: object) -> GearItem:
    good = GearItem(key, "gear", float(WLL_KG[key[0]]), "", "2027-06-01", "2027-03-01", "vessel", None)
    return replace(good, **changes)  # type: ignore[arg-type]


def context(rig: RigPlan = RIG, **changes: object) -> PlanContext:
    keys = dict.fromkeys(use.piece.key for use in gear_uses(rig) if use.piece.key)
    roles = tuple(
        RoleHeld(r.role, r.duty, f"p-{i:08d}", r.needs, "2027-12-31", True, r.in_water)
        for i, r in enumerate(roles_needed(rig))
    )
    hazards = tuple(
        Hazard(key, key, "does not apply", "p-00000009", "2026-05-01", None)
        for key in ("charge", "pressure", "gas", "remains", "venerated")
    )
    made = PlanContext(
        on=DAY,
        gear={key: item(key) for key in keys},
        roles=roles,
        hazards=hazards,
        in_situ="worm and anchor chains wear it away",
        number="T-0001",
    )
    return replace(made, **changes)  # type: ignore[arg-type]


@cache
def planned() -> RaisingPlan:
    return raising_plan(weighed(), RIG, context())


def plan(rig: RigPlan = RIG, **changes: object) -> RaisingPlan:
    return raising_plan(weighed(), rig, context(rig, **changes), with_helps=False)


def test_with_all_else_known_only_sea_and_cradle_object_that_nobody_described() -> None:
    assert planned().objections == (NO_SEA, NO_CRADLE)
    assert replace(planned(), objections=()).verdict == "no objection found under these assumptions"


def test_checks_are_sorted_what_is_not_known_first_then_the_hardest_used() -> None:
    used = [c.utilisation for c in planned().checks]
    known = [u for u in used if u is not None]
    assert known == used and known == sorted(known, reverse=True)
    unknown = plan(gear={k: g for k, g in context().gear.items() if k != "S-02"})
    assert unknown.governing is not None and unknown.governing.utilisation is None
    assert 'leg "south-west"' in (unknown.governing.objection or "")


def test_hook_and_slings_are_checked_on_the_95th_percentile_of_the_heavier_state() -> None:
    hook = next(c for c in planned().checks if c.key == "hook")
    assert hook.demand == pytest.approx(weighed().report.state("clear").load_kg.p95, rel=1e-9)
    answer = planned().in_air
    assert answer is not None
    sling = next(c for c in planned().checks if c.key == "sling:south-east")
    leg = next(leg for leg in answer.legs if leg.name == "south-east")
    assert sling.demand == pytest.approx(leg.greatest_n.p95 / G_M_S2, rel=1e-6)
    assert sling.title.endswith("in air")


def test_the_legs_are_cut_once_so_that_the_load_tilts_in_the_other_state() -> None:
    under, air = planned().under_water, planned().in_air
    assert under is not None and air is not None
    assert under.hook_m == air.hook_m
    assert under.tilt_deg.best > air.tilt_deg.best
    swing = weighed().report.hanging.swing_m
    assert swing is not None
    height = under.hook_m[2] - weighed().report.hanging.submerged.z_m.best
    assert under.tilt_deg.best == pytest.approx(np.degrees(np.arctan(swing.best / height)), rel=0.1)


def test_the_trial_lift_is_the_band_under_water_rounded_outward_in_the_cells_unit() -> None:
    band = weighed().report.state("submerged").load_kg
    trial = planned().trial
    assert trial is not None
    assert trial.low <= band.p5 < trial.low + 2.0 and trial.high - 2.0 < band.p95 <= trial.high
    words = trial_words(trial)
    assert "expect" in words and "hold 10 min" in words
    assert "held by the bed, or heavier" in words and "left behind, or a bag lifts" in words


@pytest.mark.parametrize(
    ("unit", "kilograms"), [("t", 1000.0), ("kN", 1000.0 / 9.80665), ("lbf", 0.45359237)]
)
def test_the_trial_lift_in_other_units_is_the_same_band(unit: str, kilograms: float) -> None:
    rig = replace(RIG, cell_unit=unit, work=replace(RIG.work, cell_step_kg=None))
    trial = plan(rig).trial
    assert trial is not None and trial.unit == unit
    band = weighed().report.state("submerged").load_kg
    assert trial.low * kilograms <= band.p5 and trial.high * kilograms >= band.p95
    assert (trial.high - trial.low) * kilograms <= 1.25 * (band.p95 - band.p5)


def test_without_the_cells_unit_there_is_no_band_and_an_objection() -> None:
    found = plan(replace(RIG, cell_unit=""))
    assert found.trial is None and any("unit of the load cell" in o for o in found.objections)


def test_a_reading_narrows_the_trial_band_and_marks_the_weighing_as_done() -> None:
    found = raising_plan(weighed(480.0), RIG, context(), with_helps=False)
    before, after = planned().trial, found.trial
    assert before is not None and after is not None
    assert after.high - after.low < 0.6 * (before.high - before.low)
    assert next(line for line in found.go_no_go if line.key == "weighed").answer == "met"


def test_readings_that_disagree_make_the_band_begin_at_the_lesser() -> None:
    body = parse_body(starting_bodies()["capstan"].toml)
    pair = (CellReading(450.0, 5.0, "450 kg", 21.0), CellReading(530.0, 5.0, "530 kg", 21.0))
    both = weighing_of(body, rng=np.random.default_rng(1), draws=4000, seed=1, readings=pair)
    found = raising_plan(both, RIG, context(readings=pair), with_helps=False)
    assert found.trial is not None and found.trial.low < 450.0 and found.trial.high > 530.0
    one = raising_plan(replace(both, slack=both.use), RIG, context(readings=pair), with_helps=False)
    light, heavy = (next(c for c in p.checks if c.key == "bag-relief").demand for p in (found, one))
    assert light > heavy


def test_steps_run_from_the_briefing_to_the_wet_store_in_order() -> None:
    keys = [s.key for s in planned().steps]
    order = ["brief", "weigh", "trim", "bandage", "trial", "set down again", "fill bags", "ascend", "pause"]
    order += ["take over", "divers out", "through the surface", "drain", "land", "wet store"]
    assert [k for k in keys if k in order] == order
    assert [s.number for s in planned().steps] == list(range(1, len(keys) + 1))
    crossing = next(s for s in planned().steps if s.key == "through the surface")
    assert crossing.divers == "out" and "without a stop" in crossing.action and crossing.abort


def test_minutes_are_typed_learnt_or_computed_and_else_not_known() -> None:
    minutes = {s.key: s.minutes for s in planned().steps}
    assert minutes["trial"] is not None and minutes["trial"].best == pytest.approx(21.3, abs=0.3)
    assert minutes["drain"] is not None and 1.0 < minutes["drain"].p95 < 10.0
    assert minutes["land"] is None and planned().minutes is None
    learnt = {s.key: Spread(3, 5, 9, 5, 2, "min") for s in planned().steps}
    found = plan(minutes=learnt)
    assert found.minutes is not None and all(s.minutes is not None for s in found.steps)
    typed = next(s.minutes for s in found.steps if s.key == "trial")
    assert typed == minutes["trial"]  # what the rig file says goes before what was learnt


def test_a_step_the_lift_does_not_have_is_said() -> None:
    text = example_rig() + '\n[[step]]\nkey = "turn"\nminutes = "20 min"\n'
    assert any('step "turn"' in q for q in plan(parse_rig(text)).open_questions)


def test_what_the_plan_does_not_cover_is_said_and_what_nobody_described_is_not_known_on_the_list() -> None:
    assert any("Current" in words for words in planned().not_covered)
    lines = {line.key: line for line in planned().go_no_go}
    for key in ("sea", "slack line", "sea on deck", "vessel", "chart"):
        assert lines[key].answer == "not known" and "[seaway]" in lines[key].why
    assert lines["cradle"].answer == "not known" and "no cradle is described" in lines["cradle"].why
    assert "book" in lines and lines["book"].answer == "not known"
    assert all(line.by for line in planned().go_no_go)


def test_an_empty_rig_file_objects_to_all_that_is_missing() -> None:
    bare = parse_rig(
        'title = "Bare"\n[hook]\nplace = "over the hanging point"\nheight = "3.6 m"\n'
        + "".join(
            f'[[leg]]\nname = "{n}"\nat = {{ x = "{x} m", y = "{y} m", z = "0 m" }}\n'
            for n, x, y in (("a", 0.8, 0.7), ("b", -0.8, 0.7), ("c", 0.0, -0.8))
        )
    )
    found = raising_plan(weighed(), bare, PlanContext(on=DAY), with_helps=False)
    said = " | ".join(found.objections)
    for words in (
        "no tag, no rating",
        "which rule shares the load",
        "what it is made of is not known",
        "its hitch is not known",
        "out of level was not said",
        "hook, runner and hoist bear is not known",
        "no set-down point",
        "no wet reception",
        "limits of sea",
        "unit of the load cell",
        "pause below the surface",
        "no decision is recorded",
        "lift leader: nobody is named",
        "a charge",
        "its papers are not known",
    ):
        assert words in said
    assert not any(
        line.answer == "met" for line in found.go_no_go if line.key in ("hook", "legs", "gear", "roles")
    )


def moved(rig: RigPlan, by_m: float) -> tuple[RigLeg, ...]:
    return tuple(replace(leg, at_m=(leg.at_m[0] + by_m, *leg.at_m[1:])) for leg in rig.legs)


def in_a_line(rig: RigPlan) -> tuple[RigLeg, ...]:
    return tuple(replace(leg, at_m=(0.5 * i - 0.7, 0.0, 0.0)) for i, leg in enumerate(rig.legs))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (
            lambda r: replace(r, hook=replace(r.hook, place="at a point", at_m=(0.0, 0.0, -1.0))),
            "below the load",
        ),
        (lambda r: replace(r, legs=moved(r, 1.0)), "would have to push"),
        (lambda r: replace(r, legs=in_a_line(r)), "in a line"),
    ],
)
def test_a_rig_that_cannot_hang_is_an_objection_in_a_clear_sentence(
    change: Callable[[RigPlan], RigPlan], says: str
) -> None:
    found = plan(change(RIG))
    assert any(says in o for o in found.objections), found.objections
    assert next(line for line in found.go_no_go if line.key == "legs").answer == "not known"


def test_bags_deeper_than_their_air_allows_are_an_objection() -> None:
    assert RIG.bags is not None and RIG.bags.supply is not None
    thin = replace(RIG, bags=replace(RIG.bags, supply=replace(RIG.bags.supply, fill_pa=60e5)))
    assert any("deeper than their air allows" in o for o in plan(thin).objections)


def test_relieving_bags_that_would_take_too_much_are_an_objection() -> None:
    found = plan(with_bags(RIG, 5))
    assert any("off the hook, more than the 60 %" in o for o in found.objections)
    assert any('named for bag "north, second again"' in o for o in found.objections)


def test_a_rating_from_register_and_rig_file_that_differ_takes_the_lesser_and_asks() -> None:
    hook = replace(RIG.hook, piece=replace(RIG.hook.piece, wll_kg=1600.0)) if RIG.hook else None
    found = plan(replace(RIG, hook=hook))
    check = next(c for c in found.checks if c.key == "hook")
    assert check.capacity == 1600.0 and check.objection is not None
    assert any("the lesser is taken" in q for q in found.open_questions)


def test_a_spreader_takes_the_squeeze_away_and_is_checked_itself() -> None:
    beam = """title = "Beam"
cell_unit = "kg"
[hook]
place = "over the hanging point"
level = "in air"
height = "1.5 m"
gear = "H-01"
tilt_limit = "5 deg"
[spreader]
length = "1.5 m"
hook_height = "1.5 m"
first_eye = { x = "-0.75 m", y = "0 m", z = "1.4 m" }
second_eye = { x = "0.75 m", y = "0 m", z = "1.4 m" }
inertia_cm4 = 231
modulus = "205000 N/mm2"
mass = "40 kg"
top_legs = "S-01"
drops = "S-02"
"""
    rig = parse_rig(beam)
    found = plan(rig)
    keys = {c.key for c in found.checks}
    assert {"spreader:buckling", "spreader:top", "spreader:drop"} <= keys
    assert [state for state, _ in found.spreaders] == ["under water", "in air"]
    assert [v.state for v in found.views] == ["under water", "in air"]
    drop = next(c for c in found.checks if c.key == "spreader:drop")
    assert drop.demand == pytest.approx(weighed().report.state("clear").load_kg.p95 / 2, rel=0.05)


def test_turnings_are_in_the_plan_with_their_checks_and_objections() -> None:
    manual = (Path(__file__).resolve().parents[2] / "docs/rig-file.md").read_text(encoding="utf-8")
    turning = re.search(r"\[\[turning\]\]\nname.*?(?=```)", manual, re.S)
    assert turning is not None
    round_one = turning.group().replace(
        'up = "0.2 m" }\nradius = "0.25 m"', 'up = "0.4 m" }\nradius = "0.6 m"'
    )
    found = plan(parse_rig(f"{example_rig()}\n{round_one}"))
    assert [a.name for a in found.turning] == ["upright into the frame", "up the planks to the chocks"]
    upright, rolled = found.turning
    assert upright.turn is not None and upright.frame is not None and rolled.roll is not None
    assert any(c.key.startswith("turning:upright into the frame:") for c in found.checks)
    assert any(s.key == "turn" for s in found.steps)
    assert next(line for line in found.go_no_go if line.key == "turning")


def test_helps_show_before_and_after_what_goes_and_the_cost_and_refuse_nothing_silently() -> None:
    weak = dict(context().gear)
    weak["S-03"] = item("S-03", wll_kg=880.0)
    found = raising_plan(weighed(), RIG, context(gear=weak))
    titles = {h.title for h in found.helps}
    assert len(titles) == 8 and all(h.cost for h in found.helps)
    solved = [h for h in found.helps if h.refused is None]
    assert all(h.before is not None and h.after is not None for h in solved)
    crust = next(h for h in found.helps if h.title.startswith("Concretion"))
    assert "destroys what the crust carries" in crust.cost and crust.gain is not None and crust.gain > 0.02
    assert any("south-east" in o for o in crust.removes)
    longer = next(h for h in found.helps if h.title == "Legs 50 % longer")
    assert longer.after is not None and longer.before is not None and longer.after < longer.before
    over = next(h for h in found.helps if "hanging point" in h.title)
    assert over.after is None and over.refused == "the hook is over the hanging point already"
    assert found.helps[-1].refused is not None
    removed = [len(h.removes) for h in solved]
    assert removed == sorted(removed, reverse=True)


def test_moving_the_hook_over_the_hanging_point_takes_the_tilt_away() -> None:
    assert RIG.hook is not None
    aside = replace(RIG, hook=replace(RIG.hook, place="at a point", at_m=(0.25, 0.0, 3.6), height_m=None))
    found = raising_plan(weighed(), aside, context(aside))
    over = next(h for h in found.helps if "hanging point" in h.title)
    assert over.refused is None and over.gain is not None and over.gain > 0.5
    assert any("out of level" in o for o in over.removes)


def test_a_help_that_needs_what_is_not_there_says_so() -> None:
    found = raising_plan(weighed(), replace(RIG, bags=None), context())
    bag = next(h for h in found.helps if h.title.startswith("One more bag"))
    assert bag.refused == "the rig has no bags to add one to"


def test_sliders_move_what_they_say() -> None:
    assert RIG.hook is not None
    higher = with_hook_height(RIG, 5.0)
    assert higher.hook is not None and higher.hook.height_m == 5.0
    longer = with_longer_legs(RIG, 1.25, (0.0, 0.0))
    first, second = (plan(r).in_air for r in (RIG, longer))
    assert first is not None and second is not None
    ratio = np.mean([b.length_m.best for b in second.legs]) / np.mean([a.length_m.best for a in first.legs])
    assert ratio == pytest.approx(1.25, rel=0.002)
    assert all(
        b.from_horizontal_deg.best > a.from_horizontal_deg.best
        for a, b in zip(first.legs, second.legs, strict=True)
    )
    fewer = with_bags(RIG, 1)
    assert fewer.bags is not None and [b.name for b in fewer.bags.bags] == ["north"]


def test_the_fingerprint_changes_with_mass_rig_and_gear_and_with_nothing_else() -> None:
    base = planned().fingerprint
    assert len(base) == 64
    same = (
        plan(),
        plan(replace(RIG, notes="other words", work=replace(RIG.work, weather="calmer"))),
        plan(stage="briefed"),
        raising_plan(weighed(), RIG, context(roles=()), with_helps=False),
    )
    assert {p.fingerprint for p in same} == {base}
    gear = context().gear
    changed = (
        plan(with_hook_height(RIG, 3.7)),
        plan(gear={**gear, "S-01": item("S-01", wll_kg=999.0)}),
        plan(gear={**gear, "S-01": item("S-01", certificate_until="2027-06-02")}),
        plan(gear={**gear, "S-01": item("S-01", objection="withdrawn: cut strand")}),
        raising_plan(weighed(480.0), RIG, context(), with_helps=False),
    )
    assert base not in {p.fingerprint for p in changed}
    assert len({p.fingerprint for p in changed}) == len(changed)


def test_an_open_question_on_mass_or_gear_blocks_and_says_who_settles_it() -> None:
    found = plan(blocked_by=("two readings differ; the dive leader settles it",))
    assert any("dive leader settles it" in o for o in found.objections)
    assert next(line for line in found.go_no_go if line.key == "settled").answer == "not met"


def test_the_plan_goes_through_json_without_a_number_that_json_does_not_have() -> None:
    told = plan_dict(planned())
    text = json.dumps(told, allow_nan=False)
    back = json.loads(text)
    assert back["governing"] == "bag-relief" and back["verdict"] == planned().verdict
    assert back["checks"][0]["utilisation"] == pytest.approx(planned().checks[0].utilisation)
    assert back["trial"]["unit"] == "kg" and "rig" not in back


def test_the_same_question_has_the_same_answer() -> None:
    assert plan_dict(plan()) == plan_dict(plan())


EXAMPLES = re.findall(
    r"```toml\n(.*?)```",
    (Path(__file__).resolve().parents[2] / "docs/rig-file.md").read_text(encoding="utf-8"),
    re.S,
)


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_rig_of_the_manual_makes_a_plan_that_says_what_is_missing(text: str) -> None:
    found = raising_plan(weighed(), parse_rig(text), PlanContext(on=DAY))
    assert found.objections and found.verdict.startswith("objection: ")
    assert all(h.after is not None or h.refused for h in found.helps)
    json.dumps(plan_dict(found), allow_nan=False)


def test_without_ratings_longer_legs_are_compared_by_their_force() -> None:
    found = raising_plan(weighed(), RIG, context(gear={}))
    longer = next(h for h in found.helps if h.title == "Legs 50 % longer")
    assert longer.unit == "kg" and longer.before is not None and longer.after is not None
    assert longer.after < longer.before
