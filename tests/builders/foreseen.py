"""Small invented tables of what samples would show, for tests of the next visit."""

import numpy as np

from swabwright.inference.information import Informed, Settings
from swabwright.inference.labels import Labels
from swabwright.inference.outcome_paths import Foreseen, foreseen

EXACT = 512
"""Paths enough that a mean over them is close to the exact sum."""


def table(chance: np.ndarray, labels: np.ndarray, **changed: object) -> Foreseen:
    """What items with these chances would show, each at its own site, rows weighted alike unless said otherwise."""
    items, rows = chance.shape
    weight = np.asarray(changed.get("weight", np.full(rows, 1 / rows)))
    site = np.asarray(changed.get("site", np.arange(items)), np.int32)
    tie = np.asarray(changed.get("tie", np.arange(items) * 7919 + 13), np.uint64)
    labelled = Labels(np.asarray(labels, np.int64), int(np.max(labels)) + 1)
    return foreseen(chance.astype(np.float32), weight, labelled, (site, tie), seed=7)


def informed(what: Foreseen, paths: int = 32) -> Informed:
    """The usual settings, with so many paths."""
    return Informed(what, Settings(paths, 8, 2.0))


def telling(items: int = 8, labels: int = 4, rows_a_label: int = 40, seed: int = 3) -> tuple[np.ndarray, np.ndarray]:
    """Chances of items that depend on the label and a little on the row, and the label of each row."""
    draw = np.random.default_rng(seed)
    of_row = np.repeat(np.arange(labels), rows_a_label)
    own = draw.random((items, labels))[:, of_row]
    return np.clip(own + draw.normal(0, 0.05, own.shape), 0.01, 0.99), of_row


def always(_items: object) -> bool:
    """No limit."""
    return True
