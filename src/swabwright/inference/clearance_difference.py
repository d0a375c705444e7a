"""How far two chances that it is gone differ beyond what the number of simulated histories leaves open."""

import numpy as np

from swabwright.inference.clearance import Aftermath, Array


def difference_error(one: Aftermath, other: Aftermath) -> float:
    """Monte Carlo standard error of the difference of two chances that it is gone, read on the same histories.

    Each chance is a ratio of weighted sums; the difference is linearised and clustered by history, so what moves both
    alike cancels (Cochran, Sampling Techniques, 3rd edition, 1977, section 6.7).
    """
    moved = _influence(one) - _influence(other)
    count = len(moved)
    return float(np.sqrt(count / max(1, count - 1) * (moved**2).sum()))


def _influence(one: Aftermath) -> Array:
    """What each history adds to the chance beyond its share of it, shape (E,)."""
    rows = one.states.rows
    beyond = rows.weight * (one.states.gone - one.chance_gone) / rows.weight.sum()
    return np.asarray(np.bincount(rows.history, beyond, one.banks[0].bank.histories))
