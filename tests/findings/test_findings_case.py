"""Findings of a case folder: by strain, up to the first action, refused without results, the same every time."""

import json

import pytest
from builders.laboratory import NUMBERS, add, bring, enter, entries_of, results_case, row
from click.testing import CliRunner

from swabwright.case.findings import Findings
from swabwright.case.folder import read_case
from swabwright.cli.main import swabwright
from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.plant.reading import read_document
from swabwright.work.findings import FindingsAsked, findings_of
from swabwright.work.findings_cut import before_actions, first_action_done
from swabwright.work.findings_files import findings_files, findings_json
from swabwright.work.findings_matches import found_words, matches_in
from swabwright.work.results_view import RecordView

pytestmark = pytest.mark.slow


FEW = {
    "inference.histories": 40,
    "inference.most_histories": 40,
    "findings.reread_histories": 40,
    "inference.particles": 300,
}
OVERRIDE = """
[[override]]
figure = "{}"
value = {}
who = "a test"
why = "quick"
"""
ROWS = [row(0), row(1, "detected", Isolate="I-1", Strain="ST9"), row(2), row(4), row(5), row(6), row(9)]
OTHER = row(3, "detected", Isolate="I-2", Strain="ST121")


def quick(folder):
    """A case with results whose findings are made from few histories."""
    folder.mkdir()
    case = results_case(folder)
    few = "".join(OVERRIDE.format(name, value) for name, value in FEW.items())
    overrides = case / "overrides.toml"
    overrides.write_text(overrides.read_text("utf-8") + few, encoding="utf-8")
    typed(case / "investigation.json", "ST9")
    return case


def typed(path, strain):
    """What was detected or suspected before, typed as one strain."""
    told = json.loads(path.read_text("utf-8"))
    for fact in (*told["implicated"], *told["product_tests"], *told["earlier_results"]):
        if fact.get("result") != "not_detected":
            fact["strain"] = strain
    path.write_text(json.dumps(told), encoding="utf-8")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("findings")


@pytest.fixture(scope="module")
def two_strains(folder):
    case = quick(folder / "two")
    bring(case, [*ROWS, OTHER])
    return case


@pytest.fixture(scope="module")
def found(two_strains, folder):
    return findings_of(read_case(two_strains), FindingsAsked(), folder / "cache", lambda _: None)


@pytest.fixture(scope="module")
def one_strain(folder):
    """What the command said and wrote of a case without the other strain."""
    case = quick(folder / "one")
    bring(case, ROWS)
    shown = run("findings", case, "--out", folder / "out", cache=folder / "cache")
    written = (folder / "out/findings.json").read_text("utf-8")
    return shown, read_document(Findings, written, "findings.json")


def run(*arguments, cache):
    return CliRunner().invoke(
        swabwright, [str(one) for one in arguments], env={"SWABWRIGHT_CACHE": str(cache)}, standalone_mode=False
    )


def detected_in(findings):
    return [used.sample for used in findings.results if used.outcome == "detected"]


def test_every_strain_has_findings_of_its_own(found):
    assert [one.strain for one in found] == ["ST121", "ST9"]
    assert [detected_in(one) for one in found] == [[NUMBERS[3]], [NUMBERS[1]]]


def test_another_strain_moves_nothing(found, one_strain):
    _, alone = one_strain
    assert (alone.strain, alone.places) == ("ST9", found[1].places)


def test_the_command_says_the_sentences_of_what_it_writes(one_strain):
    shown, alone = one_strain
    assert "\n".join(alone.sentences) in shown.output
    assert "findings.json" in shown.output.splitlines()[-1]


def test_there_is_a_document_for_each_strain(found):
    assert sorted(findings_files(found)) == ["findings-st121.json", "findings-st9.json"]
    assert sorted(findings_files(found[:1])) == ["findings.json"]


def test_one_strain_as_json_is_its_document_alone(found):
    assert json.loads(findings_json(found[:1])) == json.loads(found[0].model_dump_json())
    assert [one["strain"] for one in json.loads(findings_json(found))] == ["ST121", "ST9"]


