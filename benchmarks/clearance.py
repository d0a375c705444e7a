"""Whether 'gone' means gone: rows 16 and 17.

Each investigation has a first visit of 24 samples; those that detect nothing are left out. Then something is done
everywhere that removes every niche with a chance of one half, or does nothing, and six weekly rounds of 20 follow,
planned on bank A and read on bank B. Truths are made without the engine; each is run twice, once with its niches taken
out and once with them left. A claim is made at the first round after which the chance is at least 95 in 100; a truth
that was detected in a round before makes none.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import numpy as np

from benchmarks.study_figures import with_study_figures
from benchmarks.table import Row
from benchmarks.visit_problems import MINUTES_A_SAMPLE
from benchmarks.world.investigations import invented_investigation
from benchmarks.world.plants import make_plant
from benchmarks.world.results import MODES, reports
from benchmarks.world.truths import Truth, make_visits, signalled_seed
from benchmarks.world_truths import ENOUGH, decided, percent
from swabwright.belief.known import Known
from swabwright.belief.prior import make_prior
from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.detection.items import Item
from swabwright.detection.model import detection_model
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.calibration import Estimate, mean_of
from swabwright.inference.clearance import Aftermath, aftermath, mean_rates, with_past
from swabwright.inference.clearance_states import UNTREATED, Fate
from swabwright.inference.labels import merged
from swabwright.inference.particles import particles
from swabwright.inference.posterior import posterior
from swabwright.inference.reading import read
from swabwright.planning.choose import choose_quickly
from swabwright.planning.choose_finds import prepare
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.registry import load_catalogue
from swabwright.spread.bank import BankName
from swabwright.spread.occasions import Besides
from swabwright.work.clearance_ahead import later, problem_left
from swabwright.work.clearance_results import Course
from swabwright.work.opened import OpenVisit, open_visits
from swabwright.work.simulated import simulated_bank

SITES, HISTORIES, FIRST, SAMPLES, ROUNDS, PARTICLES = 100, 600, 24, 20, 6, 4000
PLANTS, TRUTHS = 12, 24
SMALL_PLANTS, SMALL_TRUTHS = 1, 4
CLAIM, REMOVED = 0.95, 0.5
BATCHES = ("first", "round")
BARS = {1: (0.91, 0.95), 2: (0.87, 0.93)}
BANKS: tuple[BankName, ...] = ("A", "B")
NO_ACTIONS = Course((), (), (), ())


@dataclass(frozen=True)
class Rounds:
    """Rounds planned one after another with nothing detected, the chance after each, and with the first repeated."""

    items: tuple[tuple[Item, ...], ...]
    chances: tuple[float, ...]
    repeated: tuple[float, ...]

    @property
    def claimed_after(self) -> int | None:
        """Rounds until the claim, None if six are not enough."""
        return next((number for number, chance in enumerate(self.chances, 1) if chance >= CLAIM), None)


@dataclass(frozen=True)
class Investigated:
    """One invented plant with a suspected line: both banks left and treated, and the samples of the first visit."""

    opened: OpenVisit
    visits: tuple[Visit, ...]
    banks: dict[BankName, tuple[Known, ...]]
    first: tuple[Item, ...]

    def begun(self, name: BankName, found: Sequence[bool]) -> Aftermath:
        """What is believed after the first visit and the action, on one bank."""
        known, case = self.banks[name], self.opened.case
        results = tuple(
            Observed(f"first {item.site_key}", item, one, BATCHES[0])
            for item, one in zip(self.first, found, strict=True)
        )
        names = known[0].bank.source_names
        prior = make_prior(case.plant, case.catalogue, names)
        reading = read(known[0], Observations(results))
        after = posterior(reading, prior)
        fates = [(Fate(1, REMOVED, gone=True), Fate(0, 1.0 - REMOVED, gone=False))] * len(names)
        rows = merged(particles(reading, prior, after, PARTICLES))
        model = detection_model(self.opened.figures)
        return with_past(aftermath(known, rows, fates, model), results, mean_rates(after.states))

    def rounds(self, found: Sequence[bool]) -> Rounds:
        """Six rounds after these first results, each planned on what may be left if nothing was detected so far."""
        planning, reporting = self.begun("A", found), self.begun("B", found)
        repeated, items = reporting, list[tuple[Item, ...]]()
        chances, again = list[float](), list[float]()
        rates = {BATCHES[1]: planning.model.false_positive}
        for number, visit in enumerate(self.visits[1:]):
            items.append(chosen(self.opened.on(visit), planning, SAMPLES))
            silent = _silent(items[-1], number)
            planning, reporting = planning.after(silent, rates), reporting.after(silent, rates)
            repeated = repeated.after(_silent(items[0], number), rates)
            chances.append(reporting.chance_gone)
            again.append(repeated.chance_gone)
        return Rounds(tuple(items), tuple(chances), tuple(again))


def rows(*, full: bool) -> Iterable[Row]:
    """Row 16 at both levels with the study's figures and the product's, then row 17 over all of them."""
    size = (PLANTS, TRUTHS) if full else (SMALL_PLANTS, SMALL_TRUTHS)
    catalogue, planned = load_catalogue(), list[Rounds]()
    for figures, used in (("study's figures", with_study_figures(catalogue)), ("product's defaults", catalogue)):
        for level, bars in BARS.items():
            found = list(_claims(used, level, size, planned))
            estimate = mean_of([gone for gone, _ in found], [plant for _, plant in found])
            yield _claim_row(estimate, f"level {level}, {figures}", bars)
    yield _saturation_row(planned)


def _claims(
    catalogue: Catalogue, level: int, size: tuple[int, int], planned: list[Rounds]
) -> Iterator[tuple[float, str]]:
    """Of every claim whether it was gone, and on which plant."""
    for seed in range(1, size[0] + 1):
        plant = make_plant(catalogue, seed=seed, sites=SITES)
        told: dict[str, list[int]] = defaultdict(list)
        for number in range(size[1]):
            own, line = signalled_seed(plant, catalogue, level=level, seed=seed * 10_000 + number)
            told[line].append(own)
        for line, seeds in sorted(told.items()):
            given = investigated(catalogue, plant, seed, line)
            for own in seeds:
                yield from ((gone, f"plant {seed}") for gone in _of_truth(given, catalogue, (level, own), planned))


def _of_truth(
    given: Investigated, catalogue: Catalogue, truth: tuple[int, int], planned: list[Rounds]
) -> Iterator[float]:
    """1 for a claim while it is gone, 0 for one while it is not, nothing where no claim is made."""
    plant, (level, seed) = given.opened.case.plant, truth
    runs = [make_visits(plant, catalogue, level, seed, ROUNDS + 1, after) for after in (0, None)]
    found = _reported(plant, catalogue, (runs[0][0], seed, 0), given.first)
    if not any(found):
        return
    rounds = given.rounds(found)
    planned.append(rounds)
    for gone, run in zip((1.0, 0.0), runs, strict=True):
        last = rounds.claimed_after or 0
        silent = (
            not any(_reported(plant, catalogue, (run[number], seed, number), rounds.items[number - 1]))
            for number in range(1, last + 1)
        )
        if last and all(silent):
            yield gone


def _reported(plant: Plant, catalogue: Catalogue, truth: tuple[Truth, int, int], items: Sequence[Item]) -> list[bool]:
    """What the laboratory reports of these samples of a truth, by its seed, on a visit."""
    place = {site.key: at for at, site in enumerate(plant.sites)}
    told = reports(truth[0], plant, catalogue, truth[1], truth[2])
    return [bool(told[place[item.site_key], MODES.index(item.mode)]) for item in items]


def investigated(catalogue: Catalogue, plant: Plant, seed: int, line: str) -> Investigated:
    """An invented plant with its banks, and the first visit chosen to find it."""
    investigation = invented_investigation(seed, line)
    first = investigation.visits[0]
    visits = (first, *(later(first, 7 * number, f"round-{number}") for number in range(1, ROUNDS + 1)))
    case, at = Case(Path(), investigation, plant, catalogue, "", None, ()), first.limits.ends_at
    opened = open_visits(case, visits, besides=Besides(actions=(at,)), at=first)
    banks = {name: _banks(opened, at, name) for name in BANKS}
    prior = make_prior(opened.case.plant, catalogue, banks["A"][0].bank.source_names)
    reading = read(banks["A"][0], Observations(()))
    drawn = merged(particles(reading, prior, posterior(reading, prior), PARTICLES))
    left = aftermath(banks["A"], drawn, [UNTREATED] * len(prior.weight), detection_model(opened.figures))
    return Investigated(opened, visits, banks, chosen(opened, left, FIRST))


def _banks(opened: OpenVisit, at: datetime, name: BankName) -> tuple[Known, ...]:
    """The bank with every niche left, and the one with every niche gone after the first visit."""
    responses = [
        simulated_bank(one, name, None, lambda _line: None, histories=HISTORIES)
        for one in (opened, opened.treated("gone", at))
    ]
    return tuple(Known(opened.case.investigation, opened.setting, one) for one in responses)


def chosen(opened: OpenVisit, planning: Aftermath, count: int) -> tuple[Item, ...]:
    """So many samples for what may be left, in 6.5 minutes each, walking left out."""
    problem, items = problem_left(opened, NO_ACTIONS, planning)
    limited = replace(problem, count=count, minutes_available=MINUTES_A_SAMPLE * count)
    return tuple(items[place] for place in choose_quickly(limited, prepare(limited)).items)


def _silent(items: Sequence[Item], number: int) -> tuple[Observed, ...]:
    return tuple(Observed(f"{number} {item.site_key}", item, detected=False, batch=BATCHES[1]) for item in items)


def _claim_row(found: Estimate, told: str, bars: tuple[float, float]) -> Row:
    must, aim = bars
    # the tolerance is how far the bar lies below the claim
    enough = decided(found, CLAIM - must)
    return Row(
        "16",
        f"a claim of 95 in 100 within six rounds means gone, invented world at {told}",
        f"{percent(found)}; n = {found.count} claims",
        f">= {100 * must:g}",
        f"{100 * aim:g}",
        found.value >= must if enough else None,
        "" if enough else f"undecided: fewer than {ENOUGH} claims, or the error is over a third of the tolerance",
    )


def _saturation_row(planned: Sequence[Rounds]) -> Row:
    if not planned:
        return Row("17", "six repeats of one round stay below three planned anew, mean", "nothing", "yes", "yes", None)
    chances, again = (np.mean([getattr(one, name) for one in planned], axis=0) for name in ("chances", "repeated"))
    below = sum(one.repeated[-1] < one.chances[2] for one in planned)
    return Row(
        "17",
        "six repeats of one round stay below three planned anew, mean",
        f"{100 * again[-1]:.1f} against {100 * chances[2]:.1f} in 100, {len(planned)} investigations",
        "yes",
        "yes",
        bool(again[-1] < chances[2]),
        f"in {below} of them one by one; anew {_told(chances)}; again {_told(again)}",
    )


def _told(chances: Sequence[float]) -> str:
    return " ".join(f"{chance:.3f}" for chance in chances)
