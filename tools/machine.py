"""What the machine must offer before anything is installed: room on disk, and one set-up at a time."""

import fcntl
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from steps import ROOT, Trouble, say

NEEDED_GB = 3.0
BYTES_PER_GB = 1e9


def require_room(folder: Path = ROOT, needed_gb: float = NEEDED_GB) -> None:
    """Raise `Trouble` if the disk that holds `folder` has less than `needed_gb` free."""
    free_gb = shutil.disk_usage(folder).free / BYTES_PER_GB
    if free_gb < needed_gb:
        raise Trouble(
            f"only {free_gb:.1f} GB free where {folder} lies, and the packages need {needed_gb:.0f} GB",
            "free some space there, or move the project to a larger disk, then start again",
        )


def tool_environment(venv: Path) -> dict[str, str]:
    """The environment for installers: packaged commands first, and patience with slow lines."""
    # A Python path from somebody's shell would put other packages before the locked ones.
    env = {key: value for key, value in os.environ.items() if key not in {"PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV"}}
    env["PATH"] = f"{venv / 'bin'}{os.pathsep}{env.get('PATH', os.defpath)}"
    env.setdefault("UV_HTTP_TIMEOUT", "120")
    env.setdefault("PIP_DISABLE_PIP_VERSION_CHECK", "1")
    return env


@contextmanager
def alone() -> Iterator[None]:
    """Hold the only set-up of this folder; a second one waits and then finds the work done."""
    cache = ROOT / ".cache"
    cache.mkdir(exist_ok=True)
    with (cache / "setup.lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("set-up: another set-up of this folder is running; waiting for it")
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield
