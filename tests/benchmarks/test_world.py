"""The invented world: made without the engine, the same from the same seed, cells neither made nor lost by contact."""

import ast
import sys
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from benchmarks.world.plants import make_plant  # noqa: E402
from benchmarks.world.results import detected  # noqa: E402
from benchmarks.world.truths import make_truth  # noqa: E402

from swabwright.plant.reading import read_plant  # noqa: E402
from swabwright.plant.registry import load_catalogue  # noqa: E402


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="module")
def plant(catalogue):
    return make_plant(catalogue, seed=3, sites=60)


def test_the_world_imports_only_plant_and_case():
    imported = set()
    for file in (ROOT / "benchmarks/world").glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("swabwright"):
                imported.add(node.module.split(".")[1])
    assert imported <= {"plant", "case"}


def test_an_invented_plant_is_read_back_without_a_fault(plant, catalogue):
    assert read_plant(plant.model_dump_json(), catalogue) == plant


@pytest.mark.parametrize("level", [0, 1, 2])
def test_the_same_seed_gives_the_same_truth(plant, catalogue, level):
    first = make_truth(plant, catalogue, level=level, seed=5)
    again = make_truth(plant, catalogue, level=level, seed=5)
    assert np.array_equal(first.surface_cells, again.surface_cells)
    assert first.niches == again.niches


def test_a_truth_has_cells_at_its_niche_and_nowhere_inside_others(plant, catalogue):
    truth = make_truth(plant, catalogue, level=0, seed=1)
    assert set(np.flatnonzero(truth.niche_cells)) <= set(truth.niches)
    assert all(truth.niche_cells[niche] > 0 for niche in truth.niches)


def test_opening_a_niche_finds_it_more_often_than_not(plant, catalogue):
    truths = [make_truth(plant, catalogue, level=0, seed=seed) for seed in range(20)]
    found = [detected(t, plant, catalogue, [(t.niches[0], "opened")], seed=9)[0] for t in truths]
    assert sum(found) >= 15


def test_a_plant_without_niches_reports_only_false_positives(plant, catalogue):
    truth = make_truth(plant, catalogue, level=0, seed=1)
    nothing = type(truth)(0, (), np.zeros_like(truth.niche_cells), np.zeros_like(truth.surface_cells))
    reports = detected(nothing, plant, catalogue, [(place, "as_is") for place in range(60)] * 20, seed=2)
    assert sum(reports) <= 12  # 1,200 samples at 2 in 1,000: mean 2.4; more than 12 has a chance under 1 in 100,000
