"""What fewer and more samples than planned would find, on the histories that the plan was not chosen on."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from swabwright.belief.estimate import basis_of, chance
from swabwright.belief.outcome import find_chances
from swabwright.case.plan import Chance, CurvePoint
from swabwright.detection.items import Item
from swabwright.planning.bound import Prover
from swabwright.planning.choose_draft import Draft
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import lazy_greedy
from swabwright.work.chosen import Chosen
from swabwright.work.simulated import Simulated

STEPS_BEYOND = 2


def curve_of(chosen: Chosen, prover: Prover, finding: Chance, reports: Simulated, step: int) -> tuple[CurvePoint, ...]:
    """A point for every `step` samples of the choice, for all of them, and for two steps beyond.

    Beyond the plan minutes do not count: it is what more samples would buy if there were time for them.
    """
    planned = len(chosen.items)
    beyond = [step * (planned // step + n) for n in range(1, STEPS_BEYOND + 1)]
    order = [*chosen.items, *_further(chosen, reports.items, beyond[-1] - planned)]
    counts = [*range(step, planned, step), planned, *(count for count in beyond if count <= len(order))]
    return tuple(
        CurvePoint(
            samples=count,
            chance=finding if count == planned else _chance(reports, order[:count]),
            best_any_plan=_best(prover, count, planned),
        )
        for count in counts
    )


def _best(prover: Prover, count: int, planned: int) -> float | None:
    if count > planned:
        return None
    return prover.within[0] if count == planned else prover.best_with(count)


def _chance(reports: Simulated, items: Sequence[Item]) -> Chance:
    living = reports.living
    values = find_chances(living.known, living.rows, tuple(items))
    return chance(values, living.rows, basis_of(living))


def _further(chosen: Chosen, items: tuple[Item, ...], more: int) -> list[Item]:
    """The next best items after the plan, were there time for them."""
    problem, planned = chosen.problem, chosen.choice.items
    roomy = replace(problem, count=len(planned) + more, minutes_available=np.inf)
    grown = lazy_greedy(Draft(chosen.finds, planned), Limits(roomy), "gain")
    return [items[place] for place in grown.items[len(planned) :]]
