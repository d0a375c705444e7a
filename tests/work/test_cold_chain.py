"""The cold chain of a case: facts from the logger's own bytes, and the series that the engine needs."""

import pytest
from builders.loggers import enter, file_of, logged, packed_case, received
from builders.statements import NUMBERS

from swabwright.case.canonical import bytes_hash
from swabwright.detection.predictive.growth import growth_over
from swabwright.detection.predictive.organisms import square_root_of
from swabwright.errors import SwabwrightError
from swabwright.plant.registry import load_figures
from swabwright.record.excursions import Limits
from swabwright.record.journal import read_record
from swabwright.record.moments import seconds_of
from swabwright.record.read_as import ReadAs
from swabwright.work.cold_chain import container_series
from swabwright.work.custody_story import custody_story
from swabwright.work.logger_files import loggers_of
from swabwright.work.read_logger import LoggerEntry, enter_logger, look_at_logger

FIGURES = load_figures()
AS_OF = seconds_of("2026-03-06T14:00:00+01:00")


@pytest.fixture
def case(tmp_path):
    """Packed at 14:22, received at 14:35, with a logger's file from 14:20 to 14:35."""
    logged(packed_case(tmp_path), file_of(tmp_path))
    return tmp_path


def facts(case):
    (journey,) = custody_story(case, AS_OF).journeys
    return journey.loggers[0]


def series(case):
    entries = read_record(case)
    return container_series(entries, loggers_of(case, entries, FIGURES), FIGURES, AS_OF)


def test_only_the_time_from_packing_to_receipt_counts(case):
    received(case)
    (line,) = facts(case).lines
    # Packed between 4.0 C at 14:20 and 6.0 C at 14:25.
    assert line.temperatures_c == pytest.approx((4.8, 6.0, 10.0, 5.0))
    assert facts(case).not_known == ()


def test_an_excursion_outside_the_journey_is_none_of_the_container(case):
    received(case, at="14:26")
    assert facts(case).excursions == ()


def test_two_files_of_one_logger_are_one_series(tmp_path):
    one, other = tmp_path / "whole", tmp_path / "parts"
    rows = ["2026-03-05 14:20,4.0", "2026-03-05 14:25,6.0", "2026-03-05 14:30,10.0", "2026-03-05 14:35,5.0"]
    for folder, parts in ((one, [rows]), (other, [rows[:3], rows[2:]])):
        folder.mkdir()
        packed_case(folder)
        for number, part in enumerate(parts):
            logged(folder, file_of(folder, *part, name=f"{number}.csv"))
    assert facts(one).excursions == facts(other).excursions
    assert facts(one).mean_kinetic_c == pytest.approx(facts(other).mean_kinetic_c, abs=1e-12)


def test_the_cases_own_rulebook_sets_the_limits(case):
    override = 'figure = "rule.transport_temperature_high_c"\nvalue = 4.5\nwho = "Ada Lind"\nwhy = "agency rule"\n'
    (case / "overrides.toml").write_text(f"[[override]]\n{override}")
    assert facts(case).excursions[0].limit_c == 4.5


def test_limits_of_the_rulebook_are_two_and_eight_degrees(case):
    assert {one.limit_c for one in facts(case).excursions} == {Limits(2.0, 8.0).high_c}


def test_a_changed_file_is_told_and_not_read(case):
    kept = next((case / "files").glob("*.csv"))
    kept.write_text(kept.read_text().replace("10.0", "7.0"))
    assert "is not what was entered" in facts(case).logger.faults[0]
    assert facts(case).lines == ()


def test_two_files_that_contradict_are_told_and_neither_counts(case):
    logged(case, file_of(case, "2026-03-05 14:20,4.0", "2026-03-05 14:25,7.0", name="other.csv"))
    assert "two files give 6.0 °C and 7.0 °C for one moment" in facts(case).logger.faults[0]
    assert facts(case).lines == ()


def test_two_loggers_in_one_container_are_two_series(case):
    logged(case, file_of(case, "2026-03-05 14:20,3.0", "2026-03-05 14:40,3.0", name="other.csv"), logger="TL-2")
    assert [one.logger for one in series(case)] == ["TL-1", "TL-2"]


def test_a_file_that_changed_since_it_was_read_is_not_entered(tmp_path):
    path = file_of(packed_case(tmp_path))
    read = look_at_logger(tmp_path, path, ReadAs(time_zone="Europe/Oslo"))
    path.write_text(path.read_text("utf-8").replace("10.0", "7.0"), "utf-8")
    with pytest.raises(SwabwrightError, match="changed while it was read; nothing was entered"):
        enter_logger(tmp_path, LoggerEntry("K-1", "TL-1", path, "Ada Lind", "office-1"), read)
    assert len(read_record(tmp_path)) == 4


def test_a_missing_file_is_told(case):
    next((case / "files").glob("*.csv")).unlink()
    assert "is missing; run swabwright record verify" in facts(case).logger.faults[0]


def test_an_entry_without_how_it_was_read_tells_what_is_needed(tmp_path):
    packed_case(tmp_path)
    file_of(tmp_path)
    enter(tmp_path, "logger_data", "15:00", logger="TL-1", container="K-1", file=kept_file(tmp_path))
    assert "Give --time-zone" in facts(tmp_path).logger.faults[0]


def kept_file(folder):
    """Put the logger's bytes into files/ as record add would."""
    content = (folder / "logger.csv").read_bytes()
    digest = bytes_hash(content)
    (folder / "files").mkdir()
    (folder / "files" / f"{digest}.csv").write_bytes(content)
    return {"sha256": digest, "ending": "csv", "size_bytes": len(content)}


def test_a_superseded_file_no_longer_counts(case):
    last = read_record(case)[-1].statement.id
    enter(case, "superseded", "16:00", entry=last, reason="the file of another logger")
    assert custody_story(case, AS_OF).journeys[0].loggers == ()


def test_the_series_counts_hours_since_the_first_collection(case):
    received(case)
    (one,) = series(case)
    assert one.series[0].hours == pytest.approx((22 / 60, 25 / 60, 30 / 60, 35 / 60))
    assert one.not_known_hours == pytest.approx(22 / 60)
    assert one.hours_to_analysis == {NUMBERS[0]: 24.0, NUMBERS[1]: pytest.approx(23 + 50 / 60)}


def test_the_engine_takes_the_series_as_it_is(case):
    (one,) = series(case)
    grown = growth_over(one.series[0], square_root_of(FIGURES, "listeria_monocytogenes"))
    assert grown.hours == pytest.approx(13 / 60)


def test_known_and_unknown_hours_make_the_time_since_collection(case):
    (one,) = series(case)
    known = sum(run.hours[-1] - run.hours[0] for run in one.series)
    assert known + one.not_known_hours == pytest.approx((AS_OF - seconds_of("2026-03-05T14:00:00+01:00")) / 3600)


def test_a_container_without_logger_gives_no_series(tmp_path):
    assert series(packed_case(tmp_path)) == ()
