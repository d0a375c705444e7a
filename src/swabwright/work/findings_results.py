"""Which results were read, and what the blanks beside them say."""

from collections.abc import Iterator, Mapping

from swabwright.case.findings import BlankCount, Outcome, ResultUsed
from swabwright.case.plan import Chance
from swabwright.case.words import counted, in_100
from swabwright.detection.observed import Observations
from swabwright.inference.batches import BatchState
from swabwright.inference.posterior import Posterior
from swabwright.plant.document import Plant


def results_used(observations: Observations, plant: Plant, presumptive: frozenset[str]) -> tuple[ResultUsed, ...]:
    """Every result that was read, by sample number; `presumptive` are the samples not yet confirmed."""
    return tuple(
        sorted(
            (*_surfaces(observations, plant, presumptive), *_materials(observations, plant, presumptive)),
            key=lambda used: used.sample,
        )
    )


def _surfaces(observations: Observations, plant: Plant, presumptive: frozenset[str]) -> Iterator[ResultUsed]:
    names = {site.key: site.name for site in plant.sites}
    for one in observations.results:
        yield ResultUsed(
            sample=one.sample,
            kind="surface",
            site=one.item.site_code,
            site_name=names[one.item.site_key],
            outcome=_outcome(one.sample, presumptive, detected=one.detected),
            batch=one.batch,
        )


def _materials(observations: Observations, plant: Plant, presumptive: frozenset[str]) -> Iterator[ResultUsed]:
    lines = {line.id: line.name for line in plant.lines}
    for test in observations.materials:
        what = "product" if test.kind == "product" else "incoming material"
        yield ResultUsed(
            sample=test.sample,
            kind=test.kind,
            site=None,
            site_name=f"{what} of {lines[test.line]} of {test.day}",
            outcome=_outcome(test.sample, presumptive, detected=test.detected),
            batch=None,
        )


def _outcome(sample: str, presumptive: frozenset[str], *, detected: bool) -> Outcome:
    if not detected:
        return "not_detected"
    return "presumptive" if sample in presumptive else "detected"


def blank_counts(
    observations: Observations, after: Posterior, names: Mapping[str, str], least: float
) -> tuple[BlankCount, ...]:
    """The blanks of every batch that was read, with the chance that its samples were contaminated on the way.

    names: what each batch is called. least: chance from which on it is told that the batch is in doubt.
    """
    batches = sorted({one.batch for one in observations.results} | {one.batch for one in observations.blanks})
    counts = {one.batch: (one.detected, one.silent) for one in observations.blanks}
    return tuple(
        _blanks(names.get(batch, batch), batch, counts.get(batch, (0, 0)), (contaminated(after, batch), least))
        for batch in batches
    )


def contaminated(after: Posterior, batch: str) -> float:
    """Chance after all results that a batch was itself contaminated; a batch without a detection is taken as clean."""
    whole = sum(weight for _, weight in after.states)
    return sum(weight for state, weight in after.states if _in(state, batch)) / whole


def _in(state: BatchState, batch: str) -> bool:
    return batch in state.contaminated


def _blanks(name: str, batch: str, counts: tuple[int, int], doubt: tuple[float, float]) -> BlankCount:
    (found, silent), (chance, least) = counts, doubt
    basis = "of the ways in which the batches may be, each weighed by its blanks and all results; no range was reckoned"
    return BlankCount(
        batch=batch,
        detected=found,
        not_detected=silent,
        contaminated=Chance(value=chance, low=chance, high=chance, basis=basis),
        words=_words(name, counts, chance if chance > least else None),
    )


def _words(name: str, counts: tuple[int, int], chance: float | None) -> str:
    found, silent = counts
    if not found + silent:
        said = f"No blank of {name} was read, so nothing tells whether handling put the organism on its samples."
    elif found:
        said = (
            f"{counted(found, 'blank')} of {found + silent} of {name} detected: every detection of it weighs less, and "
            "every 'not detected' as much as before."
        )
    else:
        said = f"Not detected in {counted(silent, 'blank')} of {name}: nothing in them speaks of handling."
    doubt = "" if chance is None else f" The chance that its samples were contaminated on the way is {in_100(chance)}."
    return said + doubt
