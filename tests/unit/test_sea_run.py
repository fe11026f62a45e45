"""Many seas of a plan: the same from the same seed, kept beside the logbook, known again or known not to fit."""

from __future__ import annotations

import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

import numpy as np
import pytest

from oakum.cli.main import run as oakum
from oakum.desk.demo import project as demo
from oakum.desk.lifts import sea_run
from oakum.desk.lifts.plan import PlanAnswer, plan_find
from oakum.desk.lifts.sea_run import NoSeaError, SeaRun, cannot_run, run_seas
from oakum.desk.lifts.sea_run_kept import FOLDER, keep_run, kept_run, run_dict, run_from
from oakum.lift.splash import in_time as in_time_module
from oakum.lift.splash import worst_level
from oakum.record import Logbook

ON = date(2026, 7, 10)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, PlanAnswer]]:
    folder = demo.make_demo(tmp_path_factory.mktemp("demo"), on=ON)
    with Logbook.open(folder, read_only=True) as logbook:
        yield folder, plan_find(logbook, demo.CAPSTAN, on=ON, with_helps=False)


@pytest.fixture(scope="module")
def run(kept: tuple[Path, PlanAnswer]) -> SeaRun:
    return few(kept[1])


def few(plan: PlanAnswer, **more: object) -> SeaRun:
    """Run twenty short seas, looking at three heights only."""
    with pytest.MonkeyPatch.context() as patch:
        look = partial(worst_level, levels=3, members=2)
        patch.setitem(in_time_module.__globals__, "worst_level", look)
        return run_seas(plan, members=20, hold_s=4.0, **more)  # type: ignore[arg-type]


def test_an_unsettled_mass_is_run_by_its_greater_and_its_lesser_value(run: SeaRun) -> None:
    assert [m.title for m in run.masses] == ["by the greater mass", "by the lesser mass"]
    heavy, light = (dict(m.operations)["hoisted through the surface"] for m in run.masses)
    assert heavy.members == light.members == 20
    assert heavy.greatest.best > light.greatest.best > 0.0
    for mass in run.masses:
        assert "with half the step" in mass.steps and mass.assumptions and mass.cautions
        assert mass.trace is not None and len(mass.trace.time_s) <= 900
        assert np.all(np.diff(mass.trace.time_s) > 0.0)
    assert "20 seas an operation of Hs 0.2 m, Tz 3.5 s, 14 m of water" in run.words and "seed 20260612" in run.words


def test_the_same_seed_gives_the_same_seas_on_any_executor_and_progress_reaches_the_end(
    kept: tuple[Path, PlanAnswer], run: SeaRun
) -> None:
    told: list[float] = []
    with ThreadPoolExecutor(2) as pool:
        again = few(kept[1], executor=pool, workers=2, progress=lambda share, words: told.append(share))
    for one, other in zip(run.masses, again.masses, strict=True):
        for (what, first), (same, second) in zip(one.operations, other.operations, strict=True):
            assert what == same
            assert second.greatest_n == pytest.approx(first.greatest_n, rel=1e-9)
    assert told == sorted(told) and told[-1] == pytest.approx(1.0)
    other_seed = few(kept[1], seed=7)
    assert other_seed.masses[0].operations[0][1].greatest_n[0] != run.masses[0].operations[0][1].greatest_n[0]


def test_what_progress_raises_ends_the_work(kept: tuple[Path, PlanAnswer]) -> None:
    def stop(share: float, words: str) -> None:
        raise InterruptedError

    with ThreadPoolExecutor(1) as pool, pytest.raises(InterruptedError):
        few(kept[1], executor=pool, progress=stop)


