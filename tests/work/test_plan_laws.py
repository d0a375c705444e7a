"""Laws of a whole plan: the same again, and the same whatever sites are called and however they are listed."""

import pytest
from builders.cases import change, limits, quick_case

from swabwright.case.folder import read_case
from swabwright.errors import LimitsClash, SwabwrightError
from swabwright.work.plan_case import plan_case


def silent(_step):
    """Hears the steps and says nothing."""


def plan_of(folder):
    case = read_case(folder)
    return plan_case(case, case.visit(None), cache_folder=None, say=silent).plan


def keys(plan):
    return [(sample.site_key, sample.device, sample.mode, sample.kind) for sample in plan.samples]


@pytest.mark.slow
def test_the_same_documents_give_the_same_plan(tmp_path):
    folder = quick_case(tmp_path)
    assert plan_of(folder) == plan_of(folder)


@pytest.mark.slow
def test_renaming_and_reordering_sites_changes_nothing(tmp_path):
    folder = quick_case(tmp_path)
    before = plan_of(folder)

    def other_names(plant):
        plant["sites"].reverse()
        for site in plant["sites"]:
            site["name"] = site["name"].upper()

    change(folder, "plant.json", other_names)
    after = plan_of(folder)
    assert keys(after) == keys(before)
    assert after.chance_of_finding == before.chance_of_finding


@pytest.mark.slow
def test_minimums_that_clash_are_named_with_the_smallest_change(tmp_path):
    folder = quick_case(tmp_path)
    limits(folder, zone_minimums={"2": 20, "3": 20}, samples=44)
    with pytest.raises(LimitsClash, match=r"minimum of 20 in zone 2.*the smallest change that helps"):
        plan_of(folder)


def test_a_site_nobody_can_walk_to_names_the_missing_door(tmp_path):
    folder = quick_case(tmp_path)
    change(
        folder,
        "plant.json",
        lambda plant: plant.update(doors=[door for door in plant["doors"] if "wood-store" not in door["joins"]]),
    )
    with pytest.raises(SwabwrightError, match=r"Wood store.*door"):
        plan_of(folder)
