"""Custody and cold chain of a case in sentences and as plain data."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from swabwright.case.words import counted
from swabwright.record.carriage import Carriage
from swabwright.record.custody import Hand
from swabwright.record.deadline import Deadline
from swabwright.record.moments import read_zone, said_at, written, zone_of
from swabwright.record.readings import Stretch
from swabwright.record.seals import ContainerFacts
from swabwright.work.cold_chain import LoggerFacts, limits_of
from swabwright.work.cold_chain_said import deadline_said, logger_lines
from swabwright.work.custody_story import CustodyStory, Journey

WHO_DECIDES = "These are facts of the record. What they mean is decided and signed by the laboratory and the lead."
BOTH_ENDS = {
    True: "Seals at both ends: set last and found are the same, found intact.",
    False: "Seals at both ends: set last and found differ, or it was found not intact.",
    None: "Seals at both ends: the laboratory has not entered which seal it found.",
}


def custody_lines(story: CustodyStory) -> Iterator[str]:
    """Every container with its facts, then every sample with its hands and its clock."""
    for journey in story.journeys:
        yield _heading(journey.carriage)
        yield from (f"  {line}" for line in _journey_lines(journey, story))
    for one in story.loggers_elsewhere:
        yield f"Container {one.container}: data of logger {one.logger}, but no sample was packed in it."
    for sample, hands in story.hands.items():
        yield f"Sample {sample}: in the hand of {hands[-1].holder}. {_hands(hands, story.hand_words)}."
        if sample in story.deadlines:
            yield f"  {deadline_said(story.deadlines[sample])}"
    yield from (f"Contradiction in entry {one.entry}: {one.words}" for one in story.contradictions)
    yield from (f"Note on entry {one.entry}: {one.words}." for one in story.notes)
    yield f"As of {said_at(story.as_of, _zone(story))}. {WHO_DECIDES}"


def _zone(story: CustodyStory) -> Any:
    first = next(iter(story.deadlines.values()), None)
    return zone_of(first.collected_at) if first else read_zone("UTC")


def _heading(carriage: Carriage) -> str:
    received = carriage.received_at
    end = f"at the laboratory {received}" if received else "not yet at the laboratory by this record"
    count = counted(len(carriage.samples), "sample")
    return f"Container {carriage.container}: {count}, packed {carriage.packed_at}, {end}."


def _journey_lines(journey: Journey, story: CustodyStory) -> Iterator[str]:
    carriage = journey.carriage
    yield f"In it: {', '.join(carriage.samples)}."
    yield from (f"Seal, {fact}." for fact in journey.seals.facts)
    yield BOTH_ENDS[journey.seals.same_at_both_ends] if journey.seals.facts else "No seal is in the record."
    if journey.seals.incidents:
        yield f"Seals opened or found changed on the way: {journey.seals.incidents}."
    if not journey.loggers:
        yield "No logger data are in the record; temperatures on the way are not known."
    for facts in journey.loggers:
        yield from logger_lines(carriage, facts, story.figures)
    for receipt in carriage.receipts:
        tenths = receipt.temperature_tenths_c
        probe = f" by probe {receipt.probe}" if receipt.probe else ""
        measured = "no temperature entered" if tenths is None else f"{tenths / 10:.1f} °C{probe}"
        yield f"At receipt by {receipt.laboratory}: {measured}; condition: {receipt.condition}."


def _hands(hands: tuple[Hand, ...], words: dict[int, str]) -> str:
    said = [
        f"{hand.holder} since {hand.since}" + (f" ({words[hand.entry]})" if hand.entry in words else "")
        for hand in hands
    ]
    return ", then ".join(said)


def custody_document(story: CustodyStory) -> dict[str, Any]:
    """Custody and cold chain as plain data; times as RFC 3339, temperatures in C."""
    return {
        "as_of": written(story.as_of, _zone(story)),
        "limits": asdict(limits_of(story.figures)),
        "containers": [_journey_data(journey) for journey in story.journeys],
        "samples": {
            sample: {
                "holder": hands[-1].holder,
                "hands": [{**asdict(hand), "words": story.hand_words.get(hand.entry)} for hand in hands],
                "deadline": _deadline_data(story.deadlines[sample]) if sample in story.deadlines else None,
            }
            for sample, hands in story.hands.items()
        },
        "contradictions": [asdict(one) for one in story.contradictions],
        "notes": [asdict(one) for one in story.notes],
        "decided_by": WHO_DECIDES,
    }


def _journey_data(journey: Journey) -> dict[str, Any]:
    carriage = journey.carriage
    return {
        "container": carriage.container,
        "packed_at": carriage.packed_at,
        "received_at": carriage.received_at,
        "samples": carriage.samples,
        "packed_loggers": carriage.loggers,
        "seals": _seal_data(journey.seals),
        "loggers": [_logger_data(facts, carriage) for facts in journey.loggers],
        "receipts": [one.model_dump(mode="json", exclude_none=True) for one in carriage.receipts],
    }


def _seal_data(seals: ContainerFacts) -> dict[str, Any]:
    return {"facts": seals.facts, "incidents": seals.incidents, "same_at_both_ends": seals.same_at_both_ends}


def _logger_data(facts: LoggerFacts, carriage: Carriage) -> dict[str, Any]:
    zone = read_zone(facts.logger.time_zone) if facts.logger.time_zone else zone_of(carriage.packed_at)

    def stretch(one: Stretch) -> dict[str, Any]:
        return {"begins": written(one.begins, zone), "ends": written(one.ends, zone), "minutes": one.minutes}

    return {
        "logger": facts.logger.logger,
        "not_read": facts.logger.faults,
        "known_minutes": facts.known_minutes,
        "not_known": [stretch(one) for one in facts.not_known],
        "mean_kinetic_c": facts.mean_kinetic_c,
        "excursions": [
            {**asdict(one), **stretch(Stretch(one.begins, one.ends)), "worst_at": written(one.worst_at, zone)}
            for one in facts.excursions
        ],
    }


def _deadline_data(clock: Deadline) -> dict[str, Any]:
    zone = zone_of(clock.collected_at)
    return {
        "collected_at": clock.collected_at,
        "analysis_started_at": clock.analysis_started_at,
        "hours": clock.hours,
        "target_hours": clock.target_hours,
        "target_left_hours": clock.target_left_hours,
        "target_ends": written(clock.target_ends, zone),
        "limit_hours": clock.limit_hours,
        "limit_left_hours": clock.limit_left_hours,
        "limit_ends": written(clock.limit_ends, zone),
    }
