"""The project's own files, as the house tests look at them."""

import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
SOURCE = ROOT / "src" / "swabwright"


@cache
def tracked_files() -> tuple[Path, ...]:
    """Every file that git keeps; in a folder without git every file that is not ignored by habit."""
    if (ROOT / ".git").exists():
        command = ["git", "-c", f"safe.directory={ROOT}", "-C", str(ROOT), "ls-files", "-z"]
        names = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split("\0")
        return tuple(ROOT / name for name in names if name and (ROOT / name).is_file())
    hidden = {".venv", ".cache", "node_modules", "out", "fonts", "__pycache__"}
    return tuple(path for path in ROOT.rglob("*") if path.is_file() and not hidden & set(path.relative_to(ROOT).parts))


def texts() -> list[tuple[Path, str]]:
    """Every tracked text file with its text; pictures, drawings of other makers and the like are left out."""
    pairs = []
    for path in tracked_files():
        try:
            pairs.append((path.relative_to(ROOT), path.read_text("utf-8")))
        except UnicodeDecodeError:
            continue
    return pairs


def modules() -> list[Path]:
    """Every Python module of the package, as a path from the project's folder."""
    return [path.relative_to(ROOT) for path in sorted(SOURCE.rglob("*.py"))]
