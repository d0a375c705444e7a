"""Distances between isolates as a laboratory sends them: a square table, or one pair a line."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import isfinite

import numpy as np
import numpy.typing as npt

from swabwright.errors import DocumentRefused, Fault

Rows = Sequence[Sequence[str]]
PAIR = 3
"""Cells of a line of the long form: isolate, isolate, distance."""


@dataclass(frozen=True)
class Distances:
    """Isolates by name and the symmetric matrix of their distances, in the laboratory's unit."""

    names: tuple[str, ...]
    matrix: npt.NDArray[np.float64]

    def without(self, names: Collection[str]) -> "Distances":
        """The distances among all isolates but these."""
        kept = [at for at, name in enumerate(self.names) if name not in names]
        return Distances(tuple(self.names[at] for at in kept), self.matrix[np.ix_(kept, kept)])


def read_square(rows: Rows, document: str) -> Distances:
    """The distances of a square table with names above and at the left.

    Errors: DocumentRefused naming each fault by row and column (the heading is row 1).
    """
    names = tuple(cell.strip() for cell in rows[0][1:]) if rows else ()
    left = tuple(row[0].strip() if row else "" for row in rows[1:])
    if not names or left != names or len(set(names)) != len(names):
        problem = "the names above and at the left must be the same, in one order, each once"
        raise DocumentRefused(document, [Fault("row 1, column 1", problem)])
    faults: list[Fault] = []
    matrix = np.array([_line(row, at, len(names), faults) for at, row in enumerate(rows[1:], 2)])
    faults = faults or _asymmetries(matrix)
    if faults:
        raise DocumentRefused(document, faults)
    return Distances(names, matrix)


def read_long(rows: Rows, document: str) -> Distances:
    """The distances of a table of pairs below one heading: isolate, isolate, distance; every pair at least once.

    Errors: DocumentRefused naming the row, or the pair that is missing.
    """
    faults: list[Fault] = []
    pairs = _pairs(rows[1:], faults)
    names = tuple(sorted({name for row in pairs.values() for name in row[:2]}))
    matrix = np.full((len(names), len(names)), np.nan)
    for at, row in pairs.items():
        _put(matrix, names, row, at, faults)
    np.fill_diagonal(matrix, np.where(np.isnan(matrix.diagonal()), 0.0, matrix.diagonal()))
    for i, j in np.argwhere(np.isnan(np.triu(matrix))):
        faults.append(Fault(f"{names[i]}, {names[j]}", "no distance is given for this pair"))
    faults += [Fault(names[i], "is not 0 from itself") for i in np.flatnonzero(matrix.diagonal() > 0)]
    if faults or not names:
        raise DocumentRefused(document, faults or [Fault("", "there is no pair below the heading")])
    return Distances(names, matrix)


def _pairs(rows: Rows, faults: list[Fault]) -> dict[int, list[str]]:
    """Lines that hold a pair, by their row; the others are faults and name no isolate."""
    pairs = {}
    for at, row in enumerate(rows, 2):
        cells = [cell.strip() for cell in row]
        if len(cells) != PAIR:
            faults.append(Fault(f"row {at}", f"has {len(cells)} cells, not isolate, isolate, distance"))
        elif not all(cells[:2]):
            faults.append(Fault(f"row {at}", "names only one isolate"))
        else:
            pairs[at] = cells
    return pairs


def _put(
    matrix: npt.NDArray[np.float64], names: Sequence[str], row: Sequence[str], at: int, faults: list[Fault]
) -> None:
    i, j = names.index(row[0]), names.index(row[1])
    value = _distance(row[2], f"row {at}, column 3", faults)
    if not np.isnan(matrix[i, j]) and matrix[i, j] != value:
        faults.append(Fault(f"row {at}, column 3", f"{value:g} for a pair that had {matrix[i, j]:g} before"))
    matrix[i, j] = matrix[j, i] = value


def _line(row: Sequence[str], at: int, wide: int, faults: list[Fault]) -> list[float]:
    if len(row) != wide + 1:
        faults.append(Fault(f"row {at}", f"has {len(row) - 1} distances, not {wide}"))
        return [0.0] * wide
    return [_distance(cell, f"row {at}, column {n}", faults) for n, cell in enumerate(row[1:], 2)]


def _distance(cell: str, where: str, faults: list[Fault]) -> float:
    try:
        value = float(cell)
    except ValueError:
        value = -1.0
    if not (isfinite(value) and value >= 0.0):
        faults.append(Fault(where, f"'{cell}' is not a distance of 0 or more"))
        return 0.0
    return value


def _asymmetries(matrix: npt.NDArray[np.float64]) -> list[Fault]:
    own = [
        Fault(f"row {i + 2}, column {i + 2}", "must be 0, the distance to itself")
        for i in np.flatnonzero(matrix.diagonal())
    ]
    odd = [
        Fault(f"row {i + 2}, column {j + 2}", f"{matrix[i, j]:g}, but {matrix[j, i]:g} the other way round")
        for i, j in np.argwhere(np.triu(matrix != matrix.T))
    ]
    return own + odd
