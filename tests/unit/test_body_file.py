"""The body file: what it takes, and that everything wrong is listed at once with line and key."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from oakum.lift import BodyFileError, parse_body, weigh
from oakum.lift.body.lines import key_lines

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = re.findall(r"```toml\n(.*?)```", (ROOT / "docs/body-file.md").read_text(encoding="utf-8"), re.S)

DRUM = """title = "Drum"
water = "1027 kg/m3"

[[part]]
name = "drum"
shape = "cylinder"
diameter = "0.8 ± 0.01 m"
height = "0.35 ± 0.01 m"
density = "1100..1200 kg/m3"
"""


def problems(text: str, files: dict[str, bytes] | None = None) -> list[tuple[int, str, str]]:
    with pytest.raises(BodyFileError) as caught:
        parse_body(text, "body.toml", files)
    return [(p.line, p.key, p.message) for p in caught.value.problems]


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_example_of_the_manual_parses_and_weighs(text: str) -> None:
    report = weigh(parse_body(text), rng=np.random.default_rng(0), draws=1000)
    assert report.state("clear").load_kg.p5 > 0
    assert report.verdict == "no objection found under these assumptions"


def test_the_manual_has_examples() -> None:
    assert len(EXAMPLES) >= 4


def test_all_errors_are_listed_at_once_in_the_order_of_the_file() -> None:
    text = """titel = "Drum"
water = "see"

[[part]]
name = "drum"
shape = "cylinder"
diameter = 0.8
height = "35"
material = "oke"

[[part]]
name = "band"
shape = "rng"
place = { zz = "1 m" }
material = "steel"
"""
    found = problems(text)
    assert [line for line, _, _ in found] == sorted(line for line, _, _ in found)
    lines = {line: message for line, _, message in found}
    assert 'did you mean "title"?' in lines[1]
    assert "none of" in lines[2]
    assert "0.8 has no unit" in lines[7] and '"1.2 m"' in lines[7]
    assert "no unit" in lines[8]
    assert 'Did you mean "oak"?' in lines[9]
    assert 'did you mean "ring"?' in lines[13]
    assert lines[14].startswith("there is no such key here")


def test_the_message_names_file_line_and_key() -> None:
    with pytest.raises(BodyFileError, match=r"drum.toml: 1 thing to put right\n  line 7, diameter of drum: "):
        parse_body(DRUM.replace('"0.8 ± 0.01 m"', "0.8"), "drum.toml")


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ('"-0.8 m"', "must not be negative"),
        ('"0 m"', "greater than zero"),
        ('"0.8 kg"', "kg"),
        ('"0.8 m ± 0.9 m"', "spread"),
        ('"about 0.8 m"', "range"),
        ("true", "unit"),
    ],
)
def test_a_diameter_that_cannot_be_is_refused(written: str, says: str) -> None:
    ((line, key, message),) = problems(DRUM.replace('"0.8 ± 0.01 m"', written))
    assert (line, key) == (7, "diameter of drum")
    assert says in message


def test_what_is_no_toml_is_said_with_its_line() -> None:
    ((line, _, message),) = problems('title = "Drum"\nwater = sea\n')
    assert line == 2 and "not TOML" in message


def test_a_body_without_parts_is_refused() -> None:
    assert any("there are no parts" in message for _, _, message in problems('title = "Nothing"\n'))


def test_a_material_without_density_is_refused_with_what_to_write() -> None:
    text = DRUM.replace('density = "1100..1200 kg/m3"', 'material = "unobtainium"')
    ((line, key, message),) = problems(text)
    assert (line, key) == (9, "material of drum")
    assert "is not known" in message and 'density = "2000..2600 kg/m3"' in message


@pytest.mark.parametrize("key", ["density", "basic_density", "umax"])
def test_a_density_left_unknown_is_refused(key: str) -> None:
    text = DRUM.replace('density = "1100..1200 kg/m3"', f'{key} = "not known"\nmaterial = "oak"')
    ((line, where, message),) = problems(text)
    assert (line, where) == (9, f"{key} of drum") and "cannot be left unknown" in message


def test_a_umax_out_of_range_names_its_part() -> None:
    text = DRUM.replace('density = "1100..1200 kg/m3"', 'umax = "5..300 %"\nmaterial = "oak"')
    ((line, where, message),) = problems(text)
    assert (line, where) == (4, "drum") and "20 and 2000 %" in message


def test_a_hole_plays_the_role_of_what_is_in_it() -> None:
    hole = """
