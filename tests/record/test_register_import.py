"""A club's register of 600 finds, with everything thirty years of hands leave in one, into a logbook."""

from __future__ import annotations

import io
from collections import Counter

import openpyxl
import pytest

from oakum.record import Logbook
from oakum.record.club_register.propose import RegisterError, drafts, known_numbers, propose
from oakum.record.finds.numbers import FindNumber
from oakum.record.log.facts import check_fact
from oakum.record.sheets.sheet import read_sheet

NAMES = [
    "Bar shot",
    "Shoe sole",
    "Jar, stoneware",
    "Pewter plate",
    "Block sheave",
    "Hoop",
    "Lead ingot",
    "Nail",
]
MATERIALS = ["iron", "leather", "stoneware", "pewter", "elm", "withy", "lead", "iron"]


class Register:
    """Builds the workbook row by row and writes down what each row ought to become."""

    def __init__(self):
        self.book = openpyxl.Workbook()
        self.grid = self.book.active
        self.grid.title = "Finds"
        self.expected: dict[int, str] = {}
        self.blank = 0
        self.left_out = 0
        self.grid["A1"] = "Tolmarren finds register (invented)"
        self.grid.merge_cells("A1:K1")
        top = [
            "Find No.",
            "Object",
            "Material",
            "Qty",
            "Dimensions (mm)",
            None,
            None,
            "Weight (g)",
            "Square",
            "Date",
            "Diver",
        ]
        self.grid.append([])
        self.grid.append([*top, "Remarks", "Photo number"])
        self.grid.append([None] * 4 + ["L", "W", "H"])
        self.grid.merge_cells("E3:G3")
        for column in "ABCDHIJKLM":
            self.grid.merge_cells(f"{column}3:{column}4")
        self.left_out = 1  # the title
        self.row = 5

    def find(self, number, expected="ready", **cells):
        at = self.row % len(NAMES)
        values = {
            "A": number,
            "B": NAMES[at],
            "C": MATERIALS[at],
            "D": 1 + self.row % 3,
            "E": 40 + self.row % 200,
            "F": 12.5,
            "H": 250 + self.row,
            "J": f"{13 + self.row % 15}/6/98",
            "K": "J. Invented" if self.row % 2 else "M. Fictional",
            "M": f"P{self.row}",
        } | cells
        for column, value in values.items():
            self.grid[f"{column}{self.row}"] = value
        self.expected[self.row] = expected
        self.row += 1
        return self.row - 1

    def skip(self):
        self.blank += 1
        self.row += 1

    def heading(self, text):
        self.grid[f"A{self.row}"] = text
        self.grid.merge_cells(f"A{self.row}:K{self.row}")
        self.left_out += 1
        self.row += 1

    def content(self):
        out = io.BytesIO()
        self.book.save(out)
        return out.getvalue()


ODD = {
    # place in the third part of the register: (cells, what must become of the row, what the message says)
    3: ({"H": "=250*2"}, "refused", "holds a formula; paste values and try again"),
    4: ({"H": "=H20+1", "E": "=2*30"}, "refused", "holds a formula; paste values and try again"),
    5: ({"D": "=1+1"}, "refused", "holds a formula; paste values and try again"),
    8: ({"E": "about a foot"}, "look", "about a foot"),
    9: ({"D": "several"}, "look", "expected a whole number"),
    10: ({"H": -20}, "look", "must not be negative"),
    18: ({"E": 0}, "look", "expected more than zero"),
    11: ({"J": "31/6/98"}, "look", "no day of the calendar"),
    12: ({"J": "last summer"}, "look", "is no date"),
    13: ({"H": "#REF!"}, "look", "holds the error #REF!"),
    14: ({"B": None, "C": None}, "look", "nothing says what it is"),
    15: ({"A": None}, "look", "has no number"),
    16: ({"H": "0.2 ton"}, "look", "ton"),
    17: ({"E": "1,234"}, "look", "1,234"),
    20: ({"E": "12 cm"}, "ready", None),
    21: ({"E": "4 1/2 in"}, "ready", None),
    22: ({"E": "1 ft 2 in", "H": "2 lb 3 oz"}, "ready", None),
    23: ({"H": "1.2 ± 0.1 kg"}, "ready", None),
    24: ({"H": "300..340"}, "ready", None),
    25: ({"D": "3 frags", "J": "June 1998"}, "ready", None),
    26: ({"J": "1998", "E": "?", "H": "-"}, "ready", None),
}


