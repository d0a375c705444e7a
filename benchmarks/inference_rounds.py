"""Finding the place over several visits: rows 13 and 14.

Truths are made without the engine at level 2, nothing is done about them between visits. 24, 12, 12 and 12 samples; an
investigation ends when a place is named (chance of a niche over 80 in 100). All ways are read by the same inference.
"""

from collections.abc import Iterable, Iterator, Sequence

from benchmarks.rounds import (
    Ended,
    around_a_positive,
    by_information,
    first_plan,
    investigate,
    open_course,
)
from benchmarks.study_figures import with_study_figures
from benchmarks.table import Row
from benchmarks.world_truths import ENOUGH, decided, percent, truths_by_line
from swabwright.inference.calibration import Estimate, mean_of
from swabwright.inference.calibration_claims import claims
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.registry import load_catalogue

SITES, HISTORIES, LEVEL = 200, 1500, 2
PLANTS, TRUTHS = 24, 20
SMALL_PLANTS, SMALL_TRUTHS = 1, 2
LOCALISED, OVER_AROUND, WRONG_ROOM = 0.75, 0.06, 0.06
WAYS = {
    "ours": ("plan", by_information),
    "around": ("plan", around_a_positive),
    "quota": ("quota", around_a_positive),
}
Told = dict[str, list[Ended]]


def rows(*, full: bool) -> Iterable[Row]:
    """Rows 13 and 14 with the study's figures, and with the product's defaults when full."""
    size = (PLANTS, TRUTHS) if full else (SMALL_PLANTS, SMALL_TRUTHS)
    yield from ended_rows(ended_on(with_study_figures(load_catalogue(), may_be_wrong=True), *size), "study's figures")
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
