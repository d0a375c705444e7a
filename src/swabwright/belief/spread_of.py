"""How far a chance may be off: between structural copies, within them, and from the number of hypotheses."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from swabwright.belief.rows import HypothesisRows

Array = npt.NDArray[np.float64]
Z_10_90 = 1.33
"""Standard deviations from the middle to the 10 and 90 in 100 of Student's t with about 19 degrees of freedom."""
BOOTSTRAPS = 100
BOOTSTRAP_SEED = 20
COPIES_KEPT = 64
"""Draws of so many copies are kept: a document asks for hundreds of ranges on the same histories."""
COPIES_NEEDED = 8
SIZE_NEEDED = 50
NEARLY = 1e-6
"""Chances closer than this to 0 or 1 count as this far away, so that a logit stays finite."""


@dataclass(frozen=True)
class Spread:
    """A weighted mean with its 10 to 90 in 100 range, and why the range is uncertain, if it is."""

    value: float
    low: float
    high: float
    uncertain: str | None


@dataclass(frozen=True)
class _Groups:
    """Sums per history: weight, weight x value, and the copy of each history."""

    weight: Array
    value: Array
    copy: npt.NDArray[np.int64]


def spread_of(values: Array, rows: HypothesisRows) -> Spread:
    """Mean of per-row chances under the rows' weights, with a range on the logit scale.

    Copies count by their evidence share; tau^2 is the variance between copies less the mean variance within them
    (bootstrap of histories); the range is +-1.33 sqrt(tau^2 + v), v the variance of the estimate clustered by copy.
    """
    groups = _by_history(values, rows)
    value = float(np.clip((rows.weight * values).sum() / rows.weight.sum(), 0.0, 1.0))
    reach = Z_10_90 * np.sqrt(_between(groups) + _of_estimate(groups))
    # on the logit scale a range cannot leave 0 to 1, and is wider towards the middle
    centre = _logit(np.array([value]))[0]
    low, high = (float(1.0 / (1.0 + np.exp(-(centre + sign * reach)))) for sign in (-1, 1))
    return Spread(value, min(low, value), max(high, value), why_uncertain(rows))


def _by_history(values: Array, rows: HypothesisRows) -> _Groups:
    histories, place = np.unique(rows.history, return_inverse=True)
    copy = np.zeros(len(histories), np.int64)
    copy[place] = rows.copy
    weight, value = (
        np.asarray(np.bincount(place, part, len(histories)), np.float64) for part in (rows.weight, rows.weight * values)
    )
    return _Groups(weight, value, copy)


def _logit(chance: Array) -> Array:
    held = np.clip(chance, NEARLY, 1.0 - NEARLY)
    return np.asarray(np.log(held / (1.0 - held)))


def _between(groups: _Groups) -> float:
    """tau^2: variance of the copies' logits, less what their own few histories explain."""
    share = np.bincount(groups.copy, groups.weight)
    # a copy with hardly any weight says nothing of how copies differ
    used = np.flatnonzero(share > NEARLY * share.sum())
    if len(used) < 2:
        return 0.0
    share = share[used] / share[used].sum()
    inside = [_bootstrap(groups, int(copy)) for copy in used]
    centres = np.array([centre for centre, _ in inside])
    between = (share * (centres - (share * centres).sum()) ** 2).sum() / (1.0 - (share**2).sum())
    # a copy has few histories; what they scatter by themselves is not structure
    within = (share * np.array([variance for _, variance in inside])).sum()
    return float(max(0.0, between - within))


def _bootstrap(groups: _Groups, copy: int) -> tuple[float, float]:
    """The logit of one copy's mean, and its variance when that copy's histories are drawn again."""
    own = groups.copy == copy
    weight, value = groups.weight[own], groups.value[own]
    times = _times(copy, len(weight))
    totals = times @ weight
    means = (times @ value)[totals > 0] / totals[totals > 0]
    return float(_logit(np.array([value.sum() / weight.sum()]))[0]), float(_logit(means).var())


@lru_cache(maxsize=COPIES_KEPT)
def _times(copy: int, count: int) -> Array:
    """How often each of a copy's histories is drawn in each bootstrap, (BOOTSTRAPS, count); the same every time."""
    draw = np.random.Generator(np.random.Philox(key=BOOTSTRAP_SEED, counter=copy))
    return np.asarray(draw.multinomial(count, np.full(count, 1.0 / count), size=BOOTSTRAPS), np.float64)


def _of_estimate(groups: _Groups) -> float:
    """v on the logit scale: variance of the weighted mean, clustered by copy (by history if there is one copy)."""
    total = groups.weight.sum()
    mean = groups.value.sum() / total
    residual = groups.value - mean * groups.weight
    by_copy = np.bincount(groups.copy, residual)[np.unique(groups.copy)]
    # histories of one copy share its perturbed contacts, so the copy is what was drawn independently
    cluster = by_copy if len(by_copy) > 1 else residual
    count = len(cluster)
    if count < 2:
        return 0.0
    variance = count / (count - 1) * float((cluster**2).sum() / total**2)
    held = float(np.clip(mean, NEARLY, 1.0 - NEARLY))
    return variance / (held * (1.0 - held)) ** 2


def why_uncertain(rows: HypothesisRows, words: tuple[str, str] = ("facts", "hypotheses")) -> str | None:
    """Why a range on these rows is uncertain, None if it is not; more histories may help.

    words: what leaves too few, and what the rows are, as the sentence calls them.
    """
    what, kind = words
    share, square = np.bincount(rows.copy, rows.weight), np.bincount(rows.copy, rows.weight**2)
    used = share > 0
    copies = float(share.sum() ** 2 / (share**2).sum())
    size = float(np.median(share[used] ** 2 / square[used]))
    if copies < COPIES_NEEDED:
        return f"the {what} leave {copies:.1f} of the {COPIES_NEEDED} structural copies that a range needs"
    if size < SIZE_NEEDED:
        return f"the {what} leave {size:.0f} of the {SIZE_NEEDED} {kind} a copy that a range needs"
    return None
