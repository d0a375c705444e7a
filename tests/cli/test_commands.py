"""The command line: help without work, lists and explanations, faults as sentences and exit codes."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from swabwright.cli.main import COMMANDS, HELP, swabwright

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples/juniper-lane"


def run(*arguments):
    return CliRunner().invoke(swabwright, [str(argument) for argument in arguments], standalone_mode=False)


def run_whole(*arguments):
    command = [sys.executable, "-m", "swabwright.cli.main", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False)


def test_every_command_has_its_line_in_the_help():
    assert set(COMMANDS) == set(HELP)
    shown = " ".join(run("--help").output.split())
    assert all(" ".join(text.split()) in shown for text in HELP.values())


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_every_command_explains_itself(command):
    told = run(command, "--help")
    assert told.exit_code == 0
    assert "Usage:" in told.output


def test_sites_lists_every_site_and_what_is_missing():
    shown = run("sites", EXAMPLE).output
    assert "S033" in shown
    assert "Drain 9: which way does it flow?" in shown


def test_sites_as_json_has_one_entry_a_site():
    listed = json.loads(run("sites", EXAMPLE, "--json").output)
    plant = json.loads((EXAMPLE / "plant.json").read_text(encoding="utf-8"))
    assert [site["code"] for site in listed["sites"]] == [site["code"] for site in plant["sites"]]


def test_explain_gives_weight_figures_and_contacts_with_reasons():
    shown = run("explain", EXAMPLE, "S033").output
    assert "times as much as an average site here" in shown
    assert "within Slicer B" in shown


def test_explain_as_json_names_every_source_of_a_figure():
    explained = json.loads(run("explain", EXAMPLE, "S033", "--json").output)
    assert all(figure["source"] for figure in explained["figures"])


def test_an_unknown_site_is_refused_in_a_sentence_with_exit_code_2():
    ended = run_whole("explain", EXAMPLE, "S0333")
    assert ended.returncode == 2
    assert ended.stderr.startswith("no site 'S0333'; did you mean 'S03")


def test_a_missing_case_is_refused_in_a_sentence_with_exit_code_2(tmp_path):
    ended = run_whole("plan", tmp_path / "nowhere")
    assert ended.returncode == 2
    assert "a case is a folder with plant.json and investigation.json" in ended.stderr


def test_a_wrong_option_is_told_by_the_command():
    ended = run_whole("plan", EXAMPLE, "--paper", "a3")
    assert ended.returncode == 2
    assert "'a3' is not one of 'a4', 'letter'" in ended.stderr


def test_a_refusal_stands_on_a_line_of_its_own(tmp_path):
    told = run_whole("plan", tmp_path / "nowhere").stderr.splitlines()
    assert told[0] == "Reading the case ... not done"
    assert told[1].startswith("no folder")
