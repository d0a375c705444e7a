"""Minutes of a set of samples: the items, each room entered, each machine opened once, changes of class."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from swabwright.planning.problem import Problem

Array = npt.NDArray[np.float64]
LEAST_MINUTES = 1e-6
"""Keeps a gain per minute finite for an item that costs none."""


def minutes_of(problem: Problem, items: Sequence[int]) -> float:
    """Minutes that a set of items takes without walking, every shared charge counted once."""
    chosen = list(items)
    charges = problem.charges
    machines = {int(machine) for machine in problem.machine[chosen] if machine >= 0}
    rooms, classes = len(set(problem.room[chosen].tolist())), len(set(problem.hygiene_class[chosen].tolist()))
    return (
        float(np.sort(problem.minutes[chosen]).sum())
        + charges.per_room * rooms
        + float(np.sort(charges.per_machine[sorted(machines)]).sum())
        + charges.per_class_change * max(0, classes - 1)
    )


def marginal_minutes(problem: Problem, items: Sequence[int]) -> Array:
    """Minutes that each item would add to a set, shape (Q,): its own, and the charges not yet paid."""
    chosen = list(items)
    charges = problem.charges
    added = problem.minutes + charges.per_room * _unused(problem.room, chosen)
    if charges.per_machine.size:
        opening = (problem.machine >= 0) & _unused(problem.machine, chosen)
        added += np.where(opening, charges.per_machine[problem.machine], 0.0)
    if chosen:
        added += charges.per_class_change * _unused(problem.hygiene_class, chosen)
    return np.asarray(added)


def _unused(label: npt.NDArray[np.int32], chosen: list[int]) -> npt.NDArray[np.bool_]:
    """Whether no chosen item has the item's label (room, machine, class), shape (Q,)."""
    used = np.zeros(int(label.max(initial=0)) + 2, dtype=bool)
    used[label[chosen]] = True
    return np.asarray(~used[label])


def has_charges(problem: Problem) -> bool:
    """Whether any minutes belong to more than one item."""
    charges = problem.charges
    return charges.per_room > 0 or charges.per_class_change > 0 or bool((charges.per_machine > 0).any())
