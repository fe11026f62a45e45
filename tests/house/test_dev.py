"""The bootstrap: what it does where a tool is missing, and that it never names an address."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def dev(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    spec = importlib.util.spec_from_file_location("dev", ROOT / "dev.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    monkeypatch.setattr(module, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(module, "PYTHON", tmp_path / ".venv/bin/python")
    return module


def calls(dev: ModuleType, monkeypatch: pytest.MonkeyPatch, fails: str) -> list[str]:
    """Replace child processes by a list; those with `fails` among their words end badly."""
    seen: list[str] = []

    def call(*words: object, quiet: bool = False) -> bool:
        seen.append(" ".join(map(str, words)))
        return fails not in seen[-1]

    monkeypatch.setattr(dev, "call", call)
    return seen


def test_a_python_without_venv_gets_one_sentence(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    calls(dev, monkeypatch, "-m venv")
    monkeypatch.setattr(dev, "root_on_debian", lambda: False)
    with pytest.raises(SystemExit) as ended:
        dev.make_venv()
    said = str(ended.value.code)
    assert "apt install python3-venv" in said and said.count(". ") == 0 and said.endswith(".")


def test_as_root_on_debian_the_missing_part_is_installed(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    seen = calls(dev, monkeypatch, "-m venv")
    monkeypatch.setattr(dev, "root_on_debian", lambda: True)
    with pytest.raises(SystemExit):
        dev.make_venv()
    assert any("install" in words and "python3-venv" in words for words in seen)


def test_pip_with_hashes_is_used_where_the_fast_installer_fails(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    dev.PYTHON.parent.mkdir(parents=True)
    dev.PYTHON.touch()
    seen = calls(dev, monkeypatch, " uv pip ")
    dev.install("run")
    with_hashes = [w for w in seen if "run.lock" in w]
    assert [" uv pip " in w for w in with_hashes] == [True, False]
    assert all("--require-hashes" in w for w in with_hashes)
    assert dev.ready("test") is False


def test_an_installation_that_fails_leaves_no_stamp(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    dev.PYTHON.parent.mkdir(parents=True)
    dev.PYTHON.touch()
    calls(dev, monkeypatch, "run.lock")
    with pytest.raises(SystemExit) as ended:
        dev.install("run")
    assert "PIP_FIND_LINKS" in str(ended.value.code)
    assert not list(dev.VENV.glob("*.stamp"))


def test_a_missing_browser_fails_the_tests(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    calls(dev, monkeypatch, "playwright")
    monkeypatch.setattr(dev, "root_on_debian", lambda: False)
    monkeypatch.setattr(dev.shutil, "which", lambda name: None)
    monkeypatch.delenv("OAKUM_BROWSER", raising=False)
    with pytest.raises(SystemExit) as ended:
        dev.browser()
    assert "OAKUM_BROWSER" in str(ended.value.code)


def test_a_changed_lock_asks_for_a_new_installation(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    dev.PYTHON.parent.mkdir(parents=True)
    dev.PYTHON.touch()
    (dev.VENV / "oakum-run.stamp").write_text(dev.stamp_of("run"))
    assert dev.ready("run")
    (dev.VENV / "oakum-run.stamp").write_text("older")
    assert not dev.ready("run")
