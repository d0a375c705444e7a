"""Doors as openings: lanes across the wall, however thick it is and wherever the door stands."""

from math import hypot

import pytest
from builders.floors import door, rectangle, room
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from swabwright.plant.space.doorways import doorways
from swabwright.plant.space.shapes import CLEARANCE_M, room_shapes

LAW = settings(deadline=None, derandomize=True, max_examples=60)


def doorway(wall_m=0.3, at=None, **more):
    """The opening between two rooms of 4 x 4 m, side by side."""
    rooms = (room("a", rectangle(0.0, 0.0, 4.0, 4.0)), room("b", rectangle(4.0 + wall_m, 0.0, 8.0 + wall_m, 4.0)))
    (made,) = doorways((door("d", "a", "b", at or (4.0 + wall_m / 2, 2.0), **more),), room_shapes(rooms))
    return made


@pytest.mark.parametrize(("width_m", "lanes"), [(0.3, 1), (0.9, 3), (1.2, 3), (3.0, 5), (12.0, 5)])
def test_a_wider_door_has_more_lanes(width_m, lanes):
    assert len(doorway(width_m=width_m).lanes) == lanes


@LAW
@given(st.floats(0.0, 0.6), st.floats(0.4, 3.5), st.floats(0.5, 3.5))
def test_every_lane_stays_on_floor_and_opening(wall_m, width_m, along):
    made = doorway(wall_m, at=(4.0 + wall_m / 2, along), width_m=width_m)
    assert all(made.through.covers(LineString(lane)) for lane in made.lanes if lane[0] != lane[1])


@LAW
@given(st.floats(0.0, 0.6))
def test_the_middle_lane_crosses_the_wall_straight(wall_m):
    start, end = doorway(wall_m).lanes[0]
    assert hypot(end[0] - start[0], end[1] - start[1]) == pytest.approx(wall_m + 2 * CLEARANCE_M)


@LAW
@given(st.floats(0.4, 3.5))
def test_lanes_keep_clear_of_the_jambs(width_m):
    made = doorway(width_m=width_m)
    assert all(abs(start[1] - 2.0) <= max(width_m / 2 - 0.2, 0.0) + 1e-9 for start, _ in made.lanes)


def test_a_door_drawn_on_one_of_the_two_outlines_serves_as_well():
    assert doorway(0.4, at=(4.0, 2.0)).lanes[0][1] == pytest.approx((4.45, 2.0))


def test_a_door_at_the_corner_of_a_room_keeps_its_middle_lane():
    made = doorway(0.3, at=(4.15, 4.0), width_m=1.2)
    assert made.through.covers(LineString(made.lanes[0]))


def test_a_door_to_the_outside_leads_nowhere():
    shapes = room_shapes((room("a", rectangle(0.0, 0.0, 4.0, 4.0)),))
    assert list(doorways((door("d", "a", "outside", (0.0, 2.0)),), shapes)) == []
