"""A hire firm's list of 80 pieces, with mixed units and expired papers, into the gear register."""

from __future__ import annotations

import io
from collections import Counter
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from oakum.desk.finds.register_import import NothingAcceptedError
from oakum.desk.gear.list_import import accept_gear, propose_gear
from oakum.desk.gear.standing import gear_register, gear_standing
from oakum.desk.today.due_gear import papers_due
from oakum.record import Logbook
from oakum.record.gear.columns import DIMENSION, FIELDS, WORDS, kind_of
from oakum.record.gear.proposal import GearListError, GearProposal, drafts
from oakum.record.gear.words import GEAR_KINDS

DAY = date(2026, 6, 1)
EXAMPLE = Path(__file__).resolve().parents[2] / "docs/examples/gear.csv"
HEADS = [
    "Serial No.",
    "Item",
    "Description",
    "Qty",
    "WLL (t)",
    "Length",
    "Own weight (kg)",
    "Cert No",
    "Date tested",
    "Valid to",
    "Last thorough examination",
    "Next exam",
    "Examined by",
    "Hire rate",
    "Remarks",
]
KINDS = [
    ("Bow shackle", "shackle", 3.25),
    ("Dee shackle, alloy", "shackle", 2),
    ("Polyester round sling", "round sling", 2),
    ("Flat webbing sling, duplex", "webbing sling", 1),
    ("Wire rope sling, soft eyes", "wire rope sling", "25 kN"),
    ("Two-leg chain sling", "chain sling", "4480 lb"),
    ("Eye bolt", "eyebolt", "1500 kg"),
    ("Enclosed lift bag", "lifting bag", 1),
    ("Spreader bar", "spreader beam", 5),
    ("Load cell with display", "load cell", "50 kN"),
]


def hire_list() -> tuple[bytes, dict[int, str]]:
    """A workbook with a title, a heading between the rows, and 80 pieces; and what each row ought to become."""
    book = openpyxl.Workbook()
    grid = book.active
    grid.title = "Hire"
    grid["A1"] = "Plant hire list (invented firm)"
    grid.merge_cells("A1:O1")
    grid.append([])
    grid.append(HEADS)
    expected: dict[int, str] = {}
    odd = {
        7: ({"E": "2 ton"}, "look"),
        12: ({"E": None}, "look"),
        16: ({"A": None}, "refused"),
        21: ({"A": "H-0003"}, "refused"),  # the identity of the first row, the same kind
        22: ({"A": "H-0003"}, "ready"),  # the same identity on another kind
        26: ({"I": dt("2026-06-30"), "J": dt("2025-06-30")}, "look"),
        31: ({"J": dt("2026-03-01")}, "ready"),  # lapsed: may be listed, every plan objects
        33: ({"L": "30/4/26"}, "ready"),
        37: ({"L": "May 2026"}, "look"),
        41: ({"B": "Sling", "C": None}, "look"),
        44: ({"E": "=2*1.5"}, "refused"),
        48: ({"D": 3}, "refused"),
        52: ({"A": "H-0201 to H-0204", "D": 4}, "look"),
        57: ({"F": "2 m or so"}, "look"),
        61: ({"E": "1..2"}, "look"),
        66: ({"O": "quarantined: cut in cover"}, "ready"),
    }
    for row in range(4, 84):
        name, _, wll = KINDS[(row - 4) % len(KINDS)]
        # The first row's kind, so that one identity stands on one kind twice.
        name = "Bow shackle" if row in (4, 21) else name
        cells = {
            "A": f"H-{row:04d}" if row != 4 else "H-0003",
            "B": name,
            "C": f"green, piece {row}",
            "D": 1,
            "E": wll,
            "F": ("2 m", "6 ft", "1500 mm")[row % 3],
            "G": 3 + row % 7,
            "H": f"C-{row}",
            "I": dt("2025-07-01"),
            "J": dt("2026-06-30"),
            "K": dt("2026-01-15"),
            "L": dt("2026-07-15"),
            "M": "J. Invented",
            "N": 4.5,
        }
        changes, become = odd.get(row, ({}, "ready"))
        for column, value in (cells | changes).items():
            grid[f"{column}{row}"] = value
        expected[row] = become
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue(), expected


def dt(text: str) -> date:
    return date.fromisoformat(text)


@pytest.fixture(scope="module")
def workbook() -> tuple[bytes, dict[int, str]]:
    return hire_list()


@pytest.fixture
def log(tmp_path: Path) -> Logbook:
    return Logbook.create(tmp_path, "Tolmarren")


