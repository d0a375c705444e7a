"""Floors as shapes: where one can stand, which corners matter, what lies inside what."""

import numpy as np
import pytest
from builders.floors import rectangle, room
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.plant.space.shapes import CLEARANCE_M, room_shapes

LAW = settings(deadline=None, derandomize=True, max_examples=60)
L_ROOM = room("l", ((0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0)))
U_ROOM = room("u", ((0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (6.0, 6.0), (6.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0)))


def shape_of(*rooms):
    return room_shapes(rooms)[rooms[0].id]


def test_a_rectangle_has_no_corner_to_walk_around():
    shape = shape_of(room("box", rectangle(0.0, 0.0, 4.0, 3.0)))
    assert shape.convex
    assert len(shape.corners) == 0


@pytest.mark.parametrize(("drawn", "corners"), [(L_ROOM, 1), (U_ROOM, 2)])
def test_only_inward_corners_are_walked_around(drawn, corners):
    shape = shape_of(drawn)
    assert not shape.convex
    assert len(shape.corners) == corners


@pytest.mark.parametrize("turned", [False, True])
def test_the_drawing_direction_of_an_outline_does_not_matter(turned):
    outline = L_ROOM.outline[::-1] if turned else L_ROOM.outline
    corner = shape_of(room("l", outline)).corners[0]
    assert corner == pytest.approx([2.0 - CLEARANCE_M, 2.0 - CLEARANCE_M])


def test_a_room_inside_leaves_four_corners_to_walk_around():
    hall, cell = room("hall", rectangle(0.0, 0.0, 10.0, 10.0)), room("cell", rectangle(4.0, 4.0, 6.0, 6.0))
    shape = shape_of(hall, cell)
    assert len(shape.corners) == 4
    assert shape.floor.area == pytest.approx(100.0 - 4.0, abs=1e-3)


def test_a_room_that_only_touches_is_not_taken_out():
    hall, store = room("hall", rectangle(0.0, 0.0, 10.0, 10.0)), room("store", rectangle(10.0, 0.0, 12.0, 2.0))
    assert shape_of(hall, store).convex


def test_a_passage_narrower_than_the_clearance_can_still_be_stood_in():
    shape = shape_of(room("gap", rectangle(0.0, 0.0, 5.0, 0.08)))
    assert shape.stand((2.0, 0.04)) == (2.0, 0.04)


@LAW
@given(st.floats(-3.0, 9.0), st.floats(-3.0, 9.0))
def test_one_always_stands_on_the_floor(x, y):
    shape = shape_of(L_ROOM)
    spot = shape.stand((x, y))
    assert shape.open_between([spot], [spot])[0]


@LAW
@given(st.floats(0.2, 5.8), st.floats(0.2, 1.8))
def test_a_point_off_the_walls_is_stood_on_as_it_is(x, y):
    assert shape_of(L_ROOM).stand((x, y)) == (x, y)


def test_a_site_on_a_wall_is_reached_from_a_few_centimetres_before_it():
    assert shape_of(L_ROOM).stand((3.0, 0.0)) == pytest.approx((3.0, CLEARANCE_M))


def test_lines_across_the_inward_corner_leave_the_floor():
    shape = shape_of(L_ROOM)
    seen = shape.open_between([(1.0, 5.0), (1.0, 5.0)], [(1.0, 1.0), (5.0, 1.0)])
    assert seen.tolist() == [True, False]


@LAW
@given(st.integers(0, 50))
def test_sight_is_the_same_both_ways(seed):
    spots = np.random.default_rng(seed).uniform(0, 6, (2, 5, 2))
    shape = shape_of(L_ROOM)
    assert shape.open_between(spots[0], spots[1]).tolist() == shape.open_between(spots[1], spots[0]).tolist()
