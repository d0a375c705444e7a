"""The kit: what the walk asks for, counted, with spares."""

from functools import cache
from math import ceil

import pytest
from builders.plants import tiny_plant
from builders.walks import stops_at, visit

from swabwright.planning.cautions_scene import Scene
from swabwright.planning.kit import counts_of, kit_of
from swabwright.planning.walk import walk_of
from swabwright.planning.walk_controls import Shares
from swabwright.plant.registry import data_files, load_catalogue
from swabwright.plant.space import FloorSpace

CATALOGUE = load_catalogue()
SHARES = Shares(surface=6, blanks=2, duplicates=1, judgement=3)
SPARE_OF_12 = ceil(12 * CATALOGUE.figures.number("rule.spare_share"))


@cache
def scene(**of_rooms):
    drawn = tiny_plant()
    rooms = tuple(room.model_copy(update=of_rooms) for room in drawn.rooms)
    space, seen = FloorSpace(drawn.model_copy(update={"rooms": rooms})), visit(samples=12)
    timed, _ = walk_of(stops_at(space.plant), space, CATALOGUE.figures, seen, SHARES)
    return Scene(timed, space.plant, CATALOGUE, seen)


def kit(**of_rooms):
    return {line.item: line for line in kit_of(scene(**of_rooms), SHARES.judgement)}


def test_devices_are_packed_for_samples_controls_and_judgement_with_spares():
    # 6 sites, 2 blanks, 1 duplicate and 3 kept free: 12, and the rulebook's share of 12 spare, rounded up
    sponge = kit()["Sponge, held in a sterile glove (SP)"]
    assert (sponge.needed, sponge.spare) == (12, SPARE_OF_12)
    assert "9 on the walk" in sponge.why


def test_a_pair_of_gloves_a_container():
    gloves = kit()["Sterile gloves, pairs"]
    assert (gloves.needed, gloves.spare) == (12, SPARE_OF_12)


def test_the_plants_own_gowning_for_each_person_at_each_full_change():
    # class 1, then class 2, for two people
    assert kit()["The plant's own gown, gloves, hair net and boots, sets"].needed == 4


def test_sleeves_for_each_person_at_each_further_visit():
    # the drains of the slicing room are a second visit to it
    assert kit()["Sleeves, pairs"].needed == 2


@pytest.mark.parametrize(
    ("item", "of_rooms"),
    [
        ("Cold-room jackets and warm gloves, sets", {"temperature_c": 2.0}),
        ("Deep-freeze clothing, sets", {"temperature_c": -20.0}),
        ("Paper walk sheet, pen that the site admits", {"no_electrical_devices": True}),
    ],
)
def test_some_things_are_packed_only_where_rooms_ask_for_them(item, of_rooms):
    assert item in kit(**of_rooms)
    assert item not in kit()


def test_cut_resistant_gloves_name_the_blade():
    assert kit()["Cut-resistant gloves, pairs"].why.endswith("(S001)")


def test_coolers_follow_the_containers():
    counts = counts_of(scene(), judgement=60)
    assert counts["container"] == 9 + 60
    assert counts["cooler"] == ceil(69 / CATALOGUE.figures.number("rule.samples_per_cooler"))


def test_gel_packs_are_frozen_a_day_ahead():
    packs = kit()["Gel packs"]
    assert packs.needed == CATALOGUE.figures.number("kit.gel_packs_per_cooler")
    assert "24 hours ahead" in packs.why


@pytest.mark.parametrize("entry", data_files()["kit.toml"]["lines"], ids=lambda entry: entry["item"])
def test_every_line_counts_something_known_and_names_known_figures(entry):
    assert entry["per"] in counts_of(scene(), judgement=0)
    assert entry.get("times", "kit.gel_packs_per_cooler") in CATALOGUE.figures
    assert entry["spare"] in ("share", "one", "none")
    assert entry.get("hazard", "any") in data_files()["cautions.toml"]["hazards"]
