"""Minutes to open a machine, which count once for all sites that are sampled inside it."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from swabwright.detection.items import Item
from swabwright.plant.document import Plant

Array = npt.NDArray[np.float64]
NONE_OPENED = -1


def shared_openings(plant: Plant, items: Sequence[Item]) -> tuple[npt.NDArray[np.int32], Array, Array]:
    """Index of the machine each item opens (-1 for none), minutes once per machine, and each item's own minutes.

    Of one machine the shortest opening is shared; what an item needs beyond it stays its own.
    """
    machine_of = {site.key: site.equipment for site in plant.sites}
    opened: dict[str, list[float]] = defaultdict(list)
    machines = [machine_of[item.site_key] if item.mode == "opened" else None for item in items]
    for item, machine in zip(items, machines, strict=True):
        if machine is not None:
            opened[machine].append(item.opening_minutes)
    names = sorted(opened)
    shared = {name: min(opened[name]) for name in names}
    own = [item.minutes - (shared[name] if name else 0.0) for item, name in zip(items, machines, strict=True)]
    index = np.array([names.index(name) if name else NONE_OPENED for name in machines], dtype=np.int32)
    return index, np.array([shared[name] for name in names], dtype=np.float64), np.array(own, dtype=np.float64)


def with_openings_shared(plant: Plant, items: Sequence[Item]) -> list[Item]:
    """The chosen items with each machine's shared opening spread evenly over the sites inside it."""
    machine, per_machine, own = shared_openings(plant, items)
    inside = Counter(machine.tolist())
    return [
        replace(item, minutes=float(own[place]) + (_part(per_machine, inside, int(machine[place]))))
        for place, item in enumerate(items)
    ]


def _part(per_machine: Array, inside: Counter[int], machine: int) -> float:
    return 0.0 if machine == NONE_OPENED else float(per_machine[machine]) / inside[machine]
