"""Prevalence of single units from results of pools."""

from collections.abc import Sequence
from math import expm1, inf

from swabwright.detection.statistics.answer import Answer, Interval, per_100
from swabwright.detection.statistics.checks import inner_probability
from swabwright.detection.statistics.intervals import share_interval
from swabwright.detection.statistics.poisson_fit import Level, fit
from swabwright.detection.statistics.pools import Pool
from swabwright.detection.statistics.prevalence import true_share


def pooled_prevalence(detected: int, pools: int, pool: Pool, level: float, method: str) -> Answer:
    """The share of units contaminated, when `detected` of `pools` pools of one size are, allowing for the test.

    1 - (1 - T)^(1/k), T the share of pools really contaminated by Rogan and Gladen; the interval is that of the pools'
    share, by one of the four methods, put through both formulas. Source: Cowling, Gardner and Johnson, Prev Vet Med
    1999;39:211-225. Errors: ArgumentRefused by name.
    """
    of_pools = share_interval(detected, pools, level, method)
    low, value, high = (_unit_share(one, pool) for one in (of_pools.low, detected / pools, of_pools.high))
    return _answer(value, Interval(low, high, level, method))


def mixed_pools_prevalence(pools: Sequence[Level], level: float) -> Answer:
    """The share of units contaminated, from pools of several sizes and a test without false results.

    pools: for each size the units in a pool (amount), pools (portions) and pools detected (positives). Greatest
    likelihood: a pool of k units is detected with 1 - (1 - P)^k, one rate -ln(1 - P) per unit. Source: Cowling,
    Gardner and Johnson, Prev Vet Med 1999;39:211-225. Errors: ArgumentRefused by name.
    """
    inner_probability("level", level)
    found = fit(pools, level)
    method = "log-normal" if 0.0 < found.rate < inf else "exact, one-sided"
    low, value, high = (-expm1(-rate) for rate in (found.low, found.rate, found.high))
    return _answer(value, Interval(low, high, level, method))


def _unit_share(apparent: float, pool: Pool) -> float:
    return float(1.0 - (1.0 - true_share(apparent, pool.test)) ** (1.0 / pool.size))


def _answer(value: float, interval: Interval) -> Answer:
    between = (
        f"between {per_100(interval.low)} and {per_100(interval.high)} ({interval.method}, level {interval.level:g})"
    )
    return Answer(value, f"By the pools {per_100(value)} units are contaminated, {between}.", interval)
