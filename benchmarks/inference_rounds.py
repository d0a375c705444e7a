"""Finding the place over several visits, and how long the choice of a next visit takes: rows 13, 14 and 15.

Truths are made without the engine at level 2, nothing is done about them between visits. 24, 12, 12 and 12 samples; an
investigation ends when a place is named (chance of a niche over 80 in 100). All ways are read by the same inference.
"""

from collections.abc import Iterable, Iterator, Sequence
from time import process_time

from benchmarks.rounds import (
    Ended,
    SoFar,
    around_a_positive,
    by_information,
    first_plan,
    informative,
    investigate,
    open_course,
)
from benchmarks.study_figures import with_study_figures
from benchmarks.table import Row
from benchmarks.world_truths import ENOUGH, decided, percent, truths_by_line
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.calibration import Estimate, mean_of
from swabwright.inference.calibration_claims import claims
from swabwright.planning.feasible import Limits
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.registry import load_catalogue
from swabwright.work.after_results import simulated_after
from swabwright.work.read_case import read_bank

SITES, HISTORIES, LEVEL = 200, 1500, 2
PLANTS, TRUTHS = 24, 20
SMALL_PLANTS, SMALL_TRUTHS = 1, 2
LOCALISED, OVER_AROUND, WRONG_ROOM = 0.75, 0.06, 0.06
FIRST_FOUND = 3
"""Sites with a detection in the results by which the choice of a next visit is timed."""
WAYS = {
    "ours": ("plan", by_information),
    "around": ("plan", around_a_positive),
    "quota": ("quota", around_a_positive),
}
Told = dict[str, list[Ended]]


def rows(*, full: bool) -> Iterable[Row]:
    """Row 15, then rows 13 and 14 with the study's figures, and with the product's defaults when full."""
    yield next_visit_seconds(load_catalogue())
    size = (PLANTS, TRUTHS) if full else (SMALL_PLANTS, SMALL_TRUTHS)
    yield from ended_rows(ended_on(with_study_figures(load_catalogue()), *size), "study's figures")
    if full:
        yield from ended_rows(ended_on(load_catalogue(), *size), "product's defaults")


def ended_on(catalogue: Catalogue, plants: int, truths: int) -> Told:
    """How so many investigations on each of so many plants ended, by the way samples were chosen."""
    told: Told = {way: [] for way in WAYS}
    for seed in range(1, plants + 1):
        for way, ended in ended_at(catalogue, seed, truths):
            told[way].append(ended)
    return told


def ended_at(catalogue: Catalogue, seed: int, truths: int) -> Iterator[tuple[str, Ended]]:
    """The same on one plant, one truth after the other."""
    for line, own in truths_by_line(catalogue, seed, SITES, truths, level=LEVEL, visits=4).items():
        course = open_course(catalogue, seed, SITES, line, HISTORIES)
        plans = first_plan(course, catalogue, seed)
        for truth in own:
            for way, (start, further) in WAYS.items():
                yield way, investigate(course, truth, plans[start], further)


def ended_rows(told: Told, figures: str) -> Iterator[Row]:
    """Rows 13 and 14."""
    right = {way: [float(_named_rightly(one)) for one in ended] for way, ended in told.items()}
    plants = [one.forecast.cluster for one in told["ours"]]
    shares = {way: mean_of(values, plants) for way, values in right.items()}
    over = mean_of([a - b for a, b in zip(right["ours"], right["around"], strict=True)], plants)
    enough = decided(over, OVER_AROUND)
    reached = shares["ours"].value >= LOCALISED and over.value >= OVER_AROUND
    samples = ", ".join(f"{way} {sum(one.samples for one in ended) / len(ended):.0f}" for way, ended in told.items())
    yield Row(
        "13",
        f"localised in 24+12+12+12, level {LEVEL}, {figures}: ours / around a positive / quota then around",
        f"{' / '.join(percent(one) for one in shares.values())}; over around {percent(over)}; n = {over.count}",
        "75, +6 over samples around the positive",
        "85",
        reached if enough else None,
        f"{_undecided(enough=enough)}mean samples: {samples}",
    )
    yield _wrong_room(told["ours"], figures)


def _wrong_room(ended: Sequence[Ended], figures: str) -> Row:
    held = claims([one.forecast for one in ended], [one.rooms for one in ended], 0.8)
    off: Estimate = held.wrong_room
    enough = len(ended) >= ENOUGH and off.error <= WRONG_ROOM / 3
    return Row(
        "14",
        f"wrong room among claims, level {LEVEL}, {figures}",
        f"{percent(off)}; no niche {percent(held.wrong)}; {off.count} claims of {len(ended)}",
        "<= 6 %",
        "2 %",
        off.value <= WRONG_ROOM if enough else None,
        _undecided(enough=enough),
    )


def _undecided(*, enough: bool) -> str:
    return "" if enough else f"undecided: fewer than {ENOUGH} truths, or an error over a third of its bar. "


def _named_rightly(one: Ended) -> bool:
    leading = int(one.forecast.marginal.argmax())
    return bool(one.forecast.marginal[leading] > 0.8) and leading in one.forecast.niches


def next_visit_seconds(catalogue: Catalogue) -> Row:
    """Row 15: the choice of 12 samples by information on hypotheses that are there, compiled code warm."""
    course = open_course(catalogue, 1, SITES, "line-0", HISTORIES)
    items = first_plan(course, catalogue, 1)["plan"]
    results = tuple(Observed(f"{at:03d}", item, at < FIRST_FOUND, "visit-1") for at, item in enumerate(items))
    one = read_bank(course.at(1), course.bank, Observations(results))
    so_far = SoFar(course, one, 1)
    best = min(_seconds(so_far) for _ in range(3))
    return Row(
        "15",
        f"next visit of 12 from {len(one.observations.results)} results, cells and exchanges included",
        f"{best:.2f} s CPU",
        "<= 1 s",
        "0.3 s",
        best <= 1.0,
    )


def _seconds(so_far: SoFar) -> float:
    opened = so_far.course.at(so_far.number)
    simulated = simulated_after(so_far.one)
    problem = so_far.course.problem(so_far.number, simulated)
    limits = Limits(problem)
    started = process_time()
    informative(opened, simulated, problem, limits)
    return process_time() - started
