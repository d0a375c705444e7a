"""Compiled: what the slots of one history have in common, worked out once for each kind of slot."""

# mypy: disable-error-code="no-untyped-def"

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.spread.factors import split, survives_carry_off
from swabwright.spread.niches import rise

FloatArray = npt.NDArray[np.float64]


class Usual(NamedTuple):
    """By slot kind and source, for a slot without any contact event.

    kappa: carry-off by product. stays, moved, fresh_stays, fresh_moved, arrives: shares as in a slot's moves.
    after: left by slow die-off. growth, shed: natural-log units (incoming material: amount shed). rise, gain:
    (e^a - 1) / a and e^a with a = growth - shed.
    """

    kappa: FloatArray
    stays: FloatArray
    moved: FloatArray
    fresh_stays: FloatArray
    fresh_moved: FloatArray
    arrives: FloatArray
    after: FloatArray
    growth: FloatArray
    shed: FloatArray
    rise: FloatArray
    gain: FloatArray
    idle: npt.NDArray[np.bool_]
    """Whether nothing runs at all, by slot kind."""


@njit(cache=True, nogil=True)
def empty_usual(sources, slots):
    """Room for all kinds of slots."""
    shape = (slots.hours.shape[0], sources.shed.shape[0])
    return Usual(
        np.zeros(shape), np.ones(shape), np.ones(shape), np.ones(shape), np.ones(shape), np.ones(shape),
        np.ones(shape), np.zeros(shape), np.zeros(shape), np.ones(shape), np.ones(shape), np.zeros(shape[0], np.bool_),
    )  # fmt: skip


@njit(cache=True, nogil=True)
def settle_carry_off(sources, slots, usual):
    """Shares that product leaves on and takes off surfaces; the same in every history."""
    for kind in range(slots.hours.shape[0]):
        usual.idle[kind] = slots.running[kind].max() == 0.0
        for c in range(sources.rows):
            kappa = sources.carry_off[c] * slots.running[kind, sources.clock[c]] / 8.0
            usual.kappa[kind, c] = kappa
            shares = split(0.0, kappa)
            usual.stays[kind, c], usual.moved[kind, c], usual.fresh_stays[kind, c], usual.fresh_moved[kind, c] = shares
            usual.arrives[kind, c] = survives_carry_off(kappa)


@njit(cache=True, nogil=True)
def settle_history(sources, slots, usual, die_off, growth, shedding):
    """Growth, shedding and die-off under the multipliers of one history (shedding: by source)."""
    for kind in range(slots.hours.shape[0]):
        part = slots.hours[kind] / 8.0
        for c in range(sources.shed.shape[0]):
            running = slots.running[kind, sources.clock[c]] / 8.0
            if c >= sources.rows:
                usual.shed[kind, c] = sources.emitted[c] * running
                continue
            usual.growth[kind, c] = sources.growth[c] * growth * part
            usual.shed[kind, c] = sources.shed[c] * shedding[c] * running
            a = usual.growth[kind, c] - usual.shed[kind, c]
            usual.rise[kind, c] = rise(a)
            usual.gain[kind, c] = np.exp(a)
            usual.after[kind, c] = np.exp(-sources.die_off[c] * die_off * part)
