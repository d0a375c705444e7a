"""Breaks as budgets of the choice, and the breaks that a walk goes by."""

from dataclasses import replace
from datetime import time

import numpy as np
import pytest
from builders.floors import plant as plant_of
from builders.floors import rectangle, room
from builders.walks import site_of, stops_at, visit
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import LimitsClash
from swabwright.planning.clock_windows import Window, joined_windows, line_windows
from swabwright.planning.stop_budgets import ANY_LINE, stop_budgets
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_breaks import ways_through
from swabwright.planning.walk_exchange import exchanged
from swabwright.planning.walk_ways import best_walk
from swabwright.plant.lines import Line
from swabwright.plant.registry import load_figures
from swabwright.plant.sites import Stop
from swabwright.plant.space import FloorSpace
from swabwright.plant.times import Period

LAW = settings(deadline=None, derandomize=True, max_examples=25)
FIGURES = load_figures()
EARLY, LATE = (time(8, 30), time(8, 50)), (time(11), time(11, 25))


def period(span):
    return Period(days=("wed",), starts_at=span[0], ends_at=span[1])


def line(name, *breaks):
    fields = {"runs": (period((time(6), time(14))),), "breaks": tuple(period(span) for span in breaks)}
    fields |= {"path": ((1.0, 1.0), (9.0, 1.0)), "kg_per_hour": 100.0, "raw_material_may_carry": True}
    return Line(id=name, name=name.replace("-", " ").capitalize(), product="Trout", **fields)


def needs(minutes):
    return Stop(
        needs_line_stop=True, needs_isolation=True, mechanic=False, minutes_down=minutes, reclean_before_restart=True
    )


def hall(lines, needing, easy=0):
    """A hall in which `needing` gives (line, minutes down) of each site that needs a stop; the others need none."""
    sites = [
        site_of(f"N{n}", "hall", (2.0 + n, 5.0), "door_handle", line=of, stop_as_is=needs(down))
        for n, (of, down) in enumerate(needing)
    ]
    sites += [site_of(f"E{n:02d}", "hall", (2.0 + n, 7.0), "door_handle") for n in range(easy)]
    drawn = (room("hall", rectangle(0.0, 0.0, 30.0, 10.0)),)
    return plant_of(drawn, sites=sites, lines=lines, timezone="UTC")


def budgets_of(drawn, hours=4.0, **more):
    stops = stops_at(drawn, **more)
    least = np.array([stop.minutes for stop in stops])
    return {one.name: one for one in stop_budgets(stops, least, drawn, line_windows(drawn, visit(hours)))}


def test_each_window_loses_what_its_last_stop_needs_beyond_its_own_minutes():
    # breaks of 20 and 25 minutes; each sample takes 6 minutes and asks for 10
    budgets = budgets_of(hall((line("line-a", EARLY, LATE),), [("line-a", 10.0)] * 3, easy=2))
    assert budgets["Line a"].available == pytest.approx(20 - 4 + 25 - 4)
    assert budgets["Line a"].minutes.tolist() == [6.0, 6.0, 6.0, 0.0, 0.0]


def test_one_team_shares_the_time_in_which_any_line_stands():
    lines = (line("line-a", EARLY), line("line-b", EARLY))
    budgets = budgets_of(hall(lines, [("line-a", 6.0), ("line-b", 6.0)]))
    assert budgets[ANY_LINE].available == 20.0
    assert budgets[ANY_LINE].minutes.tolist() == [6.0, 6.0]


def test_a_single_line_needs_no_budget_of_the_team():
    assert list(budgets_of(hall((line("line-a", EARLY),), [("line-a", 6.0)]))) == ["Line a"]


def test_what_is_too_long_for_every_window_is_kept_out():
    one_go = budgets_of(hall((line("line-a", EARLY),), [("line-a", 6.0), ("line-a", 45.0)]))["Line a in one go"]
    assert one_go.minutes.tolist() == [0.0, 45.0]
    assert one_go.available == 20.0


@LAW
@given(st.integers(1, 5), st.integers(0, 4), st.sampled_from([6.0, 10.0, 20.0]))
def test_every_walk_keeps_its_budgets(at_a, at_b, down):
    lines = (line("line-a", EARLY, LATE), line("line-b", (time(9), time(9, 40))))
    drawn = hall(lines, [("line-a", down)] * at_a + [("line-b", down)] * at_b, easy=3)
    planner = WalkPlanner(FloorSpace(drawn), FIGURES, visit(4.0))
    in_time = {one.stop.code for one in planner.quickly(stops_at(drawn)) if np.isfinite(one.leaves)}
    walked = np.array([stop.code in in_time for stop in stops_at(drawn)])
    assert all(budget.minutes @ walked <= budget.available + 1e-9 for budget in budgets_of(drawn).values())


