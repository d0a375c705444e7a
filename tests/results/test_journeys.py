"""What stays alive of each sample on its own way: hours from the report, temperatures from the loggers beside it."""

from dataclasses import replace

import pytest
from builders.cases import EXAMPLE
from builders.laboratory import NUMBERS, bring, enter, entries_of, results_case, row
from builders.loggers import file_of, logged

from swabwright.case.folder import read_case
from swabwright.work.journeys import journeys_of
from swabwright.work.opened import open_visit

OPENED = open_visit(read_case(EXAMPLE), read_case(EXAMPLE).visit("visit-1"))
WARM_LOG10_A_DAY = 0.2
COLD = ("2026-03-05 16:00,4.0", "2026-03-06 08:00,4.0")
WARM = ("2026-03-05 16:00,20.0", "2026-03-05 20:00,20.0", "2026-03-05 20:30,4.0", "2026-03-06 08:00,4.0")


@pytest.fixture
def case(tmp_path):
    """Samples 2 and 3 packed in K-1 at 14:00 UTC, received at 07:00 the next day."""
    case = results_case(tmp_path)
    two = [NUMBERS[2], NUMBERS[3]]
    enter(
        case,
        {"kind": "container_packed", "container": "K-1", "samples": two, "logger": "TL-1"},
        at="2026-03-05T14:00:00Z",
    )
    return case


def analysed(case, started="2026-03-06 07:30"):
    receipt = {"kind": "laboratory_receipt", "laboratory": "State laboratory", "received_by": "Cy Moe"}
    enter(case, receipt | {"samples": [NUMBERS[2], NUMBERS[3]], "condition": "cold, dry"}, at="2026-03-06T07:00:00Z")
    bring(case, [row(2, Analysis_started=started), row(3, Analysis_started=started), row(9, Analysis_started=started)])


def kept(case, number):
    opened = replace(OPENED, case=read_case(case))
    return journeys_of(opened, entries_of(case)).kept(NUMBERS[number], OPENED.visit)


def test_a_cold_way_keeps_everything_alive(case):
    logged(case, file_of(case.parent, *COLD))
    analysed(case)
    assert kept(case, 2) == 1.0


def test_warm_hours_in_its_own_container_cost_a_sample_and_no_other(case):
    logged(case, file_of(case.parent, *WARM))
    analysed(case)
    assert kept(case, 2) == kept(case, 3) < 1.0
    assert kept(case, 9) == 1.0


def test_of_two_loggers_the_worst_counts(case):
    logged(case, file_of(case.parent, *COLD))
    logged(case, file_of(case.parent, *WARM, name="second.csv"), logger="TL-2")
    analysed(case)
    # warm from 15:00 UTC to 19:00, and for the part of the half hour of cooling above 8 C
    warm_hours = 4 + 0.5 * (20 - 8) / (20 - 4)
    assert kept(case, 2) == pytest.approx(10.0 ** (-WARM_LOG10_A_DAY * warm_hours / 24), rel=1e-6)


def test_without_a_logger_the_agreed_temperature_and_the_hours_of_the_report_count(case):
    analysed(case, "2026-03-07 09:20")
    warm = OPENED.visit.model_copy(update={"transport_temperature_c": 12.0})
    opened = replace(OPENED, case=read_case(case))
    hours = 48.0
    share = journeys_of(opened, entries_of(case)).kept(NUMBERS[2], warm)
    assert share == pytest.approx(10.0 ** (-WARM_LOG10_A_DAY * hours / 24))


def test_before_any_report_the_hours_agreed_for_the_visit_count(case):
    warm = OPENED.visit.model_copy(update={"transport_temperature_c": 12.0})
    opened = replace(OPENED, case=read_case(case))
    share = journeys_of(opened, entries_of(case)).kept(NUMBERS[2], warm)
    assert share == pytest.approx(10.0 ** (-WARM_LOG10_A_DAY * OPENED.visit.hours_to_laboratory / 24))
