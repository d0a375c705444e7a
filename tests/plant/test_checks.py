"""What is missing is said in sentences, each with its place in the document and the remedy."""

from itertools import islice

import pytest
from builders.plants import SLICING, box, line_a, room, site, tiny_plant, tiny_sites

from swabwright.plant.checks import letters, what_is_missing
from swabwright.plant.gap import in_a_row
from swabwright.plant.gaps_places import would_sample
from swabwright.plant.lines import Cleaning
from swabwright.plant.registry import load_catalogue
from swabwright.plant.rooms import AirUnit, Door, Drain, Equipment

CATALOGUE = load_catalogue()
COOLER = site(7, "evaporator", (15.0, 4.0), zone=2, overhead="cooler")
SLICER = Equipment(id="slicer-b", name="Slicer B", room="slicing", outline=box(16.0, 1.5, 1.0, 1.0), line="line-a")


def missing(**changes):
    return {each.path: each for each in what_is_missing(tiny_plant(**changes), CATALOGUE)}


def test_the_tiny_plant_lacks_an_answer_about_wheels_and_a_site_on_its_cooler() -> None:
    found = what_is_missing(tiny_plant(), CATALOGUE)
    assert [each.text for each in found] == [
        "Carts: drawn through the barrier at 'door-1'. Does it stop wheels?",
        "Air cooler hangs in Slicing, and no site is on it.",
    ]


def test_a_plant_that_says_everything_lacks_nothing() -> None:
    people = tiny_plant().routes[0].model_copy(update={"kind": "people"})
    assert missing(routes=(people,), sites=(*tiny_sites(), COOLER)) == {}


def test_important_things_come_first_and_are_lettered_in_order() -> None:
    found = what_is_missing(tiny_plant(workstations=(), lines=(line_a(lots=()),)), CATALOGUE)
    assert [each.letter for each in found] == ["a", "b", "c", "d"]
    assert [each.important for each in found] == [True, True, False, False]


def test_letters_go_on_after_z() -> None:
    assert list(islice(letters(), 25, 29)) == ["z", "aa", "ab", "ac"]


def changed_cleaning(**changes) -> tuple[Cleaning, ...]:
    return (tiny_plant().cleanings[0].model_copy(update=changes),)


GAPS = [
    (
        "drains[0].flow",
        "Drain 1: which way does it flow?",
        {"drains": (Drain(id="drain-1", name="Drain 1", path=((16.0, 1.0), (11.0, 1.0)), flow="unknown"),)},
    ),
    (
        "drains[1]",
        "No site opens into Drain 2: what runs there cannot be sampled.",
        {"drains": (*tiny_plant().drains, Drain(id="d2", name="Drain 2", path=((1.0, 1.0), (5.0, 1.0)), flow="along"))},
    ),
    ("lines[0].id", "Line A has no cleaning times. The plan needs them to choose the hour.", {"cleanings": ()}),
    ("lines[0].agreed_stops", "must stand while S001 and S002 are sampled", {"lines": (line_a(breaks=()),)}),
    ("lines[0].lots", "No lot codes are written for Line A", {"lines": (line_a(lots=()),)}),
    (
        "lines",
        "No line is drawn",
        {
            "lines": (),
            "cleanings": (),
            "equipment": (),
            "sites": tuple(each.model_copy(update={"line": None, "equipment": None}) for each in tiny_sites()),
        },
    ),
    ("routes", "No route is drawn", {"routes": ()}),
    ("workstations", "hands carry nothing", {"workstations": ()}),
    (
        "cleanings[0].chemistry",
        "Evening clean: with which chemical?",
        {"cleanings": changed_cleaning(chemistry="unknown")},
    ),
    (
        "cleanings[0].strength_ppm",
        "Evening clean: at which strength?",
        {"cleanings": changed_cleaning(strength_ppm=None)},
    ),
    (
        "equipment[1]",
        "Slicer B has no site. The catalogue would sample: slicer blade, guard and hub",
        {"equipment": (*tiny_plant().equipment, SLICER)},
    ),
    (
        "air[0].blows_towards",
        "Fan: where does it blow?",
        {"air": (AirUnit(id="fan", name="Fan", room="slicing", at=(12.0, 5.0)),)},
    ),
    ("base", "The clean base lies in Slicing, where product is exposed.", {"base": (12.0, 2.0)}),
    ("doors", "Nobody can walk from the clean base to Slicing", {"doors": ()}),
    (
        "sites",
        "S003: the zone is not the usual one",
        {"sites": (*tiny_sites()[:2], tiny_sites()[2].model_copy(update={"zone": 1}), *tiny_sites()[3:])},
    ),
    (
        "sites[S001].position",
        "Nobody has confirmed the position of S001 and S004.",
        {"unconfirmed": {"sites[S001].position": "middle of its room", "sites[S004].position": "middle of its room"}},
    ),
    (
        "lines[line-a].runs",
        "lines[line-a].runs: day shift assumed",
        {"unconfirmed": {"lines[line-a].runs": "day shift assumed"}},
    ),
]


