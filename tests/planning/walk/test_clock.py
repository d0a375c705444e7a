"""Breaks and agreed stops: met, waited for, or named as missing."""

from datetime import time, timedelta

import pytest
from builders.floors import plant as plant_of
from builders.floors import rectangle, room
from builders.walks import START, breaks_the_order, site_of, stops_at, visit
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import LimitsClash
from swabwright.planning.clock_windows import stop_is_missing, windows_of
from swabwright.planning.clock_words import needs_words
from swabwright.planning.walk import walk_of
from swabwright.plant.lines import Line
from swabwright.plant.registry import load_figures
from swabwright.plant.sites import Stop
from swabwright.plant.space import FloorSpace
from swabwright.plant.times import AgreedStop, Period

LAW = settings(deadline=None, derandomize=True, max_examples=25)
FIGURES = load_figures()
WEDNESDAY = ("wed",)
NEEDS_20 = Stop(
    needs_line_stop=True, needs_isolation=True, mechanic=True, minutes_down=20.0, reclean_before_restart=True
)


def period(start, end):
    return Period(days=WEDNESDAY, starts_at=start, ends_at=end)


def line(**more):
    fields = {"runs": (period(time(6), time(14)),), "breaks": (period(time(9, 30), time(10)),)} | more
    return Line(
        id="line-a",
        name="Line A",
        product="Trout",
        path=((1.0, 1.0), (9.0, 1.0)),
        kg_per_hour=100.0,
        raw_material_may_carry=True,
        **fields,
    )


def hall_with(halting, easy=0, **of_line):
    """A hall with sites that need line A to stand for 20 minutes, and others that need nothing."""
    needing = [
        site_of(f"N{n}", "hall", (2.0 + n, 5.0), "door_handle", line="line-a", stop_as_is=NEEDS_20)
        for n in range(halting)
    ]
    others = [site_of(f"E{n}", "hall", (2.0 + n, 7.0), "door_handle") for n in range(easy)]
    drawn = (room("hall", rectangle(0.0, 0.0, 30.0, 10.0)),)
    return plant_of(drawn, sites=needing + others, lines=(line(**of_line),), timezone="UTC")


def walked(drawn, **visiting):
    return walk_of(stops_at(drawn), FloorSpace(drawn), FIGURES, visit(**visiting))


def test_a_site_that_needs_a_stop_waits_for_the_break_and_says_so():
    timed, walk = walked(hall_with(1))
    assert timed[0].arrive_at == START + timedelta(minutes=90)
    assert walk.waits[0].reason == "until Line A stands, for N0"
    assert walk.waits[0].minutes == pytest.approx(90 - 11, abs=1)


def test_what_needs_no_stop_is_done_while_waiting_for_the_break():
    # from 08:11 twelve samples of 6 minutes last until 09:23; then the break opens at 09:30
    timed, walk = walked(hall_with(1, easy=12))
    assert timed[-1].stop.code == "N0"
    assert sum(wait.minutes for wait in walk.waits) < 8


@LAW
@given(st.integers(1, 4), st.integers(0, 12), st.sampled_from([15, 20, 30, 60]))
def test_no_stop_is_ever_overrun(halting, easy, minutes_long):
    stops = tuple(
        AgreedStop(
            starts_at=START + timedelta(hours=h),
            ends_at=START + timedelta(hours=h, minutes=30 + minutes_long),
            agreed_by="P",
        )
        for h in (2, 4)
    )
    drawn = hall_with(halting, easy, agreed_stops=stops)
    timed, _ = walked(drawn, hours=10.0)
    windows = windows_of(next(one.stop for one in timed if one.stop.code == "N0"), drawn, visit(hours=10.0))
    arrivals = [(one.arrive_at - START).total_seconds() / 60 for one in timed if one.stop.code.startswith("N")]
    assert all(any(w.opens - 0.1 <= at and at + 20 <= w.closes + 0.1 for w in windows) for at in arrivals)
    assert breaks_the_order([one.stop.key for one in timed]) is None


def test_a_stop_that_nobody_agreed_is_named():
    drawn = hall_with(1, breaks=())
    with pytest.raises(LimitsClash, match="needs Line A to stand for 20 minutes"):
        walked(drawn)
    assert "agree a stop of Line A" in stop_is_missing(stops_at(drawn)[0], drawn, visit())


def test_a_break_that_is_too_short_is_no_break():
    drawn = hall_with(1, breaks=(period(time(9, 30), time(9, 45)),))
    assert stop_is_missing(stops_at(drawn)[0], drawn, visit()) is not None


def test_an_agreed_stop_after_a_break_lengthens_it():
    stop = AgreedStop(starts_at=START + timedelta(minutes=120), ends_at=START + timedelta(minutes=140), agreed_by="P")
    drawn = hall_with(1, agreed_stops=(stop,))
    (window,) = windows_of(stops_at(drawn)[0], drawn, visit())
    assert (window.opens, window.closes) == (90.0, 140.0)


def test_a_line_that_has_not_started_stands():
    drawn = hall_with(1, runs=(period(time(12), time(20)),))
    timed, walk = walked(drawn)
    assert timed[0].arrive_at < START + timedelta(minutes=15)
    assert walk.waits == ()


def test_a_site_without_a_line_needs_no_window():
    drawn = plant_of(
        (room("hall", rectangle(0.0, 0.0, 30.0, 10.0)),),
        sites=[site_of("N0", "hall", (2.0, 5.0), "door_handle", stop_as_is=NEEDS_20)],
    )
    assert windows_of(stops_at(drawn)[0], drawn, visit()) is None


def test_needs_are_said_in_words_with_the_minutes_down():
    assert needs_words(stops_at(hall_with(1))[0]) == (
        "line stands for 20 minutes",
        "stopped and isolated (lockout/tagout) by plant staff, seen by the sampler",
        "plant mechanic opens it and puts it together again",
        "cleaned and disinfected by the plant before restart",
    )
    assert needs_words(stops_at(hall_with(0, easy=1))[0]) == ()
