"""The dig on the command line: set out, read, noted, shown; refused with a sentence and code 2."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from oakum.cli.main import run

Oakum = Callable[..., tuple[int, str, str]]
CORNERS = [word for corner in ("A 0 0", "B 2 0", "C 2 2", "D 0 2") for word in ("--corner", corner)]


@pytest.fixture
def oakum(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Oakum:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OAKUM_PROJECT", raising=False)

    def call(*words: str) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as ended:
            run(words)
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    call("new", "Wreck")
    return call


def levels(*down: str) -> list[str]:
    return [word for place, d in zip("ABCD", down, strict=True) for word in ("--level", f"{place} {d}")]


def test_a_square_is_dug_and_shown(oakum: Oakum, tmp_path: Path) -> None:
    assert "No square is set out" in oakum("dig", "show")[1]
    assert oakum("dig", "square", "N2", *CORNERS, "--planned-depth", "60 cm")[0] == 0
    string = ["--from", "string 1", "--sd", "1 cm"]
    assert (
        "4 levels before spit 1"
        in oakum("dig", "spit", "N2", "1", "before", *string, *levels("1.2", "1.2", "1.2", "1.2"))[1]
    )
    assert oakum("dig", "spit", "N2", "1", "after", *string, *levels("1.4", "1.4", "1.4", "1.4"))[0] == 0
    assert (
        "Nothing changed" in oakum("dig", "spit", "N2", "1", "after", *string, *levels("1.4", "1.4", "1.4", "1.4"))[1]
    )
    for dive in ("1", "2", "3"):
        assert (
            oakum(
                "dig",
                "hours",
                "2026-06-12",
                "1.5",
                "--dive",
                dive,
                "--square",
                "N2",
                "--spit",
                "1",
                "--buckets",
                "40",
            )[0]
            == 0
        )
    code, out, _ = oakum("dig", "show")
    assert code == 0 and "likely 0.800 m³; 9 in 10 within" in out and "Measured rate: 178 litres" in out
    assert "The rest, 1.60 m³: likely 9 diver-hours" in out and "supervisor govern" in out
    assert json.loads(oakum("dig", "show", "n2", "--json")[1])["best_m3"] == pytest.approx(0.8)
    assert json.loads(oakum("dig", "show", "--json")[1])["season"]["diver_hours"] == 4.5
    assert oakum("dig", "show", "N2", "--svg", "n2.svg")[0] == 0
    assert (tmp_path / "n2.svg").read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["dig", "square", "N3", *CORNERS[:6], "--corner", "D 3 3"], "lie on one line"),
        (["dig", "spit", "N2", "1", "before", *levels("1", "1", "1", "1")], "set out a square first"),
        (["dig", "hours", "yesterday", "1"], "expected a day"),
        (["dig", "show", "N9"], "There is no square N9"),
        (["dig", "show", "--svg", "x.svg"], "Say which square is to be drawn"),
        (["dig", "airlift", "150", "14 m"], "write it with its unit"),
        (["dig", "airlift", "110 mm", "14 m", "--air", "much"], "write a number"),
        (["dig", "dredge", "100 mm", "20 m", "9 furlongs"], "furlongs"),
    ],
)
def test_what_cannot_be_meant_is_refused(oakum: Oakum, words: list[str], said: str) -> None:
    code, _, err = oakum(*words)
    assert code == 2 and said in err


def test_sections_give_trapezoid_simpson_and_prismoid(oakum: Oakum) -> None:
    code, out, _ = oakum("dig", "sections", "24", "13.5", "6", "--every", "75 cm", "--sd", "0.3")
    assert code == 0 and "prismoid, the middle section measured: 21.00 m³" in out
    assert "Simpson: likely 21.00 m³" in out and "trapezoid: likely 21.38 m³" in out
    out = oakum("dig", "sections", "12.5", "16", "18.4", "21", "19.5", "17", "--every", "10 m")[1]
    assert "trapezoid: 896.50 m³" in out and "Simpson: 905.17 m³" in out and "last interval by the trapezoid" in out
    wide = oakum("dig", "sections", "2", "2", "--every", "1 m", "--sd", "0.1", "--bias", "5 cm")
    assert wide[0] == 2 and "width of every section" in wide[2]


def test_hours_entered_by_mistake_are_struck_out(oakum: Oakum) -> None:
    out = oakum("dig", "hours", "2026-06-12", "1.5")[1]
    entry = out.split()[-1].rstrip(".")
    assert oakum("dig", "strike", entry, " ")[0] == 2
    assert oakum("dig", "strike", entry, "typed twice")[0] == 0
    code, _, err = oakum("dig", "strike", entry, "again")
    assert code == 2 and "struck out already" in err
    assert json.loads(oakum("dig", "show", "--json")[1])["season"]["diver_hours"] == 0


def test_an_airlift_and_a_dredge_are_sized_with_cautions(oakum: Oakum) -> None:
    code, out, _ = oakum("dig", "airlift", "150 mm", "2 m", "--air", "0.1", "--pressure", "0.1 bar")
    assert code == 0 and out.count("objection:") == 3 and "caution: A blocked pipe" in out
    assert "upper bound" in oakum("dig", "dredge", "100 mm", "20 m", "6 bar")[1]
    assert json.loads(oakum("dig", "airlift", "150 mm", "15 m", "--json")[1])["figures"][0]["unit"] == "m3/min"
