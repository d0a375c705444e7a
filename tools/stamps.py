"""Stamps: what a finished step was made from, so that the next start can pass it by without looking anything up."""

import hashlib
import sys
from collections.abc import Iterable
from pathlib import Path

from steps import ROOT

FOLDER = ROOT / ".venv" / "stamps"


def fingerprint(sources: Iterable[Path], root: Path = ROOT) -> str:
    """Hash of the files' bytes, the Python version and the folder (a moved project is set up anew)."""
    digest = hashlib.sha256(f"{sys.version} {root}".encode())
    for source in sources:
        digest.update(source.name.encode())
        digest.update(source.read_bytes())
    return digest.hexdigest()


def is_current(name: str, mark: str, folder: Path = FOLDER) -> bool:
    """True if the step of this name last succeeded with exactly this fingerprint."""
    stamp = folder / name
    return stamp.is_file() and stamp.read_text("utf-8") == mark


def put(name: str, mark: str, folder: Path = FOLDER) -> None:
    """Record that the step succeeded. Called after success only."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(mark, "utf-8")
