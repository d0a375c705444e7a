"""From documents to kernel tables: copies, clock and ecology as arrays."""

import numpy as np
import numpy.typing as npt

from swabwright.compute.draws import lognormal_steps
from swabwright.compute.keys import key_hashes
from swabwright.spread.bank import BankName
from swabwright.spread.edges import StreamArrays
from swabwright.spread.network import ContactNetwork
from swabwright.spread.purposes import Purpose, key_of
from swabwright.spread.schedule import CleaningEnd
from swabwright.spread.setting import BankSetting
from swabwright.spread.spreads import Spreads
from swabwright.spread.tables import Floats, Lanes, Slots, Sources, Streams, Tuning

LANES = 4
SIZE_STEPS = 4096
LOW_32 = np.uint64(0xFFFFFFFF)
SHIFT_32 = np.uint64(32)


def stream_tables(streams: StreamArrays) -> tuple[Lanes, Streams]:
    """Lanes and streams of one copy; edges with no share are left out, a stream without edges becomes a hole."""
    count = len(streams.source)
    given = streams.share > 0
    of = streams.stream[given]
    has_edges = np.bincount(of, minlength=count) > 0
    table = Streams(
        source=streams.source.astype(np.int32),
        mechanism=streams.mechanism.astype(np.int32),
        fraction=streams.fraction,
        low=streams.family & LOW_32,
        high=streams.family >> SHIFT_32,
        word=streams.word.astype(np.uint64),
        first=np.searchsorted(of, np.arange(count + 1)).astype(np.int32),
        target=streams.target[given].astype(np.int32),
        share=streams.share[given],
    )
    return _lanes(streams, np.where(has_edges, streams.rate, 0.0)), table


def _lanes(streams: StreamArrays, rates: Floats) -> Lanes:
    """Blocks of four permanent indices of one source, in order of source and index."""
    pairs = np.stack([streams.source, streams.word // LANES], axis=1)
    blocks, position = np.unique(pairs, axis=0, return_inverse=True)
    block = position.reshape(-1)
    lane = block * LANES + streams.word % LANES
    family = np.zeros(len(blocks), np.uint64)
    family[block] = streams.family
    empty = np.zeros(len(blocks) * LANES)
    return Lanes(
        low=family & LOW_32,
        high=family >> SHIFT_32,
        block=blocks[:, 1].astype(np.uint64),
        stream=_laid(empty - 1, lane, np.arange(len(rates))).astype(np.int32),
        rate=_laid(empty, lane, rates),
        mechanism=_laid(empty, lane, streams.mechanism).astype(np.int32),
        clock=_laid(empty, lane, streams.clock).astype(np.int32),
    )


def _laid(holes: Floats, lane: npt.NDArray[np.int64], values: npt.ArrayLike) -> Floats:
    """The values at their lanes, holes elsewhere."""
    laid = holes.copy()
    laid[lane] = values
    return laid


def slot_table(setting: BankSetting) -> Slots:
    """The clock as arrays; slots that are alike in length and running hours share a kind."""
    clock, network = setting.clock, setting.network
    pattern = np.column_stack([clock.hours, clock.running])
    kinds, kind = np.unique(pattern, axis=0, return_inverse=True)
    order = np.argsort(clock.read, kind="stable")
    return Slots(
        unit=clock.unit.astype(np.uint64),
        kind=kind.reshape(-1).astype(np.int32),
        hours=np.ascontiguousarray(kinds[:, 0]),
        running=np.ascontiguousarray(kinds[:, 1:]),
        day=clock.day,
        cleaned=np.array([_cleaned(network, setting.spreads, ends) for ends in clock.cleanings], dtype=np.float64),
        read_first=np.searchsorted(clock.read[order], np.arange(clock.slots + 1)).astype(np.int32),
        reads=order.astype(np.int32),
    )


def _cleaned(network: ContactNetwork, spreads: Spreads, ends: tuple[CleaningEnd, ...]) -> list[float]:
    """Part of a full cleaning that each source gets in one slot: the most thorough one counts."""
    parts = {"full": 1.0, "rinse": spreads.rinse_part, "dry": spreads.dry_part}
    per_row = [
        max((parts[end.kind] for end in ends if place.room in end.rooms or _on(end, place.site)), default=0.0)
        for place in network.places
    ]
    return per_row + [0.0] * len(network.lines)


def _on(end: CleaningEnd, site: object) -> bool:
    return getattr(site, "line", None) in end.lines


def source_table(setting: BankSetting) -> Sources:
    """The ecology of every source as arrays."""
    network, ecology = setting.network, setting.ecology
    families = tuple(place.family for place in network.places) + tuple(f"line:{line}" for line in network.lines)
    hashes = key_hashes(families)
    return Sources(
        rows=len(network.places),
        low=hashes & LOW_32,
        high=hashes >> SHIFT_32,
        clock=np.array([setting.clock.clocks.index(clock) for clock in ecology.clock], dtype=np.int32),
        shed=ecology.shed,
        growth=ecology.growth,
        cleaning=ecology.cleaning,
        die_off=ecology.die_off,
        fast_survival=ecology.fast_survival,
        carry_off=ecology.carry_off,
        emitted=ecology.emitted,
        line=ecology.line,
    )


def tuning(setting: BankSetting, bank: BankName) -> Tuning:
    """Keys and numbers common to all histories of a bank."""
    spreads, seed = setting.spreads, setting.seed
    sizes = lognormal_steps(spreads.event_size_ln_sd, SIZE_STEPS, mean_one=spreads.event_size_mean_one)
    return Tuning(
        event_key=np.array(key_of(seed, bank, Purpose.EVENT), dtype=np.uint64),
        size_key=np.array(key_of(seed, bank, Purpose.SIZE), dtype=np.uint64),
        clean_key=np.array(key_of(seed, bank, Purpose.CLEANING), dtype=np.uint64),
        sizes=sizes,
        failure_share=spreads.failure_share,
        failed_part=spreads.failed_part,
        cutoff=setting.cutoff,
        lines=len(setting.network.lines),
        days=max(1, len(setting.clock.days)),
        occasions=len(setting.clock.occasions),
        treated=setting.treated_slot,
    )
