"""Structural copies: the plant with edges stronger, weaker, missing or added, for what its drawing may have wrong."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from swabwright.compute.draws import normals, uniforms
from swabwright.compute.keys import counters, key_hashes
from swabwright.compute.philox import WordArray, philox_words
from swabwright.spread.bank import BankName
from swabwright.spread.edges import StreamArrays, stream_arrays
from swabwright.spread.mechanisms import AREA_MECHANISMS, MECHANISMS
from swabwright.spread.purposes import Purpose, key_of
from swabwright.spread.setting import BankSetting

ADDED_WORD = 1 << 14
"""Random words of added point edges lie beyond those of drawn ones."""
HALF = float(np.sqrt(0.5))
OF_MECHANISM, OF_EDGE, OF_STREAM, OF_ADDED = range(4)
"""Last counter word of the draws: what they are for."""

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
REACHES_AREA = np.array([name in AREA_MECHANISMS for name in MECHANISMS])


@dataclass(frozen=True)
class StructuralCopy:
    """One perturbed plant: its streams, and the multipliers of its ecology."""

    streams: StreamArrays
    shedding: float
    growth: float
    cleaning: float


@dataclass(frozen=True)
class Copier:
    """Makes the structural copies of one bank; all draws hang on keys, so the drawing's order changes nothing."""

    setting: BankSetting
    bank: BankName

    @cached_property
    def drawn(self) -> StreamArrays:
        """The streams as drawn."""
        return stream_arrays(self.setting.network, self.setting.clock.clocks)

    def copy(self, number: int) -> StructuralCopy:
        """Copy `number`: edges multiplied, some dropped, some doubled to another site nearby."""
        drawn, spreads = self.drawn, self.setting.spreads
        rate, fraction = self._multipliers(self._mechanism_normals(number))
        of_stream = self._multipliers(normals(self._words(drawn.strand, number, OF_STREAM))[:, 0])
        words = self._words(drawn.edge, number, OF_EDGE)
        of_edge = self._multipliers(normals(words[:, 0]))
        to_rest = self._is_rest[drawn.target]
        kept = to_rest | (uniforms(words[:, 1]) >= spreads.dropped_share)
        doubled = ~to_rest & (uniforms(words[:, 2]) < spreads.added_share) & (drawn.share > 0)
        mechanism = drawn.mechanism[drawn.stream]
        share = drawn.share * fraction[mechanism] * of_edge * kept
        copied = replace(drawn, rate=drawn.rate * rate[drawn.mechanism] * of_stream, share=share)
        return StructuralCopy(self._with_added(copied, doubled, number), *self._ecology(number))

    def _words(self, hashes: npt.NDArray[np.uint64], number: int, what: int) -> WordArray:
        return philox_words(counters(hashes, number, what), key_of(self.setting.seed, self.bank, Purpose.STRUCTURE))

    def _multipliers(self, z: FloatArray) -> FloatArray:
        """Lognormals with half of the variance between copies: one of a mechanism and one of an edge make the whole."""
        spreads = self.setting.spreads
        sd = spreads.copy_ln_sd * HALF
        return np.asarray(np.exp(sd * z - (0.5 * sd**2 if spreads.copy_mean_one else 0.0)), dtype=np.float64)

    def _mechanism_normals(self, number: int) -> FloatArray:
        """Two rows: of the rate and of the fraction of each mechanism."""
        hashes = key_hashes(tuple(f"mechanism:{name}" for name in MECHANISMS))
        return normals(self._words(hashes, number, OF_MECHANISM))[:, :2].T

    def _ecology(self, number: int) -> tuple[float, float, float]:
        z, spreads = normals(self._words(key_hashes(("ecology",)), number, OF_MECHANISM))[0], self.setting.spreads
        sds = np.array([spreads.copy_shedding_ln_sd, spreads.copy_growth_ln_sd, spreads.copy_cleaning_ln_sd])
        shedding, growth, cleaning = np.exp(sds * z[:3]).tolist()
        return shedding, growth, cleaning

    @cached_property
    def _is_rest(self) -> BoolArray:
        return np.array([place.is_rest for place in self.setting.network.places], dtype=np.bool_)

    @cached_property
    def _nearby(self) -> BoolArray:
        """Whether each row is a site in the same or an adjoining room of each row, shape (rows, rows)."""
        places, neighbours = self.setting.network.places, self.setting.network.neighbours
        rooms = sorted({place.room for place in places})
        near = np.array([[a == b or b in neighbours.get(a, ()) for b in rooms] for a in rooms], dtype=np.bool_)
        room = np.array([rooms.index(place.room) for place in places])
        return np.asarray(near[np.ix_(room, room)] & ~self._is_rest[None, :], dtype=np.bool_)

    @cached_property
    def _hashes(self) -> tuple[npt.NDArray[np.uint64], npt.NDArray[np.uint64]]:
        """Hashes of the rows' own keys and of their families."""
        places = self.setting.network.places
        return key_hashes(tuple(p.name for p in places)), key_hashes(tuple(p.family for p in places))

    def _elsewhere(self, streams: StreamArrays, edges: npt.NDArray[np.intp], number: int) -> npt.NDArray[np.int64]:
        """Another site for each doubled edge: the one whose own word for this edge is the smallest, -1 for none.

        Each site has its own word, so a site drawn later takes over few of them and leaves the others as they were.
        """
        own, family = self._hashes
        target = streams.target[edges]
        source_family = streams.family[streams.stream[edges]]
        allowed = self._nearby[target] & (family[None] != family[target][:, None])
        allowed &= family[None] != source_family[:, None]
        mixed = streams.edge[edges][:, None] ^ own[None, :]
        words = self._words(mixed, number, OF_ADDED)[:, :, 0].astype(np.float64)
        chosen = np.where(allowed, words, np.inf).argmin(axis=1)
        return np.where(allowed.any(axis=1), chosen, -1).astype(np.int64)

    def _with_added(self, copied: StreamArrays, doubled: BoolArray, number: int) -> StreamArrays:
        """Doubled edges of an area mechanism join its stream; those of a point mechanism become streams."""
        edges = np.flatnonzero(doubled)
        rows = self._elsewhere(copied, edges, number)
        edges, rows = edges[rows >= 0], rows[rows >= 0]
        share = self.drawn.share[edges]
        of, reaches = copied.stream[edges], REACHES_AREA[copied.mechanism[copied.stream[edges]]]
        points = of[~reaches]
        stream = np.where(reaches, of, len(copied.source) + np.cumsum(~reaches) - 1)
        return StreamArrays(
            source=np.concatenate([copied.source, copied.source[points]]),
            mechanism=np.concatenate([copied.mechanism, copied.mechanism[points]]),
            clock=np.concatenate([copied.clock, copied.clock[points]]),
            rate=np.concatenate([copied.rate, copied.rate[points]]),
            fraction=np.concatenate([copied.fraction, copied.fraction[points]]),
            family=np.concatenate([copied.family, copied.family[points]]),
            strand=np.concatenate([copied.strand, copied.strand[points]]),
            word=np.concatenate([copied.word, copied.word[points] + ADDED_WORD]),
            stream=np.concatenate([copied.stream, stream]),
            target=np.concatenate([copied.target, rows]),
            share=np.concatenate([copied.share, share]),
            edge=np.concatenate([copied.edge, copied.edge[edges]]),
        ).ordered()
