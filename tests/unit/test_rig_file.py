"""The rig file: what it takes, and that everything wrong is listed at once with line, key and what to write."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from oakum.lift.raising import RigFileError, example_rig, parse_rig
from oakum.lift.raising.rig_plan import RigPlan

ROOT = Path(__file__).resolve().parents[2]
MANUAL = (ROOT / "docs/rig-file.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", MANUAL, re.S)

TWO_LEGS = """title = "Two legs"
cell_unit = "kg"

[hook]
place = "over the hanging point"
level = "in air"
height = "2 m"
gear = "H-01"

[[leg]]
name = "fore"
at = { x = "1 m", y = "0 m", z = "0 m" }
wll = "2 t"
kind = "polyester"

[[leg]]
name = "aft"
at = { x = "-1 m", y = "0 m", z = "0 m" }
wll = "20 kN"
"""


def problems(text: str) -> list[tuple[int, str, str]]:
    with pytest.raises(RigFileError) as caught:
        parse_rig(text, "rig.toml")
    return [(p.line, p.key, p.message) for p in caught.value.problems]


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_example_of_the_manual_parses(text: str) -> None:
    rig = parse_rig(text)
    assert rig.title and (rig.legs or rig.spreader or rig.bags)


def test_the_manual_has_examples_of_everything() -> None:
    rigs = [parse_rig(text) for text in EXAMPLES]
    assert any(r.spreader for r in rigs) and any(r.bags for r in rigs)
    assert any(r.turning and r.turning[0].frame for r in rigs) and any(r.rolling for r in rigs)
    assert any(r.work.steps for r in rigs)


def keys_read() -> set[str]:
    """Every key that the reading code asks for."""
    found: set[str] = set()
    for path in (ROOT / "src/oakum/lift/raising").glob("rig_*.py"):
        code = path.read_text(encoding="utf-8")
        found |= set(re.findall(r"\(\s*\w+,\s*\"([a-z_0-9]+)\"", code))
        found |= set(re.findall(r"\.(?:text|raw|table_of|truth|number|estimate)\(\s*\"([a-z_0-9]+)\"", code))
    return found


def test_the_manual_names_every_key() -> None:
    keys = keys_read()
    assert len(keys) > 80
    assert not {key for key in keys if not re.search(rf"(?<![a-z_]){key}(?![a-z_])", MANUAL)}


def test_the_example_of_the_capstan_parses_and_says_that_it_is_invented() -> None:
    rig = parse_rig(example_rig())
    assert len(rig.legs) == 4 and rig.bags is not None and len(rig.bags.bags) == 3
    assert len({leg.at_m[2] for leg in rig.legs}) == 3
    assert "invented" in rig.title and "invented" in rig.mark and "invented" in rig.source


def test_a_tag_in_kilonewtons_is_the_mass_it_holds_up() -> None:
    fore, aft = parse_rig(TWO_LEGS).legs
    assert fore.piece.wll_kg == 2000.0
    assert aft.piece.wll_kg == pytest.approx(20_000 / 9.80665)


def test_what_is_left_out_is_not_known() -> None:
    rig = parse_rig(TWO_LEGS)
    assert rig.sharing is None and rig.hitches is None and rig.work.pause_depth_m is None
    assert rig.legs[1].kind is None and rig.legs[0].hitch is None
    said = TWO_LEGS.replace('kind = "polyester"', 'kind = "not known"').replace('"kg"', '"not known"')
    assert parse_rig(said).legs[0].kind is None and parse_rig(said).cell_unit == ""


def test_all_errors_are_listed_at_once_in_the_order_of_the_file() -> None:
    text = """titel = "Two legs"
cell_unit = "ton"

[hook]
place = "over the hangingpoint"
height = 2

[[leg]]
name = "fore"
at = { x = "1 m", y = "0 m" }
wll = "2 ton"

