"""Use case: groups and the shortest tree of isolates from a laboratory's distances."""

from dataclasses import dataclass

from swabwright.inference.distances import read_long, read_square
from swabwright.inference.strains import Link, groups_at, shortest_tree
from swabwright.tables.delimited import read_delimited


@dataclass(frozen=True)
class Compared:
    """The tree, the groups at each threshold, and what may be said of them."""

    tree: tuple[Link, ...]
    thresholds: tuple[float, ...]
    groups: tuple[tuple[tuple[str, ...], ...], ...]
    sentence: str


def compare_strains(content: bytes, name: str, thresholds: tuple[float, ...], *, long: bool) -> Compared:
    """The shortest tree of the isolates, and their single-linkage groups at each threshold.

    Errors: DocumentRefused naming row and column; SwabwrightError for a threshold.
    """
    rows = [row for row in read_delimited(content) if any(cell.strip() for cell in row)]
    distances = (read_long if long else read_square)(rows, name)
    tree = shortest_tree(distances)
    groups = tuple(groups_at(distances, one) for one in thresholds)
    said = [f"{link.first} - {link.second}: {link.distance:g}" for link in tree]
    for threshold, held in zip(thresholds, groups, strict=True):
        said.append(f"At {threshold:g}: " + "; ".join(" ".join(one) for one in held) + ".")
    said.append("A distance alone decides nothing; the laboratory says which isolates are one strain.")
    return Compared(tree, thresholds, groups, "\n".join(said))
