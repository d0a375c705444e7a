"""Steps told aloud: one line each, with its seconds, and what to do when one cannot be done."""

import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LAST_LINES = 25
REMEDY = "delete the folder .venv, then start again"


class Trouble(Exception):
    """Something is missing or failed: `what` says it, `remedy` says what helps."""

    def __init__(self, what: str, remedy: str) -> None:
        super().__init__(what)
        self.remedy = remedy


def say(line: str) -> None:
    """Speak to the person. On the error stream, so that a command's own output stays clean."""
    print(line, file=sys.stderr, flush=True)


@contextmanager
def step(name: str) -> Iterator[None]:
    """Announce a step before it begins and give its seconds when it ends."""
    begun = time.perf_counter()
    print(f"set-up: {name} ...", end=" ", file=sys.stderr, flush=True)
    try:
        yield
    except BaseException:
        say("failed")
        raise
    say(f"{time.perf_counter() - begun:.1f} s")


def run(command: Sequence[str | Path], env: Mapping[str, str] | None = None, cwd: Path = ROOT) -> None:
    """Run a command quietly; if it fails, raise `Trouble` with the end of what it printed."""
    words = " ".join(str(part) for part in command[:4])
    try:
        done = subprocess.run(
            list(command), env=env, cwd=cwd, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
        )
    except OSError as error:
        raise Trouble(f"'{words} ...' cannot be run: {error.strerror}", REMEDY) from error
    if done.returncode != 0:
        raise Trouble(f"'{words} ...' ended with {done.returncode}", "\n".join(done.stdout.splitlines()[-LAST_LINES:]))
