"""Use case: what the record says of every container and sample on the way; facts, for others to decide upon."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from swabwright.case.folder import case_figures
from swabwright.plant.figures import Figures
from swabwright.record.carriage import Carriage, carriages
from swabwright.record.custody import Contradiction, Hand, Note, custody
from swabwright.record.deadline import Deadline, deadlines
from swabwright.record.entry import Entry
from swabwright.record.journal import read_record
from swabwright.record.seals import ContainerFacts, containers
from swabwright.record.standing import standing
from swabwright.record.transport import HandOver, Waybill
from swabwright.work.cold_chain import LoggerFacts, logger_facts
from swabwright.work.logger_files import LoggerOfContainer, loggers_of


@dataclass(frozen=True)
class Journey:
    """One journey of a container with everything that the record says of it."""

    carriage: Carriage
    seals: ContainerFacts
    loggers: tuple[LoggerFacts, ...]


@dataclass(frozen=True)
class CustodyStory:
    """Containers, hands and clocks of one case at one moment."""

    as_of: int
    """Seconds since 1970 UTC."""
    figures: Figures
    journeys: tuple[Journey, ...]
    hands: dict[str, tuple[Hand, ...]]
    """By sample, in order."""
    hand_words: dict[int, str]
    """By entry: purpose, condition, seals or waybill as entered."""
    deadlines: dict[str, Deadline]
    contradictions: tuple[Contradiction, ...]
    notes: tuple[Note, ...]
    loggers_elsewhere: tuple[LoggerOfContainer, ...]
    """Logger files of containers in which no sample was packed."""


def custody_story(case: Path, as_of: int) -> CustodyStory:
    """Everything the record of the case folder says of custody and cold chain as of a moment; writes nothing."""
    entries, figures = read_record(case), case_figures(case)
    loggers = loggers_of(case, entries, figures)
    found, journeys = custody(entries), carriages(entries)
    return CustodyStory(
        as_of,
        figures,
        tuple(_journey(one, _seals(one, journeys, entries), loggers, (figures, as_of)) for one in journeys),
        found.hands,
        _hand_words(entries),
        deadlines(entries, figures, as_of),
        found.contradictions,
        found.notes,
        tuple(one for one in loggers if one.container not in {journey.container for journey in journeys}),
    )


def _journey(
    carriage: Carriage,
    seals: ContainerFacts,
    loggers: Sequence[LoggerOfContainer],
    under: tuple[Figures, int],
) -> Journey:
    own = tuple(logger_facts(carriage, one, *under) for one in loggers if one.container == carriage.container)
    return Journey(carriage, seals, own)


def _seals(carriage: Carriage, journeys: Sequence[Carriage], entries: Sequence[Entry]) -> ContainerFacts:
    """The seals of this journey alone: a container that goes out again starts without a seal."""
    begins = [one.entry for one in journeys if one.container == carriage.container]
    first = 0 if carriage.entry == begins[0] else carriage.entry
    end = next((one for one in begins if one > carriage.entry), len(entries) + 1)
    own = containers(entry for entry in standing(entries) if first <= entry.number < end)
    return own.get(carriage.container, ContainerFacts(carriage.container))


def _hand_words(entries: Sequence[Entry]) -> dict[int, str]:
    words = {}
    for entry in standing(entries):
        body = entry.statement.body
        if isinstance(body, Waybill):
            words[entry.number] = f"waybill {body.waybill}, seal {body.seal}"
        elif isinstance(body, HandOver):
            intact = {True: "seals intact", False: "seals not intact", None: None}[body.seals_intact]
            words[entry.number] = ", ".join(filter(None, (body.purpose, body.condition, intact)))
    return words
