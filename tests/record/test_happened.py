"""After the lift: what was entered, a load cell's log with drift and a gap, and what the next plan learns."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.bodies import keep_body
from oakum.desk.lifts.happened import carried_over, happened, learnt_minutes, lifts_of
from oakum.desk.lifts.happening import enter_event, enter_lift_reading, enter_minutes, keep_cell_log
from oakum.desk.lifts.plan import PlanAnswer, plan_find
from oakum.desk.lifts.plan_stages import abandon, brief, finish
from oakum.desk.lifts.rigs import keep_rig
from oakum.lift.raising import RaisingError, example_rig
from oakum.record import FactError, Logbook

DAY = date(2026, 6, 1)
BODY = """
title = "Millstone"
water = {{ salinity = "34.5", temperature = "10 degC", depth = "14 m" }}
hook_above_top = "1.8 m"

[[part]]
name = "stone"
shape = "cylinder"
diameter = "{diameter} ± 1 cm"
height = "20 ± 1 cm"
density = "2500 ± 60 kg/m3"
"""
RIG = example_rig()


class Site:
    def __init__(self, folder: Path) -> None:
        self.log = Logbook.create(folder, "Tolmarren")
        self.ann = self.log.add_person("A", "volunteer").id
        self.find = self.stone("60 cm")

    def stone(self, diameter: str) -> str:
        find = self.log.append("find.entered", None, {"title": "millstone"}, author="recorder").subject
        body = BODY.format(diameter=diameter.removesuffix(" cm"))
        keep_body(self.log, self.log.find(find), body, author="recorder")
        keep_rig(self.log, find, RIG, author="recorder")
        return find

    def plan(self, find: str = "") -> PlanAnswer:
        return plan_find(self.log, find or self.find, on=DAY, with_helps=False)

    def read(self, load: str, height: str = "", **more: object) -> None:
        said = {"at": "2026-06-01T11:40", "zone": "+01:00", "by": self.ann, "author": "recorder"}
        enter_lift_reading(self.log, self.find, load, height=height, **(said | more))  # type: ignore[arg-type]


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


def test_readings_stand_beside_the_bands_of_the_plan_with_who_read_them_when(site: Site) -> None:
    under = site.plan().plan.weight.state("submerged").load_kg
    for load in (under.best, 1.6 * under.best, 0.4 * under.best):
        site.read(f"{load:.1f} ± 3 kg", "-3 m", bags_empty=True, instrument="cell 1")
    site.read("300 ± 5 kg")
    site.read("300 ± 5 kg", "-3 m", bags_empty=False)
    site.read("300 ± 5 kg", "0.4 m", at="2026-06-01T11:52:30")
    found = happened(site.log, site.plan())
    verdicts = [row.verdict for row in found.compared.readings]
    assert verdicts[:3] == ["inside", "above", "below"] and verdicts[3:5] == ["not compared"] * 2
    first = found.happened.readings[0]
    assert (first.height_m, first.time, first.by, first.sd_kg) == (-3.0, "2026-06-01T11:40", site.ann, 3.0)
    assert site.log.entries(kind="lift.reading")[-1].body["seen"]["precision"] == "second"
    assert len(found.entries) == 6 and found.changed_since is None and site.log.check().ok


@pytest.mark.parametrize(
    ("load", "more", "told"),
    [
        ("", {}, "load: write what the cell showed"),
        ("452", {}, "load: .*has no unit"),
        ("2 ton", {}, "load: .*more than one meaning"),
        ("4 kPa", {}, "load: "),
        ("452 kg", {"height": "3 feet deep"}, "height: "),
        ("452 kg", {"clear_for": "a while"}, "clear_for: "),
    ],
)
def test_a_reading_that_cannot_be_read_is_told_at_its_field(
    site: Site, load: str, more: dict[str, str], told: str
) -> None:
    before = site.log.count()
    with pytest.raises(FieldErrors, match=told):
        site.read(load, **more)
    assert site.log.count() == before


def test_a_load_in_kilonewtons_is_kept_in_kilograms_beside_its_text(site: Site) -> None:
    # Standard gravity 9.80665 m/s2: 3rd CGPM 1901 [memory, verify]
    site.read("4.41 ± 0.05 kN", "-3 m")
    load = site.log.entries(kind="lift.reading")[0].body["load"]
    assert load["text"] == "4.41 ± 0.05 kN" and load["unit"] == "kg"
    assert float(load["value"]) == pytest.approx(4410 / 9.80665)
    assert float(load["sd"]) == pytest.approx(50 / 9.80665)


def test_a_reading_says_when_it_was_read(site: Site) -> None:
    load = {"text": "452 kg", "value": "452", "unit": "kg"}
    with pytest.raises(FactError, match="seen: say when it was read, and by whom"):
        site.log.append("lift.reading", site.find, {"load": load}, author="recorder")
    with pytest.raises(FactError, match=r"seen\.at"):
        site.read("452 kg", at="noon")


def test_minutes_events_and_what_broke_belong_to_the_newest_lift(site: Site) -> None:
    enter_minutes(site.log, site.find, "trial", "12 min", author="recorder")
    enter_minutes(site.log, site.find, "trial", "3", author="recorder")
    enter_minutes(site.log, site.find, "land", "0.5 h", author="recorder")
    enter_event(site.log, site.find, "tagline parted", author="recorder", step="land", gear="T-01")
    found = happened(site.log, site.plan())
    assert found.happened.minutes == {"trial": 15.0, "land": 30.0}
    assert [(one.what, one.step) for one in found.compared.broke] == [("tagline parted", "land")]
    row = next(row for row in found.compared.minutes if row.key == "trial")
    assert row.planned is not None and row.taken == 15.0
    abandon(site.log, site.find, "swell rose", author=site.ann)
    enter_minutes(site.log, site.find, "trial", "1 min", author="recorder", note="typed in the evening")
    brief(site.log, site.find, on=DAY, author=site.ann)
    assert happened(site.log, site.plan()).happened.minutes == {}
    assert [len(lift) for lift in lifts_of(site.log.entries(site.find))] == [6, 1]


@pytest.mark.parametrize(
    ("step", "taken", "told"),
    [("", "12 min", "say which step"), ("trial", "a while", "taken: "), ("trial", "-3 min", "taken: ")],
)
def test_minutes_that_cannot_be_read_are_told(site: Site, step: str, taken: str, told: str) -> None:
    with pytest.raises(FieldErrors, match=told):
        enter_minutes(site.log, site.find, step, taken, author="recorder")
    with pytest.raises(FieldErrors, match="say what happened"):
        enter_event(site.log, site.find, "", author="recorder")
    with pytest.raises(FactError, match="greater than 0"):
        enter_minutes(site.log, site.find, "trial", "0 min", author="recorder")


def test_three_ended_lifts_teach_the_next_plan_its_minutes_and_two_do_not(site: Site) -> None:
    for count, taken in enumerate(("20 min", "24 min", "31 min"), start=1):
        find = site.stone(f"{50 + count} cm")
        enter_minutes(site.log, find, "sling", taken, author="recorder")
        assert "sling" not in learnt_minutes(site.log)
        finish(site.log, find, on=DAY, author=site.ann, note="rehearsal")
        assert ("sling" in learnt_minutes(site.log)) is (count == 3)
    step = next(step for step in site.plan().plan.steps if step.key == "sling")
    assert step.minutes is not None and step.minutes.p5 < 20 < step.minutes.best < 31 < step.minutes.p95


def cell_csv() -> str:
    """A log at 1 Hz in kN: unloaded, lifted, unloaded; its zero drifts by 0.3 kN, 2 min missing, a line torn."""
    rng = np.random.default_rng(11)
    lines = ["Time;Load (kN);Height (m)"]
    for second in range(1200):
        if 500 <= second < 620:
            continue
        loaded = 120 <= second < 1080
        load = 0.3 * second / 1200 + (4.2 if loaded else 0.0) + rng.normal(0, 0.01)
        clock = f"{9 + (1800 + second) // 3600:02d}:{((1800 + second) // 60) % 60:02d}:{second % 60:02d}"
        height = f"{-6 + second / 300:.2f}" if loaded else ""
        lines.append(f"{clock};{'ERR' if second == 300 else f'{load:.3f}'};{height}")
    return "\n".join(lines)


def test_a_log_is_kept_as_a_file_with_one_entry_that_sums_it_up(site: Site) -> None:
    content = cell_csv().encode()
    before = site.log.count()
    log, entry = keep_cell_log(
        site.log,
        site.find,
        "cell1.csv",
        content,
        unit="kg",
        author="recorder",
        unloaded_before_s=(0.0, 110.0),
        unloaded_after_s=(1090.0, 1199.0),
        instrument="cell 1",
    )
    assert site.log.count() == before + 2 and len(log.time_s) == 1079
    body = entry.body
    assert body["gaps"] == [["499", "620"]] and body["left_out"] == 1 and body["samples"] == 1079
    # Own calculation: 0.3 kN over 1200 s, between the middles of the two unloaded stretches (55 and 1144.5 s).
    drift_kg = 0.3e3 / 9.80665 * (1144.5 - 55.0) / 1200.0
    assert float(body["drift"]["value"]) == pytest.approx(drift_kg, rel=0.02)
    assert float(body["greatest"]["value"]) == pytest.approx(4.2e3 / 9.80665, rel=0.01)
    found = happened(site.log, site.plan())
    said = " ".join(found.compared.log_notes)
    assert "nothing was read from 499 s to 620 s (121 s)" in said and "line 302" in said and "kg an hour" in said
    assert found.compared.log_inside is not None
    assert site.log.check_files().whole and site.log.find(site.find).files[0].body["name"] == "cell1.csv"


def test_without_an_unloaded_stretch_the_drift_is_not_known_and_nothing_is_taken_off(site: Site) -> None:
    _, entry = keep_cell_log(
        site.log, site.find, "cell1.csv", cell_csv().encode(), unit="kN", author="recorder"
    )
    assert "drift" not in entry.body
    notes = happened(site.log, site.plan()).compared.log_notes
    assert any("not known how far the cell drifts" in note for note in notes)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        ("", "the log is empty"),
        ("a;b\n1;2\n", 'no column "time"'),
        ("time;load (ton)\n1;2\n2;3\n", 'in "ton": write one of'),
        ("time;load (kg)\n1;ERR\n2;ERR\n", "fewer than two lines that could be read"),
    ],
)
def test_a_log_that_cannot_be_read_keeps_nothing(site: Site, content: str, told: str) -> None:
    before = site.log.count()
    with pytest.raises(RaisingError, match=told):
        keep_cell_log(site.log, site.find, "cell1.csv", content.encode(), unit="kg", author="recorder")
    assert site.log.count() == before and site.log.check_files().checked == 0


def test_a_trial_with_a_lesser_piece_is_set_beside_the_intact_one(site: Site) -> None:
    lesser = site.stone("50 cm")
    found = carried_over(site.log, lesser, site.find, on=DAY)
    first = found.scales[0]
    assert first.unit == "kg" and first.ratio == pytest.approx(1.44, abs=0.1)  # (60/50)^2
    assert found.does_not and found.cautions
