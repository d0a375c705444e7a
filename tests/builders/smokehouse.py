"""An invented smokehouse of nine rooms, laid out by hand for the tests of the papers."""

from datetime import datetime, time, timedelta, timezone
from hashlib import sha256

from swabwright.plant.document import Plant

SCALE, LEFT, BOTTOM = 0.0696, 35.0, 735.0
"""The rooms were laid out on a sketch 762 units wide; these turn it into metres with y upwards."""
ZONE = timezone(timedelta(hours=1))


def metres(*points):
    return tuple((round((x - LEFT) * SCALE, 2), round((BOTTOM - y) * SCALE, 2)) for x, y in points)


def box(left, top, right, bottom):
    return metres((left, bottom), (right, bottom), (right, top), (left, top))


def room(name, title, outline, klass, exposed=False, celsius=8.0):
    return {
        "id": name,
        "name": title,
        "outline": outline,
        "hygiene_class": klass,
        "exposed_product": exposed,
        "wetness": "wet",
        "temperature_c": celsius,
    }


SLICING = metres((455, 339), (639, 339), (639, 409), (797, 409), (797, 732), (281, 732), (281, 461), (455, 461))
ROOMS = (
    room("receiving", "Receiving dock", box(38, 147, 223, 330), 4),
    room("thaw", "Thaw and brine", box(229, 147, 449, 330), 3, True),
    room("kilns", "Kilns", box(455, 147, 639, 330), 2, True, 26.0),
    room("chill", "Chill store", box(645, 147, 797, 400), 2, True, 2.0),
    room("waste", "Waste", box(38, 336, 154, 520), 4),
    room("boots", "Boot change", box(160, 336, 275, 520), 3),
    room("traywash", "Tray wash", box(281, 336, 449, 452), 3, celsius=18.0),
    room("cold", "Finished cold store", box(38, 526, 275, 732), 2, celsius=2.0),
    room("slicing", "Slicing and packing", SLICING, 1, True, 6.0),
)


def door(name, first, second, at, width, barrier="none"):
    return {"id": name, "joins": (first, second), "at": metres(at)[0], "width_m": width, "barrier": barrier}


DOORS = (
    door("dock", "outside", "receiving", (35, 205), 3.2),
    door("thaw-curtain", "receiving", "thaw", (226, 225), 2.4),
    door("kiln-curtain", "thaw", "kilns", (452, 290), 2.4),
    door("kiln-chill", "kilns", "chill", (642, 296), 2.0),
    door("tray-thaw", "thaw", "traywash", (323, 333), 2.0, "boots"),
    door("tray-slicing", "traywash", "slicing", (406, 456), 1.8, "full_change"),
    door("chill-slicing", "chill", "slicing", (732, 404), 2.4, "full_change"),
    door("waste-dock", "receiving", "waste", (98, 333), 2.0),
    door("boots-dock", "receiving", "boots", (192, 333), 1.8),
    door("waste-boots", "waste", "boots", (157, 466), 1.4, "boots"),
    door("boots-slicing", "boots", "slicing", (278, 490), 1.6, "full_change"),
    door("boots-cold", "boots", "cold", (207, 523), 1.8, "boots"),
    door("cold-slicing", "cold", "slicing", (278, 576), 2.0, "boots"),
    door("cold-out", "outside", "cold", (35, 640), 3.2),
    door("waste-out", "outside", "waste", (35, 440), 2.2),
)


def machine(name, title, where, outline, line=None):
    return {"id": name, "name": title, "room": where, "outline": outline, "line": line}


def lines_machines(letter, top):
    line = f"line-{letter.lower()}"
    parts = (
        ("packer", 392, 472, top, top + 44),
        ("scale", 477, 510, top + 5, top + 36),
        ("slicer", 596, 648, top, top + 42),
        ("infeed", 663, 722, top + 5, top + 36),
    )
    return tuple(
        machine(f"{kind}-{letter.lower()}", f"{kind.title()} {letter}", "slicing", box(left, high, right, low), line)
        for kind, left, right, high, low in parts
    )


