"""Find numbers and blocks: what is read, what is refused, and what the refusal says."""

from __future__ import annotations

import pytest

from oakum.record.finds.numbers import (
    Block,
    FindNumber,
    NumberError,
    format_number,
    next_number,
    number_after,
    parse_number,
    refuse_overlap,
)


def test_a_number_is_written_with_prefix_four_digits_and_check():
    assert format_number(FindNumber.of("T", 1)) == "T-0001-X"
    assert str(FindNumber.of("TOL", 12345)).startswith("TOL-12345-")


@pytest.mark.parametrize("typed", ["T-0001-X", "t-0001-x", " T 0001 X ", "T\u20130001\u2013X", "t_0001_x"])
def test_hasty_writing_is_taken_as_meant(typed):
    assert parse_number(typed) == FindNumber.of("T", 1)


def test_a_prefix_may_hold_digits():
    assert str(parse_number("WK26-0001-" + FindNumber.of("WK26", 1).check)).startswith("WK26-0001-")


def test_a_wrong_check_character_is_told_what_it_should_be():
    with pytest.raises(NumberError, match=r"T-0001 ends with X, not K"):
        parse_number("T-0001-K")
    with pytest.raises(NumberError, match="ends with X, not K"):
        FindNumber("T", 1, "K")


def test_the_number_without_check_is_for_searching_only():
    with pytest.raises(NumberError, match=r"lacks its check character.*T-0001-X"):
        parse_number("T-0001")
    assert parse_number("T-0001", need_check=False) == FindNumber.of("T", 1)
    with pytest.raises(NumberError, match="ends with X"):
        parse_number("T-0001-K", need_check=False)


@pytest.mark.parametrize(
    ("typed", "letter", "meant"), [("T-OOO1-X", "letter O", "T-0001"), ("T-00I2-X", "letter I", "T-0012")]
)
def test_a_letter_among_the_digits_is_named_and_not_turned_silently(typed, letter, meant):
    with pytest.raises(NumberError) as refusal:
        parse_number(typed)
    assert letter in str(refusal.value)
    assert meant in str(refusal.value)


def test_letter_o_and_digit_0_are_told_apart_in_the_check_character():
    zero = next(n for n in (FindNumber.of("T", r) for r in range(1, 999)) if n.check == "0")
    letter = next(n for n in (FindNumber.of("T", r) for r in range(1, 999)) if n.check == "O")
    with pytest.raises(NumberError, match="is the digit 0, not the letter O"):
        parse_number(f"{zero.stem}-O")
    with pytest.raises(NumberError, match="is the letter O, not the digit 0"):
        parse_number(f"{letter.stem}-0")


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("", "expected prefix, running number and check"),
        ("14", "expected prefix, running number and check"),
        ("TOL/98/014", "expected prefix, running number and check"),
        ("T-0001-X-9", "expected prefix, running number and check"),
        ("7-0001-X", "expected prefix, running number and check"),
        ("T-12-X", "written with 4 digits"),
        ("T-00012-X", "written with 4 digits"),
        ("T-0000-X", "between 1 and"),
        ("T-12A4-X", "must be digits only"),
        ("T-\u0661\u0662\u0663\u0664-X", "must be digits only"),
    ],
)
def test_what_is_no_number_is_refused_with_what_was_expected(typed, told):
    with pytest.raises(NumberError, match=told):
        parse_number(typed)


@pytest.mark.parametrize("prefix", ["", "t", "1T", "TOLMARREN", "T-", "É"])
def test_a_prefix_is_one_to_eight_capitals_or_digits(prefix):
    with pytest.raises(NumberError, match="one to eight capital letters"):
        FindNumber.of(prefix, 1)


def test_numbers_of_a_block_run_upward_and_gaps_stay_gaps():
    block = Block("hut", "T", 1, 500)
    assert next_number(block, []).running == 1
    assert next_number(block, [1, 2, 7]).running == 8
    assert next_number(Block("lab", "T", 501, 600), [1, 2, 7]).running == 501
    assert number_after(block, 499) == FindNumber.of("T", 500)


def test_a_used_up_block_says_which_and_what_to_do():
    with pytest.raises(NumberError, match=r"T-0001 to T-0003 \(station hut\) is used up.*new block of T"):
        next_number(Block("hut", "T", 1, 3), [3])


def test_no_number_lies_in_two_blocks():
    hut = Block("hut", "T", 1, 500)
    refuse_overlap(Block("lab", "T", 501, 900), [hut])
    refuse_overlap(Block("lab", "W", 1, 500), [hut])
    with pytest.raises(NumberError, match=r"overlaps T-0001 to T-0500 \(station hut\).*T-0501 or later"):
        refuse_overlap(Block("lab", "T", 500, 900), [hut])
    with pytest.raises(NumberError, match="may be given twice"):
        refuse_overlap(Block("hut", "T", 10, 20), [hut])


@pytest.mark.parametrize(("first", "last"), [(0, 5), (5, 4), (1, 10**9)])
def test_a_block_that_is_none_is_refused(first, last):
    with pytest.raises(NumberError, match="A block goes from its first to its last number"):
        Block("hut", "T", first, last)


def test_a_block_needs_a_station():
    with pytest.raises(NumberError, match="belongs to a station"):
        Block(" ", "T", 1, 5)


def test_a_block_knows_its_numbers():
    block = Block("hut", "T", 10, 19)
    assert block.size == 10
    assert FindNumber.of("T", 19) in block
    assert FindNumber.of("T", 20) not in block
    assert FindNumber.of("W", 12) not in block
