"""The best walk over the breaks that it could go by: choose for some of the breaks, walk, compare."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Protocol

from swabwright.errors import LimitsClash
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_breaks import Windows, ways_through
from swabwright.planning.walk_fit import FittedWalk, fit_walk
from swabwright.planning.walk_shorten import MayDrop
from swabwright.planning.walk_stops import WalkStop

Worth = Callable[[Sequence[WalkStop]], float]


class ChooseFor(Protocol):
    """A choice for so many minutes and for lines that stand in these windows, without some (site code, mode)."""

    def __call__(
        self, minutes: float, *, windows: Windows, without: frozenset[tuple[str, str]] = frozenset()
    ) -> Sequence[WalkStop]:
        """The stops with their gains; raises LimitsClash when no choice keeps the limits."""


def best_walk(choose: ChooseFor, planner: WalkPlanner, worth: Worth, may_drop: MayDrop | None = None) -> FittedWalk:
    """The walk of most worth over the ways to go by breaks; refused in the sentence for all breaks if none can be.

    A break that is not gone by costs no wait, and what needs it is not chosen. Ways whose choice is worth no more than
    the best walk so far, were walking free, are not walked.
    """
    everything, *fewer = ways_through(planner.windows, planner.minutes_available)
    choose(planner.minutes_available, windows=everything)
    best, refusal = _walked(choose, planner, everything, may_drop)
    for hoped, windows in sorted(_hopes(choose, planner, worth, fewer), key=lambda pair: -pair[0]):
        if best is None or hoped > worth(best.chosen):
            found, _ = _walked(choose, planner, windows, may_drop)
            best = max((one for one in (best, found) if one), key=lambda one: worth(one.chosen), default=None)
    if best is None:
        raise refusal or LimitsClash("no walk of this visit keeps its limits; allow more minutes")
    return best


def _hopes(
    choose: ChooseFor, planner: WalkPlanner, worth: Worth, ways: Sequence[Windows]
) -> list[tuple[float, Windows]]:
    """What each way would be worth were walking free; ways that can meet no minimum are left out."""
    hopes = []
    for windows in ways:
        try:
            hopes.append((worth(choose(planner.minutes_available, windows=windows)), windows))
        except LimitsClash:
            continue
    return hopes


def _walked(
    choose: ChooseFor, planner: WalkPlanner, windows: Windows, may_drop: MayDrop | None
) -> tuple[FittedWalk | None, LimitsClash | None]:
    pick = partial(choose, windows=windows)
    try:
        return fit_walk(pick, planner.going_by(windows), may_drop=may_drop, choose_without=pick), None
    except LimitsClash as refusal:
        return None, refusal
