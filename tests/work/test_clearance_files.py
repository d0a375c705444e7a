"""Clearance documents as files: one set of them for each strain."""

import json

import pytest
from builders.cases import EXAMPLE
from builders.rounds import clearance

from swabwright.case.folder import read_case
from swabwright.work.clearance_files import clearance_files, clearance_json

pytestmark = pytest.mark.slow


TWO = (clearance(strain="Cluster 1", other_strains=("Cluster 2",)), clearance(strain="Cluster 2", rounds=()))


@pytest.fixture(scope="module")
def of_two():
    return clearance_files(TWO, read_case(EXAMPLE), "a4")


def test_each_of_several_strains_has_its_own_document_and_papers(of_two):
    stems = ("clearance-cluster-1", "clearance-cluster-2")
    assert set(of_two) == {f"{stem}.{kind}" for stem in stems for kind in ("json", "pdf", "svg")}
    assert [json.loads(of_two[f"{stem}.json"])["strain"] for stem in stems] == ["Cluster 1", "Cluster 2"]


def test_papers_are_those_of_their_own_strain(of_two):
    assert of_two["clearance-cluster-1.svg"] != of_two["clearance-cluster-2.svg"]


def test_one_strain_needs_no_name():
    assert set(clearance_files(TWO[:1], read_case(EXAMPLE), "a4")) == {
        f"clearance.{kind}" for kind in ("json", "pdf", "svg")
    }


def test_one_document_is_printed_alone_and_several_as_a_list():
    assert json.loads(clearance_json(TWO[:1]))["strain"] == "Cluster 1"
    assert [one["strain"] for one in json.loads(clearance_json(TWO))] == ["Cluster 1", "Cluster 2"]
