"""An order of work that meets breaks and agreed stops: the shortest walk, changed where that saves waiting."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from swabwright.planning.clock import Clock
from swabwright.planning.walk_order import OrderKey

TRIALS_AT_MOST = 5000
"""Orders looked at before the best so far is taken; a bound on seconds, not on quality."""


def meet_windows(order: Sequence[int], keys: Sequence[OrderKey], clock: Clock) -> list[int]:
    """The order, changed only as the order of work allows, so that the walk ends as early as can be found.

    Rooms of one pass change places, and sites of one rank within a room visit. Without a wait nothing is changed.
    """
    best = list(order)
    if not clock.waits(best):
        return best
    score, trials, better = clock.score(best), 0, True
    while better and trials < TRIALS_AT_MOST:
        better = False
        for trial in _changed(best, keys):
            trials += 1
            found = clock.score(trial)
            if found < score:
                best, score, better = trial, found, True
                break
    return best


def _changed(order: list[int], keys: Sequence[OrderKey]) -> Iterator[list[int]]:
    """Every order in which one room visit, or one site within its block, stands at another allowed place."""
    visits = [list(of) for _, of in groupby(order, key=lambda stop: (keys[stop].group, keys[stop].room))]
    for a, b in _places([keys[visit[0]].group for visit in visits]):
        moved = [*visits]
        moved.insert(b, moved.pop(a))
        yield [stop for visit in moved for stop in visit]
    for a, b in _places([(keys[stop].group, keys[stop].room, keys[stop].rank) for stop in order]):
        trial = [*order]
        trial.insert(b, trial.pop(a))
        yield trial


def _places(kinds: Sequence[object]) -> Iterator[tuple[int, int]]:
    """Pairs of places between which a thing can move among its neighbours of the same kind."""
    start = 0
    for _, members in groupby(kinds):
        end = start + len(list(members))
        yield from ((a, b) for a in range(start, end) for b in range(start, end) if a != b)
        start = end
