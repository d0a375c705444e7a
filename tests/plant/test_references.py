"""Names and times of the plant document: each that nothing bears is refused with its path and the nearest name."""

import pytest
from builders.plant_text import tiny_text

from swabwright.errors import DocumentRefused
from swabwright.plant.reading import read_plant
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()


def first_fault(change):
    with pytest.raises(DocumentRefused) as refused:
        read_plant(tiny_text(change), CATALOGUE)
    return str(refused.value.faults[0])


DANGLING = [
    (
        "doors[0].joins[1]: no room 'slicin'; did you mean 'slicing'?",
        lambda p: p["doors"][0].update(joins=["wash", "slicin"]),
    ),
    ("equipment[0].room: no room 'wsh'; did you mean 'wash'?", lambda p: p["equipment"][0].update(room="wsh")),
    ("equipment[0].line: no line 'line-b'; did you mean 'line-a'?", lambda p: p["equipment"][0].update(line="line-b")),
    ("overhead[0].room: no room 'attic'", lambda p: p["overhead"][0].update(room="attic")),
    (
        "workstations[0].touches[1].site: no site 'S050'",
        lambda p: p["workstations"][0]["touches"][1].update(site="S050"),
    ),
    ("cleanings[0].rooms[0]: no room 'wahs'; did you mean 'wash'?", lambda p: p["cleanings"][0].update(rooms=["wahs"])),
    ("cleanings[0].lines[0]: no line 'a'", lambda p: p["cleanings"][0].update(lines=["a"])),
    ("cleanings[0].chemistry: no chemistry 'quat_norml'", lambda p: p["cleanings"][0].update(chemistry="quat_norml")),
    (
        "cleanings[0]: 'evening' cleans neither a room nor a line",
        lambda p: p["cleanings"][0].update(rooms=[], lines=[]),
    ),
    ("sites[0].type: no site type 'slicer_blad'", lambda p: p["sites"][0].update(type="slicer_blad")),
    ("sites[0].line: no line 'b'", lambda p: p["sites"][0].update(line="b")),
    (
        "sites[0].equipment: no equipment 'slcer'; did you mean 'slicer'?",
        lambda p: p["sites"][0].update(equipment="slcer"),
    ),
    ("sites[2].drain: no drain 'drain-2'", lambda p: p["sites"][2].update(drain="drain-2")),
    ("sites[2].overhead: no overhead thing 'coler'", lambda p: p["sites"][2].update(overhead="coler")),
    ("sites[2].surface: no surface 'stel'; did you mean 'steel'?", lambda p: p["sites"][2].update(surface="stel")),
    ("sites[2].devices[0]: no device 'XX'", lambda p: p["sites"][2].update(devices=["XX"])),
    ("sites[2].devices: names no device", lambda p: p["sites"][2].update(devices=[])),
    ("doors[0].joins: joins 'wash' to itself", lambda p: p["doors"][0].update(joins=["wash", "wash"])),
    ("switched_off[0]: 'splash' names no edge", lambda p: p.update(switched_off=["splash"])),
    (
        "timezone: no timezone 'Europe/Londn'; did you mean 'Europe/London'?",
        lambda p: p.update(timezone="Europe/Londn"),
    ),
    ("lines[0].runs[0]: starts and ends at 06:00", lambda p: p["lines"][0]["runs"][0].update(ends_at="06:00:00")),
    ("lines[0].breaks[0]: has an offset", lambda p: p["lines"][0]["breaks"][0].update(starts_at="09:30:00+01:00")),
]


@pytest.mark.parametrize(("problem", "change"), DANGLING, ids=[problem[:44] for problem, _ in DANGLING])
def test_a_name_or_time_that_cannot_be_is_refused(problem, change) -> None:
    assert first_fault(change).startswith(problem)


def test_a_code_that_stands_twice_names_both_sites() -> None:
    fault = first_fault(lambda plant: plant["sites"][4].update(code="S002"))
    assert fault == "sites[4].code: 'S002' stands already at sites[1]; give each site a code of its own"


def test_a_copied_site_needs_a_new_key() -> None:
    fault = first_fault(lambda plant: plant["sites"][4].update(key=plant["sites"][0]["key"]))
    assert fault.startswith(
        "sites[4].key: '00000000000000000000000000000001' stands already at sites[0]; a copied site"
    )


@pytest.mark.parametrize(
    "kind", ["rooms", "doors", "drains", "equipment", "lines", "routes", "workstations", "cleanings"]
)
def test_an_id_that_stands_twice_in_its_list_is_refused(kind) -> None:
    fault = first_fault(lambda plant: plant[kind].append(plant[kind][0]))
    assert "stands already at" in fault
    assert fault.startswith(kind)


def test_a_stop_that_ends_before_it_starts_is_refused() -> None:
    stop = {"starts_at": "2026-03-05T10:20:00+00:00", "ends_at": "2026-03-05T10:00:00+00:00", "agreed_by": "J. Reyes"}
    fault = first_fault(lambda plant: plant["lines"][0].update(agreed_stops=[stop]))
    assert fault.startswith("lines[0].agreed_stops[0].ends_at: 2026-03-05T10:00:00+00:00 is not after the start")


def test_a_site_cut_from_itself_is_refused() -> None:
    fault = first_fault(lambda plant: plant["sites"][0].update(split_from=plant["sites"][0]["key"]))
    assert fault.startswith("sites[0].split_from: names the site itself")


@pytest.mark.parametrize("edge", ["mechanism:splash", "S001>S005:hand"])
def test_a_switched_off_edge_or_mechanism_is_accepted(edge) -> None:
    assert read_plant(tiny_text(lambda plant: plant.update(switched_off=[edge])), CATALOGUE).switched_off == (edge,)


def test_a_door_to_the_outside_is_accepted() -> None:
    gate = {"id": "gate", "joins": ["wash", "outside"], "at": [0.0, 3.0], "width_m": 2.0}
    assert len(read_plant(tiny_text(lambda plant: plant["doors"].append(gate)), CATALOGUE).doors) == 2
