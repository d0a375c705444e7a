"""The choice of samples of one visit, as the chooser wants it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b

import numpy as np
import numpy.typing as npt

from swabwright.belief.earlier import earlier_results
from swabwright.belief.outcome import cells_of
from swabwright.detection.cells import at_source
from swabwright.detection.factor import SiteResults
from swabwright.detection.items import Item
from swabwright.detection.model import DetectionModel, detection_model
from swabwright.planning.clock_windows import line_windows
from swabwright.planning.problem import Charges, Group, IntArray, Past, Problem
from swabwright.planning.walk_controls import Shares
from swabwright.plant.document import Plant
from swabwright.work.opened import OpenVisit
from swabwright.work.openings import shared_openings
from swabwright.work.simulated import Simulated
from swabwright.work.standing import Standing


@dataclass(frozen=True)
class Weighed:
    """Items on weighted hypotheses: what each would recover, where it sits on a niche, what its site showed before.

    cells, at_source: (items, S). weight: (S,) summing to 1. past: results so far by the key that an item shares.
    """

    items: tuple[Item, ...]
    cells: npt.NDArray[np.float32]
    at_source: npt.NDArray[np.bool_]
    weight: npt.NDArray[np.float64]
    past: Mapping[str, SiteResults]


def samples_problem(opened: OpenVisit, simulated: Simulated, shares: Shares, minutes_available: float) -> Problem:
    """The problem of choosing among all items of a visit on the rows of one bank, under the visit's limits."""
    items, known, rows = simulated.items, simulated.living.known, simulated.living.rows
    cells, own = cells_of(known, rows, items), at_source(known.bank, rows, items)
    weighed = Weighed(items, cells, own, rows.weight, earlier_results(known, rows))
    return weighed_problem(opened, weighed, shares, minutes_available)


def weighed_problem(opened: OpenVisit, weighed: Weighed, shares: Shares, minutes_available: float) -> Problem:
    """The problem of choosing among items weighed on any hypotheses, under the visit's limits."""
    plant, limits, items = opened.case.plant, opened.visit.limits, weighed.items
    rooms = {room.id: (place, room.hygiene_class) for place, room in enumerate(plant.rooms)}
    place_of = {site.key: (place, *rooms[site.room]) for place, site in enumerate(plant.sites)}
    places = _whole_numbers(place_of[item.site_key] for item in items)
    machine, per_machine, minutes = shared_openings(plant, items)
    model = detection_model(opened.figures)
    return Problem(
        cells=weighed.cells,
        at_source=weighed.at_source,
        weight=weighed.weight,
        site=places[:, 0],
        room=places[:, 1],
        machine=machine,
        hygiene_class=places[:, 2],
        minutes=minutes,
        tie=np.array([_tie(item) for item in items], dtype=np.uint64),
        names=tuple(f"{item.site_code} {item.device} {item.mode.replace('_', ' ')}" for item in items),
        count=shares.surface,
        minutes_available=minutes_available,
        groups=_zone_minimums(opened),
        must=_listed(plant, {entry.site for entry in limits.must}),
        never=_listed(plant, {entry.site for entry in limits.must_not}),
        charges=Charges(
            per_room=opened.figures.number("rule.minutes_room_set_up"),
            per_machine=per_machine,
            per_class_change=opened.figures.number("rule.minutes_full_change"),
        ),
        past=_past(weighed, places[:, 0], model),
        sigma=model.sigma,
        unexplained=model.unexplained,
        hit_share=_hit_share(opened),
        budgets=Standing(plant, opened.case.catalogue, items).budgets(line_windows(plant, opened.visit)),
    )


def _whole_numbers(values: Iterable[int | Sequence[int]]) -> IntArray:
    return np.array(list(values), dtype=np.int32)


def _past(weighed: Weighed, places: IntArray, model: DetectionModel) -> Past | None:
    """Results so far by the site's place in the plant document; pieces of one site share them."""
    keys = zip(places.tolist(), (item.shared_key for item in weighed.items), strict=True)
    at_site = {place: weighed.past[key] for place, key in keys if key in weighed.past}
    return Past(at_site, model) if at_site else None


def _hit_share(opened: OpenVisit) -> float:
    return opened.figures.number("planning.hit_share") if opened.visit.emphasis == "find_and_hit" else 0.0


def _tie(item: Item) -> int:
    """A number that breaks ties the same way whatever the sites are called and however they are listed."""
    spelled = f"{item.site_key} {item.device} {item.mode}"
    return int.from_bytes(blake2b(spelled.encode(), digest_size=8).digest(), "little")


def _listed(plant: Plant, codes: set[str]) -> npt.NDArray[np.bool_]:
    return np.array([site.code in codes for site in plant.sites], dtype=np.bool_)


def _zone_minimums(opened: OpenVisit) -> tuple[Group, ...]:
    """The visit's own zone minimums; where it names none, the rulebook's, scaled down to few samples."""
    named: dict[str, int] = {str(zone): count for zone, count in opened.visit.limits.zone_minimums.items()}
    wanted = {zone: int(opened.figures.number(f"rule.zone_minimum_{zone}")) for zone in "1234"}
    minimums = {zone: named.get(zone, 0) for zone in "1234"} if named else wanted
    zones = np.array([site.zone for site in opened.case.plant.sites])
    return tuple(
        Group(f"zone {zone}", zones == int(zone), count)
        for zone, count in minimums.items()
        if count > 0 and (named or (zones == int(zone)).any())
    )
