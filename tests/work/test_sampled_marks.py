"""Samples as drawings mark them: order of work, what came back, and nothing that has no site."""

from dataclasses import replace

import pytest
from builders.laboratory import BLANK, NUMBERS, SITES, bring, collect, enter, entries_of, results_case, row

from swabwright.case.folder import read_case
from swabwright.work.sampled_marks import containers_before, sampled_of


def marks(case):
    return {one.number: one for one in sampled_of(read_case(case), entries_of(case))}


def test_every_collected_surface_has_its_mark_and_a_blank_has_none(tmp_path):
    made = marks(results_case(tmp_path))
    assert {NUMBERS[at] for at in (0, 1, 2, 3, 4, 6, 9)} == set(made)
    assert NUMBERS[BLANK] not in made


def test_a_mark_stands_at_its_site_with_its_order_of_work(tmp_path):
    made = marks(results_case(tmp_path))
    assert made[NUMBERS[1]].site == SITES[1][0]
    assert [made[NUMBERS[at]].order for at in (0, 3, 9)] == ["1", "4", "10"]


@pytest.mark.parametrize(("result", "fill"), [("detected", "detected"), ("not detected", "not-detected"),
                                              ("presumptive", "presumptive")])  # fmt: skip
def test_a_mark_is_filled_by_what_came_back(tmp_path, result, fill):
    case = results_case(tmp_path)
    bring(case, [row(0, result)], status="preliminary" if result == "presumptive" else "final")
    assert marks(case)[NUMBERS[0]].fill == fill


def test_without_a_result_a_mark_is_not_yet_known(tmp_path):
    assert {one.fill for one in marks(results_case(tmp_path)).values()} == {"not-yet-known"}


def test_a_sample_that_no_plan_holds_has_the_number_before_it_and_a_letter(tmp_path):
    case = results_case(tmp_path)
    later = collect(10, site="S054", zone=3, sample_kind="surface", taken_at="2026-03-05T09:57:00+00:00")
    enter(case, later)
    assert marks(case)[NUMBERS[10]].order == "10a"


def test_orders_of_work_go_on_from_visit_to_visit(tmp_path):
    case = read_case(results_case(tmp_path))
    (plan,) = case.accepted
    second = plan.model_copy(update={"visit": "visit-2", "visit_date": plan.visit_date.replace(day=20)})
    both = replace(case, accepted=(second, plan))
    assert containers_before(both, "visit-1") == 0
    assert containers_before(both, "visit-2") == containers_before(case, "visit-2") == len(plan.samples)
