"""When a site that needs its line to stand can be sampled: the line's breaks, agreed stops and idle hours."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from swabwright.case.investigation import Visit
from swabwright.detection.windows import standing_spans
from swabwright.errors import LimitsClash
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.spread.hours import joined


class StopMissing(LimitsClash):
    """A site whose line never stands long enough when the walk gets there; says which stop to agree."""

    def __init__(self, stop: WalkStop, sentence: str) -> None:
        self.stop = stop
        super().__init__(sentence)


@dataclass(frozen=True)
class Window:
    """Minutes of the visit, counted from its start, in which a line stands."""

    opens: float
    closes: float

    @property
    def minutes(self) -> float:
        """How long the line stands."""
        return self.closes - self.opens


def windows_of(stop: WalkStop, plant: Plant, visit: Visit) -> tuple[Window, ...] | None:
    """The windows in which a stop of the walk fits whole, in order; None when its line need not stand."""
    return windows_for(stop, plant, line_windows(plant, visit))


def windows_for(stop: WalkStop, plant: Plant, windows: Mapping[str, Sequence[Window]]) -> tuple[Window, ...] | None:
    """Of the windows given by line id those in which a stop fits whole; None when its line need not stand.

    A site without a line stands alone: its machine is stopped by agreement, at no fixed hour.
    """
    line = line_of(stop, plant) if stop.halt.needs_line_stop else None
    if line is None:
        return None
    return tuple(window for window in windows[line.id] if window.minutes >= minutes_needed(stop))


def line_windows(plant: Plant, visit: Visit) -> dict[str, tuple[Window, ...]]:
    """When each line stands during a visit, in order, by line id."""
    return {line.id: _windows(line, plant, visit) for line in plant.lines}


def joined_windows(windows: Iterable[Window]) -> tuple[Window, ...]:
    """The windows in order, those that touch or overlap made one."""
    whole: list[Window] = []
    for window in sorted(windows, key=lambda one: (one.opens, one.closes)):
        if whole and window.opens <= whole[-1].closes:
            whole[-1] = Window(whole[-1].opens, max(whole[-1].closes, window.closes))
        else:
            whole.append(window)
    return tuple(whole)


def _windows(line: Line, plant: Plant, visit: Visit) -> tuple[Window, ...]:
    start = visit.limits.starts_at
    spans = joined(standing_spans(line, plant, visit))
    return tuple(Window(_minutes(start, opens), _minutes(start, closes)) for opens, closes in spans)


def line_of(stop: WalkStop, plant: Plant) -> Line | None:
    """The line that a stop's site, or the machine it belongs to, is part of."""
    site = stop.at.site
    machine = next((one for one in plant.equipment if one.id == site.equipment), None)
    name = site.line or (machine.line if machine else None)
    return next((line for line in plant.lines if line.id == name), None)


def minutes_needed(stop: WalkStop) -> float:
    """Minutes for which the line must stand: the plant's own figure, at least the time at the site."""
    return max(stop.minutes, stop.halt.minutes_down)


def stop_is_missing(stop: WalkStop, plant: Plant, visit: Visit) -> str | None:
    """The sentence that says which stop nobody has agreed yet, None when the line stands long enough sometime."""
    return None if windows_of(stop, plant, visit) != () else no_stop_sentence(stop, plant, visit)


def no_stop_sentence(stop: WalkStop, plant: Plant, visit: Visit) -> str:
    """Which stop has to be agreed with the plant before this site can be sampled."""
    line, limits = line_of(stop, plant), visit.limits
    name = line.name if line else "its line"
    hours = f"{limits.starts_at:%H:%M} and {limits.ends_at:%H:%M}"
    return (
        f"{stop.code} ({stop.at.site.name}) needs {name} to stand for {minutes_needed(stop):g} minutes, "
        f"and no break or agreed stop between {hours} leaves them when the walk gets there; "
        f"agree a stop of {name} with the plant, or leave the site out"
    )


def _minutes(start: datetime, moment: datetime) -> float:
    return (moment - start).total_seconds() / 60
