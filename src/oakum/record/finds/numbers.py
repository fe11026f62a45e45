"""Find numbers: prefix of the project, running number, check character; and blocks of them for stations.

Oakum writes its own numbers as ``T-0001-X``: a person who copies a wet label by hand can make one slip and
the check character tells. The numbers a club gave before are kept exactly as written, carry no check
character and never pass through here.

Source of the check character: ISO/IEC 7064, system MOD 37-2 (one check character out of 0-9, A-Z and ``*``).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from oakum.record.errors import RecordError

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
"""Values 0 to 36 of MOD 37-2; the star is value 36 and only ever a check character."""

LEAST_DIGITS = 4
LARGEST_RUNNING = 999_999_999

_VALUES = {character: value for value, character in enumerate(ALPHABET[:36])}
_DASHES = re.compile(r"[\s\-\u2010-\u2015\u2212_]+")
_PREFIX = re.compile(r"[A-Z][A-Z0-9]{0,7}")
_LOOKALIKE_DIGITS = str.maketrans({"O": "0", "Q": "0", "I": "1", "L": "1"})
_LOOKALIKE_PAIRS = ({"O", "0"}, {"I", "1"})


class NumberError(RecordError, ValueError):
    """A find number or a block that cannot be; the text is a sentence for the user."""


def check_character(text: str) -> str:
    """Check character of `text` (digits and capital letters A-Z) by ISO/IEC 7064 MOD 37-2.

    Finds every single wrong character and every swap of two neighbours. Raises `NumberError` for an empty
    text or a character outside 0-9, A-Z.
    """
    if not text:
        raise NumberError("A check character needs at least one digit or letter before it.")
    total = 0
    try:
        for character in text:
            total = (total + _VALUES[character]) * 2 % 37
    except KeyError:
        raise NumberError(
            f"{character!r} in {text!r} is neither a digit nor a capital letter A to Z; "
            "a check character is made from those only."
        ) from None
    return ALPHABET[(38 - total) % 37]


def check_prefix(prefix: str) -> str:
    """`prefix` itself if it may start a number: a capital letter, then up to seven capitals or digits."""
    if not _PREFIX.fullmatch(prefix):
        raise NumberError(
            f"{prefix!r} cannot start a find number: write one to eight capital letters or digits, "
            "the first a letter, such as T or TOL."
        )
    return prefix


@dataclass(frozen=True, slots=True)
class FindNumber:
    """One of Oakum's own find numbers. Make it with `FindNumber.of`; a wrong `check` raises `NumberError`."""

    prefix: str
    running: int
    check: str

    def __post_init__(self) -> None:
        check_prefix(self.prefix)
        if not 1 <= self.running <= LARGEST_RUNNING:
            raise NumberError(f"A running number is 1 to {LARGEST_RUNNING}, not {self.running}.")
        right = check_character(self.prefix + self.digits)
        if self.check != right:
            raise NumberError(_wrong_check(f"{self.stem}-{self.check}", self.stem, self.check, right))

    @classmethod
    def of(cls, prefix: str, running: int) -> FindNumber:
        """The number of this prefix and running number, its check character worked out."""
        check_prefix(prefix)
        return cls(prefix, running, check_character(prefix + _digits(running)))

    @property
    def digits(self) -> str:
        """Running number with leading zeros to at least four places."""
        return _digits(self.running)

    @property
    def stem(self) -> str:
        """The number without its check character: ``T-0001``."""
        return f"{self.prefix}-{self.digits}"

    def __str__(self) -> str:
        return f"{self.stem}-{self.check}"


def format_number(number: FindNumber) -> str:
    """The number as it is printed and written on a label: ``T-0001-X``."""
    return str(number)


def parse_number(text: str, *, need_check: bool = True) -> FindNumber:
    """Read one of Oakum's own numbers; small letters, spaces and long dashes are taken as meant.

    `need_check=False` also takes ``T-0001``, as people type it into a search field; a check character that is
    given must be right all the same. Raises `NumberError` that says what was expected and, where it can be
    told, what the number should be. A look-alike (letter O for 0, I or L for 1) is named, never silently
    turned.
    """
    parts = [part for part in _DASHES.split(text.strip().upper()) if part]
    if len(parts) not in (2, 3) or not _PREFIX.fullmatch(parts[0]):
        raise NumberError(
            f"{text!r} is not a find number of this program: expected prefix, running number and check "
            "character with hyphens between, such as T-0001-X."
        )
    prefix, digits = parts[0], parts[1]
    if not (digits.isascii() and digits.isdigit()):
        raise NumberError(_no_digits(text, prefix, digits))
    running = int(digits)
    if not 1 <= running <= LARGEST_RUNNING:
        raise NumberError(f"{text!r}: a running number lies between 1 and {LARGEST_RUNNING}.")
    if digits != _digits(running):
        raise NumberError(
            f"{text!r}: the running number is written with {len(_digits(running))} digits, "
            f"{_digits(running)}, not {digits}. Look at the label again: a digit may be missing or doubled."
        )
    number = FindNumber.of(prefix, running)
    if len(parts) == 2:
        if need_check:
            raise NumberError(
                f"{text!r} lacks its check character: copy it from the label. "
                f"If the label has none, the number {number.stem} is written {number}."
            )
        return number
    if parts[2] != number.check:
        raise NumberError(_wrong_check(text, number.stem, parts[2], number.check))
    return number