@pytest.mark.parametrize(("path", "words", "changes"), GAPS, ids=[path for path, _, _ in GAPS])
def test_a_gap_is_told_at_its_place(path, words, changes) -> None:
    found = missing(**changes)[path]
    assert words in found.text
    assert found.remedy.endswith(".")


def test_a_room_without_sites_matters_where_product_is_exposed() -> None:
    rooms = (room("wash"), room("slicing", SLICING, hygiene_class=1, exposed_product=True),
             room("store", box(0.0, 6.2, 9.0, 4.0)))  # fmt: skip
    store = missing(
        rooms=rooms, doors=(*tiny_plant().doors, Door(id="d2", joins=("wash", "store"), at=(4.0, 6.1), width_m=1.0))
    )
    assert store["rooms[2]"].text == "Store: no site in it; what lives there could only be seen elsewhere."
    assert not store["rooms[2]"].important


def test_drains_without_sites_are_asked_about_in_one_sentence() -> None:
    more = tuple(Drain(id=f"d{n}", name=f"Drain {n}", path=((1.0, 1.0), (5.0, 1.0)), flow="along") for n in (2, 3))
    found = [each.text for each in what_is_missing(tiny_plant(drains=(*tiny_plant().drains, *more)), CATALOGUE)]
    assert "No site opens into Drain 2 and Drain 3: what runs there cannot be sampled." in found


def test_a_cleaning_of_its_rooms_is_a_cleaning_of_the_line() -> None:
    assert "lines[0].id" not in missing(cleanings=changed_cleaning(lines=()))


def test_a_cleaning_of_another_room_is_not() -> None:
    assert "lines[0].id" in missing(cleanings=changed_cleaning(lines=(), rooms=("wash",)))


def test_people_may_pass_a_barrier_unasked() -> None:
    people = tiny_plant().routes[0].model_copy(update={"kind": "people"})
    assert "routes[0].path" not in missing(routes=(people,))


def test_a_machine_is_matched_by_the_words_of_its_name() -> None:
    assert would_sample(SLICER, CATALOGUE)[0].id == "slicer_blade"


def test_a_machine_of_an_unknown_kind_gets_no_guess() -> None:
    odd = SLICER.model_copy(update={"name": "Zorb 7"})
    assert would_sample(odd, CATALOGUE) == ()


@pytest.mark.parametrize(("names", "said"), [
    (["S1"], "S1"), (["S1", "S2"], "S1 and S2"), (["S1", "S2", "S3"], "S1, S2 and S3"),
    ([f"S{n}" for n in range(9)], "S0, S1, S2, S3, S4, S5 and 3 more"),
])  # fmt: skip
def test_names_stand_in_a_row(names, said) -> None:
    assert in_a_row(names) == said
