"""Rooms on the floor: where a point lies, what hangs together, what is in sight."""

import pytest
from builders.floors import door, plant, rectangle, room

from swabwright.errors import SwabwrightError
from swabwright.plant.space import FloorSpace

HALL = room("hall", rectangle(0.0, 0.0, 10.0, 6.0))
CELL = room("cell", rectangle(4.0, 2.0, 6.0, 4.0))
STORE = room("store", rectangle(10.3, 0.0, 14.0, 6.0))
SHED = room("shed", rectangle(14.4, 0.0, 18.0, 6.0))
GATE = door("gate", "hall", "store", (10.15, 3.0))


def test_the_innermost_room_holds_the_point():
    space = FloorSpace(plant((HALL, CELL)))
    assert space.room_at((5.0, 3.0)) == "cell"
    assert space.room_at((1.0, 1.0)) == "hall"


def test_a_point_in_a_wall_belongs_to_the_nearest_room():
    space = FloorSpace(plant((HALL, STORE)))
    assert space.room_at((10.25, 3.0)) == "store"
    assert space.room_at((30.0, 3.0)) is None


def test_a_room_inside_another_is_walked_around():
    space = FloorSpace(plant((HALL, CELL)))
    assert 6.0 < space.distance_m((2.0, 3.0), (8.0, 3.0)) < 6.6
    assert not space.sees((2.0, 3.0), (8.0, 3.0))


def test_a_room_inside_another_is_no_overlap_but_a_crossing_one_is():
    crossing = room("crossing", rectangle(8.0, 4.0, 12.0, 8.0))
    assert FloorSpace(plant((HALL, CELL))).overlaps() == ()
    assert FloorSpace(plant((HALL, crossing))).overlaps() == (("hall", "crossing"),)


def test_neighbours_share_a_wall():
    space = FloorSpace(plant((HALL, STORE, SHED)))
    assert space.neighbours("store") == ("hall", "shed")


def test_an_open_doorway_lets_sight_through_and_the_wall_beside_it_does_not():
    space = FloorSpace(plant((HALL, STORE), (GATE,)))
    assert space.sees((8.0, 3.0), (12.0, 3.0))
    assert not space.sees((8.0, 5.5), (12.0, 5.5))


@pytest.mark.parametrize("barrier", ["boots", "full_change"])
def test_a_door_with_a_barrier_is_not_open_to_sight(barrier):
    space = FloorSpace(plant((HALL, STORE), (GATE.model_copy(update={"barrier": barrier}),)))
    assert not space.sees((8.0, 3.0), (12.0, 3.0))


def test_the_missing_door_is_named_with_both_of_its_rooms():
    space = FloorSpace(plant((HALL, STORE, SHED), (GATE,)))
    sentence = space.missing_door("shed")
    assert "'shed' (Shed)" in sentence
    assert "between 'shed' (Shed) and 'store' (Store)" in sentence


def test_a_room_nobody_can_walk_to_is_refused():
    space = FloorSpace(plant((HALL, STORE, SHED), (GATE,)))
    space.require_reachable(["hall", "store"])
    with pytest.raises(SwabwrightError, match="a door is missing"):
        space.require_reachable(["hall", "shed"])


def test_the_way_out_of_the_building_is_no_way_between_rooms():
    doors = (door("front", "hall", "outside", (0.0, 3.0)), door("yard", "shed", "outside", (18.0, 3.0)))
    assert FloorSpace(plant((HALL, SHED), doors)).reachable_rooms() == {"hall"}


def test_a_base_off_the_drawing_is_refused():
    space = FloorSpace(plant((HALL,), base=(-20.0, 1.0)))
    with pytest.raises(SwabwrightError, match="clean base at"):
        space.reachable_rooms()


def test_a_door_far_from_its_rooms_is_refused():
    with pytest.raises(SwabwrightError, match="door 'gate' lies"):
        FloorSpace(plant((HALL, SHED), (door("gate", "hall", "shed", (10.1, 3.0)),)))