def test_a_result_is_found_again_and_says_whether_it_fits_the_plan(
    kept: tuple[Path, PlanAnswer], run: SeaRun
) -> None:
    folder, plan = kept
    assert kept_run(folder, plan) is None
    place = keep_run(folder, run)
    assert plan.plan.fingerprint[:16] in place.name and place.parent == folder / FOLDER
    found = kept_run(folder, plan)
    assert found is not None and found.fits(plan)
    assert run_dict(found) == run_dict(run_from(run_dict(found)))
    assert found.words == run.words and found.objections == run.objections
    for mine, its in zip(run.masses, found.masses, strict=True):
        for (_, one), (_, other) in zip(mine.operations, its.operations, strict=True):
            assert other.greatest_n == pytest.approx(one.greatest_n, rel=1e-6)
            assert other.odds_slack() == one.odds_slack() and np.array_equal(other.snaps, one.snaps)
    place.unlink()
    keep_run(folder, replace(run, mark="0" * 64))
    old = kept_run(folder, plan)
    assert old is not None and not old.fits(plan)
    keep_run(folder, run)
    assert [p.name for p in (folder / FOLDER).iterdir() if p.name.startswith(".")] == []


def test_a_file_that_is_no_result_counts_as_none_and_only_the_last_few_are_kept(
    kept: tuple[Path, PlanAnswer], run: SeaRun
) -> None:
    folder, plan = kept
    place = keep_run(folder, run)
    held = json.loads(place.read_text(encoding="utf-8"))
    for text in ("", "{}", "[]", json.dumps({**held, "format": 99}), json.dumps({**held, "masses": [{}]})):
        place.write_text(text, encoding="utf-8")
        found = kept_run(folder, plan)
        assert found is None or not found.fits(plan)
    for i in range(12):
        keep_run(folder, replace(run, mark=f"{i:064x}"))
    assert len(list((folder / FOLDER).glob("seas-*.json"))) <= 7
    for place in (folder / FOLDER).glob("seas-*.json"):
        place.unlink()


def test_what_lacks_is_said_before_anything_is_run(kept: tuple[Path, PlanAnswer], run: SeaRun) -> None:
    folder, plan = kept
    assert cannot_run(plan) is None
    rig = plan.plan.rig
    assert rig is not None and rig.sea is not None
    bare = replace(plan, plan=replace(plan.plan, rig=replace(rig, sea=None)))
    assert "describe the sea of the lift first" in (cannot_run(bare) or "")
    calm = replace(rig.sea, hs_m=None, line_n_m=None)
    lacking = replace(plan, plan=replace(plan.plan, rig=replace(rig, sea=calm)))
    said = cannot_run(lacking) or ""
    assert "Hs" in said and "hoist line" in said
    with pytest.raises(NoSeaError, match="Between 20 and 10,000 seas"):
        run_seas(plan, members=3)
    with pytest.raises(NoSeaError, match="could not be kept"):
        blocked = folder / "blocked"
        blocked.mkdir()
        (blocked / FOLDER).write_text("a file stands where the folder should be", encoding="utf-8")
        keep_run(blocked, run)


def test_the_command_prints_odds_writes_the_result_and_keeps_it_for_the_pages(
    kept: tuple[Path, PlanAnswer],
    run: SeaRun,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    folder, plan = kept
    asked: dict[str, object] = {}

    def instead(answer: PlanAnswer, **more: object) -> SeaRun:
        asked.update(more)
        more["progress"](0.5, "half")  # type: ignore[operator]
        return replace(run, mark=answer.plan.fingerprint)

    monkeypatch.setattr(sea_run, "run_seas", instead)
    out = tmp_path / "result.json"
    words = ["plan", "seas", "T-0001", "--members", "40", "--seed", "3", "--on", str(ON), "--project", str(folder)]
    with pytest.raises(SystemExit) as ended:
        oakum([*words, "--out", str(out)])
    said, _ = capsys.readouterr()
    assert ended.value.code in (0, None) and (asked["members"], asked["seed"]) == (40, 3)
    assert "By the greater mass" in said and "the line goes slack in" in said and "Caution:" in said
    assert json.loads(out.read_text(encoding="utf-8"))["seed"] == run.seed
    found = kept_run(folder, plan)
    assert found is not None and found.fits(plan)
    with pytest.raises(SystemExit) as ended:
        oakum([*words, "--out", str(tmp_path / "no folder" / "x.json")])
    assert ended.value.code == 2 and "There is no folder" in capsys.readouterr().err
