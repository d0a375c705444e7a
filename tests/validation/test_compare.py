"""When a published figure fits, and how the page says so."""

import pytest
from validation.compare import Comparison
from validation.tables import in_100, table


def row(published, **changes):
    usual = {"id": "a", "kind": "share", "what": "invented", "sites": "drain", "counted": "1 of 2"}
    return Comparison(**{**usual, "published": published, "low": 0.1, "middle": 0.2, "high": 0.3, **changes})


@pytest.mark.parametrize(
    ("one", "fits", "support"),
    [
        (row(0.1), True, "in the range"),
        (row(0.3), True, "in the range"),
        (row(0.31), False, "predicted lower"),
        (row(0.05, far=True), False, "predicted higher, far outside"),
        (row(0.9, ceiling=True), True, "below it, as it must be"),
        (row(0.05, ceiling=True), False, "predicted higher"),
        (row(2.0, low=0.5, high=4.0, overall=1.5), True, "in the range"),
        (row(2.0, low=0.5, high=4.0, overall=0.9), False, "in the range, but over all plants the other way"),
        (row(5.0, low=0.5, high=4.0, overall=0.9), False, "the other way"),
    ],
)
def test_a_row_fits_where_its_range_and_its_direction_say_so(one, fits, support):
    assert (one.fits, one.support) == (fits, support)


def test_a_bar_in_a_cell_does_not_end_it():
    assert table(("a", "b"), [("one | two", "3")]).splitlines()[-1] == "| one / two | 3 |"


def test_a_share_is_said_in_100():
    assert in_100(0.0256) == "2.6"
