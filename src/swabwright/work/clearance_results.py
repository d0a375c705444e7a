"""Which results were found before any action, which since, and which a later action leaves without meaning."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from swabwright.case.investigation import Visit
from swabwright.detection.items import Item
from swabwright.detection.observed import Observations, Observed
from swabwright.spread.bank import ResponseBank
from swabwright.work.clearance_actions import ActionDone


@dataclass(frozen=True)
class Course:
    """Visits with results against the actions that count: before any of them, between, and after the last.

    A visit is after an action when it starts after it.
    """

    before: tuple[Visit, ...]
    between: tuple[Visit, ...]
    rounds: tuple[Visit, ...]
    actions: tuple[ActionDone, ...]
    """Those that count, in order of time."""

    @property
    def moments(self) -> tuple[datetime, ...]:
        """The moments at which banks are treated, in order: of actions between the same two visits, the last."""
        last: dict[int, datetime] = {}
        for one in self.actions:
            if one.at is not None:
                gap = self._gap(one.at)
                last[gap] = max(one.at, last.get(gap, one.at))
        return tuple(last[gap] for gap in sorted(last))

    def moment_of(self, at: datetime) -> int:
        """Number of the moment at which an action done then is read."""
        return sorted({self._gap(one.at) for one in self.actions if one.at is not None}).index(self._gap(at))

    def _gap(self, at: datetime) -> int:
        """How many visits had begun by then."""
        return sum(visit.limits.starts_at <= at for visit in self.visits)

    @property
    def visits(self) -> tuple[Visit, ...]:
        """All of them, in order."""
        return (*self.before, *self.between, *self.rounds)


def course_of(visits: Sequence[Visit], actions: Sequence[ActionDone]) -> Course:
    """Visits with results against the actions of the record."""
    done = tuple(one for one in actions if one.counts)
    times = [one.at for one in done if one.at is not None]
    ordered = sorted(visits, key=lambda visit: visit.limits.starts_at)
    if not times:
        return Course(tuple(ordered), (), (), done)
    first, last = min(times), max(times)
    return Course(
        before=tuple(one for one in ordered if one.limits.starts_at <= first),
        between=tuple(one for one in ordered if first < one.limits.starts_at <= last),
        rounds=tuple(one for one in ordered if one.limits.starts_at > last),
        actions=done,
    )


@dataclass(frozen=True)
class Since:
    """Results by visit, in the order of the visits, and how many were left out because a later action disturbed."""

    before: Observations
    between: tuple[Observed, ...]
    rounds: tuple[tuple[Visit, tuple[Observed, ...]], ...]
    disturbed: int
    materials: int
    """Tests of product or material since the first action, which are not read here."""


def results_since(course: Course, observations: Observations, bank: ResponseBank) -> Since:
    """The results of each part of the course; a rebuilt site is a new site from then on."""
    of = {visit.id: tuple(one for one in observations.results if one.batch == visit.id) for visit in course.visits}
    between = [one for visit in course.between for one in of[visit.id]]
    undisturbed = [one for one in between if not _disturbed_later(course, one, bank)]
    first = min((one.at.date() for one in course.actions if one.at is not None), default=None)
    old = tuple(one for one in observations.materials if first is None or one.day < first)
    batches = {visit.id for visit in course.before}
    return Since(
        # whose strain it is stays with the results, so that facts of another are left out here too
        before=replace(
            observations,
            results=tuple(one for visit in course.before for one in of[visit.id]),
            blanks=tuple(one for one in observations.blanks if one.batch in batches),
            materials=old,
        ),
        between=tuple(replace(one, item=as_rebuilt(course, one.item, bank)) for one in undisturbed),
        rounds=tuple(
            (visit, tuple(replace(one, item=as_rebuilt(course, one.item, bank)) for one in of[visit.id]))
            for visit in course.rounds
        ),
        disturbed=len(between) - len(undisturbed),
        materials=len(observations.materials) - len(old),
    )


def as_rebuilt(course: Course, item: Item, bank: ResponseBank) -> Item:
    """The item with draws and a discrepancy of its own if its site was rebuilt before it is sampled."""
    at = bank.occasions[item.occasion].at
    times = sum(one.at < at for one in _rebuilt(course, item) if one.at is not None)
    return replace(item, draws_key=f"{item.shared_key} rebuilt {times}") if times else item


def _rebuilt(course: Course, item: Item) -> list[ActionDone]:
    return [one for one in course.actions if one.rebuilt and item.site_key in {site.key for site in one.sites}]


def _disturbed_later(course: Course, result: Observed, bank: ResponseBank) -> bool:
    at, key = bank.occasions[result.item.occasion].at, result.item.site_key
    return any(
        one.disturbs and one.at is not None and one.at >= at and key in {site.key for site in one.sites}
        for one in course.actions
    )
