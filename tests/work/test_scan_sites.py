"""Results to clusters: by straight distance, by the plant document, on foot through its doors."""

from dataclasses import replace

import pytest
from builders.floors import door, plant, rectangle, room, site

from swabwright.errors import SwabwrightError
from swabwright.inference.scan import Search
from swabwright.work.scan_floor import Floor, distances_of
from swabwright.work.scan_rows import read_rows
from swabwright.work.scan_sites import scan_file

SEARCH = Search(rearrangements=19)
PLACED = "site,x_m,y_m,period,detected,tested\n"
CODED = "site,period,detected,tested\n"
WEST, EAST = rectangle(0, 0, 8, 20), rectangle(8.2, 0, 16, 20)
"""Two long rooms, side by side; their door is at the far end."""


def two_rooms(*doors):
    """D1 and D2 stand 2 m apart with the wall between them; D3 is by the door in the west."""
    places = (site("D1", "west", (7, 1)), site("D2", "east", (9, 1)), site("D3", "west", (7, 18)))
    return plant([room("west", WEST), room("east", EAST)], doors, places)


DOORED = two_rooms(door("far", "west", "east", (8.1, 18)))


def measured(text, floor):
    sites, metres = distances_of(read_rows(text.encode(), "results.csv", "bernoulli"), floor, "results.csv")
    return {(sites[a], sites[b]): float(metres[a, b]) for a in range(len(sites)) for b in range(a)}


def coded(*codes):
    return CODED + "".join(f"{code},1,{int(code != 'D3')},1\n" for code in codes)


def refusal(text, floor=None, model="bernoulli"):
    with pytest.raises(SwabwrightError) as refused:
        scan_file(text.encode(), "results.csv", model, SEARCH, *([floor] if floor else []))
    return str(refused.value)


def test_straight_distance_goes_through_the_wall():
    assert measured(coded("D1", "D2", "D3"), Floor(DOORED)) == pytest.approx(
        {("D2", "D1"): 2.0, ("D3", "D1"): 17.0, ("D3", "D2"): (4 + 17**2) ** 0.5}
    )


def test_walking_distance_goes_round_by_the_door():
    metres = measured(coded("D1", "D2", "D3"), Floor(DOORED, walking=True))
    assert metres["D2", "D1"] == pytest.approx(2 * 17.0, abs=0.5)
    assert metres["D3", "D1"] == pytest.approx(17.0, abs=0.01)


def test_places_in_the_file_are_walked_from_the_room_they_lie_in():
    text = f"{PLACED}A,7,1,1,1,1\nB,9,1,1,0,1\n"
    assert measured(text, Floor(DOORED, walking=True))["B", "A"] == pytest.approx(34.0, abs=0.5)


def test_a_pair_across_a_wall_is_a_cluster_only_when_it_is_not_walked():
    rows = ["near,7,1,1,2,2", "across,9,1,1,2,2", *(f"W{n},7,{n},1,0,2" for n in range(2, 18))]
    text = PLACED + "\n".join(rows)
    straight, walked = (
        scan_file(text.encode(), "r.csv", "bernoulli", SEARCH, Floor(DOORED, walking)) for walking in (False, True)
    )
    assert straight.clusters[0].sites == ("across", "near")
    assert all(one.sites != ("across", "near") for one in walked.clusters)
    assert walked.sentence.splitlines()[-1] == "Distances are metres on foot through the doors that are drawn."


def test_walking_names_the_door_that_is_missing():
    said = refusal(coded("D1", "D2", "D3"), Floor(two_rooms(), walking=True))
    assert "nobody can walk to room 'east' (East): a door is missing between 'east' (East) and 'west' (West)" in said


def test_a_room_without_tested_sites_may_lack_its_door():
    assert measured(coded("D1", "D3"), Floor(two_rooms(), walking=True))["D3", "D1"] == pytest.approx(17.0, abs=0.01)


def test_walking_without_a_plant_document_says_what_to_name():
    assert refusal(f"{PLACED}A,0,0,1,0,1\n", Floor(walking=True)).endswith("name it with --plant")


def test_an_unknown_code_is_refused_by_row_with_the_nearest_known():
    assert refusal(coded("D1", "D22"), Floor(DOORED)).startswith(
        "results.csv: row 3: no site D22 in the plant document; did you mean 'D2'?"
    )


def test_codes_without_a_plant_document_are_refused():
    assert "a plant document must say where sites are" in refusal(coded("D1"))


def test_a_place_off_the_drawing_is_refused_by_row_when_walked():
    said = refusal(f"{PLACED}A,7,1,1,0,1\nB,99,1,1,0,1\n", Floor(DOORED, walking=True))
    assert said == "results.csv: row 3: site B at (99, 1) lies in no room of the plant document"


def test_a_site_in_two_places_is_refused_by_row():
    assert refusal(f"{PLACED}A,7,1,1,0,1\nA,7,2,2,0,1\n").startswith("results.csv: row 3: site A stands elsewhere")


@pytest.mark.parametrize(
    "row",
    [
        "A,0,0,1,x,1",
        "A,0,0,1,0",
        "A,0,0,1,0,1.5",
        ",0,0,1,0,1",
        "A,nan,0,1,0,1",
        "A,1e400,0,1,0,1",
        "A,0,0,1,0,9999999999",
    ],
)
def test_a_row_that_says_no_result_is_refused(row):
    assert refusal(f"{PLACED}{row}\n").startswith("results.csv: row 2: needs a site, two lengths in m")


def test_a_heading_that_is_none_is_told_both_that_are():
    assert "must be site,x_m,y_m,period,detected,tested, or site,period,detected,tested" in refusal("a,b\n1,2\n")


def test_rows_of_one_site_and_period_add_up():
    split = scan_file(f"{PLACED}A,0,0,1,1,1\nA,0,0,1,1,1\nB,9,0,1,0,2\n".encode(), "r.csv", "bernoulli", SEARCH)
    whole = scan_file(f"{PLACED}A,0,0,1,2,2\nB,9,0,1,0,2\n".encode(), "r.csv", "bernoulli", SEARCH)
    assert split == whole


def test_the_order_of_the_rows_changes_nothing():
    rows = [f"S{n},{n % 4},{n % 3},{n % 2},{n % 3},3\n" for n in range(12)]
    one, other = (
        scan_file((PLACED + "".join(some)).encode(), "r.csv", "bernoulli", replace(SEARCH, rearrangements=99))
        for some in (rows, rows[::-1])
    )
    assert one == other


def test_exposure_may_be_a_fraction():
    found = scan_file(f"{PLACED}A,0,0,1,4,0.5\nB,9,0,1,0,2.5\n".encode(), "r.csv", "poisson", SEARCH)
    assert found.clusters[0].sites == ("A",)


def test_a_site_behind_a_room_built_across_is_said_to_have_no_way():
    # The cold store spans the hall from wall to wall; its only door leads south.
    rooms = [room("hall", WEST), room("store", rectangle(0, 8, 8, 12))]
    split = plant(rooms, [door("south", "hall", "store", (4, 8))])
    text = f"{PLACED}S,4,4,1,1,1\nN,4,16,1,1,1\nM,4,10,1,0,9\n"
    said = scan_file(text.encode(), "r.csv", "bernoulli", SEARCH, Floor(split, walking=True)).sentence
    assert "No way on foot joins M and N: sites without a way between them never share a window." in said
