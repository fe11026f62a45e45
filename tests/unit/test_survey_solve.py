"""A site as divers give it: starts, datum words, twins, suspects, bad readings named and the rest still solved."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from oakum.seabed.network import (
    Bearing,
    Datum,
    Depth,
    Fix,
    Gauge,
    Level,
    Observation,
    Offset,
    Site,
    Structure,
    Tape,
    TapeMeasure,
    Tie,
    next_tapes,
    solve_site,
)
from oakum.seabed.network.next_tape import crosses

MARKS = "ABCDEFGH"
PLACES = {
    "A": (0.0, 0.0, -14.0),
    "B": (6.0, 0.4, -13.6),
    "C": (6.3, 5.1, -14.3),
    "D": (-0.3, 4.6, -13.2),
    "E": (2.9, 2.2, -13.0),
    "F": (3.4, 7.4, -14.1),
    "G": (8.7, 2.6, -13.4),
    "H": (1.2, 6.4, -14.4),
}


def away(a: str, b: str) -> float:
    return math.dist(PLACES[a], PLACES[b])


def tapes(rng: np.random.Generator | None = None, marks: str = MARKS, sd: float = 0.02) -> list[Observation]:
    noise = rng or np.random.default_rng(1)
    made: list[Observation] = []
    for i, a in enumerate(marks):
        for b in marks[i + 1 :]:
            length = round(away(a, b) + float(noise.normal(0.0, sd)), 3)
            made.append(Tape(id=a + b, a=a, b=b, length_m=length, sd_m=sd, text=f"{length:.3f}"))
    return made


def depths(marks: str = MARKS, level: float | None = 0.0, dive: str = "1") -> list[Observation]:
    noise = np.random.default_rng(2)
    return [
        Depth(
            id=f"d{m}",
            mark=m,
            depth_m=-PLACES[m][2] + float(noise.normal(0.0, 0.05)),
            sd_m=0.05,
            gauge="g",
            dive=dive,
            water_level_m=level,
        )
        for m in marks
    ]


def held(marks: str) -> tuple[Datum, ...]:
    return tuple(Datum(mark=m, x_m=PLACES[m][0], y_m=PLACES[m][1], z_m=PLACES[m][2]) for m in marks)


def changed(readings: list[Observation], id: str, by: float) -> list[Observation]:
    out: list[Observation] = []
    for r in readings:
        if r.id == id and isinstance(r, Tape):
            out.append(replace(r, length_m=round(r.length_m + by, 3), text=f"{r.length_m + by:.3f}"))
        else:
            out.append(r)
    return out


def test_places_are_found_without_a_start() -> None:
    s = solve_site(Site(observations=(*tapes(), *depths()), datums=held("ABC")))
    for name, place in PLACES.items():
        assert s.mark(name).place == pytest.approx(place, abs=0.15)
    assert s.whole.passed and not s.suspects and not s.unsolved and not s.twins
    assert sum(r.redundancy for r in s.readings) == pytest.approx(s.whole.freedom, abs=1e-6)


def test_a_free_site_says_what_nothing_holds() -> None:
    s = solve_site(Site(observations=(*tapes(), *depths()), anticlockwise=("A", "B", "C")))
    words = " / ".join(s.datum)
    assert "nothing fixes where the plan lies" in words
    assert "nothing fixes rotation about the vertical" in words
    assert "tilt" not in words and "height" not in words
    assert s.mark("A").place[:2] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert s.mark("B").y_m == pytest.approx(0.0, abs=1e-9) and s.mark("B").x_m > 0.0
    assert not s.twins
    a, b, c = (np.array(s.mark(m).place) for m in "ABC")
    assert np.cross(b - a, c - a)[2] > 0.0
    for one in MARKS:
        for two in MARKS:
            apart = math.dist(s.mark(one).place, s.mark(two).place)
            assert apart == pytest.approx(away(one, two), abs=0.06)


def test_an_unknown_hand_is_a_twin_of_the_whole_plan() -> None:
    s = solve_site(Site(observations=(*tapes(), *depths())))
    assert [t.mark for t in s.twins] == [""]
    turned = solve_site(Site(observations=(*tapes(), *depths()), anticlockwise=("A", "C", "B")))
    a, b, c = (np.array(turned.mark(m).place) for m in "ABC")
    assert np.cross(b - a, c - a)[2] < 0.0


def test_tapes_alone_leave_tilt_and_height_open() -> None:
    s = solve_site(Site(observations=tuple(tapes())))
    words = " / ".join(s.datum)
    for part in ("height", "tilt", "rotation about the vertical", "where the plan lies"):
        assert part in words
    assert any("relief may be upside down" in t.words for t in s.twins)
    apart = [abs(math.dist(s.mark(a).place, s.mark(b).place) - away(a, b)) for a in MARKS for b in MARKS]
    assert max(apart) < 0.08


def test_two_depths_leave_the_tilt_about_their_line() -> None:
    s = solve_site(Site(observations=(*tapes(), *depths("AB"))))
    assert any("nothing fixes its tilt about a line" in w for w in s.datum)


def test_water_level_of_a_dive_comes_from_a_bench_mark() -> None:
    s = solve_site(Site(observations=(*tapes(), *depths(level=None)), datums=held("ABC")))
    level = next(f for f in s.further if f.what == "water level")
    assert level.value == pytest.approx(0.0, abs=3.0 * level.sd)
    assert 0.01 < level.sd < 0.05


def test_gauge_offset_is_solved_where_its_size_is_known() -> None:
    shifted = [replace(d, depth_m=d.depth_m + 0.25) for d in depths() if isinstance(d, Depth)]
    site = Site(
        observations=(*tapes(), *shifted), datums=held("ABC"), gauges=(Gauge(name="g", offset_sd_m=0.3),)
    )
    offset = next(f for f in solve_site(site).further if f.what == "offset")
    assert offset.value == pytest.approx(0.25, abs=0.1)


def test_scale_of_a_tape_is_solved_against_known_marks() -> None:
    stretched = [replace(t, length_m=t.length_m * 1.02, tape="old") for t in tapes() if isinstance(t, Tape)]
    site = Site(
        observations=(*stretched, *depths()),
        datums=held("ABCD"),
        tapes=(TapeMeasure(name="old", solve_scale=True),),
    )
    scale = next(f for f in solve_site(site).further if f.what == "scale")
    assert scale.value == pytest.approx(0.02, abs=3.0 * scale.sd) and scale.sd < 0.004
    corrected = replace(site, tapes=(TapeMeasure(name="old", scale=0.02),))
    assert solve_site(corrected).whole.passed


def test_free_scale_without_a_known_distance_is_named() -> None:
    readings = [replace(t, tape="old") for t in tapes() if isinstance(t, Tape)]
    s = solve_site(Site(observations=tuple(readings), tapes=(TapeMeasure(name="old", solve_scale=True),)))
    assert any("nothing fixes its size" in w for w in s.datum)


def test_bearings_turn_the_plan_and_a_fix_places_it() -> None:
    def bearing(a: str, b: str, off: float) -> Bearing:
        (ax, ay, _), (bx, by, _) = PLACES[a], PLACES[b]
        az = math.degrees(math.atan2(bx - ax, by - ay)) - 3.0 + off
        return Bearing(id=f"b{a}{b}", a=a, b=b, bearing_deg=az % 360.0, sd_deg=1.5, declination_deg=3.0)

    readings = (*tapes(), *depths(), bearing("A", "B", 0.6), bearing("D", "C", -0.8), bearing("H", "B", 0.3))
    fix = Fix(id="fix", mark="E", x_m=3.4, y_m=1.5, sd_m=0.8, line_m=13.0, lean_deg=4.0)
    s = solve_site(Site(observations=(*readings, fix)))
    assert not any(w.startswith("nothing fixes") for w in s.datum)
    row = s.reading("fix", "x")
    assert row.sd == pytest.approx(math.hypot(0.8, 13.0 * math.tan(math.radians(4.0))), abs=1e-9)
    for m in MARKS:
        assert math.dist(s.mark(m).place[:2], PLACES[m][:2]) < 1.2
    a, g = s.mark("A"), s.mark("G")
    line = math.degrees(math.atan2(g.x_m - a.x_m, g.y_m - a.y_m))
    assert line == pytest.approx(math.degrees(math.atan2(8.7, 2.6)), abs=3.0)


def test_offsets_and_two_tape_fixes_place_details() -> None:
    ax, ay, _ = PLACES["A"]
    u = np.array(PLACES["B"][:2]) - PLACES["A"][:2]
    u = u / np.linalg.norm(u)
    detail = np.array([ax, ay]) + 2.5 * u + 1.4 * np.array([-u[1], u[0]])
    tied = np.array([2.0, -1.8, -13.9])
    a, b = np.array(PLACES["A"]), np.array(PLACES["B"])
    line = (b - a) / np.linalg.norm(b - a)
    legs = [
        Tie(
            id=f"leg{at}",
            mark="tied",
            base_a="A",
            base_b="B",
            at_m=at,
            length_m=float(np.linalg.norm(tied - a - at * line)),
            sd_m=0.02,
            side="right",
        )
        for at in (1.0, 4.0, 5.5)
    ]
    readings = (
        *tapes(),
        *depths(),
        Offset(
            id="o",
            mark="detail",
            base_a="A",
            base_b="B",
            along_m=2.5,
            left_m=1.4,
            sd_along_m=0.03,
            sd_left_m=0.04,
        ),
        Depth(id="dd", mark="detail", depth_m=13.8, sd_m=0.05, water_level_m=0.0),
        *legs,
        Depth(id="dt", mark="tied", depth_m=13.9, sd_m=0.05, water_level_m=0.0),
    )
    s = solve_site(Site(observations=readings, datums=held("ABC")))
    assert s.mark("detail").place[:2] == pytest.approx(tuple(detail), abs=0.02)
    assert s.reading("o", "left").redundancy == pytest.approx(0.0, abs=1e-6)
    assert any("nothing checks" in o and "detail" in o for o in s.objections)
    assert s.mark("tied").place[1] == pytest.approx(-1.8, abs=0.1)
    assert not s.twins
    unseen = [replace(r, side="") if isinstance(r, Tie) else r for r in readings]
    assert [t.mark for t in solve_site(Site(observations=tuple(unseen), datums=held("ABC"))).twins] == ["tied"]


@pytest.mark.parametrize(
    ("by", "key"), [(1.0, "metre"), (-1.0, "metre"), (0.27, "")], ids=["+1 m", "-1 m", "+0.27 m"]
)
def test_a_misread_tape_is_found_with_its_size(by: float, key: str) -> None:
    s = solve_site(Site(observations=(*changed(tapes(), "BD", by), *depths()), datums=held("ABC")))
    assert [x.id for x in s.suspects] == ["BD"]
    suspect = s.suspects[0]
    assert suspect.error == pytest.approx(by, abs=4.0 * suspect.error_sd)
    assert suspect.locatable
    if key:
        assert suspect.causes[0].key == key and suspect.causes[0].value is not None
        assert suspect.causes[0].value == pytest.approx(away("B", "D"), abs=0.1)
    assert s.without_suspects is not None and s.without_suspects.whole.passed
    assert not s.without_suspects.reading("BD").counted
    assert any("BD: doubted" in o for o in s.objections)


def test_swapped_digits_are_offered() -> None:
    right = next(t for t in tapes() if t.id == "BH")
    assert isinstance(right, Tape)
    text = f"{right.length_m:.3f}"
    wrong = text[0] + text[1] + text[3] + text[2] + text[4]
    readings = [
        replace(t, length_m=float(wrong), text=wrong) if isinstance(t, Tape) and t.id == "BH" else t
        for t in tapes()
    ]
    s = solve_site(Site(observations=(*readings, *depths()), datums=held("ABC")))
    assert s.suspects[0].id == "BH"
    assert "digits" in [c.key for c in s.suspects[0].causes]


def test_a_wrong_end_mark_is_offered() -> None:
    readings = changed(tapes(), "EG", away("E", "H") - away("E", "G"))
    s = solve_site(Site(observations=(*readings, *depths()), datums=held("ABC")))
    assert s.suspects[0].id == "EG"
    assert any(c.key == "end" and "H" in c.words for c in s.suspects[0].causes)


def test_what_is_set_aside_is_shown_but_does_not_count() -> None:
    readings = (*changed(tapes(), "BD", 1.0), *depths())
    s = solve_site(Site(observations=readings, datums=held("ABC"), rejected=frozenset({"BD"})))
    row = s.reading("BD")
    assert not row.counted and row.error == pytest.approx(1.0, abs=0.15)
    assert not s.suspects and s.whole.passed


def test_a_mark_over_a_plane_of_anchors_has_a_twin_until_a_depth_settles_it() -> None:
    flat = {"P": (0.0, 0.0, 0.0), "Q": (5.0, 0.0, 0.0), "R": (5.0, 5.0, 0.0), "S": (0.0, 5.0, 0.0)}
    top = (2.2, 2.6, 1.1)
    readings = tuple(
        Tape(id=f"{m}T", a=m, b="T", length_m=math.dist(p, top), sd_m=0.01) for m, p in flat.items()
    )
    datums = tuple(Datum(mark=m, x_m=x, y_m=y, z_m=z) for m, (x, y, z) in flat.items())
    s = solve_site(Site(observations=readings, datums=datums))
    twin = next(t for t in s.twins if t.mark == "T")
    assert twin.apart_m == pytest.approx(2.2, abs=0.05)
    assert "depth" in twin.words
    sign = Level(id="l", a="P", b="T", rise_m=1.0, sd_m=0.3)
    settled = solve_site(Site(observations=(*readings, sign), datums=datums))
    assert not settled.twins
    assert settled.mark("T").place == pytest.approx(top, abs=0.02)


def test_bad_readings_are_named_and_the_rest_is_solved() -> None:
    bad = (
        Tape(id="self", a="A", b="A", length_m=2.0, sd_m=0.02),
        Tape(id="none", a="A", b="B", length_m=0.0, sd_m=0.02),
        Tape(id="long", a="A", b="C", length_m=31.0, sd_m=0.02, tape="30 m"),
        Depth(id="up", mark="A", depth_m=-2.0, sd_m=0.1, water_level_m=0.0),
        Tape(id="few", a="A", b="lonely", length_m=2.0, sd_m=0.02),
        Tape(id="i1", a="X", b="Y", length_m=2.0, sd_m=0.02),
        Tape(id="i2", a="Y", b="Z", length_m=2.0, sd_m=0.02),
        Tape(id="i3", a="X", b="Z", length_m=2.0, sd_m=0.02),
        Tape(id="nan", a="A", b="D", length_m=math.nan, sd_m=0.02),
        Tape(id="two", a="A", b="a", length_m=1.0, sd_m=0.02),
    )
    site = Site(
        observations=(*tapes(), *depths(), *bad),
        datums=held("ABC"),
        tapes=(TapeMeasure(name="30 m", longest_m=30.0),),
    )
    s = solve_site(site)
    said = " / ".join(s.objections)
    for words in (
        "self (A to A): runs between a mark and itself",
        "none (A to B): a length of 0 m",
        "beyond the end of tape 30 m",
        "lies above the surface",
        "lonely has only one reading",
        "X, Y and Z stand alone",
        "nan (A to D): length m is not a number",
        "A and a look like one mark",
    ):
        assert words in said, words
    assert {m.name for m in s.unsolved} == {"lonely", "X", "Y", "Z", "a"}
    for name, place in PLACES.items():
        assert s.mark(name).place == pytest.approx(place, abs=0.15)


def test_marks_that_can_still_move_are_named_and_left_out() -> None:
    hinged = [
        Tape(id=f"k{a}{b}", a=a, b=b, length_m=r, sd_m=0.02)
        for (a, b), r in {"AK": 2.0, "KL": 2.0, "AL": 2.0, "AM": 2.1, "KM": 2.2, "LM": 1.9}.items()
    ]
    sunk = [Depth(id=f"s{m}", mark=m, depth_m=14.0, sd_m=0.05, water_level_m=0.0) for m in "KLM"]
    s = solve_site(Site(observations=(*tapes(), *depths(), *hinged, *sunk), datums=held("ABC")))
    assert {m.name for m in s.unsolved} == {"K", "L", "M"}
    assert any("can still move against the rest" in o for o in s.objections)
    assert s.mark("H").place == pytest.approx(PLACES["H"], abs=0.15)


def test_unknown_sds_are_assumed_aloud() -> None:
    readings = [replace(t, sd_m=None) for t in tapes() if isinstance(t, Tape)]
    s = solve_site(Site(observations=(*readings, *depths()), datums=held("ABC")))
    assert any("without an sd: 25 mm is taken" in a for a in s.assumptions)
    assert any("is not known: say how well they were read" in o for o in s.objections)


def test_nothing_to_solve_is_said() -> None:
    s = solve_site(Site(observations=(Tape(id="t", a="A", b="B", length_m=3.0, sd_m=0.02),)))
    assert not s.marks and s.objections[0].startswith("no mark can be solved")
    assert {m.name for m in s.unsolved} == {"A", "B"}


def test_next_tapes_skip_what_a_diver_cannot_tape() -> None:
    taken = [t for t in tapes() if t.id in "AB BC CD AD AE BE CE DE CF DF EF BG CG EG DH AH CH"]
    s = solve_site(Site(observations=(*taken, *depths()), datums=held("AB")))
    outline = ((4.4, 3.2), (7.0, 3.2), (7.0, 3.4), (4.4, 3.4))
    wall = Structure(name="keel", outline_m=outline, low_m=-20.0, high_m=0.0)
    plan = next_tapes(s, count=4, longest_m=8.0, structures=(wall,))
    assert frozenset("BF") not in {frozenset((t.a, t.b)) for t in plan.tapes}
    assert all(t.length_m <= 8.0 for t in plan.tapes)
    assert any("runs through keel" in k.why for k in plan.skipped)
    assert any("longer than 8 m" in k.why for k in plan.skipped)
    assert len(plan.tapes) == 4 and all(t.after_m < t.before_m for t in plan.tapes)
    assert all(a.after_m == pytest.approx(b.before_m) for a, b in pairwise(plan.tapes))


def test_a_line_over_or_beside_a_structure_does_not_cross_it() -> None:
    box = Structure(
        name="gun", outline_m=((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0)), low_m=-14.0, high_m=-13.0
    )
    start = np.array([0.0, 1.5, -13.5])
    assert crosses(start, np.array([3.0, 1.5, -13.5]), box)
    assert not crosses(start, np.array([3.0, 3.9, -13.5]), box)
    assert not crosses(np.array([0.0, 1.5, -12.5]), np.array([3.0, 1.5, -12.5]), box)
    assert not crosses(start, np.array([0.9, 1.5, -13.5]), box)
    assert crosses(start, np.array([1.5, 1.5, -13.5]), box)
