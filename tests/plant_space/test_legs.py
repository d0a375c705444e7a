"""The compiled loop against plain arithmetic, and ways against an independent search on a fine grid."""

import numpy as np
import pytest
from builders.floors import grid_plant, plant, rectangle, room, scattered
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import lil_array
from scipy.sparse.csgraph import dijkstra
from shapely.geometry import LineString, Point, Polygon

from swabwright.plant.space import FloorSpace
from swabwright.plant.space.gaps import joined_rooms
from swabwright.plant.space.legs import cheapest_pairs

LAW = settings(deadline=None, derandomize=True, max_examples=30)
GRID_M = 0.25


@LAW
@given(st.integers(0, 1000), st.integers(1, 6), st.integers(1, 5))
def test_the_compiled_loop_takes_the_cheapest_of_all_entries(seed, points, nodes):
    random = np.random.default_rng(seed)
    count = random.integers(0, nodes + 1, points)
    entered = [random.choice(nodes, int(n), replace=False) for n in count]
    metres = [random.uniform(0, 5, len(of)) for of in entered]
    between = random.uniform(0, 9, (nodes, nodes))
    starts = np.concatenate([[0], np.cumsum(count)]).astype(np.int64)
    flat = np.concatenate(entered).astype(np.int64)
    found = cheapest_pairs(starts, flat, np.concatenate(metres).astype(float), between)
    for i in range(points):
        for j in range(i + 1, points):
            totals = [
                m + between[a, b] + k
                for a, m in zip(entered[i], metres[i], strict=True)
                for b, k in zip(entered[j], metres[j], strict=True)
            ]
            assert found[i, j] == pytest.approx(min(totals, default=np.inf))


def grid_distances(outline, spots):
    """Metres between spots along an eight-neighbour grid inside one outline: at most 8.3 % too long."""
    marks = [(x * GRID_M + 0.1, y * GRID_M + 0.1) for x in range(48) for y in range(48)]
    inside = [mark for mark in [*spots, *marks] if _covers(outline, mark)]
    links = lil_array((len(inside), len(inside)))
    array = np.array(inside)
    for n, mark in enumerate(inside):
        for other in np.flatnonzero(np.hypot(*(array - mark).T) < GRID_M * 1.5):
            if other > n and _covers(outline, mark, inside[other]):
                links[n, other] = np.hypot(*(array[n] - array[other]))
    return dijkstra(links.tocsr(), directed=False, indices=range(len(spots)))[:, : len(spots)]


def _covers(outline, *marks):
    return Polygon(outline).covers(Point(marks[0]) if len(marks) == 1 else LineString(marks))


@pytest.mark.slow
def test_ways_are_as_short_as_an_independent_search_on_a_grid():
    outline = ((0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (6.0, 6.0), (6.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0))
    spots = [(1.0, 5.0), (8.0, 5.0), (4.5, 1.0), (7.0, 3.5)]
    ours = FloorSpace(plant((room("x", outline),))).distance_matrix(spots)
    grid = grid_distances(outline, spots)
    assert (ours <= grid + 0.1).all()
    assert (grid <= 1.09 * ours + 0.3).all()


@LAW
@given(st.integers(1, 3), st.integers(1, 3))
def test_all_rooms_of_a_joined_grid_hang_together(columns, rows):
    drawn = grid_plant(columns, rows)
    assert joined_rooms("r0c0", drawn.doors) == {one.id for one in drawn.rooms}


@LAW
@given(st.integers(0, 99))
def test_naming_the_rooms_changes_nothing_for_points_inside_them(seed):
    drawn = grid_plant(2, 2)
    places = scattered(drawn, 9, seed)
    space = FloorSpace(drawn)
    named = space.distance_matrix([point for point, _ in places], [name for _, name in places])
    assert named == pytest.approx(space.distance_matrix([point for point, _ in places]))


@LAW
@given(st.integers(0, 99))
def test_what_is_seen_is_as_far_as_the_straight_line(seed):
    drawn = grid_plant(2, 2, width_m=3.0)
    space = FloorSpace(drawn)
    points = [point for point, _ in scattered(drawn, 8, seed)]
    seen = [(a, b) for a in points for b in points if space.room_at(a) == space.room_at(b) and space.sees(a, b)]
    assert all(space.distance_m(a, b) == pytest.approx(np.hypot(a[0] - b[0], a[1] - b[1])) for a, b in seen)


@LAW
@given(st.integers(0, 99))
def test_sight_goes_both_ways(seed):
    drawn = grid_plant(2, 2, width_m=3.0)
    space = FloorSpace(drawn)
    points = [point for point, _ in scattered(drawn, 8, seed)]
    assert all(space.sees(a, b) == space.sees(b, a) for a in points for b in points)


def test_a_point_sees_itself():
    space = FloorSpace(plant((room("x", rectangle(0.0, 0.0, 4.0, 4.0)),)))
    assert space.sees((1.0, 1.0), (1.0, 1.0))
    assert space.path((1.0, 1.0), (1.0, 1.0)) == ((1.0, 1.0),)
