"""Each mechanism on a plant in which nothing else can carry contamination."""

import pytest
from builders.plants import box, room, site, tiny_plant, tiny_sites
from builders.spreads import all_loads, bank_from, loads, only, setting_of

from swabwright.plant.rooms import Door, Overhead

UNDER_THE_COOLER = site(7, "belt_product_side", (15.0, 4.2), zone=1)
MACHINE_HOUSING = site(8, "slicer_housing", (12.2, 3.8), zone=2, equipment="slicer", height_m=1.0)
COOLER = site(9, "evaporator", (15.0, 4.0), zone=2, overhead="cooler", height_m=3.0)
BESIDE_THE_DRAIN = site(10, "cracked_floor", (11.6, 1.2))
ON_THE_ROUTE = site(11, "cracked_floor", (8.6, 3.5), room="wash")
ALONE = {
    # mechanism: more sites, source, target
    "line": ((), 1, 2),
    "niche_to_contact": ((MACHINE_HOUSING,), 8, 1),
    "splash": ((BESIDE_THE_DRAIN,), 3, 10),
    "overspray": ((BESIDE_THE_DRAIN,), 3, 10),
    "drain_flow": ((), 4, 3),
    "backflow": ((), 3, 4),
    "foot": ((ON_THE_ROUTE,), 6, 11),
    "wheel": ((ON_THE_ROUTE,), 6, 11),
    "hand": ((), 1, 5),
    "drip": ((COOLER, UNDER_THE_COOLER), 9, 7),
    "air": ((BESIDE_THE_DRAIN,), 3, 10),
}


def plant_with(mechanism, off):
    more, *_ = ALONE[mechanism]
    plant = tiny_plant(sites=tiny_sites() + more, switched_off=off)
    if mechanism != "foot":
        return plant
    people = plant.routes[0].model_copy(update={"kind": "people", "trips_per_hour": 20.0})
    return plant.model_copy(update={"routes": (people,)})


@pytest.mark.parametrize("mechanism", ALONE)
def test_a_mechanism_alone_carries_contamination(mechanism):
    _, source, target = ALONE[mechanism]
    bank = bank_from(setting_of(plant_with(mechanism, only(mechanism))))
    assert loads(bank, source, target).mean() > 0


@pytest.mark.parametrize("mechanism", ALONE)
def test_switching_the_only_mechanism_off_leaves_nothing_elsewhere(mechanism):
    means = all_loads(bank_from(setting_of(plant_with(mechanism, only()))))
    own = range(means.shape[1])
    means[own, own] = 0.0
    assert means.max() == 0.0


def test_a_single_edge_can_be_switched_off():
    off = (*only("hand"), "S001>S005:hand")
    bank = bank_from(setting_of(tiny_plant(switched_off=off)))
    assert loads(bank, 1, 5).max() == 0.0
    assert loads(bank, 5, 1).max() > 0.0


def test_a_wall_stops_splash_where_an_open_door_would_not():
    rooms = (room("wash"), room("slicing", ((9.2, 0.0), (18.0, 0.0), (18.0, 6.0), (9.2, 6.0))))
    sites = (site(1, "drain_channel", (9.5, 1.0)), site(2, "cracked_floor", (8.8, 1.0), room="wash"))
    door = Door(id="door-1", joins=("wash", "slicing"), at=(9.1, 3.0), width_m=1.2)
    plant = tiny_plant(rooms=rooms, sites=sites, doors=(door,), workstations=(), switched_off=only("splash"))
    walled = loads(bank_from(setting_of(plant)), 1, 2)
    opened = plant.model_copy(update={"doors": (door.model_copy(update={"at": (9.1, 1.0)}),)})
    assert walled.max() == 0.0
    assert loads(bank_from(setting_of(opened)), 1, 2).max() > 0.0


def test_a_thing_that_does_not_drip_gives_nothing():
    dry = Overhead(
        id="cooler", name="Cooler", kind="duct", room="slicing", outline=box(14.5, 3.5, 1.0, 1.0), drips=False
    )
    plant = tiny_plant(sites=(*tiny_sites(), COOLER, UNDER_THE_COOLER), overhead=(dry,), switched_off=only("drip"))
    assert loads(bank_from(setting_of(plant)), 9, 7).max() == 0.0
