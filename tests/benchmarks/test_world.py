"""The invented world: made without the engine, the same from the same seed, cells neither made nor lost by contact."""

import ast
import sys
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from benchmarks.world.contacts import contacts  # noqa: E402
from benchmarks.world.plants import make_plant  # noqa: E402
from benchmarks.world.results import detected, reports, shows  # noqa: E402
from benchmarks.world.truths import bends, make_signalled_truth, make_truth, make_visits  # noqa: E402
from benchmarks.world.write import write_cases  # noqa: E402

from swabwright.case.folder import read_case  # noqa: E402
from swabwright.case.truth import Truth  # noqa: E402
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
    told = [reports(nothing, plant, catalogue, seed=seed).sum() for seed in range(30)]
    assert 0 < sum(told) <= 22  # 3,600 samples at 2 in 1,000: mean 7.2; more than 22 has a chance under 1 in 100,000


def test_what_a_sample_holds_is_reported(plant, catalogue):
    truth = make_truth(plant, catalogue, level=2, seed=4)
    held, told = (one(truth, plant, catalogue, seed=4) for one in (shows, reports))
    assert held.any()
    assert told[held].all()


def test_visits_draw_their_own_cells_from_the_same_odd_sites(plant, catalogue):
    truths = [make_truth(plant, catalogue, level=0, seed=seed) for seed in range(20)]
    first, again, apart = (
        np.array([shows(truth, plant, catalogue, seed=seed, visit=visit) for truth in truths])
        for seed, visit in ((3, 0), (3, 1), (4, 0))
    )
    assert 0 < (first != again).sum() < (first != apart).sum()


@pytest.mark.parametrize("level", [0, 2])
def test_no_contact_gives_more_than_leaves_its_source(plant, catalogue, level):
    made = contacts(plant, catalogue, bends(level), np.random.default_rng(1))
    assert all(one.shares.sum() <= 1.0 + 1e-9 and (one.shares >= 0).all() for one in made)
    assert all(one.source not in one.targets for one in made) or level > 0


def test_a_niche_taken_out_leaves_what_lies_on_surfaces(plant, catalogue):
    left, gone = (make_visits(plant, catalogue, 0, 2, visits=2, gone_after=after) for after in (None, 0))
    assert np.array_equal(left[0].surface_cells, gone[0].surface_cells)
    assert left[1].niche_cells.sum() > 0
    assert gone[1].niche_cells.sum() == 0


def test_a_suspected_line_carried_cells_off(plant, catalogue):
    truth, line = make_signalled_truth(plant, catalogue, level=0, seed=2)
    assert truth.product_cells[line] > 0


def test_written_cases_are_read_back_with_every_site_shown(tmp_path, catalogue):
    cases = list(write_cases(tmp_path, 2, seed=1, level=2, sites=40))
    read = [read_case(case) for case in cases]
    truths = [Truth.model_validate_json((case / "truth.json").read_text("utf-8")) for case in cases]
    assert read[0].plant == read[1].plant
    assert [len(one.shows) for one in truths] == [40, 40]
    assert read[0].investigation.implicated


def test_written_cases_are_the_same_again(tmp_path):
    written = [next(write_cases(tmp_path / name, 1, seed=3, level=1, sites=30)) for name in ("one", "two")]
    first, again = ((case / "truth.json").read_bytes() for case in written)
    assert first == again


def test_later_visits_go_on_from_the_first(plant, catalogue):
    alone, visits = make_truth(plant, catalogue, level=1, seed=7), make_visits(plant, catalogue, 1, 7, visits=3)
    assert np.array_equal(alone.surface_cells, visits[0].surface_cells)
    assert {one.niches for one in visits} == {alone.niches}
    assert not np.array_equal(visits[1].surface_cells, visits[2].surface_cells)
