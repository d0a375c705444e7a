"""Whether 'gone' means gone: rows 16 and 17.

On each invented plant something is done everywhere that removes a niche with a chance of one half, or does nothing.
Six weekly rounds of 20 are planned on bank A and read on bank B. Truths are made without the engine; each is run
twice, once with its niches taken out and once with them left. A claim is made at the first round after which the
chance is at least 95 in 100; a truth that was detected before makes none.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import numpy as np

from benchmarks.table import Row
from benchmarks.visit_problems import MINUTES_A_SAMPLE
from benchmarks.world.investigations import invented_investigation
from benchmarks.world.plants import make_plant
from benchmarks.world.results import MODES, reports
from benchmarks.world.truths import make_visits, signalled_seed
from benchmarks.world_truths import ENOUGH, percent
from swabwright.belief.known import Known
from swabwright.belief.prior import make_prior
from swabwright.case.folder import Case
from swabwright.detection.items import Item
from swabwright.detection.model import detection_model
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.calibration import Estimate, mean_of
from swabwright.inference.clearance import Aftermath, aftermath
from swabwright.inference.clearance_states import Fate
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

SITES, HISTORIES, SAMPLES, ROUNDS, PARTICLES = 100, 1000, 20, 6, 10_000
PLANTS, TRUTHS = 16, 40
SMALL_PLANTS, SMALL_TRUTHS = 1, 8
CLAIM, REMOVED = 0.95, 0.5
BATCH = "round"
BARS = {1: (0.91, 0.95), 2: (0.87, 0.93)}


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


def rows(*, full: bool) -> Iterable[Row]:
    """Row 16 at both levels, then row 17."""
    plants, truths = (PLANTS, TRUTHS) if full else (SMALL_PLANTS, SMALL_TRUTHS)
    catalogue, planned = load_catalogue(), {}
    for level, bars in BARS.items():
        found = list(_claims(catalogue, level, plants, truths, planned))
        yield _claim_row(mean_of([gone for gone, _ in found], [plant for _, plant in found]), level, bars)
    yield _saturation_row(list(planned.values()))


def _claims(
    catalogue: Catalogue, level: int, plants: int, truths: int, planned: dict[tuple[int, str], Rounds]
) -> Iterator[tuple[float, str]]:
    """Of every claim whether it was gone, and on which plant."""
    for seed in range(1, plants + 1):
        plant = make_plant(catalogue, seed=seed, sites=SITES)
        told: dict[str, list[int]] = defaultdict(list)
        for number in range(truths):
            own, line = signalled_seed(plant, catalogue, level=level, seed=seed * 10_000 + number)
            told[line].append(own)
        for line, seeds in sorted(told.items()):
            if (seed, line) not in planned:
                planned[seed, line] = plan_rounds(catalogue, plant, seed, line)
            for own in seeds:
                for gone in (True, False):
                    if _claimed(planned[seed, line], plant, catalogue, (level, own, gone)):
                        yield float(gone), f"plant {seed}"


def _claimed(rounds: Rounds, plant: Plant, catalogue: Catalogue, truth: tuple[int, int, bool]) -> bool:
    """Whether a truth comes to the claim with nothing detected on the way."""
    level, seed, gone = truth
    last = rounds.claimed_after
    if last is None:
        return False
    place = {site.key: at for at, site in enumerate(plant.sites)}
    visits = make_visits(plant, catalogue, level, seed, last + 1, 0 if gone else None)
    for number in range(1, last + 1):
        told = reports(visits[number], plant, catalogue, seed, number)
        if any(told[place[item.site_key], MODES.index(item.mode)] for item in rounds.items[number - 1]):
            return False
    return True


def plan_rounds(catalogue: Catalogue, plant: Plant, seed: int, line: str) -> Rounds:
    """Six rounds on one plant, each planned on what may be left if nothing was detected so far."""
    investigation = invented_investigation(seed, line)
    first = investigation.visits[0]
    visits = (first, *(later(first, 7 * number, f"round-{number}") for number in range(1, ROUNDS + 1)))
    case = Case(Path(), investigation, plant, catalogue, "", None, ())
    opened = open_visits(case, visits, besides=Besides(actions=(first.limits.ends_at,)), at=visits[1])
    planning, reporting = (_begun(opened, first.limits.ends_at, bank) for bank in ("A", "B"))
    repeated, items, chances, again = reporting, [], [], []
    for visit in visits[1:]:
        items.append(_chosen(opened.on(visit), Course((first,), (), (), ()), planning))
        silent = _silent(items[-1], len(items))
        rates = {BATCH: planning.model.false_positive}
        planning, reporting = planning.after(silent, rates), reporting.after(silent, rates)
        repeated = repeated.after(_silent(items[0], len(items)), rates)
        chances.append(reporting.chance_gone)
        again.append(repeated.chance_gone)
    return Rounds(tuple(items), tuple(chances), tuple(again))


def _begun(opened: OpenVisit, at: datetime, name: BankName) -> Aftermath:
    """What is believed right after the action, with nothing known of where it was but the suspected line."""
    case, banks = opened.case, []
    for one in (opened, opened.treated("gone", at)):
        responses = simulated_bank(one, name, None, lambda _line: None, histories=HISTORIES)
        banks.append(Known(case.investigation, opened.setting, responses))
    names = banks[0].bank.source_names
    prior, reading = make_prior(case.plant, case.catalogue, names), read(banks[0], Observations(()))
    drawn = merged(particles(reading, prior, posterior(reading, prior), PARTICLES))
    fates = [(Fate(1, REMOVED, gone=True), Fate(0, 1.0 - REMOVED, gone=False))] * len(names)
    return aftermath(banks, drawn, fates, detection_model(opened.figures))


def _chosen(opened: OpenVisit, course: Course, planning: Aftermath) -> tuple[Item, ...]:
    problem, items = problem_left(opened, course, planning)
    limited = replace(problem, count=SAMPLES, minutes_available=MINUTES_A_SAMPLE * SAMPLES)
    return tuple(items[place] for place in choose_quickly(limited, prepare(limited)).items)


def _silent(items: Sequence[Item], number: int) -> tuple[Observed, ...]:
    return tuple(Observed(f"{number} {item.site_key}", item, detected=False, batch=BATCH) for item in items)


def _claim_row(found: Estimate, level: int, bars: tuple[float, float]) -> Row:
    must, aim = bars
    # half of a claim's doubt is what the bar allows, so its error must be a third of that
    enough = found.count >= ENOUGH and found.error <= (1 - must) / 3
    return Row(
        "16",
        f"a claim of 95 in 100 within six rounds means gone, invented world at level {level}",
        f"{percent(found)}; n = {found.count} claims",
        f">= {100 * must:g}",
        f"{100 * aim:g}",
        found.value >= must if enough else None,
        "" if enough else f"undecided: fewer than {ENOUGH} claims, or the error is too large",
    )


def _saturation_row(planned: Sequence[Rounds]) -> Row:
    chances, again = (np.mean([getattr(one, name) for one in planned], axis=0) for name in ("chances", "repeated"))
    below = all(one.repeated[-1] < one.chances[2] for one in planned)
    return Row(
        "17",
        "six repeats of one round stay below three planned anew",
        f"{100 * again[-1]:.1f} against {100 * chances[2]:.1f} in 100, {len(planned)} plants and lines",
        "yes",
        "yes",
        below,
        f"anew {' '.join(f'{chance:.3f}' for chance in chances)}; again {' '.join(f'{one:.3f}' for one in again)}",
    )
