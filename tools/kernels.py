"""The engine's compiled kernels: made once after the packages, so that the first plan does not wait for them."""

import stamps
from machine import tool_environment
from packages import LOCKS, PYTHON, VENV
from steps import ROOT, run, step

MODULE = ROOT / "src" / "swabwright" / "compute" / "warm.py"


def is_set_up() -> bool:
    """True if the kernels were compiled with these packages, or there is nothing to compile."""
    return not MODULE.is_file() or stamps.is_current("kernels", _mark())


def set_up() -> None:
    """Compile the kernels, unless a stamp says that it is done."""
    if is_set_up():
        return
    with step("compiling the engine's kernels"):
        run([PYTHON, "-m", "swabwright.compute.warm"], tool_environment(VENV))
    stamps.put("kernels", _mark())


def _mark() -> str:
    return stamps.fingerprint([LOCKS["run"], MODULE])
