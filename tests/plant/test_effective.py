"""What the plant did not say of a site comes from its site type, and is named as a default."""

import pytest
from builders.plants import site, tiny_plant, twenty_site_plant

from swabwright.errors import SwabwrightError
from swabwright.plant.effective import DEFAULTED, effective_site, site_figure
from swabwright.plant.registry import load_catalogue
from swabwright.plant.sites import Stop

CATALOGUE = load_catalogue()


def test_a_bare_site_takes_everything_from_its_type_and_says_so() -> None:
    bare = effective_site(site(1, "slicer_blade", (12.0, 4.0)), CATALOGUE)
    assert bare.area_cm2 == CATALOGUE.figures.number("site_type.slicer_blade.area_cm2")
    assert bare.devices == CATALOGUE.site_types["slicer_blade"].devices
    assert bare.defaults == DEFAULTED


def test_what_the_plant_said_stands_and_is_no_default() -> None:
    said = effective_site(site(1, "slicer_blade", (12.0, 4.0), area_cm2=120.0, surface="plastic"), CATALOGUE)
    assert (said.area_cm2, said.surface) == (120.0, "plastic")
    assert set(said.defaults) == {"wetness", "devices", "stop", "stop_as_is"}


def test_never_more_is_taken_than_the_site_has() -> None:
    small = effective_site(site(1, "cracked_floor", (12.0, 4.0), area_cm2=30.0), CATALOGUE)
    assert small.sample_area_cm2 == 30.0


def test_opened_and_as_it_stands_ask_for_different_stops() -> None:
    roller = effective_site(site(1, "hollow_roller", (12.0, 4.0)), CATALOGUE)
    assert roller.stop_in("opened").mechanic
    assert not roller.stop_in("as_is").mechanic


def test_the_plants_own_stop_stands_above_the_site_types() -> None:
    own = Stop(needs_line_stop=True, needs_isolation=True, mechanic=True, minutes_down=90, reclean_before_restart=True)
    assert effective_site(site(1, "hollow_roller", (12.0, 4.0), stop=own), CATALOGUE).stop_in("opened") == own


def test_an_unknown_site_type_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(SwabwrightError, match="site S001: no site type 'slicer_blad'; did you mean 'slicer_blade'"):
        effective_site(site(1, "slicer_blad", (12.0, 4.0)), CATALOGUE)


def test_a_sites_own_figures_are_read_by_their_short_name() -> None:
    assert site_figure(tiny_plant().sites[0], CATALOGUE)("cleaning_difficulty") == 5


def test_every_site_of_the_shared_plants_can_be_settled() -> None:
    settled = [effective_site(each, CATALOGUE) for each in twenty_site_plant().sites]
    assert len(settled) == 20
    assert all(each.sample_area_cm2 <= each.area_cm2 for each in settled)
