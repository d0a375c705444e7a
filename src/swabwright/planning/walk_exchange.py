"""Exchanges on a walk that fits: a site given up for its line takes the turn of one that adds less."""

from collections.abc import Iterator, Sequence

from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_shorten import MayDrop, fits
from swabwright.planning.walk_stops import WalkStop

TAKEN_UP, GIVEN_UP = 8, 40
"""Sites tried: given up before, most gain first; and on the walk, least gain first."""


def exchanged(
    kept: Sequence[WalkStop], given_up: Sequence[WalkStop], planner: WalkPlanner, allowed: MayDrop
) -> list[WalkStop]:
    """The stops after every exchange of one for one, found in one pass, that gains and still ends in time."""
    best = list(kept)
    for stop in sorted(given_up, key=lambda one: -one.gain)[:TAKEN_UP]:
        better = next((tried for tried in _with(stop, best, allowed) if fits(tried, planner)), None)
        best = better or best
    return best


def _with(stop: WalkStop, kept: Sequence[WalkStop], allowed: MayDrop) -> Iterator[list[WalkStop]]:
    """The stops with one more and one of less gain gone, least gain first."""
    less = sorted((one for one in kept if one.gain < stop.gain), key=lambda one: one.gain)
    for gone in less[:GIVEN_UP]:
        rest = [*(one for one in kept if one is not gone), stop]
        if stop.code not in {one.code for one in kept} and allowed(gone, rest):
            yield rest
