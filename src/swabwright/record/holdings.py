"""Who holds what, and what lies in which container: the table that custody moves samples and isolates in."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import TypeAlias

from swabwright.record.entry import Entry
from swabwright.record.transport import Waybill
from swabwright.record.values import IsolateRef

Held: TypeAlias = str | IsolateRef
"""What a hand holds: a sample, by its number, or an isolate."""


@dataclass(frozen=True)
class Hand:
    """One holder of a sample or isolate, since which time, by which entry."""

    holder: str
    since: str
    entry: int
    by_waybill: bool = False
    """A carrier, whose signature the waybill number and an intact seal stand for."""


def held_words(held: Held) -> str:
    """A sample or an isolate as sentences name it."""
    return f"sample {held}" if isinstance(held, str) else f"isolate {held.isolate} of sample {held.sample}"


@dataclass
class Holdings:
    """Hands of everything held, in order, and the contents of containers."""

    hands: dict[Held, list[Hand]] = field(default_factory=dict)
    lies_in: dict[Held, str] = field(default_factory=dict)
    contents: dict[str, list[Held]] = field(default_factory=dict)
    discarded: dict[IsolateRef, int] = field(default_factory=dict)
    """By which entry."""

    def give(self, entry: Entry, every: Iterable[Held], holder: str) -> None:
        """Another hand holds all of them from this entry on."""
        by_waybill = isinstance(entry.statement.body, Waybill)
        for held in every:
            self.hands.setdefault(held, []).append(Hand(holder, entry.statement.at, entry.number, by_waybill))

    def pack(self, container: str, every: Iterable[Held]) -> None:
        """All of them lie in the container now."""
        unlike = tuple(dict.fromkeys(every))
        self.contents.setdefault(container, []).extend(unlike)
        self.lies_in.update(dict.fromkeys(unlike, container))

    def unpack(self, every: Iterable[Held]) -> None:
        """None of them lies in a container any more."""
        for held in every:
            container = self.lies_in.pop(held, None)
            if container is not None:
                self.contents[container].remove(held)

    def not_held_by(self, held: Held, holder: str) -> Iterator[str]:
        """Why the holder cannot give or pack it; nothing when it is in that hand."""
        hands = self.hands.get(held)
        if not hands:
            yield f"{held_words(held)} {_unknown(held)}, so {holder} does not hold it"
        elif isinstance(held, IsolateRef) and held in self.discarded:
            yield f"{held_words(held)} was discarded (entry {self.discarded[held]})"
        elif hands[-1].holder != holder:
            now = hands[-1]
            since = f"{now.holder} holds it since {now.since} (entry {now.entry})"
            yield f"{held_words(held)} is not with {holder}: {since}"

    def packed_already(self, every: Iterable[Held]) -> Iterator[str]:
        """Those that lie in a container, with its name."""
        yield from (
            f"{held_words(held)} lies in container {self.lies_in[held]}" for held in every if held in self.lies_in
        )

    def never_held(self, every: Iterable[Held], receiver: str) -> Iterator[str]:
        """Those that were in no hand yet, so that nobody can have received them."""
        for held in every:
            if held not in self.hands:
                yield f"{held_words(held)} {_unknown(held)}, so {receiver} cannot have received it"
            elif isinstance(held, IsolateRef) and held in self.discarded:
                yield f"{held_words(held)} was discarded (entry {self.discarded[held]})"


def _unknown(held: Held) -> str:
    return "has not been collected" if isinstance(held, str) else "is not in the record; enter isolate first"
