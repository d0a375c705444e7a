"""Prior weights: what they rest on, and that drawing a plant more finely does not move them."""

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from builders.known import plant_bank, tiny_known
from builders.plants import tiny_plant

from swabwright.belief.prior import Prior, make_prior, site_weights
from swabwright.plant.document import Plant
from swabwright.plant.figures import Figures, Override
from swabwright.plant.registry import load_catalogue
from swabwright.plant.sites import Site

CATALOGUE = load_catalogue()
KNOWN = tiny_known()
PLANT = KNOWN.setting.plant


def prior_of(plant: Plant, **figures: float) -> Prior:
    """The prior of a plant with some figures changed."""
    overrides = tuple(Override(name.replace("__", "."), value, "A. Lead", "a test") for name, value in figures.items())
    catalogue = replace(CATALOGUE, figures=Figures(dict(CATALOGUE.figures)).changed(overrides))
    return make_prior(plant, catalogue, plant_bank(plant, KNOWN.bank.occasions).source_names)


def share(prior: Prior, start: str) -> float:
    """Weight of the sources whose names start so."""
    return sum(w for name, w in zip(prior.source_names, prior.weight, strict=True) if name.startswith(start))


def cut(plant: Plant, place: int, parts: tuple[float, ...]) -> Plant:
    """The plant with one site cut into pieces with these areas."""
    site = plant.sites[place]
    pieces = tuple(
        Site.model_validate(
            site.model_dump() | {"key": f"{n:032x}", "code": f"P{n}", "area_cm2": area, "split_from": site.key}
        )
        for n, area in enumerate(parts, 100)
    )
    return plant.model_copy(update={"sites": (*plant.sites[:place], *pieces, *plant.sites[place + 1 :])})


def test_prior_weights_sum_to_one() -> None:
    assert prior_of(PLANT).weight.sum() == pytest.approx(1)
    assert prior_of(PLANT).niches.sum() == pytest.approx(1)


def test_site_weight_is_difficulty_times_wetness_times_fit() -> None:
    figure = CATALOGUE.figures.number
    names = ("cleaning_difficulty", "wetness_weight", "organism_fit_listeria")
    raw = np.array([np.prod([figure(f"site_type.{site.type}.{name}") for name in names]) for site in PLANT.sites])
    assert site_weights(PLANT, CATALOGUE) == pytest.approx(raw / raw.sum())


def test_a_site_that_its_plant_calls_dry_weighs_less() -> None:
    dry = PLANT.model_copy(
        update={"sites": tuple(s.model_copy(update={"wetness": "dry"}) for s in PLANT.sites[:3]) + PLANT.sites[3:]}
    )
    assert site_weights(dry, CATALOGUE)[2] < site_weights(PLANT, CATALOGUE)[2]


def test_five_in_a_hundred_are_not_on_the_drawing() -> None:
    prior = prior_of(PLANT)
    assert share(prior, "room:") + share(prior, "line:") == pytest.approx(0.05)
    assert share(prior, "line:") == pytest.approx(0.025)


def test_rooms_share_what_is_not_drawn_by_floor_area() -> None:
    prior = prior_of(PLANT)
    assert share(prior, "room:wash") / share(prior, "room:slicing") == pytest.approx(9.0 / 8.8)


def test_a_uniform_part_keeps_every_site_possible() -> None:
    assert prior_of(PLANT, prior__uniform_share=1.0).weight[:6] == pytest.approx(np.full(6, 0.95 / 6))
    assert prior_of(PLANT).weight[:6].min() > 0.15 * 0.95 / 6


def test_cutting_a_site_moves_no_other_weight() -> None:
    pieces = prior_of(cut(PLANT, 2, (1000.0, 3000.0)))
    assert np.delete(pieces.weight, [2, 3]) == pytest.approx(np.delete(prior_of(PLANT).weight, 2))
    assert pieces.weight[3] == pytest.approx(3 * pieces.weight[2])


def test_who_changed_the_prior_is_named() -> None:
    assert prior_of(PLANT, prior__uniform_share=0.2).set_by == "set by A. Lead"
    assert "20 in 100 even" in prior_of(PLANT, prior__uniform_share=0.2).words
    assert prior_of(PLANT).set_by == "by the catalogue, unconfirmed"


def test_pairs_and_triples_are_normalised_over_different_sources() -> None:
    prior = Prior(tuple("abcd"), np.array([0.4, 0.3, 0.2, 0.1]), np.array([0.5, 0.3, 0.2]), "x", "x")
    singles = np.array([[a, -1, -1] for a in range(4)])
    pairs = np.array([[*pair, -1] for pair in permutations(range(4), 2)])
    triples = np.array(list(permutations(range(4), 3)))
    totals = [prior.of_sets(sets.astype(np.int32)).sum() for sets in (singles, pairs, triples)]
    assert totals == pytest.approx([0.5, 0.3, 0.2])


def test_a_plant_without_lines_gives_the_rooms_all_that_is_not_drawn() -> None:
    plant = tiny_plant(lines=(), sites=tuple(s.model_copy(update={"line": None}) for s in PLANT.sites))
    assert share(prior_of(plant), "room:") == pytest.approx(0.05)
