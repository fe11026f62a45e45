"""Ensembles in time: same on every executor, convergence, worst height, the whole answer, and refusals."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from oakum.ground.waves import WaveError
from oakum.lift.splash import (
    Hoist,
    Hold,
    Hollow,
    Immersion,
    Line,
    Part,
    Question,
    RandomSea,
    RegularSea,
    Run,
    SplashBody,
    SplashError,
    SplashModel,
    TipMeasured,
    TipResponse,
    TipSeen,
    TipStill,
    Water,
    clopper_pearson,
    ensemble,
    in_series_n_m,
    in_time,
    step_check,
    through_the_surface,
    traced,
    worst_level,
)

SHAPE = Immersion.prism(0.8, 1.0, 1.76, 6.0)
TABLE = TipResponse((1.5, 3.0, 6.0, 12.0), (0.3, 0.9, 1.1, 1.0))
LINE = Line(1.2e5, 0.03)
SEA = RandomSea(0.4, 3.5, waves=40)
CRATE = Part("crate", 0.0, 0.8, 1.0, 1.92, 2.4, 1.76)


def model(mass=(1400.0,), line=LINE, shape=SHAPE, hollows=()) -> SplashModel:
    mass = np.asarray(mass, dtype=np.float64)
    return SplashModel(mass, np.ones(len(mass)), shape, line, 1025.0, hollows)


RUN = Run(model(), SEA, TABLE, Hold(-0.7, 8.0))


def seeds() -> np.random.SeedSequence:
    return np.random.SeedSequence(1670)


def test_result_depends_neither_on_the_executor_nor_on_how_many_follow() -> None:
    alone = ensemble(RUN, 12, seeds(), chunk=4)
    with ThreadPoolExecutor(3) as threads:
        shared = ensemble(RUN, 12, seeds(), executor=threads, chunk=4)
    with ProcessPoolExecutor(2) as processes:
        apart = ensemble(RUN, 12, seeds(), executor=processes, chunk=4)
    for other in (shared, apart):
        assert np.array_equal(alone.greatest_n, other.greatest_n)
        assert np.array_equal(alone.slack_s, other.slack_s) and np.array_equal(alone.snaps, other.snaps)
    few = ensemble(RUN, 5, seeds(), chunk=4)
    assert few.greatest_n == pytest.approx(alone.greatest_n[:5], rel=1e-6)
    assert len(np.unique(alone.greatest_n)) == 12


def test_progress_rises_to_one_with_and_without_an_executor() -> None:
    for executor in (None, ThreadPoolExecutor(2)):
        told: list[float] = []
        ensemble(RUN, 6, seeds(), chunk=2, executor=executor, progress=told.append)
        assert told == sorted(told) and told[-1] == pytest.approx(1.0) and len(told) >= 3
        if executor is not None:
            executor.shutdown()


def test_an_error_in_a_worker_comes_back_as_it_is() -> None:
    far = replace(RUN, tip=TipMeasured((TipSeen(0.4, 9.0, ((0.1, 4.0),)),)))
    with ThreadPoolExecutor(2) as threads, pytest.raises(SplashError, match="seen at 9 s"):
        ensemble(far, 4, seeds(), executor=threads, chunk=2)


def test_members_take_the_draws_of_weight_in_turn() -> None:
    run = replace(RUN, model=model((1200.0, 2000.0)), sea=RegularSea(0.0, 4.0), tip=TipStill())
    found = ensemble(run, 4, seeds())
    static = run.model.static_n(-0.7, run.model.mass_kg, np.ones(2))
    assert found.greatest_n == pytest.approx(np.tile(static, 2), rel=1e-6)
    assert found.least_n == pytest.approx(np.tile(static, 2), rel=1e-6)


def test_half_the_step_changes_little_and_it_is_said() -> None:
    found = step_check(RUN, seeds(), 8)
    assert found.half_step_s == pytest.approx(0.5 * found.step_s)
    assert found.median_change < 1e-3 and found.greatest_change < 5e-3
    assert "with half the step" in found.words and "95th percentile" in found.words


def test_the_step_is_a_fiftieth_of_the_period_on_the_line_or_less() -> None:
    period = 2 * np.pi * np.sqrt((1400.0 + 1025.0 * 1.76 * 0.7 / 0.8) / 1.2e5)
    assert RUN.used_step_s == pytest.approx(period / 50.0)
    hoist = replace(RUN, operation=Hoist(0.2, -1.0, 0.4))
    assert hoist.used_step_s == pytest.approx(2 * np.pi * np.sqrt(1400.0 / 1.2e5) / 50.0)
    with pytest.raises(SplashError, match=r"step of 0\.05 s is too long for this line: with 120 kN/m"):
        ensemble(replace(RUN, step_s=0.05), 2, seeds())
    with pytest.raises(SplashError, match="stiffer than can be followed"):
        ensemble(replace(RUN, model=model(line=Line(1e12))), 1, seeds())


def test_a_curved_body_goes_the_same_way_whether_read_from_few_or_many_places() -> None:
    share = np.linspace(0.0, 1.0, 1025)
    fine = Immersion(0.8, share**2, 1.76 * share**1.5, 6.0 * share)
    coarse = Immersion(0.8, share[::4] ** 2, 1.76 * share[::4] ** 1.5, 6.0 * share[::4])
    found = [ensemble(replace(RUN, model=model(shape=s)), 4, seeds()).greatest_n for s in (fine, coarse)]
    assert found[0] == pytest.approx(found[1], rel=1e-3)
    prism = Immersion(0.8, share, 1.76 * share, 6.0 * share)
    assert prism.is_prism and not fine.is_prism
    same = ensemble(replace(RUN, model=model(shape=prism)), 4, seeds()).greatest_n
    assert same == pytest.approx(ensemble(RUN, 4, seeds()).greatest_n, rel=1e-9)


def test_a_hollow_drains_as_the_orifice_law_says_once_clear() -> None:
    hollow = Hollow(1.0, 0.5, 0.0, 0.02, 0.61)
    run = Run(model(hollows=(hollow,)), RegularSea(0.0, 4.0), TipStill(), Hold(0.3, 6.0))
    trace = traced(run, 1, seeds())
    rate = 0.61 * 0.02 * np.sqrt(run.model.g_m_s2 / 2.0)
    left = np.maximum(np.sqrt(0.5) - rate * trace.time_s[-1], 0.0) ** 2
    assert trace.held_kg[-1, 0] == pytest.approx(1025.0 * left, rel=0.02)
    assert trace.held_kg[0, 0] <= 1025.0 * 0.5 * 1.0 + 1e-9
    tight = replace(run, model=model(hollows=(replace(hollow, opening_m2=0.0),)))
    assert traced(tight, 1, seeds()).held_kg[-1, 0] == pytest.approx(1025.0 * 0.5)


def test_the_worst_height_is_looked_for_from_under_the_troughs_to_over_the_crests() -> None:
    told: list[float] = []
    found = worst_level(RUN, seeds(), levels=4, members=3, progress=told.append)
    assert found.levels_m[0] == pytest.approx(-1.0) and found.levels_m[-1] == pytest.approx(0.2)
    assert found.level_m == found.levels_m[int(np.argmax(found.greatest_n))]
    assert len(told) == 4 and told[-1] == 1.0


def test_the_whole_answer_in_time_names_odds_step_and_height() -> None:
    body = SplashBody((CRATE,), np.array([1150.0]), np.ones(1), 2.0)
    asked = Question(body, Water(1025.0), TABLE, Line(6e4, 0.03), 0.5, 1200.0)
    told: list[float] = []
    found = in_time(asked, SEA, seeds(), members=6, hold_s=10.0, progress=told.append)
    assert found.hoist.members == found.hold.members == 6
    assert isinstance(found.hold.run.operation, Hold) and found.hold.run.operation.counted_s == 10.0
    assert any("line force over the 1,200 kg the hook bears in" in o for o in found.objections)
    assert any("goes slack in" in o and "odds between" in o for o in found.objections)
    assert {c.rule.key for c in found.checks} == {"splash-time-slack", "splash-time-hook"}
    assert found.steps.members == 6 and told == sorted(told) and told[-1] == pytest.approx(1.0)
    assert any("linear waves" in a for a in found.assumptions) and found.cautions
    over = found.hold.odds_over(0.0)
    assert over.count == 6 and over.high == 1.0 and over.low == pytest.approx(0.025 ** (1 / 6))


def test_a_calm_sea_in_time_leaves_no_objection() -> None:
    body = SplashBody((CRATE,), np.array([2400.0]), np.ones(1), 2.0)
    asked = Question(body, Water(1025.0), TipStill(), Line(6e4, 0.03), 0.5, 4000.0)
    found = in_time(asked, RandomSea(0.08, 4.0, waves=40), seeds(), members=4, hold_s=6.0)
    assert found.verdict == "no objection found under these assumptions" and found.hold_slack is None


def test_what_is_not_known_is_an_objection_and_no_seas_are_run() -> None:
    body = SplashBody((CRATE,), np.array([1400.0]), np.ones(1), 2.0)
    found = in_time(Question(body, Water(1025.0), None, None, 0.5, None), SEA, seeds(), members=2)
    assert found.hoist is None and len(found.objections) == 2
    assert found.verdict.startswith("objection: the motion of the boom head")


def test_a_hoist_goes_from_under_the_troughs_to_over_the_crests_at_its_speed() -> None:
    up = through_the_surface(0.8, 0.5, 0.2, 0.25)
    assert (up.from_level_m, up.to_level_m) == pytest.approx((-0.8 - 0.695, 0.695))
    trace = traced(Run(model(), RegularSea(0.0, 4.0), TipStill(), up), 1, seeds())
    last = (trace.height_m[-1, 0] - trace.height_m[-200, 0]) / (trace.time_s[-1] - trace.time_s[-200])
    assert last == pytest.approx(0.25, rel=0.1)


def test_springs_in_series_are_softer_than_the_softest() -> None:
    assert in_series_n_m(2e5, 2e5) == pytest.approx(1e5)
    assert in_series_n_m(2e5, 5e4, 1e6) < 5e4


@pytest.mark.parametrize(
    ("ask", "error", "expected"),
    [
        (lambda: ensemble(replace(RUN, tip=None), 2, seeds()), SplashError, "boom head is not known"),
        (lambda: traced(replace(RUN, tip=None), 2, seeds()), SplashError, "boom head is not known"),
        (lambda: ensemble(RUN, 0, seeds()), SplashError, "at least one member"),
        (lambda: ensemble(replace(RUN, sea=RandomSea(2.0, 3.0)), 2, seeds()), WaveError, "impossible for Hs 2 m"),
        (lambda: Line(0.0), SplashError, "stiffness of the hoist line must be more than 0 N/m"),
        (lambda: Line(1e5, 1.5), SplashError, "below 1"),
        (lambda: in_series_n_m(), SplashError, "at least one stiffness"),
        (lambda: Hold(0.0, 0.0), SplashError, "time it is held"),
        (lambda: Hoist(0.2, 1.0, 0.0), SplashError, "end higher than it starts"),
        (lambda: Hollow(1.0, 0.5, 0.0, 2.0), SplashError, "cannot be greater than its plan area"),
        (lambda: Immersion.prism(0.0, 1.0, 1.0, 1.0), SplashError, "height of the body"),
        (lambda: Immersion(1.0, np.array([0.0, 1.0, 0.5]), np.zeros(3), np.zeros(3)), SplashError, "must grow"),
        (lambda: Immersion(1.0, np.zeros(3), np.zeros(2), np.zeros(3)), SplashError, "one value each"),
        (lambda: RegularSea(-0.1, 4.0), SplashError, "amplitude of the wave"),
        (lambda: model(()), SplashError, "same number of draws"),
        (lambda: clopper_pearson(3, 2), SplashError, "between 0 and the number"),
        (lambda: clopper_pearson(1, 2, 1.0), SplashError, "confidence"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(ask, error, expected: str) -> None:
    with pytest.raises(error, match=expected):
        ask()
