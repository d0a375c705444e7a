"""The trade's starting values for each site type, entered a second time: a change must be meant.

Provenance: practice of the trade as told by the sources named with each site type; none is a measured figure.
Columns: site type, usual zones, how it opens (0 nothing, 1 without tools, 2 tools, 3 height or electrician),
order of work inside a room (1 to 9), cleaning difficulty (1 to 5), food contact.
"""

import pytest

from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
REGISTER = """
drain_channel          3      1 8 5 no
drain_cover            3      1 8 3 no
drain_seam             3      0 8 5 no
dead_end_pipe          2,3    2 7 5 beside
hollow_roller          1,2    2 4 5 yes
belt_product_side      1      0 2 2 yes
belt_underside         2      1 4 4 beside
belt_hinge             1      1 3 5 yes
belt_scraper           1,2    1 3 4 yes
conveyor_frame         2      2 4 5 no
bearing                2      2 4 4 beside
drive_chain            2      2 4 4 beside
motor_housing          2      2 4 4 no
slicer_blade           1      2 3 5 yes
cutter_head            1      2 3 5 yes
mixer_seal             1      2 3 5 yes
pump_seal              1,2    2 4 4 beside
filler_nozzle          1      2 2 4 yes
gasket_joint           1      2 3 4 yes
weld_crack             1,2    0 3 5 beside
bolt_thread            1,2    2 4 4 beside
hollow_leg             2,3    2 6 5 no
table_underside        2      0 4 3 no
cutting_board          1      0 2 4 yes
hand_tool              1      0 2 2 yes
scale_platform         1,2    1 2 3 beside
packer_gloves          1      0 2 1 yes
apron                  1,2    0 4 2 beside
boot_sole              3      0 7 3 no
boot_wash              3,4    0 7 4 no
hand_sink              3      0 5 2 no
control_panel          2      3 5 3 no
electrical_cabinet     2,3    3 5 5 no
cable_bundle           2      0 4 5 beside
door_handle            3      0 5 1 no
door_seal              3      0 5 4 no
door_frame             3      3 6 4 no
floor_wall_junction    3      0 7 4 no
cracked_floor          3      0 7 5 no
standing_water         3      0 7 3 no
floor_under_equipment  3      0 7 4 no
wheel_stop             3      0 7 4 no
wall_panel_seam        3      3 5 5 no
ceiling                2,3    3 3 5 beside
overhead_pipe          2      3 3 5 beside
evaporator             2      3 3 5 beside
condensate_pan         2,3    3 4 4 beside
air_duct               2      3 3 5 beside
compressed_air         1,2    2 2 4 beside
catwalk                2,3    0 6 4 beside
hand_rail              3      0 5 2 no
cart_frame             2,3    0 6 3 no
cart_wheel             3      0 6 4 no
forklift_tyre          3,4    0 6 4 no
pallet                 3,4    0 7 5 no
crate                  1,2,3  0 4 3 yes
waste_bin              3,4    0 9 3 no
squeegee               3      0 6 5 no
floor_scrubber         3      1 7 4 no
hose_end               2,3    0 6 3 no
tool_rack              3,4    0 8 3 no
maintenance_tool       2,3,4  0 6 3 no
packing_die            1,2    2 2 4 yes
packing_film           1      0 1 1 yes
detector_aperture      1,2    1 2 3 beside
ice_maker              1      2 3 4 yes
brine_tank             1      2 3 4 yes
freezer_casing         1,2    3 4 5 yes
oven_outfeed           1,2    2 3 4 beside
smoke_rack             2      0 5 4 beside
cold_shelf             2,3    0 5 2 beside
slicer_housing         2      2 4 5 beside
"""
ROWS = [line.split() for line in REGISTER.strip().splitlines()]


@pytest.mark.parametrize(
    ("kind", "zones", "opens", "rank", "difficulty", "contact"), ROWS, ids=[row[0] for row in ROWS]
)
def test_a_site_type_keeps_its_starting_values(kind, zones, opens, rank, difficulty, contact) -> None:
    entry = CATALOGUE.site_types[kind]
    assert (entry.zones, entry.food_contact) == (tuple(int(zone) for zone in zones.split(",")), contact)
    assert (entry.opens, entry.rank) == (int(opens), int(rank))
    assert CATALOGUE.figures.number(f"site_type.{kind}.cleaning_difficulty") == int(difficulty)


def test_every_site_type_has_its_row() -> None:
    assert sorted(row[0] for row in ROWS) == sorted(CATALOGUE.site_types)
