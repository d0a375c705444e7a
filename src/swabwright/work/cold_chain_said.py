"""What a logger says of a journey, and the deadline clock, in sentences; facts only."""

from collections.abc import Iterator
from datetime import tzinfo

from swabwright.case.words import counted, hours_and_minutes
from swabwright.plant.figures import Figures
from swabwright.record.carriage import Carriage
from swabwright.record.deadline import Deadline
from swabwright.record.excursions import Excursion
from swabwright.record.moments import read_zone, said_at, said_span, zone_of
from swabwright.record.readings import SECONDS_A_MINUTE, Stretch
from swabwright.work.cold_chain import LoggerFacts, limits_of

MINUTES_AN_HOUR = 60


def logger_lines(carriage: Carriage, facts: LoggerFacts, figures: Figures) -> Iterator[str]:
    """A logger's facts: coverage, extremes, excursions, mean kinetic temperature, what is not known."""
    logger, limits = facts.logger, limits_of(figures)
    zone = read_zone(logger.time_zone) if logger.time_zone else zone_of(carriage.packed_at)
    yield from (f"Logger {logger.logger}: a file was not read. {fault}" for fault in logger.faults)
    if carriage.loggers and logger.logger not in carriage.loggers:
        yield f"Logger {logger.logger}: entered for this container; packed with {', '.join(carriage.loggers)}."
    if facts.lines:
        temperatures = [one for line in facts.lines for one in line.temperatures_c]
        yield (
            f"Logger {logger.logger}: {min(temperatures):.1f} to {max(temperatures):.1f} °C in the "
            f"{hours_and_minutes(facts.known_minutes)} that are known of {hours_and_minutes(facts.window.minutes)}."
        )
        yield from (f"Logger {logger.logger}: {excursion_said(one, zone)}" for one in facts.excursions)
        if not facts.excursions:
            said = f"no known moment above {limits.high_c:.1f} °C or below {limits.low_c:.1f} °C"
            yield f"Logger {logger.logger}: {said}."
    if facts.mean_kinetic_c is not None:
        energy = figures.number("cold_chain.activation_energy_kj_per_mol")
        said = f"mean kinetic temperature {facts.mean_kinetic_c:.1f} °C (activation energy {energy:g} kJ per mol)"
        yield f"Logger {logger.logger}: {said}."
    yield from (f"Logger {logger.logger}: {_not_known(one, zone)}" for one in facts.not_known)


def excursion_said(one: Excursion, zone: tzinfo) -> str:
    """An excursion: 'above 8.0 °C for 11 minutes, from 2026-03-05 14:27 to 14:38 (+01:00), highest 9.2 °C.'"""
    extreme = "highest" if one.side == "above" else "lowest"
    if one.begins == one.ends:
        return f"{one.side} {one.limit_c:.1f} °C in one reading, {said_at(one.begins, zone)}, {one.worst_c:.1f} °C."
    edges = [
        *(["already so at the first known moment"] if one.began_before else []),
        *(["still so at the last known moment"] if one.went_on else []),
    ]
    return (
        f"{one.side} {one.limit_c:.1f} °C for {_lasting(one)}, {said_span(one.begins, one.ends, zone)}, "
        f"{extreme} {one.worst_c:.1f} °C{''.join(f', {edge}' for edge in edges)}."
    )


def _lasting(one: Excursion) -> str:
    """How long to a tenth of a minute, or in seconds under one."""
    if one.ends - one.begins < SECONDS_A_MINUTE:
        return counted(one.ends - one.begins, "second")
    tenths = round(one.minutes, 1)
    return counted(int(tenths), "minute") if tenths.is_integer() else f"{tenths} minutes"


def _not_known(one: Stretch, zone: tzinfo) -> str:
    return f"not known for {hours_and_minutes(one.minutes)}, {said_span(one.begins, one.ends, zone)}."


def deadline_said(clock: Deadline) -> str:
    """A sample's hours: so far or until analysis, what is left of target and limit, and when they end."""
    zone = zone_of(clock.collected_at)
    if clock.hours < 0:
        until = clock.analysis_started_at or f"the moment asked for, {said_at(clock.as_of, zone)}"
        start = "the start of analysis, " if clock.analysis_started_at else ""
        return f"collected {clock.collected_at}; by the record that is later than {start}{until}."
    hours = hours_and_minutes(clock.hours * MINUTES_AN_HOUR)
    if clock.analysis_started_at is None:
        so_far = f"{hours} so far; no start of analysis is in the record"
    else:
        so_far = f"{hours} until analysis started, {clock.analysis_started_at}"
    started = clock.analysis_started_at is not None
    target = _end(clock.target_left_hours, said_at(clock.target_ends, zone), started=started)
    limit = _end(clock.limit_left_hours, said_at(clock.limit_ends, zone), started=started)
    return (
        f"collected {clock.collected_at}; {so_far}; target of {clock.target_hours:g} h: {target}; "
        f"limit of {clock.limit_hours:g} h: {limit}."
    )


def _end(left_hours: float, end: str, *, started: bool) -> str:
    span = hours_and_minutes(abs(left_hours) * MINUTES_AN_HOUR)
    if started:
        return f"{span} {'before' if left_hours >= 0 else 'after'} its end, {end}"
    return f"{span} left, ends {end}" if left_hours >= 0 else f"{span} past, ended {end}"
