"""A plan takes vessel and cradle from the logbook; changing one withdraws a release, an open question blocks it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from oakum.desk.finds.measures import reading_of
from oakum.desk.lifts.bodies import keep_body
from oakum.desk.lifts.cradles import keep_cradle
from oakum.desk.lifts.plan import PlanAnswer, plan_find
from oakum.desk.lifts.plan_stages import brief, release
from oakum.desk.lifts.rigs import keep_rig
from oakum.desk.lifts.vessels import enter_vessel
from oakum.desk.lifts.weigh import HOOK_LOAD, UNDER_WATER, weigh_find
from oakum.desk.lifts.what_if import Knobs, WhatIfError, knobs_of, rig_text_with, what_if
from oakum.desk.today.due_plans import plans_withdrawn
from oakum.lift.cradle import starting_cradle
from oakum.lift.raising import parse_rig
from oakum.lift.vessel import vessel_files
from oakum.record import Logbook, restore

DAY = date(2026, 6, 1)
EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "examples"
VESSEL = (EXAMPLES / "workboat.toml").read_text()
CRADLE = starting_cradle("frame")
BODY = """
title = "Millstone"
water = "1027 kg/m3"
hook_above_top = "1.8 m"
[[part]]
name = "stone"
shape = "cylinder"
diameter = "60 ± 1 cm"
height = "20 ± 1 cm"
density = "2500 ± 60 kg/m3"
"""
RIG = """
title = "Millstone on two legs"
cell_unit = "kg"
[rules]
sharing = "bound"
hitches = "EU"
[hook]
place = "over the hanging point"
level = "in air"
height = "1.8 m"
wll = "5 t"
rigging = "25 kg"
[[leg]]
name = "one"
at = { x = "0.2 m", y = "0 m", z = "0.2 m" }
wll = "2 t"
[[leg]]
name = "two"
at = { x = "-0.2 m", y = "0 m", z = "0.2 m" }
wll = "2 t"
[seaway]
vessel = "workboat tolmarren girl"
heading = "beam"   # as the skipper expects
waters = "sheltered"
hs = "0.15 m"
tz = "5 s"
periods = ["5 s"]
depth = "14 m"
radius = "4 m"
wind = "5 m/s"
line = { axial_stiffness = "12 MN", length = "12 m" }
"""


class Site:
    """A project with a find that has body, rig and cradle, and a vessel."""

    def __init__(self, folder: Path) -> None:
        self.log = Logbook.create(folder, "Tolmarren")
        self.find = self.log.append("find.entered", None, {"title": "millstone"}, author="recorder").subject
        keep_body(self.log, self.log.find(self.find), BODY, author="recorder")
        keep_rig(self.log, self.find, RIG, author="recorder")
        self.ann, self.ben = (self.log.add_person(name, "volunteer").id for name in "AB")

    def vessel(self, text: str = VESSEL, over: str | None = None) -> str:
        tables = {name: (EXAMPLES / name).read_bytes() for name in vessel_files(text)}
        reason = "surveyed anew" if over else ""
        return enter_vessel(self.log, text, tables, author="recorder", over=over, reason=reason).subject

    def cradle(self, text: str = CRADLE, reason: str = "") -> None:
        keep_cradle(self.log, self.find, text, author="recorder", reason=reason)

    def plan(self) -> PlanAnswer:
        return plan_find(self.log, self.find, on=DAY, draws=1000, with_helps=False)

    def released(self) -> None:
        brief(self.log, self.find, on=DAY, author=self.ann)
        for person in (self.ann, self.ben):
            release(self.log, self.find, on=DAY, author=person, despite="in the harbour basin")
        assert self.plan().plan.stage == "released"


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


def test_a_plan_takes_the_vessel_its_rig_names_and_the_cradle_of_the_find(site: Site) -> None:
    bare = site.plan().plan
    assert bare.seaway is not None and bare.seaway.papers is None and bare.cradle is None
    assert any("There is no vessel" in q for q in bare.open_questions)
    site.vessel()
    site.cradle()
    answer = site.plan()
    assert answer.plan.seaway is not None and answer.plan.seaway.vessel_title == "Workboat Tolmarren Girl"
    assert answer.plan.cradle is not None and answer.plan.weight.frame is not None
    assert {part for part, _ in answer.parts} >= {"vessel", "cradle"}
    assert answer.plan.fingerprint != bare.fingerprint
    assert site.plan().plan is answer.plan  # not worked out twice


def test_the_frame_of_the_cradle_counts_in_the_weighing_of_the_find(site: Site) -> None:
    alone = weigh_find(site.log, site.find, draws=1000)
    site.cradle()
    framed = weigh_find(site.log, site.find, draws=1000)
    assert alone.cradle is None and framed.cradle is not None
    assert alone.report.frame is None and framed.report.frame is not None
    gain = framed.report.state("clear").load_kg.mean - alone.report.state("clear").load_kg.mean
    assert gain == pytest.approx(framed.report.frame.clear_kg.mean, rel=1e-6)
    assert framed.report.draws == alone.report.draws == 1000


def test_whether_the_frame_hung_on_the_cell_is_asked_until_somebody_says(site: Site) -> None:
    site.cradle()
    kg = weigh_find(site.log, site.find, draws=1000).report.state("submerged").load_kg.best
    for frame, asked in ((None, True), (False, False)):
        body = reading_of(f"{kg:.0f} ± 8 kg", "mass", quantity=HOOK_LOAD, state=UNDER_WATER, frame=frame)
        entry = site.log.append("reading", site.find, body | {"covers": "alone"}, author="recorder")
        said = weigh_find(site.log, site.find, draws=1000).report.open_questions
        assert any("frame of the cradle hung on the cell" in q for q in said) is asked
        site.log.append("struck", site.find, {"reason": "again"}, author="recorder", over=[entry.id])


def test_a_vessel_described_otherwise_withdraws_the_release(site: Site) -> None:
    vessel = site.vessel()
    site.cradle()
    site.released()
    assert plans_withdrawn(site.log, DAY) == ()
    site.vessel(VESSEL.replace("# ", "#  ", 1), over=vessel)  # other words only
    assert site.plan().plan.stage == "released"
    changed = VESSEL.replace('beam = "21 ft 4 in"', 'beam = "21 ft"')
    assert changed != VESSEL
    site.vessel(changed, over=vessel)
    plan = site.plan().plan
    assert plan.stage == "draft" and "the vessel was described anew" in (plan.withdrawn or "")
    (gone,) = plans_withdrawn(site.log, DAY)
    assert "vessel" in gone.why


def test_a_cradle_described_otherwise_withdraws_the_release(site: Site) -> None:
    site.vessel()
    site.cradle()
    site.released()
    site.cradle(CRADLE.replace("title = ", "title  = ", 1), reason="spacing of words")
    assert site.plan().plan.stage == "released"
    site.cradle(CRADLE.replace("C24", "C18"), reason="the yard has no C24")
    plan = site.plan().plan
    assert plan.stage == "draft" and "the cradle was described anew" in (plan.withdrawn or "")


def test_a_cradle_that_comes_later_withdraws_the_release_too(site: Site) -> None:
    site.vessel()
    site.released()
    site.cradle()
    assert "the cradle was described anew" in (site.plan().plan.withdrawn or "")


def test_two_descriptions_of_the_cradle_block_the_release_and_the_heavier_is_weighed(
    site: Site, tmp_path: Path
) -> None:
    site.log.backup(tmp_path / "copy.zip")
    restore(tmp_path / "copy.zip", tmp_path / "lab")
    heavy = CRADLE.replace("100 x 150 mm", "200 x 150 mm")
    site.cradle()
    light = weigh_find(site.log, site.find, draws=1000).report.state("clear").load_kg.p95
    with Logbook.open(tmp_path / "lab") as lab:
        keep_cradle(lab, site.find, heavy, author="conservator")
        site.log.receive(entry for entry in lab.entries() if entry.station == lab.station)
    assert len(site.log.find(site.find).heads["cradle"]) == 2
    assert weigh_find(site.log, site.find, draws=1000).report.state("clear").load_kg.p95 > light + 10.0
    assert any("cradle" in why for why in site.plan().plan.blocked_by)


def test_the_knobs_of_the_sea_stand_as_the_rig_says(site: Site) -> None:
    site.vessel()
    kept = site.plan()
    knobs = knobs_of(kept.plan)
    assert (knobs.hs_m, knobs.tz_s, knobs.heading, knobs.depth_m, knobs.radius_m) == (0.15, 5.0, "beam", 14.0, 4.0)
    assert what_if(kept, knobs).plan is kept.plan and rig_text_with(kept, knobs) == (RIG, ())


@pytest.mark.parametrize(
    "asked",
    [Knobs(hs_m=0.4), Knobs(tz_s=6.0), Knobs(heading="head"), Knobs(depth_m=8.0), Knobs(radius_m=6.0, hs_m=0.1)],
)
def test_what_is_tried_in_another_sea_is_the_plan_of_the_text_that_would_be_kept(site: Site, asked: Knobs) -> None:
    site.vessel()
    kept = site.plan()
    tried = what_if(kept, asked)
    toml, changes = rig_text_with(kept, asked)
    assert changes == tried.changes != () and "# as the skipper expects" in toml
    assert tried.plan.rig is not None and parse_rig(toml).sea == tried.plan.rig.sea
    keep_rig(site.log, site.find, toml, author="recorder", reason="tried")
    anew = site.plan().plan
    assert tried.plan.objections == anew.objections
    assert [(c.title, c.demand) for c in tried.plan.checks] == [(c.title, c.demand) for c in anew.checks]


def test_a_rig_without_a_sea_is_tried_in_one(tmp_path: Path) -> None:
    site = Site(tmp_path)
    keep_rig(site.log, site.find, RIG.partition("[seaway]")[0], author="recorder", reason="no sea yet")
    kept = site.plan()
    assert kept.plan.seaway is None and knobs_of(kept.plan).hs_m is None
    tried = what_if(kept, Knobs(hs_m=0.3, tz_s=5.0))
    assert tried.plan.seaway is not None and "Hs 0.3 m instead of not known" in tried.changes
    toml, _ = rig_text_with(kept, Knobs(hs_m=0.3, tz_s=5.0))
    assert parse_rig(toml).sea == tried.plan.seaway.asked


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        (Knobs(hs_m=3.0, tz_s=2.0), "impossible for Hs"),
        (Knobs(radius_m=-1.0), "must be above 0"),
        (Knobs(depth_m=float("nan")), "must be above 0"),
    ],
)
def test_a_sea_that_cannot_be_is_refused(site: Site, asked: Knobs, why: str) -> None:
    with pytest.raises(WhatIfError, match=why):
        what_if(site.plan(), asked)
