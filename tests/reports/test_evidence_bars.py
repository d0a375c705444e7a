"""Evidence bars: log scale, right is more likely, under 1.15 times no bar, the longest named in words."""

from math import log

import pytest
from builders.found import findings
from builders.smokehouse import smokehouse
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.reports.detail_plate import detail_window, plate_frame
from swabwright.reports.evidence_bars import HALF_MM, bar_svg, bars_of, columns, log_times, longest_bar
from swabwright.reports.evidence_table import NO_BARS, evidence_table, longest_words
from swabwright.reports.findings_scene import sites_seen
from swabwright.reports.footprints import floor
from swabwright.reports.sampled import Sampled

PLANT = smokehouse()
FOUND = findings(PLANT)
ALL = [bar for weight in FOUND.weights for bar in bars_of(FOUND, weight)]


def test_the_columns_are_the_likeliest_three():
    assert columns(FOUND) == tuple(place.name for place in FOUND.places[:3])


def test_twice_the_odds_is_log_two():
    assert log_times(0.5, 100 * (0.5 - 1 / 3)) == pytest.approx(log(2.0))


@settings(deadline=None, derandomize=True)
@given(st.floats(0.05, 0.95), st.floats(-4.0, 4.0))
def test_a_result_that_adds_points_makes_it_more_likely(chance, points):
    assert (log_times(chance, points) > 0) == (points > 0) or abs(points) < 1e-9


def test_a_result_that_moves_too_little_has_no_bar():
    assert all(abs(bar.log_times) >= log(1.15) for bar in ALL if bar)
    assert None in ALL


def test_the_longest_bar_fills_its_half():
    longest = longest_bar(ALL)
    assert f"h{HALF_MM:.2f}v" in bar_svg(longest, longest)


def test_less_likely_is_hatched_to_the_left():
    less = next(bar for bar in ALL if bar and bar.log_times < 0)
    svg = bar_svg(less, longest_bar(ALL))
    assert 'fill="#000"' not in svg
    assert svg.count("<path") == 2


def test_no_bar_is_still_a_centre_line():
    assert bar_svg(None, None).count("<path") == 1


def test_the_longest_bar_is_said_with_the_points_of_the_document():
    words, _ = evidence_table(FOUND, sites_seen(FOUND, ()))
    longest = longest_bar(ALL)
    assert f"{abs(longest.shift.points):.1f} points in 100" in words["longest"]


def test_without_a_bar_the_page_says_so():
    assert longest_words(None, {}) == NO_BARS


def test_a_site_sampled_twice_shows_the_strongest_result_and_both_numbers():
    one = next(used for used in FOUND.results if used.outcome == "detected")
    twice = [
        Sampled("none", "1", "visit-1", one.site, 2, "SP", "not-detected"),
        Sampled(one.sample, "43", "visit-2", one.site, 2, "SP", "detected"),
    ]
    (seen,) = sites_seen(FOUND, twice)
    assert (seen.fill, seen.number, seen.word) == ("detected", "1, 43", "detected")


def test_a_plate_shows_most_dots_and_stays_on_the_floor():
    window = detail_window(PLANT, FOUND.believed, FOUND.stipple, 2.3)
    left, low, right, high = window.bounds
    inside = sum(left <= x <= right and low <= y <= high for x, y in FOUND.stipple.dots)
    assert inside > len(FOUND.stipple.dots) / 2
    assert floor(PLANT).envelope.buffer(0.01).contains(window)


def test_a_plate_fills_its_width_without_margin():
    window = detail_window(PLANT, FOUND.believed, FOUND.stipple, 2.3)
    frame = plate_frame(window, 170.0)
    assert frame.point((window.bounds[0], window.bounds[3])) == pytest.approx((0.0, 0.0))
    assert frame.width_mm / frame.height_mm == pytest.approx(2.3)


def test_dots_all_over_the_plant_need_no_plate():
    rooms = [place.model_copy(update={"place": f"room:{room.id}", "dots": 1000 // len(PLANT.rooms)})
             for place, room in zip(FOUND.believed, PLANT.rooms, strict=False)]  # fmt: skip
    spread = FOUND.stipple.model_copy(
        update={"dots": tuple(site.position for site in PLANT.sites for _ in range(20))[:999]}
    )
    assert detail_window(PLANT, rooms, spread, 2.3) is None
