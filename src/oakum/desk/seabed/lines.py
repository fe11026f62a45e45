"""A reading from one line of a notebook page, typed as it stands there by a cold person.

Understood are "A1 B2 12.34", "12,34 a1-b2", "A1 to B2 = 40 ft 6 in", "B2 d 13.2 10:42", "A1 B2 level -0.12",
"A1 B2 bearing 123", with the tape or gauge at the end, and a remark after "#" or in brackets.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from oakum.desk.seabed.proposals import ProposedReading, Remark
from oakum.desk.seabed.typed import Slate, proposed
from oakum.ground.quantities import QuantityError, read
from oakum.seabed.network.names import spelling

_WORDS = {
    "tape": ("tape", "dist", "distance"),
    "depth": ("d", "dep", "depth"),
    "level": ("lvl", "level", "rise", "dz"),
    "bearing": ("brg", "bearing", "compass", "mag"),
}
_OF_WORD = {word: what for what, words in _WORDS.items() for word in words}
_REMARK = re.compile(r"\s*(?:#|//)\s*(.*)$|\s*\(([^()]*)\)\s*$")
_TIME = re.compile(r"(?<![\d.,])(\d{1,2}:\d{2})(?![\d:])")
_JOINTS = re.compile(r"\s*(?:->|→|=|:|\s-\s|\sto\s|\s–\s|,(?=\s))\s*", re.IGNORECASE)
_EXPECTED = "write two marks and a length, as A1 B2 12.34, or a mark, d and a depth, as B2 d 13.2"


def read_lines(
    text: str, slate: Slate, *, known: Collection[str] = (), instruments: Collection[str] = ()
) -> tuple[ProposedReading, ...]:
    """Read a page line by line; empty lines and lines that only hold a remark are passed over."""
    found = []
    for row, line in enumerate(text.splitlines(), start=1):
        if line.strip() and not line.strip().startswith(("#", "//")):
            found.append(read_line(line, slate, row=row, known=known, instruments=instruments))
    return tuple(found)


def read_line(
    line: str,
    slate: Slate,
    *,
    row: int = 1,
    known: Collection[str] = (),
    instruments: Collection[str] = (),
) -> ProposedReading:
    """Read one line. `known` are the names of marks there are: they tell where a name with spaces ends."""
    rest, remark = _without_remark(line.strip())
    rest, time = _without_time(rest)
    rest, what = _without_word(rest, known)
    rest, instrument = _without_instrument(rest, instruments)
    wanted = 1 if what == "depth" else 2
    for value, names in _cuts(rest, "angle" if what == "bearing" else "length"):
        marks = _marks(names, wanted, known)
        if marks is not None:
            keys = ("mark",) if what == "depth" else ("from", "to")
            typed = dict(zip(keys, marks, strict=True)) | {"value": value, "with": instrument, "note": remark}
            if what == "depth":
                typed["time"] = time
            found = proposed(what, typed, slate, row=row, text=line)
            if time and what != "depth":
                found = replace(found, seen=slate.seen(time))
            return found
    fault = Remark("", _why_not(rest, what))
    return ProposedReading(row, line.strip(), what, (), {}, faults=(fault,))


def _without_remark(line: str) -> tuple[str, str]:
    found = _REMARK.search(line)
    return (line[: found.start()], (found[1] or found[2] or "").strip()) if found else (line, "")


def _without_time(line: str) -> tuple[str, str]:
    found = _TIME.search(line)
    return (line[: found.start()] + " " + line[found.end() :], found[1]) if found else (line, "")


def _without_word(line: str, known: Collection[str]) -> tuple[str, str]:
    """Take out the word that says what kind of reading it is; without one it is a tape."""
    words = line.split()
    for at, word in enumerate(words):
        what = _OF_WORD.get(word.casefold().rstrip(":."))
        if what is not None and word not in known and word != "D" and len(words) > 2:
            return " ".join(words[:at] + words[at + 1 :]), what
    return " ".join(words), "tape"


def _without_instrument(line: str, instruments: Collection[str]) -> tuple[str, str]:
    """Take a known tape, gauge or compass off the end, or off the beginning."""
    for name in sorted(instruments, key=len, reverse=True):
        low, key = line.casefold(), name.casefold()
        if low.endswith(f" {key}"):
            return line[: -len(key)].strip(), name
        if low.startswith((f"{key}:", f"{key} :")):
            return line[len(key) :].lstrip(" :"), name
    return line, ""


def _cuts(line: str, dimension: str) -> Iterator[tuple[str, str]]:
    """Every way to cut a number off the end, the longest first, then off the beginning: (number, the rest)."""
    words = _JOINTS.sub(lambda joint: " , ", line).split()
    for at in range(1, len(words)):
        if _is_number(value := " ".join(words[at:]).strip(" ,"), dimension):
            yield value, " ".join(words[:at])
    for at in range(len(words) - 1, 0, -1):
        if _is_number(value := " ".join(words[:at]).strip(" ,"), dimension):
            yield value, " ".join(words[at:])


def _is_number(text: str, dimension: str) -> bool:
    """Whether this can be meant as a number, be it one that is refused (12,345)."""
    if re.fullmatch(r"[+-]?\d{1,3},\d{3}", text):
        return True
    try:
        read(text, dimension, unit="deg" if dimension == "angle" else "m", signed=True)
    except QuantityError:
        return False
    return True


def _marks(text: str, wanted: int, known: Collection[str]) -> tuple[str, ...] | None:
    """The names of marks in a piece of text, or None where it does not hold as many."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if wanted == 1:
        return (" ".join(parts),) if len(parts) == 1 and _is_name(parts[0], known) else None
    if len(parts) == 2:
        return (parts[0], parts[1])
    if len(parts) != 1:
        return None
    words = parts[0].split()
    if len(words) == 2:
        return (words[0], words[1])
    if len(words) == 1:
        return _hyphened(words[0], known)
    return _parted(words, known)


