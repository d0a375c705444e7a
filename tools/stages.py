"""The stages of ./check: each a command, its seconds printed, the first red one ends the run by its name."""

import os
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass

from machine import tool_environment
from packages import PYTHON, VENV
from steps import ROOT, say

BIN = VENV / "bin"
WORKERS = 2
USAGE = 2


@dataclass(frozen=True)
class Stage:
    """One thing checked: its name, the command, and what usually mends it."""

    name: str
    command: tuple[str, ...]
    mend: str


FORMAT = Stage("format", (f"{BIN}/ruff", "format", "--check", "."), ".venv/bin/ruff format .")
LINT = Stage("lint", (f"{BIN}/ruff", "check", "."), ".venv/bin/ruff check --fix .")
TYPES = Stage("types", (f"{BIN}/mypy",), "read the lines above")
TYPES_OF_TOOLS = Stage("types of tools", (f"{BIN}/mypy", "tools"), "read the lines above")
FLOORS = Stage("floors", (f"{BIN}/lint-imports",), "import only from the floors below (CONTRIBUTING.md)")
# A worker that has run out takes tests from the other: slow tests lie in a few files.
PYTEST = (str(PYTHON), "-m", "pytest", "-n", str(WORKERS), "--dist", "worksteal")
QUICK_TESTS = Stage("quick tests", (*PYTEST, "-m", "not slow", "--durations", "5"), ".venv/bin/pytest --last-failed")
ALL_TESTS = Stage("all tests", (*PYTEST, "--durations", "10"), ".venv/bin/pytest --last-failed")
CLEAN_CLONE = Stage(
    "clean clone", (str(PYTHON), str(ROOT / "tools" / "clean_clone.py")), "read the lines above; commit what is missing"
)

READING = (FORMAT, LINT, TYPES, TYPES_OF_TOOLS, FLOORS)
STAGES = {"quick": (*READING, QUICK_TESTS), "all": (*READING, ALL_TESTS, CLEAN_CLONE)}


def check(which: str) -> int:
    """Run the stages of `quick` or `all`; returns the exit code. A summary ends the run, red or green."""
    seconds: dict[str, float] = {}
    for stage in STAGES[which]:
        say(f"\ncheck: {stage.name}")
        seconds[stage.name], code = _timed(stage.command)
        if code != 0:
            say(_summary(seconds))
            say(f"check: RED at '{stage.name}'. What usually helps: {stage.mend}")
            return code
    say(_summary(seconds))
    say(f"check: green, {len(seconds)} stages in {sum(seconds.values()):.0f} s")
    return 0


def bench(arguments: Sequence[str]) -> int:
    """Print the benchmark tables; returns the exit code."""
    return _timed((str(PYTHON), str(ROOT / "benchmarks" / "run.py"), *arguments))[1]


def _timed(command: Sequence[str]) -> tuple[float, int]:
    begun = time.perf_counter()
    code = subprocess.run(command, cwd=ROOT, env=tool_environment(VENV)).returncode
    return time.perf_counter() - begun, code


def _summary(seconds: dict[str, float]) -> str:
    rows = (f"  {name:<16}{taken:>8.1f} s" for name, taken in seconds.items())
    return os.linesep.join(("", "check: seconds by stage", *rows))
