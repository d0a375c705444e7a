"""Drawing without replacement: how many contaminated units a sample of a finite population holds."""

import numpy as np

from swabwright.detection.statistics.arrays import Array


def contaminated_in_sample(size: int, contaminated: int, samples: int) -> Array:
    """The chance of each number 0, 1, ... of contaminated units among `samples` drawn from `size`, summing to 1.

    Products of neighbouring ratios from the lowest possible number on, in logarithms and scaled at the end, so that
    large populations neither overflow nor cost more than small ones.
    """
    least, most = max(0, samples - (size - contaminated)), min(contaminated, samples)
    k = np.arange(least, most, dtype=np.float64)
    up = np.log(contaminated - k) + np.log(samples - k)
    down = np.log(k + 1) + np.log(size - contaminated - samples + k + 1)
    # Only ratios are known here; the sum over all numbers gives the constant they lack.
    logs = np.concatenate([[0.0], np.cumsum(up - down)])
    chances = np.exp(logs - logs.max())
    return np.concatenate([np.zeros(least), chances / chances.sum()])


def one_more_drawn(chances: Array, drawn: int, size: int, contaminated: int) -> Array:
    """The chances after one more unit is drawn; `chances` has a place for each number 0 to `contaminated`.

    Every term is positive, so that nothing is lost to cancellation however often this is repeated.
    """
    k = np.arange(chances.size)
    hit = chances * np.clip(contaminated - k, 0, None) / (size - drawn)
    later = chances - hit
    later[1:] += hit[:-1]
    return later
