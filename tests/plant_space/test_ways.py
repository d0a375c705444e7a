"""Ways over the floor: how long, through which doors, and never through a wall."""

import itertools
from math import hypot, inf

import pytest
from builders.floors import door, grid_plant, plant, rectangle, room, scattered
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.plant.space import FloorSpace

LAW = settings(deadline=None, derandomize=True, max_examples=40)
FLOORS = st.builds(
    grid_plant,
    columns=st.integers(1, 3),
    rows=st.integers(1, 3),
    wall_m=st.sampled_from([0.0, 0.1, 0.3, 0.5]),
    width_m=st.sampled_from([0.7, 1.2, 3.0]),
)


def length(path):
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in itertools.pairwise(path))


def two_rooms(**more):
    rooms = (room("left", rectangle(0.0, 0.0, 4.0, 4.0)), room("right", rectangle(4.4, 0.0, 8.4, 4.0)))
    return plant(rooms, (door("d", "left", "right", (4.2, 2.0), **more),))


@LAW
@given(FLOORS, st.integers(0, 1000))
def test_a_way_never_crosses_a_wall(drawn, seed):
    space = FloorSpace(drawn)
    points = [point for point, _ in scattered(drawn, 9, seed)]
    assert all(space.stays_on_floor(space.path(points[0], other)) for other in points)


@LAW
@given(FLOORS, st.integers(0, 1000))
def test_a_way_is_as_long_as_the_matrix_says(drawn, seed):
    space = FloorSpace(drawn)
    points = [point for point, _ in scattered(drawn, 8, seed)]
    matrix = space.distance_matrix(points)
    assert all(
        length(space.path(a, b)) == pytest.approx(matrix[i, j], abs=1e-6)
        for i, a in enumerate(points)
        for j, b in enumerate(points)
    )


@LAW
@given(FLOORS, st.integers(0, 1000))
def test_no_detour_is_shorter_than_the_way(drawn, seed):
    points = [point for point, _ in scattered(drawn, 8, seed)]
    matrix = FloorSpace(drawn).distance_matrix(points)
    through = (matrix[:, :, None] + matrix[None, :, :]).min(axis=1)
    assert (matrix <= through + 1e-6).all()
    assert (matrix == matrix.T).all()


def test_a_door_is_a_short_corridor_through_the_wall():
    # from (1, 2) straight through the middle of the door at (4.2, 2) to (7, 2): 6 m
    assert FloorSpace(two_rooms()).distance_m((1.0, 2.0), (7.0, 2.0)) == pytest.approx(6.0)


def test_a_way_bends_at_the_corner_of_a_room():
    # around the inner corner (2, 2) of an L: 1.05 m down, 1.05 m across, 5 cm off the walls
    outline = ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0))
    space = FloorSpace(plant((room("l", outline),)))
    metres = space.distance_m((1.95, 3.0), (3.0, 1.95))
    assert metres == pytest.approx(2.1)


def test_a_wide_door_is_crossed_at_its_near_side():
    wide, narrow = FloorSpace(two_rooms(width_m=3.6)), FloorSpace(two_rooms(width_m=0.8))
    ends = ((3.5, 0.5), (5.0, 0.5))
    assert wide.distance_m(*ends) < narrow.distance_m(*ends)


def test_rooms_without_a_door_are_infinitely_far():
    space = FloorSpace(plant(two_rooms().rooms))
    assert space.distance_m((1.0, 2.0), (7.0, 2.0)) == inf
    assert space.path((1.0, 2.0), (7.0, 2.0)) == ()


def test_a_point_off_the_drawing_is_infinitely_far():
    space = FloorSpace(two_rooms())
    matrix = space.distance_matrix([(1.0, 2.0), (50.0, 50.0), (7.0, 2.0)])
    assert matrix[0, 1] == inf
    assert matrix[0, 2] == pytest.approx(6.0)


def test_a_door_that_costs_much_is_walked_around():
    drawn = grid_plant(2, 2)
    space = FloorSpace(drawn)
    a, b = ((1.0, 1.0), "r0c0"), ((9.3, 1.0), "r0c1")
    dear = space.ways({"r0c0-right": 500.0})
    doors = space.doors_on(dear.path(a, b))
    assert [one.id for one in doors] == ["r0c0-up", "r1c0-right", "r0c1-up"]


def test_barriers_on_a_way_are_named_in_order():
    rooms = tuple(room(name, rectangle(x, 0.0, x + 4.0, 4.0)) for name, x in [("a", 0.0), ("b", 4.2), ("c", 8.4)])
    doors = (
        door("one", "a", "b", (4.1, 2.0), barrier="boots"),
        door("two", "b", "c", (8.3, 2.0), barrier="full_change"),
    )
    space = FloorSpace(plant(rooms, doors))
    assert [one.id for one in space.barriers_on(space.path((11.0, 1.0), (1.0, 1.0)))] == ["two", "one"]
