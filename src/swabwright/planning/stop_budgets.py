"""Time in which lines stand, as budgets of the choice: each line for itself, and one team at all lines together."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
import numpy.typing as npt

from swabwright.planning.clock_windows import Window, joined_windows, line_of
from swabwright.planning.problem import Budget
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.document import Plant

Array = npt.NDArray[np.float64]
ANY_LINE = "any line"


def stop_budgets(
    stops: Sequence[WalkStop], least_minutes: Array, plant: Plant, windows: Mapping[str, Sequence[Window]]
) -> tuple[Budget, ...]:
    """Budgets that every walk of one team keeps: of each line that must stand for some item, and of all together.

    stops: one for each item that can be chosen. least_minutes: (Q,) no more than the item takes in any plan. windows:
    when each line stands, by line id. A line must often stand for longer than the team is at the site; what the last
    stop in a window asks for beyond its own minutes can never be used and is taken off.
    """
    names = {line.id: line.name for line in plant.lines}
    at_line = _items_by_line(stops, plant)
    down = np.array([stop.halt.minutes_down for stop in stops], dtype=np.float64)
    share = _Share(least_minutes, np.maximum(least_minutes, down))
    budgets = [budget for line, items in at_line.items() for budget in share.budgets(names[line], items, windows[line])]
    if len(at_line) > 1:
        every = [item for items in at_line.values() for item in items]
        spans = joined_windows(window for line in at_line for window in windows[line])
        budgets.append(share.together(ANY_LINE, every, spans))
    return tuple(budgets)


class _Share:
    """Shares out the minutes of windows among items; minutes at the site and minutes of standing, shape (Q,)."""

    def __init__(self, least: Array, needed: Array) -> None:
        self._least, self._needed = least, needed

    def budgets(self, line: str, items: Sequence[int], windows: Sequence[Window]) -> Iterator[Budget]:
        """The budget of a line, and one that keeps out what its longest window is too short for."""
        yield self.together(line, items, windows)
        longest = max((window.minutes for window in windows), default=0.0)
        too_long = self._only([item for item in items if self._needed[item] > longest], self._needed)
        if too_long.any():
            yield Budget(f"{line} in one go", too_long, longest)

    def together(self, name: str, items: Sequence[int], windows: Sequence[Window]) -> Budget:
        """The budget of windows that may overlap no other."""
        available = sum(self._usable(window, items) for window in windows)
        return Budget(name, self._only(items, self._least), available)

    def _usable(self, window: Window, items: Sequence[int]) -> float:
        beyond = [self._needed[item] - self._least[item] for item in items if self._needed[item] <= window.minutes]
        return window.minutes - float(min(beyond)) if beyond else 0.0

    def _only(self, items: Sequence[int], minutes: Array) -> Array:
        out = np.zeros_like(minutes)
        out[list(items)] = minutes[list(items)]
        return out


def _items_by_line(stops: Sequence[WalkStop], plant: Plant) -> dict[str, list[int]]:
    """Items for which a line must stand, by line id in the order of the plant document."""
    found: dict[str, list[int]] = defaultdict(list)
    for item, stop in enumerate(stops):
        line = line_of(stop, plant) if stop.halt.needs_line_stop else None
        if line is not None:
            found[line.id].append(item)
    return {line.id: found[line.id] for line in plant.lines if line.id in found}
