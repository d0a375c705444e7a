"""What concerns one sample: its own entries, those of its container on the way, and those about either."""

from collections.abc import Iterator, Sequence

from swabwright.record.carriage import Carriage, carriages
from swabwright.record.custody import custody
from swabwright.record.entry import Entry
from swabwright.record.moments import seconds_of
from swabwright.record.transport import LoggerData
from swabwright.record.values import Body


def concerning(entries: Sequence[Entry], sample: str) -> frozenset[int]:
    """Numbers of all entries that concern the sample, those that were superseded too; none when nothing names it."""
    told = {entry.number for entry in entries if sample in _samples(entry.statement.body)}
    found = custody(entries)
    told |= {hand.entry for hand in found.hands.get(sample, ())}
    told |= {hand.entry for one, hands in found.isolates.items() if one.sample == sample for hand in hands}
    for carriage in carriages(entries):
        if sample in carriage.samples:
            told |= set(_on_the_way(entries, carriage, sample))
    ids = {entry.statement.id for entry in entries if entry.number in told}
    for entry in entries:
        body = entry.statement.body
        if {getattr(body, "entry", None), getattr(body, "amends", None)} & ids:
            told.add(entry.number)
            ids.add(entry.statement.id)
    return frozenset(told)


def _samples(body: Body) -> tuple[str, ...]:
    isolates = getattr(body, "isolates", None) or ()
    named = (
        *(getattr(body, "sample", None), getattr(body, "of_sample", None)),
        *getattr(body, "samples", ()),
        *(one.sample for one in isolates),
    )
    return tuple(one for one in named if one is not None)


def _on_the_way(entries: Sequence[Entry], carriage: Carriage, sample: str) -> Iterator[int]:
    """Entries about the container while the sample lay in it; the logger's file comes later and counts too."""
    begins, received = seconds_of(carriage.packed_at), carriage.samples[sample]
    for entry in entries:
        body, at = entry.statement.body, seconds_of(entry.statement.at)
        in_time = begins <= at and (received is None or at <= seconds_of(received) or isinstance(body, LoggerData))
        named = (getattr(body, "container", None), *getattr(body, "containers", ()))
        # What else is packed into the same container is no fact about this sample.
        others = getattr(body, "samples", ()) or getattr(body, "isolates", None)
        if in_time and carriage.container in named and not others:
            yield entry.number
