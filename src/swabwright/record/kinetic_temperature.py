"""Mean kinetic temperature: the constant temperature with the same effect by the Arrhenius equation."""

from collections.abc import Sequence
from math import log

import numpy as np

from swabwright.record.readings import Readings

GAS_CONSTANT_KJ = 8.31446261815324e-3
"""kJ per mol and K; exact by the International System of Units (2019)."""
ZERO_C_IN_K = 273.15
PLACES, WEIGHTS = np.polynomial.legendre.leggauss(8)
"""Gauss-Legendre nodes per straight line between two readings."""


def mean_kinetic_c(lines: Sequence[Readings], energy_kj_per_mol: float) -> float | None:
    """The mean kinetic temperature of unbroken runs of readings, C, each moment weighing alike; None without any time.

    T = (E / R) / -ln(mean over time of exp(-E / (R T))), T in K. Source: Haynes, J Pharm Sci 1971;60:927-929, as an
    integral over the straight lines between readings in place of a sum over equal intervals.
    """
    ratio = energy_kj_per_mol / GAS_CONSTANT_KJ
    total_seconds = sum(line.seconds[-1] - line.seconds[0] for line in lines)
    if total_seconds == 0:
        return None
    # Measured from the coldest reading, so that no exponential is lost to rounding.
    coldest = min(min(line.temperatures_c) for line in lines) + ZERO_C_IN_K
    effect = sum(_effect(line, ratio, coldest) for line in lines) / total_seconds
    return ratio / (ratio / coldest - log(effect)) - ZERO_C_IN_K


def _effect(line: Readings, ratio: float, coldest: float) -> float:
    """The integral of exp(-E / (R T) + E / (R T coldest)) over one run, in seconds."""
    kelvin = np.asarray(line.temperatures_c) + ZERO_C_IN_K
    along = kelvin[:-1, None] + np.diff(kelvin)[:, None] * (PLACES + 1.0) / 2.0
    rate = np.exp(ratio / coldest - ratio / along) @ (WEIGHTS / 2.0)
    return float(rate @ np.diff(np.asarray(line.seconds, dtype=float)))
