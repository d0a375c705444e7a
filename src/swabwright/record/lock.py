"""One writer at a time: a lock that the system gives back when the process ends, however it ends."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from swabwright.errors import SwabwrightError

if sys.platform == "win32":  # pragma: no cover
    import msvcrt

    def _take(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextmanager
def only_writer(path: Path) -> Iterator[None]:
    """Hold the lock file at `path`; refused at once when another process holds it."""
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
    try:
        try:
            _take(handle)
        except OSError as error:
            raise SwabwrightError(
                f"{path.parent} is being written by another process; wait until it has finished, then try again"
            ) from error
        yield
    finally:
        os.close(handle)
