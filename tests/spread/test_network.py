"""The contact network: who reaches whom, how much, why, and what stays the same when the drawing changes."""

from dataclasses import replace

import numpy as np
import pytest
from builders.plants import site, tiny_plant, tiny_sites, twenty_site_plant
from builders.spreads import network_of
from hypothesis import given
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.plant.registry import load_catalogue
from swabwright.plant.space import FloorSpace
from swabwright.spread.mechanisms import AREA_MECHANISMS, MECHANISMS
from swabwright.spread.network import contact_network
from swabwright.spread.places import places_of
from swabwright.spread.reasons import edges_at
from swabwright.spread.sight import kernel_in_sight, kernel_on_discs, open_metres
from swabwright.spread.tracks import carried

KERNEL_M = {"line": 3.0}
SQUARE = np.array([[[0, 0], [10, 0]], [[10, 0], [10, 10]], [[10, 10], [0, 10]], [[0, 10], [0, 0]]], float)


@pytest.fixture(scope="module")
def network():
    return network_of(tiny_plant())


def stream(network, source, mechanism):
    row = network.row_names.index(f"{source:032x}")
    return [s for s in network.streams if s.source == row and s.mechanism == mechanism]


def test_rows_are_sites_and_the_rest_of_each_room_sources_also_incoming_material(network):
    assert network.row_names[-2:] == ("room:slicing", "room:wash")
    assert len(network.row_names) == 6 + 2
    assert network.source_names == (*network.row_names, "line:line-a")


def test_rows_follow_room_and_key_not_the_order_drawn():
    plant = twenty_site_plant()
    turned = plant.model_copy(update={"sites": plant.sites[::-1]})
    assert network_of(plant).row_names == network_of(turned).row_names


@pytest.mark.parametrize("mechanism", sorted(AREA_MECHANISMS))
def test_all_shares_of_an_area_event_add_up_to_one(mechanism):
    network = network_of(twenty_site_plant())
    sums = [sum(s.shares) for s in network.streams if s.mechanism == mechanism]
    np.testing.assert_allclose(sums, 1.0, rtol=1e-9)
    assert sums


@pytest.mark.parametrize("mechanism", ["hand", "wheel", "niche_to_contact"])
def test_the_point_edges_of_a_source_add_up_to_its_rate(mechanism):
    network = network_of(twenty_site_plant())
    figures = load_catalogue().figures
    usual = figures.number(f"mechanism.{mechanism}.rate_per_8h")
    trips = 4.0 / figures.number("mechanism.foot.reference_trips_per_h") if mechanism == "wheel" else 1.0
    by_source = {}
    for s in network.streams:
        if s.mechanism == mechanism and not network.places[s.source].is_rest:
            by_source[s.source] = by_source.get(s.source, 0.0) + s.rate_per_8h
    np.testing.assert_allclose(list(by_source.values()), usual * trips, rtol=1e-9)


def test_the_share_of_a_site_downstream_is_the_kernel_over_its_stretch(network):
    # S2 lies 3 m on; its area of 0.36 m2 on a line 0.5 m wide covers 0.72 m: from 2.64 to 3.36 m.
    # Share = e^(-2.64/3) - e^(-3.36/3) = 0.41478 - 0.32628 = 0.0885.
    places = {place.label: place for place in network.places}
    half = places["S002"].area_m2 / 0.5 / 2
    expected = np.exp(-(3 - half) / 3) - np.exp(-(3 + half) / 3)
    (line,) = stream(network, 1, "line")
    assert dict(zip([t.row for t in line.targets], line.shares, strict=True))[
        network.row_names.index(f"{2:032x}")
    ] == pytest.approx(expected)


def test_nothing_is_carried_up_the_line(network):
    (line,) = stream(network, 2, "line")
    assert [network.row_names[t.row] for t in line.targets] == ["room:slicing"]


def test_water_runs_down_and_backs_up(network):
    (down,), (up,) = stream(network, 4, "drain_flow"), stream(network, 3, "backflow")
    assert f"{3:032x}" in [network.row_names[t.row] for t in down.targets]
    assert f"{4:032x}" in [network.row_names[t.row] for t in up.targets]


def test_an_unknown_flow_counts_half_each_way():
    drains = tuple(d.model_copy(update={"flow": "unknown"}) for d in tiny_plant().drains)
    network = network_of(tiny_plant(drains=drains))
    flows = stream(network, 3, "drain_flow")
    assert [s.rate_per_8h for s in flows] == [0.5, 0.5]
    assert "nobody has said which way it runs" in "".join(t.reason for s in flows for t in s.targets)


def test_every_edge_says_why(network):
    reasons = [t.reason for s in network.streams for t in s.targets]
    assert all(len(reason) > 20 for reason in reasons)
    assert "product on Line A touches S001 and then it, 3.0 m further on" in reasons


def test_edges_at_a_site_come_both_ways_and_the_strongest_first(network):
    edges = edges_at(network, "S001")
    assert ("S005", "S001", "hand") in [(e.source, e.target, e.mechanism) for e in edges.into]
    strengths = [e.moved_per_8h for e in edges.out_of]
    assert strengths == sorted(strengths, reverse=True)


def test_edges_at_an_unknown_site_are_refused_with_the_nearest_name(network):
    with pytest.raises(SwabwrightError, match="did you mean 'S001'"):
        edges_at(network, "S01")


