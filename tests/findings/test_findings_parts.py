"""The parts of findings one by one: sets, places, shifts, ways against a plain recount, what blanks and results say."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from builders.findings import read_tiny
from builders.plants import tiny_plant
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.rows import HypothesisRows
from swabwright.detection.observed import Blanks, MaterialTest, Observations
from swabwright.inference.credible import credible_set
from swabwright.inference.hardest import unexplained
from swabwright.inference.leave_out import Without
from swabwright.inference.particles import particles
from swabwright.inference.quantities import Parts, chance_of, niche_at, niche_within, share_of, two_niches
from swabwright.inference.ways import ways_to
from swabwright.spread.reasons import edges_at
from swabwright.work.findings_places import spots_of
from swabwright.work.findings_results import blank_counts, results_used
from swabwright.work.findings_weights import leading_place

SHARES = st.lists(st.floats(0.001, 1.0), min_size=1, max_size=12)


@pytest.fixture(scope="module")
def read():
    return read_tiny((2, 3), (1, 5))


@given(SHARES, st.floats(0.05, 0.99))
@settings(deadline=None, derandomize=True)
def test_a_credible_set_holds_what_is_wanted_and_no_smaller_one_does(parts, wanted):
    share = np.array(parts) / sum(parts)
    held = credible_set(share, [f"S{at}" for at in range(len(parts))], wanted)
    largest = np.sort(share)[::-1]
    assert share[list(held)].sum() >= wanted - 1e-9
    assert largest[: len(held) - 1].sum() < wanted


@given(SHARES)
@settings(deadline=None, derandomize=True)
def test_a_credible_set_does_not_hang_on_the_order_of_places(parts):
    share, names = np.array(parts) / sum(parts), [f"S{at}" for at in range(len(parts))]
    forwards = {names[at] for at in credible_set(share, names, 0.8)}
    backwards = {names[::-1][at] for at in credible_set(share[::-1], names[::-1], 0.8)}
    assert forwards == backwards


def test_a_set_of_everything_holds_everything():
    assert set(credible_set(np.full(7, 1 / 7), [f"S{at}" for at in range(7)], 1.0)) == set(range(7))


def test_a_chance_among_nothing_says_so_and_leaves_everything_open(read):
    empty = np.zeros(read.one.known.bank.histories)
    told = chance_of(Parts(empty, empty), read.after, "a test")
    assert (told.low, told.high) == (0.0, 1.0)
    assert told.basis == "nothing to reckon it from; a test"


def test_chances_are_those_of_the_posterior(read):
    after = read.after
    assert niche_at(2)(after).value == pytest.approx(after.marginal[2])
    assert share_of((1, 4))(after).value == pytest.approx(after.share[[1, 4]].sum())
    assert two_niches(after).value == pytest.approx(after.two_niches)


def test_a_niche_within_one_place_is_a_niche_there(read):
    assert niche_within((3,))(read.after).value == pytest.approx(read.after.marginal[3])


def test_a_niche_within_the_whole_plant_is_certain(read):
    every = tuple(range(len(read.spots.every)))
    assert niche_within(every)(read.after).value == pytest.approx(1)


def test_a_wider_group_is_never_less_likely_to_hold_a_niche(read):
    chances = [niche_within(range(count))(read.after).value for count in range(1, len(read.spots.every) + 1)]
    assert chances == sorted(chances)


def test_other_readings_widen_the_range_and_leave_the_value(read):
    plain = replace(read.readings, others=())
    narrow, wide = plain.told(niche_at(2)), read.readings.told(niche_at(2))
    assert narrow.value == wide.value
    assert (wide.low <= narrow.low, wide.high >= narrow.high) == (True, True)


def test_every_source_is_a_place_with_the_plants_own_name(read):
    names = {spot.code: spot.name for spot in read.spots.every}
    assert names["S003"] == "drain_channel 3"
    assert names["room:wash"] == "rest of Wash"
    assert names["line:line-a"] == "incoming material of Line A"


def test_a_room_holds_its_sites_and_the_rest_of_it(read):
    rooms = {room.id: {read.spots.every[at].code for at in room.sources} for room in read.spots.rooms}
    assert rooms["wash"] == {"S006", "room:wash"}
    assert {"S001", "S005", "room:slicing"} < rooms["slicing"]


def test_a_machine_without_a_site_is_no_group():
    plant = tiny_plant(sites=tuple(site.model_copy(update={"equipment": None}) for site in tiny_plant().sites))
    assert spots_of(plant, tuple(site.key for site in plant.sites)).machines == ()


def test_places_that_tie_are_ordered_by_code(read):
    share = np.full(len(read.spots.every), 0.1)
    assert read.spots.every[leading_place(share, read.spots)].code == "S001"


def test_points_are_with_less_without_in_100():
    one = Without("s", np.array([0.5, 0.1]), np.array([0.2, 0.4]), np.array([0.3, 0.7]))
    assert one.points == pytest.approx([30, -30])


def a_test(*, detected):
    return MaterialTest("jar", "incoming", "line-a", date(2026, 3, 4), 0.025, 1, detected=detected)


def test_a_detection_in_material_is_a_detection(read):
    silent = Observations(tuple(replace(one, detected=False) for one in read.one.observations.results))
    assert not silent.anything_detected
    assert not replace(silent, materials=(a_test(detected=False),)).anything_detected
    assert replace(silent, materials=(a_test(detected=True),)).anything_detected


def test_results_stand_in_order_of_their_numbers_with_the_plants_names(read):
    used = results_used(replace(read.one.observations, materials=(a_test(detected=True),)), tiny_plant(), frozenset())
    assert [one.sample for one in used] == ["jar", "sample 1", "sample 2", "sample 3", "sample 5"]
    assert used[0].site_name == "incoming material of Line A of 2026-03-04"
    assert [one.outcome for one in used] == ["detected", "not_detected", "detected", "detected", "not_detected"]


@pytest.mark.parametrize(
    ("blanks", "words"),
    [
        ((), "No blank of the morning was read"),
        ((Blanks("visit-1", 0, 2),), "Not detected in 2 blanks of the morning: nothing in them speaks of handling."),
        ((Blanks("visit-1", 1, 2),), "1 blank of 3 of the morning detected: every detection of it weighs less"),
    ],
)
def test_blanks_are_told_for_every_batch(blanks, words):
    read = read_tiny((2,), (1,), blanks=blanks)
    (told,) = blank_counts(read.one.observations, read.after, {"visit-1": "the morning"}, 0.01)
    assert told.words.startswith(words)
    assert ("contaminated on the way" in told.words) == (told.contaminated.value > 0.01)


def test_more_silent_blanks_leave_less_doubt():
    reads = [read_tiny((2,), (1,), blanks=(Blanks("visit-1", 0, silent),)) for silent in (0, 1, 4)]
    doubts = [blank_counts(one.one.observations, one.after, {}, 0.01)[0].contaminated.value for one in reads]
    assert doubts == sorted(doubts, reverse=True)


def test_a_detection_on_a_niche_is_better_explained_than_one_far_off(read):
    one = read.one
    near, far = (alone_at(read, code) for code in ("S003", "room:wash"))
    rates = one.reading.states[0].rates
    chances = [
        next(
            each
            for each in unexplained(one.known, one.observations.results, rows, rates)
            if each.item.site_code == "S003"
        )
        for rows in (near, far)
    ]
    assert chances[0].chance.value < chances[1].chance.value


def alone_at(read, code):
    """One niche at a place in every history, all alike."""
    bank = read.one.known.bank
    sources = np.full((bank.histories, 3), -1, np.int32)
    sources[:, 0] = read.spots.at(code)
    every = np.arange(bank.histories, dtype=np.int32)
    return HypothesisRows(every, sources, np.full(bank.histories, 1 / bank.histories), bank.copy)


def drain_item(read):
    return next(one.item for one in read.one.observations.results if one.item.site_code == "S003")


def ways(read, rows):
    taken = ways_to(read.one.known, read.one.opened.network, drain_item(read), (rows, np.zeros(len(rows))))
    return {one.way: one.chance.value for one in taken}


def test_a_niche_at_the_site_itself_is_the_only_way_when_it_is_the_only_niche(read):
    assert ways(read, alone_at(read, "S003")) == pytest.approx({"own": 1.0})


def flows_to_the_drain(read, e):
    """Mean flow into S003 by mechanism in one history with a niche at S004, and whether anything reached it."""
    bank, network = read.one.known.bank, read.one.opened.network
    places = {place.label: at for at, place in enumerate(network.places)}
    column = bank.column(e, drain_item(read).occasion, read.spots.at("S004"))
    load = dict(zip(column.rows.tolist(), column.loads.tolist(), strict=True))
    flow = {}
    for edge in edges_at(network, "S003").into:
        if edge.on and edge.source in places:
            factor = bank.multipliers[f"rate.{edge.mechanism}"][e] * bank.multipliers[f"fraction.{edge.mechanism}"][e]
            moved = load.get(places[edge.source], 0.0) * edge.moved_per_8h * float(factor)
            flow[edge.mechanism] = flow.get(edge.mechanism, 0.0) + moved
    return flow, load.get(drain_item(read).row, 0.0) > 0


def test_ways_agree_with_a_plain_recount_of_flows(read):
    rows, counted = alone_at(read, "S004"), {}
    for e in range(len(rows)):
        flow, reached = flows_to_the_drain(read, e)
        whole = sum(flow.values())
        way = {name: part / whole for name, part in flow.items()} if whole else {"other": 1.0}
        for name, part in (way if reached else {"unexplained": 1.0}).items():
            counted[name] = counted.get(name, 0.0) + part / len(rows)
    assert {name: part for name, part in counted.items() if part > 0} == pytest.approx(ways(read, rows), rel=1e-3)


def test_what_is_drawn_from_the_findings_has_their_shares(read):
    one = read.one
    rows = particles(one.reading, one.prior, one.after, 4000)
    present = rows.sources >= 0
    each = np.where(present, 1.0 / present.sum(axis=1)[:, None], 0.0)
    share = np.bincount(np.where(present, rows.sources, 0).ravel(), each.ravel(), len(one.after.share)) / len(rows)
    assert share == pytest.approx(one.after.share, abs=0.01)