[[leg]]
name = "fore"
at = { x = "-1 m", y = "0 m", z = "0 m" }
kind = "polyster"
"""
    found = problems(text)
    assert [line for line, _, _ in found] == sorted(line for line, _, _ in found)
    lines = {line: message for line, _, message in found}
    assert 'did you mean "title"?' in lines[1]
    assert "more than one meaning" in lines[2] and '"kN"' in lines[2]
    assert 'did you mean "over the hanging point"?' in lines[5]
    assert 'height = "1.2 m"' in lines[6]
    assert "write all of" in lines[10]
    assert "short ton" in lines[11]
    assert "line 9" in lines[14]
    assert 'did you mean "polyester"?' in lines[16]


def test_the_message_names_file_line_and_key() -> None:
    with pytest.raises(RigFileError, match=r"rig.toml: 1 thing to put right\n  line 7, height of hook: "):
        parse_rig(TWO_LEGS.replace('"2 m"', "2"), "rig.toml")


@pytest.mark.parametrize(
    ("old", "new", "line", "says"),
    [
        ('wll = "2 t"', 'wll = "1..2 t"', 13, "a tag says one number"),
        ('wll = "2 t"', 'wll = "0 t"', 13, "greater than zero"),
        ('wll = "2 t"', "wll = 2000", 13, 'wll = "2 t"'),
        ('height = "2 m"', 'height = "1.8..2.2 m"', 7, "write the one number"),
        ('height = "2 m"', 'height = "-2 m"', 7, "negative"),
        ('place = "over the hanging point"', 'place = "at a point"', 4, 'at = { x = "0.5 m"'),
        ('name = "aft"', 'name = "fore"', 17, "own name"),
        ('title = "Two legs"', "title = Two legs", 1, "not TOML"),
    ],
)
def test_bad_input_is_said_with_its_line_and_what_to_write(old: str, new: str, line: int, says: str) -> None:
    found = problems(TWO_LEGS.replace(old, new))
    assert (line, True) in {(at, says in message) for at, _, message in found}


@pytest.mark.parametrize("legs", [1, 5])
def test_a_hook_takes_two_to_four_legs(legs: int) -> None:
    rows = "".join(
        f'[[leg]]\nname = "{i}"\nat = {{ x = "{i} m", y = "{i * i} m", z = "0 m" }}\n' for i in range(legs)
    )
    text = TWO_LEGS.split("[[leg]]")[0] + rows
    assert any("two, three or four legs" in message for _, _, message in problems(text))


def test_a_rig_that_lifts_nothing_is_refused() -> None:
    assert any("nothing lifts" in message for _, _, message in problems('title = "Nothing"\n'))


def test_legs_and_spreader_together_are_refused() -> None:
    spreader = EXAMPLES[1].split("[spreader]")[1]
    text = TWO_LEGS + "\n[spreader]" + spreader
    assert any("not both" in message for _, _, message in problems(text))


def bags() -> str:
    return next(e for e in EXAMPLES if "[bags]" in e)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('volume = "105 l"\ntag_lift = "100 kg"\n', "", "give its full volume or the lift on its tag"),
        ('kind = "100"', 'kind = "1000"', 'there are "100"'),
        ('eye = "net ring"', 'eye = "ring"', 'there are "net ring"'),
        ('name = "white"', 'name = "red"', "own name"),
        ('fill = "232 bar"', 'fill = "20 bar"', "reserve must be below"),
        ("count = 2", "", "how many cylinders"),
        ('depth = "12 m"\n', "", "how deep the bags' air is"),
        ('open = "yes"', 'open = "perhaps"', 'one of "yes", "no"'),
        ('weight = "3 kg"', "", "what the empty bag weighs"),
    ],
)
def test_bags_that_cannot_be_are_refused(old: str, new: str, says: str) -> None:
    text = bags()
    assert old in text
    found = problems(text.replace(old, new))
    if says.startswith("one of"):
        assert any('"perhaps" is none of "yes", "no"' in message for _, _, message in found)
    else:
        assert any(says in message for _, _, message in found), found


def turning() -> str:
    return next(e for e in EXAMPLES if "[[turning]]" in e)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("edge = 1\n", "edge = 9\n", "write a number from 1 to 4"),
        ('across = "x"\n', "", '"x", "y"'),
        (', anchor = { across = "-4 m", up = "3 m" }', "", "anchor = {"),
        ('way = "hands"', "", ""),
        ('slope = "5 deg"\n', "", "slope of the planks"),
        ('member = "heel sill"\n', "", "what bears there"),
    ],
)
def test_turnings_that_cannot_be_are_refused(old: str, new: str, says: str) -> None:
    text = turning()
    if old not in text:
        old, new, says = 'way = "line"', 'way = "crane"', '"bag", "line", "hands"'
    found = problems(text.replace(old, new, 1))
    assert any(says in message for _, _, message in found), found


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ('[[step]]\nkey = "trial"\nminutes = "20"\n', ""),
        ('[[step]]\nkey = "tril"\nminutes = "20 min"\n', "a step of your own needs title"),
        ('[[step]]\nkey = "trial"\nafter = "weigh"\n', "has its place in the order"),
        ('[[step]]\nkey = "trial"\n[[step]]\nkey = "trial"\n', "described twice"),
        ('[[role]]\nrole = "deck hand"\n[[role]]\nrole = "deck hand"\n', "described twice"),
        ('[[role]]\nduty = "holds"\n', "what the role is called"),
        ('[[role]]\nrole = "deck hand"\nneeds = 3\n', 'needs = ["slinger"]'),
        ('[[role]]\nrole = "deck hand"\nin_water = "now and then"\n', '"yes", "no"'),
    ],
)
def test_steps_and_roles_are_checked(row: str, says: str) -> None:
    if not says:  # the field says minutes, so that a bare number is read as such
        assert parse_rig(TWO_LEGS + row).work.steps[0].minutes is not None
        return
    assert any(says in message for _, _, message in problems(TWO_LEGS + row))


def test_a_step_of_your_own_may_follow_another_of_your_own() -> None:
    own = '[[step]]\nkey = "{k}"\nafter = "{a}"\ntitle = "T"\naction = "A"\nrole = "deck hand"\n'
    rig: RigPlan = parse_rig(TWO_LEGS + own.format(k="wrap", a="trim") + own.format(k="tie", a="wrap"))
    assert [s.after for s in rig.work.steps] == ["trim", "wrap"]
    swapped = TWO_LEGS + own.format(k="tie", a="wrap") + own.format(k="wrap", a="trim")
    assert any('there is no step "wrap" before' in message for _, _, message in problems(swapped))


def test_a_sentence_in_place_of_a_file_is_refused() -> None:
    assert problems("four legs and a hook")[0][2].startswith("this is not TOML")
