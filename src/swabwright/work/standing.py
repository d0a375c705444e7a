"""How long lines stand, as budgets of the choice among the items of a visit."""

from collections import Counter
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from swabwright.detection.items import Item
from swabwright.planning.problem import Budget
from swabwright.planning.stop_budgets import stop_budgets
from swabwright.planning.walk_breaks import Windows
from swabwright.planning.walk_stops import StopMaker
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.work.openings import NONE_OPENED, shared_openings


class Standing:
    """The items of a visit, asked what they take of the minutes in which lines stand."""

    def __init__(self, plant: Plant, catalogue: Catalogue, items: Sequence[Item]) -> None:
        maker = StopMaker(plant, catalogue)
        self._plant, self._stops = plant, [maker.surface(item) for item in items]
        self._least = _least_minutes(plant, items)

    def budgets(self, windows: Windows) -> tuple[Budget, ...]:
        """The budgets of a walk that goes by these windows."""
        return stop_budgets(self._stops, self._least, self._plant, windows)


def _least_minutes(plant: Plant, items: Sequence[Item]) -> npt.NDArray[np.float64]:
    """What each item takes at the site in any plan: without opening, but for its part of the machine's shortest."""
    machine, per_machine, _own = shared_openings(plant, items)
    inside = Counter(machine.tolist())
    return np.array(
        [
            item.minutes
            if place == NONE_OPENED
            else item.minutes - item.opening_minutes + float(per_machine[place]) / inside[place]
            for item, place in zip(items, machine.tolist(), strict=True)
        ]
    )
