"""Sample numbers: fixed alphabet, check character, nothing told by the number."""

from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.case.numbers import ALPHABET, DIGITS, LETTERS, check_character, read_number, sample_numbers
from swabwright.errors import SwabwrightError

bodies = st.tuples(*[st.sampled_from(DIGITS if place % 2 == 0 else LETTERS) for place in range(6)]).map("".join)


def test_the_alphabet_never_changes():
    assert ALPHABET == "23456789ABCDEFGHJKMNPQRSTUVWXYZ"


@pytest.mark.parametrize(
    # Worked by hand: places of 2A2A2A are 0,8,0,8,0,8; 2x8 + 4x8 + 6x8 = 96; 96 mod 31 = 3; 7 x 4 = 28 = -3 mod 31,
    # so the check is the character at place 4, which is 6. All twos sum to 0: the check is place 0, which is 2.
    ("body", "check"),
    [("2A2A2A", "6"), ("222222", "2")],
)
def test_check_character_by_hand(body, check):
    assert check_character(body) == check


@given(bodies, st.integers(0, 6), st.sampled_from(ALPHABET))
def test_every_single_wrong_character_is_noticed(body, place, wrong):
    number = body + check_character(body)
    spoiled = number[:place] + wrong + number[place + 1 :]
    if spoiled != number:
        with pytest.raises(SwabwrightError, match="check character"):
            read_number(spoiled)


@given(bodies, st.integers(0, 5))
def test_every_swap_of_neighbours_is_noticed(body, place):
    number = body + check_character(body)
    swapped = number[:place] + number[place + 1] + number[place] + number[place + 2 :]
    if swapped != number:
        with pytest.raises(SwabwrightError, match="check character"):
            read_number(swapped)


def test_a_number_may_be_typed_carelessly():
    assert read_number(" 2a2a2a 6") == "2A2A2A-6"


def test_what_is_no_number_is_refused_in_a_sentence():
    with pytest.raises(SwabwrightError, match="not a sample number"):
        read_number("S014")


def test_the_same_case_gives_the_same_numbers_and_no_number_twice():
    first = list(islice(sample_numbers("case", "visit-1", 7, ()), 500))
    assert first == list(islice(sample_numbers("case", "visit-1", 7, ()), 500))
    assert len(set(first)) == 500


def test_numbers_already_used_are_never_given_again():
    used = set(islice(sample_numbers("case", "visit-1", 7, ()), 10))
    assert used.isdisjoint(islice(sample_numbers("case", "visit-1", 7, used), 100))


def test_numbers_do_not_run_in_the_order_they_are_given():
    numbers = list(islice(sample_numbers("case", "visit-1", 7, ()), 50))
    assert numbers != sorted(numbers)
