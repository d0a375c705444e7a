"""Rows of a table, and everything that is put aside with its reason."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.tables.fields import Field, TableFields
from swabwright.tables.grid import cell_text, make_grid
from swabwright.tables.table import read_table

FIELDS = TableFields(
    "sites",
    (
        Field("code", ("code",), key=True),
        Field("room", ("room",)),
        Field("area", ("area", "surface area"), "area_cm2"),
    ),
    76.0,
)
HEADER = ["Code", "Room", "Area (cm2)"]


def _table(rows, spans=()):
    return read_table(make_grid("Sites", rows, spans), FIELDS)


def _reasons(table):
    return {each.where.rpartition(", ")[2]: each.reason for each in table.set_aside}


def test_rows_carry_their_number_and_their_cells_by_field():
    table = _table([["Sites"], HEADER, ["S1", "Slicing", 5.0]])
    (row,) = table.rows
    assert (row.number, row.text("code"), row.text("room"), row.quantity("area").value) == (3, "S1", "Slicing", 5.0)
    assert row.where == "sheet 'Sites', row 3"
    assert (table.header_row, table.header_rows) == (2, 1)


def test_a_merged_room_stands_in_every_row_it_covers():
    table = _table([HEADER, ["S1", "Slicing", 1.0], ["S2", "", 2.0], ["S3", "Packing", 3.0]], [((1, 1), (2, 1))])
    assert [row.text("room") for row in table.rows] == ["Slicing", "Slicing", "Packing"]


def test_empty_rows_headings_totals_and_repeated_headers_are_put_aside():
    rows = [HEADER, ["S1", "a", 1.0], [], ["Packing hall"], HEADER, ["Total", "", 1.0], ["S2", "b", 2.0]]
    table = _table(rows)
    assert [row.text("code") for row in table.rows] == ["S1", "S2"]
    assert _reasons(table) == {
        "row 3": "empty row",
        "row 4": "a heading",
        "row 5": "the header repeated",
        "row 6": "a total",
    }


def test_notes_below_the_table_are_held_apart_and_shown_in_full():
    table = _table([HEADER, ["S1", "a", 1.0], [], ["Ask the hygiene lead first."]])
    assert str(table.set_aside[-1]) == "sheet 'Sites', row 4 'Ask the hygiene lead first.': a note below the table"


def test_a_note_merged_over_the_whole_width_is_a_note():
    table = _table([HEADER, ["S1", "a", 1.0], ["Numbers as painted.", "", ""]], [((2, 0), (2, 2))])
    assert _reasons(table)["row 3"] == "a note below the table"
    assert len(table.rows) == 1


def test_a_row_without_its_key_is_put_aside_and_says_so():
    table = _table([HEADER, ["", "Slicing", 5.0], ["S1", "a", 1.0]])
    assert _reasons(table)["row 2"] == "names nothing (Code empty)"


def test_an_empty_row_inside_a_merged_range_is_empty():
    table = _table([HEADER, ["S1", "a", 1.0], ["", "", ""], ["S2", "", 2.0]], [((1, 1), (3, 1))])
    assert _reasons(table)["row 3"] == "empty row"
    assert [row.text("room") for row in table.rows] == ["a", "a"]


def test_columns_without_field_are_listed_with_their_cells_counted():
    table = _table([[*HEADER, "Painted by"], ["S1", "a", 1.0, "Kim"], ["S2", "b", 2.0, ""]])
    assert "column D 'Painted by': no field fits this header (1 cells)" in str(table.set_aside[0])


def test_a_header_that_occurs_twice_is_said_to():
    table = _table([["Code", "Room", "Room"], ["S1", "a", "b"]])
    assert "its header occurs twice" in table.set_aside[0].reason


def test_rows_above_the_header_are_listed():
    table = _table([["Site list", "issue 4"], HEADER, ["S1", "a", 1.0]])
    assert (table.set_aside[0].text, table.set_aside[0].reason) == ("Site list | issue 4", "stands above the header")


def test_a_sheet_without_header_is_refused_with_what_was_looked_for():
    with pytest.raises(SwabwrightError, match=r"no row looks like a header for sites \(looked for code, room, area"):
        _table([["1", "2"], ["3", "4"]])


def test_a_quantity_cell_that_is_empty_is_none():
    (row,) = _table([HEADER, ["S1", "a", ""]]).rows
    assert row.quantity("area") is None


WORDS = st.sampled_from(["", "S1", "S2", "Slicing", "Packing hall", "note: mind the step", "Total", 12.0])


@given(st.lists(st.tuples(WORDS, WORDS, WORDS, WORDS), min_size=1, max_size=12))
def test_no_filled_cell_is_ever_dropped_silently(rows):
    """Each filled cell is in a row under a field, in a row put aside, or in a column put aside."""
    table = _table([[*HEADER, "Extra"], ["S0", "a", 1.0, "e"], *map(list, rows)])
    taken = {row.number for row in table.rows}
    aside = {int(each.where.rpartition("row ")[2]) for each in table.set_aside if ", row " in each.where}
    assert taken.isdisjoint(aside)
    assert taken | aside == set(range(2, len(rows) + 3))
    fields = {guess.letter for guess in table.guesses}
    left = {each.where[-1] for each in table.set_aside if ", column " in each.where}
    assert fields | left == {"A", "B", "C", "D"}


@given(st.lists(st.tuples(WORDS, WORDS), min_size=1, max_size=6))
def test_what_is_put_aside_is_shown_word_for_word(rows):
    table = _table([HEADER, ["S0", "a", 1.0], *[[first, second, ""] for first, second in rows]])
    shown = {each.where: each.text for each in table.set_aside}
    for number, row in enumerate(rows, start=3):
        text = shown.get(f"sheet 'Sites', row {number}")
        assert text is None or text == " | ".join(cell_text(cell) for cell in row if cell != "")
