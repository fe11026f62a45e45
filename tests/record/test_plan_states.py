"""A plan is briefed, released by two named people, done or abandoned; a change of mass, rig or gear withdraws it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from oakum.desk.finds.entering import FieldErrors, change_field
from oakum.desk.finds.measures import measure_of, reading_of
from oakum.desk.gear.entering import bring_back, change_piece, list_piece, withdraw
from oakum.desk.lifts.bodies import keep_body
from oakum.desk.lifts.plan import NoRigError, PlanAnswer, plan_find
from oakum.desk.lifts.plan_stages import PlanStageError, abandon, brief, finish, release
from oakum.desk.lifts.rigs import RigError, keep_rig
from oakum.desk.lifts.weigh import NoBodyError, cell_readings
from oakum.desk.people import give_role
from oakum.ground.quantities import QuantityError
from oakum.lift.raising import RigFileError
from oakum.record import FactError, Logbook, RecordError

DAY = date(2026, 6, 1)
BODY = """
title = "Millstone"
water = { salinity = "34.5", temperature = "10 degC", depth = "14 m" }
hook_above_top = "1.8 m"

[[part]]
name = "stone"
shape = "cylinder"
diameter = "60 ± 1 cm"
height = "20 ± 1 cm"
density = "2500 ± 60 kg/m3"
"""
LEG = """
[[leg]]
name = "{name}"
at = {{ x = "{x} m", y = "{y} m", z = "0.2 m" }}
gear = "{gear}"
kind = "wire rope"
hitch = "straight"
"""
RIG = (
    """
title = "Millstone on three legs"
cell_unit = "kg"

[rules]
sharing = "bound"
hitches = "EU"

[hook]
place = "over the hanging point"
level = "in air"
height = "1.8 m"
gear = "H-01"
rigging = "25 kg"

