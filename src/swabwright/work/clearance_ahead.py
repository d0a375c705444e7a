"""The rounds to come: each planned on what may be left, and what nothing detected in them would make of the chance."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np

from swabwright.belief.estimate import chance
from swabwright.case.clearance import Gone
from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.case.plan import Chance
from swabwright.detection.choices import build_items
from swabwright.detection.items import Item
from swabwright.detection.observed import Observed
from swabwright.inference.clearance import Aftermath, Rates
from swabwright.inference.clearance_cells import on_remaining
from swabwright.inference.clearance_difference import difference_error
from swabwright.inference.clearance_readings import Readings
from swabwright.planning.choose import choose_quickly
from swabwright.planning.choose_finds import prepare
from swabwright.planning.problem import Problem
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_controls import shares_of
from swabwright.spread.bank import ResponseBank
from swabwright.work.chosen import Chosen, choose_samples
from swabwright.work.clearance_results import Course, as_rebuilt
from swabwright.work.opened import OpenVisit
from swabwright.work.samples_problem import Weighed, weighed_problem

AHEAD = "ahead"
"""Batch of the results that are imagined."""
MIDDLE = 0.5


@dataclass(frozen=True)
class Point:
    """After so many more rounds with nothing detected."""

    samples: int
    gone: Gone
    same_again: Chance


@dataclass(frozen=True)
class Ahead:
    """The next round as chosen with its walk, its chance of finding what may be left, and the rounds to come."""

    chosen: Chosen
    finding: Chance
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Standing:
    """What is believed now, in all readings: of all actions, and of those seen only."""

    every: Readings
    seen: Readings

    def after(self, results: Sequence[Observed], rates: Rates) -> "Standing":
        """The same once these results are known; where every action was seen, both are one."""
        every = self.every.after(results, rates)
        return Standing(every, every if self.seen is self.every else self.seen.after(results, rates))

    @property
    def gone(self) -> Gone:
        """The two figures, and how well the simulated histories tell them apart."""
        apart = self.seen is not self.every
        error = difference_error(self.every.plain, self.seen.plain) if apart else None
        return Gone(all_actions=self.every.chance, seen_only=self.seen.chance, difference_error=error)


def visits_ahead(case: Case, course: Course, count: int, days: int) -> tuple[Visit, ...]:
    """The next visit without an accepted plan after the last action and round, then as many as asked, days apart.

    Where the investigation holds none, the last visit is repeated, whole steps of days later.
    """
    accepted = {plan.visit for plan in case.accepted}
    last = max(
        [*course.moments, *(one.limits.starts_at for one in (*course.visits, *_of(case, accepted)))],
    )
    coming = [one for one in case.investigation.visits if one.id not in accepted and one.limits.starts_at > last]
    if coming:
        first = min(coming, key=lambda one: one.limits.starts_at)
    else:
        latest = max(course.visits, key=lambda one: one.limits.starts_at)
        steps = (last - latest.limits.starts_at) // timedelta(days=days) + 1
        first = later(latest, days * steps, f"{AHEAD}-1")
    return (first, *(later(first, days * number, f"{AHEAD}-{number + 1}") for number in range(1, count)))


def _of(case: Case, names: set[str]) -> Iterator[Visit]:
    return (one for one in case.investigation.visits if one.id in names)


def later(visit: Visit, days: int, name: str) -> Visit:
    """The same visit some days later, under another name."""
    by, limits = timedelta(days=days), visit.limits
    hours = {"starts_at": limits.starts_at + by, "ends_at": limits.ends_at + by}
    return visit.model_copy(update={"id": name, "limits": limits.model_copy(update=hours)})


def look_ahead(
    opened: OpenVisit, course: Course, visits: Sequence[Visit], planning: Aftermath, reporting: Standing
) -> Ahead:
    """The next rounds, planned on one bank and reported on another.

    planning: what is believed now on the bank that chooses. Every round takes what the one before would have shown
    as known; samples after the first round have as many minutes at sites as the first one took.
    """
    first = _choose_first(opened.on(visits[0]), course, planning)
    silent = [_silent(first.items, 1)]
    finding = _finding(reporting.every.plain, silent[0], planning.banks[0].bank)
    points, again, now = [], reporting.every, reporting
    for number, visit in enumerate(visits, 1):
        if number > 1:
            silent.append(_silent(_choose_next(opened.on(visit), course, planning, first), number))
        repeated = _silent(_same(opened.on(visit), course, planning, first.items), number)
        planning = planning.after(silent[-1], _rates(planning))
        now = now.after(silent[-1], _rates(planning))
        again = again.after(repeated, _rates(planning))
        points.append(Point(len(silent[-1]), now.gone, again.chance))
    return Ahead(first, finding, tuple(points))


def problem_left(opened: OpenVisit, course: Course, one: Aftermath) -> tuple[Problem, tuple[Item, ...]]:
    """The choice of a round's samples on states in which a niche remains, and the items of that visit."""
    bank = one.banks[0].bank
    items = tuple(as_rebuilt(course, item, bank) for item in build_items(opened.setting, bank))
    left = one.some(_remaining(one, round(opened.figures.number("clearance.planning_states"))))
    at_niche = on_remaining(left.banks, left.states, items)
    weighed = Weighed(items, left.cells(items), at_niche, left.states.rows.weight, left.past)
    shares = shares_of(opened.visit.limits, opened.figures)
    planner = WalkPlanner(opened.space, opened.figures, opened.visit, shares)
    return weighed_problem(opened, weighed, shares, planner.minutes_available), items


