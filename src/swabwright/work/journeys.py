"""The way of every sample to the laboratory: hours from the record, temperatures from the loggers beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from swabwright.case.investigation import Visit
from swabwright.detection.journey import Journey, kept_on_journey
from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.plant.figures import Figures
from swabwright.record.entry import Entry
from swabwright.record.moments import seconds_of
from swabwright.work.cold_chain import container_series
from swabwright.work.logger_files import loggers_of
from swabwright.work.opened import OpenVisit
from swabwright.work.results_view import RecordView

SECONDS_AN_HOUR = 3600.0


Runs = Mapping[str, tuple[tuple[TemperatureSeries, ...], ...]]
"""For each sample the known temperatures of each logger that travelled with it."""


@dataclass(frozen=True)
class Journeys:
    """Shares still alive at the start of analysis, for every sample of a record."""

    figures: Figures
    view: RecordView
    runs: Runs

    def under(self, figures: Figures) -> "Journeys":
        """The same ways, survived with other figures; logger files are not read again."""
        return replace(self, figures=figures)

    def kept(self, sample: str, visit: Visit) -> float:
        """Share alive of a sample of this visit; of several loggers in one container the worst counts."""
        hours = self._hours(sample)
        known = self.runs.get(sample, ((),))
        journeys = [
            Journey(visit.hours_to_laboratory if hours is None else hours, visit.transport_temperature_c, runs)
            for runs in known
        ]
        return min(kept_on_journey(journey, self.figures) for journey in journeys)

    def _hours(self, sample: str) -> float | None:
        """Hours from collection to the start of analysis; None while no report states it."""
        stated = [one for current in self.view.current.get(sample, ()) for one in current.stated]
        started = [one.body.analysis_started_at for one in stated if one.body.analysis_started_at]
        taken = self.view.taken.get(sample)
        if not started or taken is None:
            return None
        first = min(datetime.fromisoformat(at).timestamp() for at in started)
        return (first - datetime.fromisoformat(taken.taken_at).timestamp()) / SECONDS_AN_HOUR


def journeys_of(opened: OpenVisit, entries: Sequence[Entry]) -> Journeys:
    """The ways of all samples in a record, their logger files read again."""
    return Journeys(opened.figures, RecordView(opened.case, entries), _runs(opened, entries))


def _runs(opened: OpenVisit, entries: Sequence[Entry]) -> Runs:
    loggers = loggers_of(opened.case.path, entries, opened.figures)
    if not loggers:
        return {}
    last = max(seconds_of(entry.statement.at) for entry in entries)
    found: dict[str, tuple[tuple[TemperatureSeries, ...], ...]] = {}
    for series in container_series(entries, loggers, opened.figures, last):
        for sample in series.hours_to_analysis:
            found[sample] = (*found.get(sample, ()), series.series)
    return found
