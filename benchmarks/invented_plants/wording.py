"""How invented plants name things: rooms, machines, layers, headers."""

from dataclasses import dataclass

ROOMS = {
    "base": ("Gowning", "Changing room", "Office", "Laboratory"),
    "raw": ("Raw intake", "Thawing", "Filleting", "Raw fish receipt"),
    "cook": ("Smoking", "Cooking", "Kiln room", "Brining"),
    "chill": ("Chill store", "Blast chiller", "Cold store", "Cooling"),
    "ready": ("Slicing", "Packing", "Portioning", "High care assembly"),
    "way": ("Corridor", "Boot wash lobby", "Dispatch", "Packaging store"),
    "waste": ("Waste room", "Tray wash", "Canteen"),
}
"""Names by what a room is for; a plant takes the first four kinds and more as it grows."""

MACHINES = {
    "raw": ("Filleting table", "Thaw tank", "Weigh table"),
    "cook": ("Kiln", "Injector", "Tumbler"),
    "chill": ("Rack bay", "Chill tunnel"),
    "ready": ("Slicer", "Conveyor", "Packer", "Checkweigher", "Sealer"),
}

LAYERS = (
    {},
    {"rooms": "A-ROOM", "room_names": "A-ANNO-TEXT", "doors": "A-DOOR", "drains": "P-DRAIN", "equipment": "A-EQPM"},
    {
        "rooms": "Spaces",
        "room_names": "Labels",
        "doors": "Openings",
        "drains": "Floor drains",
        "equipment": "Machinery",
    },
    {"rooms": "ROOM_OUTLINES", "room_names": "ROOM_NAMES", "doors": "DOOR", "drains": "DRAINAGE", "equipment": "EQUIP"},
)
"""Layer names by what is drawn, where they differ from the plain ones."""

PLAIN_LAYERS = {
    "rooms": "ROOMS",
    "room_names": "TEXT",
    "doors": "DOORS",
    "drains": "DRAINS",
    "equipment": "EQUIPMENT",
    "lines": "PRODUCT FLOW",
    "route_people": "PEOPLE",
    "route_trolley": "TROLLEY",
    "sites": "SWAB POINTS",
    "overhead": "OVERHEAD",
    "air": "COOLERS",
}


@dataclass(frozen=True)
class Headers:
    """One manner of writing a site list: its headers by field, and the rows above them."""

    names: dict[str, str]
    title: bool = False
    groups: dict[str, str] | None = None
    """Words of an upper header row, by field."""


HEADERS = (
    Headers({"code": "Code", "name": "Description", "kind": "Type", "room": "Room", "zone": "Zone",
         "area": "Area (cm2)"}),
    Headers(
        {"code": "Swab point", "name": "Location description", "kind": "Kind of site", "room": "Department",
         "zone": "Hygiene zone", "area": "Swabbed area [cm²]", "equipment": "Machine", "note": "Remarks"},
        title=True,
    ),
    Headers(
        {"code": "No.", "name": "Name", "kind": "Type", "room": "Room", "zone": "Zone", "area": "in2",
         "equipment": "Equipment"},
        groups={"code": "Site", "name": "Site", "kind": "Site", "room": "Where", "zone": "Where", "area": "Area",
                "equipment": "Where"},
    ),
    Headers(
        {"code": "Site ID", "name": "What", "kind": "Site type", "room": "Location", "zone": "Sampling zone",
         "area": "Surface area", "height": "Height above floor", "surface": "Material", "equipment": "Asset"},
        title=True,
    ),
)  # fmt: skip
