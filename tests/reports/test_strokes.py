"""Lines on paper: points along them, rounded corners, hatching, frames, belts, footprints."""

import re
from math import dist, hypot, pi

import pytest
from builders.smokehouse import smokehouse
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Point, Polygon, box

from swabwright.errors import SwabwrightError
from swabwright.reports.belts import line_parts
from swabwright.reports.clear_dots import clear_dots
from swabwright.reports.fixtures import fixtures_svg
from swabwright.reports.footprints import floor, footprint, is_drawn
from swabwright.reports.frame import d, frame_for, outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.placing import Label, around, inside
from swabwright.reports.scatter import Sheet, own_dots, settle
from swabwright.reports.shell import openings, shell_svg
from swabwright.reports.strokes import along, arrowhead, rounded

PLANT = smokehouse()
FRAME = frame_for(floor(PLANT), (170.0, 133.0))
POINTS = st.lists(st.tuples(st.floats(0, 100), st.floats(0, 100)), min_size=2, max_size=8, unique=True)
KEY = b"0123456789abcdef"


def numbers(path):
    return [float(number) for number in re.findall(r"-?\d+\.?\d*", path)]


@given(POINTS, st.floats(2, 20))
def test_points_along_a_path_lie_on_it_at_equal_steps(path, every):
    line = LineString(path)
    places = [at for at, _ in along(path, every, every / 2)]
    assert all(line.distance(Point(at)) < 1e-6 for at in places)
    assert len(places) == int((line.length - every / 2) / every + 1 + 1e-9) or line.length < every / 2 + 1e-6


def test_an_arrowhead_points_along_its_path_with_the_tip_on_it():
    (at, angle), *_ = along([(0, 0), (0, 10)], 5, 5)
    assert at == (0, 5)
    assert f"rotate({90.0}" in arrowhead(at, angle, 0.7, 2.0)


@given(POINTS)
def test_a_rounded_path_keeps_its_ends(path):
    found = numbers(rounded(path, 1.8))
    assert found[:2] == pytest.approx(path[0], abs=0.006)
    assert found[-2:] == pytest.approx(path[-1], abs=0.006)


def test_a_path_that_stands_still_draws_nothing():
    assert rounded([(1, 1), (1, 1)], 2.0) == ""
    assert rounded([(1, 1)], 2.0) == ""


def test_corners_are_cut_by_no_more_than_half_a_side():
    found = numbers(rounded([(0, 0), (1, 0), (1, 1)], 5.0))
    assert found[2:4] == [0.5, 0.0]


@given(st.floats(1, 40), st.floats(1, 40), st.floats(0.5, 3))
def test_hatching_stays_inside_and_fills_evenly(wide, high, pitch):
    area = box(3, 5, 3 + wide, 5 + high)
    lines = hatched(area, pitch)
    assert lines.is_empty or lines.difference(area.buffer(1e-6)).length < 1e-6
    assert lines.length == pytest.approx(area.area / pitch, abs=2.5 * hypot(wide, high))


def test_hatching_of_two_parts_crosses_no_gap_between_them():
    parts = MultiPolygon([box(0, 0, 10, 10), box(20, 0, 30, 10)])
    assert hatched(parts, 1.0).intersection(box(10.01, -5, 19.99, 15)).length == 0


def test_an_empty_shape_is_hatched_with_nothing():
    assert hatched(Polygon(), 1.0).is_empty
    assert outlines(Polygon()) == ""


def test_the_frame_fits_the_plant_and_turns_north_up():
    left, _, right, _ = FRAME.shape(floor(PLANT)).bounds
    assert 0 < left < right < FRAME.width_mm <= 170.01
    assert FRAME.point((10.0, 30.0))[1] < FRAME.point((10.0, 10.0))[1]
    assert dist(FRAME.point((0.0, 0.0)), FRAME.point((10.0, 0.0))) == pytest.approx(10 * FRAME.mm_per_m)


def test_a_closed_path_is_written_closed():
    assert d([(0, 0), (1, 2)], closed=True) == "M0.00 0.00L1.00 2.00Z"
    assert d([]) == ""


def test_a_machine_gives_its_sites_its_outline_as_footprint():
    machine = next(machine for machine in PLANT.equipment if machine.id == "slicer-b")
    assert footprint(PLANT, "S016").symmetric_difference(Polygon(machine.outline)).area < 1e-6


def test_a_drain_site_lies_over_its_pool_and_a_run_of_its_pipe():
    area = footprint(PLANT, "S026")
    assert area.contains(Point(PLANT.sites[25].position).buffer(0.55))
    assert pi * 0.6**2 < area.area < 5.5
    assert floor(PLANT).buffer(0.01).covers(area)