@pytest.fixture(scope="module")
def register():
    """600 finds in three habits of numbering; what each row must become is written down while it is built."""
    book = Register()
    for n in range(1, 241):
        if n % 40 == 1:
            book.heading(f"Trench {n // 40 + 1}")
        start = book.find(f"TOL/98/{n:03d}", I="C4" if n % 4 == 1 else None)
        if n % 4 == 0:  # one square for four finds
            book.grid.merge_cells(f"I{start - 3}:I{start}")
        if n % 20 == 0:
            book.skip()
    for n in range(1, 201):
        book.find(n if n % 10 else f"{n - 1}a")
        if n % 50 == 0:
            book.skip()
            book.skip()
    book.odd_rows = {}
    for n in range(1, 151):
        cells, expected, _ = ODD.get(n, ({}, "ready", None))
        row = book.find(f"F.{n}", expected, **cells)
        book.odd_rows[n] = row
    for text in ("501-504", "F.610-612", "520 & 521"):
        book.find(text, "look")
    for number in ("TOL/98/007", "F.30"):  # each stands in its own row too
        book.find(number, "look")
    book.find("007", "look")  # 7 with zeros in front
    for number in ("TOL/98/007", "F.30", 7):
        first = next(row for row in book.expected if book.grid[f"A{row}"].value == number)
        book.expected[first] = "look"
    weighed = [book.find(f"F.{n}", "look") for n in (701, 702)]  # one weight for two finds
    book.grid.merge_cells(f"H{weighed[0]}:H{weighed[1]}")
    lines = [book.find("F.703", "look") for _ in range(2)]  # one number over two lines
    book.grid.merge_cells(f"A{lines[0]}:A{lines[1]}")
    book.content_bytes = book.content()
    return book


@pytest.fixture(scope="module")
def proposal(register):
    return propose(read_sheet(register.content_bytes, "register.xlsx"))


def test_every_one_of_600_rows_becomes_what_it_must(register, proposal):
    assert len(register.expected) == 600
    became = {find.row: find.status for find in proposal.rows}
    assert became.keys() == register.expected.keys()
    assert {row: (became[row], must) for row, must in register.expected.items() if became[row] != must} == {}


def test_the_counts_of_the_register(register, proposal):
    counts = proposal.counts
    assert (counts.blank, counts.left_out) == (register.blank + 1, register.left_out)
    assert counts.words() == (
        "600 finds: 573 ready, 24 to be looked at, 3 refused; 21 blank rows and 7 headings left out."
    )
    assert Counter(register.expected.values()) == {
        "ready": counts.ready,
        "look": counts.look,
        "refused": counts.refused,
    }


def test_three_habits_of_numbering_live_side_by_side(proposal):
    assert [(habit.shape, habit.rows) for habit in proposal.habits] == [
        ("TOL/#/#", 241),
        ("#", 201),
        ("F.#", 154),
    ]
    assert {"TOL/98/014", "14", "19a", "F.14"} <= {find.number for find in proposal.rows}


def test_names_over_two_rows_with_a_unit_in_the_upper_one(proposal):
    columns = {column.letter: (column.field, column.unit) for column in proposal.columns}
    assert columns == {
        "A": ("number", None),
        "B": ("title", None),
        "C": ("material", None),
        "D": ("count", None),
        "E": ("length", "mm"),
        "F": ("width", "mm"),
        "G": ("height", "mm"),
        "H": ("mass", "g"),
        "I": ("place", None),
        "J": ("found_on", None),
        "K": ("found_by", None),
        "L": ("note", None),
    }
    assert [(c.letter, c.header, c.filled, c.note) for c in proposal.ignored_columns] == [
        ("M", "Photo number", 600, "not recognised")
    ]


@pytest.mark.parametrize("place", [place for place, (_, _, told) in ODD.items() if told])
def test_each_odd_row_says_where_and_why(register, proposal, place):
    cells, _, told = ODD[place]
    find = next(find for find in proposal.rows if find.row == register.odd_rows[place])
    assert told in find.messages[0]
    if "holds" in told:
        assert f"cell {min(cells)}{find.row}" in find.messages[0]


def test_a_cell_that_cannot_be_read_stays_with_its_find_as_a_remark(register, proposal):
    notes = {find.row: find.fields.get("note", "") for find in proposal.rows}
    for place, text in (
        (8, "about a foot"),
        (9, "several"),
        (12, "last summer"),
        (16, "0.2 ton"),
        (17, "1,234"),
    ):
        assert text in notes[register.odd_rows[place]]


