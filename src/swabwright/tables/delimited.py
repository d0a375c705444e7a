"""CSV as people save it: encoding and delimiter guessed from the bytes themselves."""

import csv
from collections import Counter
from io import StringIO

DELIMITERS = (";", "\t", ",", "|")
MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
"""Bytes that open a text file and tell its encoding (Unicode Standard 23.8)."""


def read_delimited(content: bytes) -> list[list[str]]:
    """The rows of a CSV file; every cell is text."""
    text = decode(content)
    return list(csv.reader(StringIO(text, newline=""), delimiter=guess_delimiter(text)))


def decode(content: bytes) -> str:
    """The text of a file: by its byte-order mark, else UTF-8, else the western Windows code page."""
    for mark, encoding in MARKS:
        if content.startswith(mark):
            return content.decode(encoding)
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def guess_delimiter(text: str) -> str:
    """The delimiter by which most lines fall into the same number of cells, more than one."""
    return max(DELIMITERS, key=lambda delimiter: _agreement(text, delimiter))


def _agreement(text: str, delimiter: str) -> tuple[int, int]:
    """How many rows share the commonest width above one, and that width."""
    rows = csv.reader(StringIO(text, newline=""), delimiter=delimiter)
    # Lines of one cell are titles and notes; they would vote for any delimiter.
    widths = Counter(len(row) for row in rows if len(row) > 1)
    if not widths:
        return (0, 0)
    width, rows_with_it = widths.most_common(1)[0]
    return (rows_with_it, width)
