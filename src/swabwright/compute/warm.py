"""`python -m swabwright.compute.warm`: compile every kernel once, so that the first plan does not wait for it.

Packages above this one name their own warm-up as an entry `warm_up` in a module listed here by name only: this
package imports none of them, the modules are looked up when the command runs.
"""

import sys
from collections.abc import Iterator
from importlib import import_module
from importlib.util import find_spec
from time import perf_counter

from swabwright.compute.kernels import forget_stale_kernels

WARMED = ("swabwright.spread.warm_up", "swabwright.detection.warm_up", "swabwright.belief.warm_up")
ENTRY = "warm_up"


def warmed() -> Iterator[tuple[str, float]]:
    """Run every warm-up there is; yields its package and the seconds it took."""
    forget_stale_kernels()
    for name in WARMED:
        if find_spec(name) is not None:
            start = perf_counter()
            getattr(import_module(name), ENTRY)()
            yield name.split(".")[1], perf_counter() - start


def main() -> int:
    """Print one line a package."""
    for package, seconds in warmed():
        sys.stdout.write(f"compiled {package}: {seconds:.1f} s\n")
        sys.stdout.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
