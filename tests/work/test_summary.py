"""The sentences of a plan: each from its figures, none that claims more than they do."""

import pytest
from builders.papers import plan
from builders.smokehouse import smokehouse

from swabwright.work.summary import summary

PLAN = plan(smokehouse())


def told(**changed):
    return " ".join(summary(PLAN.model_copy(update=changed)))


def test_the_chance_comes_first_with_range_and_bound():
    first, *_ = summary(PLAN)
    assert first.startswith("If it lives in this plant, these ")
    assert first.endswith("in 100, under these assumptions.")


def test_a_bound_that_bounds_nothing_is_not_given_as_one():
    assert "could be cannot be said" in told(upper_bound=0.999)
    assert "does better than" not in told(upper_bound=0.999)


@pytest.mark.parametrize(("basis", "warned"), [("range uncertain: few copies; bank B", True), ("range; bank B", False)])
def test_an_uncertain_range_is_said_to_be_one(basis, warned):
    chance = PLAN.chance_of_finding.model_copy(update={"basis": basis})
    assert ("Take the range with caution: few copies." in told(chance_of_finding=chance)) is warned


def test_it_ends_with_what_it_was_tested_on():
    assert summary(PLAN)[-1].startswith("Tested on simulated plants only.")
