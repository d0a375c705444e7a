"""Structural copies: the same plant with edges stronger, weaker, missing or added, for what the drawing may have wrong."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.compute.draws import normals, uniforms
from swabwright.compute.keys import counters, key_hashes
from swabwright.compute.philox import philox_words
from swabwright.spread.bank import BankName
from swabwright.spread.mechanisms import AREA_MECHANISMS, MECHANISMS, NUMBERS
from swabwright.spread.network import ContactNetwork
from swabwright.spread.places import Place
from swabwright.spread.purposes import Purpose, key_of
from swabwright.spread.setting import BankSetting
from swabwright.spread.spreads import Spreads
from swabwright.spread.streams import Stream

ADDED_INDEX = 1 << 14
"""Random words of added edges lie beyond those of drawn ones."""
HALF = float(np.sqrt(0.5))

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True)
class StructuralCopy:
    """One perturbed plant: its streams, with the shares of their targets as multiplied, and its ecology's multipliers."""

    streams: tuple[Stream, ...]
    shares: tuple[tuple[float, ...], ...]
    shedding: float
    growth: float
    cleaning: float


@dataclass(frozen=True)
class EdgeDraws:
    """Draws of every edge of a network in one copy, in the order of streams and their targets."""

    rate: FloatArray
    """Standard normal, one a stream."""
    share: FloatArray
    """Standard normal, one an edge."""
    kept: FloatArray
    """Uniform, one an edge: dropped where below the dropped share."""
    added: FloatArray
    """Uniform, one an edge: doubled elsewhere where below the added share."""


def structural_copy(setting: BankSetting, bank: BankName, number: int) -> StructuralCopy:
    """Copy `number` of a bank's plant; its draws hang on keys, so that the drawing's order changes nothing."""
    spreads, network = setting.spreads, setting.network
    rates, fractions = ([_multiplier(spreads, z) for z in row] for row in _mechanism_draws(setting.seed, bank, number))
    draws = _edge_draws(setting, bank, number)
    streams, shares = [], []
    edge = 0
    for k, stream in enumerate(network.streams):
        count = len(stream.targets)
        part = slice(edge, edge + count)
        edge += count
        mechanism = NUMBERS[stream.mechanism]
        factor = rates[mechanism] * _multiplier(spreads, draws.rate[k])
        kept = [
            share * fractions[mechanism] * _multiplier(spreads, z) * _is_kept(network.places, spreads, target.row, u)
            for share, target, z, u in zip(
                stream.shares, stream.targets, draws.share[part], draws.kept[part], strict=True
            )
        ]
        streams.append(replace(stream, rate_per_8h=stream.rate_per_8h * factor))
        shares.append(tuple(kept))
    drawn = StructuralCopy(tuple(streams), tuple(shares), *_ecology_draws(setting, bank, number))
    return _with_added(setting, drawn, draws.added, (bank, number))


def _multiplier(spreads: Spreads, z: float) -> float:
    """A lognormal with half of the variance between copies; two of them make the whole."""
    sd = spreads.copy_ln_sd * HALF
    return float(np.exp(sd * z - (0.5 * sd**2 if spreads.copy_mean_one else 0.0)))


def _is_kept(places: tuple[Place, ...], spreads: Spreads, row: int, u: float) -> bool:
    return places[row].is_rest or u >= spreads.dropped_share


def _mechanism_draws(seed: int, bank: BankName, number: int) -> FloatArray:
    hashes = key_hashes(tuple(f"mechanism:{name}" for name in MECHANISMS))
    words = philox_words(counters(hashes, number, 0), key_of(seed, bank, Purpose.STRUCTURE))
    return normals(words)[:, :2].T


def _ecology_draws(setting: BankSetting, bank: BankName, number: int) -> tuple[float, float, float]:
    hashes = key_hashes(("ecology",))
    words = philox_words(counters(hashes, number, 0), key_of(setting.seed, bank, Purpose.STRUCTURE))
    z, spreads = normals(words)[0], setting.spreads
    sds = (spreads.copy_shedding_ln_sd, spreads.copy_growth_ln_sd, spreads.copy_cleaning_ln_sd)
    shedding, growth, cleaning = (float(np.exp(sd * draw)) for sd, draw in zip(sds, z[:3], strict=True))
    return shedding, growth, cleaning


def edge_families(network: ContactNetwork) -> Iterator[str]:
    """The name on which the draws of each edge hang: pieces of a split site share it."""
    for stream in network.streams:
        for target in stream.targets:
            yield f"{stream.family}>{network.places[target.row].family}:{stream.mechanism}"


def _edge_draws(setting: BankSetting, bank: BankName, number: int) -> EdgeDraws:
    network, key = setting.network, key_of(setting.seed, bank, Purpose.STRUCTURE)
    edges = key_hashes(tuple(edge_families(network)))
    streams = key_hashes(tuple(f"{stream.family}:{stream.mechanism}" for stream in network.streams))
    words = philox_words(counters(edges, number, 1), key)
    return EdgeDraws(
        rate=normals(philox_words(counters(streams, number, 2), key))[:, 0],
        share=normals(words)[:, 0],
        kept=uniforms(words)[:, 1],
        added=uniforms(words)[:, 2],
    )


def _with_added(
    setting: BankSetting, copy: StructuralCopy, added: FloatArray, which: tuple[BankName, int]
) -> StructuralCopy:
    """The copy with some edges doubled to another site of the same or an adjoining room."""
    network, edge = setting.network, 0
    streams, shares = list(copy.streams), list(copy.shares)
    for k, stream in enumerate(copy.streams):
        for n, target in enumerate(stream.targets):
            doubled = added[edge] < setting.spreads.added_share and not network.places[target.row].is_rest
            edge += 1
            if doubled and stream.shares[n] > 0:
                row = _elsewhere(setting, stream, target.row, which)
                if stream.mechanism in AREA_MECHANISMS:
                    streams[k] = replace(streams[k], targets=(*streams[k].targets, replace(target, row=row)))
                    shares[k] = (*shares[k], stream.shares[n])
                else:
                    streams.append(
                        replace(stream, targets=(replace(target, row=row),), index=stream.index + ADDED_INDEX)
                    )
                    shares.append((stream.shares[n],))
    order = sorted(range(len(streams)), key=lambda k: (streams[k].source, streams[k].index))
    return replace(copy, streams=tuple(streams[k] for k in order), shares=tuple(shares[k] for k in order))


def _elsewhere(setting: BankSetting, stream: Stream, row: int, which: tuple[BankName, int]) -> int:
    """Another site for an edge: the one whose own draw for this edge is smallest, so that new sites change little."""
    network = setting.network
    places = network.places
    home = places[row].room
    rooms = {home, *network.neighbours.get(home, ())}
    source = places[stream.source].family if stream.source < len(places) else stream.family
    rows = [
        to
        for to, p in enumerate(places)
        if not p.is_rest and p.room in rooms and p.family not in (source, places[row].family)
    ]
    if not rows:
        return row
    bank, number = which
    hashes = key_hashes(
        tuple(f"{stream.family}>{places[row].family}:{stream.mechanism}>{places[to].name}" for to in rows)
    )
    words = philox_words(counters(hashes, number, 3), key_of(setting.seed, bank, Purpose.STRUCTURE))
    return rows[int(np.argmin(words[:, 0]))]