EQUIPMENT = (
    machine("thaw-1", "Thaw tank 1", "thaw", box(243, 155, 284, 212)),
    machine("thaw-2", "Thaw tank 2", "thaw", box(292, 155, 333, 212)),
    machine("brine", "Brine tank", "thaw", box(351, 155, 437, 187)),
    machine("salting", "Salting table", "thaw", box(351, 199, 437, 224)),
    machine("kiln-1", "Kiln 1", "kilns", box(465, 152, 517, 238)),
    machine("kiln-2", "Kiln 2", "kilns", box(523, 152, 575, 238)),
    machine("kiln-3", "Kiln 3", "kilns", box(580, 152, 632, 238)),
    machine("rack-1", "Rack 1", "chill", box(660, 181, 687, 261)),
    machine("rack-2", "Rack 2", "chill", box(705, 181, 732, 261)),
    machine("rack-3", "Rack 3", "chill", box(754, 181, 781, 312)),
    machine("washer", "Tray washer", "traywash", box(295, 362, 424, 394)),
    machine("trolleys", "Trolleys", "slicing", box(472, 352, 518, 381)),
    machine("bench", "Tool bench", "slicing", box(667, 703, 781, 720)),
    machine("bin-1", "Waste bins", "waste", box(52, 372, 140, 398)),
    machine("bootwash", "Boot washer", "boots", box(224, 350, 268, 368)),
    machine("pallets-1", "Pallet row 1", "cold", box(52, 570, 208, 600)),
    machine("pallets-2", "Pallet row 2", "cold", box(94, 674, 250, 704)),
    *lines_machines("A", 500),
    *lines_machines("B", 607),
)
DRAINS = (
    ("drain-2", "Drain 2", ((437, 292), (240, 292), (139, 285), (8, 285)), "along"),
    ("drain-3", "Drain 3", ((549, 302), (470, 302), (466, 292), (437, 292)), "along"),
    ("drain-6", "Drain 6", ((620, 684), (347, 692), (160, 709), (8, 709)), "along"),
    ("drain-5", "Drain 5", ((767, 358), (767, 479), (496, 479)), "along"),
    ("drain-7", "Drain 7", ((315, 415), (472, 415), (472, 479), (496, 479)), "along"),
    ("drain-9", "Drain 9", ((217, 470), (90, 479), (8, 479)), "unknown"),
    ("drain-4", "Drain 4", ((496, 479), (496, 582), (347, 582), (347, 690)), "along"),
)

# code, the plant's own name, room, sketch position, zone, device, what it belongs to
CHOSEN = (
    ("Packer A, outfeed belt", "slicing", (323, 521), 1, "SP", {"line": "line-a"}),
    ("Packer A, loading table", "slicing", (420, 514), 1, "SP", {"equipment": "packer-a"}),
    ("Scale A, weighing plate", "slicing", (493, 521), 1, "SP", {"equipment": "scale-a"}),
    ("Conveyor A, belt", "slicing", (541, 521), 1, "SP", {"line": "line-a"}),
    ("Slicer A, blade guard", "slicing", (614, 514), 1, "SW", {"equipment": "slicer-a"}),
    ("Infeed A, table top", "slicing", (698, 517), 1, "SP", {"equipment": "infeed-a"}),
    ("Slicer A, underside", "slicing", (641, 558), 2, "SH", {"equipment": "slicer-a"}),
    ("Conveyor A, hollow roller end", "slicing", (559, 550), 2, "SW", {"line": "line-a"}),
    ("Packer A, control panel", "slicing", (417, 554), 2, "SP", {"equipment": "packer-a"}),
    ("Packer B, outfeed belt", "slicing", (323, 629), 1, "SP", {"line": "line-b"}),
    ("Packer B, loading table", "slicing", (420, 620), 1, "SP", {"equipment": "packer-b"}),
    ("Scale B, weighing plate", "slicing", (496, 627), 1, "SP", {"equipment": "scale-b"}),
    ("Conveyor B, belt", "slicing", (541, 627), 1, "SP", {"line": "line-b"}),
    ("Infeed B, table top", "slicing", (710, 622), 1, "SP", {"equipment": "infeed-b"}),
    ("Infeed B, underside", "slicing", (719, 658), 2, "SH", {"equipment": "infeed-b"}),
    ("Slicer B, housing seam", "slicing", (637, 616), 2, "SW", {"equipment": "slicer-b"}),
    ("Conveyor B, hollow roller end", "slicing", (576, 648), 2, "SW", {"line": "line-b"}),
    ("Scale B, cable gland", "slicing", (496, 657), 2, "SW", {"equipment": "scale-b"}),
    ("Packer B, control panel", "slicing", (437, 657), 2, "SP", {"equipment": "packer-b"}),
    ("Floor and wall joint, east", "slicing", (769, 686), 4, "CL", {}),
    ("Cleaning tools, hanging rack", "slicing", (769, 535), 3, "SH", {}),
    ("Chill store door, seal", "slicing", (772, 431), 3, "SH", {}),
    ("Trolley wheels, rack bay", "slicing", (697, 454), 3, "SH", {}),
    ("Drain 5, under line A", "slicing", (496, 479), 3, "SH", {"drain": "drain-5"}),
    ("Drain 6, west opening", "slicing", (347, 691), 3, "SH", {"drain": "drain-6"}),
    ("Drain 6, under slicer B", "slicing", (618, 684), 3, "SH", {"drain": "drain-6"}),
    ("Floor crack between the lines", "slicing", (545, 581), 3, "BO", {}),
    ("Cold store door, seal", "cold", (250, 610), 3, "SH", {}),
    ("Air cooler, drip pan", "cold", (155, 653), 4, "CL", {"overhead": "cooler-cold"}),
    ("Rack 2, lower rail", "chill", (742, 273), 3, "SH", {}),
    ("Kiln 2, door sill", "kilns", (549, 259), 3, "SH", {}),
    ("Tray wash, door frame", "traywash", (403, 436), 3, "SH", {}),
    ("Tray washer, inner frame", "traywash", (306, 379), 3, "SH", {"equipment": "washer"}),
    ("Drain 7, grating", "traywash", (347, 415), 3, "SH", {"drain": "drain-7"}),
    ("Brine tank, overflow lip", "thaw", (406, 182), 3, "SH", {"equipment": "brine"}),
    ("Drain 2, channel", "thaw", (298, 292), 4, "SH", {"drain": "drain-2"}),
    ("Boot change, floor", "boots", (219, 447), 4, "BO", {}),
    ("Waste room, floor", "waste", (108, 424), 4, "BO", {}),
)
OTHERS = tuple(
    (f"{title}, floor spot {n}", where, at, 3, {})
    for n, (title, where, at) in enumerate(
        [
            ("Receiving", "receiving", (183, 181)),
            ("Receiving", "receiving", (70, 280)),
            ("Thaw", "thaw", (264, 202)),
            ("Thaw", "thaw", (422, 212)),
            ("Thaw", "thaw", (413, 267)),
            ("Kilns", "kilns", (490, 254)),
            ("Kilns", "kilns", (607, 254)),
            ("Kilns", "kilns", (503, 314)),
            ("Chill", "chill", (670, 222)),
            ("Chill", "chill", (676, 326)),
            ("Chill", "chill", (742, 330)),
            ("Waste", "waste", (127, 502)),
            ("Boots", "boots", (178, 365)),
            ("Tray wash", "traywash", (365, 351)),
            ("Tray wash", "traywash", (433, 354)),
            ("Cold", "cold", (197, 594)),
            ("Cold", "cold", (72, 694)),
            ("Slicing", "slicing", (541, 440)),
            ("Slicing", "slicing", (581, 384)),
            ("Slicing", "slicing", (618, 378)),
            ("Slicing", "slicing", (298, 661)),
            ("Slicing", "slicing", (462, 715)),
            ("Slicing", "slicing", (573, 716)),
            ("Slicing", "slicing", (774, 593)),
        ],
        start=1,
    )
)


