"""How samples are chosen without an engine: a risk ranking, and quotas by zone at random; under the same limits."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from math import dist, floor

import numpy as np
import numpy.typing as npt

from swabwright.belief.prior import site_weights
from swabwright.detection.items import Item
from swabwright.planning.choose_minutes import minutes_of
from swabwright.planning.feasible import Limits
from swabwright.planning.feasible_clash import require_possible
from swabwright.planning.problem import Problem
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant

Array = npt.NDArray[np.float64]
NEAR_M = 2.0
ON_LINE, SAME_ROOM, ELSEWHERE = 1.0, 0.5, 0.25
QUOTA = {1: 0.2, 2: 0.4, 3: 0.3, 4: 0.1}
"""Share of the samples by zone."""


class Baselines:
    """Choices among the items of one problem; at a site opened up before as it is, then the best device.

    A site is opened only while the minutes left allow all samples that are still to come. Where the minutes do not
    suffice for all samples even unopened, the rest is taken as it is in more minutes than ours may use.
    """

    def __init__(self, problem: Problem, items: Sequence[Item], plant: Plant) -> None:
        self._problem, self._items, self._plant = problem, items, plant
        as_is = np.array([item.mode == "as_is" for item in items])
        self._usual_minutes = float(np.median(problem.minutes[as_is]))
        self._limits = Limits(problem, require_possible(problem))
        order = sorted(range(len(items)), key=lambda at: (items[at].mode != "opened", -_recovered(items[at]), at))
        self._at_site: dict[int, list[int]] = {}
        for place in order:
            self._at_site.setdefault(int(problem.site[place]), []).append(place)

    def ranking(self, catalogue: Catalogue, line: str | None) -> list[int]:
        """Items by prior weight of the site times how near it is to the suspected line."""
        score = site_weights(self._plant, catalogue) * _nearness(self._plant, line)
        return self._taken(np.argsort(-score, kind="stable").tolist(), self._problem.count)

    def quota(self, random: np.random.Generator) -> list[int]:
        """Items at random sites, so many of each zone; what a zone cannot fill goes to any."""
        zone = np.array([site.zone for site in self._plant.sites])
        count, taken = self._problem.count, []
        for number, share in QUOTA.items():
            shuffled = random.permutation(np.flatnonzero(zone == number)).tolist()
            taken = self._taken(shuffled, len(taken) + floor(share * count), taken)
        return self._taken(random.permutation(len(zone)).tolist(), count, taken)

    def nearest(
        self, found: Sequence[str], sampled: Collection[str], catalogue: Catalogue, line: str | None
    ) -> list[int]:
        """Items nearest in a straight line to sites with a detection, by key, sites not sampled yet before others.

        Where nothing is detected, the risk ranking of what is not sampled yet.
        """
        score = -site_weights(self._plant, catalogue) * _nearness(self._plant, line)
        at = {site.key: site.position for site in self._plant.sites}
        if found:
            score = np.array([min(dist(site.position, at[key]) for key in found) for site in self._plant.sites])
        again = np.array([site.key in sampled for site in self._plant.sites])
        return self._taken(np.lexsort((score, again)).tolist(), self._problem.count)

    def _taken(self, sites: Sequence[int], most: int, first: Sequence[int] = ()) -> list[int]:
        """The first items, and at each site in turn the first that leaves every limit within reach, up to `most`."""
        taken = self._in_turn(sites, most, first, opens=True)
        if len(taken) < most:
            taken = max(taken, self._in_turn(sites, most, first, opens=False), key=len)
        return self._overtime(sites, most, taken)

    def _overtime(self, sites: Sequence[int], most: int, first: Sequence[int]) -> list[int]:
        taken, met = list(first), set(self._problem.site[list(first)].tolist())
        for site in sites:
            as_is = [at for at in self._at_site.get(site, []) if self._items[at].mode == "as_is"]
            if len(taken) < most and as_is and site not in met and not self._problem.never[site]:
                taken.append(as_is[0])
                met.add(site)
        return taken

    def _in_turn(self, sites: Iterable[int], most: int, first: Sequence[int], *, opens: bool) -> list[int]:
        taken = list(first)
        for site in sites:
            if len(taken) >= most:
                break
            found = next(self._possible(taken, site, opens=opens), None)
            taken += [] if found is None else [found]
        return taken

    def _possible(self, taken: Sequence[int], site: int, *, opens: bool) -> Iterator[int]:
        if site in self._problem.site[list(taken)] or self._problem.never[site]:
            return
        fitting = self._limits.fitting(taken)
        for place in self._at_site.get(site, []):
            with_it = [*taken, place]
            allowed = self._items[place].mode == "as_is" or (opens and self._leaves_enough(with_it))
            if allowed and fitting[place] and self._limits.completion(with_it) is not None:
                yield place

    def _leaves_enough(self, taken: Sequence[int]) -> bool:
        """Whether the minutes left suffice for the samples still to come, each as short as the median one."""
        left = self._problem.minutes_available - minutes_of(self._problem, taken)
        return left >= (self._problem.count - len(taken)) * self._usual_minutes


def _recovered(item: Item) -> float:
    return item.recovery * item.area_fraction


def _nearness(plant: Plant, line: str | None) -> Array:
    """1 on the suspected line or within 2 m of it, a half in its room, a quarter elsewhere."""
    of_line = [site for site in plant.sites if line is not None and site.line == line]
    rooms = {site.room for site in of_line}
    return np.array(
        [
            ON_LINE
            if any(dist(site.position, own.position) <= NEAR_M and site.room == own.room for own in of_line)
            else SAME_ROOM
            if site.room in rooms
            else ELSEWHERE
            for site in plant.sites
        ]
    )
