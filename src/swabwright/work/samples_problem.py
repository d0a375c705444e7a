"""The choice of samples of one visit, as the chooser wants it."""

from collections.abc import Iterable, Sequence
from hashlib import blake2b

import numpy as np
import numpy.typing as npt

from swabwright.detection.cells import at_source
from swabwright.detection.items import Item
from swabwright.detection.model import detection_model
from swabwright.planning.problem import Charges, Group, IntArray, Problem
from swabwright.planning.walk_controls import Shares
from swabwright.plant.document import Plant
from swabwright.work.opened import OpenVisit
from swabwright.work.openings import shared_openings
from swabwright.work.side import Side

MODES = ("as_is", "opened")


def samples_problem(
    opened: OpenVisit, side: Side, items: tuple[Item, ...], shares: Shares, minutes_available: float
) -> Problem:
    """The problem of choosing among `items` on the rows of one bank, under the limits of the visit."""
    plant, limits = opened.case.plant, opened.visit.limits
    rooms = {room.id: (place, room.hygiene_class) for place, room in enumerate(plant.rooms)}
    place_of = {site.key: (place, *rooms[site.room]) for place, site in enumerate(plant.sites)}
    places = _whole_numbers(place_of[item.site_key] for item in items)
    machine, per_machine, minutes = shared_openings(plant, items)
    model = detection_model(opened.figures)
    return Problem(
        cells=side.cells(items),
        at_source=at_source(side.bank, side.rows, items),
        weight=side.rows.weight,
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
        past=side.past if side.past.at_site else None,
        sigma=model.sigma,
        unexplained=model.unexplained,
        hit_share=_hit_share(opened),
        mode=_whole_numbers(MODES.index(item.mode) for item in items),
    )


def _whole_numbers(values: Iterable[int | Sequence[int]]) -> IntArray:
    return np.array(list(values), dtype=np.int32)


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
