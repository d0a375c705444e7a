"""A choice whose walk fits the hours: fewer samples while it is too long, more while there is room."""

from datetime import time

import pytest
from builders.floors import plant as plant_of
from builders.floors import rectangle, room
from builders.walks import site_of, stops_at, visit, walkable_plant
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import LimitsClash
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_controls import Shares, shares_of
from swabwright.planning.walk_fit import fit_walk
from swabwright.plant.lines import Line
from swabwright.plant.registry import load_figures
from swabwright.plant.sites import Stop
from swabwright.plant.space import FloorSpace
from swabwright.plant.times import Period

LAW = settings(deadline=None, derandomize=True, max_examples=20)
FIGURES = load_figures()
DRAWN = walkable_plant(30, 4)
SPACE = FloorSpace(DRAWN)


def planner(hours, shares=None):
    return WalkPlanner(SPACE, FIGURES, visit(hours), *([shares] if shares else []))


def first_that_fit(minutes):
    """A plain chooser: the sites of most gain, until their own minutes are used up."""
    stops, chosen = stops_at(DRAWN), []
    while stops and sum(stop.minutes for stop in chosen) + stops[0].minutes <= minutes:
        chosen.append(stops.pop(0))
    return chosen


@LAW
@given(st.floats(1.0, 8.0))
def test_the_walk_always_ends_within_the_visit(hours):
    fitted = fit_walk(first_that_fit, planner(hours))
    assert fitted.walk.ends_at <= visit(hours).limits.ends_at
    assert len(fitted.timed) == len(fitted.chosen)


@LAW
@given(st.floats(1.0, 4.0))
def test_another_sample_would_hardly_have_fitted(hours):
    fitted = fit_walk(first_that_fit, planner(hours))
    # two more of six minutes, each perhaps with a room, a change and a class of its own, are always too many
    more = stops_at(DRAWN)[: len(fitted.chosen) + 2]
    assert planner(hours).minutes(more) > hours * 60 - 2 * (6 + 3 + 8 + 4)


def test_a_long_visit_takes_all_that_the_chooser_offers():
    fitted = fit_walk(first_that_fit, planner(12.0))
    assert len(fitted.chosen) == 30
    assert fitted.dropped == ()


def test_the_least_gain_per_minute_is_left_out_first():
    fitted = fit_walk(lambda _: stops_at(DRAWN), planner(3.0))
    assert fitted.dropped
    assert min(stop.gain for stop in fitted.chosen) > max(stop.gain for stop in fitted.dropped)


def test_a_walk_that_nothing_can_shorten_is_refused_with_the_minutes_lacking():
    with pytest.raises(LimitsClash, match=r"must be in the plan takes .* minutes more"):
        fit_walk(lambda _: stops_at(DRAWN), planner(3.0), may_drop=lambda stop, others: False)


def test_a_visit_too_short_for_one_sample_is_refused():
    with pytest.raises(LimitsClash, match="not one sample fits"):
        fit_walk(first_that_fit, planner(0.2))


def test_minutes_are_kept_free_for_judgement():
    shares = Shares(surface=30, blanks=0, duplicates=0, judgement=6)
    assert planner(3.0, shares).minutes_available == 180 - 6 * FIGURES.number("device.SP.minutes")


def test_containers_are_shared_out_by_the_rulebook():
    # 40 containers: 1 blank in 20, 5 in 100 doubled, 15 in 100 kept free
    limits = visit(samples=40, blanks=None, duplicates=None, judgement_share=None).limits
    assert shares_of(limits, FIGURES) == Shares(surface=30, blanks=2, duplicates=2, judgement=6)


def test_the_laboratory_bounds_the_containers():
    limits = visit(samples=40, laboratory_takes=12, blanks=1, duplicates=1, judgement_share=0.0).limits
    assert shares_of(limits, FIGURES).surface == 10


def test_controls_that_leave_nothing_to_choose_are_refused():
    limits = visit(samples=3, blanks=2, duplicates=1).limits
    with pytest.raises(LimitsClash, match="leave none to choose"):
        shares_of(limits, FIGURES)


