"""Custody: in whose hand every sample and isolate is, as a fold over the record; each is in exactly one hand.

A phone may bring an entry that cannot be true beside the others (two hands at once). It stays in the record, moves
nothing, and is told as a contradiction; only a new entry is refused for one.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from swabwright.record.entry import Entry
from swabwright.record.holdings import Hand, Held, Holdings, held_words
from swabwright.record.laboratory import Isolate, IsolateDiscarded, IsolateReleased
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing
from swabwright.record.transport import ContainerPacked, HandOver, LaboratoryReceipt, Waybill
from swabwright.record.values import IsolateRef

__all__ = ["Contradiction", "Custody", "Hand", "Note", "custody"]


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
    """Hands of every sample and isolate in order, what lies in which container, what contradicts, what is untold."""

    hands: dict[str, tuple[Hand, ...]] = field(default_factory=dict)
    """By sample."""
    isolates: dict[IsolateRef, tuple[Hand, ...]] = field(default_factory=dict)
    lies_in: dict[Held, str] = field(default_factory=dict)
    contents: dict[str, tuple[Held, ...]] = field(default_factory=dict)
    discarded: dict[IsolateRef, int] = field(default_factory=dict)
    """By which entry; the last hand was its last."""
    contradictions: tuple[Contradiction, ...] = ()
    notes: tuple[Note, ...] = ()

    def holder(self, sample: str) -> str | None:
        """In whose hand the sample is; None before it was collected."""
        hands = self.hands.get(sample)
        return hands[-1].holder if hands else None


def custody(entries: Iterable[Entry]) -> Custody:
    """Where every sample and isolate is after these entries."""
    fold = _Fold()
    for entry in standing(entries):
        fold.take(entry)
    hands = {held: tuple(every) for held, every in fold.held.hands.items()}
    return Custody(
        {held: every for held, every in hands.items() if isinstance(held, str)},
        {held: every for held, every in hands.items() if not isinstance(held, str)},
        fold.held.lies_in,
        {container: tuple(every) for container, every in fold.held.contents.items()},
        fold.held.discarded,
        tuple(fold.contradictions),
        tuple(fold.notes),
    )


class _Fold:
    def __init__(self) -> None:
        self.held = Holdings()
        self.contradictions: list[Contradiction] = []
        self.notes: list[Note] = []
        self._got: set[Held] = set()
        self._released: set[IsolateRef] = set()
        self._moves: dict[type, Callable[[Entry, Any], Iterator[str]]] = {
            Collected: self._collected,
            Isolate: self._isolated,
            IsolateReleased: self._in_writing,
            IsolateDiscarded: self._thrown_away,
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

    def _collected(self, entry: Entry, body: Collected) -> Iterator[str]:
        hands = self.held.hands.get(body.sample)
        if hands:
            now = hands[-1]
            yield f"sample {body.sample} was collected already (entry {hands[0].entry}); {now.holder} holds it"
            return
        self.held.give(entry, [body.sample], body.taken_by or entry.statement.by)

    def _isolated(self, entry: Entry, body: Isolate) -> Iterator[str]:
        isolate = IsolateRef(isolate=body.isolate, sample=body.sample)
        hands = self.held.hands.get(isolate)
        if not hands:
            self.held.give(entry, [isolate], body.held_by)
        elif all(hand.holder != body.held_by for hand in hands):
            # Typing follows later under the name of who picked it; a new name would be a second hand.
            yield from self.held.not_held_by(isolate, body.held_by)
            return
        if body.release is not None:
            self._released.add(isolate)

    def _in_writing(self, entry: Entry, body: IsolateReleased) -> Iterator[str]:
        found = [words for one in body.isolates for words in self._unknown(one, body.released_by)]
        yield from found
        if not found:
            self._released.update(body.isolates)

    def _unknown(self, one: IsolateRef, by: str) -> Iterator[str]:
        if one not in self.held.hands:
            yield f"{held_words(one)} is not in the record; enter isolate before {by} releases it"

    def _thrown_away(self, entry: Entry, body: IsolateDiscarded) -> Iterator[str]:
        every = list(dict.fromkeys(body.isolates))
        found = [words for one in every for words in self.held.not_held_by(one, body.discarded_by)]
        found += [
            f"{held_words(one)} has no written release in the record; enter isolate_released first"
            for one in every
            if one not in self._released
        ]
        yield from found
        if not found:
            self.held.unpack(every)
            self.held.discarded.update(dict.fromkeys(every, entry.number))

    def _packed(self, entry: Entry, body: ContainerPacked) -> Iterator[str]:
        packer, every = body.packed_by or entry.statement.by, _named(body)
        found = [words for held in every for words in self.held.not_held_by(held, packer)]
        found += [f"{words} already" for words in self.held.packed_already(every)]
        # What lies in the container with another holder would be in two hands from here on.
        for held in self.held.contents.get(body.container, ()):
            found += self.held.not_held_by(held, packer)
        yield from found
        if not found:
            self.held.pack(body.container, every)

    def _handed_over(self, entry: Entry, body: HandOver) -> Iterator[str]:
        every = list(_named(body))
        found = [f"{words}; hand over the container" for words in self.held.packed_already(every)]
        for container in body.containers:
            if not self.held.contents.get(container):
                found.append(f"container {container} has no samples in the record; enter what was packed first")
            every += self.held.contents.get(container, ())
        yield from self._moved(entry, every, (body.giver, body.taker), found)

    def _sent(self, entry: Entry, body: Waybill) -> Iterator[str]:
        every = self.held.contents.get(body.container, [])
        found = [] if every else [f"container {body.container} has no samples in the record; enter what was packed"]
        yield from self._moved(entry, every, (body.given_by, body.carrier), found)

    def _moved(self, entry: Entry, moved: Iterable[Held], hands: tuple[str, str], found: list[str]) -> Iterator[str]:
        giver, taker = hands
        every = list(dict.fromkeys(moved))
        found += [words for held in every for words in self.held.not_held_by(held, giver)]
        yield from found
        if not found:
            self.held.give(entry, every, taker)
            for held in every:
                # An isolate may go on to a second laboratory, which has its own receipt.
                if not isinstance(held, str):
                    self._got.discard(held)

    def _received(self, entry: Entry, body: LaboratoryReceipt) -> Iterator[str]:
        every = _named(body)
        found = [*self.held.never_held(every, body.laboratory)]
        # The receipt is the laboratory's own; a hand-over to it may stand before, a second receipt may not.
        found += [f"{held_words(held)} was received by a laboratory already" for held in every if held in self._got]
        yield from found
        if not found:
            self._note_giver(entry, body)
            self.held.give(entry, every, body.laboratory)
            self._got.update(every)
            self.held.unpack(every)

    def _note_giver(self, entry: Entry, body: LaboratoryReceipt) -> None:
        """The receipt names no giver: without a hand-over to the laboratory or a waybill, that step is untold."""
        for held in dict.fromkeys(_named(body)):
            last = self.held.hands[held][-1]
            if not last.by_waybill and last.holder not in (body.laboratory, body.received_by):
                words = (
                    f"{held_words(held)}: no hand-over to {body.laboratory} and no waybill is in the record; "
                    f"{last.holder} held it since {last.since} (entry {last.entry})"
                )
                self.notes.append(Note(entry.number, words))


def _named(body: ContainerPacked | HandOver | LaboratoryReceipt) -> tuple[Held, ...]:
    return *body.samples, *(body.isolates or ())
