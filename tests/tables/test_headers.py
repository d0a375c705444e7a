"""Where a table's header stands and what its columns are."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.tables.fields import Field, TableFields, words_of
from swabwright.tables.grid import make_grid
from swabwright.tables.guesses import Corrections
from swabwright.tables.headers import find_header

SITES = TableFields(
    "sites",
    (
        Field("code", ("code", "site code", "swab point"), key=True),
        Field("name", ("name", "site name", "description")),
        Field("room", ("room", "area", "department")),
        Field("zone", ("zone", "hygiene zone")),
        Field("area", ("area", "swabbed area", "surface area"), "area_cm2"),
    ),
    76.0,
)
DATA = [["S1", "Drain", "Slicing", 3.0, 100.0], ["S2", "Belt", "Packing", 1.0, 200.0]]


def _header(rows, spans=(), corrections=None):
    return find_header(make_grid("Sites", rows, spans), SITES, corrections or Corrections())


def _fields(header):
    return {guess.field: guess.letter for guess in header.guesses}


PLAIN = ["Code", "Name", "Room", "Zone", "Area (cm2)"]
ALL = {"code": "A", "name": "B", "room": "C", "zone": "D", "area": "E"}


def test_a_plain_header_is_found_with_every_field():
    header = _header([PLAIN, *DATA])
    assert (header.row, header.rows, _fields(header)) == (0, 1, ALL)


@pytest.mark.parametrize("rows_above", [1, 2, 5])
def test_title_rows_above_the_header_do_not_hide_it(rows_above):
    titles = [["Environmental sites", "", "", "", ""]] * rows_above
    assert _header([*titles, PLAIN, *DATA]).row == rows_above


@pytest.mark.parametrize(
    "words",
    [
        ["SWAB POINT", "Description", "Department", "Hygiene Zone", "Swabbed area [cm²]"],
        ["Site-code", "Site name", "room", "ZONE", "surface area, cm2"],
        ["Cod", "Descripton", "Rooms", "Zones", "Area cm2"],
    ],
)
def test_headers_are_known_by_their_synonyms_and_through_misspelling(words):
    assert _fields(_header([words, *DATA])) == ALL


def test_one_word_for_two_fields_is_settled_by_the_numbers_below():
    header = _header([["Code", "Area"], ["S1", "Slicing"], ["S2", "Packing"]])
    assert _fields(header) == {"code": "A", "room": "B"}
    header = _header([["Code", "Area"], ["S1", "100 cm2"], ["S2", "2 m2"]])
    assert _fields(header) == {"code": "A", "area": "B"}


def test_a_unit_in_the_header_settles_which_field_it_is():
    guesses = _header([["Code", "Area", "Area (cm2)"], ["S1", "Slicing", 5.0]]).guesses
    assert [(guess.field, guess.unit) for guess in guesses] == [("code", None), ("room", None), ("area", "cm2")]


def test_two_header_rows_are_read_together():
    upper = ["Site", "Site", "Where", "Where", "Area"]
    lower = ["Code", "Name", "Room", "Zone", "(cm2)"]
    header = _header([upper, lower, *DATA])
    assert (header.row, header.rows, _fields(header)) == (0, 2, ALL)


def test_cells_merged_downwards_tie_two_rows_into_one_header():
    upper = ["Code", "Name", "Where", "", "Area (cm2)"]
    lower = ["", "", "Room", "Zone", ""]
    spans = [((0, 0), (1, 0)), ((0, 1), (1, 1)), ((0, 2), (0, 3)), ((0, 4), (1, 4))]
    header = _header([upper, lower, *DATA], spans)
    assert (header.rows, _fields(header)) == (2, ALL)


def test_a_row_of_units_below_the_header_belongs_to_it():
    header = _header([["Code", "Name", "Room", "Zone", "Area"], ["", "", "", "", "cm2"], *DATA])
    assert (header.rows, header.guesses[-1].unit) == (2, "cm2")


def test_no_field_is_given_to_two_columns():
    header = _header([["Code", "Room", "Room"], ["S1", "a", "b"]])
    assert _fields(header) == {"code": "A", "room": "B"}


def test_a_sheet_without_header_has_none():
    assert _header([["1", "2"], ["3", "4"]]) is None
    assert _header([]) is None


def test_a_mapping_can_name_the_header_row_and_a_column_by_letter_or_words():
    rows = [["x", "y", "z"], ["Nr", "Where", "Sector"], ["S1", "Drain", "Slicing"]]
    said = Corrections(header_row=2, columns={"code": "column A", "name": "where", "room": "Column C"})
    header = _header(rows, corrections=said)
    assert _fields(header) == {"code": "A", "name": "B", "room": "C"}
    assert all(guess.corrected for guess in header.guesses)


def test_a_column_the_mapping_ignores_is_given_to_no_field():
    said = Corrections(header_row=1, ignore=("Zone",))
    assert "zone" not in _fields(_header([PLAIN, *DATA], corrections=said))


@pytest.mark.parametrize(
    ("columns", "words"),
    [({"code": "Codd"}, "did you mean 'Code'"), ({"cod": "Code"}, "did you mean 'code'")],
)
def test_a_mapping_that_names_nothing_is_refused_with_a_hint(columns, words):
    with pytest.raises(SwabwrightError, match=words):
        _header([PLAIN, *DATA], corrections=Corrections(header_row=1, columns=columns))


def test_a_guess_says_its_column_header_score_and_unit():
    assert str(_header([PLAIN, *DATA]).guesses[-1]) == "column E 'Area' is area, in cm2 (score 100)"


@given(st.permutations(range(5)))
def test_the_order_of_columns_changes_nothing(order):
    rows = [[row[column] for column in order] for row in [PLAIN, *DATA]]
    found = {guess.field: guess.header for guess in _header(rows).guesses}
    assert found == {"code": "Code", "name": "Name", "room": "Room", "zone": "Zone", "area": "Area"}


def test_words_of_a_header_are_lower_case_without_marks_and_figures():
    assert words_of("Zone (1-4), HYGIENE") == ("zone", "hygiene")
