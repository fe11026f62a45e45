"""Which column of a list says what: guessed from its name, and always open to correction.

Only whole names are recognised ("find no", "max length (mm)"), because a guess from a single word would take
"photo number" for the number of the find. What is not recognised is listed, never taken.
"""

from __future__ import annotations

import dataclasses
import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass

from oakum.ground.quantities import QuantityError, find_unit
from oakum.record.sheets.rows import Row, Sheet, SheetError, column_letters

HEADER_SEARCH_ROWS = 30

_FILLERS = frozenset(
    ("the", "of", "in", "a", "an", "max", "maximum", "min", "overall", "approx", "approximate", "measured")
)
_IN_BRACKETS = re.compile(r"[(\[]([^)\]]*)[)\]]")


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """The fields of a list, the names each goes by, and what they measure.

    `names` has the names of a field in one text with commas; `dimensions` what its figures are, `otherwise` a
    second dimension its unit may have (a WLL in kN). Fields in `several` may take more than one column, all
    others take the first that fits. `roles` says for a field what the people of a column of this name are.
    """

    names: Mapping[str, str]
    dimensions: Mapping[str, str]
    several: frozenset[str]
    otherwise: Mapping[str, str] = dataclasses.field(default_factory=dict)
    roles: Mapping[str, Mapping[str, str]] = dataclasses.field(default_factory=dict)
    known: Mapping[str, str] = dataclasses.field(init=False)

    def __post_init__(self) -> None:
        known = {name.strip(): key for key, names in self.names.items() for name in names.split(",")}
        object.__setattr__(self, "known", known)

    def guess(self, name: str) -> str | None:
        """The field a column of this name goes to, or None."""
        return self.known.get(guess_words(name))

    def unit(self, name: str, key: str | None) -> tuple[str | None, str | None]:
        """The unit a column name gives to the bare numbers of field `key`, and a note where it has two meanings."""
        found = unit_of(name, self.dimensions.get(key or ""))
        other = self.otherwise.get(key or "")
        return unit_of(name, other) if found == (None, None) and other else found


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its letter, its name as written, the field it goes to (None: left out), and its unit.

    `filled` counts the cells below the name that hold something. `role` is "diver" where the name of the
    column says what its people are. `note` says what is odd about it.
    """

    index: int
    letter: str
    header: str
    field: str | None
    unit: str | None
    filled: int
    role: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Header:
    """Where the names stand (row numbers, one or two rows) and the name of each column."""

    rows: tuple[int, ...]
    names: tuple[str, ...]


def find_header(sheet: Sheet, words: Vocabulary) -> Header | None:
    """The row that holds the most known names, with a second row of names below it if there is one."""
    best: tuple[int, int] | None = None
    for at, row in enumerate(sheet.rows[:HEADER_SEARCH_ROWS]):
        known = _known_names(row, words)
        if known >= 2 and (best is None or known > best[1]):
            best = (at, known)
    if best is None:
        return None
    at = best[0]
    top = sheet.rows[at]
    if at and _continues(sheet.rows[at - 1], top, words):
        return _two_rows(sheet.rows[at - 1], top)
    if at + 1 < len(sheet.rows) and _continues(top, sheet.rows[at + 1], words):
        return _two_rows(top, sheet.rows[at + 1])
    return Header((top.number,), tuple(cell.text for cell in top.cells))


def columns_of(
    sheet: Sheet, header: Header, words: Vocabulary, mapping: Mapping[str, str] | None = None
) -> tuple[Column, ...]:
    """Every column with a name or something in it. `mapping` (letter or name to field) overrules the guess.

    A mapping may also say "ignore", or "extra" (kept under the column's own name). Raises `SheetError` for an
    unknown column or field, or two columns for a field that takes one.
    """
    asked = _asked(sheet, header, words, mapping or {})
    taken = {field for field in asked.values() if field not in ("ignore", *words.several)}
    columns = []
    for index in range(sheet.width):
        name = header.names[index]
        filled = sum(
            1 for row in sheet.rows if row.number > header.rows[-1] and not row.cells[index].is_blank
        )
        if not name and not filled:
            continue
        field, note = asked.get(index), None
        if field is None:
            field = words.guess(name)
            if field in taken:
                note = f"left out: another column is already read as {field.replace('_', ' ')}"
                field = None
            elif field is None:
                note = "not recognised" + (f"; did you mean {near}?" if (near := _near(name, words)) else "")
            elif field not in words.several:
                taken.add(field)
        unit, odd = words.unit(name, field)
        role = words.roles.get(field or "", {}).get(guess_words(name))
        kept = None if field == "ignore" else field
        columns.append(Column(index, column_letters(index), name, kept, unit, filled, role, note or odd))
    return tuple(columns)


def header_of(sheet: Sheet, words: Vocabulary, mapping: Mapping[str, str] | None) -> Header | None:
    """The row of names; the first row, whatever it says, where a mapping tells what its columns are."""
    header = find_header(sheet, words)
    if header is None and mapping:
        first = sheet.rows[0]
        return Header((first.number,), tuple(cell.text for cell in first.cells))
    return header


def body_rows(sheet: Sheet, header: Header, columns: tuple[Column, ...]) -> tuple[list[Row], list[str]]:
    """The rows below the names, and in words what was left out: headings and repeated column names."""
    rows: list[Row] = []
    left_out: list[str] = []
    names = [_plain(column.header) for column in columns]
    for row in sheet.rows:
        filled = [cell for cell in row.cells if not cell.is_blank]
        if row.number < header.rows[0]:
            left_out.append(f"row {row.number}: {filled[0].text[:60]}")
        elif row.number in header.rows:
            continue
        elif [_plain(row.cells[column.index].text) for column in columns] == names:
            left_out.append(f"row {row.number}: the column names again")
        elif len({cell.merged for cell in filled}) == 1 and filled[0].merged and len(filled) > 1:
            left_out.append(f"row {row.number}: {filled[0].text[:60]}")
        else:
            rows.append(row)
    return rows, left_out


def guess_words(name: str) -> str:
    """The words of a column name without its unit, brackets and fillers, in small letters."""
    plain = _IN_BRACKETS.sub(" ", name)
    words = re.sub(r"[^\w\s]|_", " ", plain.replace("'", "").replace("№", " no ").lower()).split()
    if len(words) > 1 and _is_unit(words[-1]):
        words = words[:-1]
    kept = [word for word in words if word not in _FILLERS]
    return " ".join(kept)


def unit_of(name: str, dimension: str | None) -> tuple[str | None, str | None]:
    """The unit a column name gives to its bare numbers, and a note where it gives one with two meanings."""
    if dimension is None:
        return None, None
    tokens = _IN_BRACKETS.findall(name) + re.split(r"[\s/,:;()\[\]]+", name.strip())[1:]
    note = None
    for token in (token.strip() for token in reversed(tokens)):
        if not token:
            continue
        try:
            unit = find_unit(token.rstrip("."), dimension)
        except QuantityError as error:
            note = str(error) if "more than one meaning" in str(error) else note
            continue
        if unit.dimension == dimension:
            return unit.symbol, None
    return None, note


def _plain(text: str) -> str:
    return "".join(text.split()).casefold()


def _is_unit(word: str) -> bool:
    try:
        find_unit(word)
    except QuantityError as error:
        return "more than one meaning" in str(error)
    return word not in ("l", "b", "h", "w", "d", "t")


def _known_names(row: Row, words: Vocabulary) -> int:
    return len({words.guess(cell.text) for cell in row.cells if cell.kind == "text"} - {None})


def _continues(top: Row, below: Row, words: Vocabulary) -> bool:
    """Whether `below` goes on with the names of `top`: under a merged name stand known ones, and no figures."""
    merged = {at for at, cell in enumerate(top.cells) if cell.merged and not cell.is_blank}
    spread = {at for at in merged if sum(top.cells[o].merged == top.cells[at].merged for o in merged) > 1}
    texts = [cell for cell in below.cells if not cell.is_blank]
    if below.number != top.number + 1 or not spread or any(cell.kind != "text" for cell in texts):
        return False
    one_merge = {top.cells[at].merged for at in spread}
    if len(one_merge) == 1 and len(spread) == sum(not cell.is_blank for cell in top.cells):
        return False  # a title over the whole list
    return any(words.guess(below.cells[at].text) for at in spread)


def _two_rows(top: Row, below: Row) -> Header:
    names = []
    for upper, lower in zip(top.cells, below.cells, strict=True):
        if upper.text == lower.text or not lower.text:
            names.append(upper.text)
        elif not upper.text:
            names.append(lower.text)
        else:
            unit = " ".join(f"({u})" for u in _IN_BRACKETS.findall(upper.text))
            names.append(f"{lower.text} {unit}".strip())
    return Header((top.number, below.number), tuple(names))


def _asked(
    sheet: Sheet, header: Header, words: Vocabulary, mapping: Mapping[str, str]
) -> dict[int, str]:
    asked: dict[int, str] = {}
    for key, field in mapping.items():
        if field not in words.names and field not in ("ignore", "extra"):
            near = difflib.get_close_matches(field, words.names, 1)
            hint = (
                f"Did you mean {near[0]}?"
                if near
                else f"Expected one of: {', '.join(words.names)}, extra, ignore."
            )
            raise SheetError(f"There is no field called {field!r} for column {key}. {hint}")
        asked[_index(key, sheet, header)] = field
    for field in set(asked.values()) - words.several - {"ignore"}:
        letters = [column_letters(index) for index, other in sorted(asked.items()) if other == field]
        if len(letters) > 1:
            raise SheetError(
                f"Columns {' and '.join(letters)} are both meant for {field}; it takes one column."
            )
    return asked


def _index(key: str, sheet: Sheet, header: Header) -> int:
    named = [at for at, name in enumerate(header.names) if name and name.casefold() == key.strip().casefold()]
    if len(named) == 1:
        return named[0]
    letters = [at for at in range(sheet.width) if column_letters(at) == key.strip().upper()]
    if letters:
        return letters[0]
    raise SheetError(
        f"There is no column {key!r}. Give its letter, A to {column_letters(sheet.width - 1)}, or its name as written."
    )


def _near(name: str, words: Vocabulary) -> str | None:
    near = difflib.get_close_matches(guess_words(name), words.known, 1, cutoff=0.82)
    return words.known[near[0]] if near else None