def test_windows_that_touch_or_overlap_are_one():
    windows = [Window(50.0, 60.0), Window(0.0, 10.0), Window(10.0, 15.0), Window(12.0, 20.0)]
    assert joined_windows(windows) == (Window(0.0, 20.0), Window(50.0, 60.0))


def test_a_walk_can_go_by_all_breaks_or_by_some_or_by_none():
    first, second = Window(30.0, 50.0), Window(180.0, 205.0)
    ways = ways_through({"line-a": (first, second)}, 240.0)
    assert [way["line-a"] for way in ways] == [(first, second), (first,), (second,), ()]


def test_a_line_that_hardly_runs_is_never_waited_for_and_so_always_gone_by():
    idle, rest = Window(0.0, 200.0), Window(30.0, 50.0)
    assert all(way["line-b"] == (idle,) for way in ways_through({"line-a": (rest,), "line-b": (idle,)}, 240.0))


def test_many_breaks_are_not_tried_in_every_combination():
    breaks = tuple(Window(20.0 * n, 20.0 * n + 5.0) for n in range(10))
    ways = ways_through({"line-a": breaks}, 240.0)
    assert len(ways) == len({way["line-a"] for way in ways}) <= 3 * len(breaks) + 1


def best_of(drawn, gain_of, hours=3.5):
    """The best walk when a plain chooser takes, most gain first, what a window is left for."""

    def choose(minutes, *, windows, without=frozenset()):
        stops = [replace(stop, gain=gain_of(stop)) for stop in stops_at(drawn)]
        offered = [stop for stop in stops if (stop.code, stop.mode) not in without]
        open_ = [stop for stop in offered if not stop.halt.needs_line_stop or windows["line-a"]]
        return sorted(open_, key=lambda stop: -stop.gain)[: min(25, int(minutes // 6))]

    planner = WalkPlanner(FloorSpace(drawn), FIGURES, visit(hours))
    return best_walk(choose, planner, lambda stops: sum(map(gain_of, stops)))


@pytest.mark.parametrize(("gain", "is_waited_for"), [(1.0, False), (60.0, True)])
def test_a_break_is_waited_for_only_when_it_is_worth_the_sites_it_costs(gain, is_waited_for):
    # the site that needs a stop comes first in rank, so that 25 other sites would wait until 11:00
    drawn = hall((line("line-a", LATE),), [("line-a", 10.0)])
    easy = [site_of(f"E{n:02d}", "hall", (2.0 + n, 7.0), "cart_wheel") for n in range(25)]
    drawn = drawn.model_copy(update={"sites": (*drawn.sites, *easy)})
    fitted = best_of(drawn, lambda stop: gain if stop.halt.needs_line_stop else 1.0)
    assert ("N0" in {stop.code for stop in fitted.chosen}) is is_waited_for


def test_a_visit_that_no_way_fits_is_refused():
    with pytest.raises(LimitsClash):
        best_of(hall((line("line-a", LATE),), [("line-a", 10.0)], easy=2), lambda stop: 1.0, hours=0.2)


def test_a_site_given_up_takes_the_turn_of_one_that_adds_less():
    # the break of 20 minutes has room for one of the two, each of which asks for all of it
    drawn = hall((line("line-a", EARLY),), [("line-a", 20.0)] * 2, easy=2)
    worthier, other, *easy = stops_at(drawn)
    planner = WalkPlanner(FloorSpace(drawn), FIGURES, visit(4.0))
    kept = exchanged([other, *easy], [worthier], planner, lambda stop, others: True)
    assert {stop.code for stop in kept} == {"N0", "E00", "E01"}


def test_no_exchange_is_made_against_a_minimum():
    drawn = hall((line("line-a", EARLY),), [("line-a", 20.0)] * 2)
    worthier, other = stops_at(drawn)
    planner = WalkPlanner(FloorSpace(drawn), FIGURES, visit(4.0))
    assert exchanged([other], [worthier], planner, lambda stop, others: False) == [other]
