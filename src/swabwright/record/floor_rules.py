"""Before a sample is marked collected: product at stake answered for its line, and what must stand seen standing.

Held against the times in the entries, not their order in the record: phones reach it in any order.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import NamedTuple

from swabwright.record.authority import Refusal
from swabwright.record.custody import Contradiction
from swabwright.record.entry import Entry, Statement
from swabwright.record.floor import Break, HoldAnswered, LineMoment, StopSeen
from swabwright.record.ground import Ground, SiteAsks
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing


def floor_contradictions(entries: Iterable[Entry], ground: Ground) -> tuple[Contradiction, ...]:
    """Samples that were marked collected without the answer or the stop that their site asks for."""
    counted = standing(entries)
    told = ToldOnTheFloor(counted, ground)
    return tuple(
        Contradiction(entry.number, words)
        for entry in counted
        if isinstance(entry.statement.body, Collected)
        for words, _ in (
            *told.product_unanswered(entry.statement, entry.statement.body),
            *told.not_standing(entry.statement, entry.statement.body),
        )
    )


class Missing(NamedTuple):
    """What was not told for a sample; what to do helps only before it is marked collected."""

    words: str
    remedy: str


class ToldOnTheFloor:
    """What was answered, seen and started, from entries that count."""

    def __init__(self, counted: Iterable[Entry], ground: Ground) -> None:
        self._ground = ground
        self._answers: list[tuple[datetime, str | None]] = []
        self._stops: list[tuple[datetime, StopSeen]] = []
        self._starts: list[tuple[datetime, str]] = []
        for entry in counted:
            self._take(entry.statement)

    def product_unanswered(self, statement: Statement, body: Collected) -> Iterator[Missing]:
        """Why a sample that touches food may not be marked collected yet; nothing when its line was answered for.

        An answer counts from the day of the sample on, and when it was given before the sample was marked.
        """
        asks = self._ground.sites.get(body.site or "")
        if body.sample_kind == "blank" or 1 not in (body.zone, asks.zone if asks else None):
            return
        taken, marked = _taken(statement, body), _moment(statement.at)
        line = asks.line if asks else None
        in_time = [of for at, of in self._answers if at <= marked and (at >= taken or self._ground.together(at, taken))]
        if not any(line is None or of in (None, line) for of in in_time):
            yield _unanswered(body, line, sorted({of for of in in_time if of}))

    def not_standing(self, statement: Statement, body: Collected) -> Iterator[Missing]:
        """Why a sample may not be marked collected while its line runs or its machine is not isolated."""
        asks = self._ground.sites.get(body.site or "")
        if asks is None or body.sample_kind == "blank":
            return
        stop, taken = asks.stop(opened_up=body.opened_up), _taken(statement, body)
        if stop.needs_line_stop and not self._standing(body, asks, taken, isolated=False):
            yield _running(body, f"line {asks.line} to stand" if asks.line else "its machine to stand")
        if stop.needs_isolation and not self._standing(body, asks, taken, isolated=True):
            yield _running(body, "isolation by plant staff")

    def _take(self, statement: Statement) -> None:
        body, at = statement.body, _moment(statement.at)
        match body:
            case HoldAnswered():
                self._answers.append((at, body.line))
            case Refusal(of="hold"):
                asks = self._ground.sites.get(body.site or "")
                self._answers.append((at, body.line or (asks.line if asks else None)))
            case StopSeen():
                self._stops.append((at, body))
            case LineMoment(kind="line_started"):
                self._starts.append((_moment(body.happened_at or statement.at), body.line))
            case Break(line=str(line), ends_at=str(ends_at)):
                # Nobody may have entered the start: in doubt the line runs when its break is over.
                self._starts.append((_moment(ends_at), line))

    def _standing(self, body: Collected, asks: SiteAsks, taken: datetime, *, isolated: bool) -> bool:
        """Whether a stop was seen for the site in time, after which nobody started the line again."""
        for at, seen in self._stops:
            for_site = seen.site == body.site
            # A stop holds for the whole line; isolation of one site's machine does not hold for another's.
            for_line = seen.line == asks.line and not (isolated and seen.site is not None)
            if (for_site or for_line) and (seen.isolated_by or not isolated) and self._in_time(at, taken):
                lines = {seen.line, asks.line}
                # Times are whole seconds: in doubt the start came after the stop, and the line runs.
                if not any(at <= started <= taken and line in lines for started, line in self._starts):
                    return True
        return False

    def _in_time(self, at: datetime, taken: datetime) -> bool:
        return at <= taken and self._ground.together(at, taken)


def _taken(statement: Statement, body: Collected) -> datetime:
    return _moment(body.taken_at or statement.at)


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def _unanswered(body: Collected, line: str | None, answered: list[str]) -> Missing:
    whose = f"product of line {line}" if line else "product"
    others = f" (answered: {', '.join(answered)})" if answered else ""
    return Missing(
        f"sample {body.sample} touches food (zone 1), but nobody has answered whether {whose} is held{others}",
        f"enter hold_answered{f' for line {line}' if line else ''}, or refusal of hold, first",
    )


def _running(body: Collected, what: str) -> Missing:
    words = f"sample {body.sample} at {body.site} needs {what}, and no stop_seen says so for the time it was taken"
    because = f"; taken all the same, because: {body.without_stop}" if body.without_stop else ""
    return Missing(
        f"{words}, with no start of the line after it{because}", "sample another site, or enter stop_seen first"
    )
