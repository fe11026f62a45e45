"""Reading one table of a body file: what is wrong with a key is noted, and reading goes on."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Any

from oakum.ground.estimate import Estimate, EstimateError, exact, positive
from oakum.ground.quantities import QuantityError, read
from oakum.lift.body.errors import Problem
from oakum.lift.body.lines import Path, line_of

_EXAMPLES = {
    "length": '"1.2 m" or "4 ft 3 1/2 in"',
    "mass": '"12.4 ± 0.3 kg"',
    "density": '"1027 ± 2 kg/m3"',
    "pressure": '"5..15 kPa"',
    "time": '"30 min"',
    "angle": '"90 deg"',
    "volume": '"40..60 l"',
    "area": '"1.2 m2"',
    "speed": '"0.1 m/s"',
    "temperature": '"11 degC"',
    "fraction": '"80..100 %"',
}


class Notes:
    """What one reading of a file collects besides the body."""

    def __init__(self, lines: dict[Path, int]) -> None:
        self.lines = lines
        self.problems: list[Problem] = []
        self.bare_lengths: list[str] = []
        self.questions: list[str] = []
        self.assumptions: list[str] = []


class Cursor:
    """One table at `path`. `what` names it in labels and messages ("barrel", "coat of barrel")."""

    def __init__(self, table: dict[str, Any], path: Path, notes: Notes, what: str = "") -> None:
        self.table = table
        self.path = path
        self.notes = notes
        self.what = what
        self._asked: list[str] = []

    def line(self, key: str = "") -> int:
        """Return the line of a key of this table, or of the table."""
        return line_of(self.notes.lines, (*self.path, key) if key else self.path)

    def problem(self, key: str, message: str) -> None:
        """Note that something is wrong with a key."""
        place = f"{key} of {self.what}" if self.what and key else key or self.what
        self.notes.problems.append(Problem(self.line(key), place, message))

    def has(self, key: str) -> bool:
        """Whether the key is there; asking makes it a known key."""
        self._asked.append(key)
        return key in self.table

    def raw(self, key: str) -> Any:
        """Return the value as TOML gave it, or None."""
        self._asked.append(key)
        return self.table.get(key)

    def text(self, key: str, *, needed: str = "") -> str:
        """Return a text; `needed` says what to write if it is missing. Empty where there is none."""
        value = self.raw(key)
        if value is None:
            if needed:
                self.problem(key, f"is missing: write {needed}")
            return ""
        if not isinstance(value, str) or not value.strip():
            self.problem(key, f'must be a text in quotes, such as {key} = "..."')
            return ""
        return value.strip()

    def choice(self, key: str, choices: tuple[str, ...], *, default: str = "", needed: bool = False) -> str:
        """Return one of the choices; `default` where the key is missing."""
        listed = ", ".join(f'"{c}"' for c in choices)
        value = self.text(key, needed=f"one of {listed}" if needed else "")
        if not value:
            return default
        if value.lower() in choices:
            return value.lower()
        self.problem(key, f'"{value}" is none of {listed}{_nearest(value.lower(), choices)}')
        return default

    def number(self, key: str, *, low: int = 1, default: int = 1) -> int:
        """Return a whole number of at least `low`."""
        value = self.raw(key)
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, int) or value < low:
            self.problem(
                key, f"must be a whole number of at least {low} without quotes, such as {key} = {low}"
            )
            return default
        return value

    def truth(self, key: str) -> bool:
        """Return true or false; false where missing."""
        value = self.raw(key)
        if value is None or isinstance(value, bool):
            return bool(value)
        self.problem(key, f"must be true or false without quotes, such as {key} = true")
        return False

    def estimate(
        self,
        key: str,
        dimension: str,
        *,
        label: str = "",
        unit: str | None = None,
        needed: bool = False,
        sign: bool = False,
        counted: bool = True,
    ) -> Estimate | None:
        """Read a quantity with its spread; None where it is missing, "not known" or wrong.

        `sign` allows zero and negative values (places). A length without a spread is remembered if `counted`.
        """
        value = self.raw(key)
        if value is None:
            if needed:
                self.problem(
                    key, f"is missing: write it as text with its unit, such as {_EXAMPLES[dimension]}"
                )
            return None
        if not isinstance(value, str):
            shown = value if isinstance(value, int | float) else "a number"
            self.problem(
                key, f"{shown} has no unit: write it as text with its unit, such as {_EXAMPLES[dimension]}"
            )
            return None
        if value.strip().lower() == "not known":
            if needed:
                self.problem(key, f"cannot be left unknown: write a range, such as {_EXAMPLES[dimension]}")
            return None
        try:
            quantity = read(value, dimension, unit=unit, signed=sign)
            name = label or (f"{self.what}: {key.replace('_', ' ')}" if self.what else key.replace("_", " "))
            found = quantity.estimate(name)
            if not sign:
                positive(found)
        except (QuantityError, EstimateError) as error:
            self.problem(key, str(error))
            return None
        if counted and dimension == "length" and found.is_exact and (found.a != 0.0 or not sign):
            self.notes.bare_lengths.append(name)
        return found

    def share(self, key: str, *, default: float | None = None) -> Estimate | None:
        """Read a share between 0 and 1 ("80 %", "70..90 %"); `default` where missing, None for not known."""
        if self.raw(key) is None:
            return None if default is None else exact(default)
        found = self.estimate(key, "fraction", sign=True)
        if found is not None and not (
            found.quantile(0.001) >= -1e-12 and found.quantile(0.999) <= 1.0 + 1e-12
        ):
            self.problem(key, 'must lie between 0 % and 100 %; write a range within that, such as "70..90 %"')
            return None
        return found

    def scale(self, key: str) -> Estimate | None:
        """Read a scale error ("±0.4 %") as a factor near 1; None where missing."""
        value = self.raw(key)
        if isinstance(value, str) and value.strip().startswith(("±", "+-", "+/-")):
            return Cursor({key: f"100 {value.strip()}"}, self.path, self.notes, self.what).estimate(
                key, "fraction", label=f"{self.what}: {key}" if self.what else key.replace("_", " ")
            )
        if value is not None:
            self.problem(
                key, f'write what the tape may be out by, one standard deviation, such as {key} = "±0.4 %"'
            )
        return None

    def table_of(self, key: str, what: str = "") -> Cursor | None:
        """Return a cursor on a table inside this one, or None."""
        value = self.raw(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.problem(key, f"must be a table: {key} = {{ ... }} in braces, or under its own heading")
            return None
        return Cursor(value, (*self.path, key), self.notes, what or self.what)

    def finish(self) -> None:
        """Note every key that nobody asked for, with the nearest one that exists."""
        known = tuple(dict.fromkeys(self._asked))
        for key in self.table:
            if key not in known:
                self.problem(key, f"there is no such key here{_nearest(key, known) or _listed(known)}")


def _nearest(word: str, choices: tuple[str, ...]) -> str:
    close = get_close_matches(word, choices, n=1, cutoff=0.6)
    return f'; did you mean "{close[0]}"?' if close else ""


def _listed(known: tuple[str, ...]) -> str:
    return "; the keys are " + ", ".join(known)
