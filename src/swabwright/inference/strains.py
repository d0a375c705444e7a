"""Which isolates are alike: the shortest tree, and groups at a threshold."""

from dataclasses import dataclass

from swabwright.errors import SwabwrightError
from swabwright.inference.distances import Distances


@dataclass(frozen=True)
class Link:
    """A branch of the tree: two isolates and their distance."""

    first: str
    second: str
    distance: float


def shortest_tree(distances: Distances) -> tuple[Link, ...]:
    """The minimum spanning tree, ties taken by name (Kruskal, Proc Am Math Soc 1956;7:48-50)."""
    order = sorted(distances.names)
    at = {name: n for n, name in enumerate(distances.names)}
    pairs = [
        Link(one, other, float(distances.matrix[at[one], at[other]]))
        for n, one in enumerate(order)
        for other in order[n + 1 :]
    ]
    group = {name: name for name in order}
    tree = []
    for link in sorted(pairs, key=lambda link: (link.distance, link.first, link.second)):
        kept, lost = group[link.first], group[link.second]
        if kept != lost:
            tree.append(link)
            group = {name: kept if held == lost else held for name, held in group.items()}
    return tuple(tree)


def groups_at(distances: Distances, threshold: float) -> tuple[tuple[str, ...], ...]:
    """Single-linkage groups: isolates joined by steps of at most the threshold, sorted by name.

    They are the pieces of the shortest tree (Gower and Ross, Appl Stat 1969;18:54-64).
    Errors: SwabwrightError when the threshold is below 0.
    """
    if not threshold >= 0.0:
        raise SwabwrightError(f"threshold: {threshold:g} is not a distance of 0 or more")
    group = {name: {name} for name in distances.names}
    for link in shortest_tree(distances):
        if link.distance <= threshold:
            joined = group[link.first] | group[link.second]
            group.update(dict.fromkeys(joined, joined))
    return tuple(sorted({tuple(sorted(held)) for held in group.values()}))
