"""The walk as a table: what was planned comes back from any reader of RFC 4180."""

import csv
from io import StringIO

from builders.papers import plan
from hypothesis import given
from hypothesis import strategies as st

from swabwright.reports.walk_csv import COLUMNS, walk_csv

PLAN = plan()
NAMES = st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=200)


def rows(text):
    return list(csv.DictReader(StringIO(text, newline=""), strict=True))


def named(name):
    first = PLAN.samples[0].model_copy(update={"site_name": name})
    return PLAN.model_copy(update={"samples": (first, *PLAN.samples[1:])})


def test_there_is_a_row_for_every_sample_in_order_of_work():
    shuffled = PLAN.model_copy(update={"samples": PLAN.samples[::-1]})
    assert [int(row["order"]) for row in rows(walk_csv(shuffled))] == list(range(1, 41))


def test_the_header_is_the_published_one():
    assert walk_csv(PLAN).split("\r\n")[0] == ",".join(COLUMNS)


def test_numbers_and_clocks_come_back_as_planned():
    first = rows(walk_csv(PLAN))[0]
    assert first["sample_number"] == PLAN.samples[0].sample_number
    assert first["arrive_at"] == PLAN.samples[0].arrive_at.isoformat()
    assert first["change_first"] == "gloves and sleeves"


def test_a_blank_has_empty_cells_for_its_site():
    blank = next(row for row in rows(walk_csv(PLAN)) if row["kind"] == "blank")
    assert (blank["site"], blank["room"], blank["zone"], blank["area_cm2"]) == ("", "", "", "")


@given(NAMES)
def test_any_name_comes_back_and_none_starts_a_formula(name):
    cell = rows(walk_csv(named(name)))[0]["site_name"]
    assert cell.removeprefix("'") == name.removeprefix("'")
    assert not cell.startswith(("=", "+", "-", "@"))


def test_every_line_ends_in_carriage_return_and_line_feed():
    assert walk_csv(PLAN).count("\r\n") == len(PLAN.samples) + 1