def test_a_site_of_its_own_is_a_disc_of_its_area_inside_its_room():
    assert footprint(PLANT, "S020").area == pytest.approx(pi * 0.35**2, rel=0.02)


def test_only_incoming_material_is_not_on_the_drawing():
    assert is_drawn("S001")
    assert is_drawn("room:slicing")
    assert not is_drawn("line:line-a")


def test_a_room_nobody_drew_is_refused_with_the_nearest_name():
    with pytest.raises(SwabwrightError, match="did you mean 'slicing'"):
        footprint(PLANT, "room:slicng")


def test_a_longer_list_of_dots_starts_with_the_shorter_one():
    area = box(0, 0, 3, 2)
    assert own_dots(area, box(0, 0, 9, 9), 300, 0.15, KEY)[:40] == own_dots(area, box(0, 0, 9, 9), 40, 0.15, KEY)


def test_a_taken_spot_is_settled_to_the_nearest_free_one_of_its_area():
    sheet = Sheet(1.0)
    sheet.add((5.0, 5.0))
    found = settle((5.0, 5.0), sheet, (box(5, 0, 10, 10),))
    assert 1.0 <= dist(found, (5.0, 5.0)) < 1.6
    assert found[0] >= 5.0


def test_dots_under_a_mark_move_out_and_the_others_stay():
    dots = [(5.0, 5.0), (5.5, 5.0), (20.0, 20.0)]
    cleared = clear_dots(dots, [Point(5, 5).buffer(3)], [box(0, 0, 30, 30)], 0.5)
    assert cleared[2] == (20.0, 20.0)
    assert all(dist(dot, (5, 5)) >= 3 for dot in cleared)


def test_dots_stay_in_their_room_when_they_move():
    cleared = clear_dots([(9.0, 5.0)] * 1, [Point(9, 5).buffer(2.5)], [box(0, 0, 10, 10), box(10.2, 0, 20, 10)], 0.5)
    assert cleared[0][0] <= 10.0


def test_around_a_mark_there_are_eight_positions_at_each_distance_and_none_touches_it():
    labels = around((0.0, 0.0), 3.0, (4.0, 2.0), below=1.0)
    assert len(labels) == 24
    assert not [label for label in labels[:4] if label.box.intersects(Point(0, 0).buffer(2.99))]


def test_a_name_stands_only_where_the_room_holds_all_of_it():
    room = Polygon([(0, 0), (30, 0), (30, 10), (12, 10), (12, 30), (0, 30)])
    found = list(inside(room, (9.0, 3.0)))
    assert found
    assert all(room.contains(label.box) for label in found)
    assert not list(inside(box(0, 0, 5, 5), (9.0, 3.0)))


def test_a_label_is_the_box_around_its_middle():
    assert Label((5.0, 5.0), 4.0, 2.0).box.bounds == (3.0, 4.0, 7.0, 6.0)


def test_a_drain_whose_flow_nobody_knows_has_no_arrowhead():
    unknown = next(drain for drain in PLANT.drains if drain.flow == "unknown")
    alone = PLANT.model_copy(update={"drains": (unknown,), "equipment": (), "lines": (), "overhead": ()})
    known = alone.model_copy(update={"drains": (unknown.model_copy(update={"flow": "along"}),)})
    assert 'fill="#000"' not in fixtures_svg(alone, FRAME)
    assert 'fill="#000"' in fixtures_svg(known, FRAME)


def test_the_product_moves_the_way_the_line_is_drawn():
    line = PLANT.lines[0]
    back = PLANT.model_copy(update={"lines": (line.model_copy(update={"path": line.path[::-1]}),)})
    assert "rotate(180.0)" in line_parts(PLANT, FRAME)[0]
    assert "rotate(0.0)" in line_parts(back, FRAME)[0]


def test_every_door_opens_into_the_cleaner_of_its_rooms():
    classes = {room.id: room.hygiene_class for room in PLANT.rooms} | {"outside": 99}
    rooms = {room.id: Polygon(FRAME.points(room.outline)) for room in PLANT.rooms}
    for opening in openings(PLANT, FRAME):
        cleaner = min(opening.door.joins, key=lambda room: classes[room])
        assert rooms[cleaner].contains(Point(opening.place(0.0, 3.0)))


def test_every_barrier_is_drawn_as_a_bar_between_two_hairlines():
    barriers = sum(door.barrier != "none" for door in PLANT.doors)
    assert shell_svg(PLANT, FRAME).count('stroke-width="0.9"') == barriers
