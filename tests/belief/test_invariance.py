"""What must not matter: order and names of sites, and how finely a site was drawn."""

from dataclasses import replace

import pytest
from builders.known import investigation, simulated_known
from builders.plants import tiny_plant, twenty_site_plant

from swabwright.belief.believe import Belief, believe
from swabwright.belief.estimate import chance_of_finding
from swabwright.belief.outcome import find_chances
from swabwright.belief.presence import not_detected_means
from swabwright.belief.shares import believed
from swabwright.detection.choices import build_items
from swabwright.detection.items import Item
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.registry import load_catalogue
from swabwright.plant.sites import Site


def believed_of(plant: Plant, histories: int = 60, rows: int = 2000) -> tuple[Belief, tuple[Item, ...]]:
    """The belief on a simulated bank of a plant, and every sponge as it stands, in order of the sites' keys."""
    known = simulated_known(plant, investigation(), histories)
    items = build_items(known.setting, known.bank)
    sponges = [item for item in items if item.device == "SP" and item.mode == "as_is"]
    return believe(known, rows), tuple(sorted(sponges, key=lambda item: item.site_key))


def turned(plant: Plant) -> Plant:
    """The plant with its sites in reverse order and renamed, codes and keys as they were."""
    sites = tuple(site.model_copy(update={"name": f"renamed {site.code}"}) for site in reversed(plant.sites))
    return plant.model_copy(update={"sites": sites})


def test_reordering_and_renaming_sites_changes_no_chance_bit_for_bit() -> None:
    (plain, items), (other, same) = believed_of(tiny_plant()), believed_of(turned(tiny_plant()))
    assert chance_of_finding(other, same) == chance_of_finding(plain, items)
    assert not_detected_means(other, same) == not_detected_means(plain, items)


def test_reordering_sites_changes_no_share_and_no_dot() -> None:
    plain, other = (believed(believed_of(plant)[0]) for plant in (tiny_plant(), turned(tiny_plant())))
    assert [(one.place, one.share, one.dots) for one in other] == [(one.place, one.share, one.dots) for one in plain]


def halved(plant: Plant, code: str) -> Plant:
    """The plant with one site drawn as two halves, 0.4 m apart."""
    site = next(site for site in plant.sites if site.code == code)
    area = effective_site(site, load_catalogue()).area_cm2
    halves = tuple(
        Site.model_validate(
            site.model_dump()
            | {"key": f"{number:032x}", "code": f"{code}{letter}", "area_cm2": area / 2, "split_from": site.key}
            | {"position": (site.position[0] + shift, site.position[1])}
        )
        for number, letter, shift in ((901, "a", -0.2), (902, "b", 0.2))
    )
    return plant.model_copy(update={"sites": tuple(s for s in plant.sites if s.code != code) + halves})


@pytest.mark.slow
@pytest.mark.parametrize("code", ["S006", "S018"])
def test_drawing_a_site_as_two_halves_moves_the_chance_by_at_most_two_in_a_hundred(code: str) -> None:
    plant = twenty_site_plant()
    whole, items = believed_of(plant, histories=1000, rows=20_000)
    pieces, halves = believed_of(halved(plant, code), histories=1000, rows=20_000)
    taken = next(item.area_cm2 for item in items if item.site_code == code)
    equal = tuple(_half_area(item, taken) if item.site_code.startswith(code) else item for item in halves)
    assert _found(pieces, equal) == pytest.approx(_found(whole, items), abs=0.02)


def _half_area(item: Item, taken_cm2: float) -> Item:
    """A half sampled over half the area that the whole was sampled over."""
    fraction = taken_cm2 / 2 / (item.area_cm2 / item.area_fraction)
    return replace(item, area_cm2=taken_cm2 / 2, area_fraction=fraction, hit_chance=fraction)


def _found(belief: Belief, items: tuple[Item, ...]) -> float:
    return float(belief.living.rows.weight @ find_chances(belief.known, belief.living.rows, items))
