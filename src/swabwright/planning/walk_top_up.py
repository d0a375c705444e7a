"""More samples, and better ones, for the minutes that a fitted walk leaves."""

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_draft import GRAIN, Draft, weighted_sum
from swabwright.planning.choose_finds import Finds
from swabwright.planning.choose_minutes import LEAST_MINUTES, marginal_minutes
from swabwright.planning.swap import left_without_each
from swabwright.planning.walk_room import WalkRoom

Array = npt.NDArray[np.float64]
MayLeave = Callable[[int, Sequence[int]], bool]
"""Whether an item may be given up, the others staying."""
MOST_ROUNDS = 4
"""Rounds of exchanges; the first finds nearly all there is."""
MISSES = 3
"""While exchanges are tried: items for which the walk turns out to have no room, before a filling is left."""
FORCED_IN, GIVEN_UP = 12, 6
"""Items brought in against the minutes, and those that may go for one of them."""


class TopUp:
    """Adds and exchanges items of a choice, as long as the walk through them ends within the visit."""

    def __init__(self, finds: Finds, room: WalkRoom, may_leave: MayLeave) -> None:
        self._finds, self._room, self._may_leave = finds, room, may_leave
        spent = [budget.minutes > 0 for budget in finds.problem.budgets]
        self._stands = np.any([np.zeros(finds.problem.tie.size, dtype=bool), *spent], axis=0)
        """Items for which a line has to stand, (Q,)."""

    def best(self, items: Sequence[int]) -> list[int]:
        """The items with all that the walk has room for, after exchanges that find more."""
        kept = self.filled(self.shortened(items))
        for _ in range(MOST_ROUNDS):
            better = self.exchanged(kept)
            if better == kept:
                break
            kept = self.filled(better)
        return kept

    def shortened(self, items: Sequence[int]) -> list[int]:
        """The items left when those that add least per minute are given up until the walk ends in time."""
        kept = list(items)
        while not self._room.fits(kept):
            leaving = next((one for one in self._least_first(kept) if self._may_go(one, kept)), None)
            if leaving is None:
                return list(items)
            kept = [one for one in kept if one != leaving]
        return kept

    def filled(self, items: Sequence[int], barred: int | None = None, misses: int | None = None) -> list[int]:
        """The items and every further one that the walk has room for, most gain per minute first.

        barred: an item that is not to come back. misses: items without room after which to stop, None for never.
        """
        draft, missed = Draft(self._finds, items), 0
        room = self._room.minutes_left(draft.items)
        open_items = self._open(items)
        if barred is not None:
            open_items[barred] = False
        while len(draft.items) < self._finds.problem.count:
            item = self._next(draft, open_items, room)
            if item is None or (misses is not None and missed >= misses):
                break
            left = self._room.minutes_left([*draft.items, item])
            open_items[item] = False
            if left >= 0:
                open_items &= ~self._same_site(item)
                draft.add(item)
                room = left
            else:
                missed += 1
        return list(draft.items)

    def exchanged(self, items: Sequence[int]) -> list[int]:
        """The items after exchanges: one in for what has to go for it, then one gone for what fits in its minutes."""
        kept = list(items)
        for item in self._best_outside(kept):
            kept = self._better(kept, self._with(item, kept))
        for leaving in self._least_first(kept)[:GIVEN_UP]:
            kept = self._better(kept, self._without(leaving, kept))
        return kept

    def _better(self, kept: list[int], tried: list[int] | None) -> list[int]:
        return tried if tried is not None and self._value(tried) > self._value(kept) + GRAIN else kept

    def _value(self, items: Sequence[int]) -> float:
        return Draft(self._finds, items).value

    def _without(self, leaving: int, kept: list[int]) -> list[int] | None:
        """The items with one gone and its minutes filled again; None when that cannot pay."""
        rest = [item for item in kept if item != leaving]
        freed = self._room.minutes_left(kept) + float(self._added(rest)[leaving])
        if not self._could_pay(leaving, rest, freed):
            return None
        filled = self.filled(rest, leaving, MISSES)
        return filled if self._may_leave(leaving, filled) else None

    def _could_pay(self, leaving: int, rest: list[int], minutes: float) -> bool:
        """Whether the best items for so many minutes could add more than the one that leaves, were walking free."""
        draft, open_items, added = Draft(self._finds, rest), self._open(rest), self._added(rest)
        open_items[leaving] = False
        items = np.flatnonzero(open_items & (added <= minutes))
        if items.size == 0:
            return False
        places = min(int(minutes / added[items].min()), self._finds.problem.count - len(rest))
        best = np.sort(draft.gains(items))[::-1][: max(places, 0)]
        return bool(best.sum() > draft.gain(leaving) + GRAIN)

    def _with(self, item: int, kept: list[int]) -> list[int] | None:
        """The items with one more, those that add least per minute gone until the walk fits, and the rest filled."""
        value, site = self._value(kept), self._finds.problem.site
        tried = [one for one in kept if site[one] != site[item]] + [item]
        if any(not self._may_leave(one, tried) for one in set(kept) - set(tried)):
            return None
        for _ in range(GIVEN_UP):
            if self._value(tried) <= value + GRAIN:
                return None
            if len(tried) <= self._finds.problem.count and self._room.fits(tried):
                return self.filled(tried, misses=MISSES)
            leaving = next((one for one in self._rivals_first(item, tried) if self._may_go(one, tried)), None)
            tried = [one for one in tried if one != leaving]
        return None

    def _rivals_first(self, item: int, items: Sequence[int]) -> list[int]:
        """The others, those that add least per minute first; when lines must stand for it, those before all."""
        others = [one for one in self._least_first(items) if one != item]
        if not self._stands[item]:
            return others
        return sorted(others, key=lambda one: not self._stands[one])

    def _may_go(self, leaving: int, items: Sequence[int]) -> bool:
        return self._may_leave(leaving, [item for item in items if item != leaving])

    def _next(self, draft: Draft, open_items: npt.NDArray[np.bool_], room: float) -> int | None:
        """The open item with the most gain per minute among those that take no more than the room there is."""
        added = self._added(draft.items)
        items = np.flatnonzero(open_items & (added <= room))
        if items.size == 0:
            return None
        gains = draft.gains(items)
        rates = gains / added[items]
        first = int(np.lexsort((self._finds.problem.tie[items], -rates))[0])
        return int(items[first]) if gains[first] > 0 else None

    def _added(self, items: Sequence[int]) -> Array:
        """Minutes that each item adds to the work beside walking: its own and the charges not yet paid, (Q,)."""
        return np.maximum(marginal_minutes(self._finds.problem, items), LEAST_MINUTES)

    def _best_outside(self, items: Sequence[int]) -> list[int]:
        """Items that would add most if there were room, at a site already sampled in the other one's stead."""
        problem, draft = self._finds.problem, Draft(self._finds, items)
        outside = np.flatnonzero(self._open(items))
        rises = dict(zip(outside.tolist(), draft.gains(outside).tolist(), strict=True))
        left = left_without_each(self._finds, items)
        for place, taken in enumerate(items):
            others = np.flatnonzero(self._same_site(taken) & ~np.isin(np.arange(problem.site.size), items))
            for item in others.tolist():
                kept_out = float(left[place].sum() - draft.left.sum())
                rises[item] = weighted_sum(left[place], self._finds.chance[item]) - kept_out
        ranked = sorted(rises, key=lambda item: (-rises[item], int(problem.tie[item])))
        return [item for item in ranked[:FORCED_IN] if rises[item] > GRAIN]

    def _least_first(self, items: Sequence[int]) -> list[int]:
        """The items, those whose loss would cost least per minute first, given all the others."""
        problem, ordered = self._finds.problem, sorted(items, key=lambda item: int(self._finds.problem.tie[item]))
        left = left_without_each(self._finds, ordered).sum(axis=1)
        loss = left - (1.0 - self._value(ordered))
        minutes = np.array([self._added([one for one in ordered if one != item])[item] for item in ordered])
        order = np.lexsort((problem.tie[ordered], np.round(loss / minutes, 12)))
        return [ordered[place] for place in order]

    def _open(self, items: Sequence[int]) -> npt.NDArray[np.bool_]:
        """Items that may be added: one a site, and none at a site that must not be sampled, (Q,)."""
        problem = self._finds.problem
        return np.asarray(~problem.never[problem.site] & ~np.isin(problem.site, problem.site[list(items)]))

    def _same_site(self, item: int) -> npt.NDArray[np.bool_]:
        site = self._finds.problem.site
        return np.asarray(site == site[item])
