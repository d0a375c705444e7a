"""Results of pure functions kept on disk by the hash of what they follow from."""

import io
import os
import tempfile
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

Arrays = Mapping[str, npt.NDArray[Any]]
SUFFIX = ".arrays"
DIGEST_BYTES = 16


@dataclass(frozen=True)
class ResultCache:
    """A folder of results by content hash; a damaged or half-written file counts as absent.

    largest_bytes: the folder never grows beyond it; the results not used for longest go first.
    """

    folder: Path
    largest_bytes: int = 4_000_000_000

    def get(self, key: str) -> dict[str, npt.NDArray[Any]] | None:
        """The arrays kept under `key`, or None when there are none or the file is damaged."""
        path = self._path(key)
        try:
            content = path.read_bytes()
        except OSError:
            return None
        arrays = _unpacked(content)
        if arrays is None:
            path.unlink(missing_ok=True)
        else:
            _touch(path)
        return arrays

    def put(self, key: str, arrays: Arrays) -> None:
        """Keep arrays under `key`: written aside, then renamed, so that no reader meets half a file."""
        self.folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=self.folder, prefix=".half-")
        with os.fdopen(handle, "wb") as file:
            file.write(_packed(arrays))
        Path(name).replace(self._path(key))
        self._shrink()

    def _path(self, key: str) -> Path:
        return self.folder / f"{key}{SUFFIX}"

    def _shrink(self) -> None:
        kept = sorted(self.folder.glob(f"*{SUFFIX}"), key=_last_used)
        total = sum(_size(path) for path in kept)
        for path in kept[:-1]:
            if total <= self.largest_bytes:
                return
            total -= _size(path)
            path.unlink(missing_ok=True)


def _packed(arrays: Arrays) -> bytes:
    buffer = io.BytesIO()
    np.savez(buffer, allow_pickle=False, **dict(arrays))
    content = buffer.getvalue()
    return blake2b(content, digest_size=DIGEST_BYTES).digest() + content


def _unpacked(content: bytes) -> dict[str, npt.NDArray[Any]] | None:
    digest, rest = content[:DIGEST_BYTES], content[DIGEST_BYTES:]
    if blake2b(rest, digest_size=DIGEST_BYTES).digest() != digest:
        return None
    try:
        with np.load(io.BytesIO(rest), allow_pickle=False) as stored:
            return {name: stored[name] for name in stored.files}
    except (ValueError, zipfile.BadZipFile):
        return None


def _touch(path: Path) -> None:
    try:
        os.utime(path)
    except OSError:  # another process may have removed it meanwhile
        return


def _last_used(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0
