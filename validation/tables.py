"""Pieces of the page: tables in Markdown and shares in 100."""

from collections.abc import Iterable, Sequence
from textwrap import fill

LINE = 120


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table in Markdown; bars inside a cell do not end it."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(f"| {' | '.join(cell.replace('|', '/') for cell in line)} |" for line in lines) + "\n"


def in_100(share: float) -> str:
    """A share as a number of 100, with one decimal."""
    return f"{100 * share:.1f}"


def counted(number: int, of: int, noun: str) -> str:
    """How many of how many, in words that can open a sentence."""
    return f"{number} of {of} {noun}"


def wrapped(text: str, start: str = "") -> str:
    """A paragraph in lines of the manual's length; `start` opens it, as a bullet does."""
    return fill(text, LINE, initial_indent=start, subsequent_indent=" " * len(start), break_on_hyphens=False)
