"""Niche to contact, hand and drip: what moves within a machine, at a workstation, and down from overhead."""

from collections.abc import Iterator

import numpy as np
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon

from swabwright.plant.lines import Workstation
from swabwright.plant.rooms import Overhead
from swabwright.spread.drawing import Drawing
from swabwright.spread.places import Place
from swabwright.spread.reach import Reach, Target, same_family, with_remainder

NEAREST_ZONES = (1, 2)


def reaches_in_machines(drawing: Drawing) -> Iterator[Reach]:
    """What works its way out of a machine onto its zone 1 and 2 sites, in equal shares."""
    for machine in drawing.plant.equipment:
        rows = [row for row, place in drawing.sites() if place.site and place.site.equipment == machine.id]
        for row in rows:
            place = drawing.places[row]
            near = [to for to in rows if _zone(drawing.places[to]) in NEAREST_ZONES]
            shares = _equal_shares([drawing.places[to] for to in near if not same_family(place, drawing.places[to])])
            if shares:
                why = f"what {place.label} sheds works its way to it within {machine.name}"
                targets = tuple(
                    Target(to, shares[drawing.places[to].name], why) for to in near if drawing.places[to].name in shares
                )
                yield Reach(row, "niche_to_contact", machine.id, _clock(place), 1.0, targets)


def _zone(place: Place) -> int:
    return place.site.zone if place.site else 4


def _clock(place: Place) -> str:
    line = place.site.line if place.site else None
    return f"line:{line}" if line else f"room:{place.room}"


def _equal_shares(places: list[Place]) -> dict[str, float]:
    """Equal shares of the drawn sites; the pieces of one site divide its share by area."""
    families = {place.family for place in places}
    areas = {family: sum(p.area_m2 for p in places if p.family == family) for family in families}
    return {place.name: place.area_m2 / areas[place.family] / len(families) for place in places}


def reaches_by_hand(drawing: Drawing) -> Iterator[Reach]:
    """What hands at a workstation carry from one touched site to another."""
    for station in drawing.plant.workstations:
        weights = {drawing.row_of_code[touch.site]: touch.weight for touch in station.touches}
        for row in weights:
            yield _from_hands(drawing, station, row, weights)


def _from_hands(drawing: Drawing, station: Workstation, row: int, weights: dict[int, float]) -> Reach:
    place, kernel_m = drawing.places[row], drawing.mechanisms["hand"].kernel_m
    others = [to for to in weights if not same_family(place, drawing.places[to])]
    whole = sum(weights[to] for to in others)
    metres = {to: float(np.hypot(*(drawing.positions[to] - drawing.positions[row]))) for to in others}
    targets = [
        Target(
            to,
            weights[to] / whole * float(np.exp(-metres[to] / kernel_m)),
            f"hands at {station.name} touch {place.label} and then it, {metres[to]:.1f} m away",
        )
        for to in others
    ]
    why = f"hands at {station.name} touch {place.label} and then what nobody drew"
    filled = with_remainder(targets, drawing.rest_row[place.room], why)
    return Reach(row, "hand", station.id, _clock(place), 1.0, filled)


def reaches_below(drawing: Drawing) -> Iterator[Reach]:
    """What drips from overhead things onto whatever lies under them."""
    for thing in drawing.plant.overhead:
        rows = [row for row, place in drawing.sites() if place.site and place.site.overhead == thing.id]
        if thing.drips:
            for row in rows:
                yield _drips(drawing, thing, row)


def _drips(drawing: Drawing, thing: Overhead, row: int) -> Reach:
    margin_m = drawing.number("mechanism.drip.margin_m")
    below = Polygon(thing.outline).buffer(margin_m)
    place = drawing.places[row]
    targets = [
        Target(to, other.area_m2 / below.area, f"{thing.name} drips from {place.label} onto it")
        for to, other in drawing.sites()
        if other.room == thing.room and _hangs_below(other, thing) and below.covers(ShapelyPoint(other.position))
    ]
    why = f"{thing.name} drips from {place.label} onto what nobody drew"
    filled = with_remainder(targets, drawing.rest_row[place.room], why)
    return Reach(row, "drip", thing.id, f"room:{place.room}", 1.0, filled)


def _hangs_below(place: Place, thing: Overhead) -> bool:
    return place.site is not None and place.site.overhead != thing.id and place.holder != "overhead"
