"""Row 20: the whole of `swabwright plan` on the example, papers and labels included, as a person waits for it."""

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from time import perf_counter

from benchmarks.table import Row

ROOT = Path(__file__).resolve().parent.parent
EXAMPLE = ROOT / "examples" / "juniper-lane"
WARM_SECONDS, FIRST_SECONDS = 12.0, 40.0


def rows(full: bool) -> Iterable[Row]:
    """Wall seconds with compiled code warm and the bank cold; then the first run after set-up."""
    _seconds({})
    warm = min(_seconds({}) for _ in range(3 if full else 1))
    yield Row(
        "20",
        "plan examples/juniper-lane, compiled code warm, bank cold, PDF and labels included",
        f"{warm:.1f} s wall",
        f"{WARM_SECONDS:g} s",
        "6 s",
        warm <= WARM_SECONDS,
    )
    with tempfile.TemporaryDirectory() as compiled:
        set_up = {**os.environ, "NUMBA_CACHE_DIR": compiled}
        subprocess.run([sys.executable, "-m", "swabwright.compute.warm"], env=set_up, check=True, capture_output=True)
        first = _seconds({"NUMBA_CACHE_DIR": compiled})
    yield Row(
        "20",
        "the same, the first run after set-up",
        f"{first:.1f} s wall",
        f"{FIRST_SECONDS:g} s",
        "20 s",
        first <= FIRST_SECONDS,
        "set-up has compiled the simulation; what the choice needs is compiled in this run",
    )


def _seconds(environment: dict[str, str]) -> float:
    """Wall seconds of one run with an empty cache of banks."""
    with tempfile.TemporaryDirectory() as folder:
        begun = perf_counter()
        subprocess.run(  # noqa: S603  this very program, on the example
            [sys.executable, "-m", "swabwright.cli.main", "plan", str(EXAMPLE), "--out", f"{folder}/out"],
            env={**os.environ, **environment, "SWABWRIGHT_CACHE": f"{folder}/cache"},
            check=True,
            capture_output=True,
        )
        return perf_counter() - begun
