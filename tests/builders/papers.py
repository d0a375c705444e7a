"""An invented plan of forty samples in the smokehouse, as the papers get it."""

from collections import deque
from datetime import date, timedelta
from itertools import islice, pairwise, product
from math import hypot

import numpy as np
from builders.smokehouse import CHOSEN, at, smokehouse
from shapely import Polygon, contains_xy

from swabwright.case.investigation import Investigation
from swabwright.case.numbers import sample_numbers
from swabwright.case.plan import Believed, Plan
from swabwright.reports.stipple import largest_remainder, stipple

SHARES = {
    "S016": 0.24,
    "S026": 0.1,
    "S013": 0.06,
    "S017": 0.06,
    "S033": 0.05,
    "S034": 0.07,
    "S025": 0.05,
    "S023": 0.04,
    "S029": 0.03,
    "S021": 0.03,
    "S007": 0.03,
    "S036": 0.04,
    "S038": 0.01,
    "room:slicing": 0.06,
    "room:thaw": 0.04,
    "room:chill": 0.02,
    "room:cold": 0.02,
    "room:receiving": 0.01,
    "line:line-a": 0.02,
    "line:line-b": 0.02,
}
BLANKS = {20, 40}
"""Orders of work at which a container is opened and touches nothing."""
NEEDS = ("line A stands 12 minutes", "isolated and locked by plant staff", "mechanic opens and closes it")


def investigation(**more):
    fields = {
        "format": "swabwright/investigation",
        "version": 1,
        "name": "Juniper Lane",
        "reference": "26-031",
        "agency": "District Food Office (invented)",
        "organism": "listeria_monocytogenes",
        "signal_on": date(2026, 3, 3),
        "seed": 7,
        "presence": {"lives_here": 0.78, "set_by": "H. Okafor"},
        "visits": (
            {
                "id": "visit-1",
                "name": "Visit 1",
                "lead": "H. Okafor",
                "medium": "de_broth",
                "hours_to_laboratory": 20.0,
                "transport_temperature_c": 4.0,
                "limits": {
                    "samples": 40,
                    "starts_at": at("09:00"),
                    "ends_at": at("13:00"),
                    "people_per_team": 2,
                    "laboratory_takes": 44,
                },
            },
        ),
    } | more
    return Investigation(**fields)


def believed(plant, shares=None):
    names = {site.code: site.name for site in plant.sites}
    shares = shares or SHARES
    dots = largest_remainder(list(shares.values()))
    return tuple(
        Believed(place=place, name=names.get(place, place.replace(":", " ")), share=share, dots=count)
        for (place, share), count in zip(shares.items(), dots, strict=True)
    )


def route(plant, start, goal):
    """The doors on the way between two rooms, fewest first."""
    ways, seen = deque([(start, ())]), {start}
    while ways:
        where, doors = ways.popleft()
        if where == goal:
            return doors
        for door in plant.doors:
            if where in door.joins and "outside" not in door.joins:
                other = door.joins[door.joins[0] == where]
                if other not in seen:
                    seen.add(other)
                    ways.append((other, (*doors, door)))
    return ()


def legs(plant, stops):
    """Straight ways from door to door; stops are (order, room, point)."""
    made = []
    for (first, room, start), (second, other, end) in pairwise(stops):
        doors = route(plant, room, other)
        path = (start, *(door.at for door in doors), end)
        made.append(
            {
                "from_order": first,
                "to_order": second,
                "path": path,
                "metres": length(path),
                "barriers": tuple(door.id for door in doors if door.barrier != "none"),
            }
        )
    return tuple(made)


def length(path):
    return round(sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(path)), 1)


def chance(value, low, high, basis="10,000 histories of the second bank"):
    return {"value": value, "low": low, "high": high, "basis": basis}


def samples(plant, numbers, count):
    """Surface samples in the order of the sites, with a blank wherever BLANKS says so."""
    made, devices = [], [device for *_, device, _ in CHOSEN]
    sites = iter(zip(plant.sites, devices, strict=False))
    for order in range(1, count + 1):
        if order in BLANKS:
            made.append(sample(order, next(numbers), None, "SP"))
            continue
        site, device = next(sites)
        made.append(sample(order, next(numbers), site, device))
    return tuple(made)


