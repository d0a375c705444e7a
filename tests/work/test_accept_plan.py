"""A draft becomes a plan only when nothing has changed since, and only once."""

import json
import shutil
from dataclasses import replace

import pytest
from builders.cases import change, quick_case
from builders.pages import words_of

from swabwright.case.folder import read_case
from swabwright.case.words import with_range
from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.record.journal import read_record
from swabwright.record.verify import verify_record
from swabwright.work.accept_plan import accept_plan
from swabwright.work.draft_faults import draft_faults
from swabwright.work.drafts import draft_files
from swabwright.work.plan_case import plan_case
from swabwright.work.record_accept import Signer
from swabwright.work.storage import write_draft

pytestmark = pytest.mark.slow


def silent(_step):
    """Hears the steps and says nothing."""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A case and its draft, made once, with the cache they share."""
    folder = tmp_path_factory.mktemp("accept")
    case = read_case(quick_case(folder))
    planned = plan_case(case, case.visit(None), cache_folder=folder / "cache", say=silent)
    write_draft(folder / "draft", draft_files(planned, case, paper="a4"))
    return folder


@pytest.fixture
def folder(made, tmp_path):
    """Copies of case and draft that a test may spoil."""
    shutil.copytree(made / "case", tmp_path / "case")
    shutil.copytree(made / "draft", tmp_path / "draft")
    return tmp_path


def accept(folder, made):
    return accept_plan(read_case(folder / "case"), folder / "draft", cache_folder=made / "cache", say=silent)


def test_an_accepted_plan_is_an_entry_that_the_record_holds_it_to(folder, made):
    signer = Signer("Ada Lind", "office-1")
    case, cache = read_case(folder / "case"), made / "cache"
    accept_plan(case, folder / "draft", cache_folder=cache, say=silent, signer=signer)
    (entry,) = read_record(folder / "case")
    assert (entry.statement.body.kind, entry.statement.by) == ("plan_accepted", "Ada Lind")
    assert verify_record(folder / "case").plans == 1


def refusal(folder, made):
    with pytest.raises(DocumentRefused) as caught:
        accept(folder, made)
    assert not (folder / "case" / "plans").exists() or len(list((folder / "case" / "plans").glob("*.json"))) == 1
    return str(caught.value)


def test_an_accepted_plan_lies_in_the_case_with_its_pocket_table(folder, made):
    accepted = accept(folder, made)
    assert read_case(folder / "case").accepted == (accepted.plan,)
    assert (folder / "case/plans/visit-1.pocket.bin").read_bytes() == (folder / "draft/pocket.bin").read_bytes()


def test_the_chance_is_told_once_more_on_histories_never_used(folder, made):
    accepted = accept(folder, made)
    draft = json.loads((folder / "draft/plan.json").read_text(encoding="utf-8"))
    assert "bank C" in accepted.plan.chance_of_finding.basis
    assert "bank B" in draft["chance_of_finding"]["basis"]


def test_a_plan_is_accepted_once(folder, made):
    accept(folder, made)
    assert "accepted plans are never rewritten" in refusal(folder, made)


def test_a_changed_plant_is_noticed(folder, made):
    change(folder / "case", "plant.json", lambda plant: plant["sites"][0].update(note="moved since"))
    assert "hashes.plant: the case's plant has changed since this draft was made; plan again" in refusal(folder, made)


def test_a_changed_investigation_is_noticed(folder, made):
    change(folder / "case", "investigation.json", lambda document: document.update(agency="Another (invented)"))
    assert "hashes.investigation" in refusal(folder, made)


def test_a_changed_figure_is_noticed(folder, made):
    overrides = folder / "case/overrides.toml"
    overrides.write_text(overrides.read_text(encoding="utf-8").replace("value = 3\n", "value = 4\n"), encoding="utf-8")
    told = refusal(folder, made)
    assert "hashes.overrides" in told
    assert "hashes.figures" in told


def test_another_pocket_table_is_noticed(folder, made):
    (folder / "draft/pocket.bin").write_bytes(b"other")
    assert "hashes.pocket_table: pocket.bin is not the one made with this draft" in refusal(folder, made)


def test_a_folder_without_a_draft_says_what_a_draft_is(folder, made):
    (folder / "draft/plan.json").unlink()
    with pytest.raises(SwabwrightError, match="a draft is the folder that `swabwright plan --out` wrote"):
        accept(folder, made)


def test_a_case_whose_visits_all_have_plans_asks_for_the_next_one(folder, made):
    assert read_case(folder / "case").next_visit().id == "visit-1"
    accept(folder, made)
    with pytest.raises(SwabwrightError, match="add the next one under visits"):
        read_case(folder / "case").next_visit()


def test_a_second_visit_never_takes_numbers_of_the_first(folder, made):
    accept(folder, made)
    assert len(read_case(folder / "case").numbers_taken) > 30


def test_the_accepted_papers_are_no_draft_and_say_the_new_chance(folder, made):
    accepted = accept(folder, made)
    said = words_of((folder / "case/plans/visit-1.pdf").read_bytes())
    assert "DRAFT" not in said
    assert f"{100 * accepted.plan.chance_of_finding.value:.0f} in 100" in said
    assert "DRAFT" not in words_of((folder / "case/plans/visit-1.labels.pdf").read_bytes())


def test_the_draft_papers_all_say_so(folder):
    assert all("DRAFT" in words_of((folder / "draft" / name).read_bytes()) for name in ("plan.pdf", "labels.pdf"))


def test_the_sentences_of_an_accepted_plan_tell_its_new_chance(folder, made):
    plan = accept(folder, made).plan
    assert with_range(plan.chance_of_finding) in plan.sentences[0]


def test_a_sample_that_the_case_does_not_offer_is_refused(folder, made):
    change(folder / "draft", "plan.json", lambda plan: plan["samples"][1].update(device="XX"))
    assert "samples[1]: S" in refusal(folder, made)


def test_a_draft_of_another_model_is_refused(folder, made):
    change(folder / "draft", "plan.json", lambda plan: plan.update(model_version="another"))
    assert "model_version: made with model another" in refusal(folder, made)


def test_spare_numbers_of_a_draft_are_not_used_twice(folder, made):
    case = read_case(folder / "case")
    plan = accept(folder, made).plan
    later = replace(case, accepted=(plan.model_copy(update={"visit": "visit-0", "samples": plan.samples[:1]}),))
    told = draft_faults(later, plan, (folder / "draft/pocket.bin").read_bytes())
    assert [fault.path for fault in told] == ["samples", "spare_numbers"]
