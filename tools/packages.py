"""The virtual environment and the Python packages in it, exactly as the lock files say."""

import re
import sys
import tempfile
from pathlib import Path

import stamps
from machine import require_room, tool_environment
from steps import ROOT, Trouble, run, step

VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
COMMAND = VENV / "bin" / "swabwright"
LOCKS = {"run": ROOT / "requirements.lock", "dev": ROOT / "requirements-dev.lock"}
# The shell reads the first two lines and Python the rest: a first line cannot name a path with a space in it.
LAUNCHER = """\
#!/bin/sh
'''exec' "{python}" "$0" "$@"
' '''
import sys

from swabwright.cli.main import main

sys.exit(main())
"""


def mark_of(kind: str) -> str:
    """Fingerprint of a set of packages: `run` or `dev`."""
    return stamps.fingerprint([LOCKS[kind]])


def is_set_up(kind: str) -> bool:
    """True if this set is in place. The dev set contains the run set, so it serves for both."""
    kinds = {"run", "dev"} if kind == "run" else {kind}
    return any(stamps.is_current(each, mark_of(each)) for each in kinds)


def set_up(kind: str) -> None:
    """Make the environment and install a set of packages, unless a stamp says that it is done."""
    if is_set_up(kind):
        return
    require_room()
    with step("virtual environment"):
        make_environment()
    with step("Python packages, about 350 MB the first time"):
        install(LOCKS[kind])
        put_project_on_path()
    stamps.put(kind, mark_of(kind))


def make_environment() -> None:
    """A virtual environment at .venv; one that was made whole, here and by this Python, is kept."""
    record = VENV / "pyvenv.cfg"
    made_here = record.is_file() and record.read_text("utf-8").rstrip().endswith(f" {VENV}")
    if made_here and Path(sys.executable) == PYTHON and (site_packages() / "pip").is_dir():
        return
    run([sys.executable, "-m", "venv", "--clear", VENV])


def site_packages() -> Path:
    """Where the environment keeps its packages."""
    return VENV / "lib" / f"python{sys.version_info.major}.{sys.version_info.minor}" / "site-packages"


def install(lock: Path) -> None:
    """Install a lock file, every file checked against its hash: with uv, else with pip."""
    env = tool_environment(VENV)
    pip: list[Path | str] = [PYTHON, "-m", "pip", "install", "--quiet", "--require-hashes", "--requirement"]
    uv: list[Path | str] = [
        PYTHON,
        "-m",
        "uv",
        "pip",
        "install",
        "--python",
        PYTHON,
        "--compile-bytecode",
        "--require-hashes",
    ]
    try:
        _install_uv(pip, env)
        try:
            run([*uv, "--requirement", lock], env)
        except Trouble:
            # Without a network uv asks for addresses before it looks into its own store.
            run([*uv, "--offline", "--requirement", lock], env)
    except Trouble:
        # pip is slower, but knows a machine's own way to a registry where uv may not.
        run([*pip, lock], env)


def _install_uv(pip: list[Path | str], env: dict[str, str]) -> None:
    if (VENV / "bin" / "uv").exists():
        return
    with tempfile.NamedTemporaryFile("w", suffix=".lock", encoding="utf-8") as only_uv:
        only_uv.write(locked_entry(LOCKS["dev"].read_text("utf-8"), "uv"))
        only_uv.flush()
        run([*pip, only_uv.name], env)


def locked_entry(lock: str, package: str) -> str:
    """The lines of one package in a lock file's text: its version and its hashes."""
    found = re.search(rf"^{re.escape(package)}==.*(?:\n    --hash=.*)+", lock, re.MULTILINE)
    if found is None:
        raise Trouble(f"'{package}' is not in the lock file", "compile the lock files again (see CONTRIBUTING.md)")
    return found.group() + "\n"


def put_project_on_path() -> None:
    """Let the environment import src/ and have a `swabwright` command."""
    (site_packages() / "swabwright-src.pth").write_text(f"{ROOT / 'src'}\n", "utf-8")
    COMMAND.write_text(LAUNCHER.format(python=PYTHON), "utf-8")
    COMMAND.chmod(0o755)