def sample(order, number, site, device):
    clock = at("09:06") + timedelta(minutes=5 * order)
    shared = {
        "sample_number": number,
        "order": order,
        "device": device,
        "mode": "as_is",
        "minutes": 5.0,
        "team": 1,
        "arrive_at": clock,
        "change_first": ("gloves and sleeves",) if order % 7 else ("gown, gloves and boots",),
    }
    if site is None:
        return shared | {
            "kind": "blank",
            "site": None,
            "site_key": None,
            "site_name": None,
            "room": None,
            "zone": None,
            "area_cm2": None,
            "area_words": "open it, touch nothing, close it",
            "why": "control",
        }
    return shared | {
        "kind": "surface",
        "site": site.code,
        "site_key": site.key,
        "site_name": site.name,
        "room": site.room,
        "zone": site.zone,
        "area_cm2": 600.0,
        "needs": NEEDS if "Slicer" in site.name else (),
        "area_words": "all of it and a hand's breadth around, about 600 cm2; into the seam first",
        "why": "wet and never dry in the week",
        "gain": 0.02,
    }


CURVE = (
    (0, 0.0, 0.0),
    (10, 0.58, 0.61),
    (20, 0.78, 0.81),
    (30, 0.88, 0.9),
    (38, 0.91, 0.93),
    (50, 0.93, 0.95),
    (60, 0.94, 0.96),
)
KIT = (
    ("Sponge, held in a sterile glove", 14, 2, "one a sample"),
    ("Sponge on a handle", 16, 2, "one a sample"),
    ("Swab", 5, 1, "one a sample"),
    ("Cloth", 2, 1, "one a sample"),
    ("Boot cover, pair", 3, 1, "one a sample"),
    ("Gloves, pair", 40, 10, "a fresh pair for every sample"),
    ("Gown and boots, set", 8, 2, "one at each full change"),
    ("Cooler with packs and a water bottle with a probe", 2, 0, "2 to 8 degrees C on the way"),
)
WARNINGS = (
    (
        "safety",
        "Only plant staff open a machine. Stop it, isolate it, lock it, see it tried before a hand goes in.",
        ("S005", "S007", "S016"),
    ),
    (
        "hold",
        "Samples 1 to 6 touch surfaces that touch product. First ask what is held and since which lot.",
        ("S001", "S002", "S003"),
    ),
    ("safety", "No pressure hose or flush on a drain near exposed food before, during or after the visit.", ("S024",)),
    ("timing", "Line A stands from 10:00 to 10:40, agreed by the plant manager.", ("S005",)),
    ("rulebook", "Zone 4 gets 5 samples where the rulebook asks for at least 2.", ()),
)
RESTS_ON = (
    (
        "presence.lives_here",
        "The chance that it lives here before any sample, set by H. Okafor",
        "78 in 100",
        "typed",
        9.0,
    ),
    ("recovery.wet", "Share of cells that a wet sponge takes up", "0.10 (0.02 to 0.3)", "assumed", 6.0),
    (
        "mechanism.splash.fraction",
        "Share of a drain's load thrown up by a splash",
        "0.04 (0.01 to 0.1)",
        "Berrang and Frank, J Food Prot 2012;75:1328",
        3.5,
    ),
    (
        "site_type.hollow_roller.reach_as_is",
        "What a swab reaches of a hollow roller that stays closed",
        "0.15",
        "assumed",
        2.0,
    ),
)
SENTENCES = (
    "If it lives in this plant, these 38 samples find it with a chance of 91 in 100 (84 to 95). Under these "
    "assumptions no choice of 38 does better than 93.",
    "Not detected in all 38 would not mean that it is not there: the chance that it lives here falls from 78 to 24 in "
    "100, under these assumptions.",
    "The walk is 212 metres and takes 3 hours 32 minutes; no allowed walk is more than 3 in 100 shorter.",
)


