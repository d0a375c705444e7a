"""Slots, running hours, cleanings and occasions follow from the plant's own wall clock."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from builders.plants import BREAK, DAY_SHIFT, EVENING_CLEAN, WORKDAYS, line_a, room, tiny_plant
from builders.spreads import VISIT, setting_of, timeline

from swabwright.case.investigation import EarlierResult, Limits, Visit
from swabwright.errors import SwabwrightError
from swabwright.plant.times import AgreedStop, Period
from swabwright.spread.clock import FIRST_DATE, clock_of
from swabwright.spread.hours import hours_inside, joined, spans_of, without
from swabwright.spread.occasions import earlier_occasions, occasion_of, visit_occasions
from swabwright.spread.schedule import schedule_of

BERLIN = ZoneInfo("Europe/Berlin")
TUESDAY, WEDNESDAY, SUNDAY = date(2026, 3, 3), date(2026, 3, 4), date(2026, 3, 8)


def visit(starts_at, ends_at):
    limits = Limits(samples=10, starts_at=starts_at, ends_at=ends_at, people_per_team=2, laboratory_takes=10)
    return Visit(
        id="visit-1",
        name="Visit 1",
        lead="R. Lead",
        limits=limits,
        medium="de_broth",
        hours_to_laboratory=6.0,
        transport_temperature_c=4.0,
    )


def phases(starts_at, ends_at, plant=None):
    at = [datetime.combine(WEDNESDAY, moment, UTC) for moment in (starts_at, ends_at)]
    return {o.phase: o.at.time() for o in visit_occasions(visit(*at), plant or tiny_plant(), 3.0)}


def test_slots_are_short_near_the_visit_and_a_day_long_far_from_it():
    clock = clock_of(tiny_plant(), timeline(VISIT - timedelta(days=30), VISIT), 12)
    ends = np.cumsum(clock.hours)
    days_before = 42 - (ends - clock.hours) // 24
    assert set(clock.hours[days_before > 14]) == {24.0}
    assert set(clock.hours[(days_before <= 14) & (days_before > 1)]) == {8.0}
    assert set(clock.hours[days_before <= 1]) == {2.0}


def test_a_history_starts_twelve_days_before_the_earliest_thing_that_matters():
    suspected = timeline(implicated_days=(WEDNESDAY - timedelta(days=9),))
    for when, days in ((timeline(), 12), (suspected, 21), (timeline(VISIT - timedelta(days=20), VISIT), 32)):
        first = clock_of(tiny_plant(), when, 12).unit[0] * 2 // 24
        assert FIRST_DATE + timedelta(days=int(first)) == WEDNESDAY - timedelta(days=days)


def test_a_line_runs_its_shift_less_its_break():
    clock = clock_of(tiny_plant(), timeline(), 12)
    line = clock.running[:, clock.clocks.index("line:line-a")]
    tuesday = (clock.unit * 2 // 24) == (TUESDAY - FIRST_DATE).days
    # 6 to 14 h less 9.30 to 10.00: slots from 6, 8, 10 and 12 h run 2, 1.5, 2 and 2 h.
    assert line[tuesday][clock.hours[tuesday] == 2.0].tolist() == [0, 0, 0, 2, 1.5, 2, 2, 0, 0, 0, 0, 0]


def test_nothing_runs_on_a_sunday():
    clock = clock_of(tiny_plant(), timeline(), 12)
    sunday = (clock.unit * 2 // 24) == (SUNDAY - timedelta(days=7) - FIRST_DATE).days
    assert clock.running[sunday].sum() == 0


def test_running_hours_of_a_day_do_not_depend_on_how_it_is_cut():
    fine = clock_of(tiny_plant(), timeline(), 12)
    sums = {
        day: fine.running[(fine.unit * 2 // 24) == (day - FIRST_DATE).days].sum(axis=0)
        for day in (TUESDAY, date(2026, 2, 24))
    }
    np.testing.assert_allclose(*sums.values())


def test_a_room_without_hours_of_its_own_runs_as_the_lines_in_it():
    schedule = schedule_of(tiny_plant(), [TUESDAY])
    assert schedule.running["room:slicing"] == schedule.running["line:line-a"]


def test_a_room_keeps_the_hours_it_says():
    early = Period(days=WORKDAYS, starts_at=time(4), ends_at=time(5))
    rooms = (room("wash", in_use=(early,)), *tiny_plant().rooms[1:])
    (span,) = schedule_of(tiny_plant(rooms=rooms), [TUESDAY]).running["room:wash"]
    assert [moment.hour for moment in span] == [4, 5]


def test_an_agreed_stop_stops_the_line():
    at = [datetime.combine(TUESDAY, time(hour), UTC) for hour in (11, 12)]
    stop = AgreedStop(starts_at=at[0], ends_at=at[1], agreed_by="plant manager")
    schedule = schedule_of(tiny_plant(lines=(line_a(agreed_stops=(stop,)),)), [TUESDAY])
    hours = [hours_inside(schedule.running["line:line-a"], *at)]
    assert hours == [0.0]


def test_a_cleaning_acts_in_the_slot_where_it_ends():
    clock = clock_of(tiny_plant(), timeline(), 12)
    ends = [(int(unit) * 2 % 24, h) for unit, h, c in zip(clock.unit, clock.hours, clock.cleanings, strict=True) if c]
    assert set(ends) == {(16, 8.0), (16, 2.0)}  # ends at 18 h: slots 16 to 24 and 16 to 18


def test_an_occasion_at_the_start_of_a_slot_reads_the_slot_before():
    at_six = datetime.combine(WEDNESDAY, time(6), UTC)
    clock = clock_of(tiny_plant(), timeline(at_six, VISIT), 12)
    assert [int(clock.unit[slot]) * 2 % 24 for slot in clock.read] == [4, 8]
    assert clock.running[clock.read[0]].sum() == 0


def test_hours_past_midnight_belong_to_the_day_they_start_on():
    night = Period(days=("tue",), starts_at=time(22), ends_at=time(6))
    (span,) = spans_of([night], [TUESDAY, WEDNESDAY], BERLIN)
    assert span == (datetime(2026, 3, 3, 22, tzinfo=BERLIN), datetime(2026, 3, 4, 6, tzinfo=BERLIN))


def test_a_shift_over_the_change_of_clocks_has_its_real_hours():
    # On 29 March 2026 Berlin loses the hour from 2 to 3: a shift from 0 to 8 h lasts seven hours.
    shift = Period(days=("sun",), starts_at=time(0), ends_at=time(8))
    (span,) = spans_of([shift], [date(2026, 3, 29)], BERLIN)
    utc = [moment.astimezone(UTC) for moment in span]
    assert hours_inside([(utc[0], utc[1])], utc[0], utc[1] + timedelta(hours=5)) == 7.0


def test_spans_join_and_gaps_cut():
    day = [datetime(2026, 3, 3, hour, tzinfo=UTC) for hour in range(10)]
    assert joined([(day[3], day[5]), (day[1], day[3])]) == [(day[1], day[5])]
    assert without([(day[1], day[5])], [(day[2], day[3])]) == [(day[1], day[2]), (day[3], day[5])]


@pytest.mark.parametrize(
    ("starts_at", "ends_at", "expected"),
    [
        (time(8), time(12), {"rulebook_hour": time(9)}),
        (time(5), time(8), {"before_start": time(6), "rulebook_hour": time(8)}),
        (time(12), time(14), {"rulebook_hour": time(12), "last_hour": time(14)}),
        (time(16), time(18), {"last_hour": time(16)}),
    ],
)
def test_a_visit_has_the_phases_that_its_hours_touch(starts_at, ends_at, expected):
    assert phases(starts_at, ends_at) == expected


def test_a_visit_on_a_day_without_production_still_has_an_occasion():
    at = [datetime.combine(SUNDAY, time(hour), UTC) for hour in (9, 12)]
    occasions = visit_occasions(visit(*at), tiny_plant(), 3.0)
    assert len(occasions) >= 1
    assert all(at[0] <= occasion.at <= at[1] for occasion in occasions)


def test_earlier_results_are_read_at_their_own_moments_the_oldest_first():
    taken = [VISIT - timedelta(days=40), VISIT - timedelta(days=90), VISIT - timedelta(days=40)]
    results = [
        EarlierResult(site="S001", taken_at=at, device="SP", result="not_detected", said_by="plant") for at in taken
    ]
    occasions = earlier_occasions(results)
    assert [occasion.at for occasion in occasions] == [taken[1], taken[0]]
    assert occasion_of(occasions, taken[0]) == 1
    with pytest.raises(SwabwrightError, match="no occasion at"):
        occasion_of(occasions, VISIT)


def test_an_unknown_time_zone_is_refused_with_what_to_write():
    with pytest.raises(SwabwrightError, match="no time zone 'Mars/Base'; use an IANA name"):
        schedule_of(tiny_plant(timezone="Mars/Base"), [TUESDAY])


def test_the_days_kept_for_the_product_are_those_asked_for():
    setting = setting_of(when=timeline(product_days=(TUESDAY,)))
    kept = setting.clock.day >= 0
    assert {int(unit) * 2 // 24 for unit in setting.clock.unit[kept]} == {(TUESDAY - FIRST_DATE).days}


def test_periods_used_here_are_those_of_the_tiny_plant():
    assert (DAY_SHIFT.starts_at, BREAK.starts_at, EVENING_CLEAN.ends_at) == (time(6), time(9, 30), time(18))
