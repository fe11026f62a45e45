"""The dig's kernel: what it refuses and why, what it says beside its numbers, sections and contours."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from oakum.seabed.dig import (
    AirliftAsked,
    DigError,
    Dive,
    DredgeAsked,
    Epoch,
    Forecast,
    Level,
    SpitDone,
    Work,
    airlift,
    contours,
    dredge,
    dug,
    finest_interval_m,
    forecast,
    grid_spread,
    outline,
    rate_of,
    season,
    section,
    section_spread,
    simpson,
    surface,
    trapezoid,
)

SQUARE = outline([(0, 0), (2, 0), (2, 2), (0, 2)], "ABCD")
ELL = outline([(0, 0), (3, 0), (3, 3), (2, 3), (2, 1), (0, 1)])


def at_corners(*z: float, sd: float | None = 0.01) -> Epoch:
    return Epoch(tuple(Level(n, *c, h) for n, c, h in zip("ABCD", SQUARE.corners, z, strict=True)), sd)


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        ([(0, 0), (1, 0)], "at least three corners"),
        ([(0, 0), (1, 0), (2, 0)], "lie on one line"),
        ([(0, 0), (1, 0), (2, 0), (1, 3)], "corners A, B and C lie on one line; leave B out"),
        ([(0, 0), (2, 2), (2, 0), (0, 2)], "the side from A to B meets the side from C to D"),
        ([(0, 0), (0, 0), (2, 0), (0, 2)], "corners A and B lie in one place"),
        ([(0, 0), (float("nan"), 0), (0, 2)], "finite"),
    ],
)
def test_corners_that_make_no_square_are_refused_by_name(corners: list, said: str) -> None:
    with pytest.raises(DigError, match=said):
        outline(corners, "ABCD"[: len(corners)])


def test_outline_is_turned_anticlockwise_with_its_names_and_knows_what_lies_inside() -> None:
    turned = outline([(0, 0), (0, 2), (2, 2), (2, 0)], "ABCD")
    assert turned.area_m2 == 4.0 and turned.names == ("D", "C", "B", "A") and turned.centre == (1.0, 1.0)
    assert turned.holds(1, 1) and turned.holds(0, 1) and not turned.holds(2.01, 1)
    assert not ELL.is_convex and ELL.area_m2 == pytest.approx(5.0) and not ELL.holds(1, 2)


@pytest.mark.parametrize(
    ("levels", "said"),
    [
        ([(0, 0), (2, 2)], "2 places cannot carry a surface"),
        ([(0, 0), (1, 1), (2, 2)], "all places lie on one line"),
        ([(0, 0), (0.4, 0), (0, 0.4)], "cover 2 % of the square"),
    ],
)
def test_levels_that_carry_no_surface_are_refused(levels: list, said: str) -> None:
    poor = Epoch(tuple(Level(str(i), x, y, -1.0) for i, (x, y) in enumerate(levels)), 0.01)
    with pytest.raises(DigError, match=said):
        dug(SQUARE, at_corners(0, 0, 0, 0), poor, bias_sd_m=0.0)


def test_width_is_that_of_four_corners_and_names_its_causes() -> None:
    answer = dug(SQUARE, at_corners(0, 0, 0, 0), at_corners(-0.2, -0.2, -0.2, -0.2), bias_sd_m=0.03)
    assert answer.best_m3 == pytest.approx(0.8) and answer.depth_m == pytest.approx(0.2)
    assert answer.volume is not None
    # each corner counts a quarter of 4 m2: sd of one set = 4 * 0.01 / sqrt(4) = 0.02; shared = 4 * 0.03
    assert answer.volume.sd == pytest.approx(sqrt(2 * 0.02**2 + 0.12**2))
    assert answer.volume.drivers[0].label.startswith("what all levels share")
    assert answer.volume.p95 - answer.volume.best == pytest.approx(1.645 * answer.volume.sd, rel=1e-3)
    assert any("taken as plane" in words for words in answer.cautions) and answer.why_no_width == ""


def test_what_is_not_known_takes_the_width_away_and_is_named() -> None:
    no_sd = dug(SQUARE, at_corners(0, 0, 0, 0, sd=None), at_corners(-1, -1, -1, -1), bias_sd_m=0.0)
    assert no_sd.volume is None and no_sd.best_m3 == pytest.approx(4.0)
    assert no_sd.why_no_width == "the sd of the levels before is not known"
    no_bias = dug(SQUARE, at_corners(0, 0, 0, 0), at_corners(-1, -1, -1, -1), bias_sd_m=None)
    assert no_bias.volume is None and "what all levels share is not known" in no_bias.why_no_width


def test_a_level_that_rose_beyond_the_noise_is_named_and_one_within_is_not() -> None:
    answer = dug(SQUARE, at_corners(0, 0, 0, 0), at_corners(-0.3, 0.02, 0.08, -0.3), bias_sd_m=0.0)
    assert [(rise.name, pytest.approx(rise.rise_m)) for rise in answer.rises] == [("C", 0.08)]


def test_two_levels_at_one_place_are_pooled_and_asked_about_when_they_differ() -> None:
    after = Epoch((*at_corners(-0.3, -0.3, -0.3, -0.3).levels, Level("A again", 0.0, 0.0, -0.5)), 0.01)
    answer = dug(SQUARE, at_corners(0, 0, 0, 0), after, bias_sd_m=0.0)
    assert answer.best_m3 == pytest.approx(4 * (0.3 * 3 + 0.4) / 4)
    assert answer.open_questions == ("A and A again: 2 levels after at one place differ by 0.200 m; which holds?",)


def test_the_edge_beyond_the_levels_widens_and_is_said() -> None:
    def inner(z: tuple[float, ...]) -> Epoch:
        places = ((0.2, 0.2), (1.8, 0.2), (1.8, 1.8), (0.2, 1.8))
        return Epoch(tuple(Level(str(i), x, y, h) for i, ((x, y), h) in enumerate(zip(places, z, strict=True))), 0.01)

    answer = dug(SQUARE, inner((0, 0, 0, 0)), inner((-0.2, -0.3, -0.2, -0.3)), bias_sd_m=0.0)
    assert answer.covered == pytest.approx(0.64) and answer.best_m3 == pytest.approx(1.0)
    assert answer.volume is not None and answer.volume.drivers[0].label == "edge of the square beyond the levels"
    assert any("36 % of the square lies beyond" in words for words in answer.cautions)


def test_unevenness_is_told_from_levels_inside_and_widens() -> None:
    rng = np.random.default_rng(4)
    places = [(x, y) for x in np.linspace(0, 2, 6) for y in np.linspace(0, 2, 6)]
    flat = Epoch(tuple(Level("p", x, y, 0.0) for x, y in places), 0.005)
    rough = Epoch(tuple(Level("p", x, y, -0.4 + rng.normal(0, 0.08)) for x, y in places), 0.005)
    answer = dug(SQUARE, flat, rough, bias_sd_m=0.0)
    assert answer.volume is not None and answer.volume.drivers[0].label.startswith("bed between the levels")
    assert not any("taken as plane" in words for words in answer.cautions)


def test_a_trench_with_a_corner_is_cut_at_its_brink() -> None:
    places = [(x, y) for x in range(4) for y in range(4)]
    sets = [Epoch(tuple(Level("p", x, y, z) for x, y in places), 0.01) for z in (0.0, -0.5)]
    assert dug(ELL, *sets, bias_sd_m=0.0).best_m3 == pytest.approx(2.5)


def test_contours_finer_than_two_sd_are_refused_and_a_cone_is_closed() -> None:
    cone = surface([*(Level(n, *c, 0.0) for n, c in zip("ABCD", SQUARE.corners, strict=True)), Level("m", 1, 1, -0.4)])
    with pytest.raises(DigError, match=r"finer than the levels can tell \(sd 0.03 m\).*choose 0.1 m or more"):
        contours(cone, 0.05, sd_m=0.03)
    with pytest.raises(DigError, match="sd of the levels is not known"):
        contours(cone, 0.05, sd_m=None)
    found = contours(cone, 0.1, sd_m=0.03, where=SQUARE)
    rings = [c for c in found if len(c.lines) == 1 and c.lines[0][0] == c.lines[0][-1]]
    assert [round(c.z_m, 6) for c in rings] == [-0.3, -0.2, -0.1, 0.0]
    assert (finest_interval_m(0.03), finest_interval_m(0.01), finest_interval_m(4.0)) == (0.1, 0.02, 8)


def test_section_shows_what_is_near_cuts_the_surface_and_lists_the_rest() -> None:
    held = surface(at_corners(0.0, 0.0, -1.0, -1.0).levels)
    levels = (Level("on", 1.05, 0.5, -0.25), Level("off", 1.6, 1.0, -0.5), Level("past", 1.0, 2.7, -1.0))
    cut = section((1.0, 0.0), (1.0, 2.0), [("bed", levels, held)], 0.2)
    layer = cut.layers[0]
    assert [(one.name, one.along_m, round(one.left_m, 6)) for one in layer.shown] == [("on", 0.5, -0.05)]
    assert [(out.name, out.why) for out in layer.left_out] == [
        ("off", "0.60 m from the line, more than 0.2 m"),
        ("past", "0.70 m beyond the end of the line"),
    ]
    assert layer.cut[0] == (0.0, pytest.approx(0.0)) and layer.cut[-1] == (2.0, pytest.approx(-1.0))
    assert all(z == pytest.approx(-0.5 * along) for along, z in layer.cut)
    with pytest.raises(DigError, match="two different places"):
        section((1.0, 0.0), (1.0, 0.0), [], 0.2)
    with pytest.raises(DigError, match="how far from the line"):
        section((1.0, 0.0), (1.0, 1.0), [], 0.0)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda: trapezoid([1.0], 1.0), "at least 2 sections"),
        (lambda: simpson([1.0, -2.0, 1.0], 1.0), "not negative"),
        (lambda: trapezoid([1.0, 2.0], 0.0), "greater than nothing"),
        (lambda: section_spread([1, 1], [1, 1], area_sd_m2=0.1, bias_sd_m=0.1), "width of every section"),
        (lambda: grid_spread([[0.1, float("nan")], [0.1, 0.1]], 1.0, sd_m=0.01), "every crossing"),
        (lambda: grid_spread([[0.1, 0.1]], 1.0, sd_m=0.01), "two rows"),
        (lambda: airlift(AirliftAsked(110.0, 14.0)), "write it with its unit"),
        (lambda: airlift(AirliftAsked(0.11, -14.0)), "positive downward"),
        (lambda: airlift(AirliftAsked(0.11, 14.0, freeboard_m=-1.0)), "outlet"),
        (lambda: dredge(DredgeAsked(0.1, 20.0, 30.0, 6.0)), "no higher than the hose is long"),
        (lambda: dredge(DredgeAsked(0.1, 20.0, 2.0, 0.1)), "0.5 to 40 bar"),
        (lambda: rate_of([Work("w", 0.0, 1.0)] * 3, "levels"), "hours are greater than nothing"),
    ],
)
def test_numbers_that_cannot_be_meant_are_refused_with_a_sentence(wrong: object, said: str) -> None:
    with pytest.raises(DigError, match=said):
        wrong()  # type: ignore[operator]


def test_airlift_warns_of_shallow_water_and_of_a_small_compressor() -> None:
    shallow = airlift(AirliftAsked(0.11, 2.0, free_air_m3_min=0.01, pressure_bar=0.2))
    assert len(shallow.objections) == 3 and "works poorly" in shallow.objections[0]
    assert "free air, less than the least" in shallow.objections[1] and "bar" in shallow.objections[2]
    doubtful = airlift(AirliftAsked(0.11, 4.0, free_air_m3_min=5.0, pressure_bar=7.0))
    assert not doubtful.objections and any("between 3 and 5 m" in words for words in doubtful.open_questions)
    for words in ("blocked pipe", "one receiver", "exhaust", "plume", "Hands"):
        assert any(words in caution for caution in doubtful.cautions), words
    marks = {"read", "memory, verify", "practice, no source", "own calculation"}
    assert {basis.mark for basis in doubtful.bases} <= marks


def test_dredge_works_where_an_airlift_does_not_and_objects_to_a_small_pump() -> None:
    sized = dredge(DredgeAsked(0.1, 20.0, 1.0, 6.0, pump_m3_h=0.5))
    assert all(one.low <= one.best <= one.high for one in sized.figures)
    assert "less than the least asked for" in sized.objections[0]
    assert any("practice" in basis.mark for basis in sized.bases)


def test_a_forecast_without_an_upper_bound_says_so() -> None:
    wild = rate_of([Work("1", 1.0, 0.01), Work("2", 1.0, 0.9), Work("3", 1.0, 0.05)], "buckets")
    ahead = forecast(wild, 5.0)
    assert ahead.high_h is None and "no upper bound" in ahead.words and ahead.low_h < ahead.best_h
    assert forecast(wild, 0.0) == Forecast(0.0, 0.0, 0.0, 0.0, "nothing is left of what was planned")
    with pytest.raises(DigError, match="no spoil went out"):
        forecast(rate_of([Work("w", 1.0, 0.0)] * 3, "levels"), 1.0)


def test_season_prefers_levels_then_buckets_measured_by_levels_then_litres() -> None:
    dives = [Dive(str(i), "2026-06-12", 2.0, "N", str(i), 20, 12.0) for i in range(3)]
    spits = [SpitDone("N", str(i), "2026-06-13", 4.0, 0.3 + 0.01 * i, 0.02) for i in range(3)]
    by_levels = season(dives, spits, 2.0)
    assert by_levels.rate is not None and by_levels.rate.source == "levels, spit by spit"
    assert by_levels.rate.m3_per_hour == pytest.approx(0.93 / 6) and by_levels.forecast is not None
    by_bucket = season(dives, spits[:1], 2.0)
    assert by_bucket.rate is not None and by_bucket.rate.source == "buckets, measured by levels"
    assert by_bucket.rate.m3_per_hour == pytest.approx(0.15)
    assert "15.0 litres in place" in by_bucket.notes[0]
    by_litres = season(dives, [], 2.0)
    assert by_litres.rate is not None and by_litres.rate.m3_per_hour == pytest.approx(20 * 0.012 / 1.2 / 2)
    assert "practice, no source" in by_litres.notes[0]
    none = season(dives[:2], [], 2.0)
    assert none.rate is None and none.forecast is None and "at least 3 dives" in none.refused
    unplanned = season(dives, spits, None)
    assert unplanned.forecast is None and "planned depth" in unplanned.notes[0] and unplanned.area_m2 == 4.0


def test_a_spit_without_a_day_or_width_comes_last_and_is_named() -> None:
    spits = [SpitDone("N", "2", "", 4.0, 0.4, None), SpitDone("N", "1", "2026-06-12", 4.0, 0.3, 0.03)]
    found = season([Dive("1", "2026-06-12", 1.0), Dive("2", "2026-06-20", 2.0)], spits, None)
    assert [(m.hours, round(m.volume_m3, 6)) for m in found.milestones] == [(1.0, 0.3), (3.0, 0.7)]
    assert any("N spit 2" in note for note in found.notes) and found.sd_m3 == pytest.approx(0.03)
