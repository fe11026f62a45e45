"""A frame of seventeen members through its four states, its cutting list, and what it weighs."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from oakum.ground.estimate import exact
from oakum.lift import Body, BodyWater, Part, Place, Shape, Stuff, weighing_of
from oakum.lift.body.likely_solid import likely_solid
from oakum.lift.body.placing import placed_mesh
from oakum.lift.cradle import (
    CradleError,
    Frame,
    FrameQuestion,
    FrameState,
    Member,
    Rest,
    Stand,
    added_mass_input,
    assembly,
    cutting_list,
    end_cuts,
    frame_answer,
    frame_numbers,
    frame_parts,
    frame_splash_parts,
    joints,
    least_edge_m,
    rectangle,
    round_bar,
    round_tube,
    steel_grade,
    timber_grade,
    tube,
    typed_section,
)
from oakum.lift.cradle.level import stop_moments

C24 = timber_grade("C24")
WET = exact(1050.0, "soaked timber")
BIG, SMALL, BOARD = rectangle(0.10, 0.15), rectangle(0.075, 0.10), rectangle(0.05, 0.10)
EYES = ((0.35, -0.5), (0.35, 0.5), (2.05, -0.5), (2.05, 0.5))
SLEEPERS = tuple((x, y) for x in (0.1, 1.2, 2.3) for y in (-0.5, 0.5))


def cradle() -> Frame:
    """Two runners, five bearers, four posts, four rails, two braces: an invented cradle of seventeen members."""
    found = []
    for name, y in (("A", -0.5), ("B", 0.5)):
        found.append(Member(f"runner {name}", "runner", BIG, C24, (0.0, y, 0.075), (2.4, y, 0.075), WET))
    for i, x in enumerate((0.2, 0.7, 1.2, 1.7, 2.2), 1):
        found.append(Member(f"bearer {i}", "bearer", SMALL, C24, (x, -0.6, 0.2), (x, 0.6, 0.2), WET))
    for i, (x, y) in enumerate(((0.05, -0.5), (0.05, 0.5), (2.35, -0.5), (2.35, 0.5)), 1):
        found.append(Member(f"post {i}", "post", SMALL, C24, (x, y, 0.15), (x, y, 0.75), WET))
    for i, y in enumerate((-0.5, 0.5), 1):
        found.append(Member(f"long rail {i}", "rail", BOARD, C24, (0.1, y, 0.7), (2.3, y, 0.7), WET))
        found.append(Member(f"brace {i}", "brace", BOARD, C24, (0.10, y, 0.60), (0.55, y, 0.15), WET))
    for i, x in enumerate((0.05, 2.35), 1):
        found.append(Member(f"cross rail {i}", "rail", BOARD, C24, (x, -0.4625, 0.7), (x, 0.4625, 0.7), WET))
    return Frame("cradle", tuple(found))


def states(**changes: object) -> tuple[FrameState, ...]:
    """In water, clear, on deck, on a lorry, with a find of about 900 kg in air."""
    rng = np.random.default_rng(5)
    air = rng.normal(900.0, 40.0, 500) * 9.80665
    centre = np.column_stack([rng.normal(1.25, 0.02, 500), rng.normal(0.0, 0.02, 500)])
    eyes = tuple(Stand(f"eye {i}", at, True, wll_kg=1500.0) for i, at in enumerate(EYES, 1))
    stands = tuple(Stand(f"sleeper {i}", at, False, bearing_m=0.1) for i, at in enumerate(SLEEPERS, 1))
    level = {"friction": 0.3, "lashings_n": 12e3, "height_m": 0.45, "edge_m": 0.5, "side_source": "typed"}
    made = (
        FrameState(
            "in water", eyes, 0.25 * air, centre, "short", 1.3, "typed", sling_deg=60.0, skew_factor=1.25
        ),
        FrameState("clear", eyes, air, centre, "short", 1.36, "typed", sling_deg=60.0, skew_factor=1.25),
        FrameState("on deck", stands, air, centre, "medium", 1.2, "typed", side_share=0.4, **level),  # type: ignore[arg-type]
        FrameState("on lorry", stands, air, centre, "short", 1.2, "typed", side_share=0.8, **level),  # type: ignore[arg-type]
    )
    return tuple(replace(s, **changes) for s in made)  # type: ignore[arg-type]


RESTS = tuple(Rest(f"bed {i}", f"bearer {i}", 0.3, 0.9, stiffness_n_m=4e5) for i in range(1, 6))


def question(**changes: object) -> FrameQuestion:
    return replace(FrameQuestion(cradle(), RESTS, states(), 1027.0, 0.006), **changes)  # type: ignore[arg-type]


@cache
def whole():  # type: ignore[no-untyped-def]
    return frame_answer(question())


def said(found: object, part: str) -> bool:
    return any(part in o for o in found.objections)  # type: ignore[attr-defined]


def test_the_cradle_goes_through_its_four_states_without_objection() -> None:
    found = whole()
    assert found.objections == ()
    assert [s.key for s in found.states] == ["in water", "clear", "on deck", "on lorry"]
    assert all(len(s.members) == 7 for s in found.states)
    governing = found.governing
    assert governing is not None and 0.3 < (governing[1].utilisation or 0.0) < 1.0
    for state in found.states:
        used = [c.utilisation or 0.0 for c in state.checks]
        assert used == sorted(used, reverse=True)


def test_stands_carry_find_and_frame_with_the_factors_of_the_state() -> None:
    clear = frame_answer(question(states=states(centre_m=np.array([1.25, 0.0]))[1:2])).state("clear")
    own = frame_numbers(cradle(), 1027.0).mass_kg[1] * 9.80665
    least = 1.36 * 1.25 * (clear.find_n.p95 + own)
    total = sum(s.force_n for s in clear.stands)
    assert total == pytest.approx(least, rel=1e-6)
    worst = sum(s.force_n for s in whole().state("clear").stands)  # each stand at its own worst centre
    assert least < worst < 1.15 * least
    wet = whole().state("in water")
    assert sum(s.force_n for s in wet.stands) < 0.3 * total


def test_the_find_off_the_middle_loads_the_eyes_on_its_side() -> None:
    clear = {s.name: s.force_n for s in whole().state("clear").stands}
    assert clear["eye 3"] > clear["eye 1"] and clear["eye 4"] > clear["eye 2"]


def test_creep_is_counted_where_the_load_lasts() -> None:
    deck = whole().state("on deck").members[2]
    road = whole().state("on lorry").members[2]
    assert deck.lasting_sag_m == pytest.approx(3.0 * deck.sag_m)
    assert road.lasting_sag_m == road.sag_m


def test_inclined_legs_press_the_runners_together() -> None:
    plumb = frame_answer(question(states=states(sling_deg=90.0)[1:2])).state("clear")
    leaning = whole().state("clear")

    def use(state: object, key: str) -> bool:
        return any(c.key == key for c in state.checks)  # type: ignore[attr-defined]

    assert use(leaning, "runner A:thrust") and use(leaning, "bearer 1:thrust")
    assert not use(plumb, "runner A:thrust")
    pull = next(c for c in leaning.checks if c.key == "point:eye 3")
    force = next(s.force_n for s in leaning.stands if s.name == "eye 3")
    assert pull.demand == pytest.approx(force / math.sin(math.radians(60.0)) / 9.80665)


def test_everything_that_is_not_known_is_an_objection() -> None:
    bare = states(
        duration=None, vertical_factor=None, friction=None, lashings_n=None, height_m=None, edge_m=None,
        sling_deg=None, skew_factor=None, side_share=None,
    )  # fmt: skip
    bare = tuple(
        replace(s, stands=tuple(replace(x, wll_kg=None, bearing_m=None) for x in s.stands)) for s in bare
    )
    rests = tuple(replace(r, stiffness_n_m=None) for r in RESTS)
    found = frame_answer(question(states=bare, rests=rests, sag_m=None, service_class_known=False))
    for part in (
        "counted as permanent",
        "by how much motion adds",
        "a skew factor is not given",
        "how the sling legs stand",
        "no tag, no rating",
        "on what length the member bears",
        "which level acceleration",
        "equal springs are taken",
        "not known how much the find bears",
        "service class 3 is taken",
    ):
        assert said(found, part), part
    level = frame_answer(
        question(
            states=states(friction=None, lashings_n=None, height_m=None, side_source="", vertical_source="")[
                3:
            ]
        )
    )
    for part in (
        "friction under the frame",
        "not known what they hold",
        "tipping is not checked",
        "has no source",
    ):
        assert said(level, part), part


def test_too_heavy_too_far_out_and_too_fast_object() -> None:
    heavy = states(find_n=np.full(500, 4000.0 * 9.81))
    found = frame_answer(question(states=heavy))
    assert said(found, "bending:") and said(found, 'lifting point "eye') and said(found, "mm allowed")
    quick = frame_answer(question(states=states(side_share=0.5, height_m=1.2, edge_m=0.4)[3:]))
    assert said(quick, "less than the 0.8 g") and said(quick, "it tips")
    slides = frame_answer(question(states=states(side_share=0.9, friction=0.1, lashings_n=5e3)[3:]))
    assert said(slides, "must hold") and said(slides, "kN there")


def test_rails_that_hold_the_find_sideways_are_checked_between_their_joints() -> None:
    state = states(stops=("long rail 1", "long rail 2"))[3]
    found = frame_answer(question(states=(state,)))
    assert any(c.key == "long rail 1, sideways:thrust" for c in found.states[0].checks)
    words: list[str] = []
    moment = stop_moments(question(), state, joints(cradle()), 1000.0, words)["long rail 1"]
    assert words == [] and moment == pytest.approx(0.8 * 500.0 * 2.2 / 8.0, rel=0.02)


def test_a_post_under_a_stand_is_checked_as_a_strut() -> None:
    state = states()[2]
    on_posts = replace(state.stands[0], post="post 1")
    found = frame_answer(question(states=(replace(state, stands=(on_posts, *state.stands[1:])),)))
    strut = next(c for c in found.states[0].checks if c.key == "post 1:thrust")
    assert strut.utilisation is not None and 0.0 < strut.utilisation < 0.2


def test_typed_shares_are_taken_as_they_are() -> None:
    shares = (0.4, 0.3, 0.2, 0.1, 0.0)
    rests = tuple(replace(r, share=s) for r, s in zip(RESTS, shares, strict=True))
    found = frame_answer(question(rests=rests, states=states()[1:2])).state("clear")
    assert found.members[2].moment_nm > 3.0 * found.members[5].moment_nm
    with pytest.raises(CradleError, match=r"add up to 0\.900"):
        frame_answer(question(rests=(replace(rests[0], share=0.3), *rests[1:])))


def test_a_frame_that_cannot_be_is_refused() -> None:
    for change, part in (
        ({"rests": ()}, "rests on nothing"),
        ({"rests": (Rest("r", "bearer 9", 0.0, 0.5),)}, 'no member "bearer 9"'),
        ({"rests": (Rest("r", "bearer 1", 0.5, 1.5, 1.0),)}, "its member from 0 to 1.2 m"),
        ({"rests": (Rest("r", "post 1", 0.1, 0.5, 1.0),)}, "a post: rest it on a runner or bearer"),
        ({"states": ()}, "at least one state"),
        ({"states": states(vertical_factor=0.9)}, "is at least 1"),
        ({"states": states(find_n=np.array([-1.0]))}, "draws above 0 N"),
        ({"states": states(stands=(Stand("s", (5.0, 5.0), False),))}, "is under no runner or bearer"),
        ({"states": states(stands=(Stand("s", (0.2, -0.5), False),))}, "enough supports|it tips"),
        ({"states": states(centre_m=np.array([9.0, 0.0]))}, "does not lie over its beds"),
        ({"water_kg_m3": 0.0}, "density of the water"),
    ):
        with pytest.raises(CradleError, match=part):
            frame_answer(question(**change))
    one = Member("m", "runner", BIG, C24, (0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    with pytest.raises(CradleError, match="its own name"):
        Frame("f", (one, one))
    with pytest.raises(CradleError, match="has no length"):
        Frame("f", (replace(one, end_m=(0.0, 0.0, 0.0)),))
    with pytest.raises(CradleError, match="not level"):
        Frame("f", (replace(one, end_m=(1.0, 0.0, 0.4)),))
    with pytest.raises(CradleError, match="has no members"):
        Frame("f", ())


def test_joints_are_found_named_and_told_apart() -> None:
    met = joints(cradle())
    kinds = {(j.first, j.second): j.how for j in met}
    assert kinds["runner A", "bearer 3"] == "laps" and kinds["runner A", "post 1"] == "butts"
    assert kinds["runner A", "brace 1"] == "butts" and kinds["post 1", "long rail 1"] == "butts"
    assert [j.name for j in met] == [f"J{i}" for i in range(1, len(met) + 1)]
    assert ("runner A", "runner B") not in kinds
    crossed = Frame(
        "x",
        (
            Member("a", "runner", BIG, C24, (0.0, 0.0, 0.0), (2.0, 0.0, 0.0)),
            Member("b", "bearer", BIG, C24, (1.0, -1.0, 0.0), (1.0, 1.0, 0.0)),
            Member("c", "bearer", BIG, C24, (5.0, -1.0, 0.0), (5.0, 1.0, 0.0)),
        ),
    )
    assert [j.how for j in joints(crossed)] == ["cuts into"]
    words = " ".join(frame_answer(FrameQuestion(crossed, (Rest("r", "b", 0.5, 1.5, 1.0),), (
        replace(states()[2], stands=tuple(Stand(n, at, False, bearing_m=0.1) for n, at in (
            ("1", (0.1, 0.0)), ("2", (1.9, 0.0)), ("3", (5.0, -0.9)), ("4", (5.0, 0.9)), ("5", (1.0, 0.9)),
        )), centre_m=np.array([1.0, 0.0])),), 1027.0, 0.01)).objections)  # fmt: skip
    assert "run through each other" in words and 'member "c" meets no other' in words


def test_the_cutting_list_has_lengths_counts_and_angles() -> None:
    found = cutting_list(
        cradle(), {"100 x 150 mm": (2.4, 4.8), "75 x 100 mm": (3.0,), "50 x 100 mm": (3.0, 4.2)}, 0.003
    )
    by_name = {name: line for line in found.lines for name in line.members}
    assert by_name["bearer 1"].count == 5 and by_name["bearer 1"].length_m == 1.2
    assert by_name["brace 1"].start_off_deg == pytest.approx(45.0) and by_name["brace 1"].parallel is False
    assert by_name["brace 1"].length_m == pytest.approx(math.hypot(0.45, 0.45) + 0.1, abs=1e-3)
    assert (
        "ends 45° off square and 45° off square, cuts leaning against each other" in by_name["brace 1"].words
    )
    assert "square ends" in by_name["runner A"].words and by_name["runner A"].parallel is None
    totals = {section: total for section, _, total in found.totals_m}
    assert totals["100 x 150 mm"] == pytest.approx(4.8) and totals["75 x 100 mm"] == pytest.approx(
        5 * 1.2 + 4 * 0.6
    )
    assert found.objections == ()
    for use in found.stock:
        assert sum(use.pieces_m) <= use.stock_m + 1e-9 and use.left_m >= 0.0
    sawn = sorted(p for use in found.stock for p in use.pieces_m)
    assert sawn == sorted(line.length_m for line in found.lines for _ in range(line.count))


def test_a_cutting_list_without_stock_or_saw_says_so() -> None:
    assert "saw cut is not known" in cutting_list(cradle(), {}, None).objections[0]
    missing = cutting_list(cradle(), {"100 x 150 mm": (2.0,)}, 0.003).objections
    assert any("longer than any on sale" in o for o in missing) and any(
        "not known which lengths" in o for o in missing
    )


def test_a_brace_between_two_parallel_members_has_parallel_cuts() -> None:
    low = Member("low", "runner", BOARD, C24, (0.0, 0.0, 0.0), (2.0, 0.0, 0.0))
    high = Member("high", "rail", BOARD, C24, (0.0, 0.0, 1.0), (2.0, 0.0, 1.0))
    slant = Member("slant", "brace", BOARD, C24, (0.4, 0.0, 0.05), (1.3, 0.0, 0.95))
    frame = Frame("f", (low, high, slant))
    cuts = end_cuts(slant, frame, joints(frame))
    assert (cuts.start_off_deg, cuts.end_off_deg) == pytest.approx((45.0, 45.0)) and cuts.parallel is True
    assert end_cuts(low, frame, joints(frame)).start_off_deg == 0.0


def test_the_assembly_names_every_member_joint_and_piece() -> None:
    found = assembly(cradle())
    assert len(found.members) == 17 and len(found.order) == 17
    assert found.order[:2] == ("runner A", "runner B") and found.order[-1].startswith("brace")
    lines = cutting_list(cradle(), {}, None).lines
    for member in found.members:
        assert member.name in lines[member.piece - 1].members


def test_the_frames_numbers_are_volumes_times_densities() -> None:
    found = frame_numbers(cradle(), 1027.0)
    volume = (
        2 * 2.4 * 0.015
        + (5 * 1.2 + 4 * 0.6) * 0.0075
        + (2 * 2.2 + 2 * 0.925 + 2 * math.hypot(0.45, 0.45)) * 0.005
    )
    assert found.displaced_m3 == pytest.approx(volume)
    assert found.mass_kg == pytest.approx((1050.0 * volume, 1050.0 * volume))
    assert found.submerged_kg[0] == pytest.approx(23.0 * volume)
    assert found.centre_m[1] == pytest.approx(0.0, abs=1e-12) and 1.0 < found.centre_m[0] < 1.2
    dry = Frame("dry", tuple(replace(m, density_kg_m3=None) for m in cradle().members))
    spread = frame_numbers(dry, 1027.0)
    assert spread.mass_kg[0] < 0.5 * spread.mass_kg[1] and spread.submerged_kg[0] < 0.0
    assert said(frame_answer(question(frame=dry)), "the frame may float")


def test_tubes_hold_air_or_water_as_their_ends_are() -> None:
    section = tube(0.05, 0.05, 0.003)
    steel = steel_grade("S235")
    frame = {
        ends: Frame(
            "f", (Member("t", "runner", section, steel, (0.0, 0.0, 0.0), (2.0, 0.0, 0.0), ends=ends),)
        )  # type: ignore[arg-type]
        for ends in ("open", "sealed", None)
    }
    open_, sealed = frame_numbers(frame["open"], 1027.0), frame_numbers(frame["sealed"], 1027.0)
    inside = 2.0 * (section.outside_m2 - section.area_m2)
    assert open_.trapped_m3 == pytest.approx(inside) and sealed.trapped_m3 == 0.0
    assert sealed.displaced_m3 - open_.displaced_m3 == pytest.approx(inside)
    stands = (Stand("1", (0.1, 0.0), False, bearing_m=0.1), Stand("2", (1.9, 0.0), False, bearing_m=0.1))
    rest = (Rest("r", "t", 0.5, 1.5, 1.0),)
    ask = replace(states()[2], stands=stands, centre_m=np.array([1.0, 0.0]))
    for ends, part in (("sealed", "is sealed"), (None, "open, drilled or sealed")):
        assert said(frame_answer(FrameQuestion(frame[ends], rest, (ask,), 1027.0, 0.1)), part)


def test_added_mass_is_asked_with_outline_height_and_openness() -> None:
    found = added_mass_input(cradle())
    assert (found.length_m, found.width_m) == pytest.approx((2.4, 1.2))
    assert found.height_m == pytest.approx(0.75)
    over_bearers = 2 * 2.4 * 0.1 + 5 * 0.075 * (1.2 - 2 * 0.1)  # bearers outside the runners
    assert found.solid_m2 == pytest.approx(over_bearers + 2 * 0.05 * 0.9 - 2 * 0.0, rel=0.03)
    assert found.open_percent == pytest.approx(100.0 * (1.0 - found.solid_m2 / 2.88))


def shape(part: Part) -> tuple[np.ndarray, np.ndarray]:
    solid = likely_solid(part, 1027.0)
    mesh = placed_mesh(part, solid.to_mesh())
    return mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)


def test_parts_of_the_frame_lie_where_its_members_are() -> None:
    by_name = {p.name: p for p in frame_parts(cradle(), (1.0, 2.0, 3.0))}
    low, high = shape(by_name["frame: bearer 1"])
    assert low == pytest.approx([1.1625, 1.4, 3.15]) and high == pytest.approx([1.2375, 2.6, 3.25])
    low, high = shape(by_name["frame: post 4"])
    assert low == pytest.approx([3.30, 2.4625, 3.15]) and high == pytest.approx([3.40, 2.5375, 3.75])
    low, high = shape(by_name["frame: brace 2"])
    half = 0.05 / math.sqrt(2.0)
    assert low == pytest.approx([1.10 - half, 2.475, 3.15 - half]) and high == pytest.approx(
        [1.55 + half, 2.525, 3.6 + half]
    )
    pole = Member("pole", "post", round_bar(0.1), C24, (0.0, 0.0, 0.0), (1.0, 0.0, 1.0), WET)
    low, high = shape(frame_parts(Frame("f", (pole,)))[0])
    assert (low + high) / 2.0 == pytest.approx([0.5, 0.0, 0.5], abs=1e-9)


def test_the_weighing_takes_the_frame_as_weight_buoyancy_and_trapped_water() -> None:
    steel = steel_grade("S275")
    members = (
        Member(
            "open", "runner", tube(0.05, 0.05, 0.003), steel, (0.0, 0.0, 0.0), (2.0, 0.0, 0.0), ends="open"
        ),
        Member(
            "sealed",
            "runner",
            round_tube(0.06, 0.003),
            steel,
            (0.0, 1.0, 0.0),
            (2.0, 1.0, 0.0),
            ends="sealed",
        ),
        Member("timber", "bearer", SMALL, C24, (0.5, 0.0, 0.1), (0.5, 1.0, 0.1), WET),
    )
    frame = Frame("mixed", members)
    stone = Part(
        "stone", "object", Shape("box", tuple((n, exact(0.5)) for n in ("length", "width", "height"))),
        Place(exact(1.0), exact(0.5), exact(1.0)), Stuff("stone", exact(2600.0)),
    )  # fmt: skip
    body = Body("b", BodyWater("typed", exact(1027.0)), (stone, *frame_parts(frame)))
    alone = Body("a", BodyWater("typed", exact(1027.0)), (stone,))
    with_frame, without = (weighing_of(b, rng=np.random.default_rng(1), draws=50).sums for b in (body, alone))
    numbers = frame_numbers(frame, 1027.0)
    assert float(with_frame.mass_kg[0] - without.mass_kg[0]) == pytest.approx(numbers.mass_kg[0])
    assert float(with_frame.volume_m3[0] - without.volume_m3[0]) == pytest.approx(
        numbers.displaced_m3, rel=0.02
    )
    assert float(with_frame.water_clear_kg[0]) == pytest.approx(1027.0 * numbers.trapped_m3, rel=0.02)
    with pytest.raises(CradleError, match="a typed section has no shape"):
        odd = typed_section(
            "angle", width_m=0.05, depth_m=0.05, area_m2=5e-4, inertia_m4=1e-7, modulus_m3=3e-6, side_inertia_m4=1e-7,
            side_modulus_m3=3e-6, shear_m2=2e-4,
        )  # fmt: skip
        frame_parts(Frame("f", (replace(members[0], section=odd),)))


def test_the_splash_zone_takes_the_members_one_by_one() -> None:
    parts = {p.name: p for p in frame_splash_parts(cradle())}
    assert len(parts) == 17 and min(p.base_m for p in parts.values()) == 0.0
    assert sum(p.volume_m3 for p in parts.values()) == pytest.approx(
        frame_numbers(cradle(), 1027.0).displaced_m3
    )
    bearer, post, runner = (parts[f"frame: {n}"] for n in ("bearer 1", "post 1", "runner A"))
    assert (bearer.base_m, bearer.height_m) == pytest.approx((0.15, 0.1))
    assert bearer.plan_m2 == pytest.approx(1.2 * 0.075) and bearer.waterplane_m2 == pytest.approx(1.2 * 0.075)
    assert runner.added_m3 > math.pi / 4.0 * 0.1**2 * 2.4 and post.added_m3 < 0.2 * bearer.added_m3
    square = Frame(
        "s", (Member("s", "runner", rectangle(0.1, 0.1), C24, (0.0, 0.0, 0.0), (3.0, 0.0, 0.0), WET),)
    )
    exact_long = 1.513 * math.pi / 4.0 * 0.01 * 3.0
    assert exact_long < frame_splash_parts(square)[0].added_m3 < 1.04 * exact_long


def test_the_edge_of_the_stands_is_the_hull_round_them() -> None:
    square = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0], [1.0, 0.5]])
    assert least_edge_m(square, np.array([0.8, 0.3])) == pytest.approx(0.3)
    assert least_edge_m(square, np.array([2.5, 0.5])) == pytest.approx(-0.5)
    with pytest.raises(CradleError, match="at least three points"):
        least_edge_m(square[:2], np.array([0.0, 0.0]))