def said(proposal: GearProposal, row: int) -> str:
    return "; ".join(next(piece for piece in proposal.rows if piece.row == row).messages)


def test_every_row_of_the_hire_list_becomes_what_it_should(
    log: Logbook, workbook: tuple[bytes, dict[int, str]]
) -> None:
    data, expected = workbook
    proposal = propose_gear(log, data, "hire.xlsx", on=DAY)
    assert {piece.row: piece.status for piece in proposal.rows} == expected
    assert proposal.counts.words() == (
        "80 rows of gear: 68 ready, 8 to be looked at, 4 refused; 1 blank row and 1 heading left out."
    )
    assert log.count() == 3 and log.gear() == ()
    assert [column.header for column in proposal.ignored_columns] == ["Hire rate"]
    assert any("Names of inspectors do not enter the logbook" in note for note in proposal.notes)


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (7, '"ton" has more than one meaning: write t (1000 kg), long ton (2240 lb) or short ton (2000 lb)'),
        (12, "no WLL that can be taken; until the tag is read, every plan objects"),
        (16, "no identity: without a tag no certificate can be held against it"),
        (21, "row 4 holds a shackle with the identity H-0003 already: two pieces with one identity"),
        (26, "the certificate ends (2025-06-30) before it begins (2026-06-30)"),
        (31, "its certificate lapsed on 2026-03-01; every plan objects until there is a new one"),
        (33, "its inspection lapsed on 2026-04-30"),
        (37, "a paper ends on a day: write it as year-month-day"),
        (41, "says 'Sling', which names no kind of gear"),
        (44, "cell E44 holds a formula; paste values and try again"),
        (48, "says 3 pieces with one identity (H-0048); each piece has its own"),
        (52, "identity H-0201 to H-0204 reads as 4 pieces"),
        (57, "cell F57 (Length):"),
        (61, "a WLL is the one number on the tag"),
    ],
)
def test_each_trouble_of_the_list_has_its_sentence(
    log: Logbook, workbook: tuple[bytes, dict[int, str]], row: int, told: str
) -> None:
    assert told in said(propose_gear(log, workbook[0], "hire.xlsx", on=DAY), row)


def test_accepted_rows_become_pieces_with_their_figures_in_si_and_the_text_of_the_list(
    log: Logbook, workbook: tuple[bytes, dict[int, str]]
) -> None:
    data, _ = workbook
    proposal = propose_gear(log, data, "hire.xlsx", on=DAY)
    entries = accept_gear(log, proposal, data, "hire.xlsx", author="recorder", with_look=True)
    assert entries[0].kind == "import.accepted" and entries[0].body["rows"] == 76
    register = gear_register(log, DAY)
    assert len(log.gear()) == 79 and log.check().ok and log.check_files().whole
    found = {key: (item.wll_kg, item.wll_text) for key, item in register.items()}
    assert found["H-0008"] == (pytest.approx(25_000 / 9.80665), "25 kN")
    assert found["H-0009"] == (pytest.approx(4480 * 0.45359237), "4480 lb")
    assert found["H-0010"] == (1500.0, "1500 kg") and found["H-0014"] == (3250.0, "3.25 t")
    assert found["H-0007"] == (None, "") and "WLL (t) as written: 2 ton" in log.piece("H-0007").fields["note"]
    assert {piece.identity for piece in log.gear()} >= {"H-0201", "H-0202", "H-0203", "H-0204"}
    assert log.piece("H-0005").fields["length"]["value"] == "1.5"
    assert "J. Invented" not in str([entry.body for entry in log.entries()])
    objections = Counter(bool(one.objections) for one in gear_standing(log, DAY))
    assert objections == {False: 71, True: 8}
    assert len([one for one in papers_due(log, DAY) if one.days < 0]) == 2


def test_the_same_list_a_second_time_is_refused_row_by_row(
    log: Logbook, workbook: tuple[bytes, dict[int, str]]
) -> None:
    data, _ = workbook
    accept_gear(log, propose_gear(log, data, "hire.xlsx", on=DAY), data, "hire.xlsx", author="recorder")
    again = propose_gear(log, data, "hire.xlsx", on=DAY)
    assert again.counts.ready == 0 and "is in the gear register already; nothing is listed twice" in said(again, 5)
    before = log.count()
    with pytest.raises(NothingAcceptedError):
        accept_gear(log, again, data, "hire.xlsx", author="recorder")
    with pytest.raises(GearListError, match="Row 5 cannot be accepted: the shackle H-0005 is in the gear"):
        accept_gear(log, again, data, "hire.xlsx", author="recorder", rows=[5])
    with pytest.raises(GearListError, match="no piece in row 400"):
        drafts(again, [400], author="recorder")
    assert log.count() == before