NEEDS_20 = Stop(
    needs_line_stop=True, needs_isolation=True, mechanic=True, minutes_down=20.0, reclean_before_restart=True
)


def wednesday(start, end):
    return (Period(days=("wed",), starts_at=start, ends_at=end),)


def late_break():
    """Line A, which stands from 11:00 to 11:25 only."""
    runs, breaks = wednesday(time(6), time(14)), wednesday(time(11), time(11, 25))
    way = ((1.0, 1.0), (9.0, 1.0))
    fields = {"runs": runs, "breaks": breaks, "path": way, "kg_per_hour": 100.0, "raw_material_may_carry": True}
    return Line(id="line-a", name="Line A", product="Trout", **fields)


@pytest.fixture(scope="module")
def hall():
    """Twenty sites; the two of most gain need line A to stand, the others nothing."""
    halting = {"line": "line-a", "stop_as_is": NEEDS_20}
    needing = [site_of(f"N{n}", "hall", (2.0 + n, 5.0), "door_handle", **halting) for n in (0, 1)]
    easy = [site_of(f"E{n:02d}", "hall", (2.0 + n, 7.0), "cart_wheel") for n in range(18)]
    drawn = (room("hall", rectangle(0.0, 0.0, 30.0, 10.0)),)
    return plant_of(drawn, sites=needing + easy, lines=(late_break(),), timezone="UTC")


def chooser_of(drawn, most=10):
    """The sites of most gain, at most ten, leaving some out when asked."""

    def choose(minutes, without=frozenset()):
        offered = [stop for stop in stops_at(drawn) if (stop.code, stop.mode) not in without]
        return offered[: min(most, int(minutes // 6))]

    return choose


def test_a_wait_that_is_not_worth_its_minutes_makes_room_for_other_sites(hall):
    # both needing sites come first in rank and would keep the team waiting from 08:11 to 11:00 of a visit until 11:30
    team = WalkPlanner(FloorSpace(hall), FIGURES, visit(3.5))
    plain = fit_walk(chooser_of(hall), team)
    again = fit_walk(chooser_of(hall), team, choose_without=chooser_of(hall))
    assert len(again.chosen) == 10
    assert not {"N0", "N1"} & {stop.code for stop in again.chosen}
    assert again.gain >= plain.gain


def test_a_must_is_waited_for(hall):
    team = WalkPlanner(FloorSpace(hall), FIGURES, visit(3.5))
    kept = fit_walk(chooser_of(hall), team, may_drop=lambda stop, _: stop.code != "N0")
    assert "N0" in {stop.code for stop in kept.chosen}
    assert kept.walk.waits[0].minutes > 160


def test_a_must_whose_line_never_stands_is_refused_with_the_stop_to_agree(hall):
    team = WalkPlanner(FloorSpace(hall), FIGURES, visit(2.0))
    with pytest.raises(LimitsClash, match="agree a stop of Line A"):
        fit_walk(chooser_of(hall), team, may_drop=lambda stop, _: stop.code != "N0")


def test_sites_that_hold_the_walk_up_make_room_for_others_of_the_same_minimum(hall):
    # at least one site must be taken and N0, of most gain, comes too late for its break: E00 takes its place
    team = WalkPlanner(FloorSpace(hall), FIGURES, visit(2.0))
    one = chooser_of(hall, most=1)
    fitted = fit_walk(one, team, may_drop=lambda stop, others: bool(others), choose_without=one)
    assert [stop.code for stop in fitted.chosen] == ["E00"]


def test_a_minimum_that_only_a_late_site_can_meet_is_refused(hall):
    team = WalkPlanner(FloorSpace(hall), FIGURES, visit(2.0))

    def only_needing(minutes, without=frozenset()):
        return [stop for stop in stops_at(hall)[:2] if (stop.code, stop.mode) not in without]

    with pytest.raises(LimitsClash):
        fit_walk(only_needing, team, may_drop=lambda stop, others: bool(others), choose_without=only_needing)