def site(code, name, where, at, zone, **more):
    key = sha256(code.encode()).hexdigest()[:32]
    return {
        "key": key,
        "code": code,
        "name": name,
        "type": "floor_crack",
        "room": where,
        "position": metres(at)[0],
        "zone": zone,
        "area_cm2": 600.0,
    } | more


def smokehouse(**more):
    """The plant: nine rooms, two lines, seven drains, sixty-two sites."""
    chosen = [
        site(f"S{n:03d}", name, where, at, zone, **own) for n, (name, where, at, zone, _, own) in enumerate(CHOSEN, 1)
    ]
    others = [site(f"S{n:03d}", *rest[:3], rest[3], **rest[4]) for n, rest in enumerate(OTHERS, len(CHOSEN) + 1)]
    fields = {
        "format": "swabwright/plant",
        "version": 1,
        "name": "Juniper Lane Smokehouse (invented)",
        "ecology": "wet",
        "timezone": "Europe/Oslo",
        "base": metres((192, 420))[0],
        "rooms": ROOMS,
        "doors": DOORS,
        "equipment": EQUIPMENT,
        "sites": tuple(chosen + others),
        "drains": tuple({"id": i, "name": n, "path": metres(*p), "flow": f} for i, n, p, f in DRAINS),
        "overhead": (
            {
                "id": "cooler-cold",
                "name": "Air cooler",
                "kind": "evaporator",
                "room": "cold",
                "outline": box(114, 622, 177, 638),
                "drips": True,
            },
            {
                "id": "cooler-slicing",
                "name": "Air cooler",
                "kind": "evaporator",
                "room": "slicing",
                "outline": box(541, 342, 622, 369),
                "drips": True,
            },
        ),
        "lines": tuple(line(letter, y) for letter, y in (("A", 521), ("B", 628))),
    } | more
    return Plant(**fields)


def line(letter, y):
    return {
        "id": f"line-{letter.lower()}",
        "name": f"Line {letter}",
        "product": "cold-smoked trout, sliced",
        "path": metres((740, y), (300, y)),
        "kg_per_hour": 400.0,
        "raw_material_may_carry": True,
        "runs": ({"days": ("thu",), "starts_at": time(6), "ends_at": time(14)},),
        "agreed_stops": ({"starts_at": at("10:00"), "ends_at": at("10:40"), "agreed_by": "the plant manager"},),
    }


def at(clock):
    hour, minute = map(int, clock.split(":"))
    return datetime(2026, 3, 5, hour, minute, tzinfo=ZONE)
