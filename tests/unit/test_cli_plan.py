"""The plan of a lift on the command line: planned, briefed, released by two, withdrawn, set against what happened."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from oakum.cli.main import run
from oakum.desk.demo.project import make_demo
from oakum.lift.cradle import starting_cradle
from oakum.record import Logbook

ROOT = Path(__file__).resolve().parents[2]
RIG = ROOT / "src/oakum/lift/raising/examples/capstan_rig.toml"
CAPSTAN = ROOT / "src/oakum/lift/starts/capstan.toml"
DAY = ("--on", "2026-07-01")

Oakum = Callable[..., tuple[int, str, str]]


@pytest.fixture
def oakum(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Oakum:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OAKUM_PROJECT", raising=False)

    def call(*words: object) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as ended:
            run([str(word) for word in words])
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    return call


@pytest.fixture
def named(tmp_path: Path, oakum: Oakum) -> tuple[str, str]:
    """Make the demo, settle its disagreeing load cells and repair its lapsed sling; return two people."""
    make_demo(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        people = (
            logbook.add_person("One", "lift leader").id,
            logbook.add_person("Other", "archaeologist").id,
        )
    _, out, _ = oakum("log", "questions")
    key = next(line.split("'")[1] for line in out.splitlines() if "hook load" in line and "'" in line)
    assert (
        oakum("log", "settle", "T-0001", key, "420 ± 12 kg", "--by", people[0], "--reason", "cell 2 was wet")[
            0
        ]
        == 0
    )
    return people


def plan_of(oakum: Oakum) -> dict[str, object]:
    code, out, err = oakum("plan", "show", "T-0001", "--json", *DAY)
    assert code == 0, err
    return dict(json.loads(out))


def test_a_rig_file_with_a_body_file_is_planned_without_a_project(oakum: Oakum) -> None:
    code, out, _ = oakum("plan", "show", RIG, "--body", CAPSTAN, *DAY)
    assert code == 0
    assert "no WLL known; no tag, no rating" in out and "not excluded" in out
    assert oakum("plan", "show", RIG)[0] == 2


def test_an_open_question_on_the_mass_blocks_the_release_and_says_who_must_settle_it(
    oakum: Oakum, tmp_path: Path
) -> None:
    make_demo(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        person = logbook.add_person("One", "lift leader").id
    code, _, err = oakum("plan", "release", "T-0001", "--by", person, *DAY)
    assert code == 2 and "blocked" in err and "settled by" in err


def test_two_different_named_people_release_a_briefed_plan_and_a_change_withdraws_it(
    oakum: Oakum, named: tuple[str, str]
) -> None:
    one, other = named
    assert oakum("plan", "release", "T-0001", "--by", one, *DAY)[0] == 2  # not briefed
    assert oakum("plan", "brief", "T-0001", "--by", one, *DAY)[0] == 0
    despite = ("--despite", "trial in the harbour, nothing is lifted")
    assert "second named person" in oakum("plan", "release", "T-0001", "--by", one, *despite, *DAY)[1]
    assert plan_of(oakum)["stage"] == "briefed"
    assert "Released by two" in oakum("plan", "release", "T-0001", "--by", other, *despite, *DAY)[1]
    assert plan_of(oakum)["stage"] == "released"
    assert oakum("gear", "withdraw", "S-01", "cut in the sleeve")[0] == 0
    after = plan_of(oakum)
    assert after["stage"] != "released" and "S-01" in str(after["withdrawn"])


def test_what_happened_stands_beside_the_band_of_the_plan(oakum: Oakum, named: tuple[str, str]) -> None:
    when = ("--at", "2026-07-01T10:20", "--zone", "+01:00", "--read-by", "recorder")
    assert oakum("plan", "reading", "T-0001", "460 ± 5 kg", "--height", "-3 m", *when)[0] == 0
    assert oakum("plan", "reading", "T-0001", "900 ± 5 kg", "--height", "-3 m", *when)[0] == 0
    assert oakum("plan", "minutes", "T-0001", "trial", "55")[0] == 0
    assert oakum("plan", "event", "T-0001", "tagline parted", "--step", "trial")[0] == 0
    code, out, _ = oakum("plan", "after", "T-0001", *DAY)
    assert code == 0
    assert "460 kg at -3.00 m" in out and "inside" in out and "above" in out
    assert "55 min" in out and "longer" in out and "tagline parted" in out


def test_the_sheets_of_the_plan_are_written(oakum: Oakum, named: tuple[str, str], tmp_path: Path) -> None:
    assert (
        oakum("plan", "show", "T-0001", *DAY, "--deck", "d.pdf", "--cards", "c.pdf", "--file", "f.pdf")[0]
        == 0
    )
    assert all((tmp_path / name).read_bytes()[:5] == b"%PDF-" for name in ("d.pdf", "c.pdf", "f.pdf"))
    assert oakum("plan", "show", "T-0004", *DAY)[0] == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("plan", "show", "T-0005"), "no body"),
        (("plan", "hazard", "T-0004", "charge", "fine"), "expected one of"),
        (("plan", "abandon", "T-0001", "  ", "--by", "director"), "why"),
        (("plan", "minutes", "T-0001", "trial", "soon"), "soon"),
        (("gear", "withdraw", "Z-99", "lost"), "no piece"),
    ],
)
def test_what_cannot_be_entered_is_refused_with_a_sentence(
    oakum: Oakum, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    make_demo(tmp_path)
    code, _, err = oakum(*words)
    assert code == 2 and said in err


def test_a_plan_is_tried_in_another_sea_and_kept_only_when_asked(oakum: Oakum, tmp_path: Path) -> None:
    make_demo(tmp_path)
    code, out, err = oakum("plan", "what-if", "T-0001", "--hs", "0.4 m", "--tz", "5 s", *DAY)
    assert code == 0, err
    assert "Hs 0.4 m instead of" in out and "Tz 5 s instead of" in out and "objections stand then" in out
    code, out, err = oakum("plan", "what-if", "T-0001", "--hs", "0.4 m", *DAY, "--rig", "rig.toml")
    assert code == 0 and 'hs = "0.4 m"' in (tmp_path / "rig.toml").read_text()
    code, out, err = oakum("plan", "what-if", "T-0001", "--hs", "0.4 m", "--keep", "a calmer day", *DAY)
    assert code == 0 and "Entered" in out, err
    code, out, err = oakum("plan", "what-if", "T-0001", "--hs", "0.4 m", *DAY)
    assert "Changed: none" in out


def test_a_sea_that_cannot_be_is_refused_with_its_reason(oakum: Oakum, tmp_path: Path) -> None:
    make_demo(tmp_path)
    code, _, err = oakum("plan", "what-if", "T-0001", "--hs", "5 m", "--tz", "2 s", *DAY)
    assert code == 2 and "impossible for Hs 5 m" in err
    code, _, err = oakum("plan", "what-if", "T-0001", "--hs", "-1 m", *DAY)
    assert code == 2 and err
    code, _, err = oakum("plan", "what-if", "T-0001", *DAY)
    assert code == 2 and "Say what is to be tried" in err


def test_a_rig_file_takes_vessel_and_cradle_from_their_files(oakum: Oakum, tmp_path: Path) -> None:
    cradle = tmp_path / "cradle.toml"
    cradle.write_text(starting_cradle("frame"), encoding="utf-8")
    code, out, err = oakum("plan", "show", RIG, "--body", CAPSTAN, "--cradle", cradle, "--json", *DAY)
    assert code == 0, err
    told = json.loads(out)
    assert told["cradle"]["plan"]["title"] and told["weight"]["frame"]["clear_kg"]["p95"] > 0.0
    assert not any("no cradle" in o for o in told["objections"])
    code, _, err = oakum("plan", "show", "T-0001", "--cradle", cradle, *DAY)
    assert code == 2 and "in the logbook" in err
