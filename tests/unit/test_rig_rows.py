"""Legs and bags of a rig text by the short form: only the row that is touched is written anew."""

from __future__ import annotations

import pytest

from oakum.desk.lifts.rig_rows import FIELDS, rig_rows, with_rig_row, without_rig_row
from oakum.desk.lifts.toml_rows import TomlRowError, toml_value, with_value
from oakum.lift.raising import example_rig, parse_rig

RIG = example_rig()


def test_legs_and_bags_are_listed_with_their_fields_and_lines() -> None:
    legs, bags = rig_rows(RIG, "leg"), rig_rows(RIG, "bag")
    assert [leg.fields["name"] for leg in legs] == ["north-west", "south-west", "south-east", "north-east"]
    assert legs[0].fields["shackle"] == "K-01" and legs[0].fields["eye_kind"] == "welded eye"
    assert (
        RIG.splitlines()[legs[0].first - 1] == "[[leg]]" and "north-west" in RIG.splitlines()[legs[0].first]
    )
    assert bags[2].fields["strop_length"] == "2.2 m" and bags[2].words.startswith('B-03; kind "80"')


def test_every_row_put_back_as_it_was_gives_the_same_rig() -> None:
    toml = RIG
    for what in ("leg", "bag"):
        for row in rig_rows(RIG, what):
            toml = with_rig_row(
                toml, what, {field: row.fields.get(field, "") for field in FIELDS[what]}, row.index
            )
    assert parse_rig(toml) == parse_rig(RIG)


def test_what_the_short_form_does_not_know_is_carried_over() -> None:
    toml = with_rig_row(RIG, "bag", {"name": "red", "strop": ""}, 0)
    bag = parse_rig(toml).bags.bags[0]  # type: ignore[union-attr]
    assert (
        bag.name == "red" and bag.strop.key == "" and bag.crown is not None and bag.crown.piece.key == "C-01"
    )
    leg = parse_rig(with_rig_row(RIG, "leg", {"shackle": "K-99"}, 1)).legs[1]
    assert leg.shackle is not None and (leg.shackle.piece.key, leg.shackle.off_line_deg) == ("K-99", 0.0)


def test_a_new_row_stands_after_the_last_of_its_kind_and_a_removed_one_is_gone() -> None:
    fields = {"name": "fifth", "x": "0 m", "y": "0 m", "z": "0 m"}
    toml = without_rig_row(RIG, "leg", 0)
    toml = with_rig_row(toml, "leg", fields)
    assert [leg.name for leg in parse_rig(toml).legs] == ["south-west", "south-east", "north-east", "fifth"]
    assert toml.index('"fifth"') < toml.index("[bags]")


def test_rows_of_a_text_that_is_none_or_that_are_not_there_are_refused() -> None:
    with pytest.raises(TomlRowError, match="no TOML"):
        rig_rows("a = = b", "leg")
    with pytest.raises(TomlRowError, match="there is no leg 8"):
        without_rig_row(RIG, "leg", 7)
    with pytest.raises(TomlRowError, match="no field 'colour'"):
        with_rig_row(RIG, "leg", {"colour": "red"}, 0)
    with pytest.raises(TomlRowError, match=r"begins with a line \[\[leg\]\]"):
        rig_rows('leg = "one"', "leg")


def test_a_value_is_changed_in_its_line_and_the_remark_behind_it_stays() -> None:
    text = '[hook]\nheight = "2 m"   # measured # twice\nplace = "trimmed"\n'
    assert (
        with_value(text, ("hook",), "height", "3 m").splitlines()[1] == 'height = "3 m"   # measured # twice'
    )
    assert with_value(text, ("hook",), "level", "in air").splitlines()[:2] == ["[hook]", 'level = "in air"']
    with pytest.raises(TomlRowError, match="under its own heading"):
        with_value("title = 'x'\n", ("hook",), "height", "3 m")
    with pytest.raises(TomlRowError, match="on one line"):
        with_value('[hook]\nheight = """\n2 m"""\n', ("hook",), "height", "3 m")
    assert toml_value('say "no"\n') == '"say \\"no\\"\\u000a"'
