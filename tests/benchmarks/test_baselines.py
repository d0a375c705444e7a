"""Ways to choose without an engine: as many samples as asked, one a site, no limit broken before the minutes are."""

import sys
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from benchmarks.baselines import QUOTA, Baselines  # noqa: E402
from benchmarks.rounds import SAMPLES, open_course  # noqa: E402

from swabwright.belief.prior import site_weights  # noqa: E402
from swabwright.plant.registry import load_catalogue  # noqa: E402

CATALOGUE = load_catalogue()
LINE = "line-0"


@pytest.fixture(scope="module")
def course():
    return open_course(CATALOGUE, 2, 60, LINE, 40)


@pytest.fixture(scope="module")
def simulated(course):
    return course.before()


@pytest.fixture(scope="module")
def baselines(course, simulated):
    return Baselines(course.problem(0, simulated), simulated.items, course.opened.case.plant)


def sites_of(course, simulated, places):
    site = {one.key: one for one in course.opened.case.plant.sites}
    return [site[simulated.items[place].site_key] for place in places]


@pytest.mark.parametrize("way", ["ranking", "quota"])
def test_as_many_samples_as_asked_are_taken_at_different_sites(course, simulated, baselines, way):
    chosen = {
        "ranking": lambda: baselines.ranking(CATALOGUE, LINE),
        "quota": lambda: baselines.quota(np.random.default_rng(1)),
    }[way]()
    assert len(chosen) == SAMPLES[0]
    assert len({one.key for one in sites_of(course, simulated, chosen)}) == SAMPLES[0]


def test_the_ranking_takes_riskier_sites_than_chance(course, simulated, baselines):
    keys = [site.key for site in course.opened.case.plant.sites]
    weight = dict(zip(keys, site_weights(course.opened.case.plant, CATALOGUE), strict=True))
    ranked = sites_of(course, simulated, baselines.ranking(CATALOGUE, LINE))
    assert np.mean([weight[one.key] for one in ranked]) > 1.1 * np.mean(list(weight.values()))


def test_quotas_are_filled_by_zone_before_the_rest(course, simulated, baselines):
    zones = [one.zone for one in sites_of(course, simulated, baselines.quota(np.random.default_rng(3)))]
    all_zones = [site.zone for site in course.opened.case.plant.sites]
    for zone, share in QUOTA.items():
        assert zones.count(zone) >= min(int(share * SAMPLES[0]), all_zones.count(zone))


def test_samples_around_a_detection_lie_near_it_and_are_new(course, simulated):
    later = course.problem(1, simulated)
    near = Baselines(later, simulated.items, course.opened.case.plant)
    found = course.opened.case.plant.sites[0]
    chosen = sites_of(course, simulated, near.nearest([found.key], {found.key}, CATALOGUE, LINE))
    metres = [np.hypot(*np.subtract(one.position, found.position)) for one in chosen]
    everywhere = [np.hypot(*np.subtract(one.position, found.position)) for one in course.opened.case.plant.sites]
    assert found.key not in {one.key for one in chosen}
    assert np.mean(metres) < 0.7 * np.mean(everywhere)
