"""A visit that is too short or has no containers is refused before anything is simulated."""

import pytest
from builders.cases import limits, quick_case

from swabwright.case.folder import read_case
from swabwright.errors import LimitsClash
from swabwright.work.plan_case import plan_case


def refusal(folder, **changed):
    """What is said of the example under other limits, and the steps that ran before it."""
    path, steps = quick_case(folder), []
    limits(path, **changed)
    case = read_case(path)
    with pytest.raises(LimitsClash) as caught:
        plan_case(case, case.visit(None), cache_folder=None, say=steps.append)
    return str(caught.value), steps


def test_a_visit_of_ten_minutes_is_refused_with_what_would_help(tmp_path):
    told, _ = refusal(tmp_path, ends_at="2026-03-05T09:10:00+00:00")
    assert "'visit-1' lasts 10 minutes" in told
    assert "let it end later or lower judgement_share" in told


def test_a_laboratory_that_takes_one_container_leaves_none_to_choose(tmp_path):
    told, _ = refusal(tmp_path, laboratory_takes=1)
    assert told.startswith("of 1 containers")


@pytest.mark.parametrize("changed", [{"ends_at": "2026-03-05T09:10:00+00:00"}, {"laboratory_takes": 1}])
def test_what_cannot_be_is_refused_before_a_history_is_drawn(tmp_path, changed):
    _, steps = refusal(tmp_path, **changed)
    assert steps == ["Reading the floor, its contacts and the clock"]
