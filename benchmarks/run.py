"""Runs every benchmark and prints measured figures beside their bars: `./check bench [--full]`.

A benchmark is a module of this folder with `rows(full: bool) -> Iterable[Row]`; speed is measured in process CPU
or wall seconds as each row says, ratios always against a baseline of the same run.
"""

import argparse
import sys
from importlib import import_module
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[0] = str(HERE.parent)  # not this folder: its modules must not stand in for the standard library

from benchmarks.table import printed  # noqa: E402  the folder's parent must be on the path first

MODULES = (
    "bank",
    "chooser",
    "walk",
    "whole_run",
    "statistics",
    "record",
    "scan",
    "inference",
    "calibration",
    "calibration_world",
    "find_rates",
    "inference_rounds",
    "next_visit",
    "clearance",
)


def main() -> int:
    """Print the whole table; 1 when any bar is missed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--full", action="store_true", help="the whole numbers instead of the small ones")
    parser.add_argument("--only", choices=MODULES, action="append", help="run only this module")
    arguments = parser.parse_args()
    missed = False
    for module in arguments.only or MODULES:
        rows = list(import_module(f"benchmarks.{module}").rows(full=arguments.full))
        print(printed(rows), flush=True)
        missed |= any(row.met is False for row in rows)
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
