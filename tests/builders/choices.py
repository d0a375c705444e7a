"""Choice problems small enough to search exhaustively, with every kind of limit able to bind."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np

from swabwright.detection.factor import SiteResults
from swabwright.detection.model import DetectionModel
from swabwright.planning.choose_finds import evaluate
from swabwright.planning.choose_minutes import minutes_of
from swabwright.planning.problem import Charges, Group, Past, Problem

ITEMS, SITES = 12, 8
"""Twelve items at eight sites: the first four sites can be opened up as well."""


def small_problem(seed: int, rows: int = 60) -> Problem:
    """An invented plant of three rooms in two classes; minutes, minimums and modes all bind at its settings."""
    rng = np.random.default_rng(seed)
    site = np.array([0, 0, 1, 1, 2, 2, 3, 3, 4, 5, 6, 7], dtype=np.int32)
    opened = np.array([0, 1, 0, 1, 0, 1, 0, 1, 0, 0, 0, 0], dtype=bool)
    room_of_site = np.array([0, 1, 1, 2, 0, 1, 2, 2], dtype=np.int32)
    zone_one = np.array([1, 1, 1, 0, 1, 0, 0, 0], dtype=bool)
    cells = rng.lognormal(-1.0, 2.5, (ITEMS, rows)) * (rng.random((ITEMS, rows)) < 0.4)
    cells[opened] = cells[~opened][:4] * rng.uniform(1.0, 6.0, (4, rows))
    source = rng.integers(0, SITES, rows)
    weight = rng.gamma(2.0, 1.0, rows)
    return Problem(
        cells=cells.astype(np.float32),
        at_source=site[:, None] == source[None, :],
        weight=weight / weight.sum(),
        site=site,
        room=room_of_site[site],
        machine=np.where(opened, site // 2, -1).astype(np.int32),
        hygiene_class=np.array([1, 1, 2], dtype=np.int32)[room_of_site[site]],
        minutes=np.where(opened, 6.0, 3.0) + rng.integers(0, 3, ITEMS),
        tie=rng.permutation(1000)[:ITEMS].astype(np.uint64),
        names=tuple(f"S{place:03d} SP {'opened' if up else 'as_is'}" for place, up in zip(site, opened, strict=True)),
        count=4,
        minutes_available=27.0,
        groups=(Group("zone 1", zone_one, 2), Group("zone 3", ~zone_one, 1)),
        must=np.zeros(SITES, dtype=bool),
        never=np.zeros(SITES, dtype=bool),
        charges=Charges(per_room=1.0, per_machine=np.array([3.0, 2.0]), per_class_change=2.0),
        past=None,
        sigma=1.5,
        unexplained=0.05,
    )


def free_problem(seed: int, rows: int = 60) -> Problem:
    """The small plant with only the count to bind."""
    problem = small_problem(seed, rows)
    charges = Charges(0.0, np.zeros(2), 0.0)
    return replace(problem, minutes_available=np.inf, groups=(), charges=charges)


def allowed_choices(problem: Problem) -> Iterator[tuple[int, ...]]:
    """Every set of items that keeps the limits, by trying them all; the rules are written out once more here."""
    for size in range(problem.count + 1):
        for items in combinations(range(problem.tie.size), size):
            sites = problem.site[list(items)].tolist()
            one_mode = len(set(sites)) == size
            in_time = minutes_of(problem, items) <= problem.minutes_available + 1e-9
            minimums = all(group.sites[sites].sum() >= group.minimum for group in problem.groups)
            budgets = all(budget.minutes[list(items)].sum() <= budget.available + 1e-9 for budget in problem.budgets)
            musts = set(np.flatnonzero(problem.must)) <= set(sites)
            if one_mode and in_time and budgets and minimums and musts and not problem.never[sites].any():
                yield items


def best_by_trying_all(problem: Problem) -> float:
    """The largest chance of finding of any allowed set."""
    return max(float(problem.weight @ evaluate(problem, items)) for items in allowed_choices(problem))


def wide_problem(seed: int) -> Problem:
    """A plant of 60 sites in five rooms, 74 items, 400 rows; 12 samples in 80 minutes."""
    rng = np.random.default_rng(seed)
    site = np.concatenate([np.arange(60), np.arange(0, 56, 4)]).astype(np.int32)
    opened = np.arange(site.size) >= 60
    cells = rng.lognormal(-1.0, 2.0, (site.size, 400)) * (rng.random((site.size, 400)) < 0.15)
    source = rng.integers(0, 60, 400)
    at_source = site[:, None] == source[None, :]
    cells = np.where(at_source, rng.lognormal(1.0, 1.5, cells.shape) * np.where(opened, 4.0, 1.0)[:, None], cells)
    return Problem(
        cells=cells.astype(np.float32),
        at_source=at_source,
        weight=np.full(400, 1 / 400),
        site=site,
        room=(site // 12).astype(np.int32),
        machine=np.where(opened, site // 8, -1).astype(np.int32),
        hygiene_class=(site // 24).astype(np.int32),
        minutes=np.where(opened, 7.0, 4.0),
        tie=rng.permutation(10_000)[: site.size].astype(np.uint64),
        names=tuple(f"S{place:03d} SP {'opened' if up else 'as_is'}" for place, up in zip(site, opened, strict=True)),
        count=12,
        minutes_available=80.0,
        groups=(Group("zone 1", np.arange(60) % 3 == 0, 2),),
        must=np.zeros(60, dtype=bool),
        never=np.zeros(60, dtype=bool),
        charges=Charges(per_room=2.0, per_machine=np.full(8, 5.0), per_class_change=4.0),
        past=None,
        sigma=1.5,
        unexplained=0.05,
    )


def shuffled(problem: Problem, seed: int) -> tuple[Problem, np.ndarray]:
    """The same problem with its items listed in another order, and each new item's old place."""
    places = np.random.default_rng(seed).permutation(problem.tie.size)
    per_item = ("cells", "at_source", "site", "room", "machine", "hygiene_class", "minutes", "tie")
    moved = {name: getattr(problem, name)[places] for name in per_item}
    return replace(problem, **moved, names=tuple(problem.names[place] for place in places)), places


def with_past(problem: Problem, site: int, cells: float, detected: bool) -> Problem:
    """The problem after one earlier result at a site, with so many expected cells in every row."""
    rows = problem.weight.size
    result = SiteResults(np.full((1, rows), cells, np.float32), np.array([detected]), np.zeros(1))
    model = DetectionModel(problem.sigma, problem.unexplained, 0.3, 9.7, 0.0)
    return replace(problem, past=Past({site: result}, model))
