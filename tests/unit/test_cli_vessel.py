"""Vessels on the command line: entered with the tables beside the file, listed, shown, read at a radius."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from oakum.cli.main import run
from oakum.lift.vessel import example_vessel

Oakum = Callable[..., tuple[int, str, str]]
TITLE = "Workboat Tolmarren Girl"


@pytest.fixture
def oakum(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Oakum:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OAKUM_PROJECT", raising=False)
    toml, tables = example_vessel()
    (tmp_path / "boat").mkdir()
    (tmp_path / "boat/v.toml").write_text(toml, encoding="utf-8")
    for name, data in tables.items():
        (tmp_path / "boat" / name).write_bytes(data)

    def call(*words: str) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as ended:
            run(words)
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    call("new", "Wreck")
    return call


def test_a_vessel_is_entered_listed_shown_and_read(oakum: Oakum) -> None:
    code, out, _ = oakum("vessel", "list")
    assert code == 0 and "No vessel is entered" in out
    code, out, _ = oakum("vessel", "add", "boat/v.toml")
    assert code == 0 and f"Entered {TITLE} with 2 tables." in out
    assert f"{TITLE} (" in oakum("vessel", "list")[1]
    code, out, _ = oakum("vessel", "show", TITLE.lower())
    assert code == 0 and "not given" in out and "page 14" in out and "competent person" in out
    code, out, _ = oakum("vessel", "chart", TITLE, "--radius", "4.5 m")
    assert code == 0 and "2,526 kg" in out and "1,872 kg" in out
    code, out, _ = oakum("vessel", "chart", TITLE, "--radius", "5.5 m")
    assert code == 1 and "without a load" in out


def test_what_is_wrong_ends_with_2_and_stores_nothing(oakum: Oakum, tmp_path: Path) -> None:
    (tmp_path / "boat/beam-seas.csv").unlink()
    code, _, err = oakum("vessel", "add", "boat/v.toml")
    assert code == 2 and "line" in err and '"beam-seas.csv" did not come with the text' in err
    assert oakum("vessel", "show", "Gannet")[0] == 2 and "No vessel" in oakum("vessel", "list")[1]
    code, _, err = oakum("vessel", "chart", "Gannet", "--radius", "5")
    assert code == 2 and "no vessel" in err


def test_papers_are_corrected_and_a_vessel_struck_out_with_a_reason(oakum: Oakum, tmp_path: Path) -> None:
    oakum("vessel", "add", "boat/v.toml")
    file = tmp_path / "boat/v.toml"
    file.write_text(file.read_text(encoding="utf-8").replace('"22 deg"', '"20 deg"'), encoding="utf-8")
    code, _, err = oakum("vessel", "add", "boat/v.toml", "--change", TITLE)
    assert code == 2 and "why the papers change" in err
    assert oakum("vessel", "add", "boat/v.toml", "--change", TITLE, "--reason", "measured")[0] == 0
    assert "20°" in oakum("vessel", "show", TITLE)[1]
    assert "has no unit" in oakum("vessel", "chart", TITLE, "--radius", "5")[2]
    assert oakum("vessel", "strike", TITLE, "--reason", "sold")[0] == 0
    assert "No vessel" in oakum("vessel", "list")[1]