def _remaining(one: Aftermath, count: int) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """States in which a niche remains, by systematic sampling of their weight."""
    weight = np.cumsum(np.where(one.states.gone, 0.0, one.states.rows.weight))
    points = (np.arange(count) + MIDDLE) / count * weight[-1]
    return np.asarray(np.minimum(np.searchsorted(weight, points, side="right"), len(weight) - 1), np.int64)


def _choose_first(opened: OpenVisit, course: Course, planning: Aftermath) -> Chosen:
    problem, items = problem_left(opened, course, planning)
    shares = shares_of(opened.visit.limits, opened.figures)
    return choose_samples(opened, problem, items, WalkPlanner(opened.space, opened.figures, opened.visit, shares))


def _choose_next(opened: OpenVisit, course: Course, planning: Aftermath, first: Chosen) -> tuple[Item, ...]:
    """The next samples without their walk: as many, in as many minutes at sites, as the first round took."""
    problem, items = problem_left(opened, course, planning)
    bounded = replace(problem, count=len(first.items), minutes_available=first.choice.minutes)
    return tuple(items[place] for place in choose_quickly(bounded, prepare(bounded)).items)


def _same(opened: OpenVisit, course: Course, one: Aftermath, items: Sequence[Item]) -> tuple[Item, ...]:
    """The same sites, devices and modes on another visit."""
    bank = one.banks[0].bank
    wanted = {(item.site_key, item.device, item.mode) for item in items}
    every = (as_rebuilt(course, item, bank) for item in build_items(opened.setting, bank))
    return tuple(item for item in every if (item.site_key, item.device, item.mode) in wanted)


def _silent(items: Sequence[Item], number: int) -> tuple[Observed, ...]:
    """Nothing detected in any of these."""
    return tuple(Observed(f"{AHEAD} {number} {item.site_key}", item, detected=False, batch=AHEAD) for item in items)


def _rates(one: Aftermath) -> dict[str, float]:
    return {AHEAD: one.model.false_positive}


def _finding(one: Aftermath, silent: Sequence[Observed], chose: ResponseBank) -> Chance:
    """The chance that these samples detect a niche, if one remains."""
    after = one.ratio(silent, _rates(one))
    chosen = f"samples chosen on {chose.histories:,} histories, bank {chose.bank}"
    basis = f"of the states in which a niche remains; false ones counted; {chosen}"
    return chance(np.clip(1.0 - after, 0.0, 1.0), one.left, basis)
