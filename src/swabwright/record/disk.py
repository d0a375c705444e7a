"""Appending to a file so that what was acknowledged stays, and what was half written never counts."""

import os
from pathlib import Path

from swabwright.case.canonical import bytes_hash

_BLOCK = 1 << 16


def set_torn_end_aside(path: Path) -> Path | None:
    """Move bytes after the last line end into a file beside, so that they are kept but not read; None without any.

    An acknowledged line always has its line end on the disk, so such bytes were never acknowledged.
    """
    if not path.exists():
        return None
    whole, size = whole_size(path), path.stat().st_size
    if whole == size:
        return None
    with path.open("rb") as file:
        file.seek(whole)
        torn = file.read()
    aside = path.with_name(f"{path.stem}.torn-{bytes_hash(torn)[:12]}")
    handle = os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644)
    _write_through(handle, torn)
    flush_folder(path.parent)
    _truncate(path, whole)
    return aside


def whole_size(path: Path) -> int:
    """Bytes up to and with the last line end."""
    with path.open("rb") as file:
        position = file.seek(0, os.SEEK_END)
        while position:
            start = max(0, position - _BLOCK)
            file.seek(start)
            found = file.read(position - start).rfind(b"\n")
            if found >= 0:
                return start + found + 1
            position = start
    return 0


def _write_through(handle: int, content: bytes) -> None:
    try:
        write_whole(handle, content)
        os.fsync(handle)
    finally:
        os.close(handle)


def _truncate(path: Path, size: int) -> None:
    handle = os.open(path, os.O_WRONLY)
    try:
        os.ftruncate(handle, size)
        os.fsync(handle)
    finally:
        os.close(handle)


def open_to_append(path: Path) -> int:
    """A handle that appends to `path`; a new file is entered in its folder on the disk."""
    fresh = not path.exists()
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o644)
    if fresh:
        os.fsync(handle)
        flush_folder(path.parent)
    return handle


def write_whole(handle: int, content: bytes) -> None:
    """Write every byte, however many calls the system needs."""
    view = memoryview(content)
    while view:
        view = view[os.write(handle, view) :]


def flush_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can do that."""
    if os.name == "nt":  # pragma: no cover
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