def test_units_in_the_cell_go_before_the_unit_of_the_column(register, proposal):
    fields = {
        place: next(f.fields for f in proposal.rows if f.row == row)
        for place, row in register.odd_rows.items()
    }
    assert fields[20]["length"] == {"text": "12 cm", "value": "0.12", "unit": "m"}
    assert fields[21]["length"] == {"text": "4 1/2 in", "value": "0.1143", "unit": "m"}
    # 2 lb 3 oz: 35 avoirdupois ounces of 28.349523125 g, own calculation.
    assert fields[22]["mass"] == {"text": "2 lb 3 oz", "value": "0.992233309375", "unit": "kg"}
    assert fields[23]["mass"] == {"text": "1.2 ± 0.1 kg", "value": "1.2", "unit": "kg", "sd": "0.1"}
    assert fields[24]["mass"] == {
        "text": "300..340 g",
        "value": "0.32",
        "unit": "kg",
        "low": "0.3",
        "high": "0.34",
    }
    assert fields[1]["width"] == {"text": "12.5 mm", "value": "0.0125", "unit": "m"}
    assert (fields[25]["count"], fields[25]["note"]) == (3, "count as written: 3 frags")
    assert (fields[25]["found_on"], fields[26]["found_on"]) == ("1998-06", "1998")
    assert "length" not in fields[26] and "mass" not in fields[26]


def test_one_square_written_once_for_four_finds_reaches_all_four(proposal):
    places = [find.fields.get("place") for find in proposal.rows[:8]]
    assert places == ["C4"] * 8


def test_a_weight_written_once_for_two_finds_is_given_to_neither(proposal):
    for number in ("F.701", "F.702"):
        find = next(find for find in proposal.rows if find.number == number)
        assert "mass" not in find.fields
        assert "one value for all of these finds" in find.messages[0]


@pytest.fixture
def logbook(tmp_path):
    book = Logbook.create(tmp_path / "Tolmarren.oakum", "Tolmarren", author="director")
    if not [entry for entry in book.entries() if entry.kind == "block.given"]:
        book.give_block("T", 1, 2000, author="director")
    return book


def test_nothing_enters_until_accepted_and_then_the_accepted_rows_do(register, proposal, logbook):
    before = len(list(logbook.entries()))
    assert len(logbook.finds(limit=10).lines) == 0
    accepted = [find.row for find in proposal.of_status("ready")] + [register.odd_rows[8]]
    made = drafts(proposal, accepted, author="recorder", file_sha256="a" * 64)
    assert len(list(logbook.entries())) == before
    for draft in made:
        check_fact(draft.kind, dict(draft.body), draft.over)
    logbook.append_many(made)
    assert len(list(logbook.entries())) == before + 573 + 1 + 1
    find = logbook.find("TOL/98/014")
    assert find.earlier_numbers == ("TOL/98/014",)
    assert find.number.startswith("T-00")
    assert find.fields["imported_from"] == f"register.xlsx, sheet Finds, row {proposal.rows[13].row}"
    assert find.fields["length"]["unit"] == "m"
    assert logbook.find("F.8").fields["note"] == "L (mm) as written: about a foot"

    again = propose(
        read_sheet(register.content_bytes, "register.xlsx"), known=known_numbers(logbook.entries())
    )
    assert again.counts.refused == 573 + 1 + 3  # all that entered, and the three with formulas
    refused = next(find for find in again.rows if find.number == "TOL/98/014")
    assert "already in this project; nothing is entered twice" in refused.messages[0]


def test_no_name_of_a_finder_reaches_a_draft_unless_as_a_registered_person(proposal):
    made = drafts(proposal, [proposal.rows[0].row, proposal.rows[1].row], author="recorder")
    assert proposal.people == ("J. Invented", "M. Fictional")
    assert "Invented" not in repr(made) and "Fictional" not in repr(made)
    assert [draft.body["found_by"] for draft in made] == ["diver", "diver"]
    made = drafts(proposal, [6, 7], author="recorder", people={"J. Invented": "p-0a1b2c3d"})
    assert {draft.body["found_by"] for draft in made} == {"diver", "p-0a1b2c3d"}


def test_numbers_may_come_from_a_source_of_the_callers(proposal):
    block = iter(range(1, 100))
    made = drafts(proposal, [7, 6], lambda: FindNumber.of("T", next(block)), author="recorder")
    assert [draft.body["number"] for draft in made] == ["T-0001-X", str(FindNumber.of("T", 2))]
    assert made[0].body["imported_from"].endswith("row 6")


def test_refused_or_unknown_rows_cannot_be_accepted_and_then_none_is(register, proposal):
    refused = register.odd_rows[3]
    with pytest.raises(
        RegisterError, match=rf"Row {refused} cannot be accepted: cell H{refused} holds a formula"
    ):
        drafts(proposal, [6, refused], author="recorder")
    with pytest.raises(RegisterError, match="has no find in row 2, 9999; nothing was accepted"):
        drafts(proposal, [6, 2, 9999], author="recorder")
    assert drafts(proposal, [], author="recorder", file_sha256="a" * 64) == []


def test_a_long_register_tells_how_far_it_is(register):
    calls = []
    propose(
        read_sheet(register.content_bytes, "r.xlsx"), progress=lambda done, total: calls.append((done, total))
    )
    assert calls[0] == (50, 600)
    assert calls[-1] == (600, 600)