def test_what_was_not_read_is_told_with_its_reason(found):
    assert any(f"{NUMBERS[3]} (detected): typed as ST121" in reason for reason in found[1].left_out)


def test_findings_go_by_the_last_entry_of_the_record(found, two_strains):
    entry = entries_of(two_strains)[-1]
    assert {one.hashes.record_head for one in found} == {entry.hash}
    assert found[0].as_of.isoformat() == "2026-03-09T13:00:00+00:00"


def test_an_unknown_strain_is_refused_with_the_nearest(two_strains, folder):
    with pytest.raises(SwabwrightError, match=r"no strain 'ST12'.*did you mean 'ST121'"):
        findings_of(read_case(two_strains), FindingsAsked("ST12"), folder / "cache", lambda _: None)


def test_a_case_without_results_is_refused(folder):
    case = quick(folder / "none")
    with pytest.raises(SwabwrightError, match="the record holds no result that could be read"):
        findings_of(read_case(case), FindingsAsked(), folder / "cache", lambda _: None)


def test_results_of_which_none_can_be_read_are_refused_with_their_reasons(folder):
    case = quick(folder / "invalid")
    bring(case, [row(2, "no valid result")])
    with pytest.raises(SwabwrightError, match=f"none of the results can be read: sample {NUMBERS[2]}: no valid result"):
        findings_of(read_case(case), FindingsAsked(), folder / "cache", lambda _: None)


MATCH = "isolate,patients,method,distance,wording\n{},P-1 P-2,cgMLST,2 alleles,closely related\n"


def test_only_the_matched_strain_is_said_to_be_a_patients(two_strains, folder):
    table = folder / "matches.csv"
    table.write_text(MATCH.format("I-1"), encoding="utf-8")
    isolates = RecordView(read_case(two_strains), entries_of(two_strains)).isolates
    matches = matches_in(table, isolates)
    assert found_words(matches, isolates, "ST9").startswith(
        "Found in the plant; same strain as 2 isolates from patients"
    )
    assert found_words(matches, isolates, "ST121") == found_words(matches, isolates, None) == "Found in the plant."


def test_a_match_of_an_isolate_that_the_record_does_not_name_is_refused(two_strains, folder):
    table = folder / "unknown.csv"
    table.write_text(MATCH.format("I-11"), encoding="utf-8")
    isolates = RecordView(read_case(two_strains), entries_of(two_strains)).isolates
    with pytest.raises(DocumentRefused, match=r"unknown.csv: I-11: no such isolate in the record; did you mean"):
        matches_in(table, isolates)


def acted(case):
    """One action said done before the sample at number 4 was taken, another seen done on the next day."""
    said = {"kind": "action_said_done", "action": "a1", "said_by": "N. Berg", "done_at": "2026-03-05T09:28:00+00:00"}
    enter(case, said)
    enter(case, {"kind": "action_seen_done", "action": "a2", "seen_by": "Ada Lind"}, at="2026-03-06T09:00:00+00:00")


def test_samples_after_the_first_action_done_belong_to_clearance(folder):
    case = quick(folder / "acted")
    bring(case, ROWS)
    acted(case)
    opened = read_case(case)
    assert first_action_done(entries_of(case))[1] == "a1"
    kept, left = before_actions(opened, entries_of(case))
    assert sorted(left)[0].endswith("taken after action 'a1' was seen or said done: it belongs to a clearance round")
    assert {reason[7:15] for reason in left} == {NUMBERS[at] for at in (4, 5, 6, 9)}
    assert len(kept) < len(entries_of(case))


def test_an_action_that_was_only_promised_cuts_nothing(folder):
    case = quick(folder / "promised")
    add(case, "action_promised", action="a1", promised_by="N. Berg", method="replace the seal")
    assert before_actions(read_case(case), entries_of(case)) == (entries_of(case), ())
