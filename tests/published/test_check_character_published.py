"""The check character against values published by others.

Sources and marks:
- `read`: UK blood services guidelines ("Red Book"), annex on the ISBT 128 check character, worked example
  G123 498 654 321 -> H, with its weighted sum 148354 and remainder 21.
- `read`: doctest of the general library python-stdnum, module iso7064.mod_37_2: G123489654321 -> Y.
- `read`: tests of two more open-source ISO 7064 libraries: A999915000001 -> M and the two texts of 44 and 45
  characters; A999914123456 -> N, A999922654321 -> S, A999522123456 -> *, ZZZZ -> O.
- `own calculation`: WK260001, WK260010, KW260001, WK261234, F0420.
"""

from __future__ import annotations

import pytest

from oakum.record.finds.numbers import ALPHABET, check_character


@pytest.mark.parametrize(
    ("text", "check"),
    [
        ("G123498654321", "H"),
        ("G123489654321", "Y"),
        ("A999915000001", "M"),
        ("LMOSBYFCTRSSJCB3X6U9DUBLKNIH03FO6X963TGXYAHG", "*"),
        ("G7N286AL39FFQNU6BH8SMJB5VGMBCB6WPGMWJK800VU7K", "P"),
        ("A999914123456", "N"),
        ("A999922654321", "S"),
        ("A999522123456", "*"),
        ("ZZZZ", "O"),
        ("WK260001", "R"),
        ("WK260010", "P"),
        ("KW260001", "9"),
        ("WK261234", "E"),
        ("F0420", "*"),
    ],
)
def test_check_character_of_published_numbers(text, check):
    assert check_character(text) == check


def test_the_worked_example_by_weighted_sum_gives_the_printed_sum_and_the_same_character():
    text = "G123498654321"
    total = sum(ALPHABET.index(c) * 2 ** (len(text) - place) for place, c in enumerate(text))
    assert total == 148354
    assert total % 37 == 21
    assert ALPHABET[(38 - total % 37) % 37] == check_character(text) == "H"
