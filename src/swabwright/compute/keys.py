"""Keys and counters of the random streams: who draws, in which history, when."""

from hashlib import blake2b

import numpy as np
import numpy.typing as npt

LOW_32 = 0xFFFFFFFF
PURPOSES = 64
"""Room in the second key word for the purposes of one bank."""


def key_hash(text: str) -> int:
    """The 64-bit hash of a permanent key; what a site's random streams hang on (BLAKE2b, RFC 7693)."""
    return int.from_bytes(blake2b(text.encode(), digest_size=8).digest(), "little")


def key_hashes(texts: tuple[str, ...]) -> npt.NDArray[np.uint64]:
    """The 64-bit hashes of several keys, in their order."""
    return np.array([key_hash(text) for text in texts], dtype=np.uint64)


def stream_key(seed: int, bank: int, purpose: int) -> tuple[int, int]:
    """The Philox key of one purpose in one bank under a seed of up to 64 bits."""
    return (seed ^ (seed >> 32)) & LOW_32, (bank * PURPOSES + purpose) & LOW_32


def counters(hashes: npt.NDArray[np.uint64], third: npt.ArrayLike, fourth: npt.ArrayLike) -> npt.NDArray[np.uint64]:
    """Counters (..., 4) from 64-bit hashes and two further 32-bit words, broadcast against each other."""
    low, high = hashes & np.uint64(LOW_32), hashes >> np.uint64(32)
    words = np.broadcast_arrays(low, high, np.asarray(third, np.uint64), np.asarray(fourth, np.uint64))
    return np.stack(words, axis=-1)
