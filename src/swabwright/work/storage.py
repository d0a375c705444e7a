"""Where drafts and cached results lie on this computer."""

import os
from collections.abc import Mapping
from pathlib import Path

from swabwright.case.writing import write_all
from swabwright.errors import SwabwrightError


def cache_folder() -> Path:
    """The folder of cached response banks: SWABWRIGHT_CACHE, else the user's cache folder."""
    named = os.environ.get("SWABWRIGHT_CACHE")
    if named:
        return Path(named)
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "swabwright"


def write_draft(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write a draft's files into `folder`, all or none; a folder that cannot be written is named."""
    try:
        write_all(folder, files)
    except OSError as error:
        raise SwabwrightError(f"cannot write into {folder}: {error.strerror}; choose another --out") from error
