"""The rig file's sea: what it takes, and that everything wrong is listed with line, key and what to write."""

from __future__ import annotations

import pytest

from oakum.lift.raising import RigFileError, parse_rig
from oakum.lift.seaway import HeaveAndRollSeen, SeaAsked, SeaPart
from oakum.lift.splash import TipPerHeight, TipStill

RIG = """title = "Two legs"
cell_unit = "kg"
[hook]
place = "over the hanging point"
height = "2 m"
[[leg]]
name = "fore"
at = { x = "1 m", y = "0 m", z = "0 m" }
[[leg]]
name = "aft"
at = { x = "-1 m", y = "0 m", z = "0 m" }
"""


def sea_of(text: str) -> SeaAsked:
    sea = parse_rig(f"{RIG}\n[seaway]\n{text}").sea
    assert sea is not None
    return sea


def problems(text: str) -> list[tuple[int, str, str]]:
    """Return line counted from `[seaway]`, key and message."""
    before = RIG.count("\n") + 2
    with pytest.raises(RigFileError) as caught:
        parse_rig(f"{RIG}\n[seaway]\n{text}", "rig.toml")
    return [(p.line - before, p.key, p.message) for p in caught.value.problems]


def test_without_a_table_there_is_no_sea_and_an_empty_one_knows_nothing() -> None:
    assert parse_rig(RIG).sea is None
    assert sea_of("") == SeaAsked()
    assert sea_of('vessel = "not known"\nhs = "not known"\nwaters = "not known"') == SeaAsked()


def test_a_whole_sea() -> None:
    sea = sea_of(
        'vessel = "Petrel"\nheading = "head"\nwaters = "open"\nhs = "1 ft"\ntz = "4 s"\n'
        'periods = ["6 s", "3 s", "3 s"]\ndepth = "14 m"\nradius = "4 m"\nwind = "6 m/s"\nhoist_speed = "0.25 m/s"\n'
        '[seaway.line]\naxial_stiffness = "3 MN"\nlength = "15 m"\ndamping = "2 %"\n'
        '[[seaway.part]]\nname = "object"\nplan_area = "2.4 m2"\nwaterplane = "1.9 m2"\nadded_mass = "1800 kg"\n'
        'open = "20 %"\ndrag = "2.5"\nslam = "5"\nslam_area = "1 m2"\n'
    )
    assert sea.hs_m == pytest.approx(0.3048) and sea.periods_s == (3.0, 6.0)
    assert sea.line_n_m == pytest.approx(2e5) and sea.line_damping == pytest.approx(0.02)
    assert sea.parts == (SeaPart("object", 2.4, 1.9, 1800.0, 20.0, 2.5, 5.0, 1.0),)


def test_a_pull_test_of_the_line_is_its_stiffness() -> None:
    line = sea_of('line = { stiffness = { force = "10 kN", stretch = "20 mm" } }')
    assert line.line_n_m == pytest.approx(5e5) and line.line_damping is None


def test_the_three_ways_a_boom_head_may_move() -> None:
    assert sea_of('tip = { how = "still" }').tip == TipStill()
    per = sea_of(
        'tip = { how = "per height", hs = "0.5 m", motion = "0.25 m", speed = "0.3 m/s", acceleration = "0.4 m/s2" }'
    )
    assert per.tip == TipPerHeight(0.5, 0.6, 0.8)
    seen = sea_of(
        '[seaway.tip]\nhow = "seen"\nhs = "0.4 m"\ntz = "4 s"\nheave = "0.15 m"\nheave_period = "4 s"\n'
        'roll = "2 deg"\nroll_period = "4.5 s"'
    )
    assert seen.tip == HeaveAndRollSeen(0.4, 4.0, 0.15, 4.0, 2.0, 4.5, None)


def test_everything_wrong_is_listed_with_its_line() -> None:
    found = problems(
        'wators = "open"\n'
        'hs = "0.5"\n'
        "tz = 4\n"
        'waters = "stormy"\n'
        'periods = ["60 s"]\n'
        'depth = "0 m"\n'
        'line = { axial_stiffness = "3 MN", damping = "120 %" }\n'
        "[seaway.tip]\n"
        'how = "seen"\n'
        'hs = "0.4 m"\n'
        "[[seaway.part]]\n"
        'name = "object"\n'
        'open = "60 %"\n'
        "[[seaway.part]]\n"
        'name = "object"\n'
        'slam = "-5"\n'
    )
    by_line = {(line, key.split(" ")[0]): message for line, key, message in found}
    assert 'did you mean "waters"?' in by_line[1, "wators"]
    assert (2, "hs") in by_line and 'tz = "10 min"' in by_line[3, "tz"]
    assert '"sheltered"' in by_line[4, "waters"] and "no mean period" in by_line[5, "periods"]
    assert "greater than zero" in by_line[6, "depth"]
    assert "lies below 1" in by_line[7, "damping"] and "from boom head to slings" in by_line[7, "length"]
    for key in ("tz", "heave", "heave_period", "roll", "roll_period"):
        assert any(k == key and "is missing" in m for (_, k), m in by_line.items()), key
    assert "beyond the table" in by_line[13, "open"]
    assert "give each its own name" in by_line[15, "name"] and (16, "slam") in by_line


def test_a_period_that_the_height_cannot_have_is_refused_with_the_shortest_it_can() -> None:
    ((line, key, message),) = problems('hs = "2 m"\ntz = "3 s"')
    assert line == 2 and key.startswith("tz")
    assert "impossible" in message and "at least 4.0 s" in message and "Tz or Tp" in message


def test_a_part_needs_its_name_and_a_motion_its_way() -> None:
    assert any(k.startswith("name") for _, k, _ in problems('[[seaway.part]]\ndrag = "3"'))
    assert any(k.startswith("how") for _, k, _ in problems('tip = { hs = "1 m" }'))
    much = 'how = "per height", hs = "1 m", motion = "1 m", speed = "1 m/s", acceleration = "much"'
    assert any(k.startswith("acceleration") for _, k, _ in problems(f"tip = {{ {much} }}"))
