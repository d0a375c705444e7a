"""Why one site counts as it does, in words a person can check against the plant."""

import re
from pathlib import Path

import pytest

from swabwright.case.folder import read_case
from swabwright.work.explain_site import explain_site, explanation_as_text

CASE = read_case(Path(__file__).parents[2] / "examples/juniper-lane")
NAMES = {site.code: site.name for site in CASE.plant.sites}


def explained(code):
    return explain_site(CASE, CASE.visit(None), code)


def test_the_plants_own_name_stands_before_the_code_of_every_contact():
    told = explanation_as_text(explained("S062"))
    assert "  Tray washer, curtain (S061), " in told
    assert all(one.other_name == NAMES.get(one.other, "") for one in explained("S062").reached_from)


@pytest.mark.parametrize("code", ["S062", "S087", "S025"])
def test_no_number_is_told_in_powers_of_ten(code):
    assert re.findall(r"\de-\d", explanation_as_text(explained(code))) == []


def test_contacts_stand_in_the_order_of_what_they_move():
    moved = [one.events_in_8_hours * one.share_moved for one in explained("S025").reaches]
    assert moved == sorted(moved, reverse=True)
    assert len(moved) > 3
