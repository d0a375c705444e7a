"""A proposal for a second visit keeps its limits, knows what was found, and can be accepted."""

import shutil
from dataclasses import replace

import pytest
from builders.laboratory import bring, row
from builders.next_cases import after_first_visit

from swabwright.belief.evidence import all_facts, weigh
from swabwright.case.folder import read_case
from swabwright.case.next_visit import NextVisit
from swabwright.case.plan import Plan
from swabwright.errors import DocumentRefused, LimitsClash
from swabwright.work.accept_plan import accept_plan
from swabwright.work.after_results import belief_after
from swabwright.work.drafts import draft_files
from swabwright.work.next_results import results_hash, results_so_far
from swabwright.work.next_visit import next_visit
from swabwright.work.storage import write_draft

pytestmark = pytest.mark.slow


def silent(_step):
    """Hears the steps and says nothing."""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """The case, the proposal and the draft, made once."""
    folder = tmp_path_factory.mktemp("next")
    path = after_first_visit(folder)
    case = read_case(path)
    proposed = next_visit(case, case.visit("visit-2"), samples=8, cache_folder=folder / "cache", say=silent)
    write_draft(folder / "draft", draft_files(proposed.planned, case, paper="a4"))
    return folder, case, proposed


def surfaces(proposed):
    return [sample for sample in proposed.planned.plan.samples if sample.kind == "surface"]


def test_the_draft_plan_holds_the_proposed_samples(made):
    _, _, proposed = made
    assert {one.site for one in proposed.document.samples} == {sample.site for sample in surfaces(proposed)}
    assert len(proposed.document.samples) == 8


def test_musts_minimums_and_sites_to_leave_out_are_kept(made):
    sites = {sample.site: sample.zone for sample in surfaces(made[2])}
    assert "S025" in sites
    assert "S040" not in sites
    assert sum(zone == 1 for zone in sites.values()) >= 2


def test_the_walk_ends_within_the_visit(made):
    limits = made[1].visit("visit-2").limits
    walk = made[2].planned.plan.walk
    assert limits.starts_at <= walk.starts_at < walk.ends_at <= limits.ends_at


def test_every_way_has_the_same_number_of_samples(made):
    ways = {way.way: len(way.sites) for way in made[2].document.ways}
    assert ways == dict.fromkeys(("information", "find_any", "hit_the_niche", "around_a_positive"), 8)


def test_around_a_positive_takes_what_is_nearest_on_foot(made):
    around = next(way for way in made[2].document.ways if way.way == "around_a_positive")
    assert {"S059", "S003", "S011"} <= set(around.sites)


def test_a_claim_that_is_right_is_no_likelier_than_a_claim(made):
    assert all(way.of_it_right.value <= way.chance_of_a_claim.value for way in made[2].document.ways)


def test_material_of_the_suspected_line_is_proposed_with_what_it_would_move(made):
    raw, product = made[2].document.materials
    assert (raw.line, raw.kind, product.kind) == ("line-b", "incoming", "product")
    assert raw.incoming_if_not_detected.value < raw.incoming_before.value < raw.incoming_if_detected.value
    assert all(word in raw.words for word in ("unopened", "lot", "mass", "reserve"))


def test_document_and_draft_read_back_as_they_were_written(made):
    document, plan = made[2].document, made[2].planned.plan
    assert NextVisit.model_validate_json(document.model_dump_json()) == document
    assert Plan.model_validate_json(plan.model_dump_json()) == plan


def test_sites_listed_otherwise_give_the_same_proposal(made):
    folder, case, proposed = made
    sites = tuple(reversed(case.plant.sites))
    other = replace(case, plant=case.plant.model_copy(update={"sites": sites}))
    again = next_visit(other, other.visit("visit-2"), samples=8, cache_folder=folder / "cache", say=silent)
    assert again.document.samples == proposed.document.samples
    assert again.document.ways == proposed.document.ways


def test_a_belief_after_results_comes_out_of_its_facts_again(made):
    folder, case, _ = made
    belief = belief_after(results_so_far(case, case.visit("visit-2")).read("A", folder / "cache", silent))
    again = weigh(belief.before, all_facts(belief.known, belief.before))
    assert again.weight == pytest.approx(belief.rows.weight, rel=1e-6)


def test_the_draft_is_accepted_with_a_chance_after_the_results(made, tmp_path):
    folder, case, _ = made
    shutil.copytree(case.path, tmp_path / "case")
    accepted = accept_plan(read_case(tmp_path / "case"), folder / "draft", cache_folder=folder / "cache", say=silent)
    assert accepted.plan.hashes.results
    assert "bank C" in accepted.plan.chance_of_finding.basis
    assert any("After the results so far" in sentence for sentence in accepted.plan.sentences)


def test_results_that_came_in_since_refuse_the_draft(made, tmp_path):
    folder, case, _ = made
    shutil.copytree(case.path, tmp_path / "case")
    bring(tmp_path / "case", [row(3, "detected", Reason_for_amendment="a slip")], "amended", accession="L26-119")
    with pytest.raises(DocumentRefused, match="results have come in or changed"):
        accept_plan(read_case(tmp_path / "case"), folder / "draft", cache_folder=folder / "cache", say=silent)


def test_more_samples_than_the_limits_allow_are_refused(made):
    _, case, _ = made
    with pytest.raises(LimitsClash, match="--samples 40"):
        next_visit(case, case.visit("visit-2"), samples=40, cache_folder=None, say=silent)


def test_the_hash_of_results_does_not_hang_on_their_order(made):
    folder, case, _ = made
    one = results_so_far(case, case.visit("visit-2")).read("A", folder / "cache", silent).observations
    mixed = replace(one, results=one.results[::-1])
    assert results_hash(one, None) == results_hash(mixed, None)
    assert results_hash(one, None) != results_hash(replace(one, results=one.results[1:]), None)


def test_where_nothing_was_detected_there_is_no_site_to_go_around(tmp_path):
    case = read_case(after_first_visit(tmp_path, found=()))
    document = next_visit(case, case.visit("visit-2"), samples=5, cache_folder=None, say=silent).document
    assert [way.way for way in document.ways] == ["information", "find_any", "hit_the_niche"]
    assert document.within_radius is None
    assert (document.so_far.detected, len(document.samples)) == (0, 5)
