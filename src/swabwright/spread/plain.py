"""The model of a history without a compiler: NumPy and SciPy sparse products, in double precision.

It takes the same events as the compiled form and gives the same answers to 1 in 1,000; tests hold the two against
each other, and the benchmark of the compiled form is timed beside it.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.sparse import csr_array

from swabwright.compute.philox import plain_philox_words
from swabwright.spread.codes import LARGEST_CODE, STEPS_PER_DOUBLING, ZERO_OF_CODE
from swabwright.spread.events import Events
from swabwright.spread.tables import Draws, Floats, Slots, Sources, Tuning

LN_10 = float(np.log(10.0))
WORD_SPAN = 2.0**32
TINY = 1e-9


@dataclass(frozen=True)
class PlainHistory:
    """What one history leaves behind, dense: loads (occasions, rows, sources), niches and product."""

    loads: Floats
    niche: Floats
    product: Floats


def plain_history(events: Events, tables: tuple[Slots, Sources, Tuning], draws: Draws, e: int) -> PlainHistory:
    """Replay the events of history e of the draws on the loads of all sources."""
    slots, sources, tuning = tables
    count, rows = len(sources.shed), sources.rows
    losses, niches = _losses(tables, draws, e), _niches(tables, draws, e)
    loads, seen = np.zeros((rows, count)), np.zeros((tuning.occasions, rows, count))
    product = np.zeros((tuning.lines, tuning.days, count))
    for slot in range(len(slots.unit)):
        reads = slots.reads[slots.read_first[slot] : slots.read_first[slot + 1]]
        if not len(reads) and not slots.running[slots.kind[slot]].any():
            loads *= losses[slot][:, None]
            continue
        moves, shed = _moves(events, slots, sources, slot), niches[1][slot]
        old, new, arrived = moves.applied(loads, shed, sources)
        for read in reads:
            seen[read] = old + new
        if slots.day[slot] >= 0:
            _add_product(product[:, slots.day[slot]], moves.carried(loads, shed, arrived, sources), sources)
        new *= sources.fast_survival[:rows, None]
        loads = losses[slot][:, None] * (old + new)
    levels = np.array([niches[0][slot] for slot in _read_slots(slots, tuning)])
    return PlainHistory(seen, levels, product)


def plain_codes(history: PlainHistory, cutoff: float) -> tuple[npt.NDArray[np.uint16], npt.NDArray[np.uint16]]:
    """Rows and codes of the loads above the cut-off, in order of occasion, source and row."""
    by_source = history.loads.transpose(0, 2, 1)
    occasion, source, row = np.nonzero(by_source > cutoff)
    code = np.floor(np.log2(by_source[occasion, source, row]) * STEPS_PER_DOUBLING + 0.5) + ZERO_OF_CODE
    return row.astype(np.uint16), np.clip(code, 1, LARGEST_CODE).astype(np.uint16)


def _read_slots(slots: Slots, tuning: Tuning) -> npt.NDArray[np.intp]:
    read = np.zeros(tuning.occasions, np.intp)
    for slot in range(len(slots.unit)):
        read[slots.reads[slots.read_first[slot] : slots.read_first[slot + 1]]] = slot
    return read


def _losses(tables: tuple[Slots, Sources, Tuning], draws: Draws, e: int) -> Floats:
    """Share that cleaning and slow die-off leave, by slot and row."""
    slots, sources, tuning = tables
    rows = sources.rows
    counters = np.empty((len(slots.unit), rows, 4), np.uint64)
    counters[:, :, 0], counters[:, :, 1] = sources.low[:rows], sources.high[:rows]
    counters[:, :, 2], counters[:, :, 3] = draws.history[e], slots.unit[:, None]
    word = plain_philox_words(counters, (tuning.clean_key[0], tuning.clean_key[1]))[:, :, 0].astype(np.float64)
    failed = (word + 0.5) / WORD_SPAN < tuning.failure_share
    part = slots.cleaned[:, :rows] * np.where(failed, tuning.failed_part, 1.0)
    hours = slots.hours[slots.kind] / 8.0
    die_off = hours[:, None] * sources.die_off[None, :rows] * draws.die_off[e]
    return np.asarray(np.exp(-die_off - LN_10 * sources.cleaning[:rows] * draws.cleaning[e] * part))


def _niches(tables: tuple[Slots, Sources, Tuning], draws: Draws, e: int) -> tuple[Floats, Floats]:
    """Level after, and shed in, every slot by source."""
    slots, sources, tuning = tables
    count, rows = len(sources.shed), sources.rows
    level, levels, sheds = np.zeros(count), [], []
    drawn = np.arange(count) < rows
    for slot in range(len(slots.unit)):
        kind = slots.kind[slot]
        running = slots.running[kind, sources.clock] / 8.0
        if slot == tuning.treated:
            level = np.where(draws.founded[e] < slot, level * draws.kept[e], level)
        level = np.where(draws.founded[e] == slot, draws.level[e], level)
        growth = sources.growth * draws.growth[e] * slots.hours[kind] / 8.0
        after, shed = _step(level, growth, sources.shed * draws.shedding[e] * running)
        level, shed = np.where(drawn, after, level), np.where(drawn, shed, sources.emitted * running * level)
        levels.append(level)
        sheds.append(np.where(draws.founded[e] <= slot, shed, 0.0))
    return np.array(levels), np.array(sheds)


def _step(level: Floats, growth: Floats, shed: Floats) -> tuple[Floats, Floats]:
    """The exact step of a niche that grows and sheds."""
    a = growth - shed
    flat, still = np.abs(a) <= TINY, growth <= TINY
    gain = level * np.where(flat, 1.0, np.expm1(a) / np.where(flat, 1.0, a))
    over = np.where(still, 1.0, growth)
    whole = np.where(still, gain, np.log1p(over * gain) / over)
    after = level * np.exp(a) / np.where(still, 1.0, 1.0 + growth * gain)
    return np.clip(after, 0.0, 1.0), shed * whole


@dataclass(frozen=True)
class _Moves:
    """One slot: where hazards lead, and how they are shared out."""

    into: csr_array
    """Hazards, shape (rows, sources)."""
    hazard: Floats
    kappa: Floats

    def applied(self, loads: Floats, shed: Floats, sources: Sources) -> tuple[Floats, Floats, Floats]:
        """Old loads that stay, loads that arrive or were shed (both after carry-off), and what arrived before it."""
        rows, own = sources.rows, np.arange(sources.rows)
        stays, moved = _old(self.hazard, self.kappa)
        fresh_stays, fresh_moved = self._fresh(rows)
        giving = csr_array(self.into * moved[None, :])[:, :rows]
        arrived = giving @ loads + (self.into * (fresh_moved * shed)[None, :]).toarray()
        new = _left(self.kappa[:rows])[:, None] * arrived
        new[own, own] += (fresh_stays * shed)[:rows]
        return stays[:rows, None] * loads, new, arrived

    def _fresh(self, rows: int) -> tuple[Floats, Floats]:
        """Shares of what is shed; incoming material never stays and no product takes it off a surface."""
        stays, moved = _fresh(self.hazard, self.kappa)
        stays[rows:], moved[rows:] = 0.0, _left(self.hazard[rows:])
        return stays, moved

    def carried(self, loads: Floats, shed: Floats, arrived: Floats, sources: Sources) -> Floats:
        """What product takes off each source's surface, shape (sources, sources)."""
        rows, all_of = sources.rows, np.arange(len(shed))
        _, fresh_moved = self._fresh(rows)
        taken = np.zeros((len(shed), len(shed)))
        taken[:rows] = (1.0 - _left(self.kappa[:rows]))[:, None] * arrived
        taken[:rows] += (_old(self.hazard, self.kappa)[1] * self.kappa)[:rows, None] * loads
        taken[all_of, all_of] += fresh_moved * self.kappa * shed
        taken[all_of[rows:], all_of[rows:]] = shed[rows:] * (1.0 - fresh_moved[rows:] * self.hazard[rows:])
        return taken


