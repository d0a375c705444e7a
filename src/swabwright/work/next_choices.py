"""Four ways to choose the samples of a next visit under the same limits and walk."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from swabwright.detection.items import Item
from swabwright.inference.foreseen import foreseen_chances
from swabwright.inference.information import Informed, choose_informative, settings_of
from swabwright.inference.labels import Labels, labels_of
from swabwright.inference.outcome_paths import foreseen
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds, prepare
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_controls import Shares
from swabwright.plant.document import Plant
from swabwright.work.chosen import Chosen, choose_samples
from swabwright.work.next_walk import Visitable
from swabwright.work.opened import OpenVisit
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import Simulated

Way = Literal["information", "find_any", "hit_the_niche", "around_a_positive"]
ONLY_HITS = 0.999
"""Share of the objective that counts samples on the niche itself; the rest settles ties by finding."""
Ranked = Callable[[Sequence[int]], Iterable[int]]


@dataclass(frozen=True)
class NextChoices:
    """What each way chose, and how many samples of the first were chosen for what they say."""

    chosen: dict[Way, Chosen]
    items: tuple[Item, ...]
    """Every item of the visit, on the bank that chose."""
    informative: tuple[str, ...]
    """Codes of the sites chosen for what they say, in order; the others were chosen to find it."""
    within_radius: int | None
    """Sites within the radius of a detected one; None where nothing was detected."""


def next_choices(
    opened: OpenVisit, simulated: Simulated, detected: frozenset[str], planner: WalkPlanner, shares: Shares
) -> NextChoices:
    """The choices of all ways on one bank. detected: keys of sites with a detection so far."""
    problem = samples_problem(opened, simulated, shares, planner.minutes_available)
    finds = prepare(problem)
    any_find = choose_samples(opened, problem, simulated.items, planner)
    hits = choose_samples(opened, replace(problem, hit_share=ONLY_HITS), simulated.items, planner)
    visitable = Visitable(opened, finds, simulated.items, planner)
    visitable.witness = any_find.choice.items
    told = _informative(opened, simulated, visitable)
    said = _filled(visitable, told, _by_finding(finds))
    chosen: dict[Way, Chosen] = {
        "information": visitable.settled(said),
        "find_any": any_find,
        "hit_the_niche": hits,
    }
    metres = metres_to_detected(opened, detected)
    if metres is not None:
        nearest = _filled(visitable, [], _by_distance(finds, simulated.items, metres))
        chosen["around_a_positive"] = visitable.settled(nearest)
    informative = tuple(simulated.items[place].site_code for place in told)
    return NextChoices(chosen, simulated.items, informative, _within(opened, metres))


def labels_in(opened: OpenVisit, simulated: Simulated) -> Labels:
    """What is to be learned on a bank: sets of niches, rare ones by room."""
    names = simulated.belief.known.bank.source_names
    rooms = {site.key: f"room:{site.room}" for site in opened.case.plant.sites}
    least = opened.figures.number("next.rows_a_label")
    return labels_of(simulated.belief.rows, [rooms.get(name, name) for name in names], least)


def _informative(opened: OpenVisit, simulated: Simulated, visitable: Visitable) -> list[int]:
    problem, belief = visitable.finds.problem, simulated.belief
    chance = foreseen_chances(belief.known, belief.rows, simulated.items)
    # sites that must not be sampled say nothing here
    chance[problem.never[problem.site]] = 0.0
    keys = (problem.site, problem.tie)
    seed = opened.case.investigation.seed
    what = foreseen(chance, belief.rows.weight, labels_in(opened, simulated), keys, seed)
    informed = Informed(what, settings_of(opened.figures))
    return [one.item for one in choose_informative(informed, (), problem.count, visitable.may)]


def _filled(visitable: Visitable, first: Sequence[int], ranked: Ranked) -> list[int]:
    """The first items and every further one that there is room for, in the order that is asked for anew each time."""
    taken, count = list(first), visitable.finds.problem.count
    while len(taken) < count:
        found = next((one for one in ranked(taken) if visitable.may([*taken, one])), None)
        if found is None:
            break
        taken.append(found)
    return taken


def _by_finding(finds: Finds) -> Ranked:
    """Items by what each adds to the chance of finding it."""
    problem = finds.problem

    def ranked(taken: Sequence[int]) -> Iterable[int]:
        draft = Draft(finds, taken)
        places = _open(finds, taken)
        gains = draft.gains(places)
        return [int(places[at]) for at in np.lexsort((problem.tie[places], -gains))]

    return ranked


def _by_distance(finds: Finds, items: tuple[Item, ...], metres: dict[str, float]) -> Ranked:
    """Items by the way from the nearest detected site, at one site the one that finds most."""
    problem = finds.problem
    alone = finds.chance @ finds.weight
    away = np.array([metres[item.site_key] for item in items])
    order = np.lexsort((problem.tie, -alone, problem.site, away))

    def ranked(taken: Sequence[int]) -> Iterable[int]:
        left = set(_open(finds, taken).tolist())
        return [int(place) for place in order if int(place) in left]

    return ranked


def _open(finds: Finds, taken: Sequence[int]) -> npt.NDArray[np.int64]:
    problem = finds.problem
    return np.flatnonzero(~problem.never[problem.site] & ~np.isin(problem.site, problem.site[list(taken)]))


def metres_to_detected(opened: OpenVisit, detected: frozenset[str]) -> dict[str, float] | None:
    """Metres on foot from the nearest detected site to every site, by key; None where nothing was detected."""
    plant: Plant = opened.case.plant
    if not detected:
        return None
    metres = opened.space.distance_matrix([site.position for site in plant.sites], [site.room for site in plant.sites])
    known = [place for place, site in enumerate(plant.sites) if site.key in detected]
    return {site.key: float(metres[known, place].min()) for place, site in enumerate(plant.sites)}


def _within(opened: OpenVisit, metres: dict[str, float] | None) -> int | None:
    if metres is None:
        return None
    radius = opened.figures.number("next.radius_m")
    return sum(one <= radius for one in metres.values())
