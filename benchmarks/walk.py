"""Rows 18 and 19: seconds of a walk, its excess over a bound proved per class, and rules of the walk broken."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import groupby, pairwise
from time import perf_counter

import numpy as np
from ortools.sat.python import cp_model

from benchmarks.table import Row
from benchmarks.world.plants import make_plant
from swabwright.case.investigation import Limits, Visit
from swabwright.detection.choices import minutes_per_sample
from swabwright.detection.items import Item
from swabwright.errors import LimitsClash
from swabwright.planning.clock_windows import stop_is_missing, windows_of
from swabwright.planning.walk import TimedStop, WalkPlanner
from swabwright.planning.walk_bound import lower_bound
from swabwright.planning.walk_legs import AT_BASE, Legs
from swabwright.planning.walk_order import OrderKey, best_order
from swabwright.planning.walk_stops import StopMaker, WalkStop
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.registry import load_catalogue
from swabwright.plant.space import FloorSpace

START = datetime(2026, 3, 4, 9, tzinfo=UTC)
SCALE = 1000
"""CP-SAT counts in whole thousandths of a minute."""


@dataclass(frozen=True)
class Case:
    """Stops on one invented plant, with the minutes between them."""

    space: FloorSpace
    stops: list[WalkStop]
    keys: list[OrderKey]
    legs: np.ndarray


def rows(*, full: bool) -> Iterable[Row]:
    """The rows of the walk: 3 plants in the small version, 12 in the whole one."""
    seeds = range(12 if full else 3)
    yield _seconds_row(seeds)
    yield _excess_row(seeds, seconds_per_class=30.0 if full else 6.0)
    yield _windows_row(seeds)
    yield _rules_row(seeds)


def make_case(seed: int, count: int) -> Case:
    """`count` sites drawn at random on a plant of 200 sites."""
    catalogue = load_catalogue()
    plant = make_plant(catalogue, seed=seed)
    chosen = np.random.default_rng(seed).choice(len(plant.sites), count, replace=False)
    space, maker = FloorSpace(plant), StopMaker(plant, catalogue)
    stops = [maker.surface(_item(plant, int(n)), gain=1.0 / count) for n in chosen]
    legs = Legs(space, catalogue.figures)
    spots = [legs.base, *((stop.at.site.position, stop.room.id) for stop in stops)]
    minutes = legs.minutes(spots, [AT_BASE, *(stop.room.hygiene_class for stop in stops)])
    return Case(space, stops, [stop.key for stop in stops], minutes)


def _item(plant: Plant, number: int) -> Item:
    site, catalogue = plant.sites[number], load_catalogue()
    device = effective_site(site, catalogue).devices[0]
    minutes = minutes_per_sample(device, 2, catalogue.figures)
    return Item(site.key, site.code, device, "as_is", 0, number, 100.0, 0.1, 0.1, 0.01, 0.1, minutes)


def _seconds_row(seeds: Sequence[int]) -> Row:
    seconds = []
    make_walk(make_case(99, 120))
    for seed in seeds:
        case = make_case(seed, 120)
        began = perf_counter()
        make_walk(case)
        seconds.append(perf_counter() - began)
    worst = max(seconds)
    measured = f"{np.mean(seconds):.3f} s mean, {worst:.3f} s worst of {len(seconds)} plants"
    return Row("18", "walk of 120 stops without windows, order and bound", measured, "0.5 s", "0.2 s", worst <= 0.5)


def make_walk(case: Case) -> float:
    """Order and bound of one case, as the program makes them; the excess over its own bound."""
    _, total = best_order(case.keys, case.legs)
    return total / lower_bound(case.keys, case.legs) - 1.0


def _excess_row(seeds: Sequence[int], seconds_per_class: float) -> Row:
    excess, own, unproved = [], [], 0
    for seed in seeds:
        case = make_case(seed, 60)
        bound, open_classes = proved_bound(case, seconds_per_class)
        _, total = best_order(case.keys, case.legs)
        excess.append(total / bound - 1.0)
        own.append(make_walk(case))
        unproved += open_classes
    measured = f"{100 * np.mean(excess):.2f} % mean, {100 * max(excess):.2f} % worst"
    note = (
        f"{unproved} classes not solved to the end within {seconds_per_class:g} s; over the bound printed in a plan "
        f"(trees and exact blocks): {100 * np.mean(own):.2f} % mean"
    )
    name = "excess over the per-class bound (CP-SAT circuit) at 60 stops"
    return Row("18", name, measured, "3 %", "1 %", max(excess) <= 0.03, note)


def proved_bound(case: Case, seconds_per_class: float) -> tuple[float, int]:
    """A lower bound on any allowed walk: a circuit per class and the cheapest way into it; classes left open."""
    numbered = sorted((key, n + 1) for n, key in enumerate(case.keys))
    total, unproved, before = 0.0, 0, [0]
    for _, members in groupby(numbered, key=lambda one: one[0].hygiene_class):
        block = list(members)
        arcs = allowed_arcs([key for key, _ in block])
        bound, proved = _circuit_bound([stop for _, stop in block], arcs, case.legs, seconds_per_class)
        first = [block[b][1] for a, b in arcs if a < 0]
        total += bound + float(case.legs[np.ix_(before, first)].min())
        unproved += not proved
        before = [block[a][1] for a, b in arcs if b < 0]
    return total, unproved


def allowed_arcs(keys: Sequence[OrderKey]) -> list[tuple[int, int]]:
    """Steps that an allowed order of one class can take; -1 is outside the class."""
    ranks: dict[tuple[tuple[int, int], str], list[int]] = {}
    for key in keys:
        ranks.setdefault((key.group, key.room), []).append(key.rank)
    levels = {visit: sorted(set(of)) for visit, of in ranks.items()}
    groups = sorted({key.group for key in keys})

    def opens(key: OrderKey) -> bool:
        return key.rank == levels[key.group, key.room][0]

    def closes(key: OrderKey) -> bool:
        return key.rank == levels[key.group, key.room][-1]

    def follows(a: OrderKey, b: OrderKey) -> bool:
        if (a.group, a.room) == (b.group, b.room):
            level = levels[a.group, a.room]
            return level.index(b.rank) - level.index(a.rank) in (0, 1)
        return closes(a) and opens(b) and groups.index(b.group) - groups.index(a.group) in (0, 1)

    inner = [(i, j) for i, a in enumerate(keys) for j, b in enumerate(keys) if i != j and follows(a, b)]
    enter = [(-1, j) for j, key in enumerate(keys) if key.group == groups[0] and opens(key)]
    leave = [(i, -1) for i, key in enumerate(keys) if key.group == groups[-1] and closes(key)]
    return inner + enter + leave


def _circuit_bound(
    stops: Sequence[int], arcs: Sequence[tuple[int, int]], legs: np.ndarray, seconds: float
) -> tuple[float, bool]:
    if len(stops) == 1:
        return 0.0, True
    model = cp_model.CpModel()
    taken = [model.new_bool_var(f"{a}>{b}") for a, b in arcs]
    model.add_circuit([(a + 1, b + 1, literal) for (a, b), literal in zip(arcs, taken, strict=True)])
    # Rounded down, so that the whole numbers stay below the real minutes.
    costs = [int(legs[stops[a], stops[b]] * SCALE) if a >= 0 and b >= 0 else 0 for a, b in arcs]
    model.minimize(sum(cost * literal for cost, literal in zip(costs, taken, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    return solver.best_objective_bound / SCALE, status == cp_model.OPTIMAL


def _visit(hours: float = 14.0) -> Visit:
    limits = Limits(
        samples=200, starts_at=START, ends_at=START + timedelta(hours=hours), people_per_team=2, laboratory_takes=200
    )
    return Visit(
        id="visit-1",
        name="Visit",
        lead="Lead",
        limits=limits,
        medium="de_broth",
        hours_to_laboratory=12.0,
        transport_temperature_c=4.0,
    )


def _in_time(seed: int, count: int) -> tuple[Case, tuple[TimedStop, ...], list[tuple[tuple[float, float], ...]], float]:
    """A walk with windows, without the sites whose line never stands long enough; its legs' paths and seconds."""
    case, visit = make_case(seed, count), _visit()
    stops = [stop for stop in case.stops if stop_is_missing(stop, case.space.plant, visit) is None]
    planner = WalkPlanner(case.space, load_catalogue().figures, visit)
    began = perf_counter()
    while True:
        try:
            timed, walk = planner.walk(stops)
            return case, timed, [leg.path for leg in walk.legs], perf_counter() - began
        except LimitsClash as clash:
            missed = getattr(clash, "stop", None)
            stops = [stop for stop in stops if stop is not missed]


