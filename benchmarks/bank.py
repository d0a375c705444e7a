"""Speed and memory of the response bank: rows 1, 3, 22 and 23.

Reference plant: 200 invented sites, thinned to 9 edges a site, rates scaled to about 12,000 transfers a history, 37
slots of 8 h, product load kept on the last two days. Times are process CPU seconds on one thread, compiled code warm.
"""

import subprocess
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from time import perf_counter, process_time

import numpy as np

from benchmarks.table import Row
from benchmarks.world.plants import make_plant
from swabwright.compute.keys import key_hash
from swabwright.plant.registry import load_catalogue
from swabwright.plant.space import FloorSpace
from swabwright.spread.bank import Occasion
from swabwright.spread.blocks import BLOCK, Simulator
from swabwright.spread.build import Workshop, build_bank
from swabwright.spread.histories import draw_histories, in_copy
from swabwright.spread.network import ContactNetwork, contact_network
from swabwright.spread.occasions import Timeline
from swabwright.spread.plain import plain_codes, plain_history
from swabwright.spread.plain_events import plain_events
from swabwright.spread.setting import BankSetting, Subject, bank_setting
from swabwright.spread.streams import Stream

VISIT = datetime(2026, 3, 16, 9, tzinfo=UTC)
SLOTS, SLOT_HOURS = 37, 8.0
EDGES_A_SITE = 9
BUSIER = 1.6
"""Rates are raised by this factor, so that the thinned plant has about 12,000 transfers a history."""
WHOLE_HASH = 2.0**64


def rows(*, full: bool) -> Iterable[Row]:
    """The rows of this module; `full` measures growth up to 400 sites and 2,000 histories."""
    setting = reference_setting(200)
    yield bank_speed(setting)
    yield against_plain(setting)
    yield peak_memory()
    yield growth((50, 100, 200, 400) if full else (50, 100, 200))


def reference_setting(sites: int, seed: int = 1) -> BankSetting:
    """The setting of the reference plant with so many sites."""
    catalogue = load_catalogue()
    plant = make_plant(catalogue, seed=seed, sites=sites)
    network = thinned(contact_network(plant, catalogue, FloorSpace(plant)), sites * EDGES_A_SITE)
    days = (date(2026, 3, 15), date(2026, 3, 16))
    hours = (VISIT - timedelta(hours=1), VISIT + timedelta(hours=4))
    timeline = Timeline((Occasion("visit", VISIT, "rulebook_hour"),), hours, (), days, VISIT)
    setting = bank_setting(network, plant, catalogue, timeline, Subject("listeria_monocytogenes", seed))
    return even_slots(setting)


def even_slots(setting: BankSetting) -> BankSetting:
    """The same with 37 slots of 8 h, every day a working day with a night clean."""
    clock = setting.clock
    usual = np.flatnonzero((clock.hours == SLOT_HOURS) & (clock.running.sum(axis=1) > 0))[0]
    day = [usual - 1, usual, usual + 1]
    of = np.resize(day, SLOTS)
    return replace(
        setting,
        clock=replace(
            clock,
            unit=clock.unit[0] + 4 * np.arange(SLOTS),
            hours=np.full(SLOTS, SLOT_HOURS),
            running=clock.running[of],
            day=np.where(np.arange(SLOTS) >= SLOTS - 6, np.arange(SLOTS) % 2, -1).astype(np.int32),
            read=np.array([SLOTS - 3], dtype=np.int32),
            cleanings=tuple(clock.cleanings[slot] for slot in of),
        ),
    )


def thinned(network: ContactNetwork, edges: int) -> ContactNetwork:
    """The network with about so many edges, picked by hash, and busier in turn."""
    share = min(1.0, edges / network.edges)
    streams = [_thinned(stream, network, share) for stream in network.streams]
    return replace(network, streams=tuple(stream for stream in streams if stream.targets))


def _thinned(stream: Stream, network: ContactNetwork, share: float) -> Stream:
    names = network.row_names
    kept = tuple(
        target
        for target in stream.targets
        if key_hash(f"{stream.family}{stream.name}{names[target.row]}") / WHOLE_HASH < share
    )
    return replace(stream, targets=kept, rate_per_8h=stream.rate_per_8h * BUSIER)


def cpu_seconds(work: Callable[[], object], repeats: int = 3) -> float:
    """The least process CPU time of a few runs, the first of them not counted."""
    work()
    times = []
    for _ in range(repeats):
        start = process_time()
        work()
        times.append(process_time() - start)
    return min(times)


def bank_speed(setting: BankSetting) -> Row:
    """Row 1: 1,000 histories on one thread, and what a second thread brings."""
    one = cpu_seconds(lambda: build_bank(setting, bank="A", histories=1000, workshop=Workshop(workers=1)))
    walls = {workers: _wall(setting, workers) for workers in (1, 2)}
    transfers = int(Simulator(setting, "A").block(0).transfers[0]) // BLOCK
    faster = walls[1] / walls[2]
    return Row(
        number="1",
        measure="bank of 1,000 histories, 200 sites, one occasion, 37 slots, one core",
        measured=f"{one:.2f} s CPU; two threads {faster:.2f}x by wall; {transfers:,} transfers a history",
        must="<= 1.5 s",
        aim="<= 0.9 s; two cores >= 1.8x",
        met=one <= 1.5,
        note=f"{setting.network.edges:,} edges; structural copies and history draws included",
    )


