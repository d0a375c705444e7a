"""Actions of the record as they are read, and results before, between and after them."""

from datetime import UTC, datetime, timedelta

import pytest
from builders.actions_case import BASIS
from builders.aftermaths import round_at, three_banks
from builders.cases import EXAMPLE
from builders.known import visit
from builders.laboratory import enter, entries_of

from swabwright.case.folder import read_case
from swabwright.detection.observed import Observations
from swabwright.work.clearance_actions import ActionDone, actions_done
from swabwright.work.clearance_results import course_of, results_since

DONE = "2026-03-10T12:00:00+00:00"


CASE = read_case(EXAMPLE)


@pytest.fixture
def folder(tmp_path):
    return tmp_path


def told(folder, *bodies):
    enter(folder, *bodies)
    return actions_done(CASE, entries_of(folder))


def asked(**fields):
    return {"kind": "action_asked", "action": "dry", "kind_of_action": "opened_and_heated", **BASIS, **fields}


def seen(**fields):
    return {"kind": "action_seen_done", "action": "dry", "seen_by": "Ada Lind", "done_at": DONE, **fields}


SAID = {"kind": "action_said_done", "action": "dry", "said_by": "Manager", "done_at": DONE}
PROMISED = {"kind": "action_promised", "action": "dry", "promised_by": "Manager", "method": "heat"}


def test_a_promise_counts_nothing(folder):
    (one,) = told(folder, asked(site="S025"), PROMISED)
    assert (one.known_by, one.counts, one.chance(CASE.figures)) == ("promised", False, 0.0)


def test_what_the_plant_says_counts_half_of_what_was_seen(folder):
    figures = CASE.figures
    (said,) = told(folder, asked(site="S025"), SAID)
    (both,) = told(folder, seen())
    assert said.chance(figures) == pytest.approx(0.5 * both.chance(figures))
    assert both.chance(figures) == figures.number("clearance.gone.opened_and_heated")


def test_an_action_of_no_named_kind_counts_as_the_least(folder):
    (one,) = told(folder, asked(site="S025", kind_of_action="other"), seen())
    assert one.chance(CASE.figures) == CASE.figures.number("clearance.gone.other")


def test_an_action_at_a_machine_treats_all_its_sites(folder):
    (one,) = told(folder, asked(machine="slicer-b"), seen())
    of_machine = {site.key for site in CASE.plant.sites if site.equipment == "slicer-b"}
    assert set(one.sources) == of_machine
    assert len(of_machine) > 1


def test_an_action_at_a_room_treats_what_is_not_drawn_there_too(folder):
    (one,) = told(folder, asked(room="tray-wash"), seen())
    assert "room:tray-wash" in one.sources


def test_an_action_nowhere_is_not_read_and_says_so(folder):
    (one,) = told(folder, asked(), seen())
    assert not one.counts
    assert "names no site" in one.why_unread


def test_an_action_at_an_unknown_site_is_not_read_and_says_so(folder):
    (one,) = told(folder, asked(site="S999"), seen())
    assert "no site that stands in the plant document" in one.why_unread


def test_replacing_disturbs_and_heating_does_not_unless_it_was_seen_to(folder):
    assert not told(folder, asked(site="S025"), seen())[0].disturbs
    assert told(folder, seen(disturbs_site=True))[0].disturbs
    assert told(folder, seen(kind_of_action="replaced_or_rebuilt"))[0].rebuilt


@pytest.fixture(scope="module")
def banks():
    return three_banks(histories=4)


def action(known, at, rows=(0,), *, disturbs=False, kind="opened_and_heated"):
    sites = tuple(site for row in rows for site in known.setting.plant.sites if site.key == known.bank.row_names[row])
    return ActionDone("act", kind, "seen", at, sites, (), disturbs)


def visits(known):
    return tuple(
        visit(id=f"visit-{n}", starts_at=one.at - timedelta(hours=1), ends_at=one.at + timedelta(hours=1))
        for n, one in enumerate(known.bank.occasions)
    )


def split(banks, *actions):
    known = banks[0]
    results = tuple(one for number in range(4) for one in round_at(banks, number, (0, 1)))
    return results_since(course_of(visits(known), actions), Observations(results), known.bank)


def test_rounds_are_visits_after_the_last_action(banks):
    one, other = (action(banks[0], datetime(2026, 3, day, tzinfo=UTC)) for day in (6, 13))
    since = split(banks, one, other)
    assert [visit.id for visit, _ in since.rounds] == ["visit-2", "visit-3"]
    assert {result.batch for result in since.before.results} == {"visit-0"}
    assert {result.batch for result in since.between} == {"visit-1"}


def test_results_before_the_actions_stay_those_of_their_strain(banks):
    course = course_of(visits(banks[0]), [action(banks[0], datetime(2026, 3, 13, tzinfo=UTC))])
    read = Observations(round_at(banks, 0, (0,)), strain="A", several=True)
    before = results_since(course, read, banks[0].bank).before
    assert (before.strain, before.several) == ("A", True)


def test_rounds_before_a_disturbing_action_do_not_count_at_its_sites(banks):
    first = action(banks[0], datetime(2026, 3, 6, tzinfo=UTC), rows=(1,))
    since = split(banks, first, action(banks[0], datetime(2026, 3, 20, tzinfo=UTC), disturbs=True))
    assert since.disturbed == 2
    assert {result.item.row for result in since.between} == {1}


def test_a_rebuilt_site_is_a_new_site_from_then_on(banks):
    since = split(banks, action(banks[0], datetime(2026, 3, 13, tzinfo=UTC), kind="replaced_or_rebuilt"))
    keys = {result.item.row: result.item.shared_key for _, results in since.rounds for result in results}
    assert keys[0] == f"{banks[0].bank.row_names[0]} rebuilt 1"
    assert keys[1] == banks[0].bank.row_names[1]


def test_actions_between_the_same_two_visits_share_a_moment(banks):
    days = [action(banks[0], datetime(2026, 3, day, tzinfo=UTC)) for day in (6, 8, 13)]
    course = course_of(visits(banks[0]), days)
    assert [at.day for at in course.moments] == [8, 13]
    assert [course.moment_of(one.at) for one in days] == [0, 0, 1]


def test_without_actions_everything_was_found_before(banks):
    since = split(banks)
    assert (len(since.before.results), since.between, since.rounds) == (8, (), ())
