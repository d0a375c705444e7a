"""The small pictures and words: chart, ten by ten, boxes, clock, key, lists and dates."""

import re
from datetime import date

import pytest
from builders.papers import at, chance, plan
from builders.smokehouse import smokehouse
from hypothesis import given
from hypothesis import strategies as st

from swabwright.case.plan import CurvePoint
from swabwright.reports.charts import boxes_svg, curve_svg, tens_svg
from swabwright.reports.clock_strip import clock_svg
from swabwright.reports.fonts import known_characters, text_width
from swabwright.reports.frame import Frame
from swabwright.reports.glyphs import plain_text, readable
from swabwright.reports.key_pictures import line_key
from swabwright.reports.scale_bar import scale_bar
from swabwright.reports.stops import with_rooms
from swabwright.reports.wording import duration, listed, long_date, ranges

PLANT = smokehouse()
PLAN = plan(PLANT)


def texts(svg):
    return re.findall(r">([^<>]+)</text>", svg)


def filled(svg):
    return svg.count('fill="#000" stroke="#000"')


def test_the_curve_names_the_plan_and_the_points_apart_from_it():
    said = texts(curve_svg(PLAN.curve, 38))
    assert {"38", "91", "10", "58"} <= set(said)
    assert {"+20", "+10", "+3"} <= set(said)


def test_points_too_near_each_other_are_drawn_but_not_named():
    near = tuple(CurvePoint(samples=n, chance=chance(0.5, 0.4, 0.6), best_any_plan=None) for n in range(1, 61))
    assert len(texts(curve_svg(near, 60))) < 50


def test_a_curve_of_one_point_is_drawn_without_a_band():
    assert "38" in texts(curve_svg(PLAN.curve[4:5], 38))


def test_the_ten_by_tens_hold_as_many_solid_dots_as_the_chances_say():
    assert filled(tens_svg(PLAN)) == 78 + 24


def test_the_ten_by_ten_is_never_empty_and_never_full():
    sure = PLAN.not_detected_means.model_copy(update={"before": plan_chance(1.0), "after": plan_chance(0.0)})
    assert filled(tens_svg(PLAN.model_copy(update={"not_detected_means": sure}))) == 99 + 1


def plan_chance(value):
    return PLAN.chance_of_finding.model_copy(update={"value": value})


def test_the_boxes_hold_five_fifty_two_hundred_and_the_dots_not_drawn():
    assert boxes_svg(40, 0.45).count("<circle") == 5 + 50 + 200 + 40


def test_the_boxes_are_drawn_when_every_dot_is_on_the_drawing_or_none_is():
    assert boxes_svg(0, 0.45).count("<circle") == 255
    assert boxes_svg(1000, 0.45).count("<circle") == 1255


def test_the_clock_has_a_tick_for_every_sample_and_names_every_half_hour():
    svg = clock_svg(PLAN, PLANT, 170.0, at("13:00"))
    assert {"09:00", "10:30", "13:00"} <= set(texts(svg))
    assert svg.count("v2.2") == len(PLAN.samples)


def test_a_walk_over_two_days_still_has_a_readable_clock():
    long = PLAN.walk.model_copy(update={"ends_at": at("09:00").replace(day=7)})
    assert len(texts(clock_svg(PLAN.model_copy(update={"walk": long}), PLANT, 170.0, at("13:00")))) < 60


def test_the_key_shows_only_what_is_on_the_drawing():
    dry = PLANT.model_copy(update={"drains": (), "overhead": ()})
    said = {words for _, _, words in line_key(PLAN, dry)}
    assert "hygiene barrier" in said
    assert not {"drain, arrow: its known flow", "above head height", "blows this way"} & said


def test_a_blank_is_opened_in_the_room_of_the_sample_before_it():
    rooms = {sample.order: room for sample, room in with_rooms(PLAN.samples)}
    assert rooms[20] == "slicing"
    assert rooms[40] == "waste"


@pytest.mark.parametrize(("mm_per_m", "bar"), [(2.0, "20 m"), (4.0, "10 m"), (30.0, "1 m")])
def test_the_scale_bar_is_the_longest_round_one_that_stays_short(mm_per_m, bar):
    assert texts(scale_bar(Frame(0, 0, mm_per_m, 100, 100, 2.2))) == [bar]


def test_the_typefaces_know_their_letters_and_measure_them():
    assert {ord("å"), ord("Ж"), ord("λ"), ord("µ")} <= known_characters()
    assert text_width("mm", 10.0) == pytest.approx(2 * text_width("m", 10.0))


def test_greek_and_cyrillic_names_pass_unchanged():
    assert plain_text("Λήψη, Приёмка, Kjølerom 2 °C") == "Λήψη, Приёмка, Kjølerom 2 °C"


def test_an_accent_typed_apart_is_joined_to_its_letter():
    assert plain_text("Ru\u0308ckwa\u0308rts") == "R\u00fcckw\u00e4rts"


def test_emoji_joined_from_parts_are_named_part_by_part():
    assert readable({"a": ["\u26a0\ufe0f wet"]}) == {"a": [plain_text("\u26a0") + " wet"]}


@given(st.lists(st.integers(1, 90), min_size=1, unique=True))
def test_ranges_name_exactly_the_numbers_given(numbers):
    named = set()
    for span in ranges(sorted(numbers)).split(", "):
        first, *last = [int(part) for part in span.split(" to ")]
        named |= set(range(first, (last or [first])[0] + 1))
    assert named == set(numbers)


def test_dates_spans_and_lists_are_written_out():
    assert long_date(date(2026, 3, 5)) == "Thursday 5 March 2026"
    assert duration(212.4) == "3 hours 32 minutes"
    assert (listed(["a"]), listed(["a", "b", "c"])) == ("a", "a, b and c")
