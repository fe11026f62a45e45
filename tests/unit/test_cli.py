"""The command line as a person uses it: the answer, the exit code, the sentence when it is refused."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from oakum.cli.main import run
from oakum.record import Logbook

ROOT = Path(__file__).resolve().parents[2]
CHEST = ROOT / "docs/examples/chest.toml"


class Terminal:
    """Calls a command and keeps what it printed."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self._capsys = capsys
        self.out = self.err = ""

    def __call__(self, *words: object) -> int:
        with pytest.raises(SystemExit) as ended:
            run([str(word) for word in words])
        self.out, self.err = self._capsys.readouterr()
        return int(ended.value.code or 0)


@pytest.fixture
def oakum(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Terminal:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OAKUM_PROJECT", raising=False)
    return Terminal(capsys)


def test_a_find_goes_from_nothing_to_a_weight_on_the_command_line(oakum: Terminal, tmp_path: Path) -> None:
    assert oakum("new", "Marrow Skerry") == 0
    assert oakum("find", "add", "small chest", "--set.length", "2 ft 11 in") == 0
    number = oakum.out.split()[0]
    assert re.fullmatch(r"M-0001-[0-9A-Z*]", number)
    assert oakum("lift", "describe", "M-0001", CHEST) == 0
    assert oakum("lift", "weigh", number, "--json") == 0
    before = json.loads(oakum.out)
    assert oakum("lift", "reading", number, "118 ± 5 kg", "--instrument", "load cell 1") == 0
    assert oakum("lift", "weigh", number, "--json") == 0
    after = json.loads(oakum.out)

    def width(report: dict[str, object], key: str) -> float:
        states = {state["key"]: state["load_kg"] for state in report["states"]}  # type: ignore[attr-defined]
        return float(states[key]["p95"] - states[key]["p5"])

    assert width(after, "submerged") < width(before, "submerged")
    assert width(after, "clear") < width(before, "clear")
    assert oakum("lift", "reading", number, "120 ± 5 kg", "--gear", "4 ± 1 kg", "--frame") == 0
    with Logbook.open(tmp_path, read_only=True) as logbook:
        read = logbook.find(number).readings
    assert [(one.frame, one.gear) for one in read] == [(None, None), (True, 4.0)]


def test_the_same_seed_gives_the_same_sheet(oakum: Terminal) -> None:
    assert oakum("lift", "weigh", CHEST, "--json", "--seed", 3, "--draws", 2000) == 0
    first = oakum.out
    assert oakum("lift", "weigh", CHEST, "--json", "--seed", 3, "--draws", 2000) == 0
    assert oakum.out == first
    assert oakum("lift", "weigh", CHEST, "--json", "--seed", 4, "--draws", 2000) == 0
    assert oakum.out != first


def test_a_change_keeps_the_old_value_and_needs_a_reason(oakum: Terminal) -> None:
    oakum("new", "Skerry")
    oakum("find", "add", "block", "--set.material", "elm")
    assert oakum("find", "change", "S-0001", "material", "ash") == 2
    assert "reason" in oakum.err
    assert oakum("find", "change", "S-0001", "material", "ash", "--reason", "looked again") == 0
    assert oakum("find", "show", "S-0001") == 0
    assert "material: ash" in oakum.out
    assert oakum("log", "list", "--about", "S-0001") == 0
    assert "elm" in oakum.out and "because: looked again" in oakum.out


def test_two_weighings_that_disagree_are_a_question_a_named_person_settles(
    oakum: Terminal, tmp_path: Path
) -> None:
    oakum("new", "Skerry")
    oakum("find", "add", "ingot")
    for text in ("61.4 ± 0.3 kg", "64.9 ± 0.3 kg"):
        assert oakum("lift", "reading", "S-0001", text) == 0
    assert oakum("log", "questions") == 0
    key = re.search(r"'(reading:[^']+)'", oakum.out)
    assert key is not None
    settle = ("log", "settle", "S-0001", key.group(1), "64.9 ± 0.3 kg", "--reason", "balance was off")
    assert oakum(*settle, "--by", "director") == 2
    assert "named person" in oakum.err
    with Logbook.open(tmp_path) as logbook:
        person = logbook.add_person("Somebody", "conservator").id
    assert oakum(*settle, "--by", person) == 0
    assert oakum("log", "questions") == 0
    assert "No open question" in oakum.out


def test_backup_restore_and_check(oakum: Terminal) -> None:
    oakum("new", "Skerry")
    oakum("find", "add", "jar")
    assert oakum("backup", "copies") == 0
    assert oakum("backup", "copies") == 2
    assert oakum("restore", "copies/skerry.oakum", "elsewhere") == 0
    assert oakum("check", "--project", "elsewhere") == 0
    assert "every chain whole" in oakum.out
    assert oakum("find", "add", "plank", "--project", "elsewhere") == 2
    assert "block" in oakum.err


def test_sheets_are_written_whole_or_not_at_all(oakum: Terminal, tmp_path: Path) -> None:
    oakum("new", "Skerry")
    assert oakum("lift", "weigh", CHEST, "--pdf", "weights.pdf") == 0
    assert oakum("lift", "card", "card.pdf", "--shape", "ring", "--paper", "a5") == 0
    assert oakum("find", "slips", "slips.pdf", "--count", 3) == 0
    assert all(
        (tmp_path / name).read_bytes()[:5] == b"%PDF-" for name in ("weights.pdf", "card.pdf", "slips.pdf")
    )
    assert oakum("lift", "weigh", CHEST, "--pdf", "no/such/folder.pdf") == 2
    assert not list(tmp_path.glob("**/*.part"))


def test_the_register_is_shown_first_and_entered_only_when_accepted(oakum: Terminal, tmp_path: Path) -> None:
    oakum("new", "Skerry")
    assert oakum("find", "import-register", ROOT / "docs/examples/register.csv") == 0
    assert "Nothing was entered" in oakum.out
    assert oakum("find", "list") == 0
    assert "No find" in oakum.out
    assert oakum("find", "import-register", ROOT / "docs/examples/register.csv", "--accept") == 0
    with Logbook.open(tmp_path, read_only=True) as logbook:
        assert len(logbook.finds().lines) == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("lift", "weigh", "nothing.toml"), "no file nothing.toml"),
        (("lift", "weigh", "T-0001"), "not an Oakum project"),
        (("lift", "weigh", CHEST, "--draws", "5"), "1,000 to 1,000,000"),
        (("lift", "weigh", CHEST, "--reading", "3 ton"), "long ton"),
        (("lift", "bodies", "whale"), "no starting body"),
        (("lift", "card", "c.pdf", "--shape", "whale"), "whale"),
        (("find", "list", "--project", "nowhere"), "not an Oakum project"),
        (("find", "slips", "s.pdf", "--count", "0"), "1 to 200"),
        (("new", "!!!"), "letter or digit"),
    ],
)
def test_what_cannot_be_done_is_refused_with_a_sentence_and_code_2(
    oakum: Terminal, words: tuple[object, ...], said: str
) -> None:
    assert oakum(*words) == 2
    assert said in oakum.err and not oakum.out


def test_an_unknown_command_is_code_2(oakum: Terminal) -> None:
    assert oakum("wiegh") == 2


def test_every_problem_of_a_body_file_is_listed_with_line_and_key(oakum: Terminal, tmp_path: Path) -> None:
    text = CHEST.read_text().replace("1 ft 2 in", "1 fot 2 in").replace("count = 2", "cuont = 2")
    (tmp_path / "bad.toml").write_text(text)
    assert oakum("lift", "weigh", "bad.toml") == 2
    assert re.search(r"line \d+, height of hollow", oakum.err) and 'did you mean "count"' in oakum.err


def test_a_find_number_with_a_wrong_check_character_is_named(oakum: Terminal) -> None:
    oakum("new", "Skerry")
    oakum("find", "add", "jar")
    right = oakum.out.split()[0]
    wrong = right[:-1] + ("A" if right[-1] != "A" else "B")
    assert oakum("find", "show", wrong) == 2
    assert right[-1] in oakum.err
