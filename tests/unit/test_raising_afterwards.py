"""After the lift: the cell's log, readings and minutes against the plan, minutes learnt, a trial carried over."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from oakum.ground.estimate import Spread
from oakum.lift import parse_body, starting_bodies, weighing_of
from oakum.lift.raising import (
    Broke,
    Happened,
    LoadRead,
    PlanContext,
    RaisingError,
    RaisingPlan,
    carry_over,
    compare,
    example_rig,
    learn_minutes,
    log_notes,
    parse_rig,
    raising_plan,
    read_cell_log,
)
from oakum.lift.raising.cell import cell_text, outward, sensible_step


@cache
def plan(key: str = "capstan") -> RaisingPlan:
    body = parse_body(starting_bodies()[key].toml)
    weighing = weighing_of(body, rng=np.random.default_rng(3), draws=2000, seed=3)
    return raising_plan(weighing, parse_rig(example_rig()), PlanContext(on="2026-07-01"), with_helps=False)


def drifting_log() -> tuple[str, np.ndarray]:
    """A log in kN with a zero that walks 30 kg an hour, 1 kg of noise, a gap, a bad line and a decimal comma."""
    rng = np.random.default_rng(8)
    time = np.concatenate([np.arange(0.0, 600.0, 2.0), np.arange(660.0, 1800.0, 2.0)])
    true = np.where((time > 120.0) & (time < 1680.0), 490.0, 0.0)
    read = true + 30.0 * time / 3600.0 + rng.normal(0.0, 1.0, len(time))
    lines = ["time;load (kN)"]
    for t, kg in zip(time, read, strict=True):
        lines.append(f"{t:.0f};{kg * 9.80665 / 1000:.4f}".replace(".", ","))
    lines.insert(10, "18;-----")
    return "\n".join(lines), true


def test_a_log_with_drift_and_a_gap_is_put_right_and_both_are_named() -> None:
    text, true = drifting_log()
    log = read_cell_log(text, "kN", unloaded_before_s=(0.0, 110.0), unloaded_after_s=(1700.0, 1798.0))
    assert log.drift is not None
    assert log.drift.per_hour_kg == pytest.approx(30.0, abs=1.0)
    assert log.drift.noise_kg == pytest.approx(1.0, abs=0.2)
    assert abs(float(np.mean(log.load_kg - true))) < 0.3
    assert [(g.from_s, g.to_s) for g in log.gaps] == [(598.0, 660.0)]
    said = " | ".join(log_notes(log))
    assert "kg an hour" in said and "nothing was read from 598 s to 660 s" in said
    assert 'line 11: "-----" is no number' in said


def test_a_few_wild_readings_do_not_move_the_zero() -> None:
    text, _ = drifting_log()
    lines = text.splitlines()
    for i in (5, 8, 30):
        lines[i] = lines[i].split(";")[0] + ";9,0"
    log = read_cell_log(
        "\n".join(lines), "kN", unloaded_before_s=(0.0, 110.0), unloaded_after_s=(1700.0, 1798.0)
    )
    assert log.drift is not None and log.drift.per_hour_kg == pytest.approx(30.0, abs=1.0)


def test_without_unloaded_stretches_nothing_is_taken_off_and_it_is_said() -> None:
    text, _ = drifting_log()
    log = read_cell_log(text, "kN")
    assert log.drift is None and any("not known how far the cell drifts" in n for n in log.notes)
    assert float(np.median(log.load_kg[-20:])) == pytest.approx(15.0, abs=2.0)


@pytest.mark.parametrize(
    "times",
    [
        ("23:59:50", "00:00:00", "00:00:10"),
        ("2026-07-01T23:59:50", "2026-07-02T00:00:00", "2026-07-02T00:00:10"),
        ("0", "10", "20"),
        ("09:15", "09:15:10", "09:15:20"),
    ],
)
def test_times_are_read_as_they_are_written(times: tuple[str, ...]) -> None:
    log = read_cell_log("Time,Load [kg]\n" + "\n".join(f"{t},{500 + i}" for i, t in enumerate(times)), "kg")
    assert log.time_s.tolist() == [0.0, 10.0, 20.0]
    assert log.load_kg.tolist() == [500.0, 501.0, 502.0]


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("", "kg", "empty"),
        ("time,weightings\n1,2\n", "kg", 'no column "load"'),
        ("time,load (ton)\n0,1\n1,1\n", "kg", '"ton"'),
        ("time,load\n0,1\n1,1\n", "", "give the unit of the cell"),
        ("time,load (kg)\n0,1\n", "kg", "fewer than two lines"),
        ("time,load (kg),height (ft)\n0,1,2\n1,1,2\n", "kg", "heights are in metres"),
    ],
)
def test_a_log_that_cannot_be_read_says_what_was_expected(text: str, unit: str, says: str) -> None:
    with pytest.raises(RaisingError) as caught:
        read_cell_log(text, unit)
    assert says in str(caught.value)


def test_unloaded_stretches_need_readings() -> None:
    text, _ = drifting_log()
    with pytest.raises(RaisingError, match="fewer than three readings"):
        read_cell_log(text, "kN", unloaded_before_s=(600.0, 640.0), unloaded_after_s=(1700.0, 1798.0))
    with pytest.raises(RaisingError, match="must come later"):
        read_cell_log(text, "kN", unloaded_before_s=(1700.0, 1798.0), unloaded_after_s=(0.0, 100.0))


def test_readings_are_set_against_the_band_at_their_height() -> None:
    deep, clear = (plan().weight.state(s).load_kg for s in ("submerged", "clear"))
    happened = Happened(
        readings=(
            LoadRead(deep.best, height_m=-5.0, by="p-00000001"),
            LoadRead(clear.best, height_m=0.5),
            LoadRead(1.2 * clear.p95, height_m=0.5),
            LoadRead(0.8 * deep.p5, height_m=-5.0),
            LoadRead(deep.best),
            LoadRead(0.5 * deep.best, height_m=-5.0, bags_empty=False),
            LoadRead(plan().weight.state("drained").load_kg.best, clear_s=1e4),
        ),
        minutes={"trial": 25.0, "land": 12.0, "songs": 3.0},
        broke=(Broke("a tagline", "through the surface", "p-00000001"),),
    )
    found = compare(plan(), happened)
    assert [r.verdict for r in found.readings] == [
        "inside",
        "inside",
        "above",
        "below",
        "not compared",
        "not compared",
        "inside",
    ]
    assert found.inside == 3 and found.broke[0].what == "a tagline"
    assert found.over_likely == pytest.approx(1.0, abs=0.05)
    said = " | ".join(found.questions)
    assert "heavier than thought" in said and "left behind" in said and "songs" in said


def test_a_reading_just_outside_is_inside_for_a_cell_that_may_be_out_by_so_much() -> None:
    deep = plan().weight.state("submerged").load_kg
    for sd, verdict in ((None, "above"), (20.0, "inside")):
        read = LoadRead(deep.p95 + 15.0, height_m=-5.0, sd_kg=sd)
        assert compare(plan(), Happened((read,))).readings[0].verdict == verdict


def test_minutes_taken_stand_beside_minutes_planned() -> None:
    rows = {
        r.key: r
        for r in compare(plan(), Happened(minutes={"trial": 60.0, "weigh": 5.0, "land": 9.0})).minutes
    }
    assert rows["trial"].verdict == "longer" and rows["weigh"].verdict == "shorter"
    assert rows["land"].verdict == "not compared" and rows["land"].planned is None
    assert rows["brief"].taken is None


def test_a_log_with_heights_is_set_against_the_band() -> None:
    curve = plan().weight.emergence
    lines = [f"{i},{kg},{x}" for i, (x, kg) in enumerate(zip(curve.x, curve.best, strict=True))]
    log = read_cell_log("time,load (kg),height (m)\n" + "\n".join(lines), "kg")
    assert compare(plan(), Happened(log=log)).log_inside == 1.0
    heavy = [f"{i},{2 * kg},{x}" for i, (x, kg) in enumerate(zip(curve.x, curve.best, strict=True))]
    log = read_cell_log("time,load (kg),height (m)\n" + "\n".join(heavy), "kg")
    assert compare(plan(), Happened(log=log)).log_inside == 0.0


def test_minutes_are_learnt_from_three_lifts_on_as_the_range_of_a_next_one() -> None:
    lifts = [{"trial": 18.0, "land": 10.0}, {"trial": 25.0, "land": 14.0}, {"trial": 21.0}]
    found = learn_minutes(lifts)
    assert set(found) == {"trial"}
    trial = found["trial"]
    assert trial.p5 < 18.0 and trial.p95 > 25.0 and trial.best == pytest.approx((18 * 25 * 21) ** (1 / 3))
    more = learn_minutes([*lifts, {"trial": 19.0}, {"trial": 23.0}, {"trial": 22.0}, {"trial": 20.0}])[
        "trial"
    ]
    assert more.p95 - more.p5 < trial.p95 - trial.p5
    assert learn_minutes([{"trial": 20.0}] * 3)["trial"].is_exact
    with pytest.raises(RaisingError, match="above 0"):
        learn_minutes([{"trial": 0.0}])


def test_learnt_minutes_hold_nine_of_ten_next_lifts() -> None:
    rng = np.random.default_rng(5)
    inside = 0
    for _ in range(1500):
        taken = np.exp(rng.normal(np.log(20.0), 0.3, 5))
        learnt = learn_minutes([{"trial": float(t)} for t in taken[:4]])["trial"]
        inside += learnt.p5 <= taken[4] <= learnt.p95
    assert inside / 1500 == pytest.approx(0.9, abs=0.025)


def test_a_trial_with_a_lesser_piece_is_carried_over_side_by_side() -> None:
    found = carry_over(plan("capstan_head"), plan())
    rows = {row.what: row for row in found.scales}
    weight = rows["weight hanging under water, likely"]
    assert weight.ratio == pytest.approx(
        plan().weight.state("submerged").load_kg.best
        / plan("capstan_head").weight.state("submerged").load_kg.best
    )
    assert any("greatest force in leg" in what for what in rows)
    assert "free air for the bags at 1 bar" in rows
    words = {row.what for row in found.does_not}
    assert {"strength of the object", "what the bed holds back", "force of the sea"} <= words
    assert all(row.why for row in found.does_not) and found.over_likely is None


def test_what_is_not_known_on_one_side_has_no_ratio() -> None:
    same = carry_over(plan(), plan())
    assert all(row.ratio is None or row.ratio == pytest.approx(1.0) for row in same.scales)
    bare = parse_rig(example_rig().split("[bags]")[0])
    body = parse_body(starting_bodies()["capstan_head"].toml)
    weighing = weighing_of(body, rng=np.random.default_rng(3), draws=2000, seed=3)
    less = raising_plan(weighing, bare, PlanContext(on="2026-07-01"), with_helps=False)
    air = next(r for r in carry_over(less, plan()).scales if r.what.startswith("free air"))
    assert air.trial is None and air.ratio is None


@pytest.mark.parametrize(
    ("low", "high", "step", "expected"),
    [
        (434.2, 553.9, 2.0, (434.0, 554.0)),
        (4.261, 5.432, 0.1, (4.2, 5.5)),
        (434.0, 554.0, 2.0, (434.0, 554.0)),
    ],
)
def test_a_band_is_rounded_outward(
    low: float, high: float, step: float, expected: tuple[float, float]
) -> None:
    assert outward(low, high, step) == expected


@pytest.mark.parametrize(
    ("width", "size", "step"),
    [(120.0, 550.0, 10.0), (1.2, 5.4, 0.1), (59.0, 500.0, 5.0), (0.0, 500.0, 5.0), (0.0, 0.0, 1.0)],
)
def test_the_step_of_a_band_is_a_round_number_within_a_tenth_of_its_width(
    width: float, size: float, step: float
) -> None:
    assert sensible_step(width, size) == pytest.approx(step)
    assert cell_text(12.0, "kN", 0.05) == "12.00 kN"


def test_a_spread_of_minutes_is_a_spread() -> None:
    total = plan().minutes
    assert total is None  # some steps have none yet
    assert isinstance(next(s.minutes for s in plan().steps if s.key == "trial"), Spread)
