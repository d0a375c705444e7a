"""One bank is read at the phases of several visits, and says of each what a bank of that visit alone says."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from builders.plants import tiny_plant
from builders.spreads import bank_from, loads, setting_of
from builders.visits import investigation_of, visit_on

from swabwright.case.investigation import EarlierResult, Implicated
from swabwright.detection.occasions import occasion_index
from swabwright.errors import SwabwrightError
from swabwright.spread.clock import FIRST_DATE, clock_of
from swabwright.spread.occasions import PHASES, Besides, timeline_of, timeline_of_visits

FIRST, SECOND, THIRD = visit_on((3, 4)), visit_on((3, 18), "visit-2"), visit_on((4, 29), "round-1", hours=(4, 13))


def of_visits(*visits, besides=None, **changed):
    return timeline_of_visits(investigation_of(*visits, **changed), visits, tiny_plant(), 3.0, besides or Besides())


def hours_by_day(timeline):
    """The lengths of the slots of each day."""
    clock = clock_of(tiny_plant(), timeline, 12)
    days = [FIRST_DATE + timedelta(days=int(unit) // 12) for unit in clock.unit]
    return {day: {h for d, h in zip(days, clock.hours, strict=True) if d == day} for day in days}


@pytest.fixture(scope="module")
def banks():
    """Of the first visit alone, and of two visits."""
    return bank_from(setting_of(when=of_visits(FIRST))), bank_from(setting_of(when=of_visits(FIRST, SECOND)))


def test_one_visit_of_several_is_one_visit():
    whole = investigation_of(FIRST)
    assert of_visits(FIRST) == timeline_of(whole, FIRST, tiny_plant(), 3.0)


def test_occasions_are_named_by_visit_and_phase_in_order_of_time():
    names = [occasion.name for occasion in of_visits(SECOND, FIRST).occasions]
    phases = [phase.replace("_", " ") for phase in PHASES]
    assert names == [f"{visit}: {phase}" for visit in ("visit-1", "visit-2") for phase in phases]


def test_earlier_results_stand_behind_the_visits():
    at = FIRST.limits.starts_at - timedelta(days=9)
    earlier = EarlierResult(site="S001", taken_at=at, device="SP", result="not_detected", said_by="plant")
    occasions = of_visits(FIRST, SECOND, earlier_results=(earlier,)).occasions
    assert [occasion.at for occasion in occasions] == sorted(o.at for o in occasions[:-1]) + [at]


def test_an_item_finds_the_occasion_of_its_own_visit():
    occasions = of_visits(FIRST, SECOND, THIRD).occasions
    for visit in (FIRST, SECOND, THIRD):
        for phase in PHASES:
            found = occasions[occasion_index(occasions, visit, phase)]
            assert found.name == f"{visit.id}: {phase.replace('_', ' ')}"


def test_the_first_visit_reads_as_in_a_bank_of_its_own(banks):
    alone, both = banks
    np.testing.assert_array_equal(both.niche[:, :3], alone.niche)
    np.testing.assert_array_equal(both.founded_before[:, :3], alone.founded_before)
    for number in range(1, 7):
        for occasion in range(3):
            np.testing.assert_array_equal(loads(both, number, number, occasion), loads(alone, number, number, occasion))


def test_the_second_visit_reads_about_as_in_a_bank_of_its_own(banks):
    _, both = banks
    later = bank_from(setting_of(when=of_visits(SECOND)))
    for number in (1, 3, 5):
        ours, theirs = loads(both, number, number, 4), loads(later, number, number, 1)
        assert np.log(ours.mean() / theirs.mean()) == pytest.approx(0, abs=0.15)


def test_slots_are_short_at_every_visit_and_long_between_distant_ones():
    hours = hours_by_day(of_visits(FIRST, SECOND, THIRD))
    fine = {date(2026, *day) for day in ((3, 3), (3, 4), (3, 17), (3, 18), (4, 28), (4, 29))}
    assert {day for day, lengths in hours.items() if lengths == {2.0}} == fine
    assert Counter(len(lengths) for lengths in hours.values()) == {1: len(hours)}
    assert {day for day, lengths in hours.items() if lengths == {24.0}} == {
        date(2026, 3, 19) + timedelta(days=number) for number in range(27)
    }


def test_the_day_of_an_action_is_cut_short():
    action = datetime(2026, 3, 24, 10, tzinfo=UTC)
    assert hours_by_day(of_visits(FIRST, THIRD, besides=Besides(actions=(action,))))[action.date()] == {2.0}


def test_days_of_material_tests_are_kept_and_reached():
    early, late = date(2026, 1, 20), date(2026, 3, 30)
    timeline = of_visits(FIRST, besides=Besides(material_days=(late, early)))
    hours = hours_by_day(timeline)
    assert timeline.product_days == (early, late)
    assert (min(hours), max(hours)) == (early - timedelta(days=12), late)
    assert hours[late] == {8.0}


def test_product_of_a_day_of_a_material_test_carries_what_a_niche_sheds():
    days = (date(2026, 3, 3), date(2026, 3, 20))
    bank = bank_from(setting_of(when=of_visits(FIRST, besides=Besides(material_days=days))))
    slicer = bank.source_names.index(f"{1:032x}")
    assert bank.days == days
    assert (bank.product[:, 0, :, slicer] > 0).mean(axis=0).min() > 0.4


def test_suspected_days_after_the_last_visit_stay_short():
    span = Implicated(line="line-a", first_day=date(2026, 3, 2), last_day=date(2026, 3, 20), said_by="agency")
    assert hours_by_day(of_visits(FIRST, SECOND, implicated=(span,)))[date(2026, 3, 20)] == {2.0}


def test_two_visits_of_one_id_are_refused_by_name():
    with pytest.raises(SwabwrightError, match="two visits are called 'visit-1'"):
        of_visits(FIRST, visit_on((3, 18)))


def test_a_bank_without_a_visit_is_refused():
    with pytest.raises(SwabwrightError, match="name at least one"):
        timeline_of_visits(investigation_of(FIRST), (), tiny_plant(), 3.0)


def test_days_that_are_only_cut_otherwise_change_the_digest():
    plain, cut_short = of_visits(FIRST, THIRD), of_visits(FIRST, THIRD)
    cut_short = replace(cut_short, action_days=(date(2026, 3, 24),))
    assert setting_of(when=plain).digest() != setting_of(when=cut_short).digest()
