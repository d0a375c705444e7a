"""Whether chances mean what they say in a hostile world: row 11.

Truths are made without the engine at level 2, on invented plants; on each the chooser's 30 samples, read on bank B.
A bar is a floor; its tolerance is how far it lies below what the sets say. Errors are clustered by plant.
"""

from collections.abc import Iterable, Iterator, Sequence

from benchmarks.study_figures import with_study_figures
from benchmarks.table import Row
from benchmarks.visit_problems import MINUTES_A_SAMPLE, investigated_plant
from benchmarks.world_truths import ENOUGH, InventedTruth, decided, percent, truths_by_line
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.calibration import Forecast, brier, coverage, log_score
from swabwright.inference.calibration_bins import reliability
from swabwright.inference.calibration_claims import claims
from swabwright.planning.walk_controls import Shares
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.registry import load_catalogue
from swabwright.work.calibrate_read import BATCH, Readers, readers

SITES, HISTORIES, SAMPLES, LEVEL = 200, 1500, 30, 2
PLANTS, TRUTHS = 24, 32
SMALL_PLANTS, SMALL_TRUTHS = 1, 8
FLOORS = {0.5: (0.42, 0.48), 0.8: (0.70, 0.78), 0.95: (0.91, 0.94)}
Held = tuple[Forecast, tuple[str, ...]]


def rows(*, full: bool) -> Iterable[Row]:
    """Row 11 with the product's defaults, and with the study's figures beside them."""
    size = (PLANTS, TRUTHS) if full else (SMALL_PLANTS, SMALL_TRUTHS)
    catalogue = load_catalogue()
    for figures, used in (
        ("study's figures", with_study_figures(catalogue, may_be_wrong=True)),
        ("product's defaults", catalogue),
    ):
        yield from held_rows(list(held_on(used, *size)), figures)


def held_on(catalogue: Catalogue, plants: int, truths: int) -> Iterator[Held]:
    """What is believed of so many truths on each of so many plants, with the room of every source."""
    shares = Shares(surface=SAMPLES, blanks=0, duplicates=0, judgement=0)
    for seed in range(1, plants + 1):
        told = truths_by_line(catalogue, seed, SITES, truths, level=LEVEL)
        for line, own in told.items():
            opened = investigated_plant(catalogue, seed, SITES, line)
            samples = (shares, MINUTES_A_SAMPLE * SAMPLES)
            given = readers(opened, None, lambda _line: None, histories=(HISTORIES, HISTORIES), samples=samples)
            yield from ((_forecast(given, truth, f"plant {seed}"), given.rooms) for truth in own)


def _forecast(given: Readers, truth: InventedTruth, cluster: str) -> Forecast:
    found = truth.found(given.items, truth.reported[0])
    results = tuple(
        Observed(f"{BATCH} {place:03d}", item, one, BATCH)
        for place, (item, one) in enumerate(zip(given.items, found, strict=True))
    )
    after, sources = given.after(Observations(results)), given.sources
    return Forecast(after.share, after.marginal, tuple(sources.index(key) for key in truth.niches), cluster)


def held_rows(held: Sequence[Held], figures: str) -> Iterator[Row]:
    """One row for each level, the scores below the last."""
    made = [one for one, _ in held]
    for level, (floor, aim) in FLOORS.items():
        found = coverage(made, level)
        enough = decided(found, level - floor)
        yield Row(
            "11",
            f"sets of {100 * level:g} in 100 hold a niche, invented world at level {LEVEL}, {figures}",
            f"{percent(found)}; n = {found.count}",
            f">= {100 * floor:g}",
            f"{100 * aim:g}",
            found.value >= floor if enough else None,
            _scores(held, made) if level == max(FLOORS) else _undecided(enough=enough),
        )


def _undecided(*, enough: bool) -> str:
    return "" if enough else f"undecided: fewer than {ENOUGH} truths, or the error is over a third of the tolerance"


def _scores(held: Sequence[Held], made: Sequence[Forecast]) -> str:
    bins = ", ".join(f"{one.forecast:.2f}/{one.observed.value:.2f} ({one.observed.count})" for one in reliability(made))
    first = percent(claims(made, [room for _, room in held], 0.8).first_is_niche)
    return (
        f"Brier {brier(made).value:.3f}, log score {log_score(made).value:.2f}; the likeliest is a niche in {first}; "
        f"said/true (places): {bins}"
    )
