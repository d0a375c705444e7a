"""Investigations of invented plants over four visits: how samples are chosen, and what the engine believes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from benchmarks.baselines import Baselines
from benchmarks.visit_problems import MINUTES_A_SAMPLE, invented_case
from benchmarks.world.investigations import invented_investigation
from benchmarks.world_truths import InventedTruth
from swabwright.belief.believe import believe
from swabwright.belief.known import Known
from swabwright.belief.prior import ROOM
from swabwright.detection.choices import build_items
from swabwright.detection.items import Item
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.calibration import Forecast
from swabwright.inference.calibration_claims import claim
from swabwright.inference.foreseen import foreseen_chances
from swabwright.inference.information import Informed, choose_informative, settings_of
from swabwright.inference.outcome_paths import foreseen
from swabwright.planning.choose import choose
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import prepare
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import lazy_greedy
from swabwright.planning.problem import Problem
from swabwright.planning.walk_controls import Shares
from swabwright.plant.catalogue import Catalogue
from swabwright.spread.bank import ResponseBank
from swabwright.work.after_results import simulated_after
from swabwright.work.next_choices import labels_in
from swabwright.work.opened import OpenVisit, open_visits
from swabwright.work.read_case import ReadCase, read_bank
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import Simulated, simulated_bank

SAMPLES = (24, 12, 12, 12)
"""Of each visit."""


@dataclass(frozen=True)
class Course:
    """An invented plant with a suspected line, opened over all visits on the one bank that chooses and reads."""

    opened: OpenVisit
    bank: ResponseBank
    line: str
    cluster: str

    def at(self, number: int) -> OpenVisit:
        """One of the visits."""
        return self.opened.on(self.opened.case.investigation.visits[number])

    def before(self) -> Simulated:
        """What is believed before any sample, with the items of the first visit."""
        opened = self.at(0)
        known = Known(opened.case.investigation, opened.setting, self.bank)
        belief = believe(known, round(opened.figures.number("planning.rows")))
        return Simulated(belief, build_items(opened.setting, self.bank))

    @property
    def rooms(self) -> tuple[str, ...]:
        """The room of every source."""
        room_of = {site.key: f"{ROOM}{site.room}" for site in self.opened.case.plant.sites}
        return tuple(room_of.get(name, name) for name in self.bank.source_names)

    def problem(self, number: int, simulated: Simulated) -> Problem:
        """The choice of the samples of one visit."""
        shares = Shares(surface=SAMPLES[number], blanks=0, duplicates=0, judgement=0)
        return samples_problem(self.at(number), simulated, shares, MINUTES_A_SAMPLE * SAMPLES[number])


@dataclass(frozen=True)
class SoFar:
    """What is known at the start of a visit: the posterior after all results, and the visit's number from 0."""

    course: Course
    one: ReadCase
    number: int

    @property
    def detected(self) -> list[str]:
        """Keys of sites with a detection."""
        return sorted({found.item.site_key for found in self.one.observations.results if found.detected})

    @property
    def sampled(self) -> set[str]:
        """Keys of sites with any result."""
        return {found.item.site_key for found in self.one.observations.results}


Way = Callable[[SoFar], Sequence[Item]]


@dataclass(frozen=True)
class Ended:
    """How an investigation ended: what was believed when it stopped, and after how many samples."""

    forecast: Forecast
    rooms: tuple[str, ...]
    samples: int


def open_course(catalogue: Catalogue, seed: int, sites: int, line: str, histories: int) -> Course:
    """The four visits to an invented plant, on bank B."""
    case = invented_case(catalogue, seed, sites, invented_investigation(seed, line, visits=len(SAMPLES)))
    opened = open_visits(case, case.investigation.visits)
    bank = simulated_bank(opened, "B", None, lambda _line: None, histories=histories)
    return Course(opened, bank, line, f"plant {seed}")


def first_plan(course: Course, catalogue: Catalogue, seed: int) -> dict[str, list[Item]]:
    """The samples of the first visit: our plan, and quotas by zone at random."""
    simulated = course.before()
    problem = course.problem(0, simulated)
    quota = Baselines(problem, simulated.items, course.opened.case.plant).quota(np.random.default_rng(seed))
    return {
        "plan": [simulated.items[at] for at in choose(problem).items],
        "quota": [simulated.items[at] for at in quota],
    }


def investigate(course: Course, truth: InventedTruth, first: Sequence[Item], further: Way) -> Ended:
    """One investigation to its end: named once a place passes the bar, or all samples taken."""
    results: list[Observed] = []
    items, bar = first, course.opened.figures.number("inference.claim")
    for number in range(len(SAMPLES)):
        results += _results(truth, items, number)
        one = read_bank(course.at(number), course.bank, Observations(tuple(results)))
        forecast = Forecast(one.after.share, one.after.marginal, _niches(course, truth), course.cluster)
        if claim(forecast, bar) is not None or number == len(SAMPLES) - 1:
            break
        items = further(SoFar(course, one, number + 1))
    return Ended(forecast, course.rooms, len(results))


def by_information(so_far: SoFar) -> list[Item]:
    """The samples that are expected to say most, filled up with those that find most."""
    opened = so_far.course.at(so_far.number)
    one = read_bank(opened, so_far.course.bank, so_far.one.observations)
    simulated = simulated_after(one)
    problem = so_far.course.problem(so_far.number, simulated)
    limits = Limits(problem)
    told = informative(opened, simulated, problem, limits)
    filled = lazy_greedy(Draft(prepare(problem), told), limits, "gain").items
    return [simulated.items[at] for at in filled]


def informative(opened: OpenVisit, simulated: Simulated, problem: Problem, limits: Limits) -> list[int]:
    """Items by expected information about the set of niches, while any stands out from chance."""
    belief = simulated.belief
    chance = foreseen_chances(belief.known, belief.rows, simulated.items)
    keys = (problem.site, problem.tie)
    what = foreseen(chance, belief.rows.weight, labels_in(opened, simulated), keys, opened.case.investigation.seed)
    informed = Informed(what, settings_of(opened.figures))
    picked = choose_informative(informed, (), problem.count, lambda items: limits.completion(items) is not None)
    return [one.item for one in picked]


def around_a_positive(so_far: SoFar) -> list[Item]:
    """The samples nearest to what was detected."""
    course, number = so_far.course, so_far.number
    opened = course.at(number)
    simulated = Simulated(course.before().belief, build_items(opened.setting, course.bank))
    problem = course.problem(number, simulated)
    baselines = Baselines(problem, simulated.items, opened.case.plant)
    places = baselines.nearest(so_far.detected, so_far.sampled, opened.case.catalogue, course.line)
    return [simulated.items[at] for at in places]


def _results(truth: InventedTruth, items: Sequence[Item], number: int) -> list[Observed]:
    found, visit = truth.found(items, truth.reported[number]), f"visit-{number + 1}"
    return [
        Observed(f"{visit} {place:03d}", item, one, visit)
        for place, (item, one) in enumerate(zip(items, found, strict=True))
    ]


def _niches(course: Course, truth: InventedTruth) -> tuple[int, ...]:
    return tuple(course.bank.source_names.index(key) for key in truth.niches)
