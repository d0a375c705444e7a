"""What it costs to insist on a site, or to leave one out: the choice made again after one change."""

from dataclasses import replace
from typing import Literal

from swabwright.planning.choose import as_choice, improve
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds
from swabwright.planning.feasible import Limits
from swabwright.planning.feasible_clash import require_possible
from swabwright.planning.problem import Choice, Problem
from swabwright.planning.swap_rooms import trim

Change = Literal["pin", "forbid"]
QUICK_ROUNDS = 1


def with_change(problem: Problem, site: int, change: Change) -> Problem:
    """The problem with one site pinned (must be taken) or forbidden (never taken)."""
    must, never = problem.must.copy(), problem.never.copy()
    must[site], never[site] = change == "pin", change == "forbid"
    return replace(problem, must=must, never=never)


def replan(problem: Problem, before: Choice, finds: Finds) -> Choice:
    """A choice for changed limits, started from the one before; the same rows, so the same `finds`.

    Raises LimitsClash when no set keeps the changed limits.
    """
    limits = Limits(problem)
    draft = Draft(finds, [item for item in before.items if limits.open[item]])
    for item in _best_at_missing(draft, limits):
        draft.add(item)
    trimmed = trim(draft, limits)
    if trimmed is None or not limits.kept(trimmed.items):
        limits = Limits(problem, require_possible(problem))
        trimmed = Draft(finds, limits.completion([]) or limits.witness)
    return as_choice(improve(trimmed, limits, QUICK_ROUNDS, rooms=False), limits)


def price(problem: Problem, before: Choice, finds: Finds, site: int, change: Change) -> float:
    """By how much the chance of finding falls when a site is pinned or forbidden and the rest is chosen again."""
    return before.found - replan(with_change(problem, site, change), before, finds).found


def _best_at_missing(draft: Draft, limits: Limits) -> list[int]:
    """The item with the most gain at each must site that is not taken yet."""
    _lacking, must = limits.missing(draft.items)
    chosen = []
    for site in must.nonzero()[0]:
        items = [int(item) for item in (limits.problem.site == site).nonzero()[0]]
        if items:
            chosen.append(max(items, key=lambda item: (draft.gain(item), -int(limits.problem.tie[item]))))
    return chosen