def _windows_row(seeds: Sequence[int]) -> Row:
    found = [_in_time(seed, 60) for seed in seeds]
    seconds = [one[3] for one in found]
    waited = [sum(one.wait_minutes for one in timed) for _, timed, _, _ in found]
    measured = f"{np.mean(seconds):.2f} s mean, {np.mean(waited):.0f} minutes waited for breaks and agreed stops"
    return Row("18", "walk of 60 stops with windows, legs and clock included", measured, "none", "none", None)


def _rules_row(seeds: Sequence[int]) -> Row:
    dirty = walls = broken = stops = 0
    for seed in seeds:
        case, timed, paths, _ = _in_time(seed, 60)
        stops += len(timed)
        dirty += sum(1 for _ in clean_after_dirty([one.stop.key for one in timed]))
        walls += sum(not case.space.stays_on_floor(path) for path in paths)
        broken += sum(_breaks_window(one, case.space.plant) for one in timed)
    measured = f"{dirty}, {walls}, {broken} in {stops} stops"
    name = "clean-after-dirty steps, walls crossed, windows broken"
    return Row("19", name, measured, "0, 0, 0", "0, 0, 0", dirty + walls + broken == 0)


def clean_after_dirty(keys: Sequence[OrderKey]) -> Iterator[tuple[OrderKey, OrderKey]]:
    """Steps to a lower class, an earlier pass, a lower rank in the same visit, or into a room visited in this pass."""
    left: set[tuple[tuple[int, int], str]] = set()
    for before, after in pairwise(keys):
        if (before.group, before.room) == (after.group, after.room):
            if after.rank < before.rank:
                yield before, after
            continue
        left.add((before.group, before.room))
        if after.group < before.group or (after.group, after.room) in left:
            yield before, after


def _breaks_window(one: TimedStop, plant: Plant) -> bool:
    windows = windows_of(one.stop, plant, _visit())
    arrives = (one.arrive_at - START).total_seconds() / 60
    needed = max(one.stop.minutes, one.stop.halt.minutes_down)
    hair = 1 / 60
    return windows is not None and not any(
        window.opens - hair <= arrives and arrives + needed <= window.closes + hair for window in windows
    )
