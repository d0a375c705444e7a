"""A problem to be carried in a pocket: sites on a floor, niches that reach the sites near them."""

import numpy as np
from builders.walks import item_at, walkable_plant

from swabwright.planning.problem import Charges, Problem
from swabwright.planning.walk_stops import StopMaker
from swabwright.plant.registry import load_catalogue


def pocket_problem(sites=60, rows=4000, seed=1):
    """One item a site; each row has a niche at one site, seen from others the less the farther they are."""
    drawn = walkable_plant(sites, seed)
    random = np.random.default_rng(seed)
    spots = np.array([site.position for site in drawn.sites])
    source = random.integers(0, sites, rows)
    metres = np.hypot(*(spots[:, None] - spots[source][None, :]).transpose(2, 0, 1))
    strength = np.exp(random.normal(2.0, 1.5, rows))
    noise = np.exp(random.normal(-1.0, 1.5, (sites, rows)))
    cells = (strength * noise * np.exp(-metres / 2.5)).astype(np.float32)
    weight = random.gamma(0.5, 1.0, rows)
    number = np.arange(sites, dtype=np.int32)
    none = np.full(sites, -1, dtype=np.int32)
    problem = Problem(
        cells=cells,
        at_source=number[:, None] == source[None, :],
        weight=weight / weight.sum(),
        site=number,
        room=np.zeros(sites, dtype=np.int32),
        machine=none,
        hygiene_class=np.ones(sites, dtype=np.int32),
        minutes=np.full(sites, 6.0),
        tie=random.integers(0, 2**63, sites).astype(np.uint64),
        names=tuple(f"{site.code} SP as_is" for site in drawn.sites),
        count=sites,
        minutes_available=1000.0,
        groups=(),
        must=np.zeros(sites, dtype=bool),
        never=np.zeros(sites, dtype=bool),
        charges=Charges(0.0, np.zeros(0), 0.0),
        past=None,
        sigma=1.5,
        unexplained=0.05,
    )
    return drawn, problem


def stop_maker_of(drawn):
    """The stop of the walk of each item's index."""
    maker = StopMaker(drawn, load_catalogue())
    return lambda item: maker.surface(item_at(drawn.sites[item]))


def greedy_plan(finds, count):
    """The items of most further gain, one after the other."""
    silent, plan = np.ones(finds.chance.shape[1]), []
    for _ in range(count):
        gain = finds.chance @ (finds.weight * silent)
        gain[plan] = -1.0
        plan.append(int(np.argmax(gain)))
        silent *= 1.0 - finds.chance[plan[-1]]
    return plan
