"""The choice of samples: the best that greedy, swaps and room moves reach under every limit."""

import heapq
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds, evaluate_hits, prefix_finds, prepare
from swabwright.planning.choose_minutes import has_charges, minutes_of
from swabwright.planning.choose_relaxed import relaxed_start
from swabwright.planning.feasible import Limits
from swabwright.planning.feasible_clash import require_possible
from swabwright.planning.greedy import By, lazy_greedy
from swabwright.planning.greedy_rooms import room_bundles
from swabwright.planning.problem import Choice, Problem
from swabwright.planning.swap import swap_until_stuck
from swabwright.planning.swap_rooms import best_room_move

MOST_ROUNDS = 20
"""Rounds of adding, swapping and moving rooms."""
QUICK_ROUNDS = 1
"""Rounds by which starts are compared."""


def choose(problem: Problem, finds: Finds | None = None) -> Choice:
    """The samples to take, in the order of what each adds; raises LimitsClash when no set keeps the limits.

    finds: the table made by `prepare` for the same rows, to save making it again.
    """
    finds = finds or prepare(problem)
    limits = Limits(problem, require_possible(problem))
    starts = [improve(draft, limits, QUICK_ROUNDS, rooms=False) for draft in _starts(finds, limits)]
    return as_choice(improve(max(starts, key=lambda draft: draft.value), limits), limits)


def choose_quickly(problem: Problem, finds: Finds) -> Choice:
    """The samples that greedy and swaps end at, without room moves; raises LimitsClash as `choose` does.

    For searches that ask many times and weigh what they end at again.
    """
    limits = Limits(problem, require_possible(problem))
    greedy = _greedy(finds, limits, "gain")
    if minutes_bind(greedy, limits):
        greedy = max(greedy, _greedy(finds, limits, "rate"), key=lambda draft: draft.value)
    return as_choice(improve(greedy, limits, QUICK_ROUNDS, rooms=False), limits)


def improve(draft: Draft, limits: Limits, rounds: int = MOST_ROUNDS, rooms: bool = True) -> Draft:
    """The draft after rounds of adding, swapping and, if asked, room moves, until a round changes nothing."""
    for _ in range(rounds):
        before = draft.value
        draft = _fill(draft, limits)
        draft, _swaps = swap_until_stuck(draft, limits)
        if rooms and has_charges(limits.problem) and minutes_bind(draft, limits):
            draft = best_room_move(draft, limits) or draft
        if draft.value <= before:
            break
    return draft


def minutes_bind(draft: Draft, limits: Limits) -> bool:
    """Whether the count is not used up, so that minutes (or a lack of anything to find) stopped the draft."""
    problem = limits.problem
    spare = problem.minutes_available - minutes_of(problem, draft.items)
    largest = float(problem.minutes.max(initial=0.0)) + problem.charges.per_room
    return len(draft.items) < problem.count or spare < largest


def _starts(finds: Finds, limits: Limits) -> list[Draft]:
    by_gain = _greedy(finds, limits, "gain")
    if not minutes_bind(by_gain, limits):
        return [by_gain]
    starts = [by_gain, _greedy(finds, limits, "rate")]
    if has_charges(limits.problem):
        starts.append(_mended(room_bundles(finds, limits), limits))
    best = max(starts, key=lambda draft: draft.value)
    relaxed = relaxed_start(finds, limits, best.items)
    return [best] if relaxed is None else [best, Draft(finds, relaxed)]


def _greedy(finds: Finds, limits: Limits, by: By) -> Draft:
    return _mended(lazy_greedy(Draft(finds), limits, by), limits)


def _mended(draft: Draft, limits: Limits) -> Draft:
    """The draft completed to the minimums, should a search have stopped short of them."""
    if limits.kept(draft.items):
        return draft
    return Draft(draft.finds, limits.completion(draft.items) or limits.witness)


def _fill(draft: Draft, limits: Limits) -> Draft:
    filled = [lazy_greedy(Draft(draft.finds, draft.items), limits, by) for by in _ways(draft, limits)]
    return max(filled, key=lambda tried: tried.value)


def _ways(draft: Draft, limits: Limits) -> Sequence[By]:
    return ("gain", "rate") if minutes_bind(draft, limits) else ("gain",)


def as_choice(draft: Draft, limits: Limits) -> Choice:
    """The draft as a choice: re-ordered so that each sample adds the most that is left, with its gain."""
    problem = limits.problem
    items = in_order_of_gain(draft)
    # summed here: the library's product would wake a thread on every core for so few numbers
    found = [0.0, *(float((problem.weight * rows).sum()) for rows in prefix_finds(problem, items))]
    return Choice(
        items=tuple(items),
        gains=tuple(after - before for before, after in pairwise(found)),
        found=found[-1],
        hit=float(problem.weight @ evaluate_hits(problem, items)),
        minutes=minutes_of(problem, items),
    )


def in_order_of_gain(draft: Draft) -> list[int]:
    """The draft's items, each the one that adds most to those before it; ties by tie key."""
    ordered = Draft(draft.finds)
    tie = draft.finds.problem.tie
    stale = [(-np.inf, int(tie[item]), item) for item in draft.items]
    heapq.heapify(stale)
    while stale:
        item = stale[0][2]
        fresh = (-ordered.gain(item), int(tie[item]), item)
        heapq.heapreplace(stale, fresh)
        if stale[0] == fresh:
            ordered.add(heapq.heappop(stale)[2])
    return ordered.items
