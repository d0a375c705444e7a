"""What a new entry may not say beside the record as it stands; told with sample, holder and remedy."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from swabwright.errors import SwabwrightError
from swabwright.record.casework import CopiedFromPaper, Superseded
from swabwright.record.custody import custody
from swabwright.record.entry import Entry, Statement
from swabwright.record.floor_rules import ToldOnTheFloor
from swabwright.record.ground import UNKNOWN_GROUND, Ground
from swabwright.record.laboratory import AmendedResult, ReportReceived, Result
from swabwright.record.results import reports
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing, superseded
from swabwright.record.transport import LoggerData
from swabwright.record.values import NO_HASH


class EntryRefused(SwabwrightError):
    """A new entry that cannot be true beside the record; nothing was written."""


def check_new(entries: Sequence[Entry], statement: Statement, ground: Ground = UNKNOWN_GROUND) -> None:
    """Refuse a new statement that contradicts the record; `EntryRefused` says why and what to do.

    `ground` tells lines and stops of the sites; where it knows nothing, any line's answer about product counts.
    """
    words = next(_objections(entries, statement, ground), None)
    if words is not None:
        raise EntryRefused(f"{statement.body.kind}: {words}")


def _objections(entries: Sequence[Entry], statement: Statement, ground: Ground) -> Iterator[str]:
    body = statement.body
    if isinstance(body, Collected):
        yield from _collected(entries, statement, body, ground)
    rule: Callable[[Sequence[Entry], Any], Iterator[str]] | None = _RULES.get(type(body))
    if rule is not None:
        yield from rule(entries, body)
    number = len(entries) + 1
    ahead = Entry(
        format="swabwright/entry", version=1, number=number, previous=NO_HASH, statement=statement, hash=NO_HASH
    )
    after = custody((*entries, ahead)).contradictions
    if not isinstance(body, Superseded):
        yield from (one.words for one in after if one.entry == number)
        return
    # Taking away one hand must not leave later hands in the air.
    wrong_before = {one.entry for one in custody(entries).contradictions}
    yield from (f"then entry {one.entry} would be wrong: {one.words}" for one in after if one.entry not in wrong_before)


def _collected(entries: Sequence[Entry], statement: Statement, body: Collected, ground: Ground) -> Iterator[str]:
    told = ToldOnTheFloor(standing(entries), ground)
    missing = [*told.product_unanswered(statement, body)]
    # A sample that exists must be enterable: with its reason it is entered, and told as a contradiction.
    if body.without_stop is None:
        missing += told.not_standing(statement, body)
    yield from (f"{one.words}; {one.remedy}" for one in missing)


def _result(entries: Sequence[Entry], body: Result) -> Iterator[str]:
    yield from _report(entries, body.report)
    received = reports(entries)
    status = received[body.report].status
    for one in standing(entries):
        before = one.statement.body
        if isinstance(before, Result) and _same_test(before, body):
            first = received[before.report].status if before.report in received else "final"
            # A preliminary report may come beside any other and never takes the place of a final one.
            if before.report == body.report or (status, first) == ("final", "final"):
                yield f"sample {body.sample} has its result in entry {one.number}; only an amended report changes it"
            elif status == "amended":
                yield f"sample {body.sample} has its result in entry {one.number}; enter amended_result beside it"


def _same_test(one: Result, other: Result) -> bool:
    return all(getattr(one, name) == getattr(other, name) for name in ("sample", "organism", "method"))


def _amended(entries: Sequence[Entry], body: AmendedResult) -> Iterator[str]:
    yield from _report(entries, body.report, amended=True)
    first = next((one.statement.body for one in standing(entries) if one.statement.id == body.amends), None)
    if not isinstance(first, Result | AmendedResult) or first.sample != body.sample:
        yield f"entry {body.amends} is no result of sample {body.sample}; name the result that the report amends"


def _report(entries: Sequence[Entry], digest: str, *, amended: bool = False) -> Iterator[str]:
    reports = [one.statement.body for one in standing(entries) if isinstance(one.statement.body, ReportReceived)]
    same = [one for one in reports if one.file.sha256 == digest]
    if not same:
        yield f"no report with the hash {digest} was received; enter report_received with its file first"
    elif amended and not any(one.status == "amended" for one in same):
        yield "the report is not an amended one; only an amended report of the laboratory changes a result"


def _superseded(entries: Sequence[Entry], body: Superseded) -> Iterator[str]:
    target = next((one for one in entries if one.statement.id == body.entry), None)
    if target is None:
        yield f"no entry has the id {body.entry}; nothing to supersede"
    elif isinstance(target.statement.body, Superseded):
        yield f"entry {target.number} supersedes another; enter anew what counts instead"
    elif body.entry in superseded(entries):
        yield f"entry {target.number} is superseded already"


def _copied(entries: Sequence[Entry], body: CopiedFromPaper) -> Iterator[str]:
    if all(one.statement.id != body.entry for one in entries):
        yield f"no entry has the id {body.entry}; enter first what stands on the sheet"


def _logger(entries: Sequence[Entry], body: LoggerData) -> Iterator[str]:
    same = next((one for one in standing(entries) if one.statement.body == body), None)
    if same is not None:
        yield f"this file of logger {body.logger} for container {body.container} is entry {same.number} already"


_RULES: dict[type, Callable[[Sequence[Entry], Any], Iterator[str]]] = {
    Result: _result,
    AmendedResult: _amended,
    Superseded: _superseded,
    CopiedFromPaper: _copied,
    LoggerData: _logger,
}