def _digits(running: int) -> str:
    return f"{running:0{LEAST_DIGITS}d}"


def _wrong_check(text: str, stem: str, given: str, right: str) -> str:
    for pair in _LOOKALIKE_PAIRS:
        if {given, right} == pair:
            return f"{text!r}: the check character of {stem} is the {_name(right)}, not the {_name(given)}."
    return (
        f"{text!r}: the check character does not fit. {stem} ends with {right}, not {given}. "
        "Look at the label again: one of the digits, the prefix or the last character was misread."
    )


def _no_digits(text: str, prefix: str, digits: str) -> str:
    turned = digits.translate(_LOOKALIKE_DIGITS)
    if turned.isascii() and turned.isdigit():
        odd = next(character for character in digits if not character.isdigit())
        return (
            f"{text!r}: the letter {odd} stands where only digits can be. "
            f"If the {_name(odd.translate(_LOOKALIKE_DIGITS))} is meant, write {prefix}-{turned}."
        )
    return f"{text!r}: the running number {digits!r} must be digits only, such as 0001."


def _name(character: str) -> str:
    if character.isdigit():
        return f"digit {character}"
    return "star *" if character == "*" else f"letter {character}"


@dataclass(frozen=True, slots=True)
class Block:
    """Running numbers `first` to `last` (both included) of one prefix, given to one station to hand out."""

    station: str
    prefix: str
    first: int
    last: int

    def __post_init__(self) -> None:
        check_prefix(self.prefix)
        if not self.station.strip():
            raise NumberError("A block of numbers belongs to a station: give the name of the station.")
        if not 1 <= self.first <= self.last <= LARGEST_RUNNING:
            raise NumberError(
                f"A block goes from its first to its last number, 1 to {LARGEST_RUNNING}; "
                f"{self.first} to {self.last} is none."
            )

    def __contains__(self, number: FindNumber) -> bool:
        return number.prefix == self.prefix and self.first <= number.running <= self.last

    @property
    def size(self) -> int:
        """How many numbers the block holds."""
        return self.last - self.first + 1

    def overlaps(self, other: Block) -> bool:
        """Whether some number would lie in both blocks, whoever holds them."""
        return self.prefix == other.prefix and self.first <= other.last and other.first <= self.last

    def words(self) -> str:
        """The block as a person reads it: ``T-0001 to T-0500 (station hut)``."""
        first, last = (f"{self.prefix}-{_digits(end)}" for end in (self.first, self.last))
        return f"{first} to {last} (station {self.station})"


def refuse_overlap(new: Block, given: Iterable[Block]) -> None:
    """Raise `NumberError` if a number of `new` was already given away in a block of `given`."""
    clashes = [block for block in given if block.overlaps(new)]
    if clashes:
        free = max(block.last for block in clashes) + 1
        raise NumberError(
            f"The block {new.words()} overlaps {clashes[0].words()}: no number may be given twice. "
            f"Start the new block at {new.prefix}-{_digits(free)} or later."
        )


def number_after(block: Block, highest: int | None) -> FindNumber:
    """The number after `highest`, the greatest running number of the block used so far (None: none yet).

    Gaps stay gaps: a number that is missing in the book may stand on a label that was lost in the water.
    Raises `NumberError` when the block is used up.
    """
    running = block.first if highest is None else max(block.first, highest + 1)
    if running > block.last:
        raise NumberError(
            f"The block {block.words()} is used up. Give this station a new block of {block.prefix} numbers "
            f"before the next find is entered."
        )
    return FindNumber.of(block.prefix, running)


def next_number(block: Block, used: Iterable[int]) -> FindNumber:
    """The number of `block` after every running number of it in `used` (others in `used` do not matter)."""
    return number_after(block, max((n for n in used if block.first <= n <= block.last), default=None))
