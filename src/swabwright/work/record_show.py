"""The record said in lines: entries, hands, containers, results, actions, contradictions."""

from collections.abc import Iterator, Sequence
from typing import Any

from swabwright.record.course import actions, course
from swabwright.record.custody import Contradiction, custody
from swabwright.record.entry import Entry
from swabwright.record.floor_rules import floor_contradictions
from swabwright.record.ground import UNKNOWN_GROUND, Ground
from swabwright.record.samples import samples
from swabwright.record.seals import containers
from swabwright.record.standing import superseded

_SHORT = 100


def record_lines(entries: Sequence[Entry], sample: str | None = None, ground: Ground = UNKNOWN_GROUND) -> Iterator[str]:
    """Every entry as a line (those of one sample only, when named), then what the record says together."""
    told = set(samples(entries)[sample].entries) if sample in samples(entries) else set()
    gone = superseded(entries)
    for entry in entries:
        if sample is None or entry.number in told:
            yield _line(entry, gone.get(entry.statement.id))
    yield from _hands(entries, sample)
    yield from contradiction_lines(entries, ground)
    yield from (f"Note on entry {one.entry}: {one.words}." for one in custody(entries).notes)
    if sample is None:
        yield from _containers(entries)
        yield from _actions(entries)
        yield from (f"{moment.knot}: {moment.at} (entry {moment.entry})" for moment in course(entries))


def contradictions(entries: Sequence[Entry], ground: Ground) -> tuple[Contradiction, ...]:
    """What cannot be true, of hands and of the floor, in the order of the record."""
    return tuple(
        sorted((*custody(entries).contradictions, *floor_contradictions(entries, ground)), key=lambda one: one.entry)
    )


def contradiction_lines(entries: Sequence[Entry], ground: Ground) -> Iterator[str]:
    """Each contradiction as a line."""
    yield from (f"Contradiction in entry {one.entry}: {one.words}" for one in contradictions(entries, ground))


def record_document(entries: Sequence[Entry], ground: Ground = UNKNOWN_GROUND) -> dict[str, Any]:
    """The record and what it says together, as plain data."""
    found = custody(entries)
    return {
        "entries": [entry.model_dump(mode="json", exclude_none=True) for entry in entries],
        "hands": {
            sample: [{"holder": hand.holder, "since": hand.since, "entry": hand.entry} for hand in hands]
            for sample, hands in found.hands.items()
        },
        "contradictions": [{"entry": one.entry, "words": one.words} for one in contradictions(entries, ground)],
        "notes": [{"entry": one.entry, "words": one.words} for one in found.notes],
        "containers": {name: facts.facts for name, facts in containers(entries).items()},
    }


def _line(entry: Entry, gone: str | None) -> str:
    statement = entry.statement
    said = statement.body.model_dump(mode="json", exclude_none=True, exclude={"kind"}, exclude_defaults=True)
    words = ", ".join(f"{name} {_value(value)}" for name, value in said.items())
    tail = f"  [superseded, because: {gone}]" if gone else ""
    kind = statement.body.kind.replace("_", " ")
    return f"{entry.number:>5}  {statement.at}  {statement.by} on {statement.device}: {kind}: {words}{tail}"


def _value(value: Any) -> str:
    if isinstance(value, dict):
        if "sha256" in value:
            return str(value["sha256"])[:12]
        return "; ".join(f"{name} {_value(one)}" for name, one in value.items())
    text = ", ".join(map(_value, value)) if isinstance(value, list) else str(value)
    return text if len(text) <= _SHORT else f"{text[: _SHORT - 3]}..."


def _hands(entries: Sequence[Entry], sample: str | None) -> Iterator[str]:
    found = custody(entries)
    for number, hands in found.hands.items():
        if sample in (None, number):
            yield f"Sample {number}: " + ", then ".join(f"{hand.holder} since {hand.since}" for hand in hands)


def _containers(entries: Sequence[Entry]) -> Iterator[str]:
    for name, facts in containers(entries).items():
        yield f"Container {name}: " + "; ".join(facts.facts)


def _actions(entries: Sequence[Entry]) -> Iterator[str]:
    for story in actions(entries).values():
        seen = f"seen done {story.seen_done_at}" if story.seen_done_at else "nobody has seen it done"
        said = f"said done {story.said_done_at}, " if story.said_done_at else ""
        yield f"Action {story.action}: asked {', '.join(story.asked_at) or 'never in this record'}, {said}{seen}"
