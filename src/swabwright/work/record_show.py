"""The record said in lines: entries, hands, containers, results, actions, contradictions."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

from swabwright.record.concerning import concerning
from swabwright.record.course import ActionStory, actions, course
from swabwright.record.custody import Contradiction, Custody, Hand, Note, custody
from swabwright.record.entry import Entry
from swabwright.record.expiry import expired_devices
from swabwright.record.floor_rules import floor_contradictions
from swabwright.record.ground import UNKNOWN_GROUND, Ground
from swabwright.record.samples import samples
from swabwright.record.seals import containers
from swabwright.record.standing import superseded
from swabwright.record.strange_names import strange_names
from swabwright.work.record_line import entry_line


def record_lines(entries: Sequence[Entry], sample: str | None = None, ground: Ground = UNKNOWN_GROUND) -> Iterator[str]:
    """Every entry as a line (those of one sample only, when named), then what the record says together."""
    told, gone = _told(entries, sample), superseded(entries)
    numbers = {entry.statement.id: entry.number for entry in entries}
    if sample is not None and not told:
        yield f"No entry speaks of sample {sample}."
    yield from (entry_line(one, numbers, gone.get(one.statement.id)) for one in entries if one.number in told)
    yield from _hands(entries, sample)
    yield from _contradiction_lines(one for one in contradictions(entries, ground) if one.entry in told)
    yield from (f"Note on entry {one.entry}: {one.words}." for one in notes(entries, ground) if one.entry in told)
    if sample is None:
        yield from _containers(entries)
        yield from _actions(entries)
        yield from (f"{moment.knot}: {moment.at} (entry {moment.entry})" for moment in course(entries))


def contradictions(entries: Sequence[Entry], ground: Ground) -> tuple[Contradiction, ...]:
    """What cannot be true, of hands and of the floor, in the order of the record."""
    return tuple(
        sorted((*custody(entries).contradictions, *floor_contradictions(entries, ground)), key=lambda one: one.entry)
    )


def notes(entries: Sequence[Entry], ground: Ground) -> tuple[Note, ...]:
    """What entries leave untold, names that the plant has not, devices used too late, in the order of the record."""
    found = (*custody(entries).notes, *strange_names(entries, ground), *expired_devices(entries, ground))
    return tuple(sorted(found, key=lambda one: one.entry))


def _contradiction_lines(found: Iterable[Contradiction]) -> Iterator[str]:
    yield from (f"Contradiction in entry {one.entry}: {one.words}" for one in found)


def _told(entries: Sequence[Entry], sample: str | None) -> frozenset[int]:
    return frozenset(one.number for one in entries) if sample is None else concerning(entries, sample)


def record_document(
    entries: Sequence[Entry], sample: str | None = None, ground: Ground = UNKNOWN_GROUND
) -> dict[str, Any]:
    """The record and what it says together, as plain data; of one sample only, when named."""
    found, told = custody(entries), _told(entries, sample)
    stories = {name: story for name, story in samples(entries).items() if sample in (None, name)}
    return {
        "entries": [one.model_dump(mode="json", exclude_none=True) for one in entries if one.number in told],
        "hands": {name: _hand_data(hands) for name, hands in found.hands.items() if sample in (None, name)},
        "isolates": _isolate_data(found, sample),
        "contradictions": [asdict(one) for one in contradictions(entries, ground) if one.entry in told],
        "notes": [asdict(one) for one in notes(entries, ground) if one.entry in told],
        "results": {
            name: [one.model_dump(mode="json", exclude_none=True) for one in story.results]
            for name, story in stories.items()
            if story.results
        },
        **(_of_the_case(entries) if sample is None else {}),
    }


def _hand_data(hands: Iterable[Hand]) -> list[dict[str, Any]]:
    return [{"holder": hand.holder, "since": hand.since, "entry": hand.entry} for hand in hands]


def _isolate_data(found: Custody, sample: str | None) -> list[dict[str, Any]]:
    return [
        {**isolate.model_dump(), "hands": _hand_data(hands), "discarded_by_entry": found.discarded.get(isolate)}
        for isolate, hands in found.isolates.items()
        if sample in (None, isolate.sample)
    ]


def _of_the_case(entries: Sequence[Entry]) -> dict[str, Any]:
    return {
        "containers": {name: facts.facts for name, facts in containers(entries).items()},
        "actions": {name: _action_data(story) for name, story in actions(entries).items()},
        "moments": [asdict(one) for one in course(entries)],
    }


def _action_data(story: ActionStory) -> dict[str, Any]:
    names = ("asked_at", "promised_at", "said_done_at", "seen_done_at", "kind_of_action", "disturbs_site")
    return {name: getattr(story, name) for name in names}


def _hands(entries: Sequence[Entry], sample: str | None) -> Iterator[str]:
    found = custody(entries)
    for number, hands in found.hands.items():
        if sample in (None, number):
            yield f"Sample {number}: {_one_after_another(hands)}"
    for isolate, hands in found.isolates.items():
        if sample in (None, isolate.sample):
            gone = found.discarded.get(isolate)
            end = f", then discarded (entry {gone})" if gone else ""
            yield f"Isolate {isolate.isolate} of sample {isolate.sample}: {_one_after_another(hands)}{end}"


def _one_after_another(hands: Iterable[Hand]) -> str:
    return ", then ".join(f"{hand.holder} since {hand.since}" for hand in hands)


def _containers(entries: Sequence[Entry]) -> Iterator[str]:
    for name, facts in containers(entries).items():
        yield f"Container {name}: " + "; ".join(facts.facts)


def _actions(entries: Sequence[Entry]) -> Iterator[str]:
    for story in actions(entries).values():
        seen = f"seen done {story.seen_done_at}" if story.seen_done_at else "nobody has seen it done"
        said = f"said done {story.said_done_at}, " if story.said_done_at else ""
        yield f"Action {story.action}: asked {', '.join(story.asked_at) or 'never in this record'}, {said}{seen}"
