"""What if: the plan with another bag, longer legs or a higher hook is the plan of the rig text that says so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from oakum.desk.demo import project as demo
from oakum.desk.lifts.plan import PlanAnswer, plan_find
from oakum.desk.lifts.toml_rows import TomlRowError
from oakum.desk.lifts.what_if import Knobs, WhatIfError, knobs_of, rig_text_with, what_if
from oakum.lift.raising import RaisingError, parse_rig, plan_dict, raising_plan
from oakum.record import Logbook

ON = date(2026, 7, 10)
BY_LENGTHS = """
title = "by lengths"
cell_unit = "kg"
[rules]
sharing = "bound"
hitches = "EU"
[hook]
place = "by leg lengths"
wll = "5 t"
rigging = "40 kg"
[[leg]]
name = "breech"   # the heavy end
at = { x = "0.40 m", y = "0 m", z = "0.48 m" }
wll = "2 t"
length = "2.0 m"
[[leg]]
name = "muzzle"
at = { x = "1.75 m", y = "0 m", z = "0.48 m" }
wll = "2 t"
length = "2.4 m"
"""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    with Logbook.open(demo.make_demo(tmp_path_factory.mktemp("demo"), on=ON)) as logbook:
        yield logbook


@pytest.fixture(scope="module")
def kept(book: Logbook) -> PlanAnswer:
    return plan_find(book, demo.CAPSTAN, on=ON)


def test_the_knobs_stand_as_the_rig_says_and_asking_for_them_changes_nothing(kept: PlanAnswer) -> None:
    knobs = knobs_of(kept.plan)
    assert (knobs.bags, knobs.hook_m) == (3, 3.6) and kept.plan.in_air is not None
    legs = [leg.length_m.best for leg in kept.plan.in_air.legs]
    assert knobs.legs_m == pytest.approx(sum(legs) / len(legs), abs=0.001)
    tried = what_if(kept, knobs)
    assert tried.plan is kept.plan and not tried.changes and rig_text_with(kept, knobs) == (kept.rig_toml, ())


@pytest.mark.parametrize(
    "asked", [Knobs(bags=5), Knobs(bags=1), Knobs(hook_m=4.2), Knobs(legs_m=5.0), Knobs(bags=2, hook_m=3.1)]
)
def test_what_is_tried_is_the_plan_of_the_text_that_would_be_kept(kept: PlanAnswer, asked: Knobs) -> None:
    tried = what_if(kept, asked)
    toml, changes = rig_text_with(kept, asked)
    anew = raising_plan(kept.weighed.weighing, parse_rig(toml), kept.context, with_helps=False)
    assert tried.changes == changes and changes
    assert tried.plan.objections == anew.objections
    for mine, other in zip(tried.plan.checks, anew.checks, strict=True):
        assert mine.title == other.title and mine.demand == pytest.approx(other.demand, rel=2e-3)


def test_what_a_change_does_not_touch_is_taken_over_to_the_last_figure(kept: PlanAnswer) -> None:
    tried = what_if(kept, Knobs(hook_m=4.2)).plan
    anew = raising_plan(
        kept.weighed.weighing, tried.rig or pytest.fail("no rig"), kept.context, with_helps=False
    )
    assert plan_dict(tried) == plan_dict(anew)


def test_objections_that_come_and_go_are_told_apart(kept: PlanAnswer) -> None:
    more = what_if(kept, Knobs(bags=5))
    assert any("more than the 60 %" in one for one in more.new) and not more.gone
    assert any('strop of bag "bag 4"' in one for one in more.new)


def test_comments_and_all_other_lines_of_the_text_stay_as_typed(kept: PlanAnswer) -> None:
    toml, _ = rig_text_with(kept, Knobs(hook_m=4.2))
    before, after = kept.rig_toml.splitlines(), toml.splitlines()
    assert [pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]] == [
        ('height = "3.6 m"', 'height = "4.2 m"')
    ]
    fewer, _ = rig_text_with(kept, Knobs(bags=2))
    assert set(fewer.splitlines()) < set(before) and 'name = "north, second"' not in fewer


def test_legs_that_say_where_the_hook_is_are_lengthened_themselves(book: Logbook) -> None:
    find = book.find("TOL/26/004")
    held = find.heads["rig"][0].entry
    book.append(
        "rig.described", find.id, {"rig": BY_LENGTHS, "reason": "try"}, author="recorder", over=(held.id,)
    )
    answer = plan_find(book, find.id, on=ON)
    assert knobs_of(answer.plan).hook_m is None
    toml, changes = rig_text_with(answer, Knobs(legs_m=2.75))
    assert changes and 'length = "2.5 m"' in toml and 'length = "3 m"' in toml
    assert what_if(answer, Knobs(hook_m=9.0)).changes == ()


@pytest.mark.parametrize(
    "asked", [Knobs(bags=0), Knobs(bags=13), Knobs(legs_m=-1.0), Knobs(legs_m=0.4), Knobs(hook_m=-2.0)]
)
def test_what_cannot_be_rigged_is_refused_with_a_sentence(kept: PlanAnswer, asked: Knobs) -> None:
    with pytest.raises((WhatIfError, RaisingError)) as refused:
        what_if(kept, asked)
    assert len(str(refused.value)) > 20


def test_an_inline_hook_is_tried_but_its_text_is_left_to_the_typist(kept: PlanAnswer) -> None:
    start, _, rest = kept.rig_toml.partition("[hook]\n")
    hook, _, rest = rest.partition("\n\n")
    inline = f"hook = {{ {', '.join(hook.splitlines())} }}\n{start}{rest}"
    answer = replace(kept, rig_toml=inline)
    assert what_if(answer, Knobs(hook_m=4.0)).changes
    with pytest.raises(TomlRowError, match="under its own heading"):
        rig_text_with(answer, Knobs(hook_m=4.0))
