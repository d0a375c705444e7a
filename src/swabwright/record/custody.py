"""Custody: in whose hand every sample is, as a fold over the record; a sample is always in exactly one hand.

A phone may bring an entry that cannot be true beside the others (two hands at once). It stays in the record, moves
no sample, and is told as a contradiction; only a new entry is refused for one.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from swabwright.record.entry import Entry
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing
from swabwright.record.transport import ContainerPacked, HandOver, LaboratoryReceipt, Waybill


@dataclass(frozen=True)
class Hand:
    """One holder of a sample, since which time, by which entry."""

    holder: str
    since: str
    entry: int
    by_waybill: bool = False
    """A carrier, whose signature the waybill number and an intact seal stand for."""


@dataclass(frozen=True)
class Contradiction:
    """An entry that cannot be true beside those before it."""

    entry: int
    words: str


@dataclass(frozen=True)
class Note:
    """What an entry leaves untold; nobody is blamed by it and nothing is refused for it."""

    entry: int
    words: str


@dataclass(frozen=True)
class Custody:
    """Hands of every sample in order, which container each lies in, what contradicts and what is untold."""

    hands: dict[str, tuple[Hand, ...]] = field(default_factory=dict)
    lies_in: dict[str, str] = field(default_factory=dict)
    contents: dict[str, tuple[str, ...]] = field(default_factory=dict)
    contradictions: tuple[Contradiction, ...] = ()
    notes: tuple[Note, ...] = ()

    def holder(self, sample: str) -> str | None:
        """In whose hand the sample is; None before it was collected."""
        hands = self.hands.get(sample)
        return hands[-1].holder if hands else None


def custody(entries: Iterable[Entry]) -> Custody:
    """Where every sample is after these entries."""
    fold = _Fold()
    for entry in standing(entries):
        fold.take(entry)
    return Custody(
        {sample: tuple(hands) for sample, hands in fold.hands.items()},
        fold.lies_in,
        {container: tuple(samples) for container, samples in fold.contents.items()},
        tuple(fold.contradictions),
        tuple(fold.notes),
    )


class _Fold:
    def __init__(self) -> None:
        self.hands: dict[str, list[Hand]] = {}
        self.lies_in: dict[str, str] = {}
        self.contents: dict[str, list[str]] = {}
        self.contradictions: list[Contradiction] = []
        self.notes: list[Note] = []
        self._received_samples: set[str] = set()
        self._moves: dict[type, Callable[[Entry, Any], Iterator[str]]] = {
            Collected: self._collected,
            ContainerPacked: self._packed,
            HandOver: self._handed_over,
            Waybill: self._sent,
            LaboratoryReceipt: self._received,
        }

    def take(self, entry: Entry) -> None:
        """Move what the entry moves, or note why it cannot be."""
        body = entry.statement.body
        move = self._moves.get(type(body))
        if move is not None:
            # A move yields its contradictions first and moves only when there were none.
            self.contradictions += [Contradiction(entry.number, words) for words in move(entry, body)]

    def _give(self, entry: Entry, samples: Iterable[str], holder: str) -> None:
        by_waybill = isinstance(entry.statement.body, Waybill)
        for sample in samples:
            self.hands.setdefault(sample, []).append(Hand(holder, entry.statement.at, entry.number, by_waybill))

    def _held_by(self, sample: str, holder: str) -> Iterator[str]:
        hands = self.hands.get(sample)
        if not hands:
            yield f"sample {sample} has not been collected, so {holder} does not hold it"
        elif hands[-1].holder != holder:
            now = hands[-1]
            yield f"sample {sample} is not with {holder}: {now.holder} holds it since {now.since} (entry {now.entry})"

    def _collected(self, entry: Entry, body: Collected) -> Iterator[str]:
        hands = self.hands.get(body.sample)
        if hands:
            now = hands[-1]
            yield f"sample {body.sample} was collected already (entry {hands[0].entry}); {now.holder} holds it"
            return
        self._give(entry, [body.sample], entry.statement.by)

    def _packed(self, entry: Entry, body: ContainerPacked) -> Iterator[str]:
        packer = entry.statement.by
        found = [words for sample in body.samples for words in self._held_by(sample, packer)]
        found += [
            f"sample {sample} lies in container {self.lies_in[sample]} already"
            for sample in body.samples
            if sample in self.lies_in
        ]
        # Samples that are in the container with another holder would be in two hands from here on.
        for sample in self.contents.get(body.container, ()):
            found += self._held_by(sample, packer)
        yield from found
        if not found:
            self.contents.setdefault(body.container, []).extend(dict.fromkeys(body.samples))
            self.lies_in.update(dict.fromkeys(body.samples, body.container))

    def _handed_over(self, entry: Entry, body: HandOver) -> Iterator[str]:
        found, samples = [], list(body.samples)
        for sample in body.samples:
            if sample in self.lies_in:
                found.append(f"sample {sample} lies in container {self.lies_in[sample]}; hand over the container")
        for container in body.containers:
            if not self.contents.get(container):
                found.append(f"container {container} has no samples in the record; enter what was packed first")
            samples += self.contents.get(container, ())
        yield from self._moved(entry, samples, (body.giver, body.taker), found)

    def _sent(self, entry: Entry, body: Waybill) -> Iterator[str]:
        samples = self.contents.get(body.container, [])
        found = [] if samples else [f"container {body.container} has no samples in the record; enter what was packed"]
        yield from self._moved(entry, samples, (body.given_by, body.carrier), found)

    def _moved(self, entry: Entry, samples: Iterable[str], hands: tuple[str, str], found: list[str]) -> Iterator[str]:
        giver, taker = hands
        every = list(dict.fromkeys(samples))
        found += [words for sample in every for words in self._held_by(sample, giver)]
        yield from found
        if not found:
            self._give(entry, every, taker)

    def _received(self, entry: Entry, body: LaboratoryReceipt) -> Iterator[str]:
        found = [
            f"sample {sample} has not been collected, so {body.laboratory} cannot have received it"
            for sample in body.samples
            if sample not in self.hands
        ]
        # The receipt is the laboratory's own; a hand-over to it may stand before, a second receipt may not.
        found += [
            f"sample {sample} was received by a laboratory already"
            for sample in body.samples
            if sample in self._received_samples
        ]
        yield from found
        if not found:
            self._note_giver(entry, body)
            self._give(entry, body.samples, body.laboratory)
            self._received_samples.update(body.samples)
            for sample in body.samples:
                container = self.lies_in.pop(sample, None)
                if container is not None:
                    self.contents[container].remove(sample)

    def _note_giver(self, entry: Entry, body: LaboratoryReceipt) -> None:
        """The receipt names no giver: without a hand-over to the laboratory or a waybill, that step is untold."""
        for sample in dict.fromkeys(body.samples):
            last = self.hands[sample][-1]
            if not last.by_waybill and last.holder not in (body.laboratory, body.received_by):
                words = (
                    f"sample {sample}: no hand-over to {body.laboratory} and no waybill is in the record; "
                    f"{last.holder} held it since {last.since} (entry {last.entry})"
                )
                self.notes.append(Note(entry.number, words))
