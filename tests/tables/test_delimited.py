"""CSV files as people save them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.tables.delimited import decode, guess_delimiter, read_delimited

ROWS = [["Code", "Room"], ["S1", "Kühlraum"], ["S2", "Räucherei"]]
WORDS = st.text("abcdefgh ", min_size=1, max_size=8).filter(str.strip)


def _written(delimiter):
    return "\r\n".join(delimiter.join(row) for row in ROWS)


@pytest.mark.parametrize("delimiter", [";", ",", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_any_delimiter_in_any_encoding_gives_the_same_rows(delimiter, encoding):
    assert read_delimited(_written(delimiter).encode(encoding)) == ROWS


def test_decimal_commas_do_not_make_a_comma_the_delimiter():
    assert guess_delimiter("Code;Area\nS1;1,5\nS2;2,5\nS3;3,5") == ";"


def test_title_lines_without_delimiter_do_not_matter():
    assert guess_delimiter("Our site list, 2026\n\nCode;Room;Zone\nS1;Slicing;3") == ";"


def test_quoted_cells_keep_their_delimiters_and_line_ends():
    assert read_delimited(b'a,b\n"x, y","1\n2"\n')[1] == ["x, y", "1\n2"]


def test_a_byte_that_no_encoding_has_does_not_stop_the_reading():
    assert decode(b"S1;\x81drain").startswith("S1;")


@given(st.lists(st.tuples(WORDS, WORDS, WORDS), min_size=2, max_size=8), st.sampled_from([";", "\t", ",", "|"]))
def test_tables_of_plain_words_come_back_cell_by_cell(rows, delimiter):
    text = "\n".join(delimiter.join(row) for row in rows)
    assert read_delimited(text.encode()) == [list(row) for row in rows]
