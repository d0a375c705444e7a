"""When things last began and ended, seen from a moment of the walk; and how facts are put into words."""

from datetime import UTC, datetime, time

import pytest
from builders.floors import plant, rectangle, room
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.planning.cautions_facts import LONGEST, fact_warning
from swabwright.planning.cautions_times import last_before, last_full_clean, local
from swabwright.plant.lines import Cleaning, Line
from swabwright.plant.times import Period

LAW = settings(deadline=None, derandomize=True, max_examples=60)
NOON = datetime(2026, 3, 4, 12, tzinfo=UTC)
ALL_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def period(start, end, days=ALL_DAYS):
    return Period(days=days, starts_at=start, ends_at=end)


def hall(**more):
    return plant((room("hall", rectangle(0.0, 0.0, 9.0, 9.0)),), **({"timezone": "UTC"} | more))


def line():
    return Line(
        id="line-a",
        name="Line A",
        product="Trout",
        path=((1.0, 1.0), (8.0, 1.0)),
        kg_per_hour=10.0,
        raw_material_may_carry=False,
        runs=(period(time(6), time(14)),),
    )


def cleaning(kind="full", **more):
    fields = {"when": (period(time(18), time(20)),), "lines": ("line-a",), "chemistry": "quat_normal"} | more
    return Cleaning(id="c", name="C", kind=kind, **fields)


def test_hours_that_have_begun_today_are_the_last():
    assert last_before((period(time(6), time(14)),), hall(), NOON)[0].hour == 6


def test_hours_that_begin_later_today_were_last_begun_yesterday():
    assert last_before((period(time(15), time(16)),), hall(), NOON)[0].day == 3


def test_hours_past_midnight_end_on_the_next_day():
    start, end = last_before((period(time(22), time(5)),), hall(), NOON)
    assert (start.day, end.day) == (3, 4)


def test_hours_of_a_weekday_are_found_days_back():
    # 4 March 2026 is a Wednesday; the Friday before is 27 February
    assert last_before((period(time(6), time(14), ("fri",)),), hall(), NOON)[0].day == 27


def test_hours_that_never_come_are_none():
    assert last_before((), hall(), NOON) is None


@LAW
@given(st.integers(0, 23), st.integers(0, 23), st.integers(0, 23))
def test_what_was_last_had_begun(start, end, hour):
    moment = NOON.replace(hour=hour)
    found = last_before((period(time(start), time(end, 30)),), hall(), moment)
    assert found is not None
    assert found[0] <= moment


def test_moments_are_told_on_the_plants_own_clock():
    assert local(NOON, hall(timezone="America/Chicago")).hour == 6


@pytest.mark.parametrize(("kind", "day"), [("full", 3), ("rinse", None)])
def test_only_a_full_clean_of_the_line_counts(kind, day):
    found = last_full_clean(line(), hall(lines=(line(),), cleanings=(cleaning(kind),)), NOON)
    assert (found.day if found else None) == day


def test_a_clean_of_another_line_does_not_count():
    other = cleaning(lines=("line-b",))
    assert last_full_clean(line(), hall(cleanings=(other,)), NOON) is None


def test_a_fact_is_said_in_the_words_of_the_data_file():
    warning = fact_warning("transport_temperature", ["A", "B", "A"], temperature=12.0, low=2.0, high=8.0)
    assert warning.text.startswith("Transport at 12 °C lies outside the rulebook's 2 to 8 °C")
    assert warning.sites == ("A", "B")


@LAW
@given(st.integers(1, 400))
def test_a_long_list_of_lots_is_cut_between_lots(count):
    lots = ", ".join(f"L{n:04d}" for n in range(count))
    text = fact_warning("hold", site="A", time="09:30", at_stake=lots).text
    assert len(text) <= LONGEST
    assert text.endswith((f"L{count - 1:04d}.", " ..."))
