"""Invented choice problems with few, very uneven loads, to time and judge the chooser without a bank."""

import numpy as np

from swabwright.planning.problem import Charges, Group, Problem


def synthetic_problem(
    rows: int = 20_000, sites: int = 200, count: int = 20, seed: int = 1, minutes_a_sample: float = 6.5
) -> Problem:
    """A problem with lognormal loads on the few sites that each row reaches, rooms, machines, zones and charges."""
    rng = np.random.default_rng(seed)
    room = np.sort(rng.integers(0, max(2, sites // 14), sites))
    zone = rng.choice(4, sites, p=[0.3, 0.3, 0.25, 0.15])
    opened = np.flatnonzero(rng.random(sites) < 0.42)
    site = np.concatenate([np.arange(sites), opened])
    source, at_site = _loads(rng, rows, room)
    is_open = np.arange(site.size) >= sites
    reach = np.where(is_open, 4.0, 0.3)[:, None] * rng.lognormal(0.0, 1.5, (site.size, rows)).astype(np.float32)
    at_source = site[:, None] == source[None, :]
    cells = (at_site[site] + at_source * reach * at_site.max()).astype(np.float32)
    machine_of_site = np.where(rng.random(sites) < 0.5, np.arange(sites) // 4, -1)
    weight = rng.gamma(2.0, 1.0, rows)
    return Problem(
        cells=cells,
        at_source=at_source,
        weight=weight / weight.sum(),
        site=site.astype(np.int32),
        room=room[site].astype(np.int32),
        machine=np.where(is_open, machine_of_site[site], -1).astype(np.int32),
        hygiene_class=(room[site] * 3 // (room.max() + 1)).astype(np.int32),
        minutes=np.where(is_open, 9.0, 3.0) + rng.uniform(0.0, 1.0, site.size),
        tie=rng.integers(0, 2**63, site.size).astype(np.uint64),
        names=tuple(f"S{index:03d} SP {'opened' if index >= sites else 'as_is'}" for index in range(site.size)),
        count=count,
        minutes_available=minutes_a_sample * count,
        groups=tuple(Group(f"zone {z + 1}", zone == z, max(1, count // 10)) for z in range(4)),
        must=np.zeros(sites, dtype=bool),
        never=np.zeros(sites, dtype=bool),
        charges=Charges(2.0, np.full(sites // 4 + 1, 6.0), 5.0),
        past=None,
        sigma=1.5,
        unexplained=0.05,
    )


def _loads(rng: np.random.Generator, rows: int, room: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Source of each row and cells per site and row: many at the source's room, few and uneven elsewhere."""
    sites = room.size
    source = rng.choice(sites, rows, p=rng.dirichlet(np.full(sites, 0.5)))
    gathers = rng.lognormal(0.0, 1.8, sites)  # drains, floors and hands gather, smooth walls do not
    near = (
        (room[:, None] == room[None, :]) * (rng.random((sites, sites)) < 0.6) * rng.lognormal(0.0, 1.5, (sites, sites))
    )
    far = (rng.random((sites, sites)) < 0.15) * rng.lognormal(-2.5, 1.5, (sites, sites))
    kernel = gathers[:, None] * (near + far)
    strength = rng.lognormal(0.5, 2.0, rows)
    reached = rng.random((sites, rows)) < 0.7
    cells = kernel[:, source] * strength * rng.lognormal(-1.0, 1.2, (sites, rows)) * reached
    return source, cells.astype(np.float32)
