"""The part list of a body file: one part is written anew, every other line stays as typed."""

from __future__ import annotations

import tomllib

import pytest

from oakum.desk.lifts.part_list import PartListError, part_list, with_part, without_part

FILE = '''# Notes of the first dive
title = "capstan"
water = "sea"   # not measured yet

# the barrel, taped by two divers
[[part]]
name = "barrel"
shape = "cylinder"
# height read twice
diameter = "0.52 ± 0.02 m"
height = "4 ft 3 in"
material = "oak"
place = { z = "0 m" }

[part.coat]
thickness = "20..40 mm"
covers = "80 %"
material = "concretion"

# the head
[[part]]
name = "drumhead"
shape = "holed disc"
diameter = "1.1 m"
thickness = "9 in"
material = "oak"
place = { z = "1.3 m" }
holes = [{ x = "0.4 m", y = "0 m", diameter = "80 mm" }]

[bed]
kind = "sand"
'''


def test_the_list_shows_each_part_with_its_measures_as_typed() -> None:
    barrel, head = part_list(FILE)
    assert barrel.fields["height"] == "4 ft 3 in" and barrel.fields["crust"] == "20..40 mm"
    assert barrel.words == "object; cylinder of oak; height 4 ft 3 in, diameter 0.52 ± 0.02 m"
    assert (head.first, head.last) == (21, 28) and head.fields["z"] == "1.3 m"


def test_changing_one_part_leaves_every_other_line_as_typed() -> None:
    changed = with_part(FILE, {"diameter": "1.2 m"}, 1)
    before, after = FILE.splitlines(), changed.splitlines()
    assert after[:20] == before[:20] and after[-3:] == before[-3:]
    head = tomllib.loads(changed)["part"][1]
    assert head["diameter"] == "1.2 m" and head["holes"] == [{"x": "0.4 m", "y": "0 m", "diameter": "80 mm"}]


def test_comments_inside_a_changed_part_are_kept() -> None:
    changed = with_part(FILE, {"crust_covers": "40..60 %"}, 0)
    assert "# height read twice" in changed and "# the head" in changed
    assert tomllib.loads(changed)["part"][0]["coat"]["covers"] == "40..60 %"


def test_writing_a_part_back_unchanged_says_the_same() -> None:
    for part in part_list(FILE):
        assert tomllib.loads(with_part(FILE, part.fields, part.index)) == tomllib.loads(FILE)


def test_an_emptied_field_is_taken_out_of_the_file() -> None:
    table = tomllib.loads(with_part(FILE, {"crust": "", "crust_covers": "", "crust_material": " "}, 0))["part"][0]
    assert "coat" not in table


def test_a_new_part_goes_to_the_end_and_a_hole_is_marked_as_one() -> None:
    text = with_part(FILE, {"name": 'bore "A"', "shape": "cylinder", "in": "barrel", "count": "4", "around": "z"})
    new = tomllib.loads(text)["part"][2]
    assert new == {"name": 'bore "A"', "hole": True, "in": "barrel", "shape": "cylinder", "count": 4, "around": "z"}
    assert text.startswith(FILE.rstrip())
    assert len(part_list(with_part("", {"name": "a"}))) == 1


def test_a_removed_part_takes_its_sub_tables_along() -> None:
    text = without_part(FILE, 0)
    assert [p.fields["name"] for p in part_list(text)] == ["drumhead"]
    assert "coat" not in text and "# the head" in text and tomllib.loads(text)["bed"] == {"kind": "sand"}


@pytest.mark.parametrize("text", ["part = 3", "title = ", 'part = [{ name = "inline" }]'])
def test_a_file_whose_parts_cannot_be_listed_says_why(text: str) -> None:
    with pytest.raises(PartListError, match=r"TOML|\[\[part\]\]"):
        with_part(text, {"name": "x"}, 0)


def test_a_part_that_is_not_there_and_a_field_that_does_not_exist_are_refused() -> None:
    with pytest.raises(PartListError, match="there is no part 3"):
        without_part(FILE, 2)
    with pytest.raises(PartListError, match="no field 'colour'"):
        with_part(FILE, {"colour": "red"})
