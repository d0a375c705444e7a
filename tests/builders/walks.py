"""Invented sites to walk to, visits in which to walk, and the rules of the order of work written out plainly."""

from datetime import UTC, datetime, timedelta
from hashlib import sha256

import numpy as np
from builders.floors import grid_plant, scattered

from swabwright.case.investigation import Limits, Visit
from swabwright.detection.items import Item
from swabwright.planning.walk_stops import StopMaker
from swabwright.plant.registry import load_catalogue
from swabwright.plant.sites import Site

START = datetime(2026, 3, 4, 8, tzinfo=UTC)
TYPES = ("belt_product_side", "control_panel", "door_handle", "cracked_floor", "cart_wheel", "drain_cover")


def visit(hours=6.0, **limits):
    """A visit of two people on Wednesday 4 March 2026, from 08:00."""
    fields = {"samples": 40, "laboratory_takes": 60, "people_per_team": 2, "blanks": 0, "duplicates": 0}
    fields |= {"judgement_share": 0.0, "starts_at": START, "ends_at": START + timedelta(hours=hours)}
    return Visit(
        id="visit-1",
        name="First visit",
        lead="A. Lead",
        limits=Limits(**(fields | limits)),
        medium="de_broth",
        hours_to_laboratory=18.0,
        transport_temperature_c=4.0,
    )


def walkable_plant(count, seed, columns=3, rows=2, **more):
    """A grid of rooms with `count` sites of mixed types scattered over them."""
    drawn = grid_plant(columns, rows)
    random = np.random.default_rng(seed)
    sites = tuple(
        site_of(f"S{n:03d}", room, at, str(random.choice(TYPES)))
        for n, (at, room) in enumerate(scattered(drawn, count, seed))
    )
    return drawn.model_copy(update={"sites": sites} | more)


def site_of(code, room, position, kind, **more):
    """A site of this type, zone 3 unless said."""
    key = sha256(code.encode()).hexdigest()[:32]
    fields = {"zone": 3, "name": f"{kind} {code}"} | more
    return Site(key=key, code=code, type=kind, room=room, position=position, **fields)


def item_at(site, mode="as_is", minutes=6.0, device="SP"):
    """An item at this site; the engine's figures in it are of no account here."""
    figures = {"area_cm2": 500.0, "area_fraction": 0.5, "recovery": 0.2, "reach": 0.01, "hit_chance": 0.5}
    return Item(
        site_key=site.key, site_code=site.code, device=device, mode=mode, occasion=0, row=0, minutes=minutes, **figures
    )


def stops_at(plant, mode="as_is", **more):
    """One stop at each site of a plant, gains falling with the number."""
    maker = StopMaker(plant, load_catalogue())
    return [maker.surface(item_at(site, mode, **more), 0.3 / (n + 1)) for n, site in enumerate(plant.sites)]


def breaks_the_order(keys):
    """The rule of the order of work that a series of keys breaks, in words; None when it keeps all of them."""
    visited, before = [], None
    for key in keys:
        visit_key = (key.group, key.room)
        if before is not None and key.group < before.group:
            return "a class or pass falls"
        if visited and visited[-1] == visit_key:
            if key.rank < before.rank:
                return "a rank falls within a room visit"
        elif visit_key in visited:
            return "a room is entered twice in one pass"
        visited = [*visited, visit_key] if not visited or visited[-1] != visit_key else visited
        before = key
    return None
