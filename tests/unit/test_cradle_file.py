"""The cradle file: what it takes, and that everything wrong is listed at once with line, key and what to write."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from oakum.lift.cradle import STARTING_CRADLES, CradleError, CradleFileError, parse_cradle, starting_cradle

ROOT = Path(__file__).resolve().parents[2]
MANUAL = (ROOT / "docs/cradle-file.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", MANUAL, re.S)
SMALL = EXAMPLES[0]
TOUCHING = EXAMPLES[1]


def problems(text: str) -> list[tuple[int, str, str]]:
    with pytest.raises(CradleFileError) as caught:
        parse_cradle(text, "cradle.toml")
    return [(p.line, p.key, p.message) for p in caught.value.problems]


def wrong(text: str, old: str, new: str) -> list[tuple[int, str, str]]:
    assert old in text, old
    return problems(text.replace(old, new, 1))


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_example_of_the_manual_parses(text: str) -> None:
    plan = parse_cradle(text)
    assert plan.title and (plan.frame is not None or plan.straps is not None)


def test_the_manual_names_every_key() -> None:
    keys: set[str] = set()
    for path in (ROOT / "src/oakum/lift/cradle").glob("*file*.py"):
        code = path.read_text(encoding="utf-8")
        keys |= set(re.findall(r"(?:one|pick|yes|degrees|rows|texts|tag_kg|point2?)\(\s*\w+,\s*\"([a-z_]+)\"", code))
        keys |= set(re.findall(r"\.(?:text|raw|table_of|number|estimate|has)\(\s*\"([a-z_]+)\"", code))
    assert len(keys) > 50
    assert not {key for key in keys if not re.search(rf"(?<![a-z_]){key}(?![a-z_])", MANUAL)}


def test_the_cradles_to_begin_with_say_that_they_are_invented_and_stand_in_the_examples() -> None:
    for one, name in zip(STARTING_CRADLES, ("capstan_cradle", "platter_tray"), strict=True):
        text = starting_cradle(one.key)
        plan = parse_cradle(text)
        assert "edit" in plan.mark and "invented" in plan.mark and "invented" in plan.source
        assert (ROOT / f"docs/examples/{name}.toml").read_text(encoding="utf-8") == text
    with pytest.raises(CradleError, match="frame, tray"):
        starting_cradle("boat")


def test_repeats_make_nineteen_members_of_seven_tables() -> None:
    text = starting_cradle("frame")
    plan = parse_cradle(text)
    assert plan.frame is not None
    assert text.count("[[member]]") == 7 and len(plan.frame.members) == 19
    assert plan.frame.member("bearer 5").start_m == (1.56, 0.1, 0.2)
    posts = [plan.frame.member(f"post {i}").start_m[:2] for i in range(1, 5)]
    assert posts == [(0.05, 0.3), (0.05, 1.5), (1.95, 0.3), (1.95, 1.5)]
    assert [r.member for r in plan.rests] == [f"bearer {i}" for i in range(1, 6)]
    assert plan.rests[0].stiffness_n_m == pytest.approx(5e5)
    assert [len(s.stands) for s in plan.states] == [4, 4, 6, 6]
    assert plan.stock() == dict.fromkeys(("100 x 150 mm", "100 x 100 mm", "50 x 100 mm"), (2.4, 3.0, 3.6, 4.8))


def test_what_is_left_out_is_not_known() -> None:
    plan = parse_cradle(SMALL.replace("service_class = 3\n", "").replace('sag = "4 mm"\n', ""))
    assert not plan.service_class_known and plan.sag_m is None and plan.kerf_m is None
    state = plan.states[0]
    known = (state.vertical_factor, state.duration, state.sling_deg, state.skew_factor, state.friction)
    assert known == (None,) * 5
    assert plan.rests[0].share is None and plan.rests[0].stiffness_n_m is None
    same = parse_cradle(SMALL.replace('sag = "4 mm"', 'sag = "not known"'))
    assert same.sag_m is None


def test_states_come_in_the_order_of_a_lift_and_sizes_in_any_unit() -> None:
    turned = SMALL.replace('"in water"', '"x"').replace('"clear"', '"in water"').replace('"x"', '"clear"')
    assert [s.key for s in parse_cradle(turned).states] == ["in water", "clear"]
    inches = parse_cradle(SMALL.replace('"75 x 100 mm"', '"3 x 4 in"'))
    assert inches.frame is not None
    section = inches.frame.members[0].section
    assert (section.width_m, section.depth_m) == pytest.approx((0.0762, 0.1016))


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "says"),
    [
        ('grade = "C16"', 'grade = "C15"', 8, 'grade of section "beam"', "not a strength class"),
        ('grade = "C16"\n', "", 6, 'grade of section "beam"', "what is not graded has no strength"),
        ('timber = "75 x 100 mm"', 'timber = "75 mm"', 7, 'timber of section "beam"', "expected 2 sizes"),
        ('timber = "75 x 100 mm"', 'timber = "75 x 100"', 7, 'timber of section "beam"', "unit"),
        ('timber = "75 x 100 mm"', 'tube = "50 x 50 x 30 mm"', 7, 'tube of section "beam"', "cannot have a wall"),
        ('section = "beam"', 'section = "bream"', 13, 'section of member "runner"', 'no [section."bream"]'),
        ('kind = "runner"', 'kind = "joist"', 12, 'kind of member "runner"', "none of"),
        ('z = "0.05 m" }\nrep', 'z = "0.15 m" }\nrep', 15, 'to of member "runner"', "lies level"),
        ("count = 2, y", "count = 1, y", 16, 'count of repeat of member "runner"', "at least 2"),
        ('{ count = 3, x = "0.3 m" }', "{ count = 3 }", 24, 'repeat of member "bearer"', "no distance"),
        ('member = "bearer *"', 'member = "barer *"', 28, 'member of rest "bed"', 'no member "barer *"'),
        ('to = "0.6 m"', 'to = "0.9 m"', 30, 'to of rest "bed"', "0 m <= from < to <= 0.8 m"),
        ('at = { x = "0.1 m", y = "0.1 m" }', 'at = { x = "0.1 m", y = "0.3 m" }', 35, 'at of stand "eye"', "under no"),
        ('state = "in water"', 'state = "afloat"', 40, "state of state 1", "none of"),
        ("service_class = 3", "service_class = 1", 3, "service_class", "service class 3"),
        ('at = { x = "-0.5 m", y = "-0.4 m", z = "-0.2 m" }\n', "", 1, "at", "is missing"),
        ('sag = "4 mm"', 'sagg = "4 mm"', 4, "sagg", 'did you mean "sag"?'),
    ],
)
def test_a_mistake_is_said_with_its_line_and_key(old: str, new: str, line: int, key: str, says: str) -> None:
    found = wrong(SMALL, old, new)
    assert any(f[:2] == (line, key) and says in f[2] for f in found), found


def test_one_mistake_in_a_section_is_said_once_and_not_again_by_what_rests_on_it() -> None:
    assert len(wrong(SMALL, '"C16"', '"C15"')) == 1


def test_too_few_supports_are_refused() -> None:
    two = SMALL.replace(', { count = 2, y = "0.6 m" }]', "]")
    found = problems(two)
    assert [f[1] for f in found] == ['stands of state "in water"', 'stands of state "clear"']
    assert all("too few supports" in f[2] and "do not lie in one line" in f[2] for f in found)
    none = wrong(SMALL, 'kind = "lifting point"', 'kind = "stands on"')
    assert all("too few supports: 0 lifting points" in f[2] for f in none) and len(none) == 2


def test_shares_are_all_or_none_and_add_up() -> None:
    some = SMALL.replace('to = "0.6 m"\n', 'to = "0.6 m"\nshare = "20 %"\n')
    assert any("add up to 60.0 %" in message for _, _, message in problems(some))
    right = parse_cradle(some.replace('"20 %"', '"33.333 %"'))
    assert right.rests[2].share == pytest.approx(1 / 3, abs=1e-4)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("count = 4\nwidth", "count = 1\nwidth", "at least 2"),
        ('angle = "90 deg"\n', "", "how its legs stand from the horizontal"),
        ('angle = "90 deg"', 'angle = "120 deg"', "up to 90 deg"),
        ('shape = "round"', 'shape = "oval"', "none of"),
        ('width = "100 mm"\n', "", "the width of a strap"),
        ('area = "0.4 m2"\n', "", "the area in contact"),
        ('share = "25 %"', 'share = "40 %"', "carry more than the find weighs"),
        ('["25 %", "35 kPa"]', '["25 %", "15 kPa"]', "rise from point to point"),
        ('["25 %", "35 kPa"]', '"25 %"', "pairs of strain and stress"),
        ('vertical_factor = "1.3"', 'vertical_factor = "0.9"', "1 or more"),
    ],
)
def test_what_touches_the_find_is_checked(old: str, new: str, says: str) -> None:
    assert any(says in message for _, _, message in wrong(TOUCHING, old, new))


def test_a_tray_says_whether_its_find_bends() -> None:
    text = starting_cradle("tray")
    assert any("what drapes" in m for _, _, m in wrong(text, 'bends = "yes"\n', ""))
    plan = parse_cradle(text.replace('spacing = "80 mm"\n', ""))
    assert plan.tray is not None and plan.tray.spacing_m is None and plan.tray.find.bends


def test_an_empty_cradle_and_what_is_no_toml_are_refused() -> None:
    assert any("carries nothing" in m for _, _, m in problems('title = "Nothing"\n'))
    assert problems('title = "Half\n')[0][0] == 1
    assert any("a frame comes first" in m for _, _, m in problems(TOUCHING + '\n[[rest]]\nname = "a"\n'))
