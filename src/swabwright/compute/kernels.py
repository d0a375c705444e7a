"""Compiled code kept on disk: what is older than any source it may have been made from is thrown away.

The compiler keys what it keeps by the file of the compiled function alone, so a change in another file whose code
it took in would go unseen, and an old answer would come out of new sources.
"""

from collections.abc import Iterator
from functools import cache
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1]
COMPILED_WITH = "njit"
INDEX = "*.nbi"


@cache
def forget_stale_kernels(package: Path = PACKAGE) -> int:
    """Remove kept indices of compiled code that are older than the newest compiled source; says how many."""
    newest = max((path.stat().st_mtime for path in compiled_sources(package)), default=0.0)
    stale = [index for index in package.rglob(INDEX) if _modified(index) < newest]
    for index in stale:
        index.unlink(missing_ok=True)
    return len(stale)


def compiled_sources(package: Path = PACKAGE) -> Iterator[Path]:
    """The source files that hold compiled functions."""
    return (path for path in package.rglob("*.py") if COMPILED_WITH in path.read_text(encoding="utf-8"))


def _modified(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:  # another process may have removed it meanwhile
        return float("inf")
