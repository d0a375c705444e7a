"""Shapes of the plant document: each that cannot be is refused with its path and the remedy."""

import pytest
from builders.plant_text import tiny_document, tiny_text
from hypothesis import given
from hypothesis import strategies as st

from swabwright.errors import DocumentRefused
from swabwright.plant.geometry import outline_problem
from swabwright.plant.reading import read_plant
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
BOW_TIE = [[0, 0], [9, 6], [9, 0], [0, 6]]


def faults_of(change):
    with pytest.raises(DocumentRefused) as refused:
        read_plant(tiny_text(change), CATALOGUE)
    return [str(fault) for fault in refused.value.faults]


def test_an_outline_that_crosses_itself_says_where() -> None:
    found = faults_of(lambda plant: plant["rooms"][0].update(outline=BOW_TIE))
    assert found == ["rooms[0].outline: 'wash' crosses or touches itself near (4.5, 3); draw its corners in order"]


@pytest.mark.parametrize("kind", ["equipment", "overhead"])
def test_machines_and_overhead_things_may_not_cross_themselves_either(kind) -> None:
    assert faults_of(lambda plant: plant[kind][0].update(outline=BOW_TIE))[0].startswith(f"{kind}[0].outline")


def test_an_outline_without_area_is_refused() -> None:
    found = faults_of(lambda plant: plant["rooms"][0].update(outline=[[0, 0], [9, 0], [4, 0]]))
    assert found == ["rooms[0].outline: 'wash' encloses no area; draw its corners in order"]


def test_rooms_drawn_over_each_other_are_both_named() -> None:
    wide = [[0, 0], [11, 0], [11, 6], [0, 6]]
    found = faults_of(lambda plant: plant["rooms"][0].update(outline=wide))
    assert found[0].startswith("rooms[1].outline: 'slicing' lies over 'wash' (rooms[0]) by 10.8 m2; draw the wall")


def test_a_room_drawn_inside_another_is_accepted() -> None:
    office = {"id": "office", "name": "Office", "outline": [[1, 4], [3, 4], [3, 5.5], [1, 5.5]], "hygiene_class": 3,
              "exposed_product": False, "wetness": "dry", "temperature_c": 20.0}  # fmt: skip
    assert len(read_plant(tiny_text(lambda plant: plant["rooms"].append(office)), CATALOGUE).rooms) == 3


def test_a_room_drawn_twice_is_no_room_inside_itself() -> None:
    again = {**tiny_document()["rooms"][0], "id": "again"}
    found = faults_of(lambda plant: plant["rooms"].append(again))
    assert found == [
        "rooms[2].outline: 'again' lies over 'wash' (rooms[0]) by 54.0 m2; draw the wall between them once"
    ]


@pytest.mark.parametrize("kind", ["lines", "routes", "drains"])
def test_a_way_through_no_room_is_refused(kind) -> None:
    found = faults_of(lambda plant: plant[kind][0].update(path=[[50.0, 50.0], [60.0, 50.0]]))
    assert f"{kind}[0].path" in found[0]
    assert "runs through no room; draw it on the floor, or take it out" in found[0]


def test_a_drain_may_leave_the_building() -> None:
    assert read_plant(tiny_text(lambda plant: plant["drains"][0].update(path=[[16.0, 1.0], [25.0, 1.0]])), CATALOGUE)


def test_a_door_off_the_walls_of_its_rooms_is_refused_with_the_metres() -> None:
    found = faults_of(lambda plant: plant["doors"][0].update(at=[4.0, 3.0]))
    assert found[0].startswith("doors[0].at: 'door-1' lies 3.0 m off the walls of 'wash'")
    assert found[1].startswith("doors[0].at: 'door-1' lies 5.2 m off the walls of 'slicing'")


def test_a_site_outside_its_room_is_told_where_it_is() -> None:
    found = faults_of(lambda plant: plant["sites"][5].update(position=[12.0, 4.0]))
    assert found == ["sites[5].position: site S006 lies 3.0 m outside its room 'wash'; (12, 4) is in 'slicing'"]


def test_a_site_on_the_wall_is_in_its_room() -> None:
    assert read_plant(tiny_text(lambda plant: plant["sites"][5].update(position=[9.1, 4.0])), CATALOGUE)


def test_a_site_in_no_room_at_all_is_told_so() -> None:
    found = faults_of(lambda plant: plant["sites"][5].update(position=[30.0, 40.0]))
    assert found[0].endswith("no room holds (30, 40)")


def test_a_base_in_no_room_is_refused() -> None:
    assert faults_of(lambda plant: plant.update(base=[-5.0, 1.0]))[0].startswith("base: the clean base at (-5, 1) lies")


def test_a_machine_in_another_room_is_refused() -> None:
    found = faults_of(lambda plant: plant["equipment"][0].update(room="wash"))
    assert found[0].startswith(
        "equipment[0].outline: 'slicer' lies outside its room 'wash'; (11.5, 3.5) is in 'slicing'"
    )


def test_a_fan_outside_its_room_is_refused() -> None:
    fan = {"id": "fan", "name": "Fan", "room": "wash", "at": [15.0, 3.0]}
    assert faults_of(lambda plant: plant["air"].append(fan))[0].startswith("air[0].at: 'fan' lies 6.0 m outside")


@given(st.integers(-50, 50), st.integers(-50, 50), st.integers(1, 40), st.integers(1, 40), st.integers(0, 3))
def test_a_rectangle_is_sound_wherever_it_lies_and_whichever_corner_comes_first(x, y, width, height, first) -> None:
    corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
    assert outline_problem(tuple(corners[first:] + corners[:first])) is None


@given(st.permutations([(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)]))
def test_corners_out_of_order_are_refused_and_in_order_are_not(corners) -> None:
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    crossing = any(a[0] != b[0] and a[1] != b[1] for a, b in sides)
    assert (outline_problem(tuple(corners)) is not None) == crossing
