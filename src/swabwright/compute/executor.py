"""Where work runs: the same function over many chunks, on as many threads as asked."""

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

Chunk = TypeVar("Chunk")
Answer = TypeVar("Answer")


def map_chunks(work: Callable[[Chunk], Answer], chunks: Sequence[Chunk], workers: int) -> Iterator[Answer]:
    """The answers of `work` in the order of the chunks, whatever the number of workers.

    Threads suffice because compiled kernels let go of the interpreter; the first fault stops the rest.
    """
    if workers <= 1 or len(chunks) <= 1:
        yield from map(work, chunks)
        return
    with ThreadPoolExecutor(max_workers=workers) as pool:
        futures = deque(pool.submit(work, chunk) for chunk in chunks)
        try:
            while futures:  # an answer handed on is let go of, so that no two are held at once
                yield futures.popleft().result()
        finally:
            for future in futures:
                future.cancel()
