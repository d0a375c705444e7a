"""What `swabwright results` prints, in sentences and as JSON."""

import json

import pytest
from builders.laboratory import BLANK, LABORATORY, NUMBERS, bring, results_case, row, write_table
from click.testing import CliRunner

from swabwright.cli.main import swabwright
from swabwright.reports.banned import banned_phrases

REPORT = ["--laboratory", LABORATORY, "--accession", "L26-118", "--status", "preliminary", "--signed-by", "S. Holm"]
ROWS = [row(0, "positive"), row(1, "detected", Isolate="I-1", Strain="ST9"), row(2), row(3, "wobbly")]


@pytest.fixture
def case(tmp_path):
    return results_case(tmp_path)


def run(case, *arguments, rows=ROWS):
    table = write_table(case.parent, rows)
    (case.parent / "signed.pdf").write_bytes(b"signed")
    command = ["import", str(case), str(table), "--report", str(case.parent / "signed.pdf"), *REPORT, *arguments]
    done = CliRunner().invoke(swabwright, ["results", *command])
    assert done.exit_code == 0, done.exception
    return done.output


def show(case, *arguments):
    done = CliRunner().invoke(swabwright, ["results", "show", str(case), *arguments])
    assert done.exit_code == 0, done.exception
    return done.output


def test_the_call_comes_first_then_what_was_taken_in_and_held_apart(case):
    lines = run(case).splitlines()
    assert lines[0].startswith("RING NOW: presumptive at Slicer B, blade guard")
    assert "Taken in: 3 results, 0 of them beside a first one, and 1 isolate; 0 were in the record already." in lines
    assert "Held apart, not used: 1" in lines
    assert "  'positive' is read as presumptive" in lines


def test_a_second_run_says_that_nothing_has_changed(case):
    run(case)
    assert "This report was read before; nothing has changed." in run(case)


def test_the_output_as_json_holds_the_same(case):
    said = json.loads(run(case, "--json"))
    assert said["taken"] == [NUMBERS[at] for at in (0, 1, 2)]
    assert said["held"][0]["sample"] == NUMBERS[3]
    assert said["call_sheet"].endswith(".pdf")


def test_the_list_names_the_plants_own_site_first(case):
    run(case)
    lines = show(case).splitlines()
    assert lines[0] == (
        f"{NUMBERS[0]}  Slicer B, blade guard (S025, Z1): presumptive, Listeria monocytogenes, "
        "preliminary report L26-118"
    )
    assert "           isolate I-1, strain ST9" in lines
    assert f"{NUMBERS[BLANK]}  no site (blank), blank: no result yet" in lines


def test_the_list_keeps_earlier_words_and_contradictions_beside(case):
    bring(case, [row(2)])
    bring(case, [row(2, "detected")], "amended", reported_at=None)
    bring(case, [row(2, "void")], "amended", accession="L26-118B", reported_at=None)
    (one,) = [one for one in json.loads(show(case, "--json"))["samples"] if one["sample"] == NUMBERS[2]]
    assert (one["outcome"], len(one["said_before"])) == ("contradictory", 2)
    assert "neither is used" in one["contradiction"]


def test_no_line_says_more_than_a_result_can(case):
    run(case, rows=[row(0, "detected"), row(BLANK, "detected"), row(2)])
    assert banned_phrases(show(case)) == []


def test_a_case_without_results_lists_its_samples(case):
    assert show(case).count("no result yet") == 8


def test_an_unknown_time_zone_is_refused_in_a_sentence(case):
    table = write_table(case.parent, ROWS)
    report = case.parent / "signed.pdf"
    report.write_bytes(b"signed")
    command = ["results", "import", str(case), str(table), "--report", str(report), *REPORT, "--time-zone", "Oslo"]
    assert "no time zone 'Oslo'" in str(CliRunner().invoke(swabwright, command).exception)
