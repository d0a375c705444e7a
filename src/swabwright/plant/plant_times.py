"""Times in the plant document that cannot be: no such timezone, hours without length, stops that end first."""

from collections.abc import Iterator, Sequence
from zoneinfo import ZoneInfo, available_timezones

from swabwright.errors import Fault, did_you_mean
from swabwright.plant.document import Plant
from swabwright.plant.times import AgreedStop, Period


def time_faults(plant: Plant) -> Iterator[Fault]:
    """Every impossible time of the plant, with its path."""
    yield from _timezone_faults(plant.timezone)
    for path, periods in _all_periods(plant):
        for row, period in enumerate(periods):
            yield from _period_faults(f"{path}[{row}]", period)
    for place, line in enumerate(plant.lines):
        for row, stop in enumerate(line.agreed_stops):
            yield from _stop_faults(f"lines[{place}].agreed_stops[{row}]", stop)


def _timezone_faults(name: str) -> Iterator[Fault]:
    try:
        ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        # Hundreds of timezones are known: the nearest helps, a list of them does not.
        hint = did_you_mean(name, sorted(available_timezones()))
        yield Fault("timezone", f"no timezone '{name}'{hint.split('; known')[0]}; write a name like Europe/London")


def _all_periods(plant: Plant) -> Iterator[tuple[str, Sequence[Period]]]:
    for kind, field in (
        ("rooms", "in_use"), ("lines", "runs"), ("lines", "breaks"), ("routes", "hours"), ("cleanings", "when"),
    ):  # fmt: skip
        for place, entry in enumerate(getattr(plant, kind)):
            yield f"{kind}[{place}].{field}", getattr(entry, field)


def _period_faults(path: str, period: Period) -> Iterator[Fault]:
    if period.starts_at == period.ends_at:
        yield Fault(path, f"starts and ends at {period.starts_at:%H:%M}; write hours with a length")
    if period.starts_at.tzinfo or period.ends_at.tzinfo:
        yield Fault(path, "has an offset; hours of the week are the plant's own wall clock, write 06:00")


def _stop_faults(path: str, stop: AgreedStop) -> Iterator[Fault]:
    if stop.ends_at <= stop.starts_at:
        yield Fault(f"{path}.ends_at", f"{stop.ends_at.isoformat()} is not after the start; swap them or mend one")
