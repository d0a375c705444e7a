"""Trees and groups against scipy; matrices refused by row and column; words no higher than the laboratory's."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.cluster.hierarchy import fcluster, linkage
from scipy.sparse.csgraph import minimum_spanning_tree
from scipy.spatial.distance import squareform

from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.inference.distances import Distances, read_long, read_square
from swabwright.inference.strains import groups_at, persistence_p, shortest_tree
from swabwright.inference.wording import LaboratoryMatch, graded

LAW = settings(deadline=None, derandomize=True, max_examples=40)


def invented(seed, isolates=9):
    half = np.triu(np.random.default_rng(seed).integers(1, 30, (isolates, isolates)).astype(float), 1)
    return Distances(tuple(f"I{n}" for n in range(isolates)), half + half.T)


@LAW
@given(st.integers(0, 10_000))
def test_the_tree_is_as_short_as_scipy_finds(seed):
    one = invented(seed)
    assert sum(link.distance for link in shortest_tree(one)) == minimum_spanning_tree(one.matrix).sum()


@LAW
@given(st.integers(0, 10_000), st.integers(0, 20))
def test_groups_are_those_of_single_linkage(seed, threshold):
    one = invented(seed)
    labels = fcluster(linkage(squareform(one.matrix), "single"), threshold, "distance")
    theirs = {tuple(n for n, held in zip(one.names, labels, strict=True) if held == label) for label in labels}
    assert set(groups_at(one, threshold)) == theirs


@LAW
@given(st.integers(0, 10_000), st.permutations(range(9)))
def test_ties_fall_by_name_in_any_order_of_rows(seed, order):
    one, at = invented(seed), list(order)
    other = Distances(tuple(one.names[n] for n in at), one.matrix[np.ix_(at, at)])
    assert shortest_tree(other) == shortest_tree(one)


def test_square_and_long_tables_say_the_same():
    square = read_square([["", "A", "B"], ["A", "0", "4"], ["B", "4", "0"]], "d.csv")
    long = read_long([["a", "b", "d"], ["A", "B", "4"]], "d.csv")
    assert (square.names, square.matrix.tolist()) == (long.names, long.matrix.tolist())


@pytest.mark.parametrize(
    ("first", "second", "says"),
    [
        (["A", "0", "4"], ["B", "5", "0"], "row 2, column 3: 4, but 5 the other way round"),
        (["A", "1", "4"], ["B", "4", "0"], "row 2, column 2: must be 0"),
        (["A", "0", "x"], ["B", "4", "0"], "row 2, column 3: 'x' is not a distance"),
    ],
)
def test_a_faulty_cell_is_named_by_row_and_column(first, second, says):
    with pytest.raises(DocumentRefused, match=says):
        read_square([["", "A", "B"], first, second], "d.csv")


def test_a_pair_left_out_is_named():
    with pytest.raises(DocumentRefused, match="B, C: no distance"):
        read_long([["a", "b", "d"], ["A", "B", "4"], ["A", "C", "4"]], "d.csv")


def test_three_of_three_from_a_tenth_has_the_chance_of_a_thousandth():
    assert persistence_p(3, 3, 0.1) == pytest.approx(0.001)
    with pytest.raises(SwabwrightError, match="repeats"):
        persistence_p(4, 3, 0.1)


def test_a_distance_without_the_laboratory_s_words_is_no_match():
    assert graded(LaboratoryMatch(("P1",), "wgMLST", "0 alleles", "")) == "Found in the plant."


def test_a_match_quotes_the_laboratory():
    said = graded(LaboratoryMatch(("P1", "P2"), "core-genome typing", "2 alleles", "indistinguishable"))
    assert said.startswith(
        "Found in the plant; same strain as 2 isolates from patients by core-genome typing, 2 alleles"
    )
