"""The pocket table of a plan: its samples and the alternates that could best stand in for one of them."""

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_finds import Finds
from swabwright.planning.pocket_rows import FewRows, few_rows, item_exponents
from swabwright.planning.pocket_table import SCALE, WEIGHTS, PocketItem, PocketTable
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.space import FloorSpace

FloatArray = npt.NDArray[np.float64]

ROWS = 1500
ALTERNATES = 80
SCREENED_ROWS = 2000


def pocket_table(
    finds: Finds, plan: Sequence[int], stop_of: Callable[[int], WalkStop], space: FloorSpace, rows: int = ROWS
) -> PocketTable:
    """The table for these planned items of the problem and their best alternates.

    stop_of: the stop of the walk of an item's index, for its minutes and its place in the order of work.
    """
    items = [*plan, *alternates(finds, plan)]
    stops = [stop_of(item) for item in items]
    few = few_rows(finds, plan, items, rows)
    return PocketTable(
        items=tuple(_described(stop, planned=n < len(plan)) for n, stop in enumerate(stops)),
        weights=_whole_weights(few.weight),
        exponents=few.exponents,
        silence=_silence_table(few),
        centimetres=_centimetres(space, stops),
    )


def alternates(finds: Finds, plan: Sequence[int], count: int = ALTERNATES) -> list[int]:
    """The items outside the plan that add most in place of the one planned item that they replace best."""
    others = [item for item in range(len(finds.problem.names)) if item not in set(plan)]
    thin = finds.on_rows(_spread(len(finds.problem.weight)))
    exponents = item_exponents(thin, plan, [*plan, *others])
    weight, planned = np.asarray(thin.problem.weight, dtype=float), exponents[: len(plan)]
    # Row j: what the plan without its j-th sample leaves silent.
    silent = np.exp(-(planned.sum(axis=0) - planned)) if len(plan) else np.ones((1, len(weight)))
    gain = ((silent * weight) @ (1.0 - np.exp(-exponents[len(plan) :])).T).max(axis=0)
    best = sorted(range(len(others)), key=lambda n: (-gain[n], int(finds.problem.tie[others[n]])))
    return [others[n] for n in best[:count]]


def _spread(rows: int) -> npt.NDArray[np.int64]:
    few = min(rows, SCREENED_ROWS)
    return (np.arange(few) * rows) // few


def _described(stop: WalkStop, *, planned: bool) -> PocketItem:
    key = stop.key
    return PocketItem(
        site=stop.code,
        device=stop.device,
        mode=stop.mode,
        seconds=round(stop.minutes * 60),
        hygiene_class=key.hygiene_class,
        pass_number=key.pass_number,
        room=key.room,
        rank=key.rank,
        planned=planned,
    )


def _whole_weights(weight: FloatArray) -> npt.NDArray[np.int32]:
    """Weights as whole numbers that together make WEIGHTS; the largest remainders are rounded up."""
    exact = weight * WEIGHTS
    whole = np.floor(exact).astype(np.int64)
    # The sum must be exact: the phone divides by it.
    lacking = WEIGHTS - int(whole.sum())
    whole[np.argsort(whole - exact, kind="stable")[:lacking]] += 1
    return whole.astype(np.int32)


def _silence_table(few: FewRows) -> npt.NDArray[np.uint32]:
    entries = int(np.ceil(np.log(2 * SCALE) / few.step)) + 1
    # No set of items can sum to more than all of them.
    longest = int(few.exponents.sum(axis=0, dtype=np.int64).max(initial=0)) + 1
    silence = np.rint(SCALE * np.exp(-few.step * np.arange(min(entries, longest))))
    return np.asarray(silence, dtype=np.uint32)


def _centimetres(space: FloorSpace, stops: Sequence[WalkStop]) -> npt.NDArray[np.int32]:
    points = [space.plant.base, *(stop.at.site.position for stop in stops)]
    rooms = [space.room_at(space.plant.base) or "", *(stop.room.id for stop in stops)]
    return np.rint(space.distance_matrix(points, rooms) * 100).astype(np.int32)
