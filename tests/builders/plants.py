"""Whole plants for tests, small enough to think through by hand.

`tiny_plant()`, metres; walls are the outlines, 0.2 m apart; north is up:

    y=6  +-------------------+  +-----------------------+
         |  wash (class 2)   |  |  slicing (class 1)    |
         |           S6 cart |  |  S5 handle (9.5, 3)   |
    y=3  |            wheel  |DOOR                       |
         |  base (1, 1)      |  |  line A: (11,4) (17,4)|
         |                   |  |  S1 slicer  S2 belt   |
    y=0  +-------------------+  +-----------------------+
         x=0               x=9 x=9.2                  x=18

- One door at (9.1, 3) with boot change joins the rooms; one trolley route runs through it.
- One drain runs from (16, 1) to (11, 1): water flows along, so S4 (16, 1) is upstream of S3 (11, 1).
- Line A carries product from S1, the slicer at (12, 4), to S2, the belt at (15, 4): 3 m downstream.
- The evaporator hangs over S2 and drips; nothing else is overhead.
- Hands work at one workstation and touch S1 and S5.
Seen from here: a niche at S1 reaches S2 along the line and S5 by hand; a niche at S4 reaches S3 down the drain;
S6 meets the slicing room's floor sites only through the trolley route.
"""

from datetime import date, time
from typing import Any

from swabwright.plant.document import Plant
from swabwright.plant.lines import Cleaning, Line, Lot, Route, Touch, Workstation
from swabwright.plant.rooms import Door, Drain, Equipment, Overhead, Room
from swabwright.plant.sites import Site
from swabwright.plant.times import Period

WORKDAYS = ("mon", "tue", "wed", "thu", "fri")
DAY_SHIFT = Period(days=WORKDAYS, starts_at=time(6), ends_at=time(14))
BREAK = Period(days=WORKDAYS, starts_at=time(9, 30), ends_at=time(10))
EVENING_CLEAN = Period(days=WORKDAYS, starts_at=time(15), ends_at=time(18))
SLICING = ((9.2, 0.0), (18.0, 0.0), (18.0, 6.0), (9.2, 6.0))
WASH = ((0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (0.0, 6.0))


def box(x: float, y: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
    """The outline of a rectangle with its lower left corner at (x, y)."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def room(name: str, outline: tuple[tuple[float, float], ...] = WASH, **changes: Any) -> Room:
    """A wet room of class 2 without exposed product, unless changed."""
    usual: dict[str, Any] = {"hygiene_class": 2, "exposed_product": False, "wetness": "wet", "temperature_c": 8.0}
    return Room(id=name, name=name.title(), outline=outline, **{**usual, **changes})


def site(number: int, kind: str, position: tuple[float, float], **changes: Any) -> Site:
    """Site `S00<number>` of this type in the slicing room, zone 3, with a key that follows from its number."""
    usual: dict[str, Any] = {"room": "slicing", "zone": 3, "name": f"{kind} {number}"}
    return Site(key=f"{number:032x}", code=f"S{number:03d}", type=kind, position=position, **{**usual, **changes})


def line_a(**changes: Any) -> Line:
    """Line A: product from (11, 4) to (17, 4), 200 kg an hour, day shift with one break."""
    usual: dict[str, Any] = {"path": ((11.0, 4.0), (17.0, 4.0)), "kg_per_hour": 200.0, "breaks": (BREAK,)}
    usual |= {"lots": (Lot(code="L0304", made_on=date(2026, 3, 4)),), "raw_material_may_carry": True}
    return Line(id="line-a", name="Line A", product="Cold-smoked trout", runs=(DAY_SHIFT,), **{**usual, **changes})


def tiny_sites() -> tuple[Site, ...]:
    """The six sites of the tiny plant, S001 to S006."""
    return (
        site(1, "slicer_blade", (12.0, 4.0), zone=1, line="line-a", equipment="slicer", height_m=1.0),
        site(2, "belt_product_side", (15.0, 4.0), zone=1, line="line-a", height_m=1.0),
        site(3, "drain_channel", (11.0, 1.0), drain="drain-1"),
        site(4, "drain_channel", (16.0, 1.0), drain="drain-1"),
        site(5, "door_handle", (9.5, 3.0), height_m=1.0),
        site(6, "cart_wheel", (8.0, 4.0), room="wash"),
    )


def tiny_plant(**changes: Any) -> Plant:
    """Two rooms, one door, one line, one drain, six sites; what the comment above says of it is exact."""
    usual: dict[str, Any] = {
        "name": "Tiny plant (invented)",
        "ecology": "wet",
        "timezone": "Europe/London",
        "base": (1.0, 1.0),
        "rooms": (room("wash"), room("slicing", SLICING, hygiene_class=1, exposed_product=True)),
        "doors": (Door(id="door-1", joins=("wash", "slicing"), at=(9.1, 3.0), width_m=1.2, barrier="boots"),),
        "drains": (Drain(id="drain-1", name="Drain 1", path=((16.0, 1.0), (11.0, 1.0)), flow="along"),),
        "equipment": (
            Equipment(id="slicer", name="Slicer A", room="slicing", outline=box(11.5, 3.5, 1.5, 1.0), line="line-a"),
        ),
        "overhead": (
            Overhead(
                id="cooler",
                name="Air cooler",
                kind="evaporator",
                room="slicing",
                outline=box(14.5, 3.5, 1.0, 1.0),
                drips=True,
            ),
        ),
        "lines": (line_a(),),
        "routes": (
            Route(
                id="carts", name="Carts", kind="trolley", path=((8.0, 4.0), (9.1, 3.0), (11.0, 1.0)), trips_per_hour=4.0
            ),
        ),
        "workstations": (
            Workstation(
                id="feeder",
                name="Feeder",
                room="slicing",
                touches=(Touch(site="S001", weight=3.0), Touch(site="S005", weight=1.0)),
            ),
        ),
        "cleanings": (
            Cleaning(
                id="evening",
                name="Evening clean",
                kind="full",
                rooms=("wash", "slicing"),
                lines=("line-a",),
                when=(EVENING_CLEAN,),
                chemistry="quat_normal",
                strength_ppm=200.0,
            ),
        ),
        "sites": tiny_sites(),
    }
    return Plant(format="swabwright/plant", version=1, **{**usual, **changes})


TWENTY = (
    ("slicer_blade", 1),
    ("belt_product_side", 1),
    ("belt_underside", 2),
    ("hollow_roller", 2),
    ("table_underside", 2),
    ("control_panel", 2),
    ("hand_tool", 1),
    ("slicer_housing", 2),
    ("evaporator", 2),
    ("condensate_pan", 2),
    ("floor_wall_junction", 3),
    ("cracked_floor", 3),
    ("drain_cover", 3),
    ("cart_wheel", 3),
)


def twenty_site_plant(**changes: Any) -> Plant:
    """The tiny plant with 14 more sites on a grid in the slicing room: S007 to S020, 1.1 m apart in two rows."""
    more = tuple(
        site(7 + place, kind, (10.2 + 1.1 * (place % 7), 2.0 + 3.0 * (place // 7)), zone=zone, **_part_of(kind))
        for place, (kind, zone) in enumerate(TWENTY)
    )
    return tiny_plant(sites=tiny_sites() + more, **changes)


def _part_of(kind: str) -> dict[str, str]:
    if kind.startswith(("belt", "slicer", "hollow")):
        return {"line": "line-a"}
    if kind in ("evaporator", "condensate_pan"):
        return {"overhead": "cooler"}
    return {"drain": "drain-1"} if kind == "drain_cover" else {}