def _is_name(text: str, known: Collection[str]) -> bool:
    """One mark: a single word, a letter with its number apart, or a name that is known."""
    words = text.split()
    return len(words) == 1 or _is_known(text, known) or _letter_and_number(words)


def _is_known(text: str, known: Collection[str]) -> bool:
    return text in known or spelling(text) in {spelling(name) for name in known}


def _letter_and_number(words: Sequence[str]) -> bool:
    return len(words) == 2 and words[0].isalpha() and words[1].isdigit()


def _hyphened(word: str, known: Collection[str]) -> tuple[str, str] | None:
    """Two names joined by a hyphen or a stroke: "a1-b2", and "A-1-B-2" where the middle one joins them."""
    places = [at for at, sign in enumerate(word) if sign in "-–/>" and 0 < at < len(word) - 1]
    pairs = [(word[:at], word[at + 1 :]) for at in places]
    fitting = [pair for pair in pairs if all(_is_known(name, known) for name in pair)]
    if len(fitting) == 1:
        return fitting[0]
    return pairs[len(pairs) // 2] if len(pairs) % 2 else None


def _parted(words: Sequence[str], known: Collection[str]) -> tuple[str, str] | None:
    """Two names of several words: a cut between two known ones, or letters each with its number."""
    cuts = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    fitting = [pair for pair in cuts if all(_is_known(name, known) for name in pair)]
    if len(fitting) == 1:
        return fitting[0]
    names: list[str] = []
    for word in words:
        if names and word.isdigit() and names[-1].isalpha():
            names[-1] = f"{names[-1]} {word}"
        else:
            names.append(word)
    return (names[0], names[1]) if len(names) == 2 else None


def _why_not(line: str, what: str) -> str:
    if not re.search(r"\d", line):
        return f"No number was found; {_EXPECTED}."
    if not any(True for _ in _cuts(line, "angle" if what == "bearing" else "length")):
        return f"No number stands at the beginning or the end; {_EXPECTED}."
    if what == "depth":
        return "One mark was expected beside the depth; write it as B2 d 13.2."
    return f"It does not show two marks; {_EXPECTED}. Put “to” between names that hold spaces or hyphens."
