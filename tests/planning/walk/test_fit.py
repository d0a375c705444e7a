"""A choice whose walk fits the hours: fewer samples while it is too long, more while there is room."""

import pytest
from builders.walks import stops_at, visit, walkable_plant
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import LimitsClash
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_controls import Shares, shares_of
from swabwright.planning.walk_fit import fit_walk
from swabwright.plant.registry import load_figures
from swabwright.plant.space import FloorSpace

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
