"""Results as a fold: what the laboratory says of every sample now, its earlier words kept beside."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from swabwright.record.entry import Entry
from swabwright.record.laboratory import AmendedResult, Isolate, Outcome, ReportReceived, Result
from swabwright.record.standing import standing
from swabwright.record.values import FileRef

RANK = {"preliminary": 0, "final": 1, "amended": 2}
DEFINITE: tuple[Outcome, ...] = ("detected", "not_detected")


@dataclass(frozen=True)
class Stated:
    """One statement of a laboratory about one sample and organism, with the report it stands in."""

    entry: int
    id: str
    body: Result | AmendedResult
    report: ReportReceived

    @property
    def order(self) -> tuple[int, float]:
        """Later in this order counts: amended after final after preliminary, then by the date of the report."""
        dated = self.report.reported_at
        return RANK[self.report.status], datetime.fromisoformat(dated).timestamp() if dated else 0.0


@dataclass(frozen=True)
class CurrentResult:
    """What stands of one sample and organism; everything the laboratory said before is kept beside it."""

    sample: str
    organism: str
    outcome: Outcome | None
    """None when the laboratory's latest words contradict each other: neither is used."""
    latest: Stated
    stated: tuple[Stated, ...]
    """The first words first."""
    contradiction: str | None = None

    @property
    def status(self) -> str:
        """Preliminary, final or amended, as the report says."""
        return self.latest.report.status


def reports(entries: Iterable[Entry]) -> dict[str, ReportReceived]:
    """Every report received, by the hash of its file."""
    found: dict[str, ReportReceived] = {}
    for entry in standing(entries):
        if isinstance(body := entry.statement.body, ReportReceived):
            found.setdefault(body.file.sha256, body)
    return found


def held_apart(entries: Iterable[Entry]) -> tuple[FileRef, ...]:
    """Files with rows that are held apart now, as the last reading of each table left them."""
    last: dict[tuple[str, str], ReportReceived] = {}
    for entry in standing(entries):
        body = entry.statement.body
        if isinstance(body, ReportReceived) and body.table:
            last[body.file.sha256, body.table.sha256] = body
    return tuple(body.held_apart for body in last.values() if body.held_apart)


def current_results(entries: Iterable[Entry]) -> dict[str, tuple[CurrentResult, ...]]:
    """What stands of every sample, one for each organism, by sample number; the order of entering does not matter."""
    every = standing(entries)
    received = reports(every)
    said: dict[tuple[str, str], list[Stated]] = defaultdict(list)
    for entry in every:
        body = entry.statement.body
        if isinstance(body, Result | AmendedResult) and body.report in received:
            one = Stated(entry.number, entry.statement.id, body, received[body.report])
            said[body.sample, body.organism].append(one)
    found: dict[str, tuple[CurrentResult, ...]] = {}
    for (sample, organism), stated in sorted(said.items()):
        found[sample] = (*found.get(sample, ()), _current(sample, organism, stated))
    return found


def _current(sample: str, organism: str, stated: Sequence[Stated]) -> CurrentResult:
    ordered = tuple(sorted(stated, key=lambda one: (one.order, one.body.report, one.body.method)))
    latest = _latest(ordered)
    # a test without a valid result, or a screen, gives way to a definite one that stands beside it
    definite = [one for one in latest if one.body.outcome in DEFINITE]
    screened = [one for one in latest if one.body.outcome == "presumptive"]
    rivals = latest if latest[-1].report.status == "amended" and _reports_of(latest) > 1 else definite
    if len({one.body.outcome for one in rivals}) > 1:
        words = " and ".join(f"{spoken(one.body.outcome)} (entry {one.entry})" for one in rivals)
        told = f"sample {sample}: the laboratory says {words} of {organism}, and nothing tells which is later"
        return CurrentResult(sample, organism, None, latest[-1], ordered, f"{told}; neither is used")
    chosen = (definite or screened or latest)[-1]
    return CurrentResult(sample, organism, chosen.body.outcome, chosen, ordered)


def _latest(ordered: Sequence[Stated]) -> list[Stated]:
    """The statements of the latest standing: those nothing tells to be older than another."""
    top = [one for one in ordered if RANK[one.report.status] == RANK[ordered[-1].report.status]]
    if all(one.report.reported_at for one in top):
        top = [one for one in top if one.order == top[-1].order]
    amended = {one.body.amends for one in top if isinstance(one.body, AmendedResult)}
    return [one for one in top if one.id not in amended]


def _reports_of(stated: Sequence[Stated]) -> int:
    return len({one.body.report for one in stated})


def spoken(outcome: Outcome) -> str:
    """An outcome in words."""
    return outcome.replace("_", " ")


def isolates_now(entries: Iterable[Entry]) -> dict[tuple[str, str], Isolate]:
    """Every isolate by sample and its own name, with what was told of it last: typing may follow in a later report."""
    found: dict[tuple[str, str], Isolate] = {}
    for entry in standing(entries):
        if isinstance(body := entry.statement.body, Isolate):
            before = found.get((body.sample, body.isolate))
            told = {name: value for name, value in body if value is not None}
            found[body.sample, body.isolate] = before.model_copy(update=told) if before else body
    return found