[work]
weather = "no swell"
"""
    + LEG.format(name="north", x="0.20", y="0", gear="S-01")
    + LEG.format(name="south-east", x="-0.10", y="-0.17", gear="S-02")
    + LEG.format(name="south-west", x="-0.10", y="0.17", gear="S-03")
)
DESPITE = "dress rehearsal in the harbour basin"


class Site:
    """A project with one find that has body, rig and gear, and three named people."""

    def __init__(self, folder: Path) -> None:
        self.log = Logbook.create(folder, "Tolmarren")
        self.find = self.log.append("find.entered", None, {"title": "millstone"}, author="recorder").subject
        keep_body(self.log, self.log.find(self.find), BODY, author="recorder")
        keep_rig(self.log, self.find, RIG, author="recorder")
        for identity, kind in (("H-01", "hook"), *((f"S-0{n}", "wire rope sling") for n in (1, 2, 3, 4))):
            list_piece(
                self.log,
                {
                    "identity": identity,
                    "kind": kind,
                    "wll": "2 t",
                    "certificate": "C",
                    "certificate_until": "2026-12-31",
                    "inspected_on": "2026-01-01",
                    "inspect_by": "2026-07-01",
                    "where": "hut",
                },
                author="recorder",
            )
        self.ann, self.ben, self.cat = (self.log.add_person(name, "volunteer").id for name in "ABC")

    def plan(self, on: date = DAY) -> PlanAnswer:
        return plan_find(self.log, self.find, on=on, with_helps=False)

    def brief(self) -> None:
        brief(self.log, self.find, on=DAY, author=self.ann)

    def release(self, author: str, despite: str = DESPITE) -> None:
        release(self.log, self.find, on=DAY, author=author, despite=despite)

    def released(self) -> None:
        self.brief()
        self.release(self.ann)
        self.release(self.ben)
        assert self.plan().plan.stage == "released"

    def weigh(self, text: str = "79 ± 4 kg", gear: str = "") -> str:
        body = reading_of(
            text, "mass", quantity="hook load", state="submerged", instrument="cell 1", gear=gear
        )
        return self.log.append("reading", self.find, body, author="recorder").id


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


def test_a_find_without_body_or_rig_says_what_it_lacks(site: Site) -> None:
    bare = site.log.append("find.entered", None, {"title": "bare"}, author="recorder").subject
    with pytest.raises(NoBodyError, match="has no body yet"):
        plan_find(site.log, bare, on=DAY)
    keep_body(site.log, site.log.find(bare), BODY, author="recorder")
    with pytest.raises(NoRigError, match="has no rig yet"):
        plan_find(site.log, bare, on=DAY)


def test_the_plan_takes_gear_and_day_from_the_logbook(site: Site) -> None:
    answer = site.plan()
    assert {item.key for item in answer.plan.gear} == {"H-01", "S-01", "S-02", "S-03"}
    assert not [item for item in answer.plan.gear if item.objection]
    assert answer.plan.stage == "draft" and answer.rig_toml == RIG and answer.plan.number == answer.find.number
    late = site.plan(date(2026, 7, 2))
    assert all("its inspection lapsed on 2026-07-01" in str(item.objection) for item in late.plan.gear)


def test_the_same_question_is_not_worked_out_twice(site: Site) -> None:
    first = site.plan()
    change_piece(site.log, "S-04", "where", "store", author="recorder", reason="moved")
    assert site.plan().plan is first.plan
    change_piece(site.log, "S-01", "wll", "3 t", author="recorder", reason="other tag")
    assert site.plan().plan is not first.plan


def test_two_different_named_people_release_a_briefed_plan(site: Site) -> None:
    with pytest.raises(PlanStageError, match="is not briefed as it stands now: brief it first"):
        site.release(site.ann)
    site.brief()
    assert site.plan().plan.stage == "briefed"
    with pytest.raises(PlanStageError, match="is briefed already"):
        site.brief()
    site.release(site.ann)
    half = site.plan()
    assert half.plan.stage == "briefed" and half.state.waits_for_second
    with pytest.raises(FactError, match=r"takes two named people, so another one has to"):
        site.release(site.ann)
    site.release(site.ben)
    whole = site.plan()
    assert whole.plan.stage == "released" and set(whole.state.released_by) == {site.ann, site.ben}
    with pytest.raises(PlanStageError, match="is released, by"):
        site.release(site.cat)
    assert site.log.check().ok


@pytest.mark.parametrize("author", ["director", "recorder"])
def test_a_role_is_not_enough_to_brief_or_release(site: Site, author: str) -> None:
    with pytest.raises(RecordError, match="by a named person: add the person"):
        brief(site.log, site.find, on=DAY, author=author)
    site.brief()
    with pytest.raises(RecordError, match="by a named person"):
        site.release(author)
    with pytest.raises(RecordError, match="by a named person"):
        abandon(site.log, site.find, "swell", author=author)


def test_a_release_over_objections_says_why_and_keeps_them(site: Site) -> None:
    site.brief()
    with pytest.raises(FieldErrors, match=r"objections stand: .*say why it is released all the same"):
        site.release(site.ann, despite="")
    site.release(site.ann)
    (entry,) = site.log.entries(kind="plan.released")
    assert entry.body["despite"] == DESPITE and "nobody is named" in " ".join(entry.body["objections"])


def test_a_reading_afterwards_withdraws_the_release_and_is_named(site: Site) -> None:
    site.released()
    site.weigh()
    answer = site.plan()
    assert answer.plan.stage == "draft"
    assert str(answer.plan.withdrawn).startswith("the release is withdrawn: reading 79 ± 4 kg (hook load")
    assert "is new" in str(answer.plan.withdrawn)
    with pytest.raises(PlanStageError, match=r"not briefed as it stands now \(the release is withdrawn"):
        site.release(site.cat)


def test_a_struck_reading_withdraws_the_release(site: Site) -> None:
    reading = site.weigh()
    site.released()
    site.log.append("struck", site.find, {"reason": "cell not zeroed"}, author="recorder", over=[reading])
    assert "no longer counts" in str(site.plan().plan.withdrawn) and site.plan().plan.stage == "draft"


def test_another_body_withdraws_the_release_other_words_in_it_do_not(site: Site) -> None:
    site.released()
    words = BODY + "# measured twice\n"
    keep_body(site.log, site.log.find(site.find), words, author="recorder", reason="remark")
    assert site.plan().plan.stage == "released" and site.plan().plan.withdrawn is None
    heavier = BODY.replace("2500 ± 60", "2700 ± 60")
    keep_body(site.log, site.log.find(site.find), heavier, author="recorder", reason="basalt")
    assert site.plan().plan.withdrawn == "the release is withdrawn: the body was described anew"


def test_another_rig_withdraws_the_release_another_limit_of_the_weather_does_not(site: Site) -> None:
    site.released()
    keep_rig(site.log, site.find, RIG.replace("no swell", "swell below 0.2 m"), author="recorder", reason="ok")
    assert site.plan().plan.stage == "released"
    keep_rig(site.log, site.find, RIG.replace('"1.8 m"', '"2.4 m"'), author="recorder", reason="longer")
    assert site.plan().plan.withdrawn == "the release is withdrawn: the rig was described anew"


def test_another_piece_in_the_rig_withdraws_the_release_and_both_are_named(site: Site) -> None:
    site.released()
    keep_rig(site.log, site.find, RIG.replace("S-03", "S-04"), author="recorder", reason="S-03 is away")
    said = str(site.plan().plan.withdrawn)
    assert "gear S-03 no longer counts" in said and "gear S-04 is new" in said and "the rig was" in said


def test_a_changed_piece_of_gear_withdraws_the_release_its_place_does_not(site: Site) -> None:
    site.released()
    change_piece(site.log, "S-02", "where", "vessel", author="recorder", reason="loaded")
    assert site.plan().plan.stage == "released"
    change_piece(site.log, "S-02", "wll", "1.5 t", author="recorder", reason="tag cleaned")
    assert site.plan().plan.withdrawn == "the release is withdrawn: gear S-02 changed"


def test_a_piece_withdrawn_and_brought_back_does_not_bring_the_release_back(site: Site) -> None:
    site.released()
    withdraw(site.log, "S-02", "kinked", author="recorder")
    assert site.plan().plan.withdrawn == "the release is withdrawn: gear S-02 changed"
    bring_back(site.log, "S-02", passed_by=site.cat, reason="measured, within limits", author="recorder")
    answer = site.plan()
    assert not [item for item in answer.plan.gear if item.objection]
    assert answer.plan.stage == "draft" and answer.plan.withdrawn


def test_a_paper_that_lapses_before_the_day_withdraws_the_release(site: Site) -> None:
    site.released()
    answer = site.plan(date(2026, 7, 2))
    assert answer.plan.stage == "draft" and "gear H-01 changed" in str(answer.plan.withdrawn)


def test_a_plan_changed_and_briefed_again_is_released_again_by_two_people(site: Site) -> None:
    site.released()
    site.weigh()
    site.released()
    assert site.plan().plan.withdrawn is None


def test_two_releases_of_two_different_plans_release_neither(site: Site) -> None:
    site.brief()
    site.release(site.ann)
    site.weigh()
    site.brief()
    site.release(site.ben)
    answer = site.plan()
    assert answer.plan.stage == "briefed" and answer.state.released_by == (site.ben,)
    assert answer.plan.withdrawn is None


def test_a_briefing_of_another_mass_does_not_count(site: Site) -> None:
    site.brief()
    site.weigh()
    answer = site.plan()
    assert answer.plan.stage == "draft"
    assert str(answer.plan.withdrawn).startswith("the briefing no longer holds: reading 79 ± 4 kg")


def test_an_open_question_on_mass_blocks_and_says_who_must_settle_it(site: Site) -> None:
    site.weigh("79 ± 4 kg")
    site.weigh("130 ± 4 kg")
    site.brief()
    with pytest.raises(PlanStageError, match="blocked by 1 open question on mass or gear") as error:
        site.release(site.ann)
    assert "to be settled by the lift leader, whom nobody is named for yet" in str(error.value)
    give_role(site.log, site.find, "lift leader", site.cat, author="recorder")
    assert f"to be settled by the lift leader ({site.cat})" in site.plan().plan.blocked_by[0]
    assert any(line.startswith("open question: ") for line in site.plan().plan.objections)


def test_an_open_question_on_a_piece_of_the_rig_blocks_one_on_another_piece_does_not(
    site: Site, tmp_path: Path
) -> None:
    from oakum.record.backup import restore

    site.log.backup(tmp_path / "copy")
    with restore(tmp_path / "copy", tmp_path / "lab") as lab:
        for piece, wll in (("S-01", "1 t"), ("S-04", "1 t")):
            change_piece(lab, piece, "wll", wll, author="recorder", reason="read with a lens")
            change_piece(site.log, piece, "wll", "1.5 t", author="recorder", reason="tag cleaned")
        site.log.receive(entry for entry in lab.entries() if entry.station == lab.station)
    assert len(site.log.open_questions()) == 2
    (blocked,) = site.plan().plan.blocked_by
    assert blocked.startswith("wire rope sling S-01: two entries say different things about wll: ")
    assert "entered by recorder" in blocked and "S-04" not in str(site.plan().plan.objections)


def test_a_question_about_something_else_does_not_block(site: Site, tmp_path: Path) -> None:
    from oakum.record.backup import restore

    change_field(site.log, site.find, "material", "granite", author="recorder")
    site.log.backup(tmp_path / "copy")
    with restore(tmp_path / "copy", tmp_path / "lab") as lab:
        change_field(lab, site.find, "material", "basalt", author="recorder", reason="lens")
        change_field(site.log, site.find, "material", "lava", author="recorder", reason="pores")
        site.log.receive(entry for entry in lab.entries() if entry.station == lab.station)
    plan = site.plan().plan
    assert plan.blocked_by == () and any("material" in question for question in plan.open_questions)


def test_done_needs_a_release_or_a_reason(site: Site) -> None:
    site.brief()
    with pytest.raises(FieldErrors, match="the plan is briefed, not released: say why"):
        finish(site.log, site.find, on=DAY, author=site.ann)
    site.release(site.ann)
    site.release(site.ben)
    finish(site.log, site.find, on=DAY, author=site.ann)
    assert site.plan().plan.stage == "done"


def test_an_abandoned_lift_is_not_released_by_its_old_releases(site: Site) -> None:
    site.released()
    with pytest.raises(FieldErrors, match="say why it is given up"):
        abandon(site.log, site.find, " ", author=site.ann)
    abandon(site.log, site.find, "swell rose", author=site.ann)
    assert site.plan().plan.stage == "abandoned"
    site.brief()
    assert site.plan().plan.stage == "briefed" and site.plan().state.released_by == ()
    site.release(site.ann)
    site.release(site.ben)
    assert site.plan().plan.stage == "released"


def test_a_release_that_did_not_know_of_the_abandonment_does_not_count(site: Site) -> None:
    site.brief()
    site.release(site.ann)
    body = dict(site.log.entries(kind="plan.released")[0].body)
    abandon(site.log, site.find, "swell rose", author=site.cat)
    # What the other station enters without having heard of it, however late by its clock:
    site.log.append("plan.released", site.find, body, author=site.ben)
    assert site.plan().plan.stage == "abandoned"
    with pytest.raises(RecordError, match="is no end of an earlier plan"):
        site.log.append("plan.released", site.find, body | {"after": [site.find]}, author=site.ben)


def test_a_struck_release_does_not_count(site: Site) -> None:
    site.released()
    entry = site.log.entries(kind="plan.released")[-1]
    site.log.append("struck", site.find, {"reason": "by mistake"}, author=site.ben, over=[entry.id])
    assert site.plan().plan.stage == "briefed" and site.plan().state.released_by == (site.ann,)


def test_a_rig_that_cannot_be_read_or_changes_nothing_is_not_kept(site: Site) -> None:
    before = site.log.count()
    with pytest.raises(RigFileError, match="more than one meaning"):
        keep_rig(site.log, site.find, RIG.replace('cell_unit = "kg"', 'cell_unit = "ton"'), author="recorder")
    with pytest.raises(RigError, match="holds already"):
        keep_rig(site.log, site.find, RIG, author="recorder")
    with pytest.raises(FieldErrors, match="reason"):
        keep_rig(site.log, site.find, RIG + "# other\n", author="recorder")
    assert site.log.count() == before


@pytest.mark.parametrize(
    ("gear", "sd"), [("", 4.0), ("12 ± 3 kg", 5.0), ("12 kg", None), ("9..15 kg", (16 + 3) ** 0.5)]
)
def test_what_hung_between_cell_and_object_is_taken_off_with_its_spread(
    site: Site, gear: str, sd: float | None
) -> None:
    site.weigh("91 ± 4 kg", gear)
    (reading,) = cell_readings(site.log.find(site.find))
    assert reading.reading_kg == 91.0 and reading.rigging_kg == (12.0 if gear else 0.0)
    assert reading.sd_kg == (sd if sd is None else pytest.approx(sd))


def test_readings_with_different_gear_between_are_compared_net_of_it(site: Site) -> None:
    site.weigh("91 ± 4 kg", "12 ± 1 kg")
    site.weigh("111 ± 4 kg", "32 ± 1 kg")
    assert site.log.open_questions() == () and site.log.check().ok
    with pytest.raises(QuantityError, match="mass"):
        site.weigh("91 ± 4 kg", "12 cm")
    body = reading_of("91 kg", "mass", quantity="hook load", state="submerged")
    with pytest.raises(FactError, match="gear: expected a mass, its unit kg"):
        site.log.append("reading", site.find, body | {"gear": measure_of("1 m", "length")}, author="recorder")
