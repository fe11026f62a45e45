"""Laws of the find numbers, over any prefix and running number."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oakum.record.finds.numbers import (
    ALPHABET,
    Block,
    FindNumber,
    NumberError,
    check_character,
    next_number,
    parse_number,
    refuse_overlap,
)

prefixes = st.from_regex(r"[A-Z][A-Z0-9]{0,7}", fullmatch=True)
numbers = st.builds(FindNumber.of, prefixes, st.integers(1, 999_999_999))
plain = st.text(alphabet=ALPHABET[:36], min_size=1, max_size=20)


@given(numbers)
def test_what_is_written_is_read_again(number):
    assert parse_number(str(number)) == number
    assert parse_number(str(number).lower().replace("-", " ")) == number


@given(plain, st.data())
def test_every_single_wrong_character_is_found(text, data):
    place = data.draw(st.integers(0, len(text) - 1))
    other = data.draw(st.sampled_from([c for c in ALPHABET[:36] if c != text[place]]))
    assert check_character(text[:place] + other + text[place + 1 :]) != check_character(text)


@given(st.text(alphabet=ALPHABET[:36], min_size=2, max_size=20), st.data())
def test_every_swap_of_two_different_neighbours_is_found(text, data):
    place = data.draw(st.integers(0, len(text) - 2))
    swapped = text[:place] + text[place + 1] + text[place] + text[place + 2 :]
    assert (check_character(swapped) == check_character(text)) == (swapped == text)


@given(numbers, st.data())
def test_a_label_with_one_wrong_character_never_passes_as_another_number(number, data):
    written = str(number)
    place = data.draw(st.integers(0, len(written) - 1))
    other = data.draw(st.sampled_from([c for c in ALPHABET if c != written[place]]))
    with pytest.raises(NumberError):
        parse_number(written[:place] + other + written[place + 1 :])


blocks = st.builds(
    lambda station, prefix, first, size: Block(station, prefix, first, first + size),
    st.sampled_from(["hut", "lab", "vessel"]),
    st.sampled_from(["T", "W"]),
    st.integers(1, 60),
    st.integers(0, 30),
)


@given(blocks, blocks)
def test_overlap_is_what_two_sets_of_numbers_have_in_common(one, other):
    shared = one.prefix == other.prefix and bool(
        set(range(one.first, one.last + 1)) & set(range(other.first, other.last + 1))
    )
    assert one.overlaps(other) == other.overlaps(one) == shared
    if shared:
        with pytest.raises(NumberError):
            refuse_overlap(one, [other])
    else:
        refuse_overlap(one, [other])


@given(blocks, st.lists(st.integers(1, 120)))
def test_a_block_never_gives_a_used_number_and_never_one_outside(block, used):
    try:
        number = next_number(block, used)
    except NumberError:
        assert block.last in used
    else:
        assert number in block
        assert number.running not in used
