"""Simulated investigations on plants whose chances can be worked out by hand."""

import numpy as np
import pytest
from builders.seen import DRAWS, seen_plant
from validation.investigated import at_the_niche, living_at, simulated_counts, simulated_on_contact
from validation.plants import OPENED, SOUGHT
from validation.published import Round, SiteKinds

PLANT = {"drain": 0.2, "contact:1": 0.4}
EVERY = SiteKinds(groups=("all",))


def told(**changes):
    usual = {"id": "a", "what": "invented", "organism": "c", "source": "invented", "confirmed": False}
    usual |= {"told": "invented", "samples": 10, "detected": 10, "detected_on_contact": 2}
    return Round(**{**usual, "compares": ("count",), **changes})


def niches_at(site, draws=DRAWS):
    niches = np.full((DRAWS, 3), -1, np.int32)
    niches[:draws, 0] = site
    return niches


def test_a_round_in_which_nothing_was_detected_was_not_published():
    shares = simulated_counts((seen_plant({"drain": 0.05}),), told(), 1000, 1)
    assert shares.min() == pytest.approx(0.1)
    assert len(shares) / 1000 == pytest.approx(1 - 0.95**10, abs=0.05)


def test_a_round_counts_samples_at_every_site():
    assert simulated_counts((seen_plant(PLANT),), told(samples=400), 300, 1).mean() == pytest.approx(0.3, abs=0.01)


def test_only_draws_with_a_niche_at_such_a_site_count():
    living = living_at(seen_plant(PLANT, niches=niches_at(0, draws=7)), SiteKinds(groups=("drain",)))
    assert living.sum() == 7


def test_a_niche_that_is_not_on_the_drawing_is_at_no_kind_of_site():
    assert not living_at(seen_plant(PLANT), SiteKinds(groups=("contact",))).any()


def test_where_the_niche_is_not_known_every_draw_counts():
    assert living_at(seen_plant(PLANT), EVERY).all()


def test_detections_fall_on_food_contact_as_their_chances_do():
    on_contact = simulated_on_contact((seen_plant(PLANT),), told(detected=300), 200, 1)
    assert on_contact.mean() == pytest.approx(0.4 / 0.6, abs=0.01)


def test_a_plant_with_more_detections_is_likelier_to_be_the_published_one():
    seen = (seen_plant({"drain": 0.9, "contact:1": 0.0}), seen_plant({"drain": 0.0, "contact:1": 0.1}))
    assert simulated_on_contact(seen, told(), 2000, 1).mean() == pytest.approx(0.1, abs=0.02)


def test_a_niche_is_read_closed_and_opened_at_its_own_site():
    plant = seen_plant({"drain": 0.2, "inside": 0.1}, niches=niches_at(1, draws=5))
    opened = {**plant.chance, OPENED: plant.chance[SOUGHT] + 0.5}
    plant = seen_plant({"drain": 0.2, "inside": 0.1}, niches=plant.niches, chance=opened)
    closed, open_ = at_the_niche((plant,), told(niche_groups=("inside",)))
    assert closed == pytest.approx(np.full(5, 0.1))
    assert open_ == pytest.approx(np.full(5, 0.6))
