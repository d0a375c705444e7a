"""Days and hours as plants write them."""

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.plant.imports.hours import WEEK, read_date, read_days, read_time


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("Mon-Fri", ("mon", "tue", "wed", "thu", "fri")),
        ("Monday to Friday", ("mon", "tue", "wed", "thu", "fri")),
        ("Mon \u2013 Wed, Sat", ("mon", "tue", "wed", "sat")),
        ("tue, THU", ("tue", "thu")),
        ("Sat and Sun", ("sat", "sun")),
        ("Fri-Mon", ("mon", "fri", "sat", "sun")),
        ("Wednesday", ("wed",)),
    ],
)
def test_days_are_read_in_the_order_of_the_week(text, days):
    assert read_days(text) == days


@pytest.mark.parametrize("text", ["", "sometimes", "Mon-Someday", "every full moon"])
def test_words_that_are_no_days_give_none(text):
    assert read_days(text) is None


@pytest.mark.parametrize(
    ("cell", "clock"),
    [
        ("6:00", time(6)),
        ("06.30", time(6, 30)),
        ("6h15", time(6, 15)),
        ("14:05:59", time(14, 5)),
        ("6am", time(6)),
        ("12 am", time(0)),
        ("12pm", time(12)),
        ("2:30 PM", time(14, 30)),
        ("24:00", time(0)),
        (time(6, 30, 0, 5), time(6, 30)),
        (datetime(2026, 1, 1, 7, 45), time(7, 45)),  # noqa: DTZ001 cells have no zone
        (timedelta(hours=22), time(22)),
        (0.25, time(6)),
        (14.0, time(14)),
    ],
)
def test_times_are_read_from_text_cells_and_numbers(cell, clock):
    assert read_time(cell) == clock


@pytest.mark.parametrize("cell", [None, "noon-ish", "25:00", "6:75", ""])
def test_what_is_no_time_gives_none(cell):
    assert read_time(cell) is None


@pytest.mark.parametrize("cell", ["2026-03-05", "05.03.2026", "5/3/2026", "5 March 2026", date(2026, 3, 5)])
def test_dates_are_read_day_first(cell):
    assert read_date(cell) == date(2026, 3, 5)


@pytest.mark.parametrize("cell", [None, "soon", "2026-13-01", 5.0])
def test_what_is_no_date_gives_none(cell):
    assert read_date(cell) is None


@given(st.integers(min_value=0, max_value=24 * 60 - 1))
def test_a_share_of_the_day_and_its_clock_time_are_the_same(minute):
    clock = time(minute // 60, minute % 60)
    assert read_time(minute / (24 * 60) or 0.0) == clock
    assert read_time(f"{clock:%H:%M}") == clock


@given(st.sets(st.sampled_from(WEEK), min_size=1))
def test_any_set_of_days_written_out_comes_back(days):
    assert set(read_days(", ".join(days)) or ()) == days
