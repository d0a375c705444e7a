"""Cautions follow from the chosen sites, the clock and the data; each can be provoked, and stays away otherwise."""

from datetime import date, time

import pytest
from builders.floors import plant, rectangle, room
from builders.plants import tiny_plant
from builders.walks import site_of, stops_at, visit
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.planning.cautions import cautions_of
from swabwright.planning.cautions_scene import RULES, Scene, rooms_of
from swabwright.planning.walk import walk_of
from swabwright.planning.walk_controls import Shares
from swabwright.plant.lines import Cleaning, Line, Lot, Route
from swabwright.plant.registry import data_files, load_catalogue
from swabwright.plant.rooms import Overhead
from swabwright.plant.space import FloorSpace
from swabwright.plant.times import Period

CATALOGUE = load_catalogue()
KINDS = st.sampled_from(sorted(CATALOGUE.site_types))
TEXTS = data_files()["cautions.toml"]
BANNED = ("safe ", "safe.", "negative", "cleared", "caused", "tube", "skipped", "all clear")
HALL = rectangle(0.0, 0.0, 12.0, 8.0)
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def hours(start, end):
    return (Period(days=EVERY_DAY, starts_at=time(start), ends_at=time(end)),)


def line(**more):
    fields = {"runs": hours(2, 14), "path": ((1.0, 1.0), (9.0, 1.0)), "kg_per_hour": 100.0} | more
    return Line(id="line-a", name="Line A", product="Trout", raw_material_may_carry=True, **fields)


def cleaning(**more):
    fields = {"kind": "full", "rooms": ("hall",), "when": hours(20, 22), "chemistry": "quat_normal"} | more
    return Cleaning(id="evening", name="Evening clean", **fields)


def said(kind="door_handle", mode="as_is", *, of_site=None, of_room=None, of_visit=None, **of_plant):
    """The cautions of a walk to one site in a hall of Wednesday, 08:00 UTC."""
    hall = room("hall", HALL, **({"wetness": "damp", "exposed_product": False} | (of_room or {})))
    drawn = plant(
        (hall,), sites=[site_of("A1", "hall", (5.0, 5.0), kind, **(of_site or {}))], timezone="UTC", **of_plant
    )
    space, seen = FloorSpace(drawn), visit(**(of_visit or {}))
    timed, _ = walk_of(stops_at(drawn, mode), space, CATALOGUE.figures, seen)
    return cautions_of(Scene(timed, space.plant, CATALOGUE, seen))


def texts(*args, **more):
    return " ".join(warning.text for warning in said(*args, **more))


@pytest.mark.parametrize(
    ("words", "provoked"),
    [
        ("lockout/tagout", {"kind": "slicer_blade", "mode": "opened"}),
        ("puts each together", {"kind": "slicer_blade", "mode": "opened"}),
        ("cut-resistant", {"kind": "slicer_blade", "mode": "opened"}),
        ("electrician", {"kind": "electrical_cabinet"}),
        ("confined space", {"kind": "freezer_casing", "mode": "opened"}),
        ("ammonia", {"kind": "condensate_pan"}),
        ("no climbing", {"of_site": {"height_m": 2.4}}),
        ("sample no moving part", {"kind": "hollow_leg"}),
        ("Cold in Hall", {"of_room": {"temperature_c": 2.0}}),
        ("at most 20 minutes at a time", {"of_room": {"temperature_c": -22.0}}),
        ("bring in no water", {"of_room": {"wetness": "dry"}}),
        ("No ordinary electrical device may enter Hall", {"of_room": {"no_electrical_devices": True}}),
        ("Drains last", {"kind": "drain_cover"}),
        ("Wet floors in Hall", {"of_room": {"wetness": "wet"}}),
        ("One person alone", {"of_visit": {"people_per_team": 1}}),
        ("consent", {"kind": "packer_gloves"}),
        ("at least 24 hours before", {"kind": "slicer_blade", "mode": "opened"}),
        ("Before restart the plant cleans", {"kind": "slicer_blade", "mode": "opened"}),
        ("Disinfectant on surfaces", {"cleanings": (cleaning(),)}),
    ],
)
def test_a_hazard_is_said_when_a_site_meets_it_and_not_otherwise(words, provoked):
    assert words in texts(**provoked)
    assert words not in texts()


def test_a_forklift_route_through_the_room_is_said():
    route = Route(id="r", name="R", kind="forklift", path=((1.0, 1.0), (9.0, 6.0)), trips_per_hour=3.0)
    people = route.model_copy(update={"kind": "people"})
    assert "Forklifts pass through Hall" in texts(routes=(route,))
    assert "Forklifts" not in texts(routes=(people,))


def test_a_site_on_an_evaporator_is_said_to_hold_ammonia():
    cooler = Overhead(
        id="e", name="E", kind="evaporator", room="hall", outline=rectangle(4.0, 4.0, 6.0, 6.0), drips=True
    )
    assert "ammonia" in texts(overhead=(cooler,), of_site={"overhead": "e"})


def test_the_hold_question_names_line_product_and_lots_since_the_last_full_clean():
    # cleaned on the evening of 3 March, the day before the visit: the lot of 1 March was made before that
    lots = (Lot(code="L01", made_on=date(2026, 3, 1)), Lot(code="L03", made_on=date(2026, 3, 3)))
    clean = cleaning(lines=("line-a",))
    at_stake = texts(of_site={"zone": 1, "line": "line-a"}, lines=(line(lots=lots),), cleanings=(clean,))
    assert "Before the first food-contact sample (A1" in at_stake
    assert "Line A (Trout), lots L03, since 3 March" in at_stake


def test_lots_that_nobody_listed_are_asked_for():
    assert "no lot of these days is listed" in texts(of_site={"zone": 1, "line": "line-a"}, lines=(line(),))


