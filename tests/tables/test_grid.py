"""Sheets as grids."""

from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.tables.grid import cell_text, column_letter, make_grid


def test_a_merged_value_spreads_over_its_range_and_remembers_its_place():
    grid = make_grid("S", [["Slicing", 1], ["", 2], ["", 3]], [((0, 0), (2, 0))])
    assert [row[0] for row in grid.cells] == ["Slicing"] * 3
    assert grid.origins[2][0] == (0, 0)
    assert grid.is_spread(2, 0)
    assert not grid.is_spread(0, 0)


def test_a_value_merged_across_a_row_counts_once():
    grid = make_grid("S", [["A note over all columns", "", ""]], [((0, 0), (0, 2))])
    assert grid.filled(0) == 1


def test_rows_of_different_length_become_a_rectangle():
    assert make_grid("S", [["a"], ["b", "c"]]).cells == (("a", None), ("b", "c"))


def test_a_merged_range_beyond_the_sheet_is_cut():
    assert make_grid("S", [["a"]], [((0, 0), (5, 5))]).cells == (("a",),)


def test_white_space_and_blanks_are_tidied():
    assert make_grid("S", [["  Cold \n store ", "   "]]).cells == (("Cold store", None),)


def test_an_empty_sheet_has_no_width():
    assert make_grid("S", []).width == 0


@pytest.mark.parametrize(("column", "letter"), [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")])
def test_columns_have_the_letters_spreadsheets_give_them(column, letter):
    assert column_letter(column) == letter


@given(st.integers(min_value=0, max_value=20_000))
def test_no_two_columns_share_their_letters(column):
    number = 0
    for letter in column_letter(column):
        number = number * 26 + ord(letter) - ord("A") + 1
    assert number - 1 == column


@pytest.mark.parametrize(
    ("cell", "text"),
    [(12.0, "12"), (12.5, "12.5"), (None, ""), (True, "yes"), (False, "no"), (time(6, 30), "06:30"), ("x", "x")],
)
def test_cells_read_as_a_person_would_read_them(cell, text):
    assert cell_text(cell) == text