def _wall(setting: BankSetting, workers: int) -> float:
    start = perf_counter()
    build_bank(setting, bank="A", histories=1000, workshop=Workshop(workers=workers))
    return perf_counter() - start


def against_plain(setting: BankSetting, histories: int = 20) -> Row:
    """Row 3: the compiled form against the NumPy and SciPy form on the same histories, in the same run."""
    simulator = Simulator(setting, "A")
    copy, *_ = simulator.copies[0]
    numbers = np.arange(0, histories * 20, 20)
    draws = in_copy(draw_histories(setting, "A", numbers), np.arange(histories), copy)
    compiled = cpu_seconds(lambda: simulator.store_of(0, draws))
    plain = cpu_seconds(lambda: [plain_one(simulator, draws, e) for e in range(histories)], repeats=1)
    return Row(
        number="3",
        measure="compiled against the NumPy/SciPy form of the same model",
        measured=f"{plain / compiled:.1f}x ({plain / histories * 1000:.1f} s a 1,000 histories without a compiler)",
        must=">= 6x",
        aim=">= 9x",
        met=plain / compiled >= 6,
    )


def plain_one(simulator: Simulator, draws, e):  # type: ignore[no-untyped-def]
    """One history by the plain form, its loads coded as the bank keeps them."""
    _, lanes, streams = simulator.copies[0]
    tables = (lanes, streams, simulator.slots, simulator.tuning)
    events = plain_events(tables, draws.rate[e], draws.fraction[e], int(draws.history[e]))
    history = plain_history(events, (simulator.slots, simulator.sources, simulator.tuning), draws, e)
    return plain_codes(history, simulator.tuning.cutoff)


MEMORY_SCRIPT = """
import resource
from benchmarks.bank import memory_setting
from swabwright.spread.build import Workshop, build_bank
bank = build_bank(memory_setting(), bank="A", histories=1500, workshop=Workshop(workers=1))
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6, bank.row_index.nbytes * 2 / 1e6)
"""


def memory_setting() -> BankSetting:
    """250 sites read on four occasions."""
    setting = reference_setting(250)
    visit = setting.clock.occasions[0]
    read = np.array([SLOTS - 12, SLOTS - 9, SLOTS - 6, SLOTS - 3], dtype=np.int32)
    return replace(setting, clock=replace(setting.clock, occasions=(visit,) * 4, read=read))


def peak_memory() -> Row:
    """Row 22: the peak of a whole process that builds the bank of 250 sites, 4 occasions, 1,500 histories."""
    done = subprocess.run(  # noqa: S603  our own interpreter, our own text
        [sys.executable, "-c", MEMORY_SCRIPT],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).resolve().parents[1],
    )
    peak_gb, entries_mb = (float(word) for word in done.stdout.split())
    return Row(
        number="22",
        measure="peak memory, 250 sites, 4 occasions, 1,500 histories",
        measured=f"{peak_gb:.2f} GB, of which entries {entries_mb:.0f} MB",
        must="<= 0.5 GB",
        aim="0.3 GB",
        met=peak_gb <= 0.5,
        note="the whole process, interpreter and libraries included",
    )


@dataclass(frozen=True)
class Growth:
    """CPU seconds by size."""

    sizes: tuple[int, ...]
    seconds: tuple[float, ...]

    @property
    def exponent(self) -> float:
        """Slope of log seconds over log size, by least squares."""
        return float(np.polyfit(np.log(self.sizes), np.log(self.seconds), 1)[0])


def growth(sizes: tuple[int, ...]) -> Row:
    """Row 23: how time grows with sites and with histories."""
    of_sites = Growth(sizes, tuple(cpu_seconds(_blocks(reference_setting(n), 5), 2) * 2 for n in sizes))
    setting = reference_setting(100)
    counts = (3, 6, 12)
    of_histories = Growth(counts, tuple(cpu_seconds(_blocks(setting, n), 3) for n in counts))
    most = of_sites.seconds[-1]
    met = of_sites.exponent <= 1.5 and 0.95 <= of_histories.exponent <= 1.05 and (sizes[-1] < 400 or most <= 3)
    return Row(
        number="23",
        measure=f"growth: exponent in sites {sizes} / in histories / seconds at {sizes[-1]} sites",
        measured=f"{of_sites.exponent:.2f} / {of_histories.exponent:.2f} / {most:.2f} s a 1,000 histories",
        must="<= 1.5 / 0.95-1.05 / 3 s at 400",
        aim="1.3 / 1.0 / 2 s",
        met=met,
    )


def _blocks(setting: BankSetting, count: int) -> Callable[[], object]:
    simulator = Simulator(setting, "A")
    return lambda: [simulator.block(number) for number in range(count)]
