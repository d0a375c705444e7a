"""How numbers are said, and how arguments are looked at before anything is computed."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.statistics.answer import Answer, Interval, per_100, shown
from swabwright.detection.statistics.checks import (
    ArgumentRefused,
    count,
    inner_probability,
    one_of,
    positive,
    probability,
    some,
    some_probability,
    within,
)
from swabwright.errors import SwabwrightError


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.0, "0 in 100"),
        (1.0, "100 in 100"),
        (0.95, "95 in 100"),
        (0.9512, "95.1 in 100"),
        (0.0004, "less than 0.1 in 100"),
        (0.9999, "more than 99.9 in 100"),
        (0.999, "99.9 in 100"),
        (0.001, "0.1 in 100"),
    ],
)
def test_a_share_is_said_in_100_and_certainty_only_where_it_is_certain(share, said):
    assert per_100(share) == said


@given(st.floats(1e-12, 1 - 1e-12))
def test_no_share_between_is_said_as_none_or_all(share):
    assert per_100(share) not in ("0 in 100", "100 in 100")


@pytest.mark.parametrize(
    ("value", "said"), [(43.0, "43"), (42.7288, "42.73"), (0.00012345, "0.0001234"), (1098.9, "1099")]
)
def test_a_number_is_said_with_four_digits(value, said):
    assert shown(value) == said


def test_an_interval_says_limits_method_and_level():
    assert str(Interval(0.05, 0.123456, 0.95, "wilson")) == "0.05 to 0.1235, wilson, level 0.95"


def test_an_answer_cannot_be_changed():
    answer = Answer(0.5, "Half.")
    with pytest.raises(AttributeError):
        answer.value = 0.6


@given(st.floats(0.0, 1.0))
def test_a_share_from_0_to_1_passes_unchanged(share):
    assert probability("p", share) == share


@given(
    st.one_of(st.floats(max_value=-1e-9), st.floats(min_value=1.0, exclude_min=True), st.sampled_from([nan, inf, -inf]))
)
def test_anything_else_is_refused_by_its_name(share):
    with pytest.raises(ArgumentRefused, match=r"^p: .* is not a share from 0 to 1") as refused:
        probability("p", share)
    assert refused.value.argument == "p"


@pytest.mark.parametrize(("typed", "meant"), [(5.0, "0.05"), (95.0, "0.95"), (100.0, "1")])
def test_a_percentage_typed_for_a_share_is_recognised(typed, meant):
    with pytest.raises(ArgumentRefused, match=rf"did you mean {meant}\?"):
        probability("level", typed)


@pytest.mark.parametrize("share", [-0.2, 250.0])
def test_what_is_no_percentage_is_not_taken_for_one(share):
    with pytest.raises(ArgumentRefused) as refused:
        probability("level", share)
    assert "did you mean" not in str(refused.value)


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_the_ends_are_refused_where_they_have_no_answer(share):
    with pytest.raises(ArgumentRefused, match="must lie above 0 and below 1"):
        inner_probability("wanted", share)


def test_nothing_at_all_is_refused_where_something_has_to_be_there():
    assert some_probability("p", 1.0) == 1.0
    with pytest.raises(ArgumentRefused, match="p: 0 must be above 0"):
        some_probability("p", 0.0)


@given(st.integers(0, 10**9))
def test_a_whole_number_passes_also_when_typed_with_a_point(number):
    assert count("n", float(number)) == number


@pytest.mark.parametrize("value", [1.5, -1, nan, inf])
def test_what_is_not_a_count_is_refused(value):
    with pytest.raises(ArgumentRefused, match="is not a whole number of 0 or more"):
        count("n", value)


@pytest.mark.parametrize("value", [0.0, -2.0, nan, inf])
def test_what_is_not_above_nothing_is_refused(value):
    with pytest.raises(ArgumentRefused, match=r"amount: .* is not a finite number above 0"):
        positive("amount", value)


def test_a_part_is_not_larger_than_its_whole():
    assert within("detected", 5, "samples", 5) == 5
    with pytest.raises(ArgumentRefused, match="detected: 6 is more than the 5 of samples"):
        within("detected", 6, "samples", 5)


def test_an_unknown_word_is_refused_with_the_known_ones():
    assert one_of("moment", "after", ("before", "after")) == "after"
    with pytest.raises(ArgumentRefused, match="moment: 'during' is not one of: before, after"):
        one_of("moment", "during", ("before", "after"))


def test_an_empty_list_is_refused_as_something_a_person_can_mend():
    some("tubes", [1])
    with pytest.raises(SwabwrightError, match="tubes: give at least one"):
        some("tubes", [])