def plan(plant=None, count=40, **more):
    """A draft plan for the smokehouse; `more` overrides any field."""
    plant = plant or smokehouse()
    numbers = sample_numbers("26-031", "visit-1", 7, ())
    chosen = samples(plant, numbers, count)
    places = {site.code: site for site in plant.sites}
    stops = [(0, "boots", plant.base)]
    stops += [(s["order"], s["room"], places[s["site"]].position) for s in chosen if s["site"]]
    way = legs(plant, stops)
    fields = {
        "format": "swabwright/plan",
        "version": 1,
        "visit": "visit-1",
        "investigation": "26-031",
        "plant": plant.name,
        "visit_date": date(2026, 3, 5),
        "software_version": "0.1.0",
        "model_version": "1",
        "seed": 7,
        "hashes": dict.fromkeys(("investigation", "plant", "rulebook", "figures", "pocket_table"), "0" * 64)
        | {"overrides": None},
        "chance_of_finding": chance(0.91, 0.84, 0.95),
        "chance_of_hitting": chance(0.63, 0.5, 0.74),
        "upper_bound": 0.93,
        "gap": 0.02,
        "gap_without_minutes": 0.03,
        "not_detected_means": {"before": chance(0.78, 0.6, 0.9), "after": chance(0.24, 0.1, 0.41)},
        "curve": tuple(
            {"samples": n, "chance": chance(c, max(c - 0.07, 0), min(c + 0.04, 1)), "best_any_plan": b}
            for n, c, b in CURVE
        ),
        "samples": chosen,
        "judgement_kept_free": 6,
        "spare_numbers": tuple(islice(numbers, 6)),
        "walk": {
            "metres": round(sum(leg["metres"] for leg in way), 1),
            "minutes": 212.0,
            "excess_over_bound": 0.03,
            "starts_at": at("09:00"),
            "ends_at": at("12:32"),
            "legs": way,
            "waits": ({"before_order": 5, "minutes": 6.0, "reason": "agreed stop of line A"},),
        },
        "kit": tuple({"item": i, "needed": n, "spare": s, "why": w} for i, n, s, w in KIT),
        "warnings": tuple({"kind": k, "text": t, "sites": s} for k, t, s in WARNINGS),
        "believed": believed(plant),
        "stipple": stipple(plant, believed(plant), 7),
        "rests_on": tuple(
            {"name": n, "words": w, "value": v, "source": s, "influence": i} for n, w, v, s, i in RESTS_ON
        ),
        "sentences": SENTENCES,
    } | more
    return Plan(**fields)


def crowded(count=250):
    """The smokehouse with `count` sites on a lattice over its floor, and a plan that takes them all, room by room."""
    plant = smokehouse()
    spots = list(lattice(plant, count))
    sites = tuple(
        site.model_copy(
            update={"code": f"C{n:03d}", "key": f"{n:032x}", "room": room, "position": at, "equipment": None}
        )
        for n, (room, at, site) in enumerate(spots, 1)
    )
    plant = plant.model_copy(update={"sites": sites})
    numbers = sample_numbers("26-031", "visit-1", 7, ())
    chosen = tuple(sample(n, next(numbers), site, CHOSEN[n % len(CHOSEN)][4]) for n, site in enumerate(sites, 1))
    shares = {"C005": 0.5, "room:slicing": 0.4, "line:line-a": 0.1}
    stops = [(0, "boots", plant.base), *((n, s.room, s.position) for n, s in enumerate(sites, 1))]
    way = legs(plant, stops)
    full = believed(plant, shares)
    walk = {"metres": 900.0, "minutes": 1400.0, "excess_over_bound": 0.1, "starts_at": at("09:00")}
    walk |= {"ends_at": at("09:00") + timedelta(minutes=1400), "legs": way, "waits": ()}
    return plant, plan(smokehouse(), samples=chosen, walk=walk, believed=full, stipple=stipple(plant, full, 7))


def lattice(plant, count):
    """Positions inside the rooms on a square lattice, room by room."""
    pitch = 2.35
    spots = []
    for room in plant.rooms:
        area = Polygon(room.outline).buffer(-0.4)
        left, low, right, high = area.bounds
        for x, y in product(np.arange(left, right, pitch), np.arange(low, high, pitch)):
            if contains_xy(area, x, y):
                spots.append((room.id, (round(float(x), 2), round(float(y), 2)), plant.sites[len(spots) % 38]))
    return spots[:count]
