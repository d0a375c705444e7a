"""Calibration from end to end: on cases with a truth beside them, and on truths of the engine's own model."""

import json
import shutil
import sys
from pathlib import Path

import pytest
from builders.console import example_in_help, printed

from swabwright.case.folder import read_case
from swabwright.cli.calibrate import calibrate
from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.work.calibrate import calibrate_cases, calibrate_own
from swabwright.work.calibrate_cases import read_known_cases

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from benchmarks.world.write import write_cases  # noqa: E402

pytestmark = pytest.mark.slow


FEWER = "".join(
    f'[[override]]\nfigure = "{name}"\nvalue = {value}\nwho = "a test"\nwhy = "quick"\n'
    for name, value in (
        ("inference.histories", 60),
        ("inference.most_histories", 120),
        ("planning.histories", 60),
        ("planning.rows", 2000),
    )
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("truths")
    for case in write_cases(folder, 2, seed=1, level=1, sites=40):
        (case / "overrides.toml").write_text(FEWER, "utf-8")
    return folder


def held(folder, cache):
    return calibrate_cases(folder, None, cache_folder=cache, say=lambda _: None)


def test_cases_with_their_truth_are_planned_read_and_scored(folder, tmp_path):
    found = held(folder, tmp_path)
    assert found.count == 2
    assert [0.0 <= one.held.value <= 1.0 for one in found.covered] == [True] * 3
    assert found.sentence.startswith("Truths of level 1, made by the invented world")


def test_truths_of_the_own_model_say_so_and_are_the_same_again(folder, tmp_path):
    case = read_case(folder / "0001")
    visit = case.investigation.visits[0]
    one, again = (calibrate_own(case, visit, 4, seed=2, cache_folder=tmp_path, say=lambda _: None) for _ in range(2))
    assert "the engine's own model" in one.sentence
    assert one.sentence == again.sentence


def test_the_count_limits_how_many_cases_are_read(folder):
    assert len(read_known_cases(folder, 1)) == 1


def test_a_folder_without_truths_is_refused_with_what_to_do(tmp_path):
    with pytest.raises(SwabwrightError, match=r"holds a truth\.json.*leave --truths out"):
        read_known_cases(tmp_path, None)


def test_a_truth_that_names_a_site_the_plant_lacks_is_refused(folder, tmp_path):
    shutil.copytree(folder / "0001", tmp_path / "0001")
    file = tmp_path / "0001/truth.json"
    truth = json.loads(file.read_text("utf-8"))
    truth["niches"], truth["shows"] = ["S999"], truth["shows"][1:]
    file.write_text(json.dumps(truth), "utf-8")
    with pytest.raises(DocumentRefused, match=r"no site 'S999'[\s\S]*'S001' is missing"):
        read_known_cases(tmp_path, None)


def test_the_command_prints_every_figure_as_json(folder, monkeypatch, tmp_path):
    monkeypatch.setenv("SWABWRIGHT_CACHE", str(tmp_path))
    told = json.loads(printed(f"swabwright calibrate --truths {folder} --json"))["calibration"]
    assert set(told) >= {"covered", "bins", "largest", "brier", "log_score", "claims", "count", "truths"}
    assert told["claims"]["first_is_niche"]["count"] == 2


@pytest.mark.parametrize("arguments", ["", "CASE --truths DIR"])
def test_the_command_wants_a_case_or_truths_and_not_both(arguments):
    assert printed(f"swabwright calibrate {arguments}").startswith("name one: CASE")


def test_the_help_shows_an_example():
    assert example_in_help(calibrate.help).startswith("swabwright calibrate CASE")
