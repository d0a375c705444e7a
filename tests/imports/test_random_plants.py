"""Plants made at random, without hand edits: they import as they were meant, and faults are named."""

import json
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from benchmarks.invented_plants.check import check_folder, import_folder  # noqa: E402
from benchmarks.invented_plants.faults import FAULTS  # noqa: E402
from benchmarks.random_plants import make_faulty, make_plant, make_plants  # noqa: E402


@pytest.fixture(scope="module")
def plants(tmp_path_factory):
    """Three plants of seeds that no other test or benchmark uses."""
    return make_plants(tmp_path_factory.mktemp("plants"), 3, seed=7)


@pytest.fixture(scope="module")
def faulty(tmp_path_factory):
    """One plant for each planted fault."""
    return make_faulty(tmp_path_factory.mktemp("faulty"), seed=7)


@pytest.mark.parametrize(
    "number", [0, pytest.param(1, marks=pytest.mark.slow), pytest.param(2, marks=pytest.mark.slow)]
)
def test_a_random_plant_imports_as_it_was_meant(plants, number):
    checked = check_folder(plants[number], plan=False)
    assert checked.good, checked.says


@pytest.mark.parametrize("number", range(len(FAULTS)), ids=lambda number: FAULTS[number].name)
def test_a_planted_fault_is_refused_by_name_and_nothing_is_written(faulty, number):
    checked = check_folder(faulty[number], plan=False)
    assert checked.good, checked.says
    assert not (faulty[number] / "plant.json").exists()


def test_the_check_notices_an_import_that_is_not_what_was_meant(plants):
    truth = json.loads((plants[0] / "truth.json").read_text("utf-8"))
    truth["counts"]["doors"] += 1
    (plants[0] / "truth.json").write_text(json.dumps(truth), "utf-8")
    assert not check_folder(plants[0], plan=False).good


def test_the_same_seed_makes_the_same_plant(tmp_path):
    folders = [make_plant(tmp_path / name, seed=7007) for name in ("a", "b")]
    assert (folders[0] / "truth.json").read_bytes() == (folders[1] / "truth.json").read_bytes()
    first, second = (import_folder(folder) for folder in folders)
    assert first.rooms == second.rooms
    assert first.doors == second.doors


@pytest.mark.slow
@pytest.mark.parametrize("number", range(3))
def test_a_random_plant_plans_end_to_end(plants, number):
    checked = check_folder(plants[number], plan=True)
    assert "surfaces chosen" in checked.says, checked.says