def test_an_edge_keeps_its_random_word_when_sites_come_and_go():
    plant, catalogue = tiny_plant(), load_catalogue()
    first = network_of(plant)
    more = tiny_plant(sites=(*tiny_sites(), site(0, "cracked_floor", (11.4, 1.2))))
    grown = contact_network(more, catalogue, FloorSpace(more), first.register)
    kept = contact_network(plant, catalogue, FloorSpace(plant), grown.register)
    words = {(s.family, s.name): s.index for s in first.streams}
    assert words.items() <= {(s.family, s.name): s.index for s in grown.streams}.items()
    assert words == {(s.family, s.name): s.index for s in kept.streams}


def test_no_two_streams_of_a_source_share_a_word():
    network = network_of(twenty_site_plant())
    pairs = [(s.source, s.index) for s in network.streams]
    assert len(pairs) == len(set(pairs))


@pytest.mark.parametrize(
    ("off", "problem"),
    [
        ("mechanism:splosh", "no mechanism 'splosh'; did you mean 'splash'"),
        ("S001>S099:hand", "no site 'S099'"),
        ("S001:hand", "neither a mechanism"),
        ("S001>S002:paw", "no mechanism 'paw'"),
    ],
)
def test_a_switched_off_name_that_is_nothing_is_refused(off, problem):
    with pytest.raises(SwabwrightError, match=problem):
        network_of(tiny_plant(switched_off=(off,)))


def test_a_mechanism_switched_off_stays_in_the_list_with_its_reason():
    network = network_of(tiny_plant(switched_off=("mechanism:hand",)))
    hands = [s for s in network.streams if s.mechanism == "hand"]
    assert hands
    assert not any(s.on for s in hands)


def test_a_change_of_boots_holds_back_what_wheels_carry():
    open_door = tuple(d.model_copy(update={"barrier": "none"}) for d in tiny_plant().doors)
    reached = {}
    for name, plant in (("boots", tiny_plant()), ("none", tiny_plant(doors=open_door))):
        network = network_of(plant)
        rows = network.row_names
        reached[name] = sum(
            s.rate_per_8h
            for s in network.streams
            if s.mechanism == "wheel" and rows[s.source] == f"{6:032x}" and rows[s.targets[0].row] == "room:slicing"
        )
    assert reached["boots"] == pytest.approx(0.2 * reached["none"])


def test_every_mechanism_has_its_figures():
    figures = load_catalogue().figures
    for name in MECHANISMS:
        assert 0 < figures.number(f"mechanism.{name}.fraction") <= 0.5
        assert figures.number(f"mechanism.{name}.rate_per_8h") > 0


def test_the_rest_of_a_room_is_what_nobody_drew():
    places = {place.name: place for place in places_of(tiny_plant(), load_catalogue())}
    drawn = sum(p.area_m2 for p in places.values() if p.room == "wash" and not p.is_rest)
    assert places["room:wash"].area_m2 == pytest.approx(9 * 6 - drawn)


def test_in_an_empty_hall_the_kernel_in_sight_is_the_whole_kernel():
    # Over the plane to 3 lengths: 2 pi L^2 (1 - 4 e^-3) with L = 1.2.
    far = (SQUARE - 5.0) * 100
    assert kernel_in_sight(np.zeros(2), 1.2, far) == pytest.approx(2 * np.pi * 1.44 * (1 - 4 * np.exp(-3)), rel=1e-9)


def test_against_a_wall_only_half_of_the_kernel_is_in_sight():
    half = kernel_in_sight(np.array([5.0, 1e-9]), 0.5, SQUARE)
    assert half == pytest.approx(0.5 * kernel_in_sight(np.array([5.0, 5.0]), 0.5, SQUARE), rel=0.02)


def test_open_metres_end_at_the_first_wall():
    ways = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0]])
    np.testing.assert_allclose(open_metres(np.array([3.0, 4.0]), ways, SQUARE), [7.0, 6.0, 3.0])


@given(st.floats(0.01, 2.0), st.floats(0.1, 3.0))
def test_two_halves_of_a_footprint_take_what_the_whole_takes(area, away):
    start, side = np.zeros(2), np.sqrt(area / 2 / np.pi)
    whole = kernel_on_discs(start, np.array([[away, 0.0]]), np.array([area]), 1.2)[0]
    halves = kernel_on_discs(start, np.array([[away, side], [away, -side]]), np.full(2, area / 2), 1.2).sum()
    assert halves == pytest.approx(whole, rel=0.3, abs=0.01)


@given(st.floats(0, 20), st.floats(0, 20), st.floats(0.1, 5))
def test_stretches_that_meet_take_together_what_they_take_as_one(start, middle, kernel):
    ends = (min(start, middle), max(start, middle) + 1.0)
    parts = carried(1.0, (ends[0], middle), kernel) + carried(1.0, (middle, ends[1]), kernel)
    if ends[0] <= middle <= ends[1]:
        assert parts == pytest.approx(carried(1.0, ends, kernel), abs=1e-12)


def test_labels_and_reasons_are_no_part_of_what_a_stream_is(network):
    one = network.streams[0]
    other = replace(one, targets=tuple(replace(t, reason="other words") for t in one.targets))
    assert one.shares == other.shares