def csv(log: Logbook, text: str, **more: object) -> GearProposal:
    return propose_gear(log, text.encode(), "list.csv", on=DAY, **more)  # type: ignore[arg-type]


def test_a_list_without_identity_or_kind_is_refused_with_what_was_expected(log: Logbook) -> None:
    for text in ("Size;Colour\n2;red\n", "Tag;WLL (t)\nA;2\n", "Type;WLL (t)\nshackle;2\n"):
        with pytest.raises(GearListError, match="Expected names such as Serial no, Type, WLL"):
            csv(log, text)


def test_columns_are_given_by_hand_where_the_guess_is_wrong(log: Logbook) -> None:
    text = "Marke;Art;Last (kg)\nS-1;round sling;2000\n"
    proposal = csv(log, text, mapping={"Marke": "identity", "B": "kind", "Last (kg)": "wll"})
    assert proposal.rows[0].identities == ("S-1",) and proposal.rows[0].fields["wll"]["value"] == "2000"


def test_a_column_of_wll_in_tons_takes_no_bare_number_and_says_why(log: Logbook) -> None:
    proposal = csv(log, "Tag;Type;SWL (ton)\nS-1;shackle;2\nS-2;shackle;2 t\n")
    assert any('"ton" has more than one meaning' in note for note in proposal.notes)
    assert [piece.fields.get("wll", {}).get("value") for piece in proposal.rows] == [None, "2000"]


def test_a_column_of_wll_in_kilonewtons_is_read_as_force(log: Logbook) -> None:
    (piece,) = csv(log, "Tag;Type;WLL (kN)\nS-1;shackle;20\n").rows
    assert float(piece.fields["wll"]["value"]) == pytest.approx(20_000 / 9.80665)


def test_dates_that_could_be_two_are_read_by_the_other_dates_of_the_list(log: Logbook) -> None:
    heads = "Tag;Type;Tested;Valid until\n"
    told = csv(log, heads + "S-1;shackle;01/06/2025;13/06/2026\n").rows[0]
    assert told.fields["certificate_from"] == "2025-06-01"
    assert "could be two dates" in said(csv(log, heads + "S-1;shackle;01/06/2025;01/06/2026\n"), 2)


def test_a_cell_that_looks_like_a_formula_stays_text_in_a_csv(log: Logbook) -> None:
    (piece,) = csv(log, 'Tag;Type;Remarks\nS-1;shackle;"=1+1"\n').rows
    assert piece.fields.get("note") == "=1+1" or piece.status == "refused"


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Bow shackle 3.25t safety pin", "shackle"),
        ("load shackle", "load cell"),
        ("Crane scale", "load cell"),
        ("POLYESTER ROUNDSLING", "round sling"),
        ("Endless sling", "round sling"),
        ("Web sling", "webbing sling"),
        ("Steel wire rope sling", "wire rope sling"),
        ("4-leg chain", "chain sling"),
        ("Chain block", "hoist"),
        ("Lever hoist", "hoist"),
        ("Air bag 500", "lifting bag"),
        ("Master link", "ring"),
        ("Turnbuckle", "rigging screw"),
        ("Self-locking hook", "hook"),
        ("Tagline 20 m", "line"),
        ("Sling", None),
        ("Generator", None),
        ("", None),
    ],
)
def test_the_kind_is_read_from_a_firms_words(text: str, kind: str | None) -> None:
    assert kind_of(text) == kind


def test_every_name_of_a_column_stands_for_one_field() -> None:
    names = [name.strip() for text in FIELDS.values() for name in text.split(",")]
    assert len(names) == len(set(names)) and set(DIMENSION) <= set(FIELDS)
    assert all(WORDS.guess(name) == field for field, text in FIELDS.items() for name in text.split(", "))
    assert all(kind in GEAR_KINDS for kind in (kind_of(word) for word in GEAR_KINDS) if kind)


def test_the_example_of_the_manual_gives_what_the_manual_says(log: Logbook) -> None:
    data = EXAMPLE.read_bytes()
    proposal = propose_gear(log, data, "gear.csv", on=DAY)
    assert proposal.counts.words() == (
        "12 rows of gear: 7 ready, 3 to be looked at, 2 refused; 0 blank rows and 0 headings left out."
    )
    accept_gear(log, proposal, data, "gear.csv", author="recorder")
    assert gear_register(log, DAY)["S-02"].objection == "S-02: its inspection lapsed on 2026-03-15"
    assert len(log.gear()) == 7
