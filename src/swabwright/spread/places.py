"""The rows of the contact network: every site, and the rest of every room, in an order nobody can change."""

from collections.abc import Mapping
from dataclasses import dataclass

from shapely.geometry import Polygon

from swabwright.compute.keys import key_hash
from swabwright.errors import DocumentRefused, Fault
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.model import Point
from swabwright.plant.rooms import Room, Wetness
from swabwright.plant.sites import Site

CM2_PER_M2 = 10_000.0
FEWEST_REST_SHARE = 0.05
"""A room drawn full still has this share of its floor that nobody drew."""


@dataclass(frozen=True)
class Place:
    """One row: a site, or the rest of a room (what nobody drew), as the contact network sees it."""

    name: str
    """The site's key, or `room:<id>`."""
    family: str
    """The key of the site this one was cut from, else its own; random draws hang on it."""
    label: str
    """How sentences call it: the site's code, or the rest of the named room."""
    room: str
    position: Point
    height_m: float
    area_m2: float
    wetness: Wetness
    holder: str
    site: Site | None
    """None for the rest of a room."""

    @property
    def is_rest(self) -> bool:
        """Whether this is the rest of a room."""
        return self.site is None

    @property
    def touches_food(self) -> bool:
        """Whether product on a line touches it."""
        return self.site is not None and self.site.zone == 1 and self.site.line is not None


def places_of(plant: Plant, catalogue: Catalogue) -> tuple[Place, ...]:
    """The rows in canonical order: sites by room and hash of their key, then the rest of each room."""
    refuse_shared_keys(plant)
    sites = [_site_place(site, catalogue) for site in plant.sites]
    ordered = sorted(sites, key=lambda place: (place.room, key_hash(place.name), place.name))
    drawn = {room.id: sum(p.area_m2 for p in sites if p.room == room.id) for room in plant.rooms}
    return tuple(ordered) + tuple(_rest_place(room, drawn) for room in sorted(plant.rooms, key=lambda room: room.id))


def refuse_shared_keys(plant: Plant) -> None:
    """Refuse a plant in which two sites have the same permanent key."""
    first: dict[str, str] = {}
    faults = []
    for number, site in enumerate(plant.sites):
        if site.key in first:
            problem = f"site {site.code} has the key of site {first[site.key]}; give the copy a key of its own"
            faults.append(Fault(f"sites[{number}].key", problem))
        first.setdefault(site.key, site.code)
    if faults:
        raise DocumentRefused("plant", faults)


def _site_place(site: Site, catalogue: Catalogue) -> Place:
    settled = effective_site(site, catalogue)
    return Place(
        name=site.key,
        family=site.split_from or site.key,
        label=site.code,
        room=site.room,
        position=site.position,
        height_m=site.height_m,
        area_m2=settled.area_cm2 / CM2_PER_M2,
        wetness=settled.wetness,
        holder=settled.type.holder,
        site=site,
    )


def _rest_place(room: Room, drawn_m2: Mapping[str, float]) -> Place:
    floor = Polygon(room.outline)
    middle = floor.representative_point()
    return Place(
        name=f"room:{room.id}",
        family=f"room:{room.id}",
        label=f"the rest of {room.name}",
        room=room.id,
        position=(middle.x, middle.y),
        height_m=0.0,
        area_m2=max(floor.area - drawn_m2[room.id], FEWEST_REST_SHARE * floor.area),
        wetness=room.wetness,
        holder="floor",
        site=None,
    )
