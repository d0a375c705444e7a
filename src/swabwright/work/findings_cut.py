"""Which entries findings are made from: those before the first action that was seen or said done."""

from collections.abc import Sequence
from datetime import datetime

from swabwright.case.folder import Case
from swabwright.record.casework import ActionSaidDone, ActionSeenDone
from swabwright.record.entry import Entry
from swabwright.record.laboratory import AmendedResult, Isolate, Result
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing
from swabwright.work.results_view import RecordView


def first_action_done(entries: Sequence[Entry]) -> tuple[datetime, str] | None:
    """When the first action was seen or said done, and which it was; None while none is."""
    done = []
    for entry in standing(entries):
        body, at = entry.statement.body, entry.statement.at
        if isinstance(body, ActionSaidDone):
            done.append((datetime.fromisoformat(body.done_at or at), body.action))
        if isinstance(body, ActionSeenDone):
            done.append((datetime.fromisoformat(at), body.action))
    return min(done, default=None)


def before_actions(case: Case, entries: Sequence[Entry]) -> tuple[tuple[Entry, ...], tuple[str, ...]]:
    """The entries without samples taken after the first action was done, and in sentences which were left out."""
    first = first_action_done(entries)
    if first is None:
        return tuple(entries), ()
    at, action = first
    taken = RecordView(case, entries).taken
    late = {sample for sample, one in taken.items() if datetime.fromisoformat(one.taken_at) >= at}
    kept = tuple(entry for entry in entries if not _speaks_of(entry, late))
    why = f"taken after action '{action}' was seen or said done: it belongs to a clearance round"
    return kept, tuple(f"sample {sample}: {why}" for sample in sorted(late))


def _speaks_of(entry: Entry, samples: set[str]) -> bool:
    body = entry.statement.body
    return isinstance(body, Collected | Result | AmendedResult | Isolate) and body.sample in samples
