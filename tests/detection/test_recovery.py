"""What reaches the broth alive: device, surface, wetness, chemistry and strength, transport."""

import pytest
from builders.known import visit
from builders.plants import EVENING_CLEAN, tiny_plant
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.detection.recovery import (
    chemistry_at_strength,
    cleanings_of,
    kept_in_transport,
    neutralised,
    recovery,
    viability,
)
from swabwright.errors import SwabwrightError
from swabwright.plant.effective import effective_site
from swabwright.plant.lines import Cleaning
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
FIGURES = CATALOGUE.figures
PLANT = tiny_plant()
DRAIN = PLANT.sites[2]


def cleaned(**changes: object) -> Cleaning:
    """A full clean of the slicing room with quat at working strength, not rinsed."""
    usual: dict[str, object] = {"id": "c", "name": "c", "kind": "full", "rooms": ("slicing",), "when": (EVENING_CLEAN,)}
    usual |= {"chemistry": "quat_normal", "strength_ppm": 200.0, "rinsed": False}
    return Cleaning(**{**usual, **changes})  # type: ignore[arg-type]


def test_a_sponge_on_wet_steel_recovers_the_plain_figure() -> None:
    site = effective_site(DRAIN.model_copy(update={"surface": "steel", "wetness": "wet"}), CATALOGUE)
    assert recovery(site, "SP", FIGURES) == pytest.approx(0.2)


@pytest.mark.parametrize("surface", sorted(CATALOGUE.surfaces))
def test_dry_surfaces_give_less_than_damp_and_damp_less_than_wet(surface: str) -> None:
    sites = [DRAIN.model_copy(update={"surface": surface, "wetness": wetness}) for wetness in ("dry", "damp", "wet")]
    shares = [recovery(effective_site(site, CATALOGUE), "SP", FIGURES) for site in sites]
    assert shares == sorted(shares)
    assert shares[0] > 0
    assert shares[-1] <= 1


def test_a_cleaning_reaches_sites_of_its_room_and_of_its_line() -> None:
    plant = tiny_plant(cleanings=(cleaned(id="floor"), cleaned(id="line", rooms=(), lines=("line-a",))))
    assert [cleaning.id for cleaning in cleanings_of(DRAIN, plant)] == ["floor"]
    assert [cleaning.id for cleaning in cleanings_of(plant.sites[0], plant)] == ["floor", "line"]


def test_quat_above_working_strength_is_floor_strength() -> None:
    assert chemistry_at_strength(cleaned(strength_ppm=400.0), FIGURES) == "quat_normal"
    assert chemistry_at_strength(cleaned(strength_ppm=800.0), FIGURES) == "quat_floor"


def test_letheen_broth_fails_against_floor_strength_and_holds_at_working_strength() -> None:
    weak, strong = (tiny_plant(cleanings=(cleaned(strength_ppm=ppm),)) for ppm in (200.0, 8000.0))
    assert neutralised(DRAIN, weak, CATALOGUE, "letheen_broth") == 1
    assert neutralised(DRAIN, strong, CATALOGUE, "letheen_broth") < 0.2


def test_a_rinse_takes_most_of_the_harm_away() -> None:
    kept = [
        neutralised(DRAIN, tiny_plant(cleanings=(cleaned(chemistry="paa", rinsed=rinsed),)), CATALOGUE, "bpw")
        for rinsed in (False, True)
    ]
    assert kept[1] == pytest.approx(1 - 0.2 * (1 - kept[0]))


def test_the_worst_of_several_cleanings_counts() -> None:
    both = tiny_plant(cleanings=(cleaned(), cleaned(id="b", strength_ppm=8000.0)))
    one = tiny_plant(cleanings=(cleaned(id="b", strength_ppm=8000.0),))
    assert neutralised(DRAIN, both, CATALOGUE, "bpw") == neutralised(DRAIN, one, CATALOGUE, "bpw")


def test_an_unknown_medium_is_refused() -> None:
    with pytest.raises(SwabwrightError, match="no medium 'de_brot'; did you mean 'de_broth'"):
        neutralised(DRAIN, PLANT, CATALOGUE, "de_brot")


@given(st.floats(-30, 50), st.floats(0.5, 200))
@settings(deadline=None, derandomize=True)
def test_what_transport_keeps_is_a_share_and_never_grows_with_time(temperature_c: float, hours: float) -> None:
    short, long = (
        kept_in_transport(visit(hours_to_laboratory=time, transport_temperature_c=temperature_c), FIGURES)
        for time in (hours, 2 * hours)
    )
    assert 0 < long <= short <= 1


def test_warm_or_frozen_transport_keeps_less_than_cold() -> None:
    cold, warm, frozen = (
        kept_in_transport(visit(transport_temperature_c=degrees), FIGURES) for degrees in (4.0, 15.0, -10.0)
    )
    assert cold == 1
    assert warm < cold
    assert frozen == pytest.approx(0.46)


def test_viability_is_chemistry_times_transport() -> None:
    plant = tiny_plant(cleanings=(cleaned(strength_ppm=8000.0),))
    warm = visit(medium="bpw", transport_temperature_c=15.0)
    expected = neutralised(DRAIN, plant, CATALOGUE, "bpw") * kept_in_transport(warm, FIGURES)
    assert viability(DRAIN, plant, CATALOGUE, warm) == pytest.approx(expected)
