"""Numbers as people type them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.tables.numbers import read_number

AMOUNTS = st.decimals(min_value=0, max_value=999_999, places=2, allow_nan=False)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", 12.0),
        ("1,5", 1.5),
        ("1.5", 1.5),
        ("-18", -18.0),
        ("1 250", 1250.0),
        ("1\u00a0250", 1250.0),
        ("1.250,5", 1250.5),
        ("1,250.5", 1250.5),
        ("1'250", 1250.0),
        ("1.250.000", 1_250_000.0),
        ("0,250", 0.25),
        ("0.250", 0.25),
    ],
)
def test_numbers_are_read_in_every_manner_of_writing(text, value):
    assert read_number(text).value == value


@pytest.mark.parametrize("text", ["1,250", "12.500"])
def test_a_mark_before_three_figures_is_a_thousands_mark_with_a_doubt(text):
    reading = read_number(text)
    assert reading.value >= 1250
    assert "decimal mark" in str(reading.doubt)


@pytest.mark.parametrize("text", ["1,5", "1 250", "1.250,5", "0,250", "1.250.000"])
def test_a_number_that_can_be_read_one_way_only_carries_no_doubt(text):
    assert read_number(text).doubt is None


@pytest.mark.parametrize("text", ["", "twelve", "1,2,3.4.5x", "--3"])
def test_what_is_no_number_is_refused(text):
    with pytest.raises(ValueError, match=r".*"):
        read_number(text)


@given(AMOUNTS)
def test_english_and_continental_spelling_give_the_same_number(amount):
    english = f"{amount:,.2f}"
    continental = english.translate(str.maketrans(",.", ".,"))
    assert read_number(english).value == read_number(continental).value == pytest.approx(float(amount))


@given(st.integers(min_value=0, max_value=10_000_000))
def test_whole_numbers_come_back_whatever_parts_their_thousands(number):
    spaced = f"{number:,}".replace(",", " ")
    assert read_number(spaced).value == number
    assert read_number(str(number)).value == number