def _moves(events: Events, slots: Slots, sources: Sources, slot: int) -> _Moves:
    part = slice(events.first[slot], events.first[slot + 1])
    source, target, eta = events.source[part], events.target[part], events.eta[part]
    into = csr_array((eta, (target, source)), shape=(sources.rows, len(sources.shed)))
    hazard = np.bincount(source, weights=eta, minlength=len(sources.shed)).astype(np.float64)
    kappa = sources.carry_off * slots.running[slots.kind[slot], sources.clock] / 8.0
    return _Moves(into, hazard, kappa)


def _old(hazard: Floats, kappa: Floats) -> tuple[Floats, Floats]:
    whole = hazard + kappa
    return np.exp(-whole), _left(whole)


def _left(hazard: Floats) -> Floats:
    """(1 - e^-x) / x, which is 1 at x = 0."""
    some = hazard > TINY
    return np.where(some, -np.expm1(-hazard) / np.where(some, hazard, 1.0), 1.0)


def _fresh(hazard: Floats, kappa: Floats) -> tuple[Floats, Floats]:
    whole = hazard + kappa
    stays = _left(whole)
    some = whole > 1e-4
    return stays, np.where(some, (1.0 - stays) / np.where(some, whole, 1.0), 0.5 - whole / 6)


def _add_product(product: Floats, carried: Floats, sources: Sources) -> None:
    """Add what product took from every source's surface to its line's day, shape (lines, sources)."""
    on_line = sources.line >= 0
    np.add.at(product, sources.line[on_line], carried[on_line])
