"""The streams of a network as arrays, with the hashes that the draws of every edge hang on."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.compute.keys import key_hashes
from swabwright.spread.mechanisms import NUMBERS
from swabwright.spread.network import ContactNetwork

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Longs = npt.NDArray[np.uint64]


@dataclass(frozen=True)
class StreamArrays:
    """Streams that can happen, in order of source and permanent index, and their edges.

    Per stream: source, mechanism, clock, rate in 8 running hours, fraction, hash of the source's family, hash of
    (family, mechanism), permanent index (word). Per edge: its stream, target row, share, hash of (source family,
    target family, mechanism). Edges stand in the order of their streams.
    """

    source: Ints
    mechanism: Ints
    clock: Ints
    rate: Floats
    fraction: Floats
    family: Longs
    strand: Longs
    word: Ints
    stream: Ints
    target: Ints
    share: Floats
    edge: Longs

    def ordered(self) -> "StreamArrays":
        """The same with streams sorted by source and index, edges by stream; ties keep their order."""
        order = np.lexsort((self.word, self.source))
        rank = np.empty_like(order)
        rank[order] = np.arange(len(order))
        edges = np.argsort(rank[self.stream], kind="stable")
        of_streams = ("source", "mechanism", "clock", "rate", "fraction", "family", "strand", "word")
        return StreamArrays(
            **{name: getattr(self, name)[order] for name in of_streams},
            stream=rank[self.stream][edges],
            target=self.target[edges],
            share=self.share[edges],
            edge=self.edge[edges],
        )


def stream_arrays(network: ContactNetwork, clocks: tuple[str, ...]) -> StreamArrays:
    """The arrays of a network; streams that are switched off or never happen are left out."""
    streams = [stream for stream in network.streams if stream.on and stream.rate_per_8h > 0]
    pairs = [(number, stream, n) for number, stream in enumerate(streams) for n in range(len(stream.targets))]
    families = [network.places[stream.targets[n].row].family for _, stream, n in pairs]
    return StreamArrays(
        source=np.array([stream.source for stream in streams], dtype=np.int64),
        mechanism=np.array([NUMBERS[stream.mechanism] for stream in streams], dtype=np.int64),
        clock=np.array([clocks.index(stream.clock) for stream in streams], dtype=np.int64),
        rate=np.array([stream.rate_per_8h for stream in streams], dtype=np.float64),
        fraction=np.array([stream.fraction for stream in streams], dtype=np.float64),
        family=key_hashes(tuple(stream.family for stream in streams)),
        strand=key_hashes(tuple(f"{stream.family}:{stream.mechanism}" for stream in streams)),
        word=np.array([stream.index for stream in streams], dtype=np.int64),
        stream=np.array([number for number, _, _ in pairs], dtype=np.int64),
        target=np.array([stream.targets[n].row for _, stream, n in pairs], dtype=np.int64),
        share=np.array([share for stream in streams for share in stream.shares], dtype=np.float64),
        edge=key_hashes(
            tuple(
                f"{stream.family}>{family}:{stream.mechanism}"
                for (_, stream, _), family in zip(pairs, families, strict=True)
            )
        ),
    )
