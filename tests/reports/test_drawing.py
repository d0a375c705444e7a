"""The drawing: marks apart, numbers beside them, dots clear of both and all there, walls open at their doors."""

import re
from functools import cache
from itertools import combinations
from math import dist

import pytest
from builders.papers import crowded, plan
from builders.smokehouse import smokehouse
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point

from swabwright.reports.apart import apart
from swabwright.reports.drawing import plan_drawings
from swabwright.reports.footprints import floor
from swabwright.reports.frame import frame_for
from swabwright.reports.marks import Mark, mark_svg, symbols
from swabwright.reports.shell import openings, rooms_on_paper, walls
from swabwright.reports.views import whole_plant
from swabwright.reports.walk_line import walk_path

PLANT = smokehouse()
PLAN = plan(PLANT)
ROOM_MM, PAGE_MM = (170.0, 133.0), (184.0, 232.0)
FRAME = frame_for(floor(PLANT), ROOM_MM)


@cache
def drawing():
    return plan_drawings(PLAN, PLANT, ROOM_MM, PAGE_MM)[0]


def circles(svg, layer):
    group = re.search(rf'<g id="{layer}".*?</g>', svg).group()
    return [(float(x), float(y)) for x, y in re.findall(r'<circle cx="([\d.-]+)" cy="([\d.-]+)"', group)]


def marks_at(svg):
    return [(float(x), float(y)) for x, y in re.findall(r'<g transform="translate\(([\d.-]+) ([\d.-]+)\) scale', svg)]


def test_all_drawn_dots_are_on_the_paper():
    assert len(circles(drawing().svg, "stipple")) == len(PLAN.stipple.dots)


def test_no_dot_lies_under_a_mark():
    marks = [(stop.shown, stop.mark.radius_mm()) for stop in whole_plant(PLAN, PLANT, (170.0, 128.4)).stops]
    dots = circles(drawing().svg, "stipple")
    assert not [dot for dot in dots for at, radius in marks if dist(dot, at) < radius]


def test_dots_stay_countable_after_they_moved_aside():
    dots = circles(drawing().svg, "stipple")
    spacing = PLAN.stipple.spacing_m * drawing().mm_per_m
    assert min(dist(first, second) for first, second in combinations(dots, 2)) >= spacing - 0.02


def test_every_surface_sample_has_its_mark_and_its_number():
    surfaces = [sample for sample in PLAN.samples if sample.site]
    assert len(marks_at(drawing().svg)) == len(surfaces)
    assert all(f">{sample.order}</text>" in drawing().svg for sample in surfaces)


def test_no_line_of_the_print_is_thinner_than_three_tenths_of_a_millimetre():
    flat = re.sub(r'<g transform="translate[^>]*scale.*?</g>|<defs>.*?</defs>', "", drawing().svg)
    flat = re.sub(r'<g id="not-chosen-sites".*?</g>', "", flat)
    assert min(float(width) for width in re.findall(r'stroke-width="([\d.]+)"', flat)) >= 0.3


def test_rings_are_a_third_of_a_millimetre_and_strongest_in_zone_1():
    def ring_mm(zone):
        svg = mark_svg(Mark("SP", zone), (0, 0), 0.85)
        return float(re.search(r'rings-\d" stroke-width="([\d.]+)"', svg).group(1)) * 0.85 * 25.4 / 96

    assert ring_mm(2) == pytest.approx(0.35, abs=0.001)
    assert ring_mm(1) > 1.5 * ring_mm(4)


@pytest.mark.parametrize("fill", ["not-yet-known", "not-detected", "presumptive", "detected", "no-result"])
@pytest.mark.parametrize("shape", ["square", "disc_on_stick", "leaf", "crossed_square", "boot", "lozenge"])
def test_every_shape_is_drawn_in_every_fill(shape, fill):
    assert f'<symbol id="{shape}-{fill}"' in symbols()


def test_a_device_without_a_shape_of_its_own_is_a_lozenge_with_its_code():
    assert ">WA</text>" in mark_svg(Mark("WA", 3), (0, 0))
    assert "lozenge-not-yet-known" in mark_svg(Mark("WA", 3), (0, 0))


@given(st.lists(st.tuples(st.floats(0, 40), st.floats(0, 40)), min_size=1, max_size=12))
def test_marks_moved_apart_do_not_overlap(centres):
    moved = apart(centres, [3.0] * len(centres))
    assert all(dist(first, second) > 5.8 for first, second in combinations(moved, 2))


def test_a_mark_alone_stays_on_its_site():
    assert apart([(5.0, 5.0), (90.0, 5.0)], [3.0, 3.0]) == [(5.0, 5.0), (90.0, 5.0)]


def test_walls_are_open_at_every_door_and_solid_beside_it():
    solid = walls(PLANT, FRAME)
    assert not [o.door.id for o in openings(PLANT, FRAME) if solid.distance(Point(o.at)) < 0.2]
    assert solid.area > 200


def test_walls_leave_the_rooms_open():
    solid = walls(PLANT, FRAME)
    rooms = rooms_on_paper(PLANT, FRAME)
    assert all(solid.intersection(room).area < 0.12 * room.area for room in rooms.values())


def test_the_walk_passes_every_mark_in_order_of_work():
    view = whole_plant(PLAN, PLANT, ROOM_MM)
    shown = {stop.sample.order: stop.shown for stop in view.stops}
    line = LineString(walk_path(PLAN.walk.legs, view.frame, shown))
    places = [line.project(Point(shown[leg.to_order])) for leg in PLAN.walk.legs]
    assert all(line.distance(Point(at)) < 0.001 for at in shown.values())
    assert len(places) == len(shown)


@pytest.mark.slow
def test_a_crowded_plan_names_the_samples_of_each_room_and_enlarges_it():
    plant, many = crowded(120)
    whole, *rooms = plan_drawings(many, plant, ROOM_MM, PAGE_MM)
    assert not marks_at(whole.svg)
    assert "samples 1 to" in whole.svg
    assert sum(len(marks_at(room.svg)) for room in rooms) == 120


def test_a_name_with_signs_of_markup_is_drawn_as_text():
    sly = PLANT.rooms[0].model_copy(update={"name": "Dock <b> & </svg>"})
    plant = PLANT.model_copy(update={"rooms": (sly, *PLANT.rooms[1:])})
    assert "Dock &lt;b&gt; &amp; &lt;/svg&gt;" in plan_drawings(PLAN, plant, ROOM_MM, PAGE_MM)[0].svg
