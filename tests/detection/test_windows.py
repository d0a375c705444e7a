"""When lines stand, and the phase of an area's day; the tiny plant runs 06:00 to 14:00, break 09:30 to 10:00."""

from datetime import UTC, datetime, time

import pytest
from builders.known import visit
from builders.plants import line_a, tiny_plant

from swabwright.detection.windows import minutes_of, phase_at, running_span, standing_spans, stop_span
from swabwright.plant.sites import Stop
from swabwright.plant.times import AgreedStop, Period

PLANT = tiny_plant()
SLICER = PLANT.sites[0]


def moment(hour: int, minute: int = 0) -> datetime:
    """A moment of the visit's Thursday."""
    return datetime(2026, 3, 5, hour, minute, tzinfo=UTC)


def stop(minutes_down: float, needs_line_stop: bool = True) -> Stop:
    """A stop of the line for so many minutes."""
    return Stop(
        needs_line_stop=needs_line_stop,
        needs_isolation=True,
        mechanic=True,
        minutes_down=minutes_down,
        reclean_before_restart=True,
    )


def test_a_line_stands_in_its_break() -> None:
    spans = standing_spans(PLANT.lines[0], PLANT, visit())
    assert spans == [(moment(9, 30), moment(10))]


def test_a_line_stands_before_and_after_it_runs() -> None:
    long = visit(starts_at=moment(4), ends_at=moment(16))
    spans = standing_spans(PLANT.lines[0], PLANT, long)
    assert [(start.hour, end.hour) for start, end in spans] == [(4, 6), (9, 10), (14, 16)]


def test_an_agreed_stop_counts() -> None:
    agreed = AgreedStop(starts_at=moment(11), ends_at=moment(11, 45), agreed_by="shift lead")
    plant = tiny_plant(lines=(line_a(agreed_stops=(agreed,)),))
    span = stop_span(SLICER, stop(40), plant, visit())
    assert span is not None
    assert span[0] == moment(11)


def test_a_stop_longer_than_any_standstill_is_not_possible() -> None:
    assert stop_span(SLICER, stop(40), PLANT, visit()) is None
    assert stop_span(SLICER, stop(30), PLANT, visit()) is not None


@pytest.mark.parametrize("site", [PLANT.sites[0], PLANT.sites[2]])
def test_what_needs_no_line_stop_has_the_whole_visit(site: object) -> None:
    span = stop_span(site, stop(400, needs_line_stop=False), PLANT, visit())  # type: ignore[arg-type]
    assert span is not None
    assert minutes_of(span) == 240


@pytest.mark.parametrize(
    ("hour", "phase"), [(5, "before_start"), (6, "rulebook_hour"), (12, "rulebook_hour"), (13, "last_hour")]
)
def test_phase_follows_the_working_day(hour: int, phase: str) -> None:
    assert phase_at(moment(hour), running_span(SLICER, PLANT, visit())) == phase


def test_a_night_shift_runs_past_midnight() -> None:
    night = Period(days=("thu",), starts_at=time(22), ends_at=time(6))
    plant = tiny_plant(lines=(line_a(breaks=()).model_copy(update={"runs": (night,)}),))
    running = running_span(SLICER, plant, visit())
    assert running is not None
    assert minutes_of(running) == 480


def test_an_idle_day_counts_as_before_the_start() -> None:
    sunday = visit(starts_at=datetime(2026, 3, 8, 8, tzinfo=UTC), ends_at=datetime(2026, 3, 8, 12, tzinfo=UTC))
    assert running_span(SLICER, PLANT, sunday) is None
    assert phase_at(sunday.limits.starts_at, None) == "before_start"
