"""Trees and groups against scipy; tables of distances refused by row and column."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.cluster.hierarchy import fcluster, linkage
from scipy.sparse.csgraph import minimum_spanning_tree
from scipy.spatial.distance import squareform

from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.inference.distances import Distances, read_long, read_square
from swabwright.inference.strains import Link, groups_at, shortest_tree

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


@LAW
@given(st.integers(0, 10_000), st.permutations(range(9)), st.integers(0, 20))
def test_groups_under_other_names_are_the_same_groups(seed, order, threshold):
    one, new = invented(seed), {f"I{n}": f"I{to}" for n, to in enumerate(order)}
    other = Distances(tuple(new[name] for name in one.names), one.matrix)
    renamed = {tuple(sorted(new[name] for name in group)) for group in groups_at(one, threshold)}
    assert set(groups_at(other, threshold)) == renamed


@LAW
@given(st.integers(0, 10_000), st.integers(0, 20), st.integers(0, 10))
def test_a_higher_threshold_only_joins_groups(seed, threshold, more):
    one = invented(seed)
    wider = groups_at(one, threshold + more)
    assert all(any(set(group) <= set(held) for held in wider) for group in groups_at(one, threshold))


def test_an_isolate_left_out_takes_its_distances_along():
    one = invented(1)
    kept = one.without({"I3", "nobody"})
    assert kept.names == tuple(name for name in one.names if name != "I3")
    assert np.array_equal(kept.matrix, np.delete(np.delete(one.matrix, 3, 0), 3, 1))


def test_no_isolate_or_one_has_no_tree():
    one = invented(1)
    assert shortest_tree(one.without(set(one.names))) == ()
    assert groups_at(one.without(set(one.names[1:])), 5) == (("I0",),)


@pytest.mark.parametrize("threshold", [-1.0, float("nan")])
def test_a_threshold_that_is_no_distance_is_refused(threshold):
    with pytest.raises(SwabwrightError, match="threshold"):
        groups_at(invented(1), threshold)


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


PAIRS = [["a", "b", "d"], ["A", "B", "4"], ["A", "C", "5"], ["B", "C", "6"]]


def refused(*more, pairs=PAIRS):
    with pytest.raises(DocumentRefused) as caught:
        read_long([*pairs, *more], "d.csv")
    return [str(fault) for fault in caught.value.faults]


def test_a_pair_left_out_is_named():
    assert refused(pairs=PAIRS[:3]) == ["B, C: no distance is given for this pair"]


def test_a_pair_may_come_one_way_or_both_in_any_order():
    both = [PAIRS[0], *([b, a, d] for a, b, d in reversed(PAIRS[1:])), *PAIRS[1:], ["A", "A", "0"]]
    one, other = read_long(PAIRS, "d.csv"), read_long(both, "d.csv")
    assert (one.names, one.matrix.tolist()) == (other.names, other.matrix.tolist())
    assert shortest_tree(one) == (Link("A", "B", 4.0), Link("A", "C", 5.0))


@pytest.mark.parametrize("again", [["A", "B", "7"], ["B", "A", "7"]])
def test_a_pair_with_two_distances_is_named(again):
    assert refused(again) == ["row 5, column 3: 7 for a pair that had 4 before"]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (["A", "D"], "row 5: has 2 cells, not isolate, isolate, distance"),
        (["D"], "row 5: has 1 cells, not isolate, isolate, distance"),
        (["A", "B", "4", "x"], "row 5: has 4 cells, not isolate, isolate, distance"),
        (["A", " ", "4"], "row 5: names only one isolate"),
        (["A", "B", ""], "row 5, column 3: '' is not a distance of 0 or more"),
    ],
)
def test_a_line_that_is_no_pair_is_named_and_brings_no_isolate(line, says):
    assert refused(line)[0] == says
    assert not any("D" in one for one in refused(line))


def test_an_isolate_away_from_itself_is_named():
    assert refused(["B", "B", "1"]) == ["B: is not 0 from itself"]


def test_a_heading_alone_holds_no_pair():
    assert refused(pairs=PAIRS[:1]) == ["there is no pair below the heading"]
