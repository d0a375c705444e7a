"""The cold chain of every container: what its loggers say from packing to receipt, and the series for the engine."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.plant.figures import Figures
from swabwright.record.carriage import Carriage, carriages
from swabwright.record.deadline import SECONDS_AN_HOUR, deadlines
from swabwright.record.entry import Entry
from swabwright.record.excursions import Excursion, Limits, excursions
from swabwright.record.kinetic_temperature import mean_kinetic_c
from swabwright.record.moments import seconds_of
from swabwright.record.readings import Readings, Stretch, known_lines, not_known
from swabwright.work.logger_files import LoggerOfContainer


@dataclass(frozen=True)
class LoggerFacts:
    """What one logger says of one journey of a container; C, seconds since 1970 UTC."""

    logger: LoggerOfContainer
    window: Stretch
    lines: tuple[Readings, ...]
    """Unbroken runs of readings between packing and receipt."""
    not_known: tuple[Stretch, ...]
    excursions: tuple[Excursion, ...]
    mean_kinetic_c: float | None

    @property
    def known_minutes(self) -> float:
        """Minutes of the journey in which the temperature is known."""
        return self.window.minutes - sum(stretch.minutes for stretch in self.not_known)


@dataclass(frozen=True)
class ContainerSeries:
    """Temperatures since the first sample of a container was collected, for the engine; hours, C."""

    container: str
    logger: str
    hours_to_analysis: dict[str, float]
    """By sample: from its collection to the start of analysis, or until now."""
    series: tuple[TemperatureSeries, ...]
    """Unbroken runs, hours from the first collection."""
    not_known_hours: float
    """Between the first collection and the receipt, without a reading."""
    mean_kinetic_c: float | None


def limits_of(figures: Figures) -> Limits:
    """The temperatures that the rulebook allows on the way."""
    return Limits(*(figures.number(f"rule.transport_temperature_{end}_c") for end in ("low", "high")))


def logger_facts(carriage: Carriage, logger: LoggerOfContainer, figures: Figures, as_of: int) -> LoggerFacts:
    """Excursions, mean kinetic temperature and what is not known while the container held samples."""
    window = carriage.window(as_of)
    lines = known_lines(logger.readings, window, figures.number("cold_chain.gap_intervals"))
    return LoggerFacts(
        logger,
        window,
        lines,
        not_known(lines, window),
        excursions(lines, limits_of(figures)),
        mean_kinetic_c(lines, figures.number("cold_chain.activation_energy_kj_per_mol")),
    )


def container_series(
    entries: Sequence[Entry], loggers: Sequence[LoggerOfContainer], figures: Figures, as_of: int
) -> tuple[ContainerSeries, ...]:
    """The known temperatures of every journey of every container, one for each logger in it.

    What share stays alive is for the engine: it has hours to analysis, the runs of readings, and how long nothing is
    known. as_of: seconds since 1970 UTC, where no receipt or start of analysis is in the record.
    """
    clocks = deadlines(entries, figures, as_of)
    found = []
    for carriage in carriages(entries):
        hours = {sample: clocks[sample].hours for sample in carriage.samples if sample in clocks}
        collected = min(seconds_of(clocks[sample].collected_at) for sample in hours)
        for logger in loggers:
            if logger.container == carriage.container:
                facts = logger_facts(carriage, logger, figures, as_of)
                found.append(_series(facts, hours, collected))
    return tuple(found)


def _series(facts: LoggerFacts, hours: dict[str, float], collected: int) -> ContainerSeries:
    runs = [line for line in facts.lines if len(line.seconds) > 1]
    known = sum(run.seconds[-1] - run.seconds[0] for run in runs)
    return ContainerSeries(
        facts.logger.container,
        facts.logger.logger,
        hours,
        tuple(
            TemperatureSeries(tuple((at - collected) / SECONDS_AN_HOUR for at in run.seconds), run.temperatures_c)
            for run in runs
        ),
        (facts.window.ends - collected - known) / SECONDS_AN_HOUR,
        facts.mean_kinetic_c,
    )
