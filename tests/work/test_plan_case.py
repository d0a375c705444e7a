"""A plan of the example: what was chosen keeps every limit, says what it rests on, and can be made again."""

from collections import Counter
from pathlib import Path

import pytest
from builders.cases import quick_case

from swabwright.case.canonical import bytes_hash, document_hash
from swabwright.case.folder import read_case
from swabwright.case.numbers import read_number
from swabwright.planning.pocket_read import read_pocket
from swabwright.plant.space import FloorSpace
from swabwright.work.drafts import draft_files
from swabwright.work.plan_case import plan_case

pytestmark = pytest.mark.slow


def silent(_step):
    """Hears the steps and says nothing."""


@pytest.fixture(scope="module")
def case(tmp_path_factory):
    return read_case(quick_case(tmp_path_factory.mktemp("plan")))


@pytest.fixture(scope="module")
def planned(case, tmp_path_factory):
    return plan_case(case, case.visit(None), cache_folder=tmp_path_factory.mktemp("cache"), say=silent)


@pytest.fixture(scope="module")
def plan(planned):
    return planned.plan


def surfaces(plan):
    return [sample for sample in plan.samples if sample.kind == "surface"]


def test_the_containers_stay_within_the_laboratory_and_the_judgement_share(plan, case):
    limits = case.visit(None).limits
    assert len(plan.samples) + plan.judgement_kept_free <= min(limits.samples, limits.laboratory_takes)
    assert plan.judgement_kept_free == round(limits.samples * limits.judgement_share)


def test_blanks_and_duplicates_lie_inside_the_series(plan, case):
    kinds = Counter(sample.kind for sample in plan.samples)
    limits = case.visit(None).limits
    assert (kinds["blank"], kinds["duplicate"]) == (limits.blanks, limits.duplicates)
    assert plan.samples[0].kind == plan.samples[-1].kind == "blank"


def test_as_many_labels_are_printed_as_the_kit_counts(plan):
    labels = next(line for line in plan.kit if line.item == "Labels with stub")
    assert len(plan.samples) + len(plan.spare_numbers) == labels.needed + labels.spare


def test_every_must_is_in_and_every_must_not_is_out(plan, case):
    limits, sites = case.visit(None).limits, {sample.site for sample in plan.samples}
    assert {entry.site for entry in limits.must} <= sites
    assert not {entry.site for entry in limits.must_not} & sites


@pytest.mark.parametrize("zone", ["1", "2", "3"])
def test_zone_minimums_are_met(plan, case, zone):
    taken = sum(sample.zone == int(zone) for sample in surfaces(plan))
    assert taken >= case.visit(None).limits.zone_minimums[zone]


def test_the_walk_ends_within_the_visit_and_its_hours_rise(plan, case):
    arrivals = [sample.arrive_at for sample in plan.samples]
    assert arrivals == sorted(arrivals)
    assert plan.walk.ends_at <= case.visit(None).limits.ends_at


def test_the_hygiene_class_never_falls_along_the_walk(plan, case):
    classes = {room.id: room.hygiene_class for room in case.plant.rooms}
    walked = [classes[sample.room] for sample in plan.samples]
    assert walked == sorted(walked)


def test_no_leg_crosses_a_wall(plan, case):
    space = FloorSpace(case.plant)
    assert all(space.stays_on_floor(leg.path) for leg in plan.walk.legs)


def test_numbers_are_sound_unique_and_not_the_order_of_work(plan):
    numbers = [sample.sample_number for sample in plan.samples] + list(plan.spare_numbers)
    assert [read_number(number) for number in numbers] == numbers
    assert len(set(numbers)) == len(numbers)
    assert numbers != sorted(numbers)


def test_every_chance_stands_inside_its_range_with_a_basis(plan):
    means = plan.not_detected_means
    for chance in (plan.chance_of_finding, plan.chance_of_hitting, means.before, means.after):
        assert chance.low <= chance.value <= chance.high
        assert chance.basis


def test_not_detected_everywhere_lowers_the_chance_that_it_lives_here(plan):
    assert plan.not_detected_means.after.value < plan.not_detected_means.before.value


def test_the_gap_without_minutes_is_no_smaller_than_the_gap(plan):
    assert 0 <= plan.gap <= plan.gap_without_minutes < 1


def test_more_samples_never_find_less_along_the_curve(plan):
    values = [point.chance.value for point in plan.curve]
    assert values == sorted(values)
    assert all(point.best_any_plan is None or point.best_any_plan <= 1 for point in plan.curve)


def test_what_may_be_believed_adds_to_a_thousand_dots(plan):
    assert sum(place.dots for place in plan.believed) == 1000
    assert len(plan.stipple.dots) + plan.stipple.not_drawn == 1000


def test_the_hashes_are_those_of_the_documents_and_the_pocket_table(plan, planned, case):
    assert plan.hashes.plant == document_hash(case.plant)
    assert plan.hashes.investigation == document_hash(case.investigation)
    assert plan.hashes.pocket_table == bytes_hash(planned.pocket)


def test_the_pocket_table_holds_the_planned_sites(plan, planned):
    table = read_pocket(planned.pocket)
    in_table = {item.site for item in table.items if item.planned}
    assert in_table == {sample.site for sample in surfaces(plan)}


def test_what_a_plan_rests_on_stands_with_the_most_influential_first(plan):
    measured = [figure.influence for figure in plan.rests_on if figure.influence is not None]
    assert measured == sorted(measured, reverse=True)
    assert all(figure.source for figure in plan.rests_on)


def test_every_opened_site_names_the_plant_staff_who_open_it(plan):
    opened = [sample for sample in plan.samples if sample.mode == "opened" and sample.kind == "surface"]
    told = [" ".join(sample.needs) for sample in opened]
    assert told
    assert all("plant mechanic" in words or "plant staff open" in words for words in told)


def test_one_glove_pair_a_sample_is_packed(plan):
    gloves = next(line for line in plan.kit if line.item == "Sterile gloves, pairs")
    assert gloves.needed == len(plan.samples) + plan.judgement_kept_free


def test_the_summary_ends_as_decision_support(plan):
    assert plan.sentences[0].startswith("If it lives in this plant, these ")
    assert "under these assumptions" in plan.sentences[0]
    assert "decision support" in plan.sentences[-1]


def test_all_papers_come_with_a_draft(planned, case):
    files = draft_files(planned, case, paper="a4")
    assert set(files) == {"plan.json", "plan.pdf", "labels.pdf", "walk.csv", "pocket.bin"}
    assert files["plan.pdf"].startswith(b"%PDF-")


def test_a_run_that_is_stopped_leaves_nothing_behind(case, tmp_path):
    class Stopped(Exception):
        """A person who has seen enough."""

    def stop(step):
        if step.startswith("Choosing"):
            raise Stopped

    with pytest.raises(Stopped):
        plan_case(case, case.visit(None), cache_folder=None, say=stop)
    assert list(Path(tmp_path).iterdir()) == []
