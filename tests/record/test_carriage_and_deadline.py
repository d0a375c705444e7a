"""Journeys of containers and the deadline clock, as folds over the record."""

import json

import pytest
from builders.loggers import WHO, enter, file_of, packed_case, received, run
from builders.statements import NUMBERS

from swabwright.plant.registry import load_figures
from swabwright.record.carriage import carriages
from swabwright.record.deadline import deadlines
from swabwright.record.journal import read_record
from swabwright.record.moments import seconds_of, zone_of
from swabwright.record.readings import Stretch

A, B = NUMBERS[:2]
NOON_NEXT_DAY = seconds_of("2026-03-06T12:00:00+01:00")


@pytest.fixture
def case(tmp_path):
    return packed_case(tmp_path)


def clock(case, sample=A, as_of=NOON_NEXT_DAY):
    return deadlines(read_record(case), load_figures(), as_of)[sample]


def reported(case, at):
    """A report and a result of sample A whose analysis started at a time."""
    report = {"laboratory": "State laboratory", "accession": "L-9", "status": "final", "authorised_by": "Dr Fay Oka"}
    file = file_of(case, name="report.csv")
    run("record", "add", case, "report_received", json.dumps(report), *WHO, "--file", file)
    digest = read_record(case)[-1].statement.body.file.sha256
    said = {"outcome": "not_detected", "organism": "Listeria monocytogenes", "method": "culture", "report": digest}
    return enter(case, "result", "2026-03-09T10:00:00+01:00", sample=A, analysis_started_at=at, **said)


def test_a_journey_runs_from_packing_to_receipt(case):
    received(case)
    (one,) = carriages(read_record(case))
    assert (one.container, list(one.samples), one.loggers) == ("K-1", [A, B], ["TL-1"])
    assert one.window(NOON_NEXT_DAY).minutes == 13


def test_a_container_on_the_way_runs_until_now(case):
    (one,) = carriages(read_record(case))
    begins = seconds_of("2026-03-05T14:22:00+01:00")
    assert (one.received_at, one.window(NOON_NEXT_DAY)) == (None, Stretch(begins, NOON_NEXT_DAY))


def test_a_container_packed_again_begins_another_journey(case):
    received(case)
    enter(case, "collected", "16:00", sample=NUMBERS[2], sample_kind="surface", site="S015", zone=3, device="SP")
    enter(case, "container_packed", "16:05", container="K-1", samples=[NUMBERS[2]])
    assert [list(one.samples) for one in carriages(read_record(case))] == [[A, B], [NUMBERS[2]]]


def test_a_receipt_of_one_sample_leaves_the_journey_open_for_the_other(case):
    lab = {"laboratory": "State laboratory", "received_by": "Cy Moe", "condition": "cold"}
    enter(case, "laboratory_receipt", "15:00", samples=[A], **lab)
    (one,) = carriages(read_record(case))
    assert (one.samples[B], one.received_at) == (None, None)


def test_hours_run_until_now_while_no_analysis_has_started(case):
    found = clock(case)
    assert (found.analysis_started_at, found.hours) == (None, 22.0)
    assert (found.target_left_hours, found.limit_left_hours) == (2.0, 26.0)


def test_hours_end_with_the_start_of_the_first_analysis(case):
    received(case)
    reported(case, "2026-03-06T08:30:00+01:00")
    assert clock(case).hours == 18.5
    assert clock(case, B).analysis_started_at is None


def test_the_limit_ends_so_many_hours_after_collection(case):
    found = clock(case, B)
    assert found.limit_ends == seconds_of("2026-03-07T14:10:00+01:00")
    assert str(zone_of(found.collected_at)) == "UTC+01:00"


def test_past_the_target_what_is_left_is_below_nothing(case):
    assert clock(case, as_of=seconds_of("2026-03-07T15:00:00+01:00")).target_left_hours == -25.0


def test_a_sample_taken_before_its_entry_counts_from_when_it_was_taken(case):
    when = "2026-03-05T13:00:00+01:00"
    fields = {"sample_kind": "surface", "site": "S015", "zone": 3, "device": "SP", "taken_at": when}
    enter(case, "collected", "16:00", sample=NUMBERS[2], **fields)
    assert clock(case, NUMBERS[2]).hours == 23.0
