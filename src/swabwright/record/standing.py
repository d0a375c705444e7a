"""Which entries count: those that no later entry superseded."""

from collections.abc import Iterable

from swabwright.record.casework import Superseded
from swabwright.record.entry import Entry


def superseded(entries: Iterable[Entry]) -> dict[str, str]:
    """Statement ids that no longer count, each with the reason given."""
    return {body.entry: body.reason for entry in entries if isinstance(body := entry.statement.body, Superseded)}


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that count, in the order of the record."""
    every = tuple(entries)
    gone = superseded(every)
    return tuple(entry for entry in every if entry.statement.id not in gone)
