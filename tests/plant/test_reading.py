"""Strict reading: what is read is what was written, and each fault is told with its path and remedy."""

import json

import pytest
from builders.plant_text import tiny_document, tiny_text
from builders.plants import tiny_plant, twenty_site_plant

from swabwright.errors import DocumentRefused
from swabwright.plant.document import Plant
from swabwright.plant.reading import read_document, read_plant
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()


def faults_of(text):
    with pytest.raises(DocumentRefused) as refused:
        read_plant(text, CATALOGUE)
    return [f"{refused.value.document}: {fault}" for fault in refused.value.faults]


def test_a_plant_comes_back_as_it_was_written() -> None:
    assert read_plant(tiny_text(), CATALOGUE) == tiny_plant()


def test_the_twenty_site_plant_is_accepted_too() -> None:
    assert len(read_plant(twenty_site_plant().model_dump_json(), CATALOGUE).sites) == 20


def test_a_byte_order_mark_does_no_harm() -> None:
    assert read_plant("\ufeff" + tiny_text(), CATALOGUE) == tiny_plant()


def test_a_dangling_room_is_told_with_the_nearest_name() -> None:
    found = faults_of(tiny_text(lambda plant: plant["sites"][2].update(room="slicng")))
    assert found == ["plant.json: sites[2].room: no room 'slicng'; did you mean 'slicing'?"]


def test_broken_json_is_told_by_line_and_column() -> None:
    broken = tiny_text().replace('"version": 1,', '"version": 1')
    assert faults_of(broken) == [
        "plant.json: line 4, column 2: not JSON here: expecting ',' delimiter; mend the text at this place"
    ]


def test_a_field_given_twice_is_refused_rather_than_half_read() -> None:
    twice = tiny_text().replace('"ecology": "wet",', '"ecology": "wet", "ecology": "wet",')
    assert faults_of(twice) == ["plant.json: ecology: stands twice in one object; keep one of them"]


@pytest.mark.parametrize("text", ["[]", "3", '"plant"', "null"])
def test_a_document_that_is_no_object_is_refused(text) -> None:
    assert "must be one object in braces" in faults_of(text)[0]


def test_an_endlessly_nested_text_is_refused() -> None:
    assert "nested far too deep" in faults_of("[" * 200_000)[0]


def test_a_newer_version_is_refused_and_told_alone() -> None:
    found = faults_of(tiny_text(lambda plant: plant.update(version=2, sites=[])))
    assert found == ["plant.json: version: 2 is newer than this program reads (1); use a newer program"]


@pytest.mark.parametrize("version", [0, "1", None, True])
def test_any_other_version_is_refused(version) -> None:
    assert "version: must be 1" in faults_of(tiny_text(lambda plant: plant.update(version=version)))[0]


def test_another_kind_of_document_is_named() -> None:
    found = faults_of(tiny_text(lambda plant: plant.update(format="swabwright/plan")))
    assert "format: this is 'swabwright/plan', but 'swabwright/plant' belongs here" in found[0]


def test_a_document_without_format_says_how_it_must_start() -> None:
    found = faults_of(tiny_text(lambda plant: plant.pop("format")))
    assert found == ['plant.json: format: is missing; the document must start with "format": "swabwright/plant"']


CHANGES = [
    ("sites[0].colour: no such field", lambda p: p["sites"][0].update(colour="red")),
    ("sites[0].hight_m: no such field; did you mean 'height_m'?", lambda p: p["sites"][0].update(hight_m=1)),
    ("lines[0].lots[0].cod: no such field; did you mean 'code'?", lambda p: p["lines"][0]["lots"][0].update(cod="x")),
    ("rooms[1].hygiene_class: is missing; write it", lambda p: p["rooms"][1].pop("hygiene_class")),
    ("sites[3].zone: should be less than or equal to 4, not 5", lambda p: p["sites"][3].update(zone=5)),
    ("sites[3].zone: should be a valid integer, not '3'", lambda p: p["sites"][3].update(zone="3")),
    ("drains[0].flow: must be one of along, against, unknown, not 'up'", lambda p: p["drains"][0].update(flow="up")),
    ("sites[1].height_m: must be a finite number, not nan", lambda p: p["sites"][1].update(height_m=float("nan"))),
    (
        "sites[1].code: 'a b' has a wrong form; allowed is letters, digits and",
        lambda p: p["sites"][1].update(code="a b"),
    ),
    ("sites[1].name: must not be blank", lambda p: p["sites"][1].update(name="  ")),
    ("sites[1].name: must not be blank", lambda p: p["sites"][1].update(name="")),
    ("sites: must have at least 1, not 0", lambda p: p.update(sites=[])),
    (
        "lines[0].agreed_stops[0].starts_at: '2026-03-05T10:00:00' has no offset from UTC; write it as",
        lambda p: p["lines"][0].update(
            agreed_stops=[
                {"starts_at": "2026-03-05T10:00:00", "ends_at": "2026-03-05T10:20:00+00:00", "agreed_by": "J. Reyes"}
            ]
        ),
    ),
]


@pytest.mark.parametrize(("problem", "change"), CHANGES, ids=[problem[:40] for problem, _ in CHANGES])
def test_a_wrong_field_is_told_with_its_path(problem, change) -> None:
    assert faults_of(tiny_text(change))[0].startswith(f"plant.json: {problem}")


def test_all_faults_are_told_at_once() -> None:
    def spoil(plant) -> None:
        plant["sites"][0]["room"] = "slicng"
        plant["sites"][1]["type"] = "belt_product_sid"
        plant["doors"][0]["joins"][0] = "was"

    paths = [fault.split(": ")[1] for fault in faults_of(tiny_text(spoil))]
    assert paths == ["doors[0].joins[0]", "sites[0].room", "sites[1].type"]


def test_a_fault_in_the_heading_of_a_document_without_one_is_none() -> None:
    room = tiny_document()["rooms"][0]
    kind = type(tiny_plant().rooms[0])
    assert read_document(kind, json.dumps(room), "room.json") == tiny_plant().rooms[0]


def test_reading_names_the_document_that_was_asked_for() -> None:
    with pytest.raises(DocumentRefused, match=r"^draft\.json: name: is missing"):
        read_document(Plant, tiny_text(lambda plant: plant.pop("name")), "draft.json")


def test_a_list_whose_only_entry_is_faulty_is_not_called_empty_as_well() -> None:
    found = faults_of(tiny_text(lambda plant: plant.update(sites=[{**plant["sites"][0], "zone": 7}])))
    assert [fault for fault in found if "at least 1" in fault] == []
    assert len([fault for fault in found if "sites[0].zone" in fault]) == 1