def test_no_hold_question_without_a_food_contact_site():
    assert all(warning.kind != "hold" for warning in said(of_site={"zone": 2}))


def test_a_line_that_does_not_run_is_said_with_the_hour():
    assert "Line A does not run" in texts(of_site={"line": "line-a"}, lines=(line(runs=hours(15, 20)),))
    assert "does not run" not in texts(of_site={"line": "line-a"}, lines=(line(),))


def test_a_line_that_has_just_started_is_said_with_its_hours():
    sentence = texts(of_site={"line": "line-a"}, lines=(line(runs=hours(7, 15)),))
    assert "Line A has run for less than 3 hours" in sentence
    assert "1.2 hours after its start" in sentence


def test_a_disinfection_just_ended_is_said():
    assert "Evening clean ends 1.2 hours before" in texts(cleanings=(cleaning(when=hours(5, 7)),))
    assert "hours before these sites" not in texts(cleanings=(cleaning(),))


def test_a_cleaning_under_way_is_said():
    assert "Evening clean is under way" in texts(cleanings=(cleaning(when=hours(7, 11)),))


def test_a_medium_that_does_not_hold_the_residue_is_said():
    strong = cleaning(chemistry="quat_floor")
    plain = visit().model_copy(update={"medium": "bpw"})
    assert "keeps only" not in texts(cleanings=(cleaning(),))
    assert "keeps only" in _with_medium(strong, plain)


def _with_medium(used, seen):
    drawn = plant((room("hall", HALL),), sites=[site_of("A1", "hall", (5.0, 5.0), "door_handle")], cleanings=(used,))
    space = FloorSpace(drawn)
    timed, _ = walk_of(stops_at(drawn), space, CATALOGUE.figures, seen)
    return " ".join(warning.text for warning in cautions_of(Scene(timed, space.plant, CATALOGUE, seen)))


def test_a_chemistry_nobody_named_is_said():
    assert "Nobody has said which chemical Evening clean uses" in texts(cleanings=(cleaning(chemistry="unknown"),))


@pytest.mark.parametrize(
    ("hours_away", "words"), [(60.0, "later than the limit of 48 hours"), (30.0, "the target is 24 hours")]
)
def test_late_analysis_is_said(hours_away, words):
    late = visit().model_copy(update={"hours_to_laboratory": hours_away})
    assert words in _with_medium(cleaning(), late)
    assert words not in _with_medium(cleaning(), visit())


def test_transport_out_of_range_is_said():
    assert "12 °C lies outside" in _with_medium(
        cleaning(), visit().model_copy(update={"transport_temperature_c": 12.0})
    )


def test_a_caution_names_its_sites_in_order_of_work():
    drawn = tiny_plant()
    space, seen = FloorSpace(drawn), visit()
    timed, _ = walk_of(stops_at(drawn), space, CATALOGUE.figures, seen, Shares(0, 2, 1, 0))
    drains = next(
        w for w in cautions_of(Scene(timed, space.plant, CATALOGUE, seen)) if w.text.startswith("Drains last")
    )
    reached = [one.stop.code for one in timed if one.stop.kind == "surface"]
    assert [code for code in reached if code in drains.sites] == list(drains.sites)
    assert set(drains.sites) == {"S003", "S004"}


def test_of_many_rooms_the_first_few_are_named():
    rooms = [room(f"room-{n}", rectangle(4.0 * n, 0.0, 4.0 * n + 4.0, 4.0), temperature_c=1.0) for n in range(9)]
    sites = [site_of(f"A{n}", one.id, (4.0 * n + 2.0, 2.0), "door_handle") for n, one in enumerate(rooms)]
    stops = stops_at(plant(rooms, sites=sites))
    assert rooms_of(stops) == "Room-0, Room-1, Room-2, Room-3, Room-4, Room-5 and 3 more"
    assert rooms_of(stops[:2]) == "Room-0, Room-1"


@settings(deadline=None, derandomize=True, max_examples=30)
@given(
    st.lists(st.sampled_from(sorted(CATALOGUE.site_types)), min_size=1, max_size=6),
    st.sampled_from(["as_is", "opened"]),
)
def test_any_walk_ends_in_the_lines_that_defer_to_the_site(kinds, mode):
    sites = [site_of(f"A{n}", "hall", (2.0 + n, 5.0), kind) for n, kind in enumerate(kinds)]
    drawn = plant((room("hall", HALL),), sites=sites)
    space, seen = FloorSpace(drawn), visit()
    timed, _ = walk_of(stops_at(drawn, mode), space, CATALOGUE.figures, seen)
    found = cautions_of(Scene(timed, space.plant, CATALOGUE, seen))
    assert any("give no permission" in warning.text for warning in found)
    assert all(set(warning.sites) <= {site.code for site in sites} for warning in found)


@pytest.mark.parametrize("entry", [*TEXTS["cautions"], *TEXTS["facts"].values()], ids=lambda entry: entry["text"][:30])
def test_every_text_has_a_source_and_no_banned_word(entry):
    assert entry["source"]
    assert not [word for word in BANNED if word in entry["text"].lower()]


@pytest.mark.parametrize("name", TEXTS["hazards"])
def test_every_hazard_names_known_site_types_and_rules(name):
    hazard = TEXTS["hazards"][name]
    assert set(hazard.get("site_types", ())) <= set(CATALOGUE.site_types)
    assert hazard.get("rule", "any") in RULES
    assert hazard


@pytest.mark.parametrize("words", ["Walk through once, without sampling", "no machine treated with heat"])
def test_every_plan_asks_for_a_walk_through_and_for_sites_left_as_they_are(words):
    assert words in texts()
