"""What a first visit finds in a hostile world: row 8.

Truths are made without the engine at level 2: contacts missing and added, rates far off, recovery five times lower,
prior bent, odd sites. All ways have the same samples, minutes, zone minimums and occasion; where the minutes
do not suffice for a ranking or a quota, it may take longer. A sample that does not hold
the organism counts as no find, whatever the laboratory says. Errors are clustered by plant.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from benchmarks.baselines import Baselines
from benchmarks.study_figures import with_study_figures
from benchmarks.table import Row
from benchmarks.visit_problems import MINUTES_A_SAMPLE, investigated_plant
from benchmarks.world_truths import ENOUGH, InventedTruth, decided, percent, truths_by_line
from swabwright.inference.calibration import mean_of
from swabwright.planning.choose import choose
from swabwright.planning.walk_controls import Shares
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.registry import load_catalogue
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import simulate

SITES, SAMPLES, LEVEL, QUOTA_DRAWS = 200, 20, 2, 50
PLANTS, TRUTHS = 16, 30
SMALL_PLANTS, SMALL_TRUTHS = 2, 10
OVER_RANKING, OVER_QUOTA = (0.10, 0.15), (0.35, 0.45)
Ways = dict[str, list[list[int]]]


@dataclass(frozen=True)
class Found:
    """Whether each way found it in one truth; the quota as the mean of its draws."""

    plant: str
    ours: float
    ranking: float
    quota: float
    samples: tuple[float, float, float]
    """Taken by each way."""


def rows(*, full: bool) -> Iterable[Row]:
    """Row 8 with the study's figures, which decide, and with the product's defaults beside them."""
    size = (PLANTS, TRUTHS) if full else (SMALL_PLANTS, SMALL_TRUTHS)
    catalogue = load_catalogue()
    yield _row(list(found_on(with_study_figures(catalogue, may_be_wrong=True), *size)), "study's figures")
    yield _row(list(found_on(catalogue, *size)), "product's defaults")


def found_on(catalogue: Catalogue, plants: int, truths: int) -> Iterator[Found]:
    """What each way finds in so many truths on each of so many plants."""
    for seed in range(1, plants + 1):
        told = truths_by_line(catalogue, seed, SITES, truths, level=LEVEL)
        for line, own in told.items():
            yield from _found_on_line(catalogue, seed, line, own)


def _found_on_line(catalogue: Catalogue, seed: int, line: str, truths: Sequence[InventedTruth]) -> Iterator[Found]:
    opened = investigated_plant(catalogue, seed, SITES, line)
    simulated = simulate(opened, "A", None, lambda _line: None)
    shares = Shares(surface=SAMPLES, blanks=0, duplicates=0, judgement=0)
    problem = samples_problem(opened, simulated, shares, MINUTES_A_SAMPLE * SAMPLES)
    baselines, random = Baselines(problem, simulated.items, opened.case.plant), np.random.default_rng(seed)
    ways: Ways = {
        "ours": [list(choose(problem).items)],
        "ranking": [baselines.ranking(catalogue, line)],
        "quota": [baselines.quota(random) for _ in range(QUOTA_DRAWS)],
    }
    ours, ranking, quota = (float(np.mean([len(one) for one in plans])) for plans in ways.values())
    samples = (ours, ranking, quota)
    for truth in truths:
        rates = {
            way: float(np.mean([any(truth.found([simulated.items[at] for at in one], truth.held[0])) for one in plans]))
            for way, plans in ways.items()
        }
        yield Found(f"plant {seed}", **rates, samples=samples)


def _row(found: Sequence[Found], figures: str) -> Row:
    plants = [one.plant for one in found]
    ours, ranking, quota = (
        mean_of([getattr(one, way) for one in found], plants) for way in ("ours", "ranking", "quota")
    )
    over_ranking = mean_of([one.ours - one.ranking for one in found], plants)
    over_quota = mean_of([one.ours - one.quota for one in found], plants)
    taken = " / ".join(f"{mean:.1f}" for mean in np.mean([one.samples for one in found], axis=0))
    enough = decided(over_ranking, OVER_RANKING[0]) and decided(over_quota, OVER_QUOTA[0])
    reached = over_ranking.value >= OVER_RANKING[0] and over_quota.value >= OVER_QUOTA[0]
    return Row(
        "8",
        f"find rate, level {LEVEL}, k = {SAMPLES}, {figures}: ours / risk ranking / zone quota",
        f"{percent(ours)} / {percent(ranking)} / {percent(quota)}; over ranking {percent(over_ranking)}, "
        f"over quota {percent(over_quota)}; n = {len(found)}",
        "+10 over ranking, +35 over quota",
        "+15, +45",
        reached if enough else None,
        f"{'' if enough else f'undecided: fewer than {ENOUGH} truths, or an error over a third of its bar; '}"
        f"samples taken: {taken}",
    )
