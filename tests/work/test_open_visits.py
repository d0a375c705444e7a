"""One bank for several visits of a case, treated or not, with as many histories as are asked for."""

from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from swabwright.case.folder import read_case
from swabwright.detection.choices import build_items
from swabwright.spread.occasions import Besides
from swabwright.work.opened import open_visit, open_visits
from swabwright.work.simulated import simulated_bank, usual_histories

CASE = read_case(Path(__file__).parents[2] / "examples/juniper-lane")
FIRST = CASE.visit(None)


def visit_later(days, name):
    by = timedelta(days=days)
    hours = {"starts_at": FIRST.limits.starts_at + by, "ends_at": FIRST.limits.ends_at + by}
    return FIRST.model_copy(update={"id": name, "limits": FIRST.limits.model_copy(update=hours)})


SECOND = visit_later(14, "visit-2")
ACTION = FIRST.limits.ends_at + timedelta(days=3)


@pytest.fixture(scope="module")
def opened():
    return open_visits(CASE, (FIRST, SECOND), besides=Besides(actions=(ACTION,)))


def bank_of(opened, histories=20, cache=None):
    return simulated_bank(opened, "B", cache, lambda _: None, histories=histories)


def test_one_visit_opens_as_it_always_did():
    alone, one_of_one = open_visit(CASE, FIRST), open_visits(CASE, (FIRST,))
    assert alone.bank_setting.digest() == one_of_one.bank_setting.digest()


def test_the_last_visit_is_opened_unless_another_is_named(opened):
    assert opened.visit == SECOND
    assert open_visits(CASE, (FIRST, SECOND), at=FIRST).visit == FIRST
    assert opened.on(FIRST).setting.visit == FIRST


def test_items_of_each_visit_are_read_at_its_own_occasions(opened):
    bank = bank_of(opened)
    for visit in (FIRST, SECOND):
        items = build_items(opened.on(visit).setting, bank)
        assert {bank.occasions[item.occasion].name.split(":")[0] for item in items} == {visit.id}


def test_a_treated_bank_is_the_same_before_the_action(opened):
    left, gone = bank_of(opened), bank_of(opened.treated("gone", ACTION))
    first = [number for number, one in enumerate(left.occasions) if one.at < ACTION]
    later = [number for number, one in enumerate(left.occasions) if one.at > ACTION]
    np.testing.assert_array_equal(gone.niche[:, first], left.niche[:, first])
    assert len(later) > 0
    assert gone.niche[:, later].sum() < 0.5 * left.niche[:, later].sum()


def test_a_reduced_bank_takes_its_range_from_the_figures(opened):
    treatment = opened.treated("reduced", ACTION).bank_setting.treatment
    names = ("treatment.reduced_log10_low", "treatment.reduced_log10_high")
    assert treatment.log10_range == tuple(CASE.figures.number(name) for name in names)


def test_more_histories_leave_those_that_were_kept(opened, tmp_path):
    first = bank_of(opened, 100, tmp_path)
    kept = {path: path.stat().st_ino for path in tmp_path.glob("*.arrays")}
    more = bank_of(opened, 150, tmp_path)
    assert {path: path.stat().st_ino for path in kept} == kept
    assert more.histories == 150
    np.testing.assert_array_equal(more.niche[:100], first.niche)


def test_the_usual_number_of_histories_is_a_figure(opened):
    assert usual_histories(opened) == CASE.figures.number("planning.histories")
    assert usual_histories(opened, more=True) == CASE.figures.number("planning.most_histories")
