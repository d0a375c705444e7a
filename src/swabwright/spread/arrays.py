"""From documents to kernel tables: copies, clock and ecology as arrays."""

import numpy as np

from swabwright.compute.draws import lognormal_steps
from swabwright.compute.keys import key_hashes
from swabwright.spread.bank import BankName
from swabwright.spread.clock import Clock
from swabwright.spread.copies import StructuralCopy
from swabwright.spread.mechanisms import NUMBERS
from swabwright.spread.network import ContactNetwork
from swabwright.spread.purposes import Purpose, key_of
from swabwright.spread.schedule import CleaningEnd
from swabwright.spread.setting import BankSetting
from swabwright.spread.spreads import Spreads
from swabwright.spread.tables import Lanes, Slots, Sources, Streams, Tuning

LANES = 4
SIZE_STEPS = 4096
LOW_32 = np.uint64(0xFFFFFFFF)
SHIFT_32 = np.uint64(32)


def stream_tables(copy: StructuralCopy, clock: Clock) -> tuple[Lanes, Streams]:
    """Lanes and streams of one copy; a stream that is off or has nothing to give becomes a hole."""
    pairs = [
        (stream, shares)
        for stream, shares in zip(copy.streams, copy.shares, strict=True)
        if stream.on and stream.rate_per_8h > 0 and sum(shares) > 0
    ]
    streams = [stream for stream, _ in pairs]
    hashes = key_hashes(tuple(stream.family for stream in streams))
    table = Streams(
        source=np.array([stream.source for stream in streams], dtype=np.int32),
        mechanism=np.array([NUMBERS[stream.mechanism] for stream in streams], dtype=np.int32),
        fraction=np.array([stream.fraction for stream in streams], dtype=np.float64),
        low=hashes & LOW_32,
        high=hashes >> SHIFT_32,
        index=np.array([stream.index for stream in streams], dtype=np.uint64),
        first=np.cumsum([0] + [len(stream.targets) for stream in streams]).astype(np.int32),
        target=np.array([target.row for stream in streams for target in stream.targets], dtype=np.int32),
        share=np.array([share for _, shares in pairs for share in shares], dtype=np.float64),
    )
    rates = np.array([stream.rate_per_8h for stream in streams], dtype=np.float64)
    clocks = np.array([clock.clocks.index(stream.clock) for stream in streams], dtype=np.int32)
    return _lanes(table, rates, clocks), table


def _lanes(table: Streams, rates: np.ndarray, clocks: np.ndarray) -> Lanes:  # type: ignore[type-arg]
    """Blocks of four permanent indices; streams come in order of source and index, so blocks do too."""
    block_of = np.stack([table.source.astype(np.int64), (table.index // LANES).astype(np.int64)], axis=1)
    blocks, position = np.unique(block_of, axis=0, return_inverse=True)
    count = len(blocks)
    lane = position.reshape(-1) * LANES + (table.index % LANES).astype(np.int64)
    low, high = np.zeros(count, np.uint64), np.zeros(count, np.uint64)
    low[position.reshape(-1)], high[position.reshape(-1)] = table.low, table.high
    return Lanes(
        low=low,
        high=high,
        block=blocks[:, 1].astype(np.uint64),
        stream=_spread(lane, np.arange(len(rates)), count, -1, np.int32),
        rate=_spread(lane, rates, count, 0.0, np.float64),
        mechanism=_spread(lane, table.mechanism, count, 0, np.int32),
        clock=_spread(lane, clocks, count, 0, np.int32),
    )


def _spread(lane, values, blocks, hole, kind):  # type: ignore[no-untyped-def]
    laid = np.full(blocks * LANES, hole, dtype=kind)
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
    )