[[part]]
name = "bore"
hole = true
in = "drum"
shape = "cylinder"
diameter = "0.1 m"
height = "0.2 m"
place = { z = "0 m" }
filled = "water"
held = "yes"
"""
    assert parse_body(DRUM + hole).part("bore").role == "trapped water"


def test_a_bare_length_is_taken_exact_and_said_to_be_too_narrow() -> None:
    body = parse_body(DRUM.replace("0.8 ± 0.01 m", "0.8 m").replace("0.35 ± 0.01 m", "35 cm"))
    assert "2 dimensions have no spread; the width is too narrow (drum: diameter, drum: height)" in body.questions


def test_water_not_known_is_an_objection_and_a_range() -> None:
    body = parse_body(DRUM.replace('water = "1027 kg/m3"\n', ""))
    report = weigh(body, rng=np.random.default_rng(0), draws=2000)
    assert report.objections[0].startswith("the water is not known")
    assert report.verdict.startswith("objection: ")
    assert 1000 <= report.water_density_kg_m3.p5 < 1003 < 1027 < report.water_density_kg_m3.p95 <= 1030


def test_a_girth_or_a_radius_stands_for_a_diameter() -> None:
    by_girth = parse_body(DRUM.replace('diameter = "0.8 ± 0.01 m"', f'girth = "{0.8 * np.pi:.9f} m"'))
    by_radius = parse_body(DRUM.replace('diameter = "0.8 ± 0.01 m"', 'radius = "0.4 m"'))
    loads = [weigh(b, rng=np.random.default_rng(0), draws=500).mass_kg.mean for b in (by_girth, by_radius)]
    assert loads[0] == pytest.approx(loads[1], rel=1e-8)


def test_two_ways_to_measure_one_thing_are_refused() -> None:
    text = DRUM.replace('height = "', 'girth = "2.5 m"\nheight = "')
    assert any("keep one" in message for _, _, message in problems(text))


def test_a_ring_whose_spreads_close_its_wall_is_refused_with_its_line() -> None:
    text = """title = "Band"
water = "sea"
[[part]]
name = "band"
shape = "ring"
outer_diameter = "0.50 ± 0.01 m"
inner_diameter = "0.49 ± 0.01 m"
height = "50 mm"
material = "wrought iron"
"""
    ((line, key, message),) = problems(text)
    assert (line, key) == (3, "band") and "outer_radius_m must be greater" in message


def test_parts_that_overlap_are_refused_by_name_and_share() -> None:
    text = """title = "Two boxes"
water = "sea"
[[part]]
name = "first"
shape = "box"
length = "1 m"
width = "1 m"
height = "1 m"
material = "granite"
place = { x = "0 m" }
[[part]]
name = "second"
shape = "box"
length = "1 m"
width = "1 m"
height = "1 m"
material = "granite"
place = { x = "0.75 m" }
"""
    ((line, key, message),) = problems(text)
    assert (line, key) == (11, "second")
    share = int(re.search(r"overlap: (\d+) %", message).group(1))  # type: ignore[union-attr]
    assert '"first" and "second"' in message and abs(share - 25) <= 2
    assert len(parse_body(text.replace('"0.75 m" }', '"0.75 m" }\noverlap = "30 %"')).parts) == 2
    assert len(parse_body(text.replace("0.75 m", "1 m")).parts) == 2


def test_a_hole_needs_a_parent_that_exists() -> None:
    hole = """
[[part]]
name = "bore"
hole = true
in = "barel"
shape = "cylinder"
diameter = "0.1 m"
height = "0.2 m"
place = { z = "0 m" }
filled = "open"
"""
    ((line, _, message),) = problems(DRUM + hole)
    assert line == 11 and 'there is no part "barel"; there are "drum"' in message


def test_a_hole_larger_than_its_part_is_refused() -> None:
    hole = """
[[part]]
name = "bore"
hole = true
in = "drum"
shape = "cylinder"
diameter = "0.9 m"
height = "0.35 m"
place = { z = "0 m" }
filled = "open"
"""
    assert any("larger than the part" in message for _, _, message in problems(DRUM + hole))


def test_several_parts_need_a_place_each() -> None:
    text = DRUM + DRUM[DRUM.index("[[part]]") :].replace('"drum"', '"second"')
    assert sum("say where its base is" in message for _, _, message in problems(text)) == 2


def test_the_same_name_twice_is_refused() -> None:
    part = DRUM[DRUM.index("[[part]]") :] + 'place = { x = "3 m" }\n'
    text = DRUM + 'place = { x = "0 m" }\n' + part
    assert any("this name is taken by the part in line 4" in message for _, _, message in problems(text))


def test_a_repeated_part_says_how_it_is_set() -> None:
    assert any('around = "z"' in message for _, _, message in problems(DRUM + "count = 3\n"))


def test_lines_are_found_past_texts_and_lists_over_several_lines() -> None:
    text = '''title = "x"
notes = """
[[part]]
name = "not a key"
"""
[[part]]
holes = [
  { x = "1 m" },
]
name = "a"
[part.coat]
thickness = "1 mm"
[[part]]
"odd name" = "b"
'''
    lines = key_lines(text)
    assert lines[("notes",)] == 2
    assert lines[("part", 0)] == 6 and lines[("part", 0, "holes")] == 7
    assert lines[("part", 0, "name")] == 10
    assert lines[("part", 0, "coat", "thickness")] == 12
    assert lines[("part", 1, "odd name")] == 14
