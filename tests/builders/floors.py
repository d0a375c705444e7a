"""Invented floors to walk on: rooms on a grid, doors in their walls, sites scattered over them."""

from hashlib import sha256

import numpy as np

from swabwright.plant.document import Plant
from swabwright.plant.rooms import Door, Room
from swabwright.plant.sites import Site

ROOM_M = 8.0


def rectangle(left, bottom, right, top):
    """The outline of a rectangle."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def room(name, outline, hygiene_class=1, **more):
    """A wet room; `more` overrides any field."""
    fields = {"exposed_product": hygiene_class == 1, "wetness": "wet", "temperature_c": 8.0} | more
    return Room(id=name, name=name.title(), outline=outline, hygiene_class=hygiene_class, **fields)


def door(name, first, second, at, **more):
    """A door 1.2 m wide."""
    return Door(**({"id": name, "joins": (first, second), "at": at, "width_m": 1.2} | more))


def site(code, room_name, position, **more):
    """A site of zone 3 with a key made from its code."""
    key = sha256(code.encode()).hexdigest()[:32]
    fields = {"type": "floor_crack", "zone": 3, "name": f"site {code}"} | more
    return Site(key=key, code=code, room=room_name, position=position, **fields)


def plant(rooms, doors=(), sites=(), **more):
    """A wet plant; the base is a metre inside the first room unless said otherwise."""
    left, bottom = rooms[0].outline[0]
    fields = {
        "name": "Invented floor",
        "ecology": "wet",
        "timezone": "Europe/Berlin",
        "base": (left + 1.0, bottom + 1.0),
        "rooms": tuple(rooms),
        "doors": tuple(doors),
        "sites": tuple(sites) or (site("S000", rooms[0].id, (left + 1.0, bottom + 1.0)),),
    }
    return Plant(format="swabwright/plant", version=1, **(fields | more))


def grid_rooms(columns, rows, wall_m=0.3, notched=True):
    """Rooms on a grid, some with a corner cut out; the class rises with the row."""
    step = ROOM_M + wall_m
    for row in range(rows):
        for column in range(columns):
            left, bottom = column * step, row * step
            outline = rectangle(left, bottom, left + ROOM_M, bottom + ROOM_M)
            if notched and (row + column) % 2:
                cut = ((left + ROOM_M, bottom), (left + ROOM_M, bottom + 4), (left + 3, bottom + 4))
                outline = ((left, bottom), *cut, (left + 3, bottom + ROOM_M), (left, bottom + ROOM_M))
            yield room(f"r{row}c{column}", outline, row + 1)


def grid_doors(columns, rows, wall_m=0.3, width_m=1.2):
    """A door between each room of a grid and its neighbours to the right and above."""
    step = ROOM_M + wall_m
    for row in range(rows):
        for column in range(columns):
            here, left, bottom = f"r{row}c{column}", column * step, row * step
            if column + 1 < columns:
                at = (left + ROOM_M + wall_m / 2, bottom + 2.0)
                yield door(f"{here}-right", here, f"r{row}c{column + 1}", at, width_m=width_m)
            if row + 1 < rows:
                at = (left + 1.5, bottom + ROOM_M + wall_m / 2)
                yield door(f"{here}-up", here, f"r{row + 1}c{column}", at, width_m=width_m)


def grid_plant(columns=2, rows=2, wall_m=0.3, width_m=1.2, sites=(), **more):
    """A plant of `columns` x `rows` rooms, all joined."""
    doors = grid_doors(columns, rows, wall_m, width_m)
    return plant(tuple(grid_rooms(columns, rows, wall_m)), tuple(doors), tuple(sites), **more)


def scattered(plant_drawn, count, seed):
    """Points inside the rooms of a plant, with the room of each."""
    random = np.random.default_rng(seed)
    places = []
    for number in range(count):
        here = plant_drawn.rooms[number % len(plant_drawn.rooms)]
        left, bottom = here.outline[0]
        places.append(((left + float(random.uniform(0.1, 2.9)), bottom + float(random.uniform(0.1, 7.9))), here.id))
    return places
