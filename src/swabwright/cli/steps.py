"""What a running command says while it works: one line per step, with seconds, on the error stream."""

from time import perf_counter
from types import TracebackType
from typing import Self

import click


class Steps:
    """Prints the step that begins, and the seconds of the step that ended."""

    def __init__(self, *, quiet: bool = False) -> None:
        self._quiet = quiet
        self._started = perf_counter()
        self._open = False

    def __enter__(self) -> Self:
        """The steps of one command."""
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """End the line of the last step, so that what is said next stands on a line of its own."""
        if kind is None:
            self.close()
        elif self._open:
            self._say(" not done", newline=True)

    def __call__(self, step: str) -> None:
        """Say which step begins now."""
        self.close()
        self._started = perf_counter()
        self._open = True
        self._say(f"{step} ...", newline=False)

    def close(self) -> None:
        """End the line of the step that was running."""
        if self._open:
            self._say(f" {perf_counter() - self._started:.1f} s", newline=True)
        self._open = False

    def _say(self, text: str, *, newline: bool) -> None:
        if not self._quiet:
            click.echo(text, err=True, nl=newline)
