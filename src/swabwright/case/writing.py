"""Files written whole or not at all."""

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put every file into `folder`, or none: written beside it first, flushed to disk, then moved in.

    A run that is stopped on the way leaves the folder as it was.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    try:
        for name, content in files.items():
            _write_flushed(beside / name, content)
        if folder.exists():
            for name in files:
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                (beside / name).replace(folder / name)
        else:
            beside.chmod(0o755)
            beside.rename(folder)
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def _write_flushed(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
