"""Simulated studies on plants whose chances can be worked out by hand."""

import numpy as np
import pytest
from builders.seen import seen_plant
from hypothesis import given, settings
from hypothesis import strategies as st
from validation.plants import ROUTINE
from validation.published import Contrast, Published, Share, SiteKinds
from validation.studies import overall_ratio, pool_of, simulated_ratios, simulated_shares

EVEN = seen_plant({"drain": 0.4, "contact": 0.1})
CHANCES = st.floats(0.0, 1.0)


def share(**changes):
    usual = {"id": "a", "what": "invented", "organism": "Listeria monocytogenes", "source": "invented"}
    usual |= {"confirmed": False, "share": 0.1, "samples": 500, "groups": ("drain",), "presence_source": "invented"}
    return Share(**{**usual, **changes})


def simulated(one, seen=(EVEN,)):
    return simulated_shares(seen, one, studies=400, seed=1)


def test_a_study_of_one_plant_shows_the_chance_at_the_sites_asked_for():
    assert simulated(share()).mean() == pytest.approx(0.4, abs=0.01)


def test_every_site_counts_alike():
    assert simulated(share(groups=("all",))).mean() == pytest.approx(0.25, abs=0.01)


def test_where_it_does_not_live_only_the_background_counts():
    assert simulated(share(presence=(0.0, 0.0))).mean() == pytest.approx(EVEN.background, abs=0.002)


def test_presence_mixes_plants_where_it_lives_with_others():
    mixed = simulated(share(presence=(0.2, 0.8), plants=20)).mean()
    assert mixed == pytest.approx(0.5 * 0.4 + 0.5 * EVEN.background, abs=0.02)


@settings(max_examples=25)
@given(first=CHANCES, second=CHANCES)
def test_the_plant_with_most_detections_shows_no_less_than_the_one_with_fewest(first, second):
    seen = (seen_plant({"drain": first}), seen_plant({"drain": second}))
    most, fewest = (simulated(share(chosen=which, plants=4), seen).mean() for which in ("highest", "lowest"))
    assert most >= fewest - 0.02


def test_the_plant_is_chosen_by_all_of_its_samples():
    seen = (seen_plant({"drain": 0.0, "floor": 1.0}), seen_plant({"drain": 0.4, "floor": 0.0}))
    assert simulated(share(chosen="highest", plants=12), seen).mean() < 0.02


def test_more_samples_a_plant_find_it_in_more_plants():
    few, many = (
        simulated(share(counts="plants_with_any", plants=50, samples_a_plant=count)).mean() for count in (1, 4)
    )
    assert few == pytest.approx(0.4, abs=0.02)
    assert many == pytest.approx(1 - 0.6**4, abs=0.02)


def test_plants_below_a_share_are_those_with_fewer_detections():
    seldom = (seen_plant({"drain": 0.001}), seen_plant({"drain": 0.5}))
    one = share(counts="plants_below", below=0.01, plants=20, samples_a_plant=100)
    assert simulated(one, seldom).mean() == pytest.approx(0.5 * 0.999**100, abs=0.03)


def test_the_same_seed_gives_the_same_studies():
    assert np.array_equal(simulated(share()), simulated(share()))


def test_a_plant_without_such_a_site_is_left_out():
    pool = pool_of((EVEN, seen_plant({"contact": 0.9})), SiteKinds(groups=("drain",)))
    assert pool.asked == pytest.approx(0.4)


def test_a_site_that_cannot_be_sampled_so_does_not_count():
    chance = EVEN.chance[ROUTINE].copy()
    chance[1] = np.nan
    seen = seen_plant({"drain": 0.4, "contact": 0.1}, chance={ROUTINE: chance})
    assert pool_of((seen,), SiteKinds(groups=("all",))).asked == pytest.approx(0.4)


def test_sites_that_no_invented_plant_has_are_refused_by_name():
    with pytest.raises(ValueError, match="no invented plant has a site of: hands"):
        pool_of((EVEN,), SiteKinds(groups=("hands",)))


def test_a_ratio_belongs_to_the_same_plants():
    low, high = seen_plant({"drain": 0.04, "contact": 0.01}), seen_plant({"drain": 0.8, "contact": 0.2})
    shares = (share(id="up"), share(id="low", groups=("contact",)))
    contrast = Contrast(id="c", upper="up", lower="low")
    published = Published(shares=shares, contrasts=(contrast,), rounds=(), reasons=(), variations=())
    assert simulated_ratios((low, high), published, contrast, 50) == pytest.approx(4.0)
    assert overall_ratio((low, high), published, contrast) == pytest.approx(4.0)
